//! One pass over the shop, for `publish` and `preview` alike: every guide that changed is read, reviewed and made anew, all others are taken over
//! as they were; then the pages over all guides and the search index. What files they become is left to the store.

use std::collections::{BTreeMap, HashSet};
use std::sync::{Mutex, OnceLock, PoisonError};

use rayon::prelude::*;

use crate::cli::failure::Failure;
use crate::cli::handbook;
use crate::cli::history::History;
use crate::cli::make::{self, Made, Making, Wanted, Way};
use crate::cli::workplace::{Keep, Work, Workplace, make_strict};
use crate::disk::{self, GuidePath, NoPicture};
use crate::finding::{RuleName, Severity};
use crate::guide::claims::Claims;
use crate::guide::picture::examine;
use crate::review::Outcome;
use crate::shop::{self, BUILD, Key, Memo, Output, Part, Seen, Store};
use crate::site::{Indexed, Listed, Publisher};
use crate::source::SourceFile;

/// What a pass is made with.
pub(super) struct Pass<'p> {
    pub(super) workplace: &'p Workplace,
    pub(super) publisher: &'p Publisher<'p>,
    pub(super) wanted: Wanted,
    /// Whether queries count as holds.
    pub(super) strict: bool,
    /// Whether a held guide is taken over too: only who remembers its findings can.
    pub(super) held_too: bool,
    /// What is remembered of the last pass.
    pub(super) memo: &'p Memo,
    /// Where the files go.
    pub(super) store: &'p dyn Store<Error = Failure>,
    common: Key,
    all: Key,
    seen: Mutex<BTreeMap<String, Seen>>,
    pictures: Mutex<BTreeMap<Key, Vec<Output>>>,
}

/// What came of one guide.
pub(super) struct Done {
    /// What there is to remember.
    pub(super) guide: shop::Guide,
    /// What was read and found; none where it was taken over.
    pub(super) fresh: Option<Fresh>,
    /// Whether its file cannot be read.
    pub(super) unread: bool,
}

/// What was read of a guide and found in it.
pub(super) struct Fresh {
    pub(super) outcome: Outcome,
    pub(super) source: SourceFile,
    /// What reports beside the page call it.
    #[cfg_attr(not(feature = "preview"), allow(dead_code))]
    pub(super) title: Option<String>,
}

/// Files made from all guides.
pub(super) struct Over {
    pub(super) lists: Part,
    pub(super) handbook: Part,
    pub(super) index: Part,
}

impl<'p> Pass<'p> {
    /// A pass over a workplace. `theme` are the shop's own files of the theme.
    pub(super) fn new(
        workplace: &'p Workplace,
        publisher: &'p Publisher<'p>,
        theme: &BTreeMap<String, Vec<u8>>,
        wanted: Wanted,
        memo: &'p Memo,
        store: &'p dyn Store<Error = Failure>,
    ) -> Self {
        let common = Key::of(&(BUILD, theme, publisher.common()));
        let flags = (wanted.draft, wanted.shop_held, wanted.sheets);
        let all = Key::of(&(common, flags, Key::of_bytes(workplace.shop_source.text.as_bytes())));
        Pass {
            workplace,
            publisher,
            wanted,
            strict: false,
            held_too: false,
            memo,
            store,
            common,
            all,
            seen: Mutex::default(),
            pictures: Mutex::default(),
        }
    }

    fn making(&self) -> Making<'_> {
        let Pass { workplace, publisher, wanted, memo, common, pictures, .. } = self;
        Making { publisher, workplace, wanted: *wanted, common: *common, memo, pictures }
    }

    /// Every guide in its order.
    pub(super) fn guides(&self, each: &(dyn Fn() + Sync)) -> Result<Vec<Done>, Failure> {
        let all = (0..self.workplace.guides.len()).into_par_iter().map(|at| {
            let done = self.guide(at);
            each();
            done
        });
        all.collect()
    }

    fn guide(&self, at: usize) -> Result<Done, Failure> {
        let path = &self.workplace.guides[at];
        if let Some(guide) = self.as_it_was(at) {
            return Ok(Done { guide: guide.clone(), fresh: None, unread: false });
        }
        let bytes = match disk::read(&path.file) {
            Ok(bytes) => bytes,
            // What was issued of a guide that cannot be read stays; of one that was never issued there is nothing to show.
            Err(error) => match self.last_issued(path)? {
                Some((done, _)) => {
                    crate::cli::terminal::note(&format!("bayleaf: {error}"));
                    return Ok(Done { unread: true, ..done });
                }
                None => return Err(error.into()),
            },
        };
        let text = Key::of_bytes(&bytes);
        self.workplace.read(at, bytes, Keep::Bytes, |work, outcome| self.fresh(at, text, &work, outcome))
    }

    /// A guide as it was made last, where nothing of what it was made from changed.
    fn as_it_was(&self, at: usize) -> Option<&'p shop::Guide> {
        let path = &self.workplace.guides[at];
        let known = self.memo.guides.get(&path.shown).filter(|known| !known.held || self.held_too)?;
        let text = self.workplace.texts[at].filter(|text| *text == known.text)?;
        let same = known.asked.iter().all(|(slug, there)| self.workplace.has(slug) == *there)
            && known.pictures.iter().all(|(address, state)| self.picture_state(path, address) == *state)
            && known.video.as_ref().is_none_or(|(name, state)| disk::lies(&path.file.with_file_name(name)) == *state)
            && self.made_from(at, &text) == known.made_from
            && self.store.keep(&known.files);
        same.then_some(known)
    }

    /// What a guide is made from beside its pictures and the guides that it asks for.
    fn made_from(&self, at: usize, text: &Key) -> Key {
        let path = &self.workplace.guides[at];
        let others = format!("{:?}", self.workplace.of_others(at));
        let issued = disk::issued_state(path);
        Key::of(&(self.all, self.strict, &path.shown, &path.slug, at, text, others, issued, self.workplace.leads_here(at)))
    }

    /// The state of a picture: its content, or why there is none.
    fn picture_state(&self, path: &GuidePath, address: &str) -> Key {
        let state = disk::find_picture(&path.file, address).and_then(|(file, signature)| {
            let name = file.to_string_lossy().into_owned();
            let seen = self.memo.seen.get(&name).filter(|seen| seen.signature == signature).cloned();
            let seen = match seen {
                Some(seen) => seen,
                None => {
                    let bytes = disk::read_picture(&path.file, address)?;
                    Seen { signature, content: Key::of_bytes(&bytes), fact: examine(&bytes).ok() }
                }
            };
            let content = seen.content;
            self.seen.lock().unwrap_or_else(PoisonError::into_inner).insert(name, seen);
            Ok(content)
        });
        match state {
            Ok(content) => content,
            Err(NoPicture::Missing) => Key::of(&"missing"),
            Err(NoPicture::Outside) => Key::of(&"outside"),
            Err(NoPicture::Unreadable(why)) => Key::of(&("unreadable", why)),
        }
    }

    fn fresh(&self, at: usize, text: Key, work: &Work<'_, '_>, mut outcome: Outcome) -> Result<Done, Failure> {
        if self.strict {
            make_strict(&mut outcome.findings);
        }
        let path = self.workplace.path_of(work);
        let making = self.making();
        // As it lies before it is read: what is written in between is seen the next time.
        let video = work.guide.video.as_ref().filter(|video| !video.value.contains("://"));
        let video = video.map(|video| (video.value.clone(), disk::lies(&path.file.with_file_name(&video.value))));
        let (mut problems, mut out) = (Vec::new(), Way::new(self.store));
        let twice = outcome.findings.iter().any(|finding| finding.rule == RuleName::SlugTwice);
        let (mut made, mut kept_at, mut withdrawn) = (None, None, false);
        if let (Some(reason), false) = (&work.guide.withdrawn, twice) {
            make::withdrawn(work, &reason.value, &making, &mut problems, &mut out)?;
            withdrawn = true;
            // Nobody works to it, whatever it says.
            outcome.findings.clear();
        } else {
            made = make::guide(work, &mut outcome, &making, &mut problems, &mut out)?;
            // A draft shows the text as it stands, and what was issued of it is no matter.
            if made.is_none() && !twice {
                (made, kept_at) = make::last_issued(path, work.history, &making, &mut problems, &mut out)?.unzip();
            }
        }
        if made.is_some() || withdrawn {
            let title = work.guide.title.as_ref().map_or(work.guide.slug.as_str(), |title| title.value.as_str());
            let number = work.guide.document.as_ref().map(|number| number.value.as_str());
            make::moved(&work.guide.slug, &self.workplace.leads_here(at), title, number, self.publisher, &mut out)?;
        }
        let state = |address: &String| match work.hashes.get(address).and_then(|hash| Key::from_hex(hash)) {
            // What was read just now counts, whatever the file holds by this time.
            Some(content) => {
                let _ = self.picture_state(path, address);
                content
            }
            None => self.picture_state(path, address),
        };
        let mut asked = work.asked.clone();
        asked.sort();
        asked.dedup();
        let mut guide = self.remembered(path, made, out.files, problems)?;
        guide.text = text;
        guide.claims = self.workplace.claims[at].clone();
        guide.made_from = self.made_from(at, &text);
        guide.pictures = work.pictures.keys().map(|address| (address.clone(), state(address))).collect();
        guide.video = video;
        guide.asked = asked;
        guide.held = outcome.is_held();
        guide.queries = outcome.count(Severity::Query);
        guide.kept_at = kept_at;
        guide.withdrawn = withdrawn;
        let title = work.guide.title.as_ref().map(|title| title.value.clone());
        Ok(Done { guide, fresh: Some(Fresh { outcome, source: work.source.clone(), title }), unread: false })
    }

    /// What there is to remember of a guide that was made.
    fn remembered(&self, path: &GuidePath, made: Option<Made>, files: Vec<Output>, problems: Vec<String>) -> Result<shop::Guide, Failure> {
        let nothing = Key::default();
        let mut guide = shop::Guide {
            text: nothing,
            claims: Claims::default(),
            made_from: nothing,
            pictures: Vec::new(),
            video: None,
            asked: Vec::new(),
            held: false,
            queries: 0,
            files,
            pages: None,
            sheets: None,
            listed: None,
            indexed: Vec::new(),
            steps: 0,
            problems,
            kept_at: None,
            withdrawn: false,
        };
        if let Some(Made { kept, pages, sheets }) = made {
            match (kept, self.memo.guides.get(&path.shown)) {
                (Some(kept), _) => {
                    guide.steps = kept.listed.line.steps;
                    guide.listed = Some(postcard::to_allocvec(&kept.listed)?);
                    guide.indexed = postcard::to_allocvec(&kept.indexed)?;
                }
                (None, Some(known)) => {
                    guide.steps = known.steps;
                    guide.listed.clone_from(&known.listed);
                    guide.indexed.clone_from(&known.indexed);
                }
                (None, None) => {}
            }
            guide.pages = Some(pages);
            guide.sheets = sheets;
        }
        Ok(guide)
    }

    /// The last issued revision of a guide whose text cannot be had, with the revision.
    pub(super) fn last_issued(&self, path: &GuidePath) -> Result<Option<(Done, String)>, Failure> {
        let (mut problems, mut out) = (Vec::new(), Way::new(self.store));
        let last = make::last_issued(path, &History::of(path), &self.making(), &mut problems, &mut out)?;
        let Some((made, revision)) = last else { return Ok(None) };
        let mut guide = self.remembered(path, Some(made), out.files, problems)?;
        guide.kept_at = Some(revision.clone());
        Ok(Some((Done { guide, fresh: None, unread: false }, revision)))
    }

    /// The pages over all guides, the handbook and the search index.
    pub(super) fn over_all(&self, guides: &[&shop::Guide]) -> Result<Over, Failure> {
        let shown: Vec<&shop::Guide> = guides.iter().copied().filter(|guide| guide.listed.is_some()).collect();
        let handbook = self.part(self.memo.handbook.as_ref(), Key::of(&(self.common, "handbook")), || {
            Ok(self.publisher.handbook(&handbook::chapters())?)
        })?;
        let paths: Vec<&str> = handbook.files.iter().map(|(path, _)| path.as_str()).collect();
        let listed: Vec<&Vec<u8>> = shown.iter().filter_map(|guide| guide.listed.as_ref()).collect();
        let indexed: Vec<&Vec<u8>> = shown.iter().map(|guide| &guide.indexed).collect();
        // Read when something was changed, by whoever comes first. A guide that cannot be read back would go from lists and search unseen.
        let read: OnceLock<Result<Vec<Listed>, postcard::Error>> = OnceLock::new();
        let read =
            || read.get_or_init(|| listed.par_iter().map(|bytes| postcard::from_bytes(bytes)).collect()).as_ref().map_err(Clone::clone);
        let (lists, index) = rayon::join(
            || {
                let made_from = Key::of(&(self.all, &listed, "lists"));
                self.part(self.memo.lists.as_ref(), made_from, || Ok(self.publisher.over_all(read()?, &paths)?))
            },
            || {
                let made_from = Key::of(&(self.all, &listed, &indexed, "index"));
                self.part(self.memo.index.as_ref(), made_from, || {
                    let indexed: Result<Vec<Indexed>, postcard::Error> =
                        indexed.par_iter().map(|bytes| postcard::from_bytes(bytes)).collect();
                    Ok(self.publisher.index(read()?, indexed?))
                })
            },
        );
        Ok(Over { lists: lists?, handbook, index: index? })
    }

    /// A part of the site that is taken over as long as it follows from the same.
    fn part(
        &self,
        known: Option<&Part>,
        made_from: Key,
        make: impl FnOnce() -> Result<Vec<(String, Vec<u8>)>, Failure>,
    ) -> Result<Part, Failure> {
        if let Some(known) = known.filter(|known| known.made_from == made_from && self.store.keep(&known.files)) {
            return Ok(known.clone());
        }
        let files: Result<Vec<Output>, Failure> = make()?
            .into_par_iter()
            .map(|(path, bytes)| {
                let key = self.store.put(&path, &bytes)?;
                Ok((path, key))
            })
            .collect();
        Ok(Part { made_from, files: files? })
    }

    /// What there is to remember of the whole pass.
    pub(super) fn remember(self, guides: impl Iterator<Item = (String, shop::Guide)>, over: Over) -> Memo {
        let Over { lists, handbook, index } = over;
        let guides: BTreeMap<String, shop::Guide> = guides.collect();
        let mut pictures = self.pictures.lock().unwrap_or_else(PoisonError::into_inner).clone();
        // Those of guides that were taken over still stand; what no page shows any more is forgotten.
        let stand: HashSet<&Key> = guides.values().flat_map(|guide| &guide.files).map(|(_, key)| key).collect();
        let known = self.memo.pictures.iter().filter(|(_, files)| files.iter().all(|(_, key)| stand.contains(key)));
        pictures.extend(known.map(|(key, files)| (*key, files.clone())));
        Memo {
            guides,
            lists: Some(lists),
            handbook: Some(handbook),
            index: Some(index),
            pictures,
            seen: self.seen.into_inner().unwrap_or_else(PoisonError::into_inner),
            files: Default::default(),
        }
    }
}
