//! `drive-doubtful`: a drive cannot be read, or does not belong to its thread.

use crate::finding::{Finding, Severity};
use crate::fastener::Drive;
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "drive-doubtful",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A drive cannot be read, or does not belong to its thread.",
    why: "The technician stands there with the wrong socket, or the sheet names the wrong bolt.",
    mend: "Look at the fastener, and write the drive as the tool is named: 13 mm hex, T30, 5 mm key, PH2.",
    basis: "usual heads of ISO 4014, ISO 4162, ISO 4762 and their inch counterparts (from memory); special heads exist",
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
drive = "24 mm hex"
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
        let Some(written) = &hardware.drive else { continue };
        let objection = match Drive::read(&written.value) {
            Err(objection) => Some(objection),
            Ok(drive) => {
                let thread = tightening::thread_of(hardware).and_then(Result::ok).map(|reading| reading.value);
                let threaded = tightening::kind_of(hardware).is_some();
                thread.filter(|_| threaded).and_then(|thread| drive.unusual_on(&thread))
            }
        };
        findings.extend(objection.map(|objection| RULE.at(guide.place(written.span), format!("the drive is doubtful: {}", objection.message), objection.remedy)));
    }
}
