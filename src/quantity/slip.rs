//! Which slip of the pen explains that two statements of one value differ, so that a report can name it.
//! Whether they differ is left to `agree`; nothing here says which of the two is right.

use std::fmt;

use super::agree::numbers_agree;
use super::exact::{Exact, Rounding};
use super::number::{Number, Written};
use super::{Dimension, Form, Quantity, Statement, Unit};

/// A slip that turns one statement of a pair into the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slip {
    /// The same figure stands before two different units.
    Copied {
        /// The figure as written.
        figure: String,
    },
    /// A figure would be right with another unit than the one written.
    OtherUnit {
        /// The figure as written.
        figure: String,
        /// The symbol it has.
        written: &'static str,
        /// The symbol it fits.
        fits: &'static str,
        /// How many of the smaller unit make the larger one, where that is a whole number.
        factor: Option<i128>,
    },
    /// The two figures are exchanged, each before the other's unit.
    Exchanged,
    /// A temperature was converted without the 32 of the Fahrenheit scale.
    OffsetForgotten,
    /// The decimal point is out by so many places.
    DecimalPlace(u32),
    /// The digits of a figure are those of the right one in another order.
    DigitsSwapped {
        /// The figure as written.
        figure: String,
    },
}

impl fmt::Display for Slip {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Copied { figure } => write!(formatter, "the figure {figure} stands before both units"),
            Self::OtherUnit { figure, written, fits, factor: Some(factor) } => {
                write!(formatter, "the figure {figure} fits {fits}, not {written} (a factor of {factor})")
            }
            Self::OtherUnit { figure, written, fits, factor: None } => {
                write!(formatter, "the figure {figure} fits {fits}, not {written}")
            }
            Self::Exchanged => formatter.write_str("the two figures look exchanged, each fits the unit of the other"),
            Self::OffsetForgotten => formatter.write_str("the 32 degrees between the two scales look left out"),
            Self::DecimalPlace(1) => formatter.write_str("the decimal point looks one place out"),
            Self::DecimalPlace(places) => write!(formatter, "the decimal point looks {places} places out"),
            Self::DigitsSwapped { figure } => write!(formatter, "the digits of {figure} look out of order"),
        }
    }
}

/// The slip that explains why two quantities differ, in words, or `None` where they agree or none does.
pub fn slip(a: &Quantity, b: &Quantity) -> Option<String> {
    if super::same(a, b) {
        return None;
    }
    a.statements.iter().find_map(|x| b.statements.iter().find_map(|y| Slip::between(x, y))).map(|slip| slip.to_string())
}

// Units that stand in guides often enough for a mix-up to be likely. Multiples by ten are left to the decimal point.
const LIKELY: &str = "\
    N·m|lb·ft|lb·in|kgf·m|kgf·cm|N·cm|ozf·in|mm|cm|m|in|ft|thou|bar|psi|kPa|kgf/cm²|L|US gal|Imp gal|US qt|Imp qt|\
    US pt|Imp pt|US fl oz|Imp fl oz|kg|lb|g|oz|N|lbf|kgf|°C|°F|h|min|s|kW|hp|PS|mm²|in²";

impl Slip {
    /// The slip that explains why two statements differ, if one does. Likelier slips come first, so a point that is one place out
    /// is named before a rare unit that happens to be ten times another.
    pub fn between(a: &Statement, b: &Statement) -> Option<Self> {
        if a.unit.dimension != b.unit.dimension {
            return None;
        }
        let pairs = pairs(&a.form, &b.form)?;
        let all = |explains: &dyn Fn(&Number, &Number) -> bool| pairs.iter().all(|(x, y)| explains(x, y));
        let figure = |statement: &Statement| statement.form.numbers()[0].print('.');
        if all(&|x, y| numbers_agree(x, a.unit, y, b.unit)) {
            return None;
        }
        if a.unit != b.unit && all(&|x, y| x.value == y.value) {
            return Some(Self::Copied { figure: figure(a) });
        }
        // The gallon of the other country comes before a unit of another size that happens to fit a rounded figure.
        if let Some(other) = sister(a.unit).filter(|other| all(&|x, y| numbers_agree(x, other, y, b.unit))) {
            return Some(Self::other_unit(figure(a), a.unit, other));
        }
        if let Some(other) = sister(b.unit).filter(|other| all(&|x, y| numbers_agree(x, a.unit, y, other))) {
            return Some(Self::other_unit(figure(b), b.unit, other));
        }
        if matches!(a.unit.dimension, Dimension::Temperature) && a.unit != b.unit && all(&|x, y| without_offset(x, a.unit, y, b.unit)) {
            return Some(Self::OffsetForgotten);
        }
        if a.unit != b.unit && all(&|x, y| numbers_agree(x, b.unit, y, a.unit)) {
            return Some(Self::Exchanged);
        }
        let moved = (1..=3).find(|&places| {
            all(&|x, y| numbers_agree(&shifted(x, places), a.unit, y, b.unit))
                || all(&|x, y| numbers_agree(x, a.unit, &shifted(y, places), b.unit))
        });
        if let Some(places) = moved {
            return Some(Self::DecimalPlace(places));
        }
        let second = likely(b.unit, a.unit).find(|other| all(&|x, y| numbers_agree(x, a.unit, y, other)));
        if let Some(other) = second {
            return Some(Self::other_unit(figure(b), b.unit, other));
        }
        let first = likely(a.unit, b.unit).find(|other| all(&|x, y| numbers_agree(x, other, y, b.unit)));
        if let Some(other) = first {
            return Some(Self::other_unit(figure(a), a.unit, other));
        }
        if all(&|x, y| permuted(x.value, a.unit, y, b.unit)) {
            return Some(Self::DigitsSwapped { figure: figure(b) });
        }
        all(&|x, y| permuted(y.value, b.unit, x, a.unit)).then(|| Self::DigitsSwapped { figure: figure(a) })
    }

    fn other_unit(figure: String, written: &'static Unit, fits: &'static Unit) -> Self {
        let (small, large) = if written.factor < fits.factor { (written, fits) } else { (fits, written) };
        let factor = large.factor.over(small.factor).filter(|factor| factor.is_whole()).map(Exact::numerator);
        Self::OtherUnit { figure, written: written.symbol, fits: fits.symbol, factor }
    }
}

fn pairs<'f>(a: &'f Form, b: &'f Form) -> Option<Vec<(&'f Number, &'f Number)>> {
    match (a, b) {
        // The nominal values tell the slip; tolerances are small numbers in which chance would find one.
        (Form::Tolerance { nominal: x, .. }, Form::Tolerance { nominal: y, .. } | Form::Single(y))
        | (Form::Single(x), Form::Tolerance { nominal: y, .. }) => Some(vec![(x, y)]),
        _ => {
            let (a, b) = (a.numbers(), b.numbers());
            (a.len() == b.len()).then(|| a.into_iter().zip(b).collect())
        }
    }
}

/// The measure of the same name in the other country: the Imperial gallon for the US one.
fn sister(unit: &Unit) -> Option<&'static Unit> {
    let (mine, theirs) = [("US ", "Imp "), ("Imp ", "US ")].into_iter().find(|(mine, _)| unit.symbol.starts_with(mine))?;
    super::unit(unit.dimension, &format!("{theirs}{}", &unit.symbol[mine.len()..]))
}

fn likely(written: &'static Unit, other: &'static Unit) -> impl Iterator<Item = &'static Unit> {
    LIKELY.split('|').filter_map(move |symbol| {
        let unit = super::unit(written.dimension, symbol)?;
        let by_tens = written.factor.over(unit.factor).is_some_and(is_power_of_ten);
        (unit != written && unit != other && !by_tens).then_some(unit)
    })
}

fn is_power_of_ten(factor: Exact) -> bool {
    let power = |mut value: i128| {
        while value % 10 == 0 {
            value /= 10;
        }
        value == 1
    };
    (factor.denominator() == 1 && power(factor.numerator())) || (factor.numerator() == 1 && power(factor.denominator()))
}

fn shifted(number: &Number, places: u32) -> Number {
    let by = Exact::place(places).unwrap_or(Exact::ONE);
    let value = number.value.times(by).unwrap_or(number.value);
    Number { value, written: Written::Decimal { decimals: number.decimals() + places } }
}

fn without_offset(x: &Number, x_unit: &Unit, y: &Number, y_unit: &Unit) -> bool {
    let near = |value: Option<Exact>, other: &Number| {
        let distance = value.and_then(|value| value.minus(other.value));
        distance.is_some_and(|distance| distance.magnitude() <= other.precision())
    };
    near(x_unit.convert_distance(x.value, y_unit), y) || near(y_unit.convert_distance(y.value, x_unit), x)
}

// Whether a figure has the digits of the right one, in another order.
fn permuted(right: Exact, right_unit: &Unit, figure: &Number, unit: &Unit) -> bool {
    let digits = |value: Exact| {
        let mut digits = value.rounded(figure.decimals(), Rounding::Nearest)?.unsigned_abs().to_string().into_bytes();
        digits.sort_unstable();
        Some(digits).filter(|digits| digits.len() > 1)
    };
    let right = right_unit.convert(right, unit).and_then(digits);
    right.is_some() && right == digits(figure.value)
}

#[cfg(test)]
mod tests {
    use super::super::{Options, read};
    use super::*;

    #[test]
    fn the_likely_slip_is_named() {
        use Dimension::*;
        for (a, b, dimension, expected) in [
            ("25 N·m", "18 lb·in", Torque, Some("the figure 18 fits lb·ft, not lb·in (a factor of 12)")),
            ("33 N·m", "33 lb·ft", Torque, Some("the figure 33 stands before both units")),
            ("33 N·m", "45 lb·ft", Torque, Some("the two figures look exchanged, each fits the unit of the other")),
            ("45 N·m", "3.3 lb·ft", Torque, Some("the decimal point looks one place out")),
            ("110 N·m", "18 lb·ft", Torque, Some("the digits of 18 look out of order")),
            ("45 N·m", "33 N·m", Torque, Some("the figure 33 fits lb·ft, not N·m")),
            ("5 US gal", "22.7 L", Volume, Some("the figure 5 fits Imp gal, not US gal")),
            ("1 Imp gal", "3.8 L", Volume, Some("the figure 1 fits US gal, not Imp gal")),
            ("2 L", "2 Imp qt", Volume, Some("the figure 2 stands before both units")),
            ("500 mL", "17 Imp fl oz", Volume, Some("the figure 17 fits US fl oz, not Imp fl oz")),
            ("90 °C", "162 °F", Temperature, Some("the 32 degrees between the two scales look left out")),
            ("90 °C", "90 °F", Temperature, Some("the figure 90 stands before both units")),
            ("45 N·m", "33 lb·ft", Torque, None),
            ("45 N·m", "40 lb·ft", Torque, Some("the digits of 45 look out of order")),
            ("45 N·m", "41 lb·ft", Torque, None),
        ] {
            let quantity = |text| read(text, dimension, &Options::default()).quantity.expect("the text has a value");
            assert_eq!(slip(&quantity(a), &quantity(b)).as_deref(), expected, "{a} and {b}");
        }
    }
}
