//! What templates get of values by vehicle and by thread, of tools over all guides, and of the handbook.

use serde::Serialize;

use super::{GuideLine, Tool, TorqueRow, Value};

/// The pages of tightening values by thread, as `threads`.
#[derive(Clone, Debug, Serialize)]
pub struct Threads {
    /// The threads by size.
    pub threads: Vec<ThreadLine>,
}

/// A thread in the list of the pages.
#[derive(Clone, Debug, Serialize)]
pub struct ThreadLine {
    /// The name of its page in `threads/`, without ending.
    pub file: String,
    /// Its designation.
    pub name: String,
    /// The hole that a bolt of it goes through, in words.
    pub clearance: Option<String>,
    /// The drill before the tap, in words.
    pub tap_drill: Option<String>,
    /// How many guides tighten it.
    pub guides: usize,
    /// How many values there are.
    pub rows: usize,
}

/// The values of one thread, as `thread`.
#[derive(Clone, Debug, Serialize)]
pub struct ThreadValues<'s> {
    /// The thread.
    pub line: ThreadLine,
    /// Where it is tightened.
    pub rows: Vec<ThreadRow<'s>>,
}

/// A tightening value of a thread. A thread may have thousands, so it holds what its line shows.
#[derive(Clone, Debug, Serialize)]
pub struct ThreadRow<'s> {
    /// The guide's slug.
    pub slug: &'s str,
    /// The guide's title.
    pub title: &'s str,
    /// Whether the guide is published although it is held.
    pub draft: bool,
    /// The step's anchor.
    pub step: &'s str,
    /// The step's number.
    pub number: usize,
    /// What is tightened: `4 × Flange bolt`.
    pub fastener: &'s str,
    /// What it holds, and where it is, as far as its name does not say it.
    pub place: Option<&'s str>,
    /// Thread and class.
    pub thread: &'s str,
    /// The value.
    pub value: &'s Value,
    /// What the thread is like, in words.
    pub condition: Option<&'s str>,
    /// Where the value comes from.
    pub source: Option<&'s str>,
    /// The options it needs, in words.
    pub when: Option<&'s str>,
}

/// The list of vehicles with tightening values, as `values`.
#[derive(Clone, Debug, Serialize)]
pub struct Values {
    /// In the shop's order.
    pub vehicles: Vec<VehicleLine>,
}

/// A vehicle in the list.
#[derive(Clone, Debug, Serialize)]
pub struct VehicleLine {
    /// The name of its page in `values/`, without ending.
    pub file: String,
    /// Its name.
    pub name: String,
    /// How many guides give values for it.
    pub guides: usize,
    /// How many values they give.
    pub rows: usize,
}

/// Tightening values of one vehicle over all guides, as `vehicle`.
#[derive(Clone, Debug, Serialize)]
pub struct VehicleValues<'s> {
    /// The name of its page in `values/`, without ending.
    pub file: String,
    /// Its name.
    pub name: String,
    /// Its guides with their rows.
    pub guides: Vec<GuideValues<'s>>,
}

/// Tightening values of one guide.
#[derive(Clone, Debug, Serialize)]
pub struct GuideValues<'s> {
    /// The guide.
    pub line: &'s GuideLine,
    /// Its rows.
    pub rows: &'s [TorqueRow],
}

/// Tools of all guides, as `tools`.
#[derive(Clone, Debug, Serialize)]
pub struct Tools<'s> {
    /// In the order of their names.
    pub tools: Vec<ToolUse<'s>>,
}

/// A tool and the guides that use it.
#[derive(Clone, Debug, Serialize)]
pub struct ToolUse<'s> {
    /// The anchor of its row.
    pub row: String,
    /// The tool.
    pub tool: Tool,
    /// Guides that list it.
    pub guides: Vec<&'s GuideLine>,
}

/// A chapter of the author's handbook, as `chapter`.
#[derive(Clone, Debug, Serialize)]
pub struct Chapter {
    /// The name of its file, without ending.
    pub file: String,
    /// Its heading.
    pub title: String,
    /// A sentence under the heading.
    pub lead: String,
    /// Its content.
    pub sections: Vec<ChapterSection>,
    /// Where it stands among the others, for the list of chapters.
    pub group: String,
}

/// A section of a chapter.
#[derive(Clone, Debug, Serialize)]
pub struct ChapterSection {
    /// Its heading.
    pub title: String,
    /// Paragraphs.
    pub paragraphs_html: Vec<String>,
    /// Rows of a table: key, what it takes, meaning, example.
    pub keys: Vec<KeyRow>,
    /// Rows of a table of what a report has.
    pub fields: Vec<FieldRow>,
    /// A highlighted example, if there is one.
    pub example_html: Option<String>,
}

/// A row of the table of keys.
#[derive(Clone, Debug, Serialize)]
pub struct KeyRow {
    /// The key.
    pub name: String,
    /// Whether it must be there.
    pub required: bool,
    /// What it takes.
    pub takes: String,
    /// What it means.
    pub meaning: String,
    /// An example.
    pub example: String,
}

/// A row of the table of what a report has.
#[derive(Clone, Debug, Serialize)]
pub struct FieldRow {
    /// The field.
    pub name: String,
    /// What stands in it.
    pub holds: String,
    /// What it means.
    pub meaning_html: String,
}
