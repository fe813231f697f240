//! `torque-missing`: hardware is done up with no torque.

use crate::finding::{Finding, Related, RuleName, Severity};
use crate::guide::model::{Hardware, Operation};
use crate::guide::tally;
use crate::guide::untold;
use crate::quantity::Dimension;
use crate::review::TorqueFact;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::{Place, Span};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueMissing, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("torque_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let names = subject.names;
    for Missing { operation, count, hardware, span } in missing(subject) {
        let are = if count == 1 { "is" } else { "are" };
        let message = if operation.by_hand {
            format!("{count} × {} {are} started by hand and never tightened to a torque", hardware.name.value)
        } else {
            format!("{count} × {} {are} done up with no torque", hardware.name.value)
        };
        let own = names.both().into_iter().flat_map(|names| &names.specs.rows).find(|spec| {
            spec.of.as_ref().is_some_and(|of| of.value == hardware.id.value)
                && spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque)
        });
        let remedy = match own {
            Some(spec) if operation.told => format!(
                "if the spec `{0}` is the one, name it in the sentence as [](spec:{0}), or add `torque {0}` to the operation",
                spec.id.value
            ),
            Some(spec) => format!("if the spec `{0}` is the one, add torque = \"{0}\" to the operation", spec.id.value),
            None => "look it up with the vehicle maker or the supplier and write it in a spec with its source; \
                     if there is none by design, say why in the hardware's `no_torque`"
                .to_owned(),
        };
        let mut finding = RULE.at(subject.guide.place(span), message, remedy);
        if let Some(spec) = own {
            finding = finding.with_related(Place { file: names.file_of_spec(spec), span: spec.id.span }, "a spec for this hardware");
        }
        findings.push(finding);
    }
}

/// Hardware that an operation does up without a torque.
struct Missing<'g> {
    operation: &'g Operation,
    count: u32,
    hardware: &'g Hardware,
    span: Span,
}

fn missing<'g>(subject: &Subject<'g, '_>) -> Vec<Missing<'g>> {
    let Subject { guide, names, .. } = *subject;
    let mut missing = Vec::new();
    for (_, operation, owed) in tally::untorqued(guide, names) {
        // What nobody knows yet is asked for elsewhere.
        if untold::at(guide, operation.span, "torque").is_some() {
            continue;
        }
        for (count, hardware) in owed {
            let named = operation.hardware.iter().find(|named| named.id.value == hardware.id.value).map(|named| named.span);
            let span = named.or_else(|| operation.targets.first().map(|target| target.span)).unwrap_or(operation.span);
            missing.push(Missing { operation, count, hardware, span });
        }
    }
    missing
}

/// Where this guide gives torques, and for what.
pub(crate) fn given(subject: &Subject<'_, '_>) -> Vec<TorqueFact> {
    let Subject { guide, shop, names, .. } = *subject;
    let uses = tally::torque_uses(guide, shop);
    let mut facts: Vec<TorqueFact> = uses
        .iter()
        .flat_map(|used| {
            let place = match used.spec {
                Some(spec) => Place { file: names.file_of_spec(spec), span: spec.id.span },
                None => guide.place(used.operation.span),
            };
            used.hardware.iter().map(move |(_, hardware)| fact(hardware, place))
        })
        .collect();
    facts.sort_by(|a, b| (a.place, &a.hardware).cmp(&(b.place, &b.hardware)));
    facts.dedup();
    facts
}

/// Where this guide lacks torques, and for what.
pub(crate) fn lacking(subject: &Subject<'_, '_>) -> Vec<TorqueFact> {
    missing(subject).iter().map(|missing| fact(missing.hardware, subject.guide.place(missing.span))).collect()
}

fn fact(hardware: &Hardware, place: Place) -> TorqueFact {
    TorqueFact { hardware: hardware.name.value.to_lowercase(), place }
}

/// Adds the places where other guides give a torque for the same hardware: a place to look, never the answer.
pub(crate) fn add_places(finding: &mut Finding, lacking: &[TorqueFact], given: &[TorqueFact]) {
    /// A reader looks at a few places and no more.
    const MOST: usize = 3;
    let Some(fact) = lacking.iter().find(|fact| fact.place == finding.place) else { return };
    let elsewhere = given.iter().filter(|other| other.hardware == fact.hardware && other.place.file != finding.place.file);
    for place in elsewhere.map(|other| other.place).take(MOST) {
        let label = "another guide gives one for hardware of this name: a place to look, not the answer";
        finding.related.push(Related { place, label: label.to_owned() });
    }
}
