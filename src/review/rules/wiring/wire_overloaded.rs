//! `wire-overloaded`: a wire carries more than the shop allows in it.

use crate::finding::{Finding, Severity};
use crate::review::circuits;
use crate::source::Place;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "wire-overloaded",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "A wire carries more than the shop allows in it.",
    why: "It runs hot in service, with or without a fuse, and its insulation gives way where nobody looks.",
    mend: "Take a thicker wire, to the supplier’s sheet and the shop’s limits.",
    basis: "common practice; the limits are the shop’s own, from its [[wire]] blocks",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "20 A"
length = "0.5 m"
fuse = "25 A"
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
current = "10 A"
length = "1 m"
fuse = "15 A"
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
        let Some(because) = circuits::overload(circuit, subject.shop) else { continue };
        let message = format!("the wire of `{}` carries more than it may: {because}", circuit.name.value);
        let finding = RULE.at(guide.place(circuit.current.span), message, "take a thicker wire, as the supplier's sheet gives it");
        findings.push(finding.with_related(Place { file: guide.file, span: circuit.wire.span }, "the wire"));
    }
}
