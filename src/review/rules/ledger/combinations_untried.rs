//! `combinations-untried`: so many options meet at one thing that not every combination of them was looked at.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::guide::variant::MOST_OPTIONS;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CombinationsUntried, Family::Ledger, Severity::Query, Check::Guide(check), include_str!("combinations_untried.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let remedy = "say which options exclude each other, with `one_of` or `not_with`, or split the guide";
    for ((), place, entry) in booked(subject, |what| (what == What::TooMany).then_some(())) {
        let message = format!("so many options meet at {} that not all combinations were looked at", booked::thing(subject, &entry.thing));
        findings.push(RULE.at(place, message, remedy));
    }
    if let Some(beyond) = subject.guide.own.options.rows.get(MOST_OPTIONS) {
        let message = format!("from here on options are not looked at: a guide can have {MOST_OPTIONS}");
        findings.push(RULE.at(subject.guide.place(beyond.id.span), message, remedy));
    }
}
