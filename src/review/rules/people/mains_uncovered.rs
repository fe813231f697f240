//! `mains-uncovered`: a circuit carries a voltage that kills, and no caution of the guide speaks for it.

use crate::finding::{Finding, Severity};
use crate::review::covered::{defers, shown};
use crate::wiring::{Supply, is_mains};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "mains-uncovered",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A circuit carries a voltage that kills, and no caution of the guide speaks for it.",
    why: "From 50 V alternating and 120 V direct on, a touch can be the last one. Who may work on such a circuit is for local rules to say.",
    mend: "Show a caution that covers `mains` or `high-voltage`, and say in its `avoid` who may do the work.",
    basis: "IEC 61140: extra-low voltage ends at 50 V AC and 120 V DC; a voltage of 100 V and more that does not say which is taken for alternating",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "2 A"
length = "2 m"
fuse = "10 A"
voltage = "230 V AC"
fuse_type = "breaker"
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
current = "2 A"
length = "2 m"
fuse = "10 A"
voltage = "230 V AC"
fuse_type = "breaker"

[[caution]]
id = "mains"
signal = "danger"
hazard = "The inverter's output kills."
result = "Death."
avoid = "Leave this circuit to a licensed electrician."
covers = ["mains"]
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
cautions = ["mains"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

/// Marks that speak for such a voltage.
const MARKS: [&str; 2] = ["mains", "high-voltage"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let head = guide.caution_refs.iter().filter_map(|id| subject.names.caution(&id.value));
    let cautions: Vec<_> = head.chain(guide.steps.iter().flat_map(|step| shown(subject, step))).collect();
    let covering: Vec<_> = cautions.into_iter().filter(|caution| MARKS.iter().any(|mark| caution.covers(mark))).collect();
    for circuit in &guide.own.circuits.rows {
        let (Some(voltage), Some(volts)) = (&circuit.voltage, circuit.volts()) else { continue };
        if !is_mains(volts, Supply::of(&voltage.value.text)) || covering.iter().any(|caution| defers(caution)) {
            continue;
        }
        let what = if covering.is_empty() { "covers `mains` or `high-voltage`" } else { "for it says who may do the work" };
        let message = format!("`{}` carries {}, and no caution of the guide {what}", circuit.name.value, voltage.value.text);
        let remedy = "show a caution that covers `mains`, and say in its `avoid` that the work is for licensed people, by local rules";
        findings.push(RULE.at(guide.place(voltage.span), message, remedy));
    }
}
