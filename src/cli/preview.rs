//! `bayleaf preview`: serves the site from memory while it is being written, and makes anew what changed.

use std::collections::{BTreeMap, BTreeSet};
use std::net::{IpAddr, Ipv4Addr};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

use clap::Args;

use crate::cli::Status;
use crate::cli::failure::Failure;
use crate::cli::make::Wanted;
use crate::cli::pass::{Fresh, Pass};
use crate::cli::report::{self, Reported};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, NONE_FOUND, Workplace, is_there};
use crate::disk;
use crate::finding::{Finding, Severity};
use crate::preview::{self, Pages, Report, Shown, Stage, State};
use crate::review::report::{Sources, text};
use crate::review::{self, Outcome};
use crate::reviewer::line_id;
use crate::shop::{Key, Memo, Output, Store};
use crate::site::Publisher;
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

/// The pages of a site in memory, each with its hash.
type Files = BTreeMap<String, (Key, Arc<[u8]>)>;

/// The last pages, and the next ones as they are made.
struct InMemory<'m> {
    last: &'m Files,
    next: Mutex<Files>,
}

impl Store for InMemory<'_> {
    type Error = Failure;

    fn put(&self, path: &str, bytes: &[u8]) -> Result<Key, Failure> {
        let key = Key::of_bytes(bytes);
        // What is the same is in memory once.
        let bytes = self.last.get(path).filter(|(known, _)| *known == key).map_or_else(|| bytes.into(), |(_, bytes)| Arc::clone(bytes));
        self.next.lock().unwrap_or_else(PoisonError::into_inner).insert(path.to_owned(), (key, bytes));
        Ok(key)
    }

    fn has(&self, path: &str, content: &Key) -> bool {
        self.last.get(path).is_some_and(|(known, _)| known == content)
    }

    fn keep(&self, files: &[Output]) -> bool {
        let all = files.iter().all(|(path, key)| self.has(path, key));
        if all {
            let kept = files.iter().filter_map(|(path, _)| Some((path.clone(), self.last.get(path)?.clone())));
            self.next.lock().unwrap_or_else(PoisonError::into_inner).extend(kept);
        }
        all
    }

    fn fetch(&self, content: &Key) -> Option<Vec<u8>> {
        self.last.values().find(|(known, _)| known == content).map(|(_, bytes)| bytes.to_vec())
    }
}

/// What is told of a guide beside its pages.
struct Known {
    outcome: Outcome,
    source: SourceFile,
    title: Option<String>,
}

struct Builder {
    folder: PathBuf,
    theme: Option<(BTreeMap<String, Vec<u8>>, Theme)>,
    memo: Memo,
    files: Files,
    /// By the place of the guide, and its path as shown.
    known: BTreeMap<(usize, String), Known>,
    review: Vec<u8>,
}

impl Builder {
    fn new(folder: &Path) -> Self {
        Builder {
            folder: folder.to_owned(),
            theme: None,
            memo: Memo::default(),
            files: Files::new(),
            known: BTreeMap::new(),
            review: Vec::new(),
        }
    }

    fn pages(&self) -> Pages {
        self.files.iter().map(|(path, (_, bytes))| (path.clone(), Arc::clone(bytes))).collect()
    }

    /// Makes what changed and shows it; a fault leaves the last pages and is told.
    fn make(&mut self, changed: Option<BTreeSet<PathBuf>>, stage: &Stage) {
        let top = std::path::absolute(&self.folder).unwrap_or_else(|_| self.folder.clone());
        let ours = |path: &PathBuf| [GUIDES, THEMES].iter().any(|name| path.starts_with(top.join(name)));
        let first = changed.is_none();
        if changed.is_some_and(|paths| !paths.iter().any(ours)) {
            return;
        }
        let start = Instant::now();
        match self.state() {
            Ok((state, what)) => {
                let totals = state.report.totals.clone();
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
                stage.show(State { pages: self.pages(), report, review: self.review.clone() });
            }
        }
    }

    fn state(&mut self) -> Result<(State, String), Failure> {
        let workplace = Workplace::open_with(&self.folder, &self.memo)?;
        let own = disk::read_theme(&self.folder.join(THEMES))?;
        if self.theme.as_ref().is_none_or(|(known, theme)| *known != own || theme.language != workplace.shop.language) {
            let theme = Theme::new(&own, workplace.shop.language)?;
            theme.doubts.iter().for_each(|doubt| terminal::note(&format!("bayleaf: {doubt}")));
            self.theme = Some((own, theme));
        }
        let (own, theme) = self.theme.as_ref().ok_or_else(|| ThemeError::Missing)?;
        let publisher = Publisher::new(&workplace.shop, theme);
        let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
        let wanted = Wanted { draft: true, shop_held, sheets: false };
        let store = InMemory { last: &self.files, next: Mutex::default() };
        let mut pass = Pass::new(&workplace, &publisher, own, wanted, &self.memo, &store);
        pass.held_too = true;
        let done = pass.guides(&|| ())?;
        let over = pass.over_all(&done.iter().map(|one| &one.guide).collect::<Vec<_>>())?;
        let (mut known, mut made, mut guides) = (BTreeMap::new(), Vec::new(), Vec::new());
        for (at, (path, one)) in workplace.guides.iter().zip(done).enumerate() {
            let place = (at, path.shown.clone());
            let told = match one.fresh {
                Some(Fresh { outcome, source, title }) => {
                    made.push(path.slug.clone());
                    Some(Known { outcome, source, title })
                }
                None => self.known.remove(&place),
            };
            known.extend(told.map(|told| (place, told)));
            guides.push((path.shown.clone(), one.guide));
        }
        let memo = pass.remember(guides.into_iter(), over);
        let files = store.next.into_inner().unwrap_or_else(PoisonError::into_inner);
        let what = match made.as_slice() {
            [one] => one.clone(),
            some if some.len() == workplace.guides.len() => "everything".to_owned(),
            some => counted(some.len(), "guide", "guides"),
        };
        (self.memo, self.files, self.known) = (memo, files, known);
        let (report, review) = self.report(&workplace)?;
        Ok((State { pages: self.pages(), report, review }, what))
    }

    fn report(&self, workplace: &Workplace) -> Result<(Report, Vec<u8>), Failure> {
        let mut sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
        let mut outcomes = vec![Outcome { findings: workplace.shop_findings.clone(), ..Outcome::default() }];
        for ((at, _), known) in &self.known {
            sources.insert(Workplace::file(*at), known.source.clone());
            outcomes.push(known.outcome.clone());
        }
        review::look_elsewhere(&mut outcomes);
        let count = |severity| outcomes.iter().map(|outcome| outcome.count(severity)).sum::<usize>();
        let accepted = outcomes.iter().map(|outcome| outcome.accepted.len()).sum();
        let totals = text::totals(count(Severity::Hold), count(Severity::Query), count(Severity::Remark), accepted);
        let slug = |at: usize| workplace.guides[at].slug.clone();
        let names = std::iter::once(String::new()).chain(self.known.keys().map(|(at, _)| slug(*at)));
        let shown = |outcome: &Outcome| outcome.findings.iter().filter_map(|finding| shown(finding, &sources)).collect();
        let guides = names.zip(&outcomes).map(|(name, outcome)| (name, shown(outcome))).collect();
        let titles = self.known.iter().map(|((at, _), known)| (*at, known.title.clone())).collect();
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
