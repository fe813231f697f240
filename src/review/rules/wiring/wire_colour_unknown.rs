//! `wire-colour-unknown`: the colour of a wire is not one that everybody reads in the same way.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::wiring::read_colour;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WireColourUnknown, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("wire_colour_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for pin in guide.own.items.rows.iter().flat_map(|item| &item.pins) {
        let Some(colour) = &pin.colour else { continue };
        if let Err(fault) = read_colour(&colour.value) {
            findings.push(RULE.at(guide.place(colour.span), fault.message, fault.remedy));
        }
    }
}
