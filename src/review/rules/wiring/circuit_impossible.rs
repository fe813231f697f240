//! `circuit-impossible`: a current, voltage, length or fuse of a circuit is nought or below.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CircuitImpossible, Family::Wiring, Severity::Hold, Check::Guide(check), include_str!("circuit_impossible.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let values = [circuit.current.as_ref(), circuit.length.as_ref(), circuit.voltage.as_ref(), circuit.fuse.as_ref()];
        for value in values.into_iter().flatten() {
            let end = value.value.quantity.as_ref().and_then(|quantity| quantity.base_bounds().1);
            if end.is_some_and(|end| end.is_negative() || end.numerator() == 0) {
                let message = format!("{} of `{}` cannot be", value.value.text, circuit.name.value);
                findings.push(RULE.at(guide.place(value.span), message, "write it as the supplier gives it, above nought"));
            }
        }
    }
}
