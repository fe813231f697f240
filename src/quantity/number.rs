//! A number together with how its author wrote it, so that it can be printed with the same digits and compared within their rounding.
//! Finding a number in a text is left to `lexis`.

use super::exact::{Exact, Rounding, place_point};

/// A number as an author wrote it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Number {
    /// The exact value.
    pub value: Exact,
    /// How it was written.
    pub written: Written,
}

/// The way a number was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Written {
    /// With so many digits after the point; zeros at the end count, as "45.0" claims more than "45".
    Decimal {
        /// Digits after the point.
        decimals: u32,
    },
    /// As a fraction with this denominator: "1 1/8", "½".
    Fraction {
        /// The denominator the author chose, not in lowest terms.
        denominator: u32,
    },
    /// In two or three units, "1 h 30 min" or "5 ft 6 in"; the value is in the smallest of them.
    Split {
        /// Digits after the point of the last part.
        decimals: u32,
    },
}

impl Number {
    /// A number with `decimals` digits after the point: `decimal(125, 2)` is 1.25. `None` where it does not fit.
    pub fn decimal(digits: i128, decimals: u32) -> Option<Self> {
        Some(Self { value: Exact::from_decimal(digits, decimals)?, written: Written::Decimal { decimals } })
    }

    /// A fraction or mixed number. One that comes out whole is a whole number.
    pub fn fraction(value: Exact, denominator: u32) -> Self {
        let written = if value.is_whole() { Written::Decimal { decimals: 0 } } else { Written::Fraction { denominator } };
        Self { value, written }
    }

    /// A value written with the fewest decimals that are exact, or `None` where it has no end.
    pub fn shortest(value: Exact) -> Option<Self> {
        Some(Self { value, written: Written::Decimal { decimals: value.exact_decimals()? } })
    }

    /// Digits after the point; a fraction counts as many as would resolve its denominator.
    pub fn decimals(&self) -> u32 {
        match self.written {
            Written::Decimal { decimals } | Written::Split { decimals } => decimals,
            Written::Fraction { denominator } => denominator.checked_ilog10().unwrap_or(0) + 1,
        }
    }

    /// Half a unit of the last digit or of the denominator: how far the true value may lie from the written one.
    pub fn precision(&self) -> Exact {
        match self.written {
            Written::Decimal { decimals } | Written::Split { decimals } => {
                Exact::place(decimals).and_then(|place| place.times(Exact::ratio(1, 2))).unwrap_or(Exact::ZERO)
            }
            Written::Fraction { denominator } => Exact::ratio(1, 2 * i128::from(denominator.max(1))),
        }
    }

    /// As [`Number::precision`], but zeros at the end of a whole number of 100 and more may be rounding too.
    ///
    /// They are taken as rounding only while that is at most 1.5 % of the value: 240 is not read as "235 to 245", 2400 is.
    pub fn tolerance_of_rounding(&self) -> Exact {
        let precision = self.precision();
        let value = self.value.magnitude();
        if !matches!(self.written, Written::Decimal { decimals: 0 }) || value < Exact::whole(100) {
            return precision;
        }
        let mut place: i128 = 1;
        while value.numerator() % (place * 10) == 0 {
            place *= 10;
        }
        let widened = Exact::ratio(place, 2);
        let limit = value.times(Exact::ratio(15, 1000)).unwrap_or(Exact::ZERO);
        if widened > precision && widened <= limit { widened } else { precision }
    }

    /// The number with its author's digits. A split number is written as one, since its units are not known here.
    pub fn print(&self, point: char) -> String {
        match self.written {
            Written::Decimal { decimals } | Written::Split { decimals } => match self.value.rounded(decimals, Rounding::Nearest) {
                Some(digits) => place_point(digits, decimals, point),
                None => self.value.to_string(),
            },
            Written::Fraction { denominator } => print_fraction(self.value, denominator),
        }
    }
}

fn print_fraction(value: Exact, denominator: u32) -> String {
    let size = value.magnitude();
    let whole = size.floor();
    let parts = Exact::fraction(whole, 1)
        .and_then(|whole| size.minus(whole))
        .and_then(|rest| rest.times(Exact::whole(i64::from(denominator))))
        .filter(|parts| parts.is_whole());
    let Some(parts) = parts else { return value.to_string() };
    let sign = if value.is_negative() { "\u{2212}" } else { "" };
    if whole == 0 {
        format!("{sign}{}/{denominator}", parts.numerator())
    } else {
        format!("{sign}{whole} {}/{denominator}", parts.numerator())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn precision_is_half_the_last_digit() {
        let number = |digits, decimals| Number::decimal(digits, decimals).expect("it fits");
        assert_eq!(number(45, 0).precision(), Exact::ratio(1, 2));
        assert_eq!(number(450, 1).precision(), Exact::ratio(1, 20));
        assert_eq!(Number::fraction(Exact::ratio(9, 8), 8).precision(), Exact::ratio(1, 16));
        // Half of ten is more than 1.5 % of 240 and less than that of 2400, where half a hundred again is more.
        assert_eq!(number(240, 0).tolerance_of_rounding(), Exact::ratio(1, 2));
        assert_eq!(number(1240, 0).tolerance_of_rounding(), Exact::whole(5));
        assert_eq!(number(90, 0).tolerance_of_rounding(), Exact::ratio(1, 2));
    }

    #[test]
    fn fractions_keep_their_denominator() {
        assert_eq!(Number::fraction(Exact::ratio(9, 8), 8).print('.'), "1 1/8");
        assert_eq!(Number::fraction(Exact::ratio(1, 4), 8).print('.'), "2/8");
        assert_eq!(Number::fraction(Exact::ratio(8, 8), 8).print('.'), "1");
    }
}
