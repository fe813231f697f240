//! `wire-unknown`: a conductor cannot be read.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Shop, Text};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::{FileId, Place};
use crate::wiring::read_section;

pub(crate) const RULE: Rule = Rule::new(
    RuleName::WireUnknown,
    Family::Wiring,
    Severity::Hold,
    Check::GuideAndShop(check, check_shop),
    include_str!("wire_unknown.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let own = &subject.guide.own;
    let pins = own.items.rows.iter().flat_map(|item| &item.pins).filter_map(|pin| pin.wire.as_ref());
    let wires = pins.chain(own.circuits.rows.iter().filter_map(|circuit| circuit.wire.as_ref()));
    findings.extend(wires.filter_map(|wire| unreadable(wire, subject.shop, subject.guide.file)));
}

fn check_shop(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    findings.extend(shop.wires.iter().filter_map(|row| unreadable(&row.wire, shop, file)));
}

fn unreadable(wire: &Text, shop: &Shop, file: FileId) -> Option<Finding> {
    let options = shop.language.reading();
    let fault = read_section(&wire.value, &options).err()?;
    Some(RULE.at(Place { file, span: wire.span }, fault.message, fault.remedy))
}
