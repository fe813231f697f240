//! An exact number: a fraction of two whole numbers of 128 bits, with arithmetic that says so when a result does not fit.
//! How a number was written, and with how many digits, is left to `number`.

use std::fmt;

use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul};

/// An exact fraction. Arithmetic returns `None` where the result would not fit; it never rounds, wraps or panics.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Exact(Ratio<i128>);

impl Exact {
    /// Nought.
    pub const ZERO: Self = Self::whole(0);
    /// One.
    pub const ONE: Self = Self::whole(1);

    /// A whole number.
    pub const fn whole(value: i64) -> Self {
        Self(Ratio::new_raw(value as i128, 1))
    }

    /// `numerator / denominator` in lowest terms, for constants such as unit factors.
    ///
    /// # Panics
    /// With a denominator below one; in a constant that is an error when the program is built. Use [`Exact::fraction`] for read values.
    pub const fn ratio(numerator: i128, denominator: i128) -> Self {
        assert!(denominator > 0, "the denominator of a constant fraction must be positive");
        let (mut a, mut b) = (if numerator < 0 { -numerator } else { numerator }, denominator);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        Self(Ratio::new_raw(numerator / a, denominator / a))
    }

    /// `numerator / denominator`, or `None` with a denominator of nought.
    pub fn fraction(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator == 0 || numerator == i128::MIN || denominator == i128::MIN {
            return None;
        }
        Some(Self(Ratio::new(numerator, denominator)))
    }

    /// A number written as digits with `decimals` of them after the point: `from_decimal(125, 2)` is 1.25.
    pub fn from_decimal(digits: i128, decimals: u32) -> Option<Self> {
        Self::fraction(digits, 10_i128.checked_pow(decimals)?)
    }

    /// One unit of the last of `decimals` places: 0.01 for 2.
    pub fn place(decimals: u32) -> Option<Self> {
        Self::from_decimal(1, decimals)
    }

    /// The nearest binary number, for estimates and places in a drawing; no value is converted or printed by way of it.
    pub fn estimate(self) -> f64 {
        *self.0.numer() as f64 / *self.0.denom() as f64
    }

    /// The sum.
    pub fn plus(self, other: Self) -> Option<Self> {
        let short = self.short().zip(other.short()).and_then(|(a, b)| short_sum(a, b));
        short.or_else(|| Self::kept(self.0.checked_add(&other.0)))
    }

    /// The difference.
    pub fn minus(self, other: Self) -> Option<Self> {
        self.plus(other.negated())
    }

    /// The product.
    pub fn times(self, other: Self) -> Option<Self> {
        match self.short().zip(other.short()) {
            Some((a, b)) => Some(short_product(a, b)),
            None => Self::kept(self.0.checked_mul(&other.0)),
        }
    }

    /// The quotient; `None` too where `other` is nought.
    pub fn over(self, other: Self) -> Option<Self> {
        if other == Self::ZERO {
            return None;
        }
        match self.short().zip(other.short()) {
            Some((a, (numerator, denominator))) => Some(short_product(a, (numerator.signum() * denominator, numerator.abs()))),
            None => Self::kept(self.0.checked_div(&other.0)),
        }
    }

    /// Numerator and denominator where 63 bits hold them, as they do in nearly every value of the trade: dividing numbers of 128 bits is
    /// many times dearer.
    fn short(self) -> Option<(i64, i64)> {
        let numerator = i64::try_from(*self.0.numer()).ok().filter(|numerator| *numerator != i64::MIN)?;
        Some((numerator, i64::try_from(*self.0.denom()).ok()?))
    }

    /// The same distance from nought on the other side.
    pub fn negated(self) -> Self {
        Self(-self.0)
    }

    /// The distance from nought.
    pub fn magnitude(self) -> Self {
        if self.is_negative() { self.negated() } else { self }
    }

    /// Whether it is below nought.
    pub fn is_negative(self) -> bool {
        *self.0.numer() < 0
    }

    /// Whether it has no fraction.
    pub fn is_whole(self) -> bool {
        *self.0.denom() == 1
    }

    /// The numerator in lowest terms; it carries the sign.
    pub fn numerator(self) -> i128 {
        *self.0.numer()
    }

    /// The denominator in lowest terms; always above nought.
    pub fn denominator(self) -> i128 {
        *self.0.denom()
    }

    /// The largest whole number that is not above it.
    pub fn floor(self) -> i128 {
        self.0.numer().div_euclid(*self.0.denom())
    }

    /// Rounded to `decimals` places, as the digits of the result without a point. `None` where they would not fit.
    pub fn rounded(self, decimals: u32, rounding: Rounding) -> Option<i128> {
        let scaled = self.times(Self::fraction(10_i128.checked_pow(decimals)?, 1)?)?;
        let down = scaled.floor();
        if scaled.is_whole() {
            return Some(down);
        }
        match rounding {
            Rounding::Down => Some(down),
            Rounding::Up => down.checked_add(1),
            Rounding::Nearest => {
                // A half goes away from nought, as a mechanic rounds.
                let rest = scaled.minus(Self::fraction(down, 1)?)?;
                let half = Self::ratio(1, 2);
                let up = if scaled.is_negative() { rest > half } else { rest >= half };
                if up { down.checked_add(1) } else { Some(down) }
            }
        }
    }

    /// The fewest decimals that write it exactly, or `None` where no 18 do.
    pub fn exact_decimals(self) -> Option<u32> {
        (0..=18).find(|&decimals| 10_i128.pow(decimals) % self.denominator() == 0)
    }

    // The smallest value of the type has no counterpart above nought, so it is kept out and negation cannot overflow.
    fn kept(result: Option<Ratio<i128>>) -> Option<Self> {
        result.filter(|ratio| *ratio.numer() != i128::MIN && *ratio.denom() != i128::MIN).map(Self)
    }
}

/// The product of two fractions in lowest terms, which comes out in lowest terms too: what numerators and denominators share crosswise
/// is taken out before.
fn short_product((a, b): (i64, i64), (c, d): (i64, i64)) -> Exact {
    let (first, second) = (gcd(a, d), gcd(c, b));
    let (numerator, denominator) = (i128::from(a / first) * i128::from(c / second), i128::from(b / second) * i128::from(d / first));
    Exact(Ratio::new_raw(numerator, denominator))
}

/// The sum of two fractions in lowest terms; none where its numerator needs more than 63 bits. Only what the denominators share can be
/// left over to take out.
fn short_sum((a, b): (i64, i64), (c, d): (i64, i64)) -> Option<Exact> {
    let shared = gcd(b, d);
    let numerator = i128::from(a) * i128::from(d / shared) + i128::from(c) * i128::from(b / shared);
    let numerator = i64::try_from(numerator).ok()?;
    let rest = gcd(numerator, shared);
    Some(Exact(Ratio::new_raw(i128::from(numerator / rest), i128::from(b / shared) * i128::from(d / rest))))
}

/// The greatest common divisor of a number and one above nought.
fn gcd(number: i64, above_nought: i64) -> i64 {
    let (mut a, mut b) = (number.unsigned_abs(), above_nought.unsigned_abs());
    while a != 0 {
        (a, b) = (b % a, a);
    }
    // It is no larger than `above_nought`.
    b as i64
}

/// The direction in which a number is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest; a half goes away from nought.
    Nearest,
    /// Towards lower values.
    Down,
    /// Towards higher values.
    Up,
}

impl fmt::Display for Exact {
    /// A whole number or a decimal where one is exact, otherwise a fraction.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.exact_decimals().and_then(|decimals| Some((decimals, self.rounded(decimals, Rounding::Nearest)?))) {
            Some((decimals, digits)) => formatter.write_str(&place_point(digits, decimals, '.')),
            None => write!(formatter, "{}/{}", self.numerator(), self.denominator()),
        }
    }
}

/// Writes `digits` with `decimals` of them after the point, and the true minus sign before a value below nought.
pub(super) fn place_point(digits: i128, decimals: u32, point: char) -> String {
    let decimals = decimals as usize;
    let mut written = format!("{:0width$}", digits.unsigned_abs(), width = decimals + 1);
    if decimals > 0 {
        written.insert(written.len() - decimals, point);
    }
    if digits < 0 {
        written.insert(0, '\u{2212}');
    }
    written
}

#[cfg(test)]
mod tests {
    use num_traits::CheckedSub;
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn rounding_goes_the_way_it_is_told() {
        for (over, under, nearest, down, up) in
            [(5, 2, 3, 2, 3), (-5, 2, -3, -3, -2), (7, 3, 2, 2, 3), (-7, 3, -2, -3, -2), (4, 2, 2, 2, 2)]
        {
            let value = Exact::ratio(over, under);
            let rounded = [Rounding::Nearest, Rounding::Down, Rounding::Up].map(|rounding| value.rounded(0, rounding));
            assert_eq!(rounded, [Some(nearest), Some(down), Some(up)], "{value}");
        }
    }

    #[test]
    fn what_does_not_fit_is_none() {
        let large = Exact::fraction(i128::MAX, 1).expect("it fits");
        assert_eq!(large.plus(Exact::ONE), None);
        assert_eq!(large.times(Exact::whole(2)), None);
        assert_eq!(large.negated().minus(Exact::whole(1)), None);
        assert_eq!(Exact::ONE.over(Exact::ZERO), None);
        assert_eq!(Exact::fraction(1, 0), None);
    }

    /// Whole numbers of every size, and those where a width of bits ends.
    fn sized() -> impl Strategy<Value = i128> {
        let ends = [0, 1, -1, i64::MAX.into(), i64::MIN.into(), i128::from(i64::MIN) - 1, i128::from(u64::MAX), i128::MAX];
        prop_oneof![(any::<i128>(), 0..127u32).prop_map(|(number, bits)| number >> bits), proptest::sample::select(ends.to_vec())]
    }

    proptest! {
        /// The library of fractions reckons with 128 bits throughout, and its results are in lowest terms.
        #[test]
        fn short_reckoning_gives_what_the_library_gives((a, b, c, d) in (sized(), sized(), sized(), sized())) {
            let (Some(left), Some(right)) = (Exact::fraction(a, b), Exact::fraction(c, d)) else { return Ok(()) };
            let short = [left.plus(right), left.minus(right), left.times(right), left.over(right)];
            let by_library = [
                left.0.checked_add(&right.0),
                left.0.checked_sub(&right.0),
                left.0.checked_mul(&right.0),
                (right != Exact::ZERO).then(|| left.0.checked_div(&right.0)).flatten(),
            ];
            for (short, library) in short.into_iter().zip(by_library) {
                // What the library gives up on half-way may fit in the end.
                if let Some(library) = Exact::kept(library) {
                    let short = short.expect("what the library can reckon");
                    prop_assert_eq!((short.numerator(), short.denominator()), (library.numerator(), library.denominator()));
                }
                if let Some(short) = short {
                    prop_assert!(short.denominator() > 0);
                    prop_assert_eq!(Exact::fraction(short.numerator(), short.denominator()), Some(short));
                }
            }
        }
    }

    #[test]
    fn it_is_shown_without_rounding() {
        assert_eq!(Exact::ratio(-9, 8).to_string(), "−1.125");
        assert_eq!(Exact::ratio(1, 3).to_string(), "1/3");
        assert_eq!(Exact::whole(12).to_string(), "12");
    }
}
