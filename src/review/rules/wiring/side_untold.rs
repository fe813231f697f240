//! `side-untold`: the cavities of a connector are laid out, and nothing says from which side they are seen.

use crate::finding::{Finding, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "side-untold",
    family: Family::Wiring,
    severity: Severity::Query,
    summary: "The cavities of a connector are laid out, and nothing says from which side they are seen.",
    why: "Seen from the other side the housing is pinned the wrong way round.",
    mend: "Say `seen_from`: wire-side or mating-side.",
    basis: "common practice",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"
layout = ["1 2"]
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
    good: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"
layout = ["1 2"]
seen_from = "wire-side"
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
    for connector in guide.own.items.rows.iter().filter(|item| !item.layout.is_empty() && item.seen_from.is_none()) {
        let message = format!("nothing says from which side the layout of `{}` is seen", connector.name.value);
        let span = connector.layout.first().map_or(connector.id.span, |row| row.span);
        findings.push(RULE.at(guide.place(span), message, "add seen_from = \"wire-side\" or \"mating-side\""));
    }
}
