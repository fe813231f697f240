//! `opened-twice`: something is removed, disconnected, loosened, drained, capped, covered, raised or switched that is so already.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "opened-twice",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "Something is removed, disconnected, loosened, drained, capped, covered, raised or switched that is so already.",
    why: "Either the step that closes it in between is missing, or one of the two names the wrong thing.",
    mend: "Add the operation that closes it in between, or take one of the two out.",
    basis: "common practice",
    bad: r##"+++
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

## Unplug the lamp again

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
    for (verb, place, entry) in booked(subject, |what| if let What::OpenAlready(verb) = what { Some(verb) } else { None }) {
        let Some(closing) = verb.inverse() else { continue };
        let message = format!("{} is {} here and is so already", booked::thing(subject, &entry.thing), verb.done());
        let remedy = format!("add the operation `{}` in between, or take one of the two out", closing.key());
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
