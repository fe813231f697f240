//! `class-unknown`: a strength class does not exist, or not for this fastener.

use crate::finding::{Finding, Severity};
use crate::fastener::Standard;
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
        let Some(written) = &hardware.class else { continue };
        let doubt = match (tightening::class_of(hardware), tightening::thread_of(hardware)) {
            (Some(Err(objection)), _) => (objection.message, objection.remedy),
            (Some(Ok(class)), Some(Ok(thread))) => match (class.standard, thread.value.is_inch()) {
                (Standard::SaeJ429, false) => (
                    format!("{} is a grade of inch bolts, and {} is metric", class.name, thread.value),
                    "look at the head: metric bolts bear figures such as 8.8, inch bolts lines".to_owned(),
                ),
                (Standard::Iso898Bolt | Standard::Iso898Nut, true) => (
                    format!("{} is a class of metric fasteners, and {} is an inch thread", class.name, thread.value),
                    "look at the head: inch bolts bear lines for their grade, such as grade 5, metric bolts figures".to_owned(),
                ),
                _ => continue,
            },
            _ => continue,
        };
        findings.push(RULE.at(guide.place(written.span), format!("the class is doubtful: {}", doubt.0), doubt.1));
    }
}
