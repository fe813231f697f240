//! `consumable-unused`: something is said to be used up, and no step uses it.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ConsumableUnused, Family::Document, Severity::Query, Check::Guide(check), include_str!("consumable_unused.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for row in &guide.own.consumables.rows {
        let acted = guide.operations().flat_map(|(_, operation)| operation.targets.iter().chain(&operation.with));
        let named = guide.words().flat_map(|prose| &prose.references).map(|reference| &reference.id);
        if acted.chain(named).any(|id| subject.names.meant(&id.value) == row.id.value) {
            continue;
        }
        let message = format!("`{}` is said to be used up, and no step uses it", row.name.value);
        let remedy = "name it in the operation that uses it, as in `apply: ID` or `with ID`, or take it out";
        findings.push(RULE.at(guide.place(row.id.span), message, remedy));
    }
}
