//! The making of one guide's pages from its review, for whoever writes or serves them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, PoisonError};

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
use crate::shop::{self, Key, Out, Output, Part, Store};
use crate::site::{self, Kept, Publisher};
use crate::theme::data::{Gone, OlderIssue, SheetLinks, Standing};

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

/// A published file of a picture.
pub(super) struct Photo {
    /// Its path in the site.
    pub(super) path: String,
    /// Its content by hash.
    pub(super) key: Key,
    /// Its content; none where the last state of the site has it at this path.
    pub(super) content: Option<Vec<u8>>,
}

impl Photo {
    /// Its content, wherever it is, for sheets.
    #[cfg(feature = "sheets")]
    pub(super) fn bytes(&self, store: &dyn Store<Error = Failure>) -> Option<Vec<u8>> {
        self.content.clone().or_else(|| store.fetch(&self.key))
    }
}

/// What a guide's pages are made with.
pub(super) struct Making<'m> {
    /// Renders pages.
    pub(super) publisher: &'m Publisher<'m>,
    /// The folder that the guide is in.
    pub(super) workplace: &'m Workplace,
    /// Which guides get pages.
    pub(super) wanted: Wanted,
    /// What all pages have in common.
    pub(super) common: Key,
    /// What is remembered of the last making.
    pub(super) memo: &'m shop::Memo,
    /// What there is to remember of published pictures.
    pub(super) pictures: &'m Mutex<BTreeMap<Key, Vec<Output>>>,
}

/// What was made of a guide.
pub(super) struct Made {
    /// What stays of it for lists and the search; none where it was taken over.
    pub(super) kept: Option<Kept>,
    /// Its pages.
    pub(super) pages: Part,
    /// Its sheets.
    pub(super) sheets: Option<shop::Sheets>,
}

/// Files on their way out.
pub(super) type Way<'o> = Out<'o, Failure>;

/// The published files of a picture whose content has the hash `content`. What was made of it before is not made again.
fn picture(
    making: &Making<'_>,
    store: &dyn Store<Error = Failure>,
    (slug, address, content): (&str, &str, &str),
    fact: PictureFact,
    bytes: &[u8],
) -> Result<Vec<Photo>, PictureError> {
    let made_from = Key::of(&(address, fact, content));
    let path = |name: &str| format!("guides/{slug}/{name}");
    let remember = |files: Vec<Output>| {
        making.pictures.lock().unwrap_or_else(PoisonError::into_inner).insert(made_from, files);
    };
    if let Some(files) = making.memo.pictures.get(&made_from) {
        let there = files.iter().map(|(name, key)| {
            let path = path(name);
            if store.has(&path, key) {
                return Some(Photo { path, key: *key, content: None });
            }
            Some(Photo { content: Some(store.fetch(key)?), path, key: *key })
        });
        if let Some(photos) = there.collect() {
            remember(files.clone());
            return Ok(photos);
        }
    }
    let photo = |(path, content): site::File| Photo { path, key: Key::of_bytes(&content), content: Some(content) };
    let photos: Vec<Photo> = site::picture(slug, address, fact, bytes)?.into_iter().map(photo).collect();
    let start = path("").len();
    remember(photos.iter().map(|photo| (photo.path[start..].to_owned(), photo.key)).collect());
    Ok(photos)
}

fn put_photos(photos: &[Photo], out: &mut Way<'_>) -> Result<(), Failure> {
    for Photo { path, key, content } in photos {
        match content {
            Some(content) => out.put(path, content)?,
            None => drop(out.keep(&[(path.clone(), *key)])),
        }
    }
    Ok(())
}

/// Makes the pages of a guide; none if it may not go out. What cannot be published of its pictures is a finding; why a sheet is not there goes to
/// `problems`.
pub(super) fn guide(
    work: &Work<'_, '_>,
    outcome: &mut Outcome,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    out: &mut Way<'_>,
) -> Result<Option<Made>, Failure> {
    let &Making { workplace, wanted, .. } = making;
    let mut pictures = work.pictures.clone();
    let mut photos: Vec<Photo> = Vec::new();
    if wanted.draft || !outcome.is_held() {
        for (address, fact) in &mut pictures {
            let (Ok(known), Some(bytes), Some(content)) = (&fact, work.picture_bytes.get(address), work.hashes.get(address)) else {
                continue;
            };
            match picture(making, out.store(), (&work.guide.slug, address, content), *known, bytes) {
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
            Ok(bytes) => out.put(&format!("guides/{}/{name}", document.head.slug), &bytes)?,
            Err(error) => {
                problems.push(format!("{}: the video cannot be shown: {error}", document.head.slug));
                document.video = None;
            }
        }
    }
    let older = older(path, work.history, &document, work.hashes, making, problems, out)?;
    let known = making.memo.guides.get(&path.shown);
    all(&document, &pictures, &photos, Standing { older, ..Standing::default() }, known, making, problems, out).map(Some)
}

/// The pages of a guide, its pictures and its sheets; what is `known` of its last making is taken over where it follows from the same.
#[expect(clippy::too_many_arguments, reason = "all that a page shows comes together here")]
fn all(
    document: &Document,
    pictures: &Pictures,
    photos: &[Photo],
    standing: Standing,
    known: Option<&shop::Guide>,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    out: &mut Way<'_>,
) -> Result<Made, Failure> {
    let own = Key::of(document);
    let (mut links, mut sheets) = (Vec::new(), None);
    if making.wanted.sheets {
        let shown: Vec<(&str, Key)> = photos.iter().map(|photo| (photo.path.as_str(), photo.key)).collect();
        let made_from = Key::of(&(own, sheets::asked_of(making.workplace, &document.head.slug), shown));
        let same = known.and_then(|known| known.sheets.as_ref()).filter(|sheets| sheets.part.made_from == made_from);
        let taken = same.and_then(|same| Some((same, postcard::from_bytes::<Vec<SheetLinks>>(&same.links).ok()?)));
        if let Some((same, known)) = taken.filter(|(same, _)| out.keep(&same.part.files)) {
            links = known;
            sheets = Some(same.clone());
        } else {
            let made = sheets::make(making.workplace, pictures, photos, document, out.store());
            let from = out.files.len();
            for (path, content) in &made.files {
                out.put(path, content)?;
            }
            let part = Part { made_from, files: out.files[from..].to_vec() };
            let written = postcard::to_allocvec(&made.links)?;
            sheets = Some(shop::Sheets { part, links: written, problems: made.problems });
            links = made.links;
        }
        problems.extend(sheets.iter().flat_map(|sheets| sheets.problems.iter().cloned()));
    }
    put_photos(photos, out)?;
    let standing = Standing { sheets: links, ..standing };
    let made_from = Key::of(&(own, making.common, &standing));
    let same = known.and_then(|known| known.pages.as_ref()).filter(|pages| pages.made_from == made_from);
    if let Some(same) = same.filter(|same| out.keep(&same.files)) {
        return Ok(Made { kept: None, pages: same.clone(), sheets });
    }
    let from = out.files.len();
    let kept = making.publisher.guide(document, standing, &mut |path, bytes| out.put(path, bytes))?;
    let pages = Part { made_from, files: out.files[from..].to_vec() };
    Ok(Made { kept: Some(kept), pages, sheets })
}

/// The pages of the last issued revision of a guide that is held, cannot be read, or is gone; none where nothing was issued.
pub(super) fn last_issued(
    path: &GuidePath,
    history: &History,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    out: &mut Way<'_>,
) -> Result<Option<(Made, String)>, Failure> {
    let Some(kept) = history.issues.last() else { return Ok(None) };
    let (pictures, photos, mut document) = issued(path, kept, None, making, problems, out.store())?;
    document.since = history.since(&document, &kept.issued.pictures);
    let older = older(path, history, &document, &kept.issued.pictures, making, problems, out)?;
    let standing = Standing { older, kept: true, ..Standing::default() };
    let known = making.memo.guides.get(&path.shown);
    let made = all(&document, &pictures, &photos, standing, known, making, problems, out)?;
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
    store: &dyn Store<Error = Failure>,
) -> Result<(Pictures, Vec<Photo>, Document), Failure> {
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
            match picture(making, store, (&path.slug, &named, issued.pictures.get(&named).map_or("", String::as_str)), *known, &bytes) {
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
    out: &mut Way<'_>,
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
        let (_, photos, mut document) = issued(path, kept, Some(now), making, problems, out.store())?;
        let differences = compare::compare(&history::facts_of(&kept.issued), &facts::of(shown, now));
        document.since = Some(compare::since(&kept.issued.revision, kept.issued.issued, &differences));
        // Two revisions may show the same picture.
        let photos: Vec<Photo> = photos.into_iter().filter(|photo| shared.insert(photo.path.clone())).collect();
        put_photos(&photos, out)?;
        making.publisher.superseded(&document, &shown.head, &file, &mut |path, bytes| out.put(path, bytes))?;
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
    out: &mut Way<'_>,
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
        put_photos(&issued(path, last, None, making, problems, out.store())?.1, out)?;
    }
    let now = last.map_or(&none, |last| &last.issued.pictures);
    let older = older(path, work.history, &document, now, making, problems, out)?;
    let gone = || Gone { title: title.clone(), document: number.clone(), to: None, reason: Some(reason.to_owned()), older: older.clone() };
    making.publisher.gone(&work.guide.slug, &PAGES.map(|file| (file, gone())), &mut |path, bytes| out.put(path, bytes))
}

/// The pages of a guide to which paper leads.
const PAGES: [&str; 3] = ["index.html", "torque.html", "checklist.html"];

/// Pages at the addresses that a guide had before.
pub(super) fn moved(
    slug: &str,
    was: &[&str],
    title: &str,
    number: Option<&str>,
    publisher: &Publisher<'_>,
    out: &mut Way<'_>,
) -> Result<(), Failure> {
    for old in was {
        let gone = |file: &str| Gone {
            title: title.to_owned(),
            document: number.map(str::to_owned),
            to: Some(format!("../{slug}/{file}")),
            reason: None,
            older: Vec::new(),
        };
        publisher.gone(old, &PAGES.map(|file| (file, gone(file))), &mut |path, bytes| out.put(path, bytes))?;
    }
    Ok(())
}
