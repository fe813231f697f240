//! stub
use super::{Dimension, Fault, Quantity};

/// How a text is to be read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// A comma separates decimals, as the shop has chosen; a point is still read where it can mean nothing else.
    pub decimal_comma: bool,
    /// The unit of a bare number, by its symbol, where the key says it: "h" for a key named hours.
    pub default_unit: Option<&'static str>,
}

/// What came of reading a text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The value, where enough could be read to have one.
    pub quantity: Option<Quantity>,
    /// Everything wrong with it, in the order of the text.
    pub faults: Vec<Fault>,
}

/// Reads a text that must be a value of this dimension.
pub fn read(_text: &str, _dimension: Dimension, _options: &Options) -> Reading {
    Reading::default()
}
