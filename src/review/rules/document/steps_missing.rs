//! `steps-missing`: the guide has no steps.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::StepsMissing, Family::Document, Severity::Hold, Check::Guide(check), include_str!("steps_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    if subject.guide.steps.is_empty() {
        findings.push(RULE.at(
            subject.guide.place(subject.guide.head),
            "the guide has no steps",
            "start each step with a heading of level 2, such as ## Take the seat out",
        ));
    }
}
