//! What is computed from a circuit: its fuse against its wire, and the voltage it loses. What several rules ask.

use crate::guide::model::{Circuit, Shop, Stated, WireLimit};
use crate::quantity::Exact;
use crate::source::Spanned;
use crate::wiring::{Permissible, Protection, Row, Run, Section, VoltageDrop, bears, protects, read_section, voltage_drop};

/// The upper end of a stated value in its base unit.
pub(crate) fn amperes(value: Option<&Spanned<Stated>>) -> Option<Exact> {
    value?.value.quantity.as_ref()?.base_bounds().1
}

fn section(wire: &str, shop: &Shop) -> Option<Section> {
    read_section(wire, &shop.language.reading()).ok()
}

/// Whether the circuit's fuse protects its wire by the shop's limits; none where fuse or wire cannot be read.
pub(crate) fn protection(circuit: &Circuit, shop: &Shop) -> Option<Protection> {
    let rating = amperes(circuit.fuse.as_ref())?;
    let section = section(&circuit.wire.as_ref()?.value, shop)?;
    Some(match table(shop) {
        Some(table) => protects(rating, &section, &table),
        None => Protection::Unknown { because: "the shop file has no usable [[wire]] blocks".to_owned() },
    })
}

/// Why the circuit's wire may not carry its current by the shop's limits; none where it may, or where nothing says so.
pub(crate) fn overload(circuit: &Circuit, shop: &Shop) -> Option<String> {
    let (current, section) = (amperes(circuit.current.as_ref())?, section(&circuit.wire.as_ref()?.value, shop)?);
    match bears(current, &section, &table(shop)?) {
        Protection::Over { because, .. } => Some(because),
        _ => None,
    }
}

/// The shop's limits as one table; none where they contradict each other or are not given.
fn table(shop: &Shop) -> Option<Permissible> {
    let rows =
        shop.wires.iter().filter_map(|row| Some(Row { section: section(&row.wire.value, shop)?, current: amperes(Some(&row.current))? }));
    Permissible::new("the shop file", rows.collect())
}

/// The voltage that the circuit loses out and back, in copper at 20 °C.
pub(crate) fn drop(circuit: &Circuit, shop: &Shop) -> Option<VoltageDrop> {
    let metres = circuit.length.as_ref()?.value.quantity.as_ref()?.base_bounds().1?;
    let system = match &circuit.voltage {
        Some(voltage) => voltage.value.quantity.as_ref()?.base_bounds().1?,
        None => Exact::whole(12),
    };
    let (current, section) = (amperes(circuit.current.as_ref())?, section(&circuit.wire.as_ref()?.value, shop)?);
    voltage_drop(Run { length: metres, current, section, celsius: Exact::whole(20), system })
}

/// Blocks of the shop's limits that cannot all be right, each with what is wrong.
pub(crate) fn clashes(shop: &Shop) -> Vec<(&WireLimit, Option<&WireLimit>, String)> {
    let mut clashes = Vec::new();
    let read = |row: &WireLimit| Some((section(&row.wire.value, shop)?.area(), amperes(Some(&row.current))?));
    for (at, row) in shop.wires.iter().enumerate() {
        let Some((area, current)) = read(row) else { continue };
        let (wire, value) = (&row.wire.value, &row.current.value.text);
        if current.is_negative() || current.numerator() == 0 {
            clashes.push((row, None, format!("a limit of {value} for {wire} cannot be")));
            continue;
        }
        for earlier in &shop.wires[..at] {
            let Some((other_area, other_current)) = read(earlier) else { continue };
            let (other, limit) = (&earlier.wire.value, &earlier.current.value.text);
            if area == other_area {
                clashes.push((row, Some(earlier), format!("{wire} is given twice")));
            } else if (area < other_area) == (current > other_current) && current != other_current {
                clashes.push((
                    row,
                    Some(earlier),
                    format!("{wire} with {value} and {other} with {limit} cannot both be: the thicker one carries less"),
                ));
            }
        }
    }
    clashes
}
