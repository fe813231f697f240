//! What templates get for pages over several guides: the front page, lists by vehicle and system, parts, and
//! what is new. Wherever such a page names a guide, it does so by its `GuideLine`.

use serde::{Deserialize, Serialize};

use super::{Counted, GuideLine, StepLink};

/// The front page, as `front`.
#[derive(Clone, Debug, Serialize)]
pub struct Front<'s> {
    /// Vehicles with at least one guide; those with most guides where there are too many for a screen.
    pub vehicles: Vec<GroupLine>,
    /// How many vehicles there are.
    pub all_vehicles: usize,
    /// Systems, chosen alike.
    pub systems: Vec<GroupLine>,
    /// How many systems there are.
    pub all_systems: usize,
    /// The newest revisions.
    pub newest: Vec<NewsRow<'s>>,
    /// Every guide by system; empty where that would be too long for one page.
    pub register: Vec<System<'s>>,
    /// How many guides.
    pub guides: usize,
    /// How many steps.
    pub steps: usize,
    /// The newest day of issue, in words.
    pub newest_issue: Option<String>,
    /// The same as ISO 8601.
    pub newest_issue_iso: Option<String>,
    /// The state of all guides together, as a fingerprint.
    pub state: String,
    /// Whether there is a feed.
    pub feed: bool,
    /// Whether a guide tightens a thread, so that there are pages by thread.
    pub threads: bool,
}

/// Guides of one system.
#[derive(Clone, Debug, Serialize)]
pub struct System<'s> {
    /// The system.
    pub name: String,
    /// The name of its page in `systems/`, without ending.
    pub file: String,
    /// Its guides.
    pub guides: Vec<&'s GuideLine>,
}

/// A list of pages that each hold some of the guides, as `groups`.
#[derive(Clone, Debug, Serialize)]
pub struct Groups<'g> {
    /// The folder of the pages: `vehicles` or `systems`.
    pub folder: &'static str,
    /// The pages in order.
    pub groups: Vec<&'g GroupLine>,
}

/// One line of such a list.
#[derive(Clone, Debug, Serialize)]
pub struct GroupLine {
    /// The name of its page in the folder, without ending.
    pub file: String,
    /// The vehicle or system.
    pub name: String,
    /// The vehicle's years.
    pub years: Option<String>,
    /// How many guides.
    pub guides: usize,
    /// The newest day of issue among them, in words.
    pub newest_issue: Option<String>,
}

/// The guides of one vehicle or of one system, as `group`.
#[derive(Clone, Debug, Serialize)]
pub struct Group<'s> {
    /// `vehicles` or `systems`.
    pub folder: &'static str,
    /// The line of the list that leads here.
    pub line: GroupLine,
    /// A few words on the vehicle.
    pub note: Option<String>,
    /// How many tightening values its page in `values/` holds; that page has the same name.
    pub values: usize,
    /// Its guides by system.
    pub systems: Vec<System<'s>>,
}

/// Parts and hardware of all kits, as `parts`.
#[derive(Clone, Debug, Serialize)]
pub struct Parts<'s> {
    /// On a page of its own, what it reaches from and to.
    pub range: Option<PartsRange>,
    /// Parts with a number, parts without, and hardware; those that there are.
    pub sections: Vec<PartsSection<'s>>,
}

/// Parts of one kind.
#[derive(Clone, Debug, Serialize)]
pub struct PartsSection<'s> {
    /// `numbered`, `unnumbered` or `hardware`.
    pub kind: &'static str,
    /// The parts, by number or name; none where they stand on pages of their own.
    pub rows: Vec<PartUse<'s>>,
    /// These pages.
    pub pages: Vec<PartsRange>,
}

/// A page of parts.
#[derive(Clone, Debug, Serialize)]
pub struct PartsRange {
    /// The name of the page in `parts/`, without ending.
    pub file: String,
    /// The number or name of its first part.
    pub first: String,
    /// The number or name of its last part.
    pub last: String,
    /// How many parts.
    pub rows: usize,
}

/// A part and where it is used.
#[derive(Clone, Debug, Serialize)]
pub struct PartUse<'s> {
    /// Its anchor, unique on the page.
    pub id: String,
    /// The number, in each way that guides write it.
    pub numbers: Vec<&'s str>,
    /// The number with nothing but its letters and digits, where no guide writes it so.
    pub bare: Option<String>,
    /// Its names: guides may call it differently.
    pub names: Vec<&'s str>,
    /// The guides that use it.
    pub uses: Vec<PartIn<'s>>,
}

/// A use of a part in a guide.
#[derive(Clone, Debug, Serialize)]
pub struct PartIn<'s> {
    /// The guide.
    pub line: &'s GuideLine,
    /// How many, how, and in which steps.
    pub row: &'s PartRow,
}

/// A part of one guide's kit with the steps that work on it.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct PartRow {
    /// The part.
    pub part: Counted,
    /// The steps.
    pub steps: Vec<StepLink>,
}

/// What is new, as `news`.
#[derive(Clone, Debug, Serialize)]
pub struct News<'s> {
    /// Issued revisions, newest first.
    pub days: Vec<NewsDay<'s>>,
    /// How many older ones are left out.
    pub older: usize,
    /// Whether there is a feed.
    pub feed: bool,
}

/// The revisions of one day.
#[derive(Clone, Debug, Serialize)]
pub struct NewsDay<'s> {
    /// The day in words.
    pub issued: String,
    /// The same as ISO 8601.
    pub issued_iso: String,
    /// The revisions.
    pub rows: Vec<NewsRow<'s>>,
}

/// An issued revision.
#[derive(Clone, Debug, Serialize)]
pub struct NewsRow<'s> {
    /// The guide as it is now.
    pub line: &'s GuideLine,
    /// The revision.
    pub revision: Option<&'s str>,
    /// Its day in words.
    pub issued: String,
    /// The same as ISO 8601.
    pub issued_iso: String,
    /// What it changed.
    pub what: Vec<&'s str>,
    /// The facts that differ from the revision before and call for a look.
    pub facts: Vec<&'s str>,
    /// Whether a later revision took its place.
    pub superseded: bool,
}
