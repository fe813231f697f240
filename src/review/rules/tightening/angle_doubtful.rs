//! `angle-doubtful`: a turn after a torque is more than a joint bears.

use crate::fastener::turn;
use crate::finding::{Finding, Severity};
use crate::guide::tightening::{length_of, thread_of};
use crate::review::turned::turned;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "angle-doubtful",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A turn after a torque is more than a joint bears.",
    why: "Two turns for a quarter of one tear the bolt, and a turn on top of a torque that already is the whole of a tightening takes it past its yield.",
    mend: "Look the angle up again, in degrees, and the torque that comes before it: a turn follows a torque that only brings the parts together. If the source says so, accept the finding with the reason.",
    basis: "RCSC Specification for structural joints, table 8.2 (no turn above one); stretch at fracture of ISO 898-1; VDI 2230 for 90 % of yield as the whole of a tightening",
    bad: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4
one_use = true

[[spec]]
id = "bolt"
for = "bolt"
torque = "15 N·m + 720°"
source = "practice"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4
one_use = true

[[spec]]
id = "bolt"
for = "bolt"
torque = "15 N·m + 90°"
source = "practice"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for turned in turned(subject) {
        let thread = thread_of(turned.hardware).and_then(Result::ok).map(|reading| reading.value);
        let objection = turn::doubt(turned.degrees, thread.as_ref(), length_of(turned.hardware));
        let (message, remedy) = match (objection, &turned.at_proof) {
            (Some(objection), _) => (objection.message, objection.remedy),
            (None, Some(sentence)) => (
                format!("a turn of {:.0}° follows a torque that already is a whole tightening: {sentence}", turned.degrees),
                "look up the torque that comes before the turn, or accept it with the reason".to_owned(),
            ),
            (None, None) => continue,
        };
        let finding = RULE.at(turned.place, format!("{}: {message}", turned.value), remedy);
        findings.push(finding.with_related(turned.defined, "the fastener"));
    }
}
