//! The text that a record names: the guide as it stands, or a revision of it that was issued. Found once for each text, since many records
//! name the same.

use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use crate::cli::history::{self, History};
use crate::cli::workplace::{Keep, Workplace};
use crate::disk::GuidePath;
use crate::document::Document;
use crate::document::build::{self, Input};
use crate::document::facts::Hashes;
use crate::document::phrase::date;
use crate::issued::Issued;
use crate::near::{did_you_mean, nearest};
use crate::record::Record;

/// A guide with all its texts.
pub(super) struct Texts {
    /// The guide as it stands, with its pictures' hashes.
    pub(super) present: Document,
    /// The same.
    pub(super) hashes: Hashes,
    /// What was issued of it.
    pub(super) history: History,
}

/// The texts of all guides that records name.
pub(super) struct Library<'w> {
    workplace: &'w Workplace,
    known: Mutex<HashMap<usize, Arc<Texts>>>,
}

/// The text of a record.
pub(super) enum Text {
    /// The guide as it stands.
    Present,
    /// A revision that was issued: its place in the history.
    Issued(usize),
}

impl<'w> Library<'w> {
    /// A library of the guides of a workplace.
    pub(super) fn new(workplace: &'w Workplace) -> Self {
        Library { workplace, known: Mutex::default() }
    }

    /// The guide that a record is of, under the name that it had or has; the error says why there is none.
    pub(super) fn guide(&self, slug: &str) -> Result<usize, String> {
        let guides = &self.workplace.guides;
        let by_name = guides.iter().position(|guide| guide.slug == slug);
        by_name.or_else(|| (0..guides.len()).find(|at| self.workplace.was(*at).any(|was| was == slug))).ok_or_else(|| {
            let near = nearest(slug, guides.iter().map(|guide| guide.slug.as_str()));
            format!("it is of the guide `{slug}`, which is not here{}", did_you_mean(near))
        })
    }

    /// The texts of a guide.
    pub(super) fn texts(&self, at: usize) -> Result<Arc<Texts>, String> {
        if let Some(texts) = self.known.lock().unwrap_or_else(std::sync::PoisonError::into_inner).get(&at) {
            return Ok(Arc::clone(texts));
        }
        let read = self.workplace.each(&[at], Keep::Bytes, |work, _| {
            let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint: None, draft: false };
            (build::document(work.guide, &self.workplace.shop, &input), work.hashes.clone())
        });
        let (present, hashes) = read.into_iter().next().ok_or("its guide cannot be read")?.map_err(|error| error.to_string())?;
        let texts = Arc::new(Texts { present, hashes, history: History::of(self.path(at)) });
        self.known.lock().unwrap_or_else(std::sync::PoisonError::into_inner).insert(at, Arc::clone(&texts));
        Ok(texts)
    }

    /// How many guides there are.
    pub(super) fn count(&self) -> usize {
        self.workplace.guides.len()
    }

    /// Where a guide stands.
    pub(super) fn path(&self, at: usize) -> &'w GuidePath {
        &self.workplace.guides[at]
    }
}

impl Texts {
    /// The text that a record names by its fingerprint; the error says what there is instead.
    pub(super) fn of(&self, record: &Record) -> Result<Text, String> {
        let issues = &self.history.issues;
        let is =
            |issued: &Issued| issued.fingerprint == record.guide.fingerprint && record.guide.revision.as_ref() == Some(&issued.revision);
        if let Some(at) = issues.iter().position(|kept| is(&kept.issued)) {
            return Ok(Text::Issued(at));
        }
        if self.present.fingerprint == record.guide.fingerprint && self.present.head.revision == record.guide.revision {
            return Ok(Text::Present);
        }
        let name = |revision: Option<&str>, fingerprint: &str| match revision {
            Some(revision) => format!("revision {revision} ({fingerprint})"),
            None => format!("fingerprint {fingerprint}"),
        };
        let then = name(record.guide.revision.as_deref(), &record.guide.fingerprint);
        let now = name(self.present.head.revision.as_deref(), &self.present.fingerprint);
        let of_revision = record.guide.revision.as_deref().and_then(|revision| self.history.issue(revision));
        Err(match of_revision {
            Some(kept) => format!(
                "the work was done to {then}, and what was issued as revision {} on {} is {}; print it from the guides as they were then",
                kept.issued.revision,
                date(kept.issued.issued),
                kept.issued.fingerprint
            ),
            None => {
                let issued: Vec<&str> = issues.iter().map(|kept| kept.issued.revision.as_str()).collect();
                let issued = if issued.is_empty() {
                    "nothing else was issued of it".to_owned()
                } else {
                    format!("issued were {}", issued.join(", "))
                };
                format!("the work was done to {then}, and the guide is {now} now ({issued}); print it from the guides as they were then")
            }
        })
    }

    /// The document of a text, without its pictures' contents.
    pub(super) fn document(&self, text: &Text) -> Document {
        match text {
            Text::Present => self.present.clone(),
            Text::Issued(at) => {
                let issued = &self.history.issues[*at].issued;
                issued.document(&self.present.head.slug, &history::stand_ins(issued))
            }
        }
    }

    /// The hashes of a text's pictures.
    pub(super) fn hashes(&self, text: &Text) -> &Hashes {
        match text {
            Text::Present => &self.hashes,
            Text::Issued(at) => &self.history.issues[*at].issued.pictures,
        }
    }
}
