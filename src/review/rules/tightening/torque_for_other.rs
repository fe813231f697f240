//! `torque-for-other`: an operation tightens hardware to a torque that is written for something else.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Operation;
use crate::guide::names::Thing;
use crate::guide::tally;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueForOther, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("torque_for_other.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    for (_, operation) in guide.operations() {
        undone_by_other(subject, operation, findings);
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

/// The order of other hardware is that of fasteners which stand elsewhere.
fn undone_by_other(subject: &Subject<'_, '_>, operation: &Operation, findings: &mut Vec<Finding>) {
    let names = subject.names;
    let Some((id, spec)) = operation.loosen_as.as_ref().and_then(|id| Some((id, names.spec(&id.value)?))) else { return };
    let Some(Thing::Hardware(meant)) = spec.of.as_ref().and_then(|of| names.thing(&of.value)) else { return };
    let undone = tally::hardware_of(operation, names);
    let Some((_, first)) = undone.first().filter(|_| !undone.iter().any(|(_, hardware)| std::ptr::eq(*hardware, meant))) else { return };
    let message = format!("hardware `{}` is undone by the order of `{}`", first.name.value, meant.name.value);
    let remedy = "name the spec by which this hardware is tightened, or take `for` out of the spec if it is meant for both";
    let place = Place { file: names.file_of_spec(spec), span: spec.id.span };
    findings.push(RULE.at(subject.guide.place(id.span), message, remedy).with_related(place, "the spec"));
}
