//! What is new: every issued revision of every guide, newest first. Days come from the guides, never from a clock.

use crate::document::phrase::date as date_words;
use crate::document::summary::{self, Issue};
use crate::site::Listed;
use crate::theme::data::{News, NewsDay, NewsRow};

/// The most revisions on the page.
const MOST: usize = 200;

/// A revision as a line of a list.
pub fn row<'s>((summary, issue): (&'s Listed, &'s Issue)) -> NewsRow<'s> {
    NewsRow {
        line: &summary.line,
        revision: issue.revision.as_deref(),
        issued: date_words(issue.issued),
        issued_iso: issue.issued.to_string(),
        what: issue.what.iter().map(String::as_str).collect(),
        facts: issue.facts.iter().map(String::as_str).collect(),
        superseded: issue.superseded,
    }
}

/// The data of the page.
pub fn page(summaries: &[Listed]) -> News<'_> {
    let all = summary::sorted(summaries, |kept| &kept.told);
    let mut days: Vec<NewsDay<'_>> = Vec::new();
    for &(summary, issue) in all.iter().take(MOST) {
        let row = row((summary, issue));
        match days.last_mut() {
            Some(day) if day.issued_iso == row.issued_iso => day.rows.push(row),
            _ => days.push(NewsDay { issued: row.issued.clone(), issued_iso: row.issued_iso.clone(), rows: vec![row] }),
        }
    }
    News { days, older: all.len().saturating_sub(MOST), feed: !all.is_empty() }
}
