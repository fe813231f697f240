//! `pin-twice`: two wires of one connector go to the same cavity.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PinTwice, Family::Wiring, Severity::Hold, Check::Guide(check), include_str!("pin_twice.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for connector in &guide.own.items.rows {
        let mut seen: Vec<&str> = Vec::new();
        for row in connector.layout.iter().filter(|row| row.value != "ring") {
            for cavity in row.value.split_whitespace().filter(|cavity| *cavity != ".") {
                if seen.contains(&cavity) {
                    let message = format!("cavity {cavity} of `{}` stands twice in its layout", connector.name.value);
                    findings.push(RULE.at(guide.place(row.span), message, "write each cavity once, as it stands on the housing"));
                }
                seen.push(cavity);
            }
        }
        for (number, pin) in connector.pins.iter().enumerate() {
            if let Some(earlier) = connector.pins[..number].iter().find(|earlier| earlier.at.value == pin.at.value) {
                let message = format!("cavity {} of `{}` is used twice", pin.at.value, connector.name.value);
                let finding = RULE.at(guide.place(pin.at.span), message, "correct the number of one of the two");
                findings.push(finding.with_related(guide.place(earlier.at.span), "used here already"));
            }
        }
    }
}
