//! `final-check-missing`: the guide has no checks when the job is done.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FinalCheckMissing, Family::Document, Severity::Query, Check::Guide(check), include_str!("final_check_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let last_step_checks = guide.steps.last().is_some_and(|step| !step.checks.is_empty());
    if guide.head_read && !guide.steps.is_empty() && guide.final_checks.is_empty() && !last_step_checks {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide has no checks for when the job is done",
            "add `final_check` with what is tried and looked at before the vehicle leaves",
        ));
    }
}
