//! What is computed from a circuit: its fuse against its wire, and the voltage it loses. What several rules ask.

use crate::guide::model::{Circuit, Shop, Stated};
use crate::quantity::{Exact, Options};
use crate::source::Spanned;
use crate::wiring::{Permissible, Protection, Row, Run, Section, VoltageDrop, protects, read_section, voltage_drop};

/// The upper end of a stated value in its base unit.
pub(crate) fn amperes(value: Option<&Spanned<Stated>>) -> Option<Exact> {
    value?.value.quantity.as_ref()?.base_bounds().1
}

fn section(wire: &str, shop: &Shop) -> Option<Section> {
    read_section(wire, &Options { decimal_comma: shop.language == "de", default_unit: None }).ok()
}

/// Whether the circuit's fuse protects its wire by the shop's limits; none where fuse or wire cannot be read.
pub(crate) fn protection(circuit: &Circuit, shop: &Shop) -> Option<Protection> {
    let rating = amperes(circuit.fuse.as_ref())?;
    let section = section(&circuit.wire.value, shop)?;
    let rows = shop
        .wires
        .iter()
        .filter_map(|row| Some(Row { section: self::section(&row.wire.value, shop)?, current: amperes(Some(&row.current))? }));
    Some(match Permissible::new("the shop file", rows.collect()) {
        Some(table) => protects(rating, &section, &table),
        None => Protection::Unknown { because: "the shop file has no usable [[wire]] blocks".to_owned() },
    })
}

/// The voltage that the circuit loses out and back, in copper at 20 °C.
pub(crate) fn drop(circuit: &Circuit, shop: &Shop) -> Option<VoltageDrop> {
    let metres = circuit.length.as_ref()?.value.quantity.as_ref()?.base_bounds().1?;
    let system = match &circuit.voltage {
        Some(voltage) => voltage.value.quantity.as_ref()?.base_bounds().1?,
        None => Exact::whole(12),
    };
    let (current, section) = (amperes(Some(&circuit.current))?, section(&circuit.wire.value, shop)?);
    voltage_drop(Run { length: metres, current, section, celsius: Exact::whole(20), system })
}
