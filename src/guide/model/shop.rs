//! The shop in the model.

use super::{Definitions, SheetFor, Text, Weight, WireLimit};
use crate::guide::language::Language;
use crate::guide::untold::Untold;
use crate::quantity::Exact;
use crate::source::{FileId, Span};

/// The shop: its name, its ways and what its guides share.
#[derive(Clone, Debug)]
pub struct Shop {
    /// The shop file; none if there is no such file.
    pub file: Option<FileId>,
    /// The name on every page.
    pub name: String,
    /// A sentence for every page.
    pub notice: Option<String>,
    /// Groups of words that mean the same, `=` between them.
    pub also: Vec<Text>,
    /// `en` or `de`.
    pub language: Language,
    /// Where the shop file names it; none where it does not.
    pub language_at: Option<Span>,
    /// Whether imperial units stand first.
    pub imperial_first: bool,
    /// The sentence that puts the maker's instructions, local rules and licensed people first.
    pub deferral: String,
    /// Whether every guide has to say who approved it.
    pub approval: bool,
    /// Whether the handbook for authors is published with the site.
    pub handbook: bool,
    /// The published address, ending in `/`.
    pub address: Option<String>,
    /// How much of the voltage a circuit may lose, as a share: 0.03 for 3 %.
    pub drop: Option<Exact>,
    /// How far from a torque the one applied may be, as a share, where its spec does not say.
    pub tolerance: Option<Exact>,
    /// The largest current in each wire.
    pub wires: Vec<WireLimit>,
    /// Rules that the shop weighs in its own way.
    pub weights: Vec<Weight>,
    /// Combinations of options for which sheets are published.
    pub sheets: Vec<SheetFor>,
    /// What nobody knows yet of what the guides share.
    pub untold: Vec<Untold>,
    /// What the guides share.
    pub shared: Definitions,
}
