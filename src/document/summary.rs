//! What a guide tells of itself in lists, feeds and maps, when the document itself is gone: a shop of a thousand guides is never in memory
//! whole.

use serde::{Deserialize, Serialize};

use super::{Document, Head, Vehicle};
use crate::guide::model::Date;

/// What stays of a document.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Summary {
    /// What lists show of it.
    pub head: Listed,
    /// Its fingerprint.
    pub fingerprint: String,
    /// Its issued revisions.
    pub issues: Vec<Issue>,
}

impl Summary {
    /// The summary of a document.
    pub fn of(document: &Document) -> Self {
        Summary { head: Listed::of(&document.head), fingerprint: document.fingerprint.clone(), issues: issues(document) }
    }
}

/// What lists show of a guide.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Listed {
    /// Its folder under `guides/`.
    pub slug: String,
    /// What it does.
    pub title: String,
    /// Its number.
    pub document: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Its day of issue.
    pub issued: Option<Date>,
    /// What it works on.
    pub system: String,
    /// A sentence about it.
    pub summary: Option<String>,
    /// The vehicles it is for.
    pub fits: Vec<Vehicle>,
    /// How many steps it has.
    pub steps: usize,
    /// Whether it is held.
    pub draft: bool,
}

impl Listed {
    /// What lists show of a head.
    fn of(head: &Head) -> Self {
        let Head { slug, title, document, revision, issued, system, summary, fits, hours: _, least: _, untimed: _, steps, draft } = head;
        Listed {
            slug: slug.clone(),
            title: title.clone(),
            document: document.clone(),
            revision: revision.clone(),
            issued: *issued,
            system: system.clone(),
            summary: summary.clone(),
            fits: fits.clone(),
            steps: *steps,
            draft: *draft,
        }
    }
}

/// An issued revision of a guide, as its summary keeps it.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Issue {
    /// The revision; a guide may be issued without one.
    pub revision: Option<String>,
    /// Its day.
    pub issued: Date,
    /// What it changed.
    pub what: Vec<String>,
    /// The facts that differ from the revision before and call for a look, one line each.
    pub facts: Vec<String>,
    /// Whether a later revision took its place.
    pub superseded: bool,
}

/// The issued revisions of a guide: the one it is at, and those that its list of changes gives a day for.
fn issues(document: &Document) -> Vec<Issue> {
    let mut issues: Vec<Issue> = Vec::new();
    let now = document.head.revision.as_deref();
    if let Some(issued) = document.head.issued {
        issues.push(Issue { revision: now.map(str::to_owned), issued, what: Vec::new(), facts: facts(document), superseded: false });
    }
    for change in &document.changes {
        let known = issues.iter_mut().find(|issue| issue.revision.as_deref() == Some(change.revision.as_str()));
        match (known, change.issued) {
            (Some(issue), _) => issue.what.push(change.what.clone()),
            (None, Some(issued)) => issues.push(Issue {
                revision: Some(change.revision.clone()),
                issued,
                what: vec![change.what.clone()],
                facts: Vec::new(),
                superseded: now != Some(change.revision.as_str()),
            }),
            (None, None) => {}
        }
    }
    issues
}

/// The most facts that a list tells of one revision.
const MOST: usize = 8;

fn facts(document: &Document) -> Vec<String> {
    let Some(since) = &document.since else { return Vec::new() };
    let look: Vec<String> = since.differences.iter().filter(|differing| differing.look).map(super::Differing::line).collect();
    let more = look.len().saturating_sub(MOST);
    look.into_iter().take(MOST).chain((more > 0).then(|| format!("and {more} more, on the page of the procedure"))).collect()
}

/// Every issued revision, newest first. A held guide is not issued, whatever it says.
pub fn sorted<T>(guides: &[T], of: impl Fn(&T) -> &Summary) -> Vec<(&T, &Issue)> {
    let released = guides.iter().filter(|guide| !of(guide).head.draft);
    let mut all: Vec<(&T, &Issue)> = released.flat_map(|guide| of(guide).issues.iter().map(move |issue| (guide, issue))).collect();
    all.sort_by(|(a, new), (b, old)| {
        let (a, b) = (&of(a).head, &of(b).head);
        let names = (&a.title, &a.slug).cmp(&(&b.title, &b.slug));
        old.issued.cmp(&new.issued).then(new.superseded.cmp(&old.superseded)).then(names)
    });
    all
}
