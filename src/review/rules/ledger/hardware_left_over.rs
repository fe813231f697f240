//! `hardware-left-over`: hardware or a part that came off neither goes back on nor is thrown away.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "hardware-left-over",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "Hardware or a part that came off neither goes back on nor is thrown away.",
    why: "A bolt in the tray at the end of the job belongs somewhere, and nobody knows where.",
    mend: "Put it back on, or say `discard_hardware = true` where it comes off.",
    basis: "common practice; fasteners left undone or incomplete lead the published counts of omissions in maintenance",
    bad: r##"+++
title = "Fit the side table"
[[item]]
id = "bracket"
name = "Old bracket"

[[hardware]]
id = "bracket-bolt"
name = "Bracket bolt"
no_torque = "demonstration"
on_vehicle = 4
+++

## Take the bracket off

+++
do = [{ remove = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.

## Put the bracket back

+++
do = [{ fit = "bracket", hardware = "3 x bracket-bolt" }]
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
name = "Bracket bolt"
no_torque = "demonstration"
on_vehicle = 4
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
    for (count, place, entry) in booked(subject, |what| if let What::LeftOver(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let come = if count == 1 { "comes off and does" } else { "come off and do" };
        let message = format!("{count} × {name} {come} not go back on");
        let remedy = "put all of them back on, for the same vehicles, or say discard_hardware = true where they come off";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
