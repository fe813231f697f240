//! `side-untold`: a connector has cavities, and nothing says how they stand or from which side they are seen.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::keys::Block;
use crate::guide::untold;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SideUntold, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("side_untold.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for connector in guide.own.items.rows.iter().filter(|item| !item.pins.is_empty() || !item.layout.is_empty()) {
        let name = &connector.name.value;
        // What nobody knows yet is asked for elsewhere.
        let asked = |key: &str| untold::of(guide, subject.shop, Block::Connector, &connector.id.value, key).is_some();
        let seen = connector.seen_from.is_some() || asked("seen_from");
        if asked("layout") && seen {
            continue;
        }
        let (message, span, remedy) = match (connector.layout.first(), seen) {
            (Some(_), true) => continue,
            (Some(row), false) => (
                format!("nothing says from which side the layout of `{name}` is seen"),
                row.span,
                "add seen_from = \"wire-side\" or \"mating-side\"",
            ),
            (None, seen) => (
                format!(
                    "nothing says how the cavities of `{name}` stand{}, so its face is not drawn",
                    if seen { "" } else { ", or from which side they are seen" }
                ),
                connector.id.span,
                "add the `layout` as it stands on the housing and `seen_from`; what nobody knows yet is \"untold\"",
            ),
        };
        findings.push(RULE.at(guide.place(span), message, remedy));
    }
}
