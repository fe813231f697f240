//! Differences as text for the terminal.

use std::fmt::Write as _;

use super::{Difference, Kind};
use crate::document::facts::Sort;

/// Two states of a guide with what differs.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The guide's name in addresses.
    pub slug: String,
    /// The guide's title.
    pub title: String,
    /// The old state in words: `revision B, 19 Jun 2026 (ab12 cd34)`.
    pub old: String,
    /// The new one.
    pub new: String,
    /// What differs.
    pub differences: Vec<Difference>,
    /// What the differences reach: pages, sheets, pictures, other guides, a sentence each.
    pub touched: Vec<String>,
}

impl Comparison {
    /// How many differences call for a look at work that was done to the old text.
    pub fn looks(&self) -> usize {
        self.differences.iter().filter(|difference| difference.calls_for_a_look()).count()
    }

    /// What follows for work that was done to the old text, in a sentence.
    pub fn verdict(&self) -> String {
        match (self.differences.len(), self.looks()) {
            (0, _) => "Nothing differs.".to_owned(),
            (_, 0) => "Work that was done to the old text need not be looked at again.".to_owned(),
            (_, 1) => "Work that was done to the old text should be looked at again: 1 difference calls for it.".to_owned(),
            (_, looks) => format!("Work that was done to the old text should be looked at again: {looks} differences call for it."),
        }
    }
}

/// A difference in one or two lines.
pub fn line(difference: &Difference) -> String {
    let Difference { kind, sort, step: _, what, old, new, by, ids: _ } = difference;
    let (old, new) = (old.as_deref().unwrap_or_default(), new.as_deref().unwrap_or_default());
    match kind {
        Kind::Changed if old.is_empty() && new.is_empty() => what.clone(),
        Kind::Changed if *sort == Sort::Words || old.len() + new.len() > 90 => format!("{what}:\n      was: {old}\n      now: {new}"),
        Kind::Changed => format!("{what}: {old} → {new}{}", by.as_ref().map(|by| format!(" ({by})")).unwrap_or_default()),
        Kind::Added => format!("new: {what}{}", told(what, new)),
        Kind::Removed => format!("gone: {what}{}", told(what, old)),
        Kind::Moved => format!("{what}: {old} → {new}"),
    }
}

fn told(what: &str, text: &str) -> String {
    if text.is_empty() || what.ends_with(text) { String::new() } else { format!(": {text}") }
}

/// All of it.
pub fn write(comparison: &Comparison) -> String {
    let Comparison { slug, title, old, new, differences, touched } = comparison;
    let mut out = format!("{slug}: {title}\n  from {old}\n  to   {new}\n");
    let mut place: Option<Option<&str>> = None;
    for difference in differences {
        let here = difference.step.as_ref().map(|step| step.name.as_str());
        if place != Some(here) {
            let _ = writeln!(out, "\n{}", here.map_or("The guide".to_owned(), upper_first));
            place = Some(here);
        }
        let sign = if difference.calls_for_a_look() { '!' } else { ' ' };
        let _ = writeln!(out, "  {sign} {}", line(difference));
    }
    if !touched.is_empty() {
        let _ = writeln!(out, "\nTouched");
        for touched in touched {
            let _ = writeln!(out, "    {touched}");
        }
    }
    let _ = writeln!(out, "\n{}", comparison.verdict());
    out
}

fn upper_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
