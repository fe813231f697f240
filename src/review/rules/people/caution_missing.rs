//! `caution-missing`: work on a marked thing is shown without a caution that covers it.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::booked;
use crate::review::covered::uncovered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CautionMissing, Family::People, Severity::Hold, Check::Guide(check), include_str!("caution_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for one in uncovered(subject).into_iter().filter(|one| one.later.is_none()) {
        let known = subject
            .names
            .both()
            .into_iter()
            .flat_map(|names| &names.cautions.rows)
            .filter(|caution| one.marks.iter().all(|mark| caution.covers(mark)));
        let known: Vec<&str> = known.filter_map(|caution| caution.id.as_ref()).map(|id| id.as_str()).collect();
        let covers = one.marks.join("\", \"");
        let remedy = match known.first() {
            Some(id) => format!("add cautions = [\"{id}\"] to the step, or a [[caution]] of its own with covers = [\"{covers}\"]"),
            None => format!("add a [[caution]] with hazard, result, avoid and covers = [\"{covers}\"] to the step"),
        };
        let on_which = one.on_which(subject);
        let message = format!(
            "{} is {} here and no caution of this step covers {}{on_which}",
            booked::thing(subject, one.thing),
            one.operation.verb.done(),
            one.marks_words()
        );
        findings.push(RULE.at(subject.guide.place(one.span), message, remedy));
    }
}
