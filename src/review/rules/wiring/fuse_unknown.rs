//! `fuse-unknown`: nothing says whether a circuit's fuse protects its wire.

use crate::finding::{Finding, Severity};
use crate::review::circuits;
use crate::wiring::Protection;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "fuse-unknown",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "Nothing says whether a circuit's fuse protects its wire.",
    why: "A wire without a fuse that fits it is a fire that waits.",
    mend: "Give the circuit its `fuse`, and the shop file a `[[wire]]` block for the conductor.",
    basis: "common practice",
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
        let name = circuit.name.value.as_str();
        match (&circuit.fuse, circuits::protection(circuit, subject.shop)) {
            (None, _) => {
                findings.push(RULE.at(guide.place(circuit.id.span), format!("`{name}` names no fuse"), "give the rating of the fuse that protects its wire in `fuse`"));
            }
            (Some(fuse), Some(Protection::Unknown { because })) => {
                let remedy = "add a [[wire]] block for this conductor to the shop file, with the current that the shop allows in it";
                findings.push(RULE.at(guide.place(fuse.span), format!("whether the fuse of `{name}` protects its wire is not known: {because}"), remedy));
            }
            _ => {}
        }
    }
}
