//! The data of a comparison: as a page of its own, and as the panel on a guide's page that tells what changed.

use serde::Serialize;

use super::SheetLinks;

/// The page of a comparison, as `compared`. It is one file of its own and no part of the site.
#[derive(Clone, Debug, Serialize)]
pub struct Compared {
    /// The version of this data.
    pub version: u32,
    /// The language of the guides, such as `en`.
    pub language: String,
    /// The shop's name.
    pub shop: String,
    /// The guides that were compared.
    pub guides: Vec<ComparedGuide>,
    /// The sentence that puts the vehicle maker's instructions and local rules first.
    pub deferral: String,
    /// The content-security policy for the page's head.
    pub policy: String,
    /// The style, which stands in the page itself.
    pub style: String,
}

/// A guide in two states.
#[derive(Clone, Debug, Serialize)]
pub struct ComparedGuide {
    /// Its name in addresses.
    pub slug: String,
    /// Its title.
    pub title: String,
    /// The old state in words.
    pub old: String,
    /// The new state in words.
    pub new: String,
    /// What follows for work that was done to the old text, in a sentence.
    pub verdict: String,
    /// Whether such work should be looked at again.
    pub look: bool,
    /// What the differences reach, a sentence each.
    pub touched: Vec<String>,
    /// What differs, by place.
    pub places: Vec<ComparedPlace>,
}

/// What differs from a revision that was issued before, as the panel on a guide's page tells it.
#[derive(Clone, Debug, Serialize)]
pub struct SinceThen {
    /// That revision.
    pub revision: String,
    /// Its day in words.
    pub issued: String,
    /// Whether the guide was written anew since.
    pub anew: bool,
    /// How many differences there are.
    pub count: usize,
    /// How many of them call for a look at work that was done.
    pub look: usize,
    /// The first of those, in one line each.
    pub first: Vec<ShortDifference>,
    /// What differs, by place.
    pub places: Vec<ComparedPlace>,
}

/// A difference in one line.
#[derive(Clone, Debug, Serialize)]
pub struct ShortDifference {
    /// The step's anchor where it is on the page.
    pub id: Option<String>,
    /// The words.
    pub words: String,
}

/// An older revision that is kept readable.
#[derive(Clone, Debug, Hash, Serialize)]
pub struct OlderIssue {
    /// The revision.
    pub revision: String,
    /// Its day in words.
    pub issued: String,
    /// Its page, beside that of the guide.
    pub file: String,
}

/// A revision that took the place of an older one.
#[derive(Clone, Debug, Serialize)]
pub struct Superseded {
    /// The revision that is to be worked to; none where it has no letter.
    pub revision: Option<String>,
    /// Its day in words.
    pub issued: Option<String>,
}

/// How a guide's page stands: what lies beside it, and whether it is the newest text.
#[derive(Clone, Debug, Default, Hash)]
pub struct Standing {
    /// Checklists as PDF.
    pub sheets: Vec<SheetLinks>,
    /// Older revisions, the newest first.
    pub older: Vec<OlderIssue>,
    /// Whether it is the last issued revision of a guide that is held or gone.
    pub kept: bool,
}

/// A page in the place of a guide: it was moved, or withdrawn.
#[derive(Clone, Debug, Serialize)]
pub struct Gone {
    /// The guide's title.
    pub title: String,
    /// Its document number.
    pub document: Option<String>,
    /// Where it leads on, from this page; none where the guide was withdrawn.
    pub to: Option<String>,
    /// Why it was withdrawn.
    pub reason: Option<String>,
    /// Revisions that are kept readable.
    pub older: Vec<OlderIssue>,
}

/// A place of a guide in which something differs.
#[derive(Clone, Debug, Serialize)]
pub struct ComparedPlace {
    /// The step's anchor where it is on the page; none for what is the guide's own, or gone.
    pub id: Option<String>,
    /// Its name, such as `Step 5, Take the seat out`.
    pub name: String,
    /// What differs.
    pub rows: Vec<ComparedRow>,
}

/// A difference.
#[derive(Clone, Debug, Serialize)]
pub struct ComparedRow {
    /// `changed`, `added`, `removed` or `moved`.
    pub kind: &'static str,
    /// The sort of thing, such as `torque`.
    pub sort: &'static str,
    /// What differs.
    pub what: String,
    /// How it was told.
    pub old: Option<String>,
    /// How it is told now.
    pub new: Option<String>,
    /// How much a value differs by.
    pub by: Option<String>,
    /// Whether it calls for a look at work that was done.
    pub look: bool,
}
