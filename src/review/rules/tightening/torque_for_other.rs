//! `torque-for-other`: an operation tightens hardware to a torque that is written for something else.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::names::Thing;
use crate::guide::tally;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueForOther, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("torque_for_other.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    for (_, operation) in guide.operations() {
        let Some((_, Some(spec))) = tally::torque_of(operation, names) else { continue };
        let Some(Thing::Hardware(meant)) = spec.of.as_ref().and_then(|of| names.thing(&of.value)) else { continue };
        let tightened: Vec<_> = tally::hardware_of(operation, names).into_iter().filter(|(_, hardware)| hardware.takes_torque()).collect();
        let Some((_, first)) = tightened.first().filter(|_| !tightened.iter().any(|(_, hardware)| std::ptr::eq(*hardware, meant))) else {
            continue;
        };
        let named = operation.hardware.iter().find(|count| count.id.value == first.id.value).map(|count| count.span);
        let span = named.or_else(|| operation.targets.first().map(|id| id.span)).unwrap_or(operation.span);
        let message = format!("hardware `{}` is tightened to the torque of `{}`", first.name.value, meant.name.value);
        let remedy = "name the spec of this hardware, or take `for` out of the spec if it is meant for both";
        let place = Place { file: names.file_of_spec(spec), span: spec.id.span };
        findings.push(RULE.at(guide.place(span), message, remedy).with_related(place, "the spec"));
    }
}
