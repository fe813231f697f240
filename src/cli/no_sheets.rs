//! Stands in for `sheets` where the program is built without the feature of this name: no sheets are made.

use crate::cli::failure::Failure;
use crate::cli::make::Photo;
use crate::cli::workplace::Workplace;
use crate::document::Document;
use crate::guide::picture::Pictures as Facts;
use crate::shop::Store;
use crate::site::File;
use crate::theme::data::SheetLinks;

/// Whether sheets can be made.
pub(super) const CAN_BE_MADE: bool = false;

/// What came of a guide's sheets: nothing.
#[derive(Default)]
pub(super) struct Sheets {
    /// The files with their paths in the site.
    pub(super) files: Vec<File>,
    /// The links to them.
    pub(super) links: Vec<SheetLinks>,
    /// Why a sheet is not there. That none is, is said once for all guides.
    pub(super) problems: Vec<String>,
}

/// What no sheets are made from.
pub(super) fn asked_of(_workplace: &Workplace, _slug: &str) {}

/// Makes no sheets.
pub(super) fn make(
    _workplace: &Workplace,
    _facts: &Facts,
    _photos: &[Photo],
    _document: &Document,
    _store: &dyn Store<Error = Failure>,
) -> Sheets {
    Sheets::default()
}
