//! `drop-too-large`: a circuit loses more voltage in its wires than the shop allows.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DropTooLarge, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("drop_too_large.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, shop) = (subject.guide, subject.shop);
    for circuit in &guide.own.circuits.rows {
        let missing = match (&circuit.length, shop.drop) {
            (None, _) => "the circuit gives no `length`",
            (_, None) => "the shop file gives no `drop`",
            _ => "",
        };
        if !missing.is_empty() {
            let mut finding = RULE.at(
                guide.place(circuit.id.span),
                format!("what `{}` loses in its wires is not known: {missing}", circuit.name.value),
                "add it, so that the loss can be held against the shop's limit",
            );
            finding.severity = Severity::Remark;
            findings.push(finding);
            continue;
        }
        let Some(limit) = shop.drop else { continue };
        let Some(drop) = circuits::drop(circuit, shop) else { continue };
        if drop.is_above(limit) {
            let message = format!("`{}` loses too much: {} ({})", circuit.name.value, drop.sentence(), drop.sum());
            findings.push(RULE.at(
                guide.place(circuit.wire.as_ref().map_or(circuit.id.span, |wire| wire.span)),
                message,
                "take a thicker wire or a shorter way, as the supplier's sheet allows",
            ));
        }
    }
}
