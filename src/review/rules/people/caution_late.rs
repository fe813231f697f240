//! `caution-late`: a caution stands behind the work that it belongs to.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::booked;
use crate::review::covered::uncovered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CautionLate, Family::People, Severity::Hold, Check::Guide(check), include_str!("caution_late.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for one in uncovered(subject) {
        let Some(later) = one.later else { continue };
        let message = format!(
            "{} is {} here and the caution for {} comes later",
            booked::thing(subject, one.thing),
            one.operation.verb.done(),
            one.marks_words()
        );
        let finding = RULE.at(subject.guide.place(one.span), message, "move the caution into this step");
        findings.push(finding.with_related(subject.guide.place(later), "the caution"));
    }
}
