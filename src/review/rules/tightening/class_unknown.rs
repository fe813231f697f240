//! `class-unknown`: a strength class does not exist, or not for this fastener.

use crate::finding::{Finding, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "class-unknown",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A strength class does not exist, or not for this fastener.",
    why: "Without the class nobody can tell a torque that the bolt bears from one that breaks it.",
    mend: "Write what is stamped on the head: 8.8, 10.9, grade 5, A2-70.",
    basis: "ISO 898-1, ISO 898-2, SAE J429, ISO 3506-1",
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
class = "8.9"
drive = "13 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
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

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
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
    let guide = subject.guide;
    for hardware in &guide.own.hardware.rows {
        if let (Some(written), Some(Err(objection))) = (&hardware.class, tightening::class_of(hardware)) {
            findings.push(RULE.at(guide.place(written.span), format!("the class is doubtful: {}", objection.message), objection.remedy));
        }
    }
}
