//! Quantities as the trade writes them: the types of a value with its unit, and the doors to reading, comparing and printing it.
//! Which key or sentence a value stands in, and whether it is a sensible value there, is left to the guide and the review.
//!
//! `read` turns one text that must be a value into a [`Quantity`] and faults; `scan` finds values in running prose; `agree` tells
//! whether two stated values are one value; `print` writes the one spelling a reader sees; `entry` reads and judges what is typed into a
//! field of the record. All of it is exact: numbers are fractions
//! of whole numbers, and no conversion passes through binary floating point.

mod accept;
mod agree;
mod duration;
pub mod entry;
mod exact;
mod fault;
mod grammar;
mod lexis;
mod number;
mod print;
#[cfg(test)]
mod properties;
mod read;
mod scan;
mod slip;
mod table;
mod unit;

use std::ops::Range;

pub use accept::{ReadOff, accepted, decimal, readings};
pub use agree::{agree, same};
pub use duration::{duration_iso, duration_iso_minutes, duration_words};
pub use exact::{Exact, Rounding};
pub use fault::{Fault, FaultKind};
pub use number::{Number, Written};
pub use print::{Order, Printed, beside, bound, print, spell};
pub use read::{Options, Reading, read};
pub use scan::{Scanned, scan};
pub use slip::{Slip, slip};
pub use unit::{System, Unit, unit, units};

/// What a quantity measures. A torque and an energy share their base units, so this is named by the author's key, never computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Turning moment; base unit N·m.
    Torque,
    /// Angle of turn; base unit degree.
    Angle,
    /// Length, gap, thickness; base unit metre.
    Length,
    /// Area, as of a conductor; base unit square metre.
    Area,
    /// Gauge pressure, so below zero is a vacuum; base unit pascal.
    Pressure,
    /// Volume of a fluid; base unit cubic metre.
    Volume,
    /// Mass; base unit kilogram.
    Mass,
    /// Force; base unit newton.
    Force,
    /// Temperature on a scale; base unit kelvin.
    Temperature,
    /// Step between two temperatures; base unit kelvin.
    TemperatureDifference,
    /// Duration; base unit second.
    Time,
    /// Electric current; base unit ampere.
    Current,
    /// Electric voltage; base unit volt.
    Voltage,
    /// Electric resistance; base unit ohm.
    Resistance,
    /// Power; base unit watt.
    Power,
    /// Speed of rotation; base unit one turn per minute.
    RotationSpeed,
}

impl Dimension {
    /// Every dimension, in the order of declaration.
    pub const ALL: [Self; 16] = [
        Self::Torque,
        Self::Angle,
        Self::Length,
        Self::Area,
        Self::Pressure,
        Self::Volume,
        Self::Mass,
        Self::Force,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Time,
        Self::Current,
        Self::Voltage,
        Self::Resistance,
        Self::Power,
        Self::RotationSpeed,
    ];

    /// The dimension in words, for messages: "torque", "temperature difference".
    pub fn name(self) -> &'static str {
        match self {
            Self::Torque => "torque",
            Self::Angle => "angle",
            Self::Length => "length",
            Self::Area => "area",
            Self::Pressure => "pressure",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::Force => "force",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Time => "time",
            Self::Current => "current",
            Self::Voltage => "voltage",
            Self::Resistance => "resistance",
            Self::Power => "power",
            Self::RotationSpeed => "rotation speed",
        }
    }
}

/// The shape in which a value is stated. Every number is in the unit of its [`Statement`].
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Form {
    /// One value: "45 N·m".
    Single(Number),
    /// Lowest and highest value: "8 to 12 N·m".
    Range(Number, Number),
    /// A value and how far it may be out, both distances as positive numbers: "24 ± 3 N·m".
    Tolerance {
        /// The value aimed at.
        nominal: Number,
        /// How far above it is still good.
        plus: Number,
        /// How far below it is still good.
        minus: Number,
    },
    /// At most this: "max. 5 mm".
    Max(Number),
    /// At least this: "min. 5 mm".
    Min(Number),
}

/// One value in one unit, as the author stated it.
///
/// Two statements are equal when form and unit are; where they stand in the text does not count.
#[derive(Clone, Debug)]
pub struct Statement {
    /// The numbers and their shape.
    pub form: Form,
    /// The unit of all its numbers.
    pub unit: &'static Unit,
    /// Where it stands, in bytes of the text that was read.
    pub range: Range<usize>,
}

impl PartialEq for Statement {
    fn eq(&self, other: &Self) -> bool {
        self.form == other.form && self.unit == other.unit
    }
}

impl Eq for Statement {}

impl std::hash::Hash for Statement {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        (&self.form, self.unit).hash(state);
    }
}

/// A value with its unit, stated once or in several units that name the same value.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Quantity {
    /// What it measures.
    pub dimension: Dimension,
    /// One to three statements of the same value; the first is the author's leading one.
    pub statements: Vec<Statement>,
    /// The angle to turn further once the torque is reached: the "90°" of "30 N·m + 90°".
    pub angle: Option<Statement>,
}

impl Quantity {
    /// The author's leading statement.
    pub fn leading(&self) -> &Statement {
        &self.statements[0]
    }

    /// Lowest and highest value of the leading statement in the base unit of the dimension; a limit leaves the other side open.
    ///
    /// A side is also `None` where the conversion would not fit the exact number type, which no value that `read` accepts reaches.
    pub fn base_bounds(&self) -> (Option<Exact>, Option<Exact>) {
        self.leading().base_bounds()
    }
}

impl Statement {
    /// Lowest and highest value in the base unit of the dimension; a limit leaves the other side open.
    pub fn base_bounds(&self) -> (Option<Exact>, Option<Exact>) {
        let (low, high) = self.form.bounds();
        let base = |value: Option<Exact>| value.and_then(|value| self.unit.to_base(value));
        (base(low), base(high))
    }
}

impl Form {
    /// Lowest and highest value in the statement's own unit; a limit leaves the other side open.
    pub fn bounds(&self) -> (Option<Exact>, Option<Exact>) {
        match self {
            Self::Single(number) => (Some(number.value), Some(number.value)),
            Self::Range(low, high) => (Some(low.value), Some(high.value)),
            Self::Tolerance { nominal, plus, minus } => (nominal.value.minus(minus.value), nominal.value.plus(plus.value)),
            Self::Max(number) => (None, Some(number.value)),
            Self::Min(number) => (Some(number.value), None),
        }
    }

    /// The numbers of the form, in the order they are written.
    pub fn numbers(&self) -> Vec<&Number> {
        match self {
            Self::Single(number) | Self::Max(number) | Self::Min(number) => vec![number],
            Self::Range(low, high) => vec![low, high],
            Self::Tolerance { nominal, plus, minus } => vec![nominal, plus, minus],
        }
    }
}
