//! `pattern-invalid`: a tightening order does not fit the fasteners it is for.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tally;
use crate::guide::tightening::{count_of, order_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PatternInvalid, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("pattern_invalid.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    let mut told = Vec::new();
    for (_, operation) in guide.operations() {
        let undone = operation.loosen_as.as_ref().and_then(|id| names.spec(&id.value));
        let Some(spec) = tally::torque_of(operation, names).and_then(|(_, spec)| spec).or(undone) else { continue };
        let count = count_of(operation, names);
        let key = (std::ptr::from_ref(spec), count);
        if count == 0 || told.contains(&key) {
            continue;
        }
        told.push(key);
        let Some(Err(objections)) = order_of(spec, count) else { continue };
        let span = spec.order.as_ref().or(spec.pattern.as_ref()).map_or(spec.id.span, |text| text.span);
        let place = Place { file: names.file_of_spec(spec), span };
        for objection in objections {
            let finding = RULE.at(place, objection.message, objection.remedy);
            findings.push(finding.with_related(guide.place(operation.span), format!("{count} fasteners are tightened here")));
        }
    }
}
