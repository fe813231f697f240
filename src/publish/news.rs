//! What is new: every issued revision of every guide, newest first. Days come from the guides, never from a clock.

use crate::document::Document;
use crate::document::phrase::date as date_words;
use crate::guide::model::Date;
use crate::publish::Summary;
use crate::publish::page_data::{News, NewsDay, NewsRow};

/// The most revisions on the page.
const MOST: usize = 200;

/// An issued revision of a guide, as its summary keeps it.
#[derive(Clone, Debug)]
pub struct Issue {
    /// The revision; a guide may be issued without one.
    pub revision: Option<String>,
    /// Its day.
    pub issued: Date,
    /// What it changed.
    pub what: Vec<String>,
    /// Whether a later revision took its place.
    pub superseded: bool,
}

/// The issued revisions of a guide: the one it is at, and those that its list of changes gives a day for.
pub fn issues(document: &Document) -> Vec<Issue> {
    let mut issues: Vec<Issue> = Vec::new();
    let now = document.head.revision.as_deref();
    if let Some(issued) = document.head.issued {
        issues.push(Issue { revision: now.map(str::to_owned), issued, what: Vec::new(), superseded: false });
    }
    for change in &document.changes {
        let known = issues.iter_mut().find(|issue| issue.revision.as_deref() == Some(change.revision.as_str()));
        match (known, change.issued) {
            (Some(issue), _) => issue.what.push(change.what.clone()),
            (None, Some(issued)) => issues.push(Issue {
                revision: Some(change.revision.clone()),
                issued,
                what: vec![change.what.clone()],
                superseded: now != Some(change.revision.as_str()),
            }),
            (None, None) => {}
        }
    }
    issues
}

/// Every issued revision, newest first. A held guide is not issued, whatever it says.
pub fn sorted(summaries: &[Summary]) -> Vec<(&Summary, &Issue)> {
    let released = summaries.iter().filter(|summary| !summary.line.draft);
    let mut all: Vec<(&Summary, &Issue)> = released.flat_map(|summary| summary.issues.iter().map(move |issue| (summary, issue))).collect();
    all.sort_by(|(a, new), (b, old)| {
        let names = (&a.line.title, &a.line.slug).cmp(&(&b.line.title, &b.line.slug));
        old.issued.cmp(&new.issued).then(new.superseded.cmp(&old.superseded)).then(names)
    });
    all
}

/// A revision as a line of a list.
pub fn row<'s>((summary, issue): (&'s Summary, &'s Issue)) -> NewsRow<'s> {
    NewsRow {
        line: &summary.line,
        revision: issue.revision.as_deref(),
        issued: date_words(issue.issued),
        issued_iso: issue.issued.to_string(),
        what: issue.what.iter().map(String::as_str).collect(),
        superseded: issue.superseded,
    }
}

/// The data of the page.
pub fn page(summaries: &[Summary]) -> News<'_> {
    let all = sorted(summaries);
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
