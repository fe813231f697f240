//! `closed-not-open`: something is fitted, connected, filled, uncapped, uncovered, lowered or switched on that was not open before.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "closed-not-open",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "Something is fitted, connected, filled, uncapped, uncovered, lowered or switched on that was not open before.",
    why: "Either the step that opens it is missing from the sheet, or this one names the wrong thing.",
    mend: "Add the operation that opens it, for the same vehicles, or take this one out. A thing that is apart before work starts says `open_at_start = true`.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the side table"
[[connector]]
id = "lamp"
name = "Lamp connector"
+++

## Plug the lamp in

+++
do = [{ connect = "lamp" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[connector]]
id = "lamp"
name = "Lamp connector"
+++

## Unplug the lamp

+++
do = [{ disconnect = "lamp" }]
+++

Do the work.

## Plug the lamp in

+++
do = [{ connect = "lamp" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (verb, place, entry) in booked(subject, |what| if let What::NotOpen(verb) = what { Some(verb) } else { None }) {
        let Some(opening) = verb.inverse() else { continue };
        let message = format!("{} is {} here and was not {} before", booked::thing(subject, &entry.thing), verb.done(), opening.done());
        let remedy = format!(
            "add the operation `{}` where it belongs, for the same vehicles, or take this one out; if it is so before work starts, add open_at_start = true",
            opening.key()
        );
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
