//! `fuse-over-wire`: a fuse is larger than the wire behind it may carry.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;
use crate::wiring::Protection;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseOverWire, Family::Wiring, Severity::Hold, Check::Guide(check), include_str!("fuse_over_wire.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let (Some(fuse), Some(wire)) = (&circuit.fuse, &circuit.wire) else { continue };
        let Some(Protection::Over { because, .. }) = circuits::protection(circuit, subject.shop) else { continue };
        let message = format!("the fuse of `{}` does not protect its wire: {because}", circuit.name.value);
        let finding = RULE.at(guide.place(fuse.span), message, "take a smaller fuse or a thicker wire, as the supplier's sheet gives them");
        findings.push(finding.with_related(Place { file: guide.file, span: wire.span }, "the wire"));
    }
}
