//! What can be wrong with a stated value, as data: kind, place, one phrase, one remedy.
//! How a fault is shown, and under which rule and severity, is left to the review.

use std::ops::Range;

/// What is wrong with a stated value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaultKind {
    /// The unit is not known, or it belongs to another dimension.
    UnitUnknown,
    /// The unit can be read in more than one way.
    UnitAmbiguous,
    /// The number or the shape of the value cannot be read, or no such value can exist.
    ValueUnreadable,
    /// The low end of a range is above its high end.
    RangeReversed,
    /// Two statements of one value differ by more than the rounding of their digits.
    Disagree,
}

/// One fault found while reading a value.
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
    /// Text for `range` where a certain repair exists that changes no value.
    pub replacement: Option<String>,
}

impl Fault {
    /// A fault without a certain repair.
    pub(super) fn new(kind: FaultKind, range: Range<usize>, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { kind, range, message: message.into(), remedy: remedy.into(), replacement: None }
    }

    /// The same fault with a certain repair.
    pub(super) fn with_replacement(mut self, replacement: impl Into<String>) -> Self {
        self.replacement = Some(replacement.into());
        self
    }
}
