//! `wire-unknown`: a conductor cannot be read.

use crate::finding::{Finding, Severity};
use crate::guide::model::{Shop, Text};
use crate::quantity::Options;
use crate::source::{FileId, Place};
use crate::wiring::read_section;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "wire-unknown",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "A conductor cannot be read.",
    why: "Nothing can be said about its fuse or its voltage drop, and nobody can cut it to size.",
    mend: "Write its section in mm², or its gauge: 1.5 mm², AWG 16.",
    basis: "common practice",
    bad: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5"
current = "5 A"
length = "2 m"
fuse = "10 A"
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "5 A"
length = "2 m"
fuse = "10 A"
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    check: Check::GuideAndShop(check, check_shop),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let own = &subject.guide.own;
    let pins = own.items.rows.iter().flat_map(|item| &item.pins).filter_map(|pin| pin.wire.as_ref());
    let wires = pins.chain(own.circuits.rows.iter().map(|circuit| &circuit.wire));
    findings.extend(wires.filter_map(|wire| unreadable(wire, subject.shop, subject.guide.file)));
}

fn check_shop(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    findings.extend(shop.wires.iter().filter_map(|row| unreadable(&row.wire, shop, file)));
}

fn unreadable(wire: &Text, shop: &Shop, file: FileId) -> Option<Finding> {
    let options = Options { decimal_comma: shop.language == "de", default_unit: None };
    let fault = read_section(&wire.value, &options).err()?;
    Some(RULE.at(Place { file, span: wire.span }, fault.message, fault.remedy))
}
