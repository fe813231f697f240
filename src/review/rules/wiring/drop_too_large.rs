//! `drop-too-large`: a circuit loses more voltage in its wires than the shop allows.

use crate::finding::{Finding, Severity};
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "drop-too-large",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "A circuit loses more voltage in its wires than the shop allows.",
    why: "Lamps are dim, chargers do not charge, and relays drop out when it is cold.",
    mend: "Take a thicker wire or a shorter way, to the supplier's sheet.",
    basis: "V = 2 · L · I · ρ / A with copper at 20 °C (IEC 60028); the limit is the shop's own",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "9 A"
length = "8 m"
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
    let (guide, shop) = (subject.guide, subject.shop);
    for circuit in &guide.own.circuits.rows {
        let missing = match (&circuit.length, shop.drop) {
            (None, _) => "the circuit gives no `length`",
            (_, None) => "the shop file gives no `drop`",
            _ => "",
        };
        if !missing.is_empty() {
            let mut finding = RULE.at(
                guide.place(circuit.id.span),
                format!("what `{}` loses in its wires is not known: {missing}", circuit.name.value),
                "add it, so that the loss can be held against the shop's limit",
            );
            finding.severity = Severity::Remark;
            findings.push(finding);
            continue;
        }
        let Some(limit) = shop.drop else { continue };
        let Some(drop) = circuits::drop(circuit, shop) else { continue };
        if drop.is_above(limit) {
            let message = format!("`{}` loses too much: {} ({})", circuit.name.value, drop.sentence(), drop.sum());
            findings.push(RULE.at(guide.place(circuit.wire.span), message, "take a thicker wire or a shorter way, as the supplier's sheet allows"));
        }
    }
}
