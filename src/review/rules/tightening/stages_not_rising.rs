//! `stages-not-rising`: the passes of a tightening do not rise to the whole torque.

use crate::finding::{Finding, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "stages-not-rising",
    family: Family::Tightening,
    severity: Severity::Hold,
    summary: "The passes of a tightening do not rise to the whole torque.",
    why: "The last pass leaves less than the joint needs, or the first one too much.",
    mend: "Write the passes in rising order up to 100 %; a check pass may follow.",
    basis: "common practice; ASME PCC-1 for flanges",
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

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
source = "practice"
pattern = "crosswise"
stages = ["75 %", "50 %", "100 %"]
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

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
source = "practice"
pattern = "crosswise"
stages = ["50 %", "75 %", "100 %"]
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
    let guide = subject.guide;
    for spec in guide.own.specs.rows.iter().filter(|spec| !spec.stages.is_empty()) {
        for (at, objection) in tightening::stages_of(spec, subject.shop).objections {
            let span = spec.stages.get(at).map_or(spec.id.span, |stage| stage.span);
            findings.push(RULE.at(guide.place(span), objection.message, objection.remedy));
        }
        if let Some(torque) = tightening::turn_left_out(spec, subject.shop) {
            let last = spec.stages.last().map_or(spec.id.span, |stage| stage.span);
            let message = format!("{torque} ends in a turn, and no pass makes it");
            findings.push(RULE.at(guide.place(last), message, "add the turn as the last pass, as the source has it"));
        }
    }
}
