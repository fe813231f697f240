//! `bayleaf publish`: reviews every guide and makes the site from those that may go out.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::Args;

use crate::cli::failure::Failure;
use crate::cli::make::Wanted;
use crate::cli::pass::{Done, Fresh, Pass};
use crate::cli::terminal::{self, Progress, counted};
use crate::cli::workplace::{GUIDES, NONE_FOUND, Workplace, make_strict};
use crate::cli::{Status, sheets};
use crate::disk::{self, Building, DiskError, Written};
use crate::finding::{Finding, RuleName, Severity};
use crate::review::report::{Sources, text};
use crate::shop::{self, BUILD, Key, Memo, Store};
use crate::site::Publisher;
use crate::source::FileId;
use crate::theme::Theme;

#[derive(Args)]
pub(super) struct Options {
    /// Publish into this folder
    #[arg(long, value_name = "FOLDER", default_value = "site")]
    to: PathBuf,
    /// Publish held guides too, marked NOT RELEASED on every page and sheet
    #[arg(long = "unreleased")]
    draft: bool,
    /// Count queries as holds
    #[arg(long)]
    strict: bool,
    /// Leave out the checklists as PDF, which take most of the time in a large shop
    #[arg(long)]
    no_sheets: bool,
    /// Make all of it anew, whatever is remembered of the last time
    #[arg(long)]
    anew: bool,
    /// Publish although more than a quarter of the guides on the site would go
    #[arg(long)]
    fewer_guides: bool,
}

/// More than one in so many of the published guides may not go without a word.
const MAY_GO: usize = 4;

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    let start = Instant::now();
    let target = folder.join(&options.to);
    match build(folder, &target, options, start) {
        Err(Failure::Theme(error)) => {
            terminal::note(&format!("bayleaf: {error}\nnothing was published"));
            Ok(Status::Failed)
        }
        done => done,
    }
}

/// Refuses a target that lies among the guides.
pub(super) fn outside_the_guides(folder: &Path, target: &Path) -> Result<(), DiskError> {
    let inside = std::path::absolute(target).ok().zip(std::path::absolute(folder.join(GUIDES)).ok());
    if inside.is_some_and(|(target, guides)| target.starts_with(guides)) {
        let why = format!("it lies inside {GUIDES}/, where the site would be taken for guides; publish to another folder with --to");
        return Err(DiskError::refused(target, "publish to", why));
    }
    Ok(())
}

fn build(folder: &Path, target: &Path, options: &Options, start: Instant) -> Result<Status, Failure> {
    outside_the_guides(folder, target)?;
    let mut memo = if options.anew { Memo::default() } else { remembered(target) };
    let mut workplace = Workplace::open_with(folder, &memo)?;
    demand_guides(folder, &workplace)?;
    if options.strict {
        make_strict(&mut workplace.shop_findings);
    }
    let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
    if shop_held && !options.draft {
        let sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
        show(&workplace.shop_findings, &sources);
        terminal::note("every guide leans on the shop file, so nothing is published until its holds are mended (or with --unreleased)");
        return Ok(Status::Findings);
    }
    let own = disk::read_theme(&folder.join("themes"))?;
    let theme = Theme::new(&own, workplace.shop.language)?;
    theme.doubts.iter().for_each(|doubt| terminal::note(&format!("bayleaf: {doubt}")));
    let known = std::mem::take(&mut memo.files);
    let building = Building::start(target, &known)?;
    drop(known);
    let publisher = Publisher::new(&workplace.shop, &theme);
    let wanted = Wanted { draft: options.draft, shop_held, sheets: !options.no_sheets };
    let store = OnDisk(&building);
    let mut pass = Pass::new(&workplace, &publisher, &own, wanted, &memo, &store);
    pass.strict = options.strict;
    let progress = Progress::start(workplace.guides.len());
    let done = pass.guides(&|| progress.step())?;
    let mut left = Vec::new();
    for path in workplace.left()? {
        if let Some((one, revision)) = pass.last_issued(&path)? {
            left.push((path.shown.clone(), one, format!("{} (revision {revision})", path.slug)));
        }
    }
    let all: Vec<&shop::Guide> = done.iter().map(|one| &one.guide).chain(left.iter().map(|(_, one, _)| &one.guide)).collect();
    let over = pass.over_all(&all)?;
    progress.end();
    let mut written: Vec<Written> = all.iter().flat_map(|guide| guide.files.iter().cloned()).collect();
    written.extend([&over.lists, &over.handbook, &over.index].into_iter().flat_map(|part| part.files.iter().cloned()));
    drop(all);
    let files = written.len();
    let told = Told::of(&done, &left, &workplace);
    let going = match going(target, &building, &written, options.fewer_guides) {
        Ok(going) => going,
        Err(error) => {
            show(&told.holds, &told.sources);
            return Err(error.into());
        }
    };
    let names = workplace.guides.iter().map(|path| path.shown.clone());
    let guides = names.zip(done.into_iter().map(|one| one.guide));
    let mut memo = pass.remember(guides.chain(left.into_iter().map(|(shown, one, _)| (shown, one.guide))), over);
    let finished = building.finish(written)?;
    memo.files = finished.files;
    // The next publish is slower without it, and otherwise the same.
    if let Err(error) = disk::write_cache(target, |now| bytes_of(memo, now)) {
        terminal::note(&format!("what was made cannot be remembered, so the next publish makes all of it anew: {error}"));
    }
    let site = Site { files, changed: finished.changed, gone: finished.gone, over: finished.over };
    Ok(told.tell(&site, &going, target, start))
}

/// A site on the disk.
struct OnDisk<'b>(&'b Building);

impl Store for OnDisk<'_> {
    type Error = Failure;

    fn put(&self, path: &str, bytes: &[u8]) -> Result<Key, Failure> {
        Ok(self.0.write(path, bytes)?.1)
    }

    fn has(&self, path: &str, content: &Key) -> bool {
        self.0.has(path, content)
    }

    fn keep(&self, files: &[Written]) -> bool {
        self.0.keep(files)
    }

    fn fetch(&self, content: &Key) -> Option<Vec<u8>> {
        self.0.fetch(content)
    }
}

/// What is remembered beside a site; nothing where it is damaged or of another build.
fn remembered(target: &Path) -> Memo {
    disk::read_cache(target).and_then(|bytes| Memo::from_bytes(&bytes, BUILD)).unwrap_or_default()
}

/// What changed on the disk so shortly before that a further change could not be told by its time, in nanoseconds.
const JUST_NOW: i128 = 100_000_000;

/// A memo as bytes, without what changed just now or, by a clock that ran backwards, later than now.
fn bytes_of(mut memo: Memo, now: i128) -> Vec<u8> {
    memo.seen.retain(|_, seen| seen.signature.changed.max(seen.signature.written) < now - JUST_NOW);
    memo.to_bytes(BUILD)
}

/// What became of the files of a site.
struct Site {
    files: usize,
    changed: usize,
    gone: usize,
    over: Option<DiskError>,
}

/// A folder without guides, or without the shop that they lean on, is a slip: nothing is published from it, and nothing is touched.
fn demand_guides(folder: &Path, workplace: &Workplace) -> Result<(), DiskError> {
    if workplace.guides.is_empty() {
        let why =
            format!("there is no guide in it, so nothing was published: a guide is a file {GUIDES}/<name>/guide.md or {GUIDES}/<name>.md");
        return Err(DiskError::refused(folder.join(GUIDES), "publish from", why));
    }
    let refused = |why: &str| Err(DiskError::refused(&workplace.shop_path, "publish without", format!("{why}, so nothing was published")));
    if workplace.shop.file.is_none() {
        return refused(
            "the shop file is not there; it names the shop, its vehicles and its tools. The least that it may hold is: name = \"...\"",
        );
    }
    let broken = |finding: &&Finding| matches!(finding.rule, RuleName::TextUnreadable | RuleName::BlockUnreadable);
    if let Some(finding) = workplace.shop_findings.iter().find(broken) {
        let line = workplace.shop_source.position(finding.place.span.start).line;
        return refused(&format!("the shop file cannot be read, see its line {line}: {}", finding.message));
    }
    Ok(())
}

/// The guides that have a page, out of the paths of a site.
fn published<'p>(paths: impl Iterator<Item = &'p str>) -> BTreeSet<&'p str> {
    paths.filter_map(|path| path.strip_prefix("guides/")?.strip_suffix("/index.html")).filter(|slug| !slug.contains('/')).collect()
}

/// The guides that the site has and the new one would not. Too many of them are refused, unless the shop insists.
fn going(target: &Path, old: &Building, new: &[Written], insists: bool) -> Result<Vec<String>, DiskError> {
    let old = published(old.old_paths());
    let new = published(new.iter().map(|(path, _)| path.as_str()));
    let going: Vec<String> = old.difference(&new).map(|slug| (*slug).to_owned()).collect();
    if !insists && (going.len() * MAY_GO > old.len() || (new.is_empty() && !old.is_empty())) {
        let why = format!(
            "{} of {} would go from the site: {}. Mend what holds them, or take a guide from the site with `withdrawn` in its head; \
             if they are all to go, insist with --fewer-guides",
            going.len(),
            counted(old.len(), "published guide", "published guides"),
            going.iter().take(12).cloned().collect::<Vec<_>>().join(", ")
        );
        return Err(DiskError::refused(target, "publish to", why));
    }
    Ok(going)
}

/// Guides of which only issued revisions are left: the path, what was made, and name and revision in words.
type Left = (String, Done, String);

/// What there is to tell when the site stands.
struct Told {
    sources: Sources,
    holds: Vec<Finding>,
    shop_held: bool,
    guides: usize,
    steps: usize,
    queries: usize,
    unread: bool,
    left_out: Vec<String>,
    drafts: Vec<String>,
    kept_at: Vec<String>,
    withdrawn: Vec<String>,
    without_text: Vec<String>,
    problems: Vec<String>,
}

impl Told {
    fn of(done: &[Done], left: &[Left], workplace: &Workplace) -> Self {
        let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
        let mut told = Told {
            sources: Sources::from([(FileId(0), workplace.shop_source.clone())]),
            holds: workplace.shop_findings.iter().filter(|finding| finding.severity == Severity::Hold).cloned().collect(),
            shop_held,
            guides: 0,
            steps: 0,
            queries: 0,
            unread: done.iter().any(|one| one.unread),
            left_out: Vec::new(),
            drafts: Vec::new(),
            kept_at: Vec::new(),
            withdrawn: Vec::new(),
            without_text: left.iter().map(|(.., words)| words.clone()).collect(),
            problems: Vec::new(),
        };
        for (at, (path, Done { guide, fresh, .. })) in workplace.guides.iter().zip(done).enumerate() {
            let mut count = 0;
            if let Some(Fresh { outcome, source, .. }) = fresh {
                count = outcome.count(Severity::Hold);
                if outcome.is_held() {
                    told.sources.insert(Workplace::file(at), source.clone());
                }
                told.holds.extend(outcome.findings.iter().filter(|finding| finding.severity == Severity::Hold).cloned());
            }
            told.queries += guide.queries;
            let slug = &path.slug;
            let named = format!("{slug} ({})", counted(count, "hold", "holds"));
            match (guide.listed.is_some(), &guide.kept_at) {
                (true, Some(revision)) => told.kept_at.push(format!(
                    "{slug} at revision {revision}{}",
                    if count > 0 { format!(" ({})", counted(count, "hold", "holds")) } else { String::new() }
                )),
                (false, _) if guide.withdrawn => told.withdrawn.push(slug.clone()),
                (false, _) => told.left_out.push(named),
                (true, None) if count > 0 => told.drafts.push(named),
                (true, None) => {}
            }
        }
        for guide in done.iter().map(|one| &one.guide).chain(left.iter().map(|(_, one, _)| &one.guide)) {
            told.problems.extend(guide.problems.iter().cloned());
            told.guides += usize::from(guide.listed.is_some());
            told.steps += guide.steps;
        }
        told
    }

    fn tell(self, site: &Site, going: &[String], target: &Path, start: Instant) -> Status {
        let Told {
            sources,
            holds,
            shop_held,
            guides,
            steps,
            queries,
            unread,
            left_out,
            drafts,
            kept_at,
            withdrawn,
            without_text,
            problems,
        } = self;
        show(&holds, &sources);
        let changed = match (site.changed, site.gone) {
            (0, 0) => "nothing changed".to_owned(),
            (changed, 0) => format!("{changed} changed"),
            (changed, gone) => format!("{changed} changed, {gone} gone"),
        };
        terminal::note(&format!(
            "published {} with {} to {}: {} files, {changed}, in {:.2} s",
            counted(guides, "guide", "guides"),
            counted(steps, "step", "steps"),
            target.display(),
            site.files,
            start.elapsed().as_secs_f64()
        ));
        if !going.is_empty() {
            terminal::note(&format!("no longer on the site: {}", going.join(", ")));
        }
        if guides + left_out.len() == 0 {
            terminal::note(NONE_FOUND);
        }
        let rows = [
            ("left out", &left_out),
            ("kept as issued, since its text may not go out", &kept_at),
            ("kept as issued, since its text is gone (take it away with `withdrawn` in its head)", &without_text),
            ("withdrawn", &withdrawn),
            ("published as NOT RELEASED", &drafts),
        ];
        for (what, names) in rows {
            if !names.is_empty() {
                terminal::note(&format!("{what}: {}", names.join(", ")));
            }
        }
        if let Some(over) = &site.over {
            terminal::note(&format!("the new site stands, and the old one could not be removed: {over}"));
        }
        problems.iter().for_each(|problem| terminal::note(problem));
        if !sheets::CAN_BE_MADE {
            terminal::note("no sheets as PDF were made: this bayleaf was built without them");
        }
        if queries > 0 {
            terminal::note(&format!("{} to answer: run bayleaf review", counted(queries, "query", "queries")));
        }
        terminal::result(&format!("{}\n", target.join("index.html").display()));
        if holds.is_empty() && !shop_held && problems.is_empty() && !unread && without_text.is_empty() {
            Status::Done
        } else {
            Status::Findings
        }
    }
}

fn show(findings: &[Finding], sources: &Sources) {
    let shown = text::findings(findings, sources, terminal::style());
    if !shown.is_empty() {
        terminal::drawn_note(shown.trim_end_matches('\n'));
    }
}
