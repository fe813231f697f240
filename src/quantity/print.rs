//! The one printed spelling of a value, and the same value in the other system of units.
//! The author's digits are kept for what the author stated; a page decides where the text stands and what a reader sees first.

use super::exact::{Exact, Rounding};
use super::number::{Number, Written};
use super::{Dimension, Form, Quantity, Statement, System, Unit, unit};

/// Which system of units leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Order {
    /// Metric units lead.
    MetricFirst,
    /// Inch and pound units lead.
    ImperialFirst,
}

/// A value as a reader sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// The value in the units that lead.
    pub first: String,
    /// The value in the other system, without brackets; `None` where that system has no usual unit for it.
    pub second: Option<String>,
}

/// Prints a quantity with the units of one system first and those of the other beside it.
///
/// A system the author stated is printed with the author's digits. Otherwise the value is converted exactly and written with the
/// fewest digits that stay within the precision of the author's own and within a fortieth of the value; limits and the ends of ranges are rounded to the safe side.
/// `decimal_comma` writes a comma for the decimal point.
pub fn print(quantity: &Quantity, order: Order, decimal_comma: bool) -> Printed {
    let point = if decimal_comma { ',' } else { '.' };
    let turn = quantity.angle.as_ref().map(|angle| format!(" + {}", form_text(&angle.form, angle.unit, point))).unwrap_or_default();
    let text = |form: &Form, unit: &Unit| format!("{}{turn}", form_text(form, unit, point));
    let leading = quantity.leading();
    let own = text(&leading.form, leading.unit);
    if leading.unit.system == System::Both {
        return Printed { first: own, second: None };
    }
    let stated = |system| quantity.statements.iter().find(|statement| statement.unit.system == system);
    let other = if leading.unit.system == System::Metric { System::Imperial } else { System::Metric };
    let converted = match stated(other) {
        Some(statement) => Some(text(&statement.form, statement.unit)),
        None => counterpart(leading).and_then(|unit| Some(text(&convert_form(&leading.form, leading.unit, unit)?, unit))),
    };
    let leads = matches!((order, leading.unit.system), (Order::MetricFirst, System::Metric) | (Order::ImperialFirst, System::Imperial));
    match converted {
        Some(converted) if leads => Printed { first: own, second: Some(converted) },
        Some(converted) => Printed { first: converted, second: Some(own) },
        None => Printed { first: own, second: None },
    }
}

/// The word before a limit as it is printed, "max. " or "min. ", where the text begins with one.
pub fn bound(printed: &str) -> Option<&'static str> {
    ["max. ", "min. "].into_iter().find(|bound| printed.starts_with(bound))
}

/// The value in the other system as it stands behind the first, which says once for both that it is a limit: "max. 200 mm (7.8 in)".
pub fn beside<'p>(first: &str, second: &'p str) -> &'p str {
    let same = bound(second).filter(|bound| first.starts_with(bound));
    same.and_then(|bound| second.strip_prefix(bound)).unwrap_or(second)
}

/// The author's own statements in the one printed spelling: "45 N·m (33 lb·ft)". Reading it again gives an equal quantity.
///
/// It always has a decimal point, so it is to be read again without [`decimal_comma`](super::Options::decimal_comma).
pub fn spell(quantity: &Quantity) -> String {
    let leading = quantity.leading();
    let mut spelt = form_text(&leading.form, leading.unit, '.');
    let others: Vec<String> = quantity.statements[1..].iter().map(|statement| spell_beside(leading, statement)).collect();
    if !others.is_empty() {
        spelt.push_str(&format!(" ({})", others.join(", ")));
    }
    if let Some(angle) = &quantity.angle {
        spelt.push_str(&format!(" + {}", form_text(&angle.form, angle.unit, '.')));
    }
    spelt
}

// A limit is said once, before the leading value; the values beside it are read as the same limit.
fn spell_beside(leading: &Statement, statement: &Statement) -> String {
    match (&leading.form, &statement.form) {
        (Form::Max(_), Form::Max(number)) | (Form::Min(_), Form::Min(number)) => number_text(number, statement.unit, '.'),
        _ => form_text(&statement.form, statement.unit, '.'),
    }
}

/// A form with its unit in the one printed spelling.
pub(super) fn form_text(form: &Form, unit: &Unit, point: char) -> String {
    // A unit that stands close to its number, and a value in parts, are written out with every number.
    let each = !unit.spaced() || form.numbers().iter().any(|number| matches!(number.written, Written::Split { .. }));
    let bare = |number: &Number| if each { number_text(number, unit, point) } else { number.print(point) };
    match form {
        Form::Single(number) => number_text(number, unit, point),
        Form::Max(number) => format!("max. {}", number_text(number, unit, point)),
        Form::Min(number) => format!("min. {}", number_text(number, unit, point)),
        Form::Range(low, high) => format!("{} to {}", bare(low), number_text(high, unit, point)),
        Form::Tolerance { nominal, plus, minus } if plus == minus => format!("{} ± {}", bare(nominal), number_text(plus, unit, point)),
        Form::Tolerance { nominal, plus, minus } => {
            // After a fraction a slash would read as part of it.
            let between = if matches!(plus.written, Written::Fraction { .. }) { ", " } else { "/" };
            format!("{} +{}{between}\u{2212}{}", bare(nominal), bare(plus), number_text(minus, unit, point))
        }
    }
}

fn number_text(number: &Number, unit: &Unit, point: char) -> String {
    let large = match (unit.dimension, unit.symbol) {
        (Dimension::Time, "s") => &["h", "min"][..],
        (Dimension::Time, "min") => &["h"][..],
        (Dimension::Length, "in") => &["ft"][..],
        (Dimension::Mass, "oz") => &["lb"][..],
        _ => &[][..],
    };
    if matches!(number.written, Written::Split { .. })
        && let Some(text) = split_text(number, unit, large, point)
    {
        return text;
    }
    format!("{}{}{}", number.print(point), if unit.spaced() { " " } else { "" }, unit.symbol)
}

fn split_text(number: &Number, small: &Unit, large: &[&str], point: char) -> Option<String> {
    let mut rest = number.value;
    let mut parts = Vec::new();
    for symbol in large {
        let size = unit(small.dimension, symbol)?.convert_distance(Exact::ONE, small)?;
        let count = rest.over(size)?.floor();
        if count > 0 {
            rest = rest.minus(size.times(Exact::fraction(count, 1)?)?)?;
            parts.push(format!("{count} {symbol}"));
        }
    }
    if rest != Exact::ZERO || parts.is_empty() {
        let last = Number { value: rest, written: Written::Decimal { decimals: number.decimals() } };
        parts.push(format!("{} {}", last.print(point), small.symbol));
    }
    Some(parts.join(" "))
}

/// The usual unit of the other system for a statement, if there is one.
pub(super) fn counterpart(statement: &Statement) -> Option<&'static Unit> {
    let other = match statement.unit.symbol {
        "N·m" | "N·cm" | "cN·m" | "dN·m" | "daN·m" | "mN·m" | "kN·m" | "kgf·m" | "kgf·cm" => {
            let (low, high) = statement.base_bounds();
            // Small fasteners are tightened with a wrench marked in lb·in.
            if high.or(low)? < Exact::whole(15) { "lb·in" } else { "lb·ft" }
        }
        "lb·ft" | "lb·in" | "ozf·in" => "N·m",
        "mm" | "cm" | "µm" => "in",
        "m" => "ft",
        "km" => "mi",
        "in" | "thou" => "mm",
        "ft" | "yd" => "m",
        "mi" => "km",
        "kPa" | "bar" | "mbar" | "Pa" | "hPa" | "MPa" | "kgf/cm²" => "psi",
        "psi" => "bar",
        "inHg" | "inH₂O" => "kPa",
        "L" => "US gal",
        "mL" | "cL" | "dL" | "cm³" => "US fl oz",
        "US gal" | "US qt" | "US pt" | "Imp gal" | "Imp qt" | "Imp pt" => "L",
        "US fl oz" | "Imp fl oz" => "mL",
        "in³" => "cm³",
        "kg" | "t" => "lb",
        "g" => "oz",
        "lb" => "kg",
        "oz" => "g",
        "short ton" | "long ton" => "t",
        "N" | "kN" | "daN" | "kgf" => "lbf",
        "lbf" | "ozf" => "N",
        "°C" => "°F",
        "°F" => "°C",
        "kW" | "PS" => "hp",
        "hp" => "kW",
        _ => return None,
    };
    unit(statement.unit.dimension, other)
}

/// A form in another unit, with the fewest decimals that keep every number within its own precision.
pub(super) fn convert_form(form: &Form, from: &Unit, to: &Unit) -> Option<Form> {
    (0..=9).find_map(|decimals| match form {
        Form::Single(number) => Some(Form::Single(convert(number, from, to, decimals, Rounding::Nearest)?)),
        Form::Max(number) => Some(Form::Max(convert(number, from, to, decimals, Rounding::Down)?)),
        Form::Min(number) => Some(Form::Min(convert(number, from, to, decimals, Rounding::Up)?)),
        Form::Range(low, high) => {
            let inward = (convert(low, from, to, decimals, Rounding::Up)?, convert(high, from, to, decimals, Rounding::Down)?);
            let (low, high) = if inward.0.value <= inward.1.value {
                inward
            } else {
                // Ends that are this close cannot both move inward.
                (convert(low, from, to, decimals, Rounding::Nearest)?, convert(high, from, to, decimals, Rounding::Nearest)?)
            };
            Some(Form::Range(low, high))
        }
        Form::Tolerance { nominal, plus, minus } => convert_tolerance(nominal, plus, minus, from, to, decimals),
    })
}

// The value is rounded to the nearest; its two sides are measured from there, so that the limits never move outward.
fn convert_tolerance(nominal: &Number, plus: &Number, minus: &Number, from: &Unit, to: &Unit, decimals: u32) -> Option<Form> {
    let middle = convert(nominal, from, to, decimals, Rounding::Nearest)?;
    let high = from.convert(nominal.value.plus(plus.value)?, to)?;
    let low = from.convert(nominal.value.minus(minus.value)?, to)?;
    let side = |distance: Exact, original: &Number| {
        let side = Number::decimal(distance.rounded(decimals, Rounding::Down)?, decimals)?;
        let back = to.convert_distance(side.value, from)?;
        let kept = back.minus(original.value)?.magnitude() <= original.precision();
        (kept && !side.value.is_negative()).then_some(side)
    };
    let (mut above, mut below) = (side(high.minus(middle.value)?, plus)?, side(middle.value.minus(low)?, minus)?);
    if plus == minus {
        let smaller = if above.value < below.value { above } else { below };
        (above, below) = (smaller, smaller);
    }
    Some(Form::Tolerance { nominal: middle, plus: above, minus: below })
}

fn convert(number: &Number, from: &Unit, to: &Unit, decimals: u32, rounding: Rounding) -> Option<Number> {
    let digits = from.convert(number.value, to)?.rounded(decimals, rounding)?;
    let converted = Number::decimal(digits, decimals)?;
    let back = to.convert(converted.value, from)?;
    (back.minus(number.value)?.magnitude() <= room(number, from.dimension)).then_some(converted)
}

// How far a converted value may lie from the stated one: its own precision, but of a coarse number such as "2 kg" no more than a
// twenty-fifth, lest it become "4 lb". A fraction such as 1/8 in names a size and is held to a hundredth. A temperature has no true
// nought to take a share from.
fn room(number: &Number, dimension: Dimension) -> Exact {
    if dimension == Dimension::Temperature {
        return number.precision();
    }
    // An integer that ends in noughts is a round number: 500 km is not good to half a kilometre.
    // It is taken as good to half of ten, but to no worse than 1.5 %, as stated pairs are compared.
    let value = number.value.magnitude();
    let round = number.written == Written::Decimal { decimals: 0 } && value >= Exact::whole(100) && value.numerator() % 10 == 0;
    let widened = value.times(Exact::ratio(15, 1000)).map_or(number.precision(), |share| share.min(Exact::whole(5)));
    let precision = if round { widened.max(number.precision()) } else { number.precision() };
    let share = if matches!(number.written, Written::Fraction { .. }) { Exact::ratio(1, 100) } else { Exact::ratio(1, 25) };
    number.value.magnitude().times(share).map_or(precision, |share| share.min(precision))
}

#[cfg(test)]
mod tests {
    use super::super::{Options, read};
    use super::*;

    #[track_caller]
    fn printed(text: &str, dimension: Dimension, order: Order) -> (String, Option<String>) {
        let quantity = read(text, dimension, &Options::default()).quantity.expect("the text has a value");
        let printed = print(&quantity, order, false);
        (printed.first, printed.second)
    }

    #[test]
    fn the_other_system_is_converted_to_the_fewest_digits() {
        use Dimension::*;
        for (text, dimension, second) in [
            ("45 N·m", Torque, Some("33 lb·ft")),
            ("9 N·m", Torque, Some("80 lb·in")),
            ("45.0 N·m", Torque, Some("33.2 lb·ft")),
            ("8..12 N·m", Torque, Some("71 to 106 lb·in")),
            ("24 ± 3 N·m", Torque, Some("17.7 ± 2.2 lb·ft")),
            ("30 N·m + 90°", Torque, Some("22 lb·ft + 90°")),
            // Limits go to the safe side.
            ("max 5 mm", Length, Some("max. 0.19 in")),
            ("min 5 mm", Length, Some("min. 0.2 in")),
            ("28 kg", Mass, Some("62 lb")),
            ("2 kg", Mass, Some("4.4 lb")),
            ("0 °F", Temperature, Some("0 °F")),
            ("-40..85 °C", Temperature, Some("−40 to 185 °F")),
            ("500 km", Length, Some("311 mi")),
            ("150 mm", Length, Some("5.9 in")),
            ("100 N·m", Torque, Some("74 lb·ft")),
            ("2.4 bar", Pressure, Some("35 psi")),
            ("90 kW", Power, Some("121 hp")),
            ("2.5 mm²", Area, None),
            ("12 V", Voltage, None),
            ("10 s", Time, None),
        ] {
            assert_eq!(printed(text, dimension, Order::MetricFirst).1.as_deref(), second, "{text}");
        }
        // A fraction names a size: it is converted closer than its denominator.
        assert_eq!(printed("1/8 in", Length, Order::MetricFirst), ("3.2 mm".to_owned(), Some("1/8 in".to_owned())));
    }

    #[test]
    fn a_limit_is_said_once_for_both_units_and_never_loosened() {
        // 200 mm is 7.874 in: 7.8 in is inside of it, 7.9 in would not be.
        let (first, second) = printed("max 200 mm", Dimension::Length, Order::MetricFirst);
        let second = second.expect("there are inches");
        assert_eq!((first.as_str(), beside(&first, &second)), ("max. 200 mm", "7.8 in"));
        let (first, second) = printed("min 50 mm", Dimension::Length, Order::MetricFirst);
        assert_eq!((first.as_str(), beside(&first, second.as_deref().unwrap_or_default())), ("min. 50 mm", "1.97 in"));
        assert_eq!(beside("45 N·m", "33 lb·ft"), "33 lb·ft");
        assert_eq!(beside("max. 5 mm", "min. 0.2 in"), "min. 0.2 in");
    }

    #[test]
    fn what_the_author_stated_is_printed_in_either_order() {
        let text = "45 N·m (33 lb·ft)";
        let metric = printed(text, Dimension::Torque, Order::MetricFirst);
        assert_eq!(metric, ("45 N·m".to_owned(), Some("33 lb·ft".to_owned())));
        let imperial = printed(text, Dimension::Torque, Order::ImperialFirst);
        assert_eq!(imperial, ("33 lb·ft".to_owned(), Some("45 N·m".to_owned())));
        // A distance of service as the trade states it; 1000 km are 621 mi.
        let service = printed("1000 km (600 mi)", Dimension::Length, Order::MetricFirst);
        assert_eq!(service, ("1000 km".to_owned(), Some("600 mi".to_owned())));
    }
}
