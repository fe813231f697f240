//! `calibration-ended`: the calibration of a listed tool ended before the guide was issued.

use crate::finding::{Finding, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "calibration-ended",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "The calibration of a listed tool ended before the guide was issued.",
    why: "A wrench past its day may click early or late, and the sheet goes out with a date that nobody can sign.",
    mend: "Have the tool calibrated and write the new day into the shop file, or list another tool.",
    basis: "common practice; ISO 6789-1 sets intervals for checking torque tools",
    bad: r##"+++
title = "Fit the cover"
issued = 2026-09-14
tools = ["test-meter"]

[[tool]]
id = "test-meter"
name = "Test meter"
calibrated_until = 2026-08-31
+++

## Measure the drop

+++
tools = ["test-meter"]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cover"
issued = 2026-09-14
tools = ["test-meter"]

[[tool]]
id = "test-meter"
name = "Test meter"
calibrated_until = 2027-08-31
+++

## Measure the drop

+++
tools = ["test-meter"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    let Some(issued) = guide.issued else { return };
    for id in &guide.tools {
        let Some(tool) = names.tool(&id.value) else { continue };
        if let Some(ended) = tool.calibrated_until.filter(|ended| ended.value < issued.value) {
            let message = format!("the calibration of `{}` ended on {}, and the guide was issued on {}", tool.name.value, ended.value, issued.value);
            findings.push(RULE.at(guide.place(id.span), message, "write the new day into the tool list, or list another tool"));
        }
    }
}
