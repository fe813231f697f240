//! `thread-unknown`: a thread is none that is known, or an unusual one.

use crate::finding::{Finding, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "thread-unknown",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A thread is none that is known, or an unusual one.",
    why: "The wrong bolt fits one turn and strips the thread on the second.",
    mend: "Write the designation from the drawing: M8x1.25, 3/8-16 UNC, #10-32; G 1/4, 1/8 NPT, M20x1.5 gland, ST4.2, Tr8x1.5.",
    basis: "ISO 261/262 and ISO 965-1 for metric threads, ASME B1.1 for unified ones; ISO 228-1, ISO 7-1, ASME B1.20.1, EN 60423, DIN 40430, ISO 1478 and ISO 2904 for pipe, gland, tapping-screw and trapezoidal ones",
    bad: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.5"
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
        let Some(written) = &hardware.thread else { continue };
        // Clips and ties have no thread in this sense, whatever stands there.
        if tightening::kind_of(hardware).is_none() {
            continue;
        }
        let fastening = tightening::thread_of(hardware).map(|read| read.map(|reading| reading.doubts));
        let special = tightening::special_thread_of(hardware).map(|read| read.map(|reading| reading.doubts));
        let Some(read) = special.or(fastening) else { continue };
        let objections = read.unwrap_or_else(|objection| vec![objection]);
        findings.extend(objections.into_iter().map(|objection| RULE.at(guide.place(written.span), format!("the thread is doubtful: {}", objection.message), objection.remedy)));
    }
}
