//! The units of torque with their spellings, for the script that reads what a technician enters: the table of `quantity`, so that a
//! page and the review know the same units.

use crate::quantity::{Dimension, Rounding, Unit, units};

/// A script that sets `bayleafUnits`: for each unit its symbol, how many N·m one of it is, and its spellings in small letters without
/// dots, hyphens and spaces. Spellings that differ by capitals only are left out, since no small letters could tell them apart.
pub fn script() -> String {
    let torque: Vec<&Unit> = units().iter().filter(|unit| unit.dimension == Dimension::Torque).collect();
    let mut claimed: Vec<(String, usize)> = Vec::new();
    for (at, unit) in torque.iter().enumerate() {
        for spelling in unit.spellings.iter().chain(unit.words) {
            let plain: String = spelling.to_lowercase().chars().filter(|c| !matches!(c, '·' | '-' | ' ' | '/' | '.')).collect();
            if !claimed.contains(&(plain.clone(), at)) {
                claimed.push((plain, at));
            }
        }
    }
    let mut rows = Vec::new();
    for (at, unit) in torque.iter().enumerate() {
        let own = |spelling: &str| claimed.iter().all(|(other, owner)| other != spelling || *owner == at);
        let spellings: Vec<&str> =
            claimed.iter().filter(|(spelling, owner)| *owner == at && own(spelling)).map(|(spelling, _)| spelling.as_str()).collect();
        let factor = unit.factor.rounded(15, Rounding::Nearest).unwrap_or_default();
        let factor = format!("{}.{:015}", factor / 10_i128.pow(15), factor % 10_i128.pow(15));
        let factor = factor.trim_end_matches('0').trim_end_matches('.');
        rows.push(format!("[{}, {factor}, {}]", quoted(unit.symbol), quoted(&spellings.join(" "))));
    }
    format!("/* Units of torque: symbol, how many N\u{b7}m, spellings. */\nwindow.bayleafUnits = [\n{}\n];\n", rows.join(",\n"))
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_units_of_the_trade_are_there_with_their_factors() {
        let script = script();
        // NIST SP 811, App. B.8: 1 lbf·ft = 1.355 817 948 331 4 N·m.
        for row in ["[\"N·m\", 1, \"nm", "[\"lb·ft\", 1.3558179483314,", " ftlb ", "[\"lb·in\", 0.112984829027617,"] {
            assert!(script.contains(row), "{row} in {script}");
        }
    }
}
