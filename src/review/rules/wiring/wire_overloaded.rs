//! `wire-overloaded`: a wire carries more than the shop allows in it.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WireOverloaded, Family::Wiring, Severity::Hold, Check::Guide(check), include_str!("wire_overloaded.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let (Some(wire), Some(current)) = (&circuit.wire, &circuit.current) else { continue };
        let Some(because) = circuits::overload(circuit, subject.shop) else { continue };
        let message = format!("the wire of `{}` carries more than it may: {because}", circuit.name.value);
        let finding = RULE.at(guide.place(current.span), message, "take a thicker wire, as the supplier's sheet gives it");
        findings.push(finding.with_related(Place { file: guide.file, span: wire.span }, "the wire"));
    }
}
