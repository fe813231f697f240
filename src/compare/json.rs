//! Differences as JSON for other programs. The list of fields in the handbook is made from the types below.

use super::text::Comparison;
use crate::described::objects;

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-comparison";
/// The version; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// The comparison of one guide or of several.
    Report "The comparison" {
        /// Always `bayleaf-comparison`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The guides that were compared.
        guides: Vec<GuideRow>,
    }

    /// A guide in two states.
    GuideRow "Guide" {
        /// Its name in addresses of the site.
        slug: String,
        /// Its title.
        title: String,
        /// The old state in words.
        old: String,
        /// The new state in words.
        new: String,
        /// What differs, in the order of the guide.
        differences: Vec<DifferenceRow>,
        /// What the differences reach, a sentence each.
        touched: Vec<String>,
        /// Whether work that was done to the old text should be looked at again.
        look_again: bool,
    }

    /// A difference.
    DifferenceRow "Difference" {
        /// `changed`, `added`, `removed` or `moved`.
        kind: &'static str,
        /// The sort of thing: `torque`, `hardware`, `caution`, `order`, `operation`, `step`, `value`, `words` and so on.
        sort: &'static str,
        /// The step's anchor, the new one where it is there; null for what is the guide's own.
        step: Option<String>,
        /// The step's number and heading.
        step_name: Option<String>,
        /// What differs, in words.
        what: String,
        /// How it was told.
        old: Option<String>,
        /// How it is told now.
        new: Option<String>,
        /// How much a value differs by, in the unit of the new one.
        by: Option<String>,
        /// Whether it calls for a look at work that was done to the old text.
        look_again: bool,
    }
}

/// The report.
pub fn report(comparisons: &[Comparison]) -> Report {
    let guides = comparisons.iter().map(|comparison| GuideRow {
        slug: comparison.slug.clone(),
        title: comparison.title.clone(),
        old: comparison.old.clone(),
        new: comparison.new.clone(),
        differences: comparison
            .differences
            .iter()
            .map(|difference| DifferenceRow {
                kind: difference.kind.word(),
                sort: difference.sort.word(),
                step: difference.step.as_ref().map(|step| step.id.clone()),
                step_name: difference.step.as_ref().map(|step| step.name.clone()),
                what: difference.what.clone(),
                old: difference.old.clone(),
                new: difference.new.clone(),
                by: difference.by.clone(),
                look_again: difference.calls_for_a_look(),
            })
            .collect(),
        touched: comparison.touched.clone(),
        look_again: comparison.looks() > 0,
    });
    Report { format: FORMAT, version: VERSION, guides: guides.collect() }
}

/// The report as a file.
pub fn write(comparisons: &[Comparison]) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&report(comparisons)).map(|text| text + "\n")
}
