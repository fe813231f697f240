//! `wire-colour-unknown`: the colour of a wire is not one that everybody reads in the same way.

use crate::finding::{Finding, Severity};
use crate::wiring::read_colour;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "wire-colour-unknown",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "The colour of a wire is not one that everybody reads in the same way.",
    why: "One maker's B is black and another's is blue; the wrong wire is cut.",
    mend: "Write the letters of IEC 60757, such as BK or BU/WH, or the name in full.",
    basis: "IEC 60757, code for designation of colours",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"
pin = [
  { at = "1", what = "Lamp", colour = "B/W", wire = "1.5 mm²" },
  { at = "2", what = "Earth", colour = "BN", wire = "1.5 mm²" },
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
    for pin in guide.own.items.rows.iter().flat_map(|item| &item.pins) {
        let Some(colour) = &pin.colour else { continue };
        if let Err(fault) = read_colour(&colour.value) {
            findings.push(RULE.at(guide.place(colour.span), fault.message, fault.remedy));
        }
    }
}
