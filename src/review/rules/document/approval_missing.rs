//! `approval-missing`: the shop asks who approved a guide, and the guide does not say it.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ApprovalMissing, Family::Document, Severity::Hold, Check::Guide(check), include_str!("approval_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let told = guide.approved.as_ref().is_some_and(|role| !role.value.trim().is_empty());
    if !subject.shop.approval || told || !guide.head_read || guide.approved.is_none() && guide.states("approved") {
        return;
    }
    let place = guide.place(guide.approved.as_ref().map_or(guide.head, |role| role.span));
    let message = "the shop file asks who approved each guide, and this one does not say it";
    findings.push(RULE.at(place, message, "have the guide approved and write the role, for instance approved = \"Shop foreman\""));
}
