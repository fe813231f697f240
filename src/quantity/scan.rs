//! stub
use std::ops::Range;
use super::{Options, Quantity};

/// A value found in running prose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scanned {
    /// Where it stands, in bytes of the text; from the first digit or limit word to the end of the last unit or bracket.
    pub range: Range<usize>,
    /// The value; the ranges of its statements are bytes of the whole text too.
    pub quantity: Quantity,
}

/// Finds the values with a unit in running prose.
pub fn scan(_text: &str, _options: &Options) -> Vec<Scanned> {
    Vec::new()
}
