//! The table by which the page's script reads what a technician enters, made from `quantity::entry`: its units with their spellings, what
//! is alike, the words in which an entry or a whole record is refused. The command that checks a record judges by the same.

use serde_json::{Map, Value, json};

use crate::quantity::entry::{ALIKE, DIGITS, JOINERS, ROOM, SPACES, WORDS, table};
use crate::record::refusal;

/// A script that sets `bayleafUnits`.
pub fn script() -> String {
    let together = |chars: &[char]| chars.iter().collect::<String>();
    let words: Map<String, Value> = WORDS.iter().map(|(name, text)| ((*name).to_owned(), Value::from(*text))).collect();
    let alike: Map<String, Value> = ALIKE.iter().map(|(typed, as_what)| (typed.to_string(), Value::from(as_what.to_string()))).collect();
    let rows: Vec<String> = table()
        .into_iter()
        .map(|row| {
            // A factor is whole numbers too long for a number of the script, so it is handed over as text.
            let torque = row.torque.map(|(over, under)| [over.to_string(), under.to_string()]);
            json!([row.symbol, torque, row.exact, row.folded]).to_string()
        })
        .collect();
    let rest = [
        ("words", Value::Object(words)),
        ("alike", Value::Object(alike)),
        ("spaces", json!(together(SPACES))),
        ("joiners", json!(together(JOINERS))),
        ("digits", json!(DIGITS)),
        ("record", refusal::table()),
        ("room", json!([ROOM.0.to_string(), ROOM.1.to_string()])),
    ];
    let rest: String = rest.iter().map(|(name, value)| format!("{name}: {value},\n")).collect();
    format!(
        "/* Made from the tables of the program: what may be entered, and in which units. */\nwindow.bayleafUnits = {{\n{rest}units: [\n{}\n]}};\n",
        rows.join(",\n")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_units_of_the_trade_are_there_with_their_factors() {
        let script = script();
        // NIST SP 811, App. B.8: 1 lbf·ft = 1.355 817 948 331 4 N·m.
        for row in ["[\"N·m\",[\"1\",\"1\"],[],", "[\"lb·ft\",[\"3389544870828501\",\"2500000000000000\"],", "\"ft·lb\"", "\"several\":"]
        {
            assert!(script.contains(row), "{row} in {script}");
        }
    }
}
