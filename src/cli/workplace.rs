//! The folder a command works in: its shop and its guides, each guide read, reviewed and handed on by
//! itself, so that all cores have work and memory stays small.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use rayon::prelude::*;

use crate::cli::history::History;
use crate::disk::{self, DiskError, GuidePath, NoPicture};
use crate::document::build::{self, Input};
use crate::document::facts::Hashes;
use crate::finding::{Finding, RuleName, Severity};
use crate::guide::claims::{self, Claims};
use crate::guide::model::{Guide, Shop};
use crate::guide::picture::{PictureFault, Pictures, examine};
use crate::guide::{self, shop};
use crate::near::{did_you_mean, nearest};
use crate::review::{self, OldName, Outcome};
use crate::shop::{Key, Memo};
use crate::source::{FileId, Place, SourceFile, Span};

/// The folder with guides in it, below the one a command runs in.
pub(super) const GUIDES: &str = "guides";

/// The shop and where its guides are.
pub(super) struct Workplace {
    /// The shop.
    pub(super) shop: Shop,
    /// Whether the shop's own way puts inch and pound units first, whatever is asked of a command.
    #[cfg(feature = "sheets")]
    pub(super) imperial_first: bool,
    /// What stands before `guides/` in every path that is shown.
    pub(super) folder: String,
    /// Where the shop file is, or would be.
    pub(super) shop_path: PathBuf,
    /// The text of the shop file, empty if there is none.
    pub(super) shop_source: SourceFile,
    /// What is wrong with the shop file.
    pub(super) shop_findings: Vec<Finding>,
    /// The guides in the order of their paths.
    pub(super) guides: Vec<GuidePath>,
    /// The guides of each slug: one, unless somebody named two alike.
    slugs: HashMap<String, Vec<usize>>,
    /// What each guide claims over all of them.
    pub(super) claims: Vec<Claims>,
    /// The hash of each guide's text; none where it cannot be read.
    pub(super) texts: Vec<Option<Key>>,
    /// Which guides claim a document number, and which a name that they had.
    numbers: HashMap<String, Vec<usize>>,
    former: HashMap<String, Vec<usize>>,
}

/// One guide as read and reviewed.
pub(super) struct Work<'w, 's> {
    /// The model.
    pub(super) guide: &'w Guide<'s>,
    /// The text.
    pub(super) source: &'w SourceFile,
    /// What is known of its pictures.
    pub(super) pictures: &'w Pictures,
    /// Its pictures' bytes.
    pub(super) picture_bytes: &'w BTreeMap<String, Vec<u8>>,
    /// Its pictures' hashes.
    pub(super) hashes: &'w Hashes,
    /// What was issued of it.
    pub(super) history: &'w History,
    /// Names of other guides that it asked for, and whether there is one.
    pub(super) asked: Vec<(String, bool)>,
}

/// What is wanted of pictures.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Keep {
    /// Facts only.
    Facts,
    /// The bytes too.
    Bytes,
}

/// Says what to do where there is no folder with guides.
pub(super) fn is_there(guides: &Path) -> Result<(), DiskError> {
    if guides.exists() {
        return Ok(());
    }
    let why = "there is no such folder; bayleaf start makes it with a small guide, -C FOLDER works in another place";
    Err(DiskError::refused(guides, "read the folder", why))
}

/// What is said where the folder is there and has no guides.
pub(super) const NONE_FOUND: &str =
    "no guides found: a guide is a file guides/<name>/guide.md or guides/<name>.md; bayleaf start guide NAME writes one to begin with";

impl Workplace {
    /// Opens the workplace in `folder`.
    pub(super) fn open(folder: &Path) -> Result<Self, DiskError> {
        Self::open_with(folder, &Memo::default())
    }

    /// Opens the workplace in `folder`; what a text claims that is remembered is not looked for again.
    pub(super) fn open_with(folder: &Path, memo: &Memo) -> Result<Self, DiskError> {
        let guides_folder = folder.join(GUIDES);
        let shown = if folder == Path::new(".") { GUIDES.to_owned() } else { guides_folder.to_string_lossy().replace('\\', "/") };
        is_there(&guides_folder)?;
        let guides = disk::find_guides(&guides_folder, &shown)?;
        let before = shown.strip_suffix(GUIDES).unwrap_or_default().to_owned();
        let shop_path: PathBuf = guides_folder.join(disk::SHOP_FILE);
        let shop_shown = format!("{shown}/{}", disk::SHOP_FILE);
        let (shop, shop_source, shop_findings) = if shop_path.exists() {
            let (source, broken) = SourceFile::from_bytes(shop_shown, disk::read(&shop_path)?);
            let (shop, mut findings) = guide::read_shop(&source, FileId(0));
            let known: Vec<&str> = guides.iter().map(|guide| guide.slug.as_str()).collect();
            findings.extend(shop::sheets_of_nothing(&shop, &known));
            findings.extend(broken.map(|span| not_text(Place { file: FileId(0), span })));
            let findings = review::review_shop(&shop, findings);
            (shop, source, findings)
        } else {
            crate::cli::terminal::note(&format!("there is no {shop_shown}: no vehicle, tool or shared item is known"));
            (shop::unnamed(), SourceFile::new(shop_shown, ""), Vec::new())
        };
        let mut slugs: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, guide) in guides.iter().enumerate() {
            slugs.entry(guide.slug.clone()).or_default().push(at);
        }
        // A file that cannot be read is told when the guide is.
        let read = guides.par_iter().enumerate().map(|(at, guide)| {
            let Ok(bytes) = disk::read(&guide.file) else { return (None, Claims::default()) };
            let text = Key::of_bytes(&bytes);
            let known = memo.guides.get(&guide.shown).filter(|known| known.text == text).map(|known| known.claims.clone());
            let claims = known.unwrap_or_else(|| claims::read(&SourceFile::from_bytes(String::new(), bytes).0.text, Self::file(at)));
            (Some(text), claims)
        });
        let (texts, claims): (Vec<Option<Key>>, Vec<Claims>) = read.unzip();
        let (mut numbers, mut former): (HashMap<String, Vec<usize>>, HashMap<String, Vec<usize>>) = Default::default();
        for (at, claims) in claims.iter().enumerate() {
            claims.document.iter().for_each(|number| numbers.entry(number.value.clone()).or_default().push(at));
            claims.was.iter().for_each(|was| former.entry(was.value.clone()).or_default().push(at));
        }
        Ok(Workplace {
            #[cfg(feature = "sheets")]
            imperial_first: shop.imperial_first,
            shop,
            folder: before,
            shop_path,
            shop_source,
            shop_findings,
            guides,
            slugs,
            claims,
            texts,
            numbers,
            former,
        })
    }

    /// The id of a guide's file.
    pub(super) fn file(at: usize) -> FileId {
        FileId(at as u32 + 1)
    }

    /// The guides that were asked for; none if a name is unknown, which is told.
    pub(super) fn wanted(&self, names: &[String]) -> Option<Vec<usize>> {
        if names.is_empty() {
            return Some((0..self.guides.len()).collect());
        }
        let mut wanted = Vec::new();
        for name in names {
            let name = name.trim_end_matches('/');
            let matching: Vec<usize> = self
                .guides
                .iter()
                .enumerate()
                .filter(|(_, guide)| guide.slug == name || guide.shown == name || guide.shown.strip_suffix("/guide.md") == Some(name))
                .map(|(at, _)| at)
                .collect();
            if matching.is_empty() {
                let slugs = || self.guides.iter().map(|guide| guide.slug.as_str());
                // A part of a long name is how people call a guide.
                let near = nearest(name, slugs()).or_else(|| slugs().find(|slug| slug.contains(name)));
                let all = slugs().take(12).collect::<Vec<_>>().join(", ");
                let known = if near.is_some() || all.is_empty() {
                    String::new()
                } else {
                    format!("; there are {all}{}", if self.guides.len() > 12 { " and more" } else { "" })
                };
                crate::cli::terminal::note(&format!("bayleaf: there is no guide `{name}`{}{known}", did_you_mean(near)));
                return None;
            }
            wanted.extend(matching);
        }
        wanted.sort_unstable();
        wanted.dedup();
        Some(wanted)
    }

    /// Reads and reviews every guide that `wanted` names, on all cores, and hands each to `with`. The results
    /// come in the order of the guides.
    pub(super) fn each<R: Send>(
        &self,
        wanted: &[usize],
        keep: Keep,
        with: impl Fn(Work<'_, '_>, Outcome) -> R + Sync,
    ) -> Vec<Result<R, DiskError>> {
        wanted.par_iter().map(|&at| self.one(at, keep, &with)).collect()
    }

    /// Where a guide stands that was read.
    pub(super) fn path_of(&self, work: &Work<'_, '_>) -> &GuidePath {
        &self.guides[work.guide.file.0 as usize - 1]
    }

    /// The names that a guide had before and that lead to it: those that no other guide has or had.
    pub(super) fn leads_here(&self, at: usize) -> Vec<&str> {
        let free = |name: &&str| {
            let claimed = self.former.get(*name).is_some_and(|guides| guides.iter().any(|other| *other != at));
            !claimed && !self.slugs.contains_key(*name) && *name == crate::guide::facts::slug_of(name)
        };
        self.was(at).filter(free).collect()
    }

    /// The shop with the units first that its file puts first, whatever sheets were asked for.
    pub(super) fn own_shop(&self) -> Cow<'_, Shop> {
        #[cfg(feature = "sheets")]
        if self.shop.imperial_first != self.imperial_first {
            return Cow::Owned(Shop { imperial_first: self.imperial_first, ..self.shop.clone() });
        }
        Cow::Borrowed(&self.shop)
    }

    /// Guides of which only their issued revisions are left; one that goes on under another name is none of them.
    pub(super) fn left(&self) -> Result<Vec<GuidePath>, DiskError> {
        let folder = self.shop_path.parent().unwrap_or(Path::new("."));
        let left = disk::find_left_issued(folder, &format!("{}{GUIDES}", self.folder), &self.guides)?;
        let goes_on = |path: &GuidePath| {
            self.slugs.contains_key(&path.slug) || (0..self.guides.len()).any(|at| self.was(at).any(|was| was == path.slug))
        };
        Ok(left.into_iter().filter(|path| !goes_on(path)).collect())
    }

    /// The words of a guide's text that can be ids; none where it cannot be read.
    pub(super) fn ids_in(&self, at: usize) -> BTreeSet<String> {
        let bytes = disk::read(&self.guides[at].file).unwrap_or_default();
        crate::issued::ids(&String::from_utf8_lossy(&bytes)).map(str::to_owned).collect()
    }

    /// The names that a guide had before.
    pub(super) fn was(&self, at: usize) -> impl Iterator<Item = &str> {
        self.claims[at].was.iter().map(|was| was.value.as_str())
    }

    /// The revision that a guide says it is.
    pub(super) fn revision(&self, at: usize) -> Option<String> {
        self.claims[at].revision.as_ref().map(|revision| revision.value.clone())
    }

    /// What a guide claims that another guide has.
    fn contested(&self, at: usize, findings: &mut Vec<Finding>) {
        let own = &self.claims[at];
        let place = |at: usize, span: Span| Place { file: Self::file(at), span };
        let first_other = |guides: Option<&Vec<usize>>| guides.and_then(|guides| guides.iter().copied().find(|other| *other != at));
        if let Some(number) = &own.document
            && let Some(other) = first_other(self.numbers.get(&number.value))
            && let Some(span) = self.claims[other].document.as_ref().map(|known| known.span)
        {
            findings.push(review::same_document(&number.value, place(at, number.span), place(other, span)));
        }
        for name in &own.was {
            let present = self.slugs.get(&name.value).and_then(|guides| guides.first());
            let claimed = || {
                let other = first_other(self.former.get(&name.value))?;
                Some((other, self.claims[other].was.iter().find(|was| was.value == name.value)?.span))
            };
            let other = match present {
                Some(&other) if other == at => OldName::Own,
                Some(&other) => OldName::Present(place(other, Span::at(0))),
                None => match claimed() {
                    Some((other, span)) => OldName::Claimed(place(other, span)),
                    None => continue,
                },
            };
            findings.push(review::old_name(&name.value, place(at, name.span), other));
        }
    }

    /// What of a guide's findings hangs on the other guides.
    pub(super) fn of_others(&self, at: usize) -> Vec<Finding> {
        let slug = &self.guides[at].slug;
        let mut findings = Vec::new();
        // Neither of two guides of one name may go out: which of them is meant is not for the program to say.
        if let Some(&other) = self.slugs.get(slug).and_then(|alike| alike.iter().find(|&&other| other != at)) {
            let start = |at: usize| Place { file: Self::file(at), span: Span::at(0) };
            findings.push(review::same_slug(slug, start(at), start(other)));
        }
        self.contested(at, &mut findings);
        findings
    }

    /// Whether there is a guide of this name.
    pub(super) fn has(&self, slug: &str) -> bool {
        self.slugs.contains_key(slug)
    }

    fn one<R>(&self, at: usize, keep: Keep, with: &(impl Fn(Work<'_, '_>, Outcome) -> R + Sync)) -> Result<R, DiskError> {
        let bytes = disk::read(&self.guides[at].file)?;
        Ok(self.read(at, bytes, keep, with))
    }

    /// Reads and reviews the guide as if its file held these bytes.
    pub(super) fn read<R>(&self, at: usize, bytes: Vec<u8>, keep: Keep, with: impl Fn(Work<'_, '_>, Outcome) -> R) -> R {
        let path = &self.guides[at];
        let file = Self::file(at);
        let (source, broken) = SourceFile::from_bytes(path.shown.clone(), bytes);
        let (guide, mut findings) = guide::read(&source, file, &path.slug, &self.shop);
        findings.extend(broken.map(|span| not_text(Place { file, span })));
        findings.extend(self.of_others(at));
        let history = History::of(path);
        let mut pictures = Pictures::new();
        let mut picture_bytes = BTreeMap::new();
        let mut hashes = Hashes::new();
        for picture in guide.words().flat_map(|prose| &prose.pictures) {
            let address = &picture.source.value;
            if pictures.contains_key(address) {
                continue;
            }
            let fact = match disk::read_picture(&path.file, address) {
                Ok(bytes) => {
                    let fact = examine(&bytes);
                    if keep == Keep::Bytes || history.is_kept() {
                        hashes.insert(address.clone(), disk::hash(&bytes));
                    }
                    if keep == Keep::Bytes {
                        picture_bytes.insert(address.clone(), bytes);
                    }
                    fact
                }
                Err(NoPicture::Missing) => Err(PictureFault::Missing),
                Err(NoPicture::Outside) => Err(PictureFault::Outside),
                Err(NoPicture::Unreadable(why)) => Err(PictureFault::Unreadable(why)),
            };
            pictures.insert(address.clone(), fact);
        }
        if history.is_kept() {
            let input = Input { pictures: &pictures, hashes: &hashes, fingerprint: Some(String::new()), draft: false };
            findings.extend(history.findings(&guide, &build::document(&guide, &self.own_shop(), &input), &hashes));
        }
        let asked = Mutex::new(Vec::new());
        let exists = |slug: &str| {
            let there = self.has(slug);
            asked.lock().unwrap_or_else(PoisonError::into_inner).push((slug.to_owned(), there));
            there
        };
        let outcome = review::review(&guide, &self.shop, &pictures, &exists, findings);
        with(
            Work {
                guide: &guide,
                source: &source,
                pictures: &pictures,
                picture_bytes: &picture_bytes,
                hashes: &hashes,
                history: &history,
                asked: asked.into_inner().unwrap_or_else(PoisonError::into_inner),
            },
            outcome,
        )
    }
}

fn not_text(place: Place) -> Finding {
    Finding::hold(RuleName::TextUnreadable, place, "from here on there are bytes that are not UTF-8 text", "save the file as UTF-8")
}

/// With `--strict` a query counts as a hold.
pub(super) fn make_strict(findings: &mut [Finding]) {
    for finding in findings.iter_mut().filter(|finding| finding.severity == Severity::Query) {
        finding.severity = Severity::Hold;
    }
}
