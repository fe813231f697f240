//! `value-in-prose`: a value with a unit is typed into the words instead of being referred to.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Spec, Step, TorqueRef};
use crate::quantity::{self, Dimension, Quantity};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::typed::{typed_in, typed_values};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ValueInProse, Family::Values, Severity::Query, Check::Guide(check), include_str!("value_in_prose.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    let steps = guide.steps.iter().map(|step| (&step.prose, Some(step)));
    let others = std::iter::once(&guide.intro).chain(guide.phases.iter().map(|phase| &phase.prose)).map(|prose| (prose, None));
    for (prose, step) in others.chain(steps) {
        for found in typed_values(prose, subject.shop) {
            let quantity = &found.quantity;
            let twins: Vec<&Spec> = names
                .both()
                .into_iter()
                .flat_map(|names| &names.specs.rows)
                .filter(|spec| {
                    spec.quantity().is_some_and(|other| other.dimension == quantity.dimension && quantity::same(other, quantity))
                })
                .collect();
            let named = |spec: &&Spec| step.is_some_and(|step| names_spec(step, &spec.id.value));
            let remedy = match twins.iter().copied().find(named).or(twins.first().copied()) {
                Some(spec) => format!("refer to the spec that has it: [](spec:{})", spec.id.value),
                None => "write it in a [[spec]] with its source, and refer to it as [](spec:its-id)".to_owned(),
            };
            let mut finding = RULE.at(guide.place(found.span), format!("the value {} is typed into the words", found.text), remedy);
            // Torques and the like decide whether the work holds; a length or a voltage in passing is worth a look only.
            let grave = matches!(
                quantity.dimension,
                Dimension::Torque | Dimension::Pressure | Dimension::Volume | Dimension::Mass | Dimension::Force | Dimension::Temperature
            );
            finding.severity = if grave { Severity::Query } else { Severity::Remark };
            let link = |spec: &Spec| format!("[](spec:{})", spec.id.value);
            // One spec says the very same and the step works with it: that one is meant. Equal values of other things, or
            // values that agree within their rounding only, are no more than a hint. In a link no other link can stand.
            finding = match twins[..] {
                [spec] if named(&spec) && says_the_same(spec, quantity) && !prose.is_in_link(found.span) => {
                    finding.with_edit(found.span, link(spec))
                }
                [first, ..] if !prose.is_in_link(found.span) => {
                    finding.with_suggestion(found.span, link(twins.iter().copied().find(named).unwrap_or(first)))
                }
                _ => finding,
            };
            findings.push(finding);
        }
    }
    torques_in_keys(subject, findings);
}

/// Torques in the texts of keys that are printed: plain text may hold a value, but a torque that no spec has is on paper and nowhere else.
fn torques_in_keys(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, shop, .. } = *subject;
    let steps = guide.steps.iter().flat_map(|step| {
        let notes = step.operations.iter().filter_map(|operation| operation.note.as_ref());
        std::iter::once(&step.title).chain(&step.checks).chain(notes)
    });
    let texts = guide.before.iter().chain(&guide.final_checks).chain(&guide.follow_up).chain(guide.summary.iter()).chain(steps);
    for typed in texts.flat_map(|text| typed_in(text, shop)).filter(|typed| typed.quantity.dimension == Dimension::Torque) {
        let mut known = names.both().into_iter().flat_map(|names| &names.specs.rows).filter_map(|spec| spec.quantity());
        if !known.any(|known| known.dimension == Dimension::Torque && quantity::same(known, &typed.quantity)) {
            let message = format!("the torque {} stands here and in no spec", typed.text);
            let remedy = "write it in a [[spec]] with its source, or correct it to the one that is meant";
            findings.push(RULE.at(guide.place(typed.span), message, remedy));
        }
    }
}

/// Whether the spec states each number as the words do, digit by digit, and the angle too.
fn says_the_same(spec: &Spec, typed: &Quantity) -> bool {
    spec.quantity().is_some_and(|quantity| {
        quantity.angle == typed.angle && typed.statements.iter().all(|statement| quantity.statements.contains(statement))
    })
}

/// Whether the step shows the spec, or an operation of it is done by it.
fn names_spec(step: &Step<'_>, id: &str) -> bool {
    let in_operation = step.operations.iter().any(|operation| {
        let torque = matches!(&operation.torque, Some(TorqueRef::Spec(spec)) if spec.value == id);
        torque || operation.specs.iter().any(|spec| spec.value == id)
    });
    in_operation || step.specs.iter().any(|spec| spec.value == id)
}
