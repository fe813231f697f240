//! `fuse-too-small`: a fuse is no larger than the load of its circuit.

use crate::finding::{Finding, Severity};
use crate::review::circuits::amperes;
use crate::source::Place;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "fuse-too-small",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "A fuse is no larger than the load of its circuit.",
    why: "A fuse that carries its whole rating all the time runs hot, ages and opens on the road.",
    mend: "Take the fuse that the supplier’s sheet gives; it lies above the load and at or below what the wire may carry.",
    basis: "common practice; fuse sellers advise a lasting load of about three quarters of the rating",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "10 A"
length = "1 m"
fuse = "10 A"
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "7 A"
length = "1 m"
fuse = "10 A"
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let (Some(fuse), Some(rating), Some(current)) = (&circuit.fuse, amperes(circuit.fuse.as_ref()), amperes(Some(&circuit.current))) else {
            continue;
        };
        if current < rating {
            continue;
        }
        let (name, load) = (&circuit.name.value, &circuit.current.value.text);
        let message = if current == rating {
            format!("the fuse of `{name}` is no larger than its load of {load}: it runs hot and opens in the end")
        } else {
            format!("the fuse of `{name}` opens in service: it carries up to {load}")
        };
        let finding = RULE.at(guide.place(fuse.span), message, "look both values up again in the supplier's sheet");
        findings.push(finding.with_related(Place { file: guide.file, span: circuit.current.span }, "the load"));
    }
}
