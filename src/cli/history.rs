//! The issued revisions that stand beside a guide, and how the guide's text stands to them: what the review tells of it, and what `issue`,
//! `compare`, `print` and `publish` ask for.

use crate::compare::{self, Difference, is_told, text};
use crate::disk::{self, GuidePath};
use crate::document::facts::{self, Hashes};
use crate::document::phrase::date;
use crate::document::{Document, Since};
use crate::finding::Finding;
use crate::guide::model::{Change, Guide};
use crate::guide::picture::{PictureFact, PictureKind, Pictures, examine};
use crate::issued::Issued;
use crate::review;

/// How many differences a finding names.
const NAMED: usize = 3;

/// The issued revisions of a guide.
#[derive(Debug, Default)]
pub(super) struct History {
    /// Those that can be read, the oldest first.
    pub(super) issues: Vec<Kept>,
    /// Those that cannot: the file, and why.
    pub(super) damaged: Vec<(String, String)>,
}

/// An issued revision and where it stands.
#[derive(Debug)]
pub(super) struct Kept {
    /// What was issued.
    pub(super) issued: Issued,
    /// Its file, as shown to people.
    pub(super) shown: String,
}

impl History {
    /// The issued revisions of a guide.
    pub(super) fn of(guide: &GuidePath) -> History {
        let mut history = History::default();
        for (shown, content) in disk::read_issued(guide) {
            match content.map_err(|error| error.cause.to_string()).and_then(|bytes| Issued::read(&bytes)) {
                Ok(issued) => {
                    let gone: Vec<&str> = issued
                        .pictures
                        .iter()
                        .filter(|(address, hash)| !disk::has_issued_picture(guide, &Issued::picture_name(address, hash)))
                        .map(|(address, _)| address.as_str())
                        .collect();
                    if !gone.is_empty() {
                        history.damaged.push((
                            shown.clone(),
                            format!("its pictures are not in issued/{}: {}", disk::ISSUED_PICTURES, gone.join(", ")),
                        ));
                    }
                    history.issues.push(Kept { issued, shown });
                }
                Err(why) => history.damaged.push((shown, why)),
            }
        }
        history.issues.sort_by(|a, b| (a.issued.issued, &a.issued.revision).cmp(&(b.issued.issued, &b.issued.revision)));
        history
    }

    /// Whether anything was ever issued.
    pub(super) fn is_kept(&self) -> bool {
        !self.issues.is_empty() || !self.damaged.is_empty()
    }

    /// The issue of a revision.
    pub(super) fn issue(&self, revision: &str) -> Option<&Kept> {
        self.issues.iter().find(|kept| kept.issued.revision == revision)
    }

    /// The newest issue of another revision than this one.
    pub(super) fn before(&self, revision: &str) -> Option<&Kept> {
        match self.issues.iter().position(|kept| kept.issued.revision == revision) {
            Some(at) => self.issues[..at].last(),
            None => self.issues.last(),
        }
    }

    /// What differs in a document from the issue before its revision; none where there is none.
    pub(super) fn since(&self, document: &Document, hashes: &Hashes) -> Option<Since> {
        let kept = self.before(document.head.revision.as_deref()?)?;
        let differences = compare::compare(&facts_of(&kept.issued), &facts::of(document, hashes));
        let now = document.head.revision.as_ref();
        let anew = document.changes.iter().any(|change| change.anew && Some(&change.revision) == now);
        Some(Since { anew, ..compare::since(&kept.issued.revision, kept.issued.issued, &differences) })
    }

    /// What the review tells of a guide's text against what was issued.
    pub(super) fn findings(&self, guide: &Guide<'_>, document: &Document, hashes: &Hashes) -> Vec<Finding> {
        let mut findings: Vec<Finding> =
            self.damaged.iter().map(|(file, why)| review::issued_damaged(guide.place(guide.head), file, why)).collect();
        let Some(revision) = &guide.revision else { return findings };
        let now = facts::of(document, hashes);
        let since = |kept: &Kept| {
            let all = compare::compare(&facts_of(&kept.issued), &now);
            all.into_iter().filter(Difference::is_of_the_guide).collect::<Vec<_>>()
        };
        if let Some(kept) = self.issue(&revision.value) {
            let differences = since(kept);
            if !differences.is_empty() {
                findings.push(review::revision_not_raised(guide.place(revision.span), &revision.value, &kept.shown, &named(&differences)));
            }
        } else if let Some(kept) = self.before(&revision.value) {
            let entries: Vec<&Change> = guide.changes.iter().filter(|change| change.revision.value == revision.value).collect();
            let untold: Vec<Difference> =
                since(kept).into_iter().filter(|difference| difference.calls_for_a_look() && !is_told(difference, &entries)).collect();
            if !untold.is_empty() {
                let span = entries.first().map_or(revision.span, |entry| entry.what.span);
                findings.push(review::change_untold(guide.place(span), &kept.issued.revision, &revision.value, &named(&untold)));
            }
        }
        findings
    }
}

/// The first of some differences, and how many more there are.
fn named(differences: &[Difference]) -> String {
    let one = |difference: &Difference| {
        let step =
            difference.step.as_ref().map(|step| format!("{}: ", step.name.split(',').next().unwrap_or_default())).unwrap_or_default();
        let line = text::line(difference).split_whitespace().collect::<Vec<_>>().join(" ");
        let line = match line.char_indices().nth(160) {
            Some((end, _)) => format!("{} …", line[..end].trim_end()),
            None => line,
        };
        format!("{step}{line}")
    };
    let mut told: Vec<String> = differences.iter().take(NAMED).map(one).collect();
    if differences.len() > NAMED {
        told.push(format!("and {} more", differences.len() - NAMED));
    }
    told.join("; ")
}

/// The facts of what was issued.
pub(super) fn facts_of(issued: &Issued) -> facts::Fact {
    facts::of(&issued.document(&issued.slug, &stand_ins(issued)), &issued.pictures)
}

/// Pictures of which only their being there is known.
pub(super) fn stand_ins(issued: &Issued) -> Pictures {
    let known = issued.pictures.keys().map(|address| {
        let kind = if address.ends_with(".svg") { PictureKind::Drawing } else { PictureKind::Raster };
        (address.clone(), Ok(PictureFact { kind, width: 1200, height: 900, cleaned: false }))
    });
    known.collect()
}

/// The pictures of what was issued, with what is known of them; one that is gone or is another one now is told.
pub(super) fn pictures_of(guide: &GuidePath, issued: &Issued) -> (Pictures, std::collections::BTreeMap<String, Vec<u8>>, Vec<String>) {
    let (mut facts, mut contents, mut lost) = (Pictures::new(), std::collections::BTreeMap::new(), Vec::new());
    for (address, hash) in &issued.pictures {
        match disk::read_issued_picture(guide, &Issued::picture_name(address, hash)) {
            Ok(bytes) if disk::hash(&bytes) == *hash => {
                facts.insert(address.clone(), examine(&bytes));
                contents.insert(address.clone(), bytes);
            }
            Ok(_) => lost.push(format!("the picture {address} of revision {} is not the one that was issued", issued.revision)),
            Err(error) => lost.push(format!("the picture {address} of revision {} is not there: {error}", issued.revision)),
        }
    }
    (facts, contents, lost)
}

/// An issue in words: `revision B, issued 19 Jun 2026 (ab12 cd34)`.
pub(super) fn words(issued: &Issued) -> String {
    format!("revision {}, issued {} ({})", issued.revision, date(issued.issued), issued.fingerprint)
}
