//! The making of one guide's pages from its review, for whoever writes or serves them.

use std::collections::BTreeSet;

use crate::cli::failure::Failure;
use crate::cli::history::{self, History};
use crate::cli::sheets;
use crate::cli::workplace::{Work, Workplace};
use crate::compare;
use crate::disk::{self, GuidePath};
use crate::document::build::{self, Input};
use crate::document::facts::{self, Hashes};
use crate::document::{Document, Video, phrase};
use crate::finding::RuleName;
use crate::guide::picture::{PictureFact, PictureFault, Pictures};
use crate::pictures::PictureError;
use crate::review::{self, Outcome};
use crate::site::{File, Kept, Publisher, Put};
use crate::theme::data::{Gone, OlderIssue, Standing};

/// Which guides get pages.
#[derive(Clone, Copy)]
pub(super) struct Wanted {
    /// Held ones too, as drafts.
    pub(super) draft: bool,
    /// Whether the shop file is held, which holds every guide.
    pub(super) shop_held: bool,
    /// Whether their checklists are made as PDF too.
    pub(super) sheets: bool,
}

/// A larger video belongs where videos are kept; a guide then gives its address.
const LARGEST_VIDEO: u64 = 256 << 20;

/// Makes the published files of a picture: the guide's slug, the address in its text, what is known of it, its bytes.
pub(super) type MakePicture<'m> = &'m dyn Fn(&str, &str, PictureFact, &[u8]) -> Result<Vec<File>, PictureError>;

/// What a guide's pages are made with.
pub(super) struct Making<'m> {
    /// Renders pages.
    pub(super) publisher: &'m Publisher<'m>,
    /// The folder that the guide is in.
    pub(super) workplace: &'m Workplace,
    /// Which guides get pages.
    pub(super) wanted: Wanted,
    /// Makes published pictures.
    pub(super) picture: MakePicture<'m>,
}

/// Makes the pages of a guide, each handed to `put`; none if it may not go out. What cannot be published of its pictures is a finding;
/// why a sheet is not there goes to `problems`.
pub(super) fn guide(
    work: &Work<'_, '_>,
    outcome: &mut Outcome,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<Option<Kept>, Failure> {
    let &Making { publisher: _, workplace, wanted, picture } = making;
    let mut pictures = work.pictures.clone();
    let mut photos: Vec<File> = Vec::new();
    if wanted.draft || !outcome.is_held() {
        for (address, fact) in &mut pictures {
            let (Ok(known), Some(bytes)) = (&fact, work.picture_bytes.get(address)) else { continue };
            match picture(&work.guide.slug, address, *known, bytes) {
                Ok(files) => photos.extend(files),
                Err(error) => {
                    let why = error.to_string();
                    outcome.findings.extend(review::broken_picture(work.guide, address, &why));
                    *fact = Err(PictureFault::Unreadable(why));
                }
            }
        }
    }
    let held = outcome.is_held();
    // Two guides of one address cannot both be published, not even as drafts.
    let twice = outcome.findings.iter().any(|finding| finding.rule == RuleName::SlugTwice);
    if twice || (held && !wanted.draft) {
        return Ok(None);
    }
    let input = Input { pictures: &pictures, hashes: work.hashes, fingerprint: None, draft: held || wanted.shop_held };
    let mut document = build::document(work.guide, &workplace.shop, &input);
    document.since = work.history.since(&document, work.hashes);
    let path = workplace.path_of(work);
    if let Some(Video::File(name)) = &document.video {
        let beside = path.file.with_file_name(name);
        match disk::given(&beside, LARGEST_VIDEO) {
            Ok(bytes) => put(&format!("guides/{}/{name}", document.head.slug), &bytes)?,
            Err(error) => {
                problems.push(format!("{}: the video cannot be shown: {error}", document.head.slug));
                document.video = None;
            }
        }
    }
    let older = older(path, work.history, &document, work.hashes, making, problems, put)?;
    all(&document, &pictures, &photos, Standing { older, ..Standing::default() }, making, problems, put).map(Some)
}

/// The pages of a guide, its pictures and its sheets.
fn all(
    document: &Document,
    pictures: &Pictures,
    photos: &[File],
    standing: Standing,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<Kept, Failure> {
    let mut links = Vec::new();
    if making.wanted.sheets {
        let made = sheets::make(making.workplace, pictures, photos, document);
        links = made.links;
        problems.extend(made.problems);
        for (path, content) in &made.files {
            put(path, content)?;
        }
    }
    for (path, content) in photos {
        put(path, content)?;
    }
    making.publisher.guide(document, Standing { sheets: links, ..standing }, put)
}

/// The pages of the last issued revision of a guide that is held, cannot be read, or is gone; none where nothing was issued.
pub(super) fn last_issued(
    path: &GuidePath,
    history: &History,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<Option<(Kept, String)>, Failure> {
    let Some(kept) = history.issues.last() else { return Ok(None) };
    let (pictures, photos, mut document) = issued(path, kept, None, making, problems)?;
    document.since = history.since(&document, &kept.issued.pictures);
    let older = older(path, history, &document, &kept.issued.pictures, making, problems, put)?;
    let standing = Standing { older, kept: true, ..Standing::default() };
    let made = all(&document, &pictures, &photos, standing, making, problems, put)?;
    Ok(Some((made, kept.issued.revision.clone())))
}

/// An issued revision with its pictures as published. Beside another text, whose pictures are `now`, a picture that is not among them gets
/// a name of its own, since both stand in one folder.
fn issued(
    path: &GuidePath,
    kept: &history::Kept,
    now: Option<&Hashes>,
    making: &Making<'_>,
    problems: &mut Vec<String>,
) -> Result<(Pictures, Vec<File>, Document), Failure> {
    let (mut facts, contents, lost) = history::pictures_of(path, &kept.issued);
    problems.extend(lost.into_iter().map(|lost| format!("{}: {lost}", path.slug)));
    let mut issued = kept.issued.clone();
    let mut photos = Vec::new();
    for (address, bytes) in contents {
        let hash = kept.issued.pictures[&address].clone();
        let is_now = now.is_some_and(|now| now.get(&address) == Some(&hash));
        let named = if is_now || now.is_none() {
            address.clone()
        } else {
            let (folder, name) = address.rsplit_once('/').map_or(("", address.as_str()), |(folder, name)| (folder, name));
            format!("{folder}{}{}-{name}", if folder.is_empty() { "" } else { "/" }, &hash[..8.min(hash.len())])
        };
        let Some(fact) = facts.remove(&address) else { continue };
        if named != address {
            issued.guide = issued.guide.replace(&address, &named);
            issued.pictures.remove(&address);
            issued.pictures.insert(named.clone(), hash);
        }
        // What stands there already is not made once more.
        if let Ok(known) = &fact
            && !is_now
        {
            match (making.picture)(&path.slug, &named, *known, &bytes) {
                Ok(files) => photos.extend(files),
                Err(error) => {
                    problems.push(format!("{}: the picture {address} of revision {} cannot be shown: {error}", path.slug, issued.revision))
                }
            }
        }
        facts.insert(named, fact);
    }
    let document = issued.document(&path.slug, &facts);
    Ok((facts, photos, document))
}

/// The pages of all issued revisions but the one that is shown.
fn older(
    path: &GuidePath,
    history: &History,
    shown: &Document,
    now: &Hashes,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<Vec<OlderIssue>, Failure> {
    let mut older = Vec::new();
    let (mut names, mut shared) = (BTreeSet::new(), BTreeSet::new());
    for kept in history.issues.iter().rev().filter(|kept| shown.head.revision.as_ref() != Some(&kept.issued.revision)) {
        let file = page_of(&kept.issued.revision);
        if !names.insert(file.clone()) {
            problems.push(format!(
                "{}: revision {} has no page of its own, since another one has the name {file}",
                path.slug, kept.issued.revision
            ));
            continue;
        }
        let (_, photos, mut document) = issued(path, kept, Some(now), making, problems)?;
        let differences = compare::compare(&history::facts_of(&kept.issued), &facts::of(shown, now));
        document.since = Some(compare::since(&kept.issued.revision, kept.issued.issued, &differences));
        // Two revisions may show the same picture.
        for (path, content) in photos.iter().filter(|(path, _)| shared.insert(path.clone())) {
            put(path, content)?;
        }
        making.publisher.superseded(&document, &shown.head, &file, put)?;
        older.push(OlderIssue { revision: kept.issued.revision.clone(), issued: phrase::date(kept.issued.issued), file });
    }
    Ok(older)
}

/// The page of an older revision, beside that of the guide.
fn page_of(revision: &str) -> String {
    let plain: String = revision.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    format!("rev-{plain}.html")
}

/// The page of a guide that was withdrawn, and its issued revisions.
pub(super) fn withdrawn(
    work: &Work<'_, '_>,
    reason: &str,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<(), Failure> {
    let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint: None, draft: false };
    let mut document = build::document(work.guide, &making.workplace.shop, &input);
    let (title, number) = (document.head.title.clone(), document.head.document.clone());
    // No revision takes the place of the issued ones.
    (document.head.revision, document.head.issued) = (None, None);
    let path = making.workplace.path_of(work);
    let none = Hashes::new();
    let last = work.history.issues.last();
    if let Some(last) = last {
        for (path, content) in issued(path, last, None, making, problems)?.1 {
            put(&path, &content)?;
        }
    }
    let now = last.map_or(&none, |last| &last.issued.pictures);
    let older = older(path, work.history, &document, now, making, problems, put)?;
    let gone = || Gone { title: title.clone(), document: number.clone(), to: None, reason: Some(reason.to_owned()), older: older.clone() };
    making.publisher.gone(&work.guide.slug, &PAGES.map(|file| (file, gone())), put)
}

/// The pages of a guide to which paper leads.
const PAGES: [&str; 4] = ["index.html", "torque.html", "checklist-a4.html", "checklist-letter.html"];

/// Pages at the addresses that a guide had before.
pub(super) fn moved(
    slug: &str,
    was: &[&str],
    title: &str,
    number: Option<&str>,
    publisher: &Publisher<'_>,
    put: Put<'_, Failure>,
) -> Result<(), Failure> {
    for old in was {
        let gone = |file: &str| Gone {
            title: title.to_owned(),
            document: number.map(str::to_owned),
            to: Some(format!("../{slug}/{file}")),
            reason: None,
            older: Vec::new(),
        };
        publisher.gone(old, &PAGES.map(|file| (file, gone(file))), put)?;
    }
    Ok(())
}
