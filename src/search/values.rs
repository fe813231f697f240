//! Values in the index: filed by size in the base unit of their dimension, so that a reader may ask in any unit and for
//! something near. Also the table of units that the script reads a reader's value with.
//!
//! Finding is no conversion that anybody works by, so it is done in binary floating point. Whether two values are one is
//! decided by half a unit of the last digit of either, as `quantity::agree` does before it asks for a tenth.

use std::fmt::Write;

use serde_json::{Value, json};

use crate::quantity::{Dimension, Exact, Form, Number, Quantity, Statement, Unit, units};

/// How many drawers there are for each power of ten: one spans 4.7 %.
const DRAWERS: f64 = 50.0;
/// A range wider than this many drawers is filed under its ends alone.
const WIDEST: i32 = 60;

/// Calls `found` with each term of a value: `=` and its dimension, its drawer, then lowest, highest and the room that
/// rounding leaves, in base units.
pub(super) fn value_terms(quantity: &Quantity, mut found: impl FnMut(&str)) {
    let mut term = String::with_capacity(40);
    for statement in &quantity.statements {
        for (low, high, room) in spans(statement) {
            let (first, last) = (drawer(low), drawer(high));
            let (first, last) = (first.min(last), first.max(last));
            let drawers = (first..=last).filter(|at| last - first <= WIDEST || *at == first || *at == last);
            for drawer in drawers {
                term.clear();
                let _ = write!(term, "={}{drawer:03}_{}_{}_{}", dimension_code(quantity.dimension), short(low), short(high), short(room));
                found(&term);
            }
        }
    }
}

/// What a statement spans, in base units: a single value or limit itself, a range from end to end, a tolerance both.
fn spans(statement: &Statement) -> Vec<(f64, f64, f64)> {
    let unit = statement.unit;
    let base = |value: Exact| value.estimate() * unit.factor.estimate() + unit.offset.estimate();
    let one = |number: &Number| {
        let value = base(number.value);
        (value, value, number.tolerance_of_rounding().estimate() * unit.factor.estimate())
    };
    match &statement.form {
        Form::Single(number) | Form::Max(number) | Form::Min(number) => vec![one(number)],
        Form::Range(low, high) => vec![(base(low.value), base(high.value), one(low).2.max(one(high).2))],
        Form::Tolerance { nominal, .. } => {
            let mut spans = vec![one(nominal)];
            if let (Some(low), Some(high)) = statement.form.bounds() {
                spans.push((base(low), base(high), one(nominal).2));
            }
            spans
        }
    }
}

/// The drawer of a value in base units. The script reckons it in the same way.
fn drawer(value: f64) -> i32 {
    if value == 0.0 { 0 } else { ((value.abs().log10() * DRAWERS).floor() as i32 + 500).clamp(1, 999) }
}

/// A number with seven digits, which is more than any author writes.
fn short(value: f64) -> String {
    let text = format!("{value:.6e}");
    let (digits, power) = text.split_once('e').unwrap_or((&text, "0"));
    let digits = digits.trim_end_matches('0').trim_end_matches('.');
    if power == "0" { digits.to_owned() } else { format!("{digits}e{power}") }
}

/// The character by which terms and the script name a dimension.
pub fn dimension_code(dimension: Dimension) -> char {
    match dimension {
        Dimension::Torque => 't',
        Dimension::Angle => 'a',
        Dimension::Length => 'l',
        Dimension::Area => 's',
        Dimension::Pressure => 'p',
        Dimension::Volume => 'v',
        Dimension::Mass => 'm',
        Dimension::Force => 'f',
        Dimension::Temperature => 'c',
        Dimension::TemperatureDifference => 'd',
        Dimension::Time => 'h',
        Dimension::Current => 'i',
        Dimension::Voltage => 'u',
        Dimension::Resistance => 'r',
        Dimension::Power => 'w',
        Dimension::RotationSpeed => 'n',
    }
}

/// The table of units for the script: for each its dimension, factor, offset, and its spellings run together.
pub fn unit_table() -> Value {
    let row = |unit: &Unit| {
        let mut spellings: Vec<String> = [unit.symbol].iter().chain(unit.spellings).chain(unit.words).map(|text| spelling(text)).collect();
        // Whoever says "35 degrees" of a fluid leaves out which; an angle is asked for in the same words.
        if unit.dimension == Dimension::Temperature {
            spellings.extend(["degrees", "degree", "deg"].map(str::to_owned));
        }
        // A spelling that begins like a number would swallow the number before it.
        spellings.retain(|text| !text.is_empty() && !text.starts_with(|c: char| c.is_ascii_digit()));
        spellings.sort();
        spellings.dedup();
        json!([dimension_code(unit.dimension).to_string(), unit.factor.estimate(), unit.offset.estimate(), spellings.join(" ")])
    };
    units().iter().map(row).collect()
}

/// A unit as it is compared: small letters, with dots, hyphens, strokes and spaces dropped. Only a stroke at its beginning stays: "12/min" is a
/// speed of rotation, "12 min" a time.
fn spelling(text: &str) -> String {
    let mut out = String::new();
    if text.starts_with('/') {
        out.push('/');
    }
    for c in text.chars().flat_map(char::to_lowercase) {
        match c {
            '²' => out.push('2'),
            '³' => out.push('3'),
            '₂' => out.push('2'),
            'µ' => out.push('μ'),
            c if c.is_alphanumeric() || matches!(c, '°' | '"' | '\'' | '″' | '′' | '”' | '’' | '#' | '∆' | '℃' | '℉') => {
                out.push(c)
            }
            _ => {}
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Options, read, same};

    fn terms(text: &str, dimension: Dimension) -> Vec<String> {
        let mut found = Vec::new();
        value_terms(&read(text, dimension, &Options::default()).quantity.unwrap(), |term| found.push(term.to_owned()));
        found
    }

    fn agreeing(a: &str, b: &str) -> bool {
        let part = |text: &str| terms(text, Dimension::Torque).iter().map(|term| numbers(term)).collect::<Vec<_>>();
        part(a).iter().any(|x| part(b).iter().any(|y| (x[0] - y[0]).abs() <= x[2].max(y[2]) + 1e-6 * x[0].abs()))
    }

    fn numbers(term: &str) -> [f64; 3] {
        let parts: Vec<f64> = term.split('_').skip(1).map(|part| part.parse().unwrap()).collect();
        parts.try_into().unwrap()
    }

    #[test]
    fn a_value_is_filed_once_for_each_statement_and_a_range_in_all_its_drawers() {
        assert_eq!(terms("25 N·m (18 lb·ft)", Dimension::Torque), ["=t569_2.5e1_2.5e1_5e-1", "=t569_2.440472e1_2.440472e1_6.77909e-1"]);
        let range = terms("8..12 N·m", Dimension::Torque);
        assert_eq!((range.len(), range[0].as_str(), range[8].as_str()), (9, "=t545_8_1.2e1_5e-1", "=t553_8_1.2e1_5e-1"));
        assert_eq!(terms("24 ± 3 N·m", Dimension::Torque)[0], "=t569_2.4e1_2.4e1_5e-1");
        assert_eq!(terms("-5 °C", Dimension::Temperature), ["=c621_2.6815e2_2.6815e2_5e-1"]);
        assert_eq!(terms("0 V", Dimension::Voltage), ["=u000_0_0_5e-1"]);
    }

    #[test]
    fn values_agree_here_as_they_do_in_the_review() {
        let torque = |text: &str| read(text, Dimension::Torque, &Options::default()).quantity.unwrap();
        for a in [
            "18 lb·ft",
            "24 N·m",
            "25 N·m",
            "26 N·m",
            "24.4 N·m",
            "25.08 N·m",
            "33 lb·ft",
            "45 N·m",
            "53 lb·in",
            "6 N·m",
            "1200 N·m",
            "885 lb·ft",
        ] {
            for b in ["18 lb·ft", "18.5 lb·ft", "24 N·m", "25 N·m", "25.0 N·m", "44.06 N·m", "45 N·m", "5.9 N·m", "1 200 N·m", "1205 N·m"]
            {
                assert_eq!(agreeing(a, b), same(&torque(a), &torque(b)), "{a} and {b}");
            }
        }
    }

    #[test]
    fn the_units_of_the_trade_are_in_the_table() {
        let table = unit_table();
        let of = |text: &str| {
            let rows = table.as_array().unwrap().iter().filter(|row| row[3].as_str().unwrap().split(' ').any(|known| known == text));
            rows.map(|row| (row[0].as_str().unwrap().to_owned(), row[1].as_f64().unwrap())).collect::<Vec<_>>()
        };
        assert_eq!(of("ftlb"), [("t".to_owned(), 1.355_817_948_331_400_4)]);
        assert_eq!(of("nm"), [("t".to_owned(), 1.0)]);
        assert_eq!(of("mm2"), [("s".to_owned(), 1e-6)]);
        assert_eq!(of("min"), [("h".to_owned(), 60.0)]);
        assert_eq!(of("lb").len(), 1);
    }
}
