//! `part-never-fitted`: a part of the kit is not fitted by any step.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "part-never-fitted",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "A part of the kit is not fitted by any step.",
    why: "Either a step is missing, or the part is no longer in the kit and the list is old.",
    mend: "Fit it, or take it out of the list. What comes only with an option says so in its `when`; spares are counted in `spare`.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the side table"
[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "bracket-bolt"
name = "Bracket bolt"
no_torque = "demonstration"
supplied = 4
+++

## Fit the bracket

+++
do = [{ test = "bracket" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "bracket-bolt"
name = "Bracket bolt"
no_torque = "demonstration"
supplied = 4
+++

## Fit the bracket

+++
do = [{ fit = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (_, place, entry) in booked(subject, |what| if let What::NeverFitted(count) = what { Some(count) } else { None }) {
        let message = format!("{} of the kit is never fitted", booked::thing(subject, &entry.thing));
        let remedy = "add the operation that fits it, take it out of the kit, or say `spare`; if it comes only with an option, add its `when`";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
