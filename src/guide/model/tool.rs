//! Tools of the model, and the drives they cover.

use super::{Date, Stated, Text};
use crate::fastener::Drive;
use crate::quantity::{Exact, Quantity};
use crate::source::Spanned;

/// A drive as the author spells it, read once so that it can be compared by meaning.
#[derive(Clone, Debug)]
pub struct DriveText {
    read: Option<Drive>,
    folded: String,
}

impl DriveText {
    /// Reads a drive; one that is not known is compared by its letters, whatever the case and the spacing.
    pub fn new(text: &str) -> Self {
        let folded = text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect();
        DriveText { read: Drive::read(text).ok(), folded }
    }

    /// Whether both mean the same drive.
    pub fn is(&self, other: &DriveText) -> bool {
        self.folded == other.folded || (self.read.is_some() && self.read == other.read)
    }
}

/// A tool.
#[derive(Clone, Debug)]
pub struct Tool {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// The drives it covers.
    pub sizes: Vec<Text>,
    /// The same as read.
    pub drives: Vec<DriveText>,
    /// For a torque wrench, from and to.
    pub range: Option<Spanned<Stated>>,
    /// For a torque wrench, from grip to drive.
    pub lever: Option<Spanned<Stated>>,
    /// For an adapter, from drive to fastener.
    pub offset: Option<Spanned<Stated>>,
    /// The square that drives it or that it drives.
    pub square: Option<Spanned<Stated>>,
    /// The shop's number for it.
    pub number: Option<Text>,
    /// The day its calibration ends.
    pub calibrated_until: Option<Spanned<Date>>,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Tool {
    /// Whether one of its sizes is this drive, however both are spelt.
    pub fn fits(&self, drive: &DriveText) -> bool {
        self.drives.iter().any(|own| own.is(drive))
    }

    /// The ends of a torque wrench's range in newton-metres; none for other tools.
    pub fn torque_range(&self) -> Option<(Exact, Exact)> {
        let (from, to) = self.range.as_ref()?.value.quantity.as_ref()?.base_bounds();
        Some((from?, to?))
    }

    /// Whether a torque wrench's range holds the whole of a torque.
    pub fn holds(&self, torque: &Quantity) -> bool {
        let (low, high) = torque.base_bounds();
        self.torque_range().is_some_and(|(from, to)| [low, high].into_iter().flatten().all(|end| from <= end && end <= to))
    }
}
