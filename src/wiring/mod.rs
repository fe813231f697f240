//! Wiring as the trade knows it: wire colours, conductor sections, voltage drop, fuses. Pure: it knows no file and no guide.
//! Which limits a shop sets, and what of this is a fault in a guide, is left to the caller.
//!
//! Values are exact fractions in the units their names say: square millimetres, metres, amperes, volts, degrees Celsius. Whatever is
//! not known comes back as unknown; nothing is estimated in its place.

mod colour;
mod drop;
mod fuse;
mod mains;
mod permissible;
mod section;

use std::ops::Range;

use crate::quantity::{Exact, Number, Rounding};

pub use colour::{Colour, Hatch, WireColour, colour_in, read_colour};
pub use drop::{Run, Term, VoltageDrop, voltage_drop};
pub use fuse::{
    BladeFuse, FuseType, Housing, Protection, bears, blade_fuse, blade_fuses, blade_ratings, no_blade_rating, protects, read_rating,
};
pub use mains::{Supply, is_mains};
pub use permissible::{CFR_183_425, Carries, Insulation, Permissible, Row, Surroundings, cfr_183_425};
pub use section::{Gauge, ISO_6722, Section, copper_resistivity, read_section};

/// What is wrong with a text that should name a colour, a section or a rating.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaultKind {
    /// It names nothing that is known.
    Unknown,
    /// It can be read in more than one way.
    Ambiguous,
    /// Its shape cannot be read.
    Unreadable,
}

/// One fault found while reading a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Where, in bytes of the text that was read; always at character boundaries.
    pub range: Range<usize>,
    /// One lower-case phrase with the values in it, without a full stop.
    pub message: String,
    /// What the author can do, in the same style.
    pub remedy: String,
}

impl Fault {
    fn new(kind: FaultKind, range: Range<usize>, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { kind, range, message: message.into(), remedy: remedy.into() }
    }
}

/// A value with so many significant figures, for people: 0.690 and 7.18 for three.
fn figures(value: Exact, count: u32) -> String {
    let size = value.magnitude();
    let mut decimals = count.saturating_sub(1);
    let mut bound = Exact::ONE;
    // Digits before the point take from those after it, noughts right after the point add to them.
    while decimals > 0 && bound.times(Exact::whole(10)).is_some_and(|next| size >= next) {
        bound = bound.times(Exact::whole(10)).unwrap_or(bound);
        decimals -= 1;
    }
    let tenth = Exact::ratio(1, 10);
    let mut bound = Exact::ONE;
    while size > Exact::ZERO && size < bound && decimals < 12 {
        bound = bound.times(tenth).unwrap_or(Exact::ZERO);
        decimals += 1;
    }
    value
        .rounded(decimals, Rounding::Nearest)
        .and_then(|digits| Number::decimal(digits, decimals))
        .map_or_else(|| value.to_string(), |number| number.print('.'))
}

/// A value written with the fewest digits that are exact, or with four figures where it has no end.
fn plain(value: Exact) -> String {
    match value.exact_decimals() {
        Some(decimals) if decimals <= 4 => value.to_string(),
        _ => figures(value, 4),
    }
}

/// A list in words: "red", "red or blue", "red, blue or brown".
fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [front @ .., last] => format!("{} or {last}", front.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_counted_from_the_first_that_is_not_nought() {
        for (over, under, text) in [
            (20, 29, "0.690"),
            (1, 58, "0.0172"),
            (1234, 10, "123"),
            (12345, 1, "12345"),
            (0, 1, "0.00"),
            (719, 100, "7.19"),
            (1, 1, "1.00"),
        ] {
            assert_eq!(figures(Exact::ratio(over, under), 3), text);
        }
        assert_eq!(plain(Exact::ratio(5, 2)), "2.5");
        assert_eq!(plain(Exact::ratio(1, 3)), "0.3333");
        assert_eq!(plain(Exact::ratio(100_001, 100_000)), "1.000", "five decimals are more than anybody measures");
        assert_eq!(figures(Exact::ratio(1, 100_000_000_000_000), 3), "0.000000000000", "what is next to nothing is nothing");
    }

    proptest::proptest! {
        /// Whatever an author writes is read or refused with a place in the text, and what is read is printed so that it reads the same.
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,12}|[ -~]{0,24}|(AWG|awg|mm²|mm2|/0|[0-9.,# /-]){1,6}|(BU|wh|gn|YE|light|blau|weiß|[-/ +]){1,5}") {
            let options = crate::quantity::Options::default();
            let colour = read_colour(&text);
            let section = read_section(&text, &options);
            let rating = read_rating(&text, &options);
            let faults = [colour.as_ref().err(), section.as_ref().err(), rating.as_ref().err()];
            for fault in faults.into_iter().flatten() {
                proptest::prop_assert!(text.get(fault.range.clone()).is_some(), "{fault:?}");
                proptest::prop_assert!(!fault.message.is_empty() && !fault.remedy.is_empty());
            }
            if let Ok(colour) = colour {
                proptest::prop_assert_eq!(read_colour(&colour.to_string()), Ok(colour));
            }
            if let Ok(section) = section {
                proptest::prop_assert_eq!(read_section(&section.to_string(), &options), Ok(section));
            }
        }
    }
}
