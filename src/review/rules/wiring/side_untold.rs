//! `side-untold`: the cavities of a connector are laid out, and nothing says from which side they are seen.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SideUntold, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("side_untold.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for connector in guide.own.items.rows.iter().filter(|item| !item.layout.is_empty() && item.seen_from.is_none()) {
        let message = format!("nothing says from which side the layout of `{}` is seen", connector.name.value);
        let span = connector.layout.first().map_or(connector.id.span, |row| row.span);
        findings.push(RULE.at(guide.place(span), message, "add seen_from = \"wire-side\" or \"mating-side\""));
    }
}
