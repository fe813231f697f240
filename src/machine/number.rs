//! Numbers as programs read them, and the unit they stand in.

use crate::quantity::{Dimension, Exact};

/// The base unit of a dimension, as `quantity` states it.
pub(super) fn base_unit(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Torque => "N·m",
        Dimension::Angle => "°",
        Dimension::Length => "m",
        Dimension::Area => "m²",
        Dimension::Pressure => "Pa",
        Dimension::Volume => "m³",
        Dimension::Mass => "kg",
        Dimension::Force => "N",
        Dimension::Temperature | Dimension::TemperatureDifference => "K",
        Dimension::Time => "s",
        Dimension::Current => "A",
        Dimension::Voltage => "V",
        Dimension::Resistance => "Ω",
        Dimension::Power => "W",
        Dimension::RotationSpeed => "r/min",
    }
}

/// As programs read numbers: with a plain minus.
pub(super) fn decimal(value: Exact) -> String {
    value.to_string().replace('\u{2212}', "-")
}
