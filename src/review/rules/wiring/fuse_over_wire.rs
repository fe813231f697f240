//! `fuse-over-wire`: a fuse is larger than the wire behind it may carry.

use crate::finding::{Finding, Severity};
use crate::review::circuits;
use crate::source::Place;
use crate::wiring::Protection;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "fuse-over-wire",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "A fuse is larger than the wire behind it may carry.",
    why: "The wire burns before the fuse opens.",
    mend: "Take a smaller fuse or a thicker wire, to the supplier's sheet and the shop's limits.",
    basis: "common practice; the limits are the shop's own, from its [[wire]] blocks",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "5 A"
length = "2 m"
fuse = "60 A"
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
current = "5 A"
length = "2 m"
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
        let Some(fuse) = &circuit.fuse else { continue };
        let Some(Protection::Over { because, .. }) = circuits::protection(circuit, subject.shop) else { continue };
        let message = format!("the fuse of `{}` does not protect its wire: {because}", circuit.name.value);
        let finding = RULE.at(guide.place(fuse.span), message, "take a smaller fuse or a thicker wire, as the supplier's sheet gives them");
        findings.push(finding.with_related(Place { file: guide.file, span: circuit.wire.span }, "the wire"));
    }
}
