//! `value-stray`: a value in the words, the wait, a check or a caution contradicts the spec of the same step.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Shop, Spec, Step};
use crate::guide::names::Names;
use crate::guide::prose::{RefKind, Reference};
use crate::guide::tally;
use crate::quantity::{self, Dimension, Quantity};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::typed::{Typed, typed_in, typed_values};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ValueStray, Family::Values, Severity::Hold, Check::Guide(check), include_str!("value_stray.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, shop, .. } = *subject;
    for step in &guide.steps {
        for (reference, spec) in other_torques(step, names) {
            let value = spec.value.as_ref().map_or("", |value| value.value.text.as_str());
            let message = format!("the words give the torque {value} and no operation of this step has it");
            let remedy = "refer to the torque that the operation has, or give the operation this one";
            findings.push(RULE.at(guide.place(reference.id.span), message, remedy));
        }
        let torques: Vec<&Quantity> =
            step.operations.iter().filter_map(|operation| tally::torque_of(operation, names)?.0.quantity.as_ref()).collect();
        let others = step.specs.iter().chain(step.operations.iter().flat_map(|operation| &operation.specs));
        let specs: Vec<&Quantity> = others.filter_map(|id| names.spec(&id.value)?.quantity()).chain(torques).collect();
        if specs.is_empty() {
            continue;
        }
        let stated = typed_values(&step.prose, shop).into_iter().chain(in_texts(step, shop)).chain(short_wait(step, &specs));
        for typed in stated {
            let like: Vec<&&Quantity> = specs.iter().filter(|spec| spec.dimension == typed.quantity.dimension).collect();
            // A pass of a tightening order, or a limit inside a range, is no contradiction.
            if like.is_empty() || like.iter().any(|spec| quantity::same(spec, &typed.quantity)) {
                continue;
            }
            // Lengths and times of many kinds meet in one step; only where one value is meant can another contradict it.
            if typed.quantity.dimension != Dimension::Torque && like.len() != 1 {
                continue;
            }
            // The value of another spec is typed where it should be referred to: that is another finding.
            let known = names.both().into_iter().flat_map(|names| &names.specs.rows).filter_map(|spec| spec.quantity());
            if typed.quantity.dimension != Dimension::Torque && known.into_iter().any(|other| quantity::same(other, &typed.quantity)) {
                continue;
            }
            let within = like.iter().any(|spec| holds(spec, &typed.quantity));
            let drilled = step_designations(step, names).any(|text| text.contains(&typed.text));
            if typed.quantity.dimension != Dimension::Torque && (within || drilled) {
                continue;
            }
            findings.push(RULE.at(
                guide.place(typed.span),
                format!("{} contradicts the value of this step, {}", typed.text, quantity::spell(like[0])),
                "find out which is right, and refer to the spec instead of typing the value",
            ));
        }
    }
}

/// Whether a limit or a range holds a single value.
fn holds(spec: &Quantity, value: &Quantity) -> bool {
    let ((low, high), (from, to)) = (spec.base_bounds(), value.base_bounds());
    low != high && low.zip(from).is_none_or(|(low, from)| low <= from) && high.zip(to).is_none_or(|(high, to)| to <= high)
}

/// Threads and drills of the step's specs, as written.
fn step_designations<'g>(step: &'g Step<'_>, names: Names<'g>) -> impl Iterator<Item = &'g str> {
    let ids = step.specs.iter().chain(step.operations.iter().flat_map(|operation| &operation.specs));
    ids.filter_map(move |id| Some(names.spec(&id.value)?.designation.as_ref()?.as_str()))
}

/// References in the words to a torque that the step does not use: two values for one bolt all the same.
fn other_torques<'g>(step: &'g Step<'_>, names: Names<'g>) -> Vec<(&'g Reference, &'g Spec)> {
    let used: Vec<&Spec> = step
        .operations
        .iter()
        .filter_map(|operation| tally::torque_of(operation, names)?.1)
        .chain(
            step.specs.iter().chain(step.operations.iter().flat_map(|operation| &operation.specs)).filter_map(|id| names.spec(&id.value)),
        )
        .collect();
    let torque = |spec: &Spec| spec.quantity().is_some_and(|value| value.dimension == Dimension::Torque);
    // A step that lacks a torque has another finding, and its words may well tell the one that is missing.
    let lacks = step.operations.iter().any(|operation| {
        let owed = operation.verb.does_up() && !operation.by_hand && operation.torque.is_none();
        owed && tally::hardware_of(operation, names).iter().any(|(_, hardware)| hardware.takes_torque())
    });
    if lacks || !used.iter().any(|spec| torque(spec)) {
        return Vec::new();
    }
    let references = step.prose.references.iter().filter(|reference| reference.kind == RefKind::Spec);
    let specs = references.filter_map(|reference| Some((reference, names.spec(&reference.id.value)?)));
    specs.filter(|(_, spec)| torque(spec) && !used.iter().any(|used| std::ptr::eq(*used, *spec))).collect()
}

/// The step's wait where it is shorter than every time that the step names; to wait longer contradicts none of them.
fn short_wait(step: &Step<'_>, specs: &[&Quantity]) -> Option<Typed> {
    let wait = step.wait.as_ref()?;
    let quantity = wait.value.quantity.as_ref()?;
    let waited = quantity.base_bounds().0?;
    let mut times = specs.iter().filter(|spec| spec.dimension == Dimension::Time).filter_map(|spec| spec.base_bounds().0).peekable();
    times.peek()?;
    times.all(|asked| waited < asked).then(|| Typed { quantity: quantity.clone(), text: wait.value.text.clone(), span: wait.span })
}

/// Values in the step's checks and cautions, which are plain text. Lengths, times and voltages there are rarely those of the step's specs.
fn in_texts(step: &Step<'_>, shop: &Shop) -> Vec<Typed> {
    let cautions =
        step.cautions.iter().flat_map(|caution| [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()]).flatten();
    let typed = step.checks.iter().chain(cautions).flat_map(|text| typed_in(text, shop));
    let passing = [Dimension::Length, Dimension::Time, Dimension::Voltage, Dimension::Angle];
    typed.filter(|typed| !passing.contains(&typed.quantity.dimension)).collect()
}
