//! `heard-unsure`: a question of a draft is not settled.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::HeardUnsure, Family::Document, Severity::Hold, Check::Guide(check), include_str!("heard_unsure.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for unsure in &subject.guide.unsure {
        let message = "something heard is not settled";
        let remedy = "listen again or ask; write what is right into the step, and take this line of `unsure` out";
        findings.push(RULE.at(subject.guide.place(unsure.span), message, remedy));
    }
}
