//! `kit-left-over`: hardware or parts of the kit are left in the bag at the end.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "kit-left-over",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "Hardware or parts of the kit are left in the bag at the end.",
    why: "A bolt left in the bag is a bolt missing on the vehicle; or the sheet is wrong and is soon not believed.",
    mend: "Fit all that is supplied, or say how many are to spare: `spare`. What comes only with an option says so in its `when`.",
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
do = [{ fit = "bracket", hardware = "3 x bracket-bolt" }]
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
    for (count, place, entry) in booked(subject, |what| if let What::LeftInKit(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let are = booked::are(count);
        let message = format!("{count} × {name} {are} left in the kit at the end");
        let remedy = "fit all of them, correct `supplied`, or say how many are to spare in `spare`; \
                      if they come only with an option, add its `when`";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
