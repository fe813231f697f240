//! `still-capped`: a line or port is connected while its cap or plug is still in.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "still-capped",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A line or port is connected while its cap or plug is still in.",
    why: "The circuit is blocked, and a test with air in front of the plug does not show it.",
    mend: "Put `uncap` before `connect`.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the cooler"
[[item]]
id = "line"
name = "Return line"
+++

## Take the line off

+++
do = [{ disconnect = "line" }, { cap = "line" }]
+++

Do the work.

## Join the line

+++
do = [{ connect = "line" }, { uncap = "line" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cooler"
[[item]]
id = "line"
name = "Return line"
+++

## Take the line off

+++
do = [{ disconnect = "line" }, { cap = "line" }]
+++

Do the work.

## Join the line

+++
do = [{ uncap = "line" }, { connect = "line" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::Capped) {
        let message = format!("{} with its cap or plug still in", told.what_is_done(subject));
        findings.push(told.finding(subject, &RULE, message, format!("put {{ uncap = \"{}\" }} before it, for the same vehicles", told.lapse.thing), ""));
    }
}
