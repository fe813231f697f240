//! Which values count as the one that is stated: what a technician may write down as applied. Whether a value is right for its
//! purpose is for whoever states it.

use super::exact::{Exact, Rounding};
use super::print::{convert_form, counterpart};
use super::{Form, Quantity, Statement, System, Unit};

/// Lowest and highest value, in the base unit of the dimension, that counts as the value stated; a limit leaves the other side open.
///
/// A single value is met within `share` of it, or where none is given within half a unit of the last digit of any of its statements, so
/// that what was set on a scale of either unit is met. A range, a tolerance or a limit is met as it stands in any of its statements.
pub fn accepted(quantity: &Quantity, share: Option<Exact>) -> (Option<Exact>, Option<Exact>) {
    let ends = || quantity.statements.iter().map(|statement| ends(statement, share));
    let open_below = ends().any(|(low, _)| low.is_none());
    let open_above = ends().any(|(_, high)| high.is_none());
    let low = ends().filter_map(|(low, _)| low).min().filter(|_| !open_below);
    let high = ends().filter_map(|(_, high)| high).max().filter(|_| !open_above);
    (low, high)
}

/// In a unit: lowest and highest value that counts as the value stated.
pub type ReadOff = (&'static Unit, Option<Exact>, Option<Exact>);

/// What may be read off for a value, in each of the units that it is printed in: there the number that is printed counts, within `share`
/// of it, or half a unit of its last digit where none is given.
pub fn readings(quantity: &Quantity, share: Option<Exact>) -> Vec<ReadOff> {
    let leading = quantity.leading();
    let stated = |system| quantity.statements.iter().find(|statement| statement.unit.system == system);
    let converted = || {
        let unit = counterpart(leading)?;
        Some(Statement { form: convert_form(&leading.form, leading.unit, unit)?, unit, range: leading.range.clone() })
    };
    let other = match leading.unit.system {
        System::Metric => stated(System::Imperial).cloned().or_else(converted),
        System::Imperial => stated(System::Metric).cloned().or_else(converted),
        System::Both => None,
    };
    let within = |statement: &Statement| {
        let (low, high) = ends(statement, share);
        let end = |end: Option<Exact>| end.and_then(|end| statement.unit.from_base(end));
        (statement.unit, end(low), end(high))
    };
    std::iter::once(within(leading)).chain(other.as_ref().map(within)).collect()
}

/// A bound as pages and records hold it: a decimal number with up to six places.
pub fn decimal(value: Exact) -> Option<String> {
    let millionths = value.rounded(6, Rounding::Nearest)?;
    Exact::from_decimal(millionths, 6).map(|value| value.to_string())
}

fn ends(statement: &Statement, share: Option<Exact>) -> (Option<Exact>, Option<Exact>) {
    match &statement.form {
        Form::Single(number) => {
            let room = share.and_then(|share| number.value.times(share)).unwrap_or_else(|| number.tolerance_of_rounding());
            let base = |value: Option<Exact>| value.and_then(|value| statement.unit.to_base(value));
            (base(number.value.minus(room)), base(number.value.plus(room)))
        }
        _ => statement.base_bounds(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Dimension, Options, Rounding, read};
    use super::*;

    #[test]
    fn what_may_be_read_off_in_either_unit() {
        let told = |text: &str, dimension| {
            let quantity = read(text, dimension, &Options::default()).quantity.expect("a value");
            let thousandths = |value: Option<Exact>| value.and_then(|value| value.rounded(3, Rounding::Nearest));
            readings(&quantity, None)
                .into_iter()
                .map(|(unit, low, high)| (unit.symbol, thousandths(low), thousandths(high)))
                .collect::<Vec<_>>()
        };
        assert_eq!(told("14.4 ± 0.2 V", Dimension::Voltage), [("V", Some(14_200), Some(14_600))]);
        // NIST SP 811, App. B.8: 1 in = 25.4 mm.
        assert_eq!(told("max 200 mm", Dimension::Length), [("mm", None, Some(200_000)), ("in", None, Some(7_800))]);
        // 50 °C = 122 °F (NIST SP 811, App. B.9).
        assert_eq!(told("50 °C", Dimension::Temperature), [("°C", Some(49_500), Some(50_500)), ("°F", Some(121_500), Some(122_500))]);
        // What an author gives in both units is read in both as given: 25 N·m is not met by the 24 N·m that 18 lb·ft would let pass.
        assert_eq!(
            told("25 N·m (18 lb·ft)", Dimension::Torque),
            [("N·m", Some(24_500), Some(25_500)), ("lb·ft", Some(17_500), Some(18_500))]
        );
    }

    #[test]
    fn a_share_takes_the_place_of_rounding_where_the_value_states_nothing_itself() {
        // By hand: 4 % of 2.5 is 0.1, of 5 is 0.2, of 45 is 1.8, of 33 lb·ft is 1.32 lb·ft = 1.790 N·m (NIST SP 811).
        let share = Exact::fraction(4, 100);
        for (text, low, high) in [
            ("2.5 N·m", Some(2_400), Some(2_600)),
            ("5 N·m", Some(4_800), Some(5_200)),
            ("45 N·m", Some(43_200), Some(46_800)),
            ("33 lb·ft", Some(42_952), Some(46_532)),
            ("8..12 N·m", Some(8_000), Some(12_000)),
            ("24 ± 3 N·m", Some(21_000), Some(27_000)),
            ("max 5 N·m", None, Some(5_000)),
        ] {
            let quantity = read(text, Dimension::Torque, &Options::default()).quantity.expect("a value");
            let (found_low, found_high) = accepted(&quantity, share);
            let thousandths = |value: Option<Exact>| value.and_then(|value| value.rounded(3, Rounding::Nearest));
            assert_eq!((thousandths(found_low), thousandths(found_high)), (low, high), "{text}");
        }
    }

    #[test]
    fn what_counts_as_applied() {
        // By hand from 1 lb·ft = 1.3558179 N·m (NIST SP 811): 32.5 lb·ft = 44.064 N·m, 33.5 lb·ft = 45.420 N·m.
        for (text, low, high) in [
            ("45 N·m", Some(44_500), Some(45_500)),
            ("45 N·m (33 lb·ft)", Some(44_064), Some(45_500)),
            ("33 lb·ft", Some(44_064), Some(45_420)),
            ("8..12 N·m", Some(8_000), Some(12_000)),
            ("24 ± 3 N·m", Some(21_000), Some(27_000)),
            ("max 5 N·m", None, Some(5_000)),
            ("min 5 N·m", Some(5_000), None),
            ("30 N·m + 90°", Some(29_500), Some(30_500)),
        ] {
            let quantity = read(text, Dimension::Torque, &Options::default()).quantity.expect("a value");
            let (found_low, found_high) = accepted(&quantity, None);
            let thousandths = |value: Option<Exact>| value.and_then(|value| value.rounded(3, Rounding::Nearest));
            assert_eq!((thousandths(found_low), thousandths(found_high)), (low, high), "{text}");
        }
    }
}
