//! `side-untold`: a connector has cavities, and nothing says how they stand or from which side they are seen.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SideUntold, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("side_untold.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for connector in guide.own.items.rows.iter().filter(|item| !item.pins.is_empty() || !item.layout.is_empty()) {
        let name = &connector.name.value;
        let (message, span, remedy) = match (connector.layout.first(), &connector.seen_from) {
            (Some(_), Some(_)) => continue,
            (Some(row), None) => (
                format!("nothing says from which side the layout of `{name}` is seen"),
                row.span,
                "add seen_from = \"wire-side\" or \"mating-side\"",
            ),
            (None, side) => (
                format!(
                    "nothing says how the cavities of `{name}` stand{}, so its face is not drawn",
                    if side.is_some() { "" } else { ", or from which side they are seen" }
                ),
                connector.id.span,
                "add the `layout` as it stands on the housing and `seen_from`; what nobody knows yet is \"untold\"",
            ),
        };
        findings.push(RULE.at(guide.place(span), message, remedy));
    }
}
