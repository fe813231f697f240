//! `fact-unsure`: somebody only heard a fact, or doubts it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::questions;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FactUnsure, Family::Document, Severity::Query, Check::Guide(check), include_str!("fact_unsure.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for untold in &subject.guide.untold {
        let Some(heard) = &untold.heard else { continue };
        let message = format!("it is not sure {}: {heard} is only heard", questions::what(subject.guide, subject.names, untold));
        let remedy = format!("{}, correct it where it is wrong, and take `unsure` out", untold.answer.remedy());
        findings.push(RULE.at(subject.guide.place(untold.span), message, remedy));
    }
}
