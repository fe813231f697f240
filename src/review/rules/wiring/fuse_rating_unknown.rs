//! `fuse-rating-unknown`: no blade fuse is made in the rating that a circuit gives.

use crate::finding::{Finding, Severity};
use crate::quantity::Exact;
use crate::review::circuits::amperes;
use crate::wiring::no_blade_rating;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "fuse-rating-unknown",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "No blade fuse is made in the rating that a circuit gives.",
    why: "Nobody can buy it, and whoever fits the nearest one takes the larger.",
    mend: "Write the rating from the supplier’s sheet. If the fuse is none with blades, say which it is in `fuse_type`.",
    basis: "ISO 8820-3 as sellers’ charts print it: 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40 A, and larger ones up to 120 A",
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
fuse = "12 A"
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
        let (Some(fuse), Some(rating)) = (&circuit.fuse, amperes(circuit.fuse.as_ref())) else { continue };
        // What is nought or below is told as impossible, and mains circuits have breakers in ratings of their own.
        let low = circuit.volts().is_none_or(|volts| volts <= Exact::whole(58));
        if rating <= Exact::ZERO || !(low || circuit.fuse_type().is_some()) {
            continue;
        }
        let Some(near) = no_blade_rating(rating, circuit.fuse_type()) else { continue };
        let message = format!("no blade fuse is made for {}: {near}", fuse.value.text);
        let remedy = "write the rating of the supplier's sheet, or say in fuse_type that it is no blade fuse";
        findings.push(RULE.at(guide.place(fuse.span), message, remedy));
    }
}
