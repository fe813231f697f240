//! Whether two statements name one value, within the rounding of the digits they are written with.
//! Why they do not is left to `slip`; that they should is decided by whoever asks.

use super::exact::Exact;
use super::number::{Number, Written};
use super::{Form, Quantity, Statement, Unit};

/// Whether two statements name one value.
///
/// Two numbers agree if either one, converted exactly, is within half a unit of the last digit of the other, and the two differ by no
/// more than a tenth: half a unit of a single digit can be half the value, and would let a US gallon pass for an Imperial one and a
/// pound-foot for a newton-metre. On a scale with a nought of its own (°C, °F) a share of the value says nothing, so it is not asked.
/// Ranges, limits and tolerances agree end by end; a range agrees with a tolerance of the same ends. A single value never agrees with
/// a range, a limit or a tolerance: read in one unit only, it would say something else. A distance of service in round kilometres and
/// round miles, such as 1000 km (600 mi), agrees within 4 %: nobody reads it off to the mile.
pub fn agree(a: &Statement, b: &Statement) -> bool {
    if a.unit.dimension != b.unit.dimension {
        return false;
    }
    let values = |x: &Number, y: &Number| numbers_agree(x, a.unit, y, b.unit);
    let distances = |x: &Number, y: &Number| distances_agree(x, a.unit, y, b.unit);
    match (&a.form, &b.form) {
        (Form::Single(x), Form::Single(y)) | (Form::Max(x), Form::Max(y)) | (Form::Min(x), Form::Min(y)) => values(x, y),
        (Form::Range(x_low, x_high), Form::Range(y_low, y_high)) => values(x_low, y_low) && values(x_high, y_high),
        (Form::Tolerance { nominal: x, plus: x_plus, minus: x_minus }, Form::Tolerance { nominal: y, plus: y_plus, minus: y_minus }) => {
            values(x, y) && distances(x_plus, y_plus) && distances(x_minus, y_minus)
        }
        (Form::Range(..), Form::Tolerance { .. }) | (Form::Tolerance { .. }, Form::Range(..)) => {
            let ends = ends(&a.form).zip(ends(&b.form));
            ends.is_some_and(|((x_low, x_high), (y_low, y_high))| values(&x_low, &y_low) && values(&x_high, &y_high))
        }
        _ => false,
    }
}

/// Whether two quantities name one value: some statement of the one agrees with some statement of the other.
///
/// The angle after a torque is compared only where both have one, since a sentence may name torque and angle apart.
pub fn same(a: &Quantity, b: &Quantity) -> bool {
    let angles = match (&a.angle, &b.angle) {
        (Some(x), Some(y)) => agree(x, y),
        _ => true,
    };
    a.dimension == b.dimension && angles && a.statements.iter().any(|x| b.statements.iter().any(|y| agree(x, y)))
}

/// Whether two numbers in their units are one value within the rounding of either.
pub(super) fn numbers_agree(x: &Number, x_unit: &Unit, y: &Number, y_unit: &Unit) -> bool {
    let room = |other: &Number| match is_service(x, x_unit, y, y_unit) {
        true => other.value.times(Exact::ratio(4, 100)).unwrap_or(Exact::ZERO),
        false => other.tolerance_of_rounding(),
    };
    let near = |value: Option<Exact>, other: &Number| value.is_some_and(|value| within(value, other, room(other)));
    (near(x_unit.convert(x.value, y_unit), y) || near(y_unit.convert(y.value, x_unit), x)) && within_a_tenth(x, x_unit, y, y_unit)
}

// The nearest mix-up that must not pass is US against Imperial, a sixth apart; the coarsest right rounding of the trade, 2 lb for 1 kg
// or 5 N·m for 4 lb·ft, stays below a tenth.
fn within_a_tenth(x: &Number, x_unit: &Unit, y: &Number, y_unit: &Unit) -> bool {
    if x_unit.offset != Exact::ZERO || y_unit.offset != Exact::ZERO {
        return true;
    }
    let Some((a, b)) = x_unit.convert(x.value, y_unit).map(|a| (a, y.value)) else { return true };
    if a.is_negative() != b.is_negative() {
        return true;
    }
    let (a, b) = (a.magnitude(), b.magnitude());
    let (small, large) = if a < b { (a, b) } else { (b, a) };
    large.times(Exact::ratio(9, 10)).is_none_or(|least| small >= least)
}

/// Whether two numbers are one distance to drive, in round kilometres and round miles.
fn is_service(x: &Number, x_unit: &Unit, y: &Number, y_unit: &Unit) -> bool {
    let round = |number: &Number, least: i64, step: i128| {
        let value = number.value;
        number.written == Written::Decimal { decimals: 0 } && value >= Exact::whole(least) && value.numerator() % step == 0
    };
    match (x_unit.symbol, y_unit.symbol) {
        ("km", "mi") => round(x, 100, 100) && round(y, 60, 20),
        ("mi", "km") => round(y, 100, 100) && round(x, 60, 20),
        _ => false,
    }
}

fn distances_agree(x: &Number, x_unit: &Unit, y: &Number, y_unit: &Unit) -> bool {
    // "± 5 %" of two rounded values gives two distances that differ as the values do, so a small share of it is let pass too.
    let room = |other: &Number| other.precision().max(other.value.times(Exact::ratio(3, 100)).unwrap_or(Exact::ZERO));
    let near = |value: Option<Exact>, other: &Number| value.is_some_and(|value| within(value, other, room(other)));
    near(x_unit.convert_distance(x.value, y_unit), y) || near(y_unit.convert_distance(y.value, x_unit), x)
}

// Compares against two bounds instead of a difference: the bounds have few digits, the difference might not fit.
fn within(value: Exact, other: &Number, room: Exact) -> bool {
    let low = other.value.minus(room);
    let high = other.value.plus(room);
    low.is_some_and(|low| low <= value) && high.is_some_and(|high| value <= high)
}

fn ends(form: &Form) -> Option<(Number, Number)> {
    match form {
        Form::Range(low, high) => Some((*low, *high)),
        Form::Tolerance { nominal, plus, minus } => {
            let decimals = nominal.decimals().max(plus.decimals()).max(minus.decimals());
            let end = |value: Option<Exact>| Some(Number { value: value?, written: Written::Decimal { decimals } });
            Some((end(nominal.value.minus(minus.value))?, end(nominal.value.plus(plus.value))?))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Dimension, Options, read};
    use super::*;

    #[test]
    fn values_agree_within_the_rounding_of_either() {
        use Dimension::*;
        for (a, b, dimension, expected) in [
            ("25 N·m", "18 lb·ft", Torque, true),
            ("25 N·m", "19 lb·ft", Torque, false),
            // Zeros at the end of a large value may be rounding, those of a small one are not.
            ("33700 N", "7600 lbf", Force, true),
            ("33700 N", "7700 lbf", Force, false),
            ("8..12 N·m", "71..106 lb·in", Torque, true),
            ("8..12 N·m", "71..116 lb·in", Torque, false),
            ("24 ± 3 N·m", "21..27 N·m", Torque, true),
            ("45 N·m ± 5 %", "33 lb·ft ± 5 %", Torque, true),
            ("45 N·m ± 5 %", "33 lb·ft ± 10 %", Torque, false),
            ("24 ± 3 N·m", "24 N·m", Torque, false),
            ("max 5 mm", "max 0.2 in", Length, true),
            ("max 5 mm", "min 0.2 in", Length, false),
            ("30 N·m + 90°", "30 N·m", Torque, true),
            ("30 N·m + 90°", "30 N·m + 60°", Torque, false),
            ("90 min", "1.5 h", Time, true),
            // A single digit does not agree with everything.
            ("1 N·m", "1 lb·ft", Torque, false),
            ("2 N·m", "1 lb·ft", Torque, false),
            ("1 N·m", "9 lb·in", Torque, true),
            ("5 N·m", "4 lb·ft", Torque, true),
            ("6 N·m", "4 lb·ft", Torque, true),
            ("2 bar", "29 psi", Pressure, true),
            ("1 bar", "15 psi", Pressure, true),
            ("-0.8 bar", "-12 psi", Pressure, true),
            ("1 kg", "2 lb", Mass, true),
            ("1 mm", "1/16 in", Length, false),
            ("6 mm", "1/4 in", Length, true),
            ("0 mm", "0 in", Length, true),
            ("-18 °C", "0 °F", Temperature, true),
            ("2 h", "100 min", Time, false),
            // Distances of service, as the trade writes them; common practice.
            ("1000 km", "600 mi", Length, true),
            ("500 km", "300 mi", Length, true),
            ("15000 km", "9000 mi", Length, true),
            ("1000 km", "500 mi", Length, false),
            ("1000 km", "1600 mi", Length, false),
            ("950 km", "570 mi", Length, false),
            ("1000 m", "3000 ft", Length, false),
        ] {
            let quantity = |text| read(text, dimension, &Options::default()).quantity.expect("the text has a value");
            assert_eq!(same(&quantity(a), &quantity(b)), expected, "{a} and {b}");
            assert_eq!(same(&quantity(b), &quantity(a)), expected, "{b} and {a}");
        }
    }
}
