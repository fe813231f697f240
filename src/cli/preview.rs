//! `bayleaf preview`: serves the site from memory while it is being written, and makes anew what changed.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::net::{IpAddr, Ipv4Addr};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::Instant;

use clap::Args;
use sha2::{Digest, Sha256};

use crate::cli::failure::Failure;
use crate::cli::make::{self, Making, Wanted};
use crate::cli::report::{self, Reported};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Keep, NONE_FOUND, Workplace, is_there};
use crate::cli::{Status, handbook};
use crate::disk;
use crate::finding::{Finding, Severity};
use crate::guide::picture::PictureFact;
use crate::pictures::PictureError;
use crate::preview::{self, Pages, Report, Shown, Stage, State};
use crate::review::report::{Sources, text};
use crate::review::{self, Outcome};
use crate::reviewer::line_id;
use crate::site::{self, File, Publisher};
use crate::source::{FileId, SourceFile};
use crate::theme::{Theme, ThemeError};

/// The folder of a shop's own theme.
const THEMES: &str = "themes";

#[derive(Args)]
pub(super) struct Options {
    /// Serve at this port; if it is taken, at the next free one
    #[arg(long, value_name = "PORT", default_value_t = 7707)]
    port: u16,
    /// Serve at this address instead of this machine's own; whoever reaches it can read the guides
    #[arg(long, value_name = "ADDRESS", default_value_t = IpAddr::V4(Ipv4Addr::LOCALHOST))]
    host: IpAddr,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    // Without a folder of guides there is nothing to serve and nothing to watch.
    is_there(&folder.join(GUIDES))?;
    let mut builder = Builder::new(folder);
    let stage = Stage::default();
    let start = Instant::now();
    // What cannot be made at first is told in the browser too, and made as soon as it can be.
    builder.make(None, &stage);
    let listener = preview::bind(options.host, options.port).map_err(Failure::Serve)?;
    let address = listener.local_addr().map_err(Failure::Serve)?;
    if address.port() != options.port && options.port != 0 {
        terminal::note(&format!("port {} is taken, so port {} is used", options.port, address.port()));
    }
    if !address.ip().is_loopback() {
        terminal::note("this is not only for this machine: whoever reaches the address can read every guide, drafts too");
    }
    let absolute = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
    let deep: Vec<PathBuf> = [GUIDES, THEMES].iter().map(|name| absolute.join(name)).collect();
    let shown = stage.clone();
    let watch = preview::watch(&deep, &[absolute], move |paths| builder.make(Some(paths), &shown)).map_err(Failure::Watch)?;
    if disk::find_guides(&folder.join(GUIDES), GUIDES).is_ok_and(|guides| guides.is_empty()) {
        terminal::note(NONE_FOUND);
    }
    terminal::note(&format!("ready in {:.0} ms; end with Ctrl-C", start.elapsed().as_secs_f64() * 1000.0));
    terminal::result(&format!("http://{address}/\n"));
    let ended = preview::serve(listener, stage).map_err(Failure::Serve);
    drop(watch);
    ended.map(|()| Status::Done)
}

/// What is kept of a guide between two makings.
struct Kept {
    file: PathBuf,
    slug: String,
    outcome: Outcome,
    source: SourceFile,
    title: Option<String>,
    files: Vec<File>,
    summary: Option<site::Kept>,
}

/// Pictures as published, by guide, address and content: making them anew takes longer than all else.
type Photos = Mutex<HashMap<(String, String, String), Vec<File>>>;

struct Builder {
    folder: PathBuf,
    shop_text: String,
    theme: Option<(BTreeMap<String, Vec<u8>>, Theme)>,
    kept: Vec<Kept>,
    lists: Pages,
    photos: Photos,
    last: Pages,
    review: Vec<u8>,
}

impl Builder {
    fn new(folder: &Path) -> Self {
        Builder {
            folder: folder.to_owned(),
            shop_text: String::new(),
            theme: None,
            kept: Vec::new(),
            lists: Pages::new(),
            photos: Photos::default(),
            last: Pages::new(),
            review: Vec::new(),
        }
    }

    /// Makes what changed and shows it; a fault leaves the last pages and is told.
    fn make(&mut self, changed: Option<BTreeSet<PathBuf>>, stage: &Stage) {
        let top = std::path::absolute(&self.folder).unwrap_or_else(|_| self.folder.clone());
        let ours = |path: &PathBuf| [GUIDES, THEMES].iter().any(|name| path.starts_with(top.join(name)));
        let first = changed.is_none();
        let changed: Option<BTreeSet<PathBuf>> = changed.map(|paths| paths.into_iter().filter(ours).collect());
        if changed.as_ref().is_some_and(BTreeSet::is_empty) {
            return;
        }
        let start = Instant::now();
        match self.state(changed) {
            Ok((state, what)) => {
                let totals = state.report.totals.clone();
                self.last = state.pages.clone();
                self.review = state.review.clone();
                stage.show(state);
                if !first {
                    terminal::note(&format!("{what} made anew in {:.1} ms: {totals}", start.elapsed().as_secs_f64() * 1000.0));
                }
            }
            Err(failure) => {
                let fault = failure.to_string();
                terminal::note(&format!("bayleaf: {fault}\nthe last good pages stay"));
                let report = Report { fault: Some(fault), totals: "no review of this state".to_owned(), guides: BTreeMap::new() };
                stage.show(State { pages: self.last.clone(), report, review: self.review.clone() });
                // Nothing that is kept is known to fit the next state.
                self.kept.clear();
            }
        }
    }

    fn state(&mut self, changed: Option<BTreeSet<PathBuf>>) -> Result<(State, String), Failure> {
        let workplace = Workplace::open(&self.folder)?;
        let own = disk::read_theme(&self.folder.join(THEMES))?;
        let new_theme = self.theme.as_ref().is_none_or(|(known, theme)| *known != own || theme.language != workplace.shop.language);
        if new_theme {
            let theme = Theme::new(&own, workplace.shop.language)?;
            theme.doubts.iter().for_each(|doubt| terminal::note(&format!("bayleaf: {doubt}")));
            self.theme = Some((own, theme));
        }
        let same_guides = self.kept.len() == workplace.guides.len()
            && self.kept.iter().zip(&workplace.guides).all(|(kept, guide)| kept.file == guide.file && kept.slug == guide.slug);
        let whole = new_theme || !same_guides || self.shop_text != workplace.shop_source.text;
        let touched = |file: &Path, changed: &BTreeSet<PathBuf>| {
            let file = std::path::absolute(file).unwrap_or_else(|_| file.to_owned());
            // A guide in a folder of its own has its pictures there.
            let own_folder = file.file_name().is_some_and(|name| name == "guide.md");
            changed.iter().any(|path| *path == file || own_folder && file.parent().is_some_and(|folder| path.starts_with(folder)))
        };
        let mut wanted: Vec<usize> = match &changed {
            Some(changed) if !whole => (0..workplace.guides.len()).filter(|at| touched(&workplace.guides[*at].file, changed)).collect(),
            _ => (0..workplace.guides.len()).collect(),
        };
        if wanted.is_empty() && !whole {
            // Something below the folder of guides changed that belongs to none of them: a shared picture, say.
            wanted = (0..workplace.guides.len()).collect();
        }
        let (_, theme) = self.theme.as_ref().ok_or_else(|| ThemeError::Missing)?;
        let publisher = Publisher::new(&workplace.shop, theme);
        let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
        let photos = &self.photos;
        let picture = |slug: &str, address: &str, fact: PictureFact, bytes: &[u8]| cached(photos, slug, address, fact, bytes);
        let made = workplace.each(&wanted, Keep::Bytes, |work, mut outcome| {
            let mut files = Vec::new();
            let mut put = |path: &str, bytes: &[u8]| -> Result<(), Failure> {
                files.push((path.to_owned(), bytes.to_vec()));
                Ok(())
            };
            let wanted = Wanted { draft: true, shop_held, sheets: false };
            let making = Making { publisher: &publisher, workplace: &workplace, wanted, picture: &picture };
            let summary = make::guide(&work, &mut outcome, &making, &mut Vec::new(), &mut put)?;
            let title = work.guide.title.as_ref().map(|title| title.value.clone());
            Ok::<_, Failure>((outcome, work.source.clone(), title, files, summary))
        });
        if whole {
            self.kept.clear();
        }
        for (&at, made) in wanted.iter().zip(made) {
            let (outcome, source, title, files, summary) = made??;
            let path = &workplace.guides[at];
            let kept = Kept { file: path.file.clone(), slug: path.slug.clone(), outcome, source, title, files, summary };
            if whole { self.kept.push(kept) } else { self.kept[at] = kept }
        }
        self.shop_text.clone_from(&workplace.shop_source.text);
        self.make_lists(&workplace, whole)?;
        let what = match wanted.as_slice() {
            [one] if !whole => workplace.guides[*one].slug.clone(),
            _ if whole => "everything".to_owned(),
            some => counted(some.len(), "guide", "guides"),
        };
        let mut pages = self.lists.clone();
        pages.extend(self.kept.iter().flat_map(|kept| kept.files.iter().cloned()));
        let (report, review) = self.report(&workplace)?;
        Ok((State { pages, report, review }, what))
    }

    /// Pages made from all guides. The handbook follows from the program alone, so it is made with the first of them only.
    fn make_lists(&mut self, workplace: &Workplace, whole: bool) -> Result<(), Failure> {
        let Some((_, theme)) = &self.theme else { return Ok(()) };
        let publisher = Publisher::new(&workplace.shop, theme);
        let summaries = self.kept.iter().filter_map(|kept| kept.summary.clone()).collect();
        let chapters = if whole { handbook::chapters() } else { Vec::new() };
        let files = publisher.site(summaries, &chapters)?;
        let is_handbook = |path: &str| path.starts_with("handbook/");
        self.lists.retain(|path, _| !whole && is_handbook(path));
        self.lists.extend(files.into_iter().filter(|(path, _)| whole || !is_handbook(path)));
        Ok(())
    }

    fn report(&self, workplace: &Workplace) -> Result<(Report, Vec<u8>), Failure> {
        let mut sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
        let mut outcomes = vec![Outcome { findings: workplace.shop_findings.clone(), ..Outcome::default() }];
        for (at, kept) in self.kept.iter().enumerate() {
            sources.insert(Workplace::file(at), kept.source.clone());
            outcomes.push(kept.outcome.clone());
        }
        review::look_elsewhere(&mut outcomes);
        let count = |severity| outcomes.iter().map(|outcome| outcome.count(severity)).sum::<usize>();
        let accepted = outcomes.iter().map(|outcome| outcome.accepted.len()).sum();
        let totals = text::totals(count(Severity::Hold), count(Severity::Query), count(Severity::Remark), accepted);
        let names = std::iter::once("").chain(self.kept.iter().map(|kept| kept.slug.as_str()));
        let shown = |outcome: &Outcome| outcome.findings.iter().filter_map(|finding| shown(finding, &sources)).collect();
        let guides = names.zip(&outcomes).map(|(name, outcome)| (name.to_owned(), shown(outcome))).collect();
        let titles = self.kept.iter().enumerate().map(|(at, kept)| (at, kept.title.clone())).collect();
        let (_, theme) = self.theme.as_ref().ok_or_else(|| ThemeError::Missing)?;
        let reported = Reported { workplace, guides: titles, asked: Vec::new(), outcomes: &outcomes, sources: &sources, complete: true };
        let page = report::page(&reported, theme)?;
        Ok((Report { fault: None, totals, guides }, page.into_bytes()))
    }
}

fn shown(finding: &Finding, sources: &Sources) -> Option<Shown> {
    let source = sources.get(&finding.place.file)?;
    let position = source.position(finding.place.span.start);
    Some(Shown {
        weight: finding.severity.word(),
        rule: finding.rule.name(),
        message: finding.message.clone(),
        remedy: finding.remedy.clone(),
        place: format!("{}:{}:{}", source.path, position.line, position.column),
        anchor: line_id(finding.place.file, position.line),
    })
}

fn cached(photos: &Photos, slug: &str, address: &str, fact: PictureFact, bytes: &[u8]) -> Result<Vec<File>, PictureError> {
    let key = (slug.to_owned(), address.to_owned(), disk::hex(&Sha256::digest(bytes)));
    let known = photos.lock().unwrap_or_else(|poisoned| poisoned.into_inner()).get(&key).cloned();
    if let Some(files) = known {
        return Ok(files);
    }
    let files = site::picture(slug, address, fact, bytes)?;
    photos.lock().unwrap_or_else(|poisoned| poisoned.into_inner()).insert(key, files.clone());
    Ok(files)
}
