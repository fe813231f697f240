//! `circuit-impossible`: a current, voltage, length or fuse of a circuit is nought or below.

use crate::finding::{Finding, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "circuit-impossible",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "A current, voltage, length or fuse of a circuit is nought or below.",
    why: "Nothing can be worked out from it, and whoever reads it cannot either.",
    mend: "Write the value as the supplier gives it.",
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
current = "0 A"
length = "2 m"
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
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let values = [Some(&circuit.current), circuit.length.as_ref(), circuit.voltage.as_ref(), circuit.fuse.as_ref()];
        for value in values.into_iter().flatten() {
            let end = value.value.quantity.as_ref().and_then(|quantity| quantity.base_bounds().1);
            if end.is_some_and(|end| end.is_negative() || end.numerator() == 0) {
                let message = format!("{} of `{}` cannot be", value.value.text, circuit.name.value);
                findings.push(RULE.at(guide.place(value.span), message, "write it as the supplier gives it, above nought"));
            }
        }
    }
}
