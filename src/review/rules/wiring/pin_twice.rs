//! `pin-twice`: two wires of one connector go to the same cavity.

use crate::finding::{Finding, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "pin-twice",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "Two wires of one connector go to the same cavity.",
    why: "One of them is in the wrong place, or is left hanging.",
    mend: "Correct the number of one of the two.",
    basis: "common practice",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"
pin = [
  { at = "1", what = "Lamp", colour = "BU/WH", wire = "1.5 mm²" },
  { at = "1", what = "Earth", colour = "BN", wire = "1.5 mm²" },
]
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
pin = [
  { at = "1", what = "Lamp", colour = "BU/WH", wire = "1.5 mm²" },
  { at = "2", what = "Earth", colour = "BN", wire = "1.5 mm²" },
]
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
