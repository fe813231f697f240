//! A unit: its symbol, its exact factor to the base unit and where that comes from, and the spellings met in the trade.
//! The units themselves stand in `table`; recognising a spelling in a text is left to `lexis`.

use super::Dimension;
use super::exact::Exact;
use super::number::Number;
use super::table::UNITS;

/// The family of units a reader thinks in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum System {
    /// Metric units, SI or not.
    Metric,
    /// Inch and pound units.
    Imperial,
    /// Used alike by readers of either: hours, volts, degrees of angle.
    Both,
}

/// One unit of measure.
#[derive(Debug)]
pub struct Unit {
    /// The one spelling that is printed, unique within its dimension.
    pub symbol: &'static str,
    /// The name in words, singular.
    pub name: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Who uses it.
    pub system: System,
    /// How many base units one of it is.
    pub factor: Exact,
    /// What is added after multiplying, in base units; nought except for °C and °F.
    pub offset: Exact,
    /// Where the factor is published.
    pub source: &'static str,
    /// Spellings in which capitals matter; a "·" in one stands for a dot, a hyphen, a space or nothing.
    pub spellings: &'static [&'static str],
    /// Spellings in which capitals do not matter, otherwise alike.
    pub words: &'static [&'static str],
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.dimension == other.dimension && self.symbol == other.symbol
    }
}

impl Eq for Unit {}

impl std::hash::Hash for Unit {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        (self.dimension, self.symbol).hash(state);
    }
}

impl Unit {
    /// A value in this unit as a value in the base unit; `None` where it does not fit.
    pub fn to_base(&self, value: Exact) -> Option<Exact> {
        value.times(self.factor)?.plus(self.offset)
    }

    /// A value in the base unit as a value in this unit; `None` where it does not fit.
    pub fn from_base(&self, value: Exact) -> Option<Exact> {
        value.minus(self.offset)?.over(self.factor)
    }

    /// A value in this unit as a value in `other` of the same dimension; `None` for another dimension or where it does not fit.
    pub fn convert(&self, value: Exact, other: &Self) -> Option<Exact> {
        if self.dimension != other.dimension {
            return None;
        }
        let shift = self.offset.minus(other.offset)?.over(other.factor)?;
        value.times(self.factor.over(other.factor)?)?.plus(shift)
    }

    /// A distance in this unit, such as a tolerance, as a distance in `other`: the offsets of °C and °F play no part.
    pub fn convert_distance(&self, distance: Exact, other: &Self) -> Option<Exact> {
        if self.dimension != other.dimension {
            return None;
        }
        distance.times(self.factor.over(other.factor)?)
    }

    /// Whether a space stands between a number and the symbol: always but for degrees of angle (NIST SP 811, 7.2).
    pub fn spaced(&self) -> bool {
        self.symbol != "°"
    }

    /// A number with this unit: "45 N·m", "90°".
    pub fn with_number(&self, number: &Number) -> String {
        format!("{}{}{}", number.print('.'), if self.spaced() { " " } else { "" }, self.symbol)
    }
}

/// Every unit that is known, grouped by dimension.
pub fn units() -> &'static [Unit] {
    UNITS
}

/// The unit printed with this symbol in this dimension.
pub fn unit(dimension: Dimension, symbol: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.dimension == dimension && unit.symbol == symbol)
}
