//! `one-use-refitted`: hardware that must not be used again goes back on, or is loosened and tightened again.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "one-use-refitted",
    family: Family::Tightening,
    severity: Severity::Hold,
    summary: "Hardware that must not be used again goes back on, or is loosened and tightened again.",
    why: "Stretched, staked and prevailing-torque fasteners hold once; used again they loosen or break.",
    mend: "Name the new hardware, and supply it in the kit.",
    basis: "common practice; makers state for each fastener whether it may be used again",
    bad: r##"+++
title = "Fit the side table"
[[item]]
id = "bracket"
name = "Old bracket"

[[hardware]]
id = "bracket-bolt"
name = "Stretch bolt"
no_torque = "demonstration"
on_vehicle = 4
one_use = true
+++

## Take the bracket off

+++
do = [{ remove = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.

## Put the bracket back

+++
do = [{ fit = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[item]]
id = "bracket"
name = "Old bracket"

[[hardware]]
id = "bracket-bolt"
name = "Stretch bolt"
no_torque = "demonstration"
on_vehicle = 4
supplied = 4
one_use = true
+++

## Take the bracket off

+++
do = [{ remove = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.

## Put the bracket back

+++
do = [{ fit = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (count, place, entry) in booked(subject, |what| if let What::UsedAgain(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let (go, is) = if count == 1 { ("goes", "is") } else { ("go", "are") };
        let message = format!("{count} × {name} {go} back on or {is} tightened again and must not be used again");
        findings.push(booked::finding(subject, &RULE, place, entry, message, "fit new ones: give them in `supplied`, or name other hardware"));
    }
}
