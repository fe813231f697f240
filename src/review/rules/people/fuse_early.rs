//! `fuse-early`: a fuse goes in before the circuit that it protects is complete.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::review::{booked, ordered};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "fuse-early",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A fuse goes in before the circuit that it protects is complete.",
    why: "From the fuse on the loose ends of the circuit are live as soon as the battery is: they spark and burn where they touch the body.",
    mend: "Put the fuse in after everything that its current runs through, with the battery still disconnected. A `[[circuit]]` says in `through` what that is; without it, one fuse marked `battery` stands for everything so marked.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the pump"
[[item]]
id = "battery-negative"
name = "Battery negative lead"

[[part]]
id = "fuse"
name = "Pump fuse"

[[part]]
id = "lead"
name = "Pump lead"

[[circuit]]
id = "pump"
name = "Pump"
wire = "1.5 mm²"
current = "8 A"
length = "1 m"
fuse = "10 A"
source = "practice"
through = ["fuse", "lead"]
+++

## Disconnect the battery

+++
do = [{ disconnect = "battery-negative" }]
+++

Do the work.

## Put the fuse in

+++
do = [{ fit = "fuse" }]
+++

Do the work.

## Lay the lead

+++
do = [{ fit = "lead" }]
+++

Do the work.

## Connect the battery

+++
do = [{ connect = "battery-negative" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the pump"
[[item]]
id = "battery-negative"
name = "Battery negative lead"

[[part]]
id = "fuse"
name = "Pump fuse"

[[part]]
id = "lead"
name = "Pump lead"

[[circuit]]
id = "pump"
name = "Pump"
wire = "1.5 mm²"
current = "8 A"
length = "1 m"
fuse = "10 A"
source = "practice"
through = ["fuse", "lead"]
+++

## Disconnect the battery

+++
do = [{ disconnect = "battery-negative" }]
+++

Do the work.

## Lay the lead

+++
do = [{ fit = "lead" }]
+++

Do the work.

## Put the fuse in

+++
do = [{ fit = "fuse" }]
+++

Do the work.

## Connect the battery

+++
do = [{ connect = "battery-negative" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::FuseEarly) {
        let later = told.lapse.other.and_then(|other| {
            let targets = &subject.guide.steps.get(other.step)?.operations.get(other.operation)?.targets;
            targets.iter().find(|target| target.span == other.span)
        });
        let later = later.map_or_else(String::new, |later| booked::thing(subject, subject.names.meant(&later.value)));
        let message = format!("{} and {later}, which belongs to its circuit, comes later", told.what_is_done(subject));
        findings.push(told.finding(subject, &RULE, message, "put the fuse in when everything else of its circuit is done", ""));
    }
}
