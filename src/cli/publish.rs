//! `bayleaf publish`: reviews every guide and makes the site from those that may go out.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::Args;
use rayon::prelude::*;

use crate::cli::failure::Failure;
use crate::cli::history::History;
use crate::cli::make::{self, Making, Wanted};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Keep, NONE_FOUND, Work, Workplace, make_strict};
use crate::cli::{Status, handbook, sheets};
use crate::disk::{self, Building, DiskError, GuidePath, Written};
use crate::finding::{Finding, RuleName, Severity};
use crate::review::Outcome;
use crate::review::report::{Sources, text};
use crate::site::{self, Kept, Publisher};
use crate::source::{FileId, SourceFile};
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
    /// Publish although more than a quarter of the guides on the site would go
    #[arg(long)]
    fewer_guides: bool,
}

/// More than one in so many of the published guides may not go without a word.
const MAY_GO: usize = 4;

/// What came of one guide.
struct Done {
    slug: String,
    summary: Option<Kept>,
    written: Vec<Written>,
    outcome: Outcome,
    /// Kept only where there is a hold to show.
    source: Option<SourceFile>,
    /// Why a sheet is not there, or what it does not show.
    problems: Vec<String>,
    /// The issued revision that stands for a text that may not go out.
    kept_at: Option<String>,
    /// Whether the guide was withdrawn.
    withdrawn: bool,
    /// Whether its file cannot be read.
    unread: bool,
}

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
    let mut workplace = Workplace::open(folder)?;
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
    let theme = Theme::new(&disk::read_theme(&folder.join("themes"))?, workplace.shop.language)?;
    theme.doubts.iter().for_each(|doubt| terminal::note(&format!("bayleaf: {doubt}")));
    let building = Building::start(target)?;
    let publisher = Publisher::new(&workplace.shop, &theme);
    let all: Vec<usize> = (0..workplace.guides.len()).collect();
    let results = workplace.each(&all, Keep::Bytes, |work, mut outcome| {
        if options.strict {
            make_strict(&mut outcome.findings);
        }
        one(&work, outcome, &publisher, &building, &workplace, Wanted { draft: options.draft, shop_held, sheets: !options.no_sheets })
    });
    let mut done = Vec::with_capacity(results.len());
    let wanted = Wanted { draft: options.draft, shop_held, sheets: !options.no_sheets };
    let making = Making { publisher: &publisher, workplace: &workplace, wanted, picture: &site::picture };
    let mut left = Vec::new();
    for (path, result) in workplace.guides.iter().zip(results) {
        match result {
            Ok(one) => done.push(one?),
            // What was issued of a guide that cannot be read stays; of one that was never issued there is nothing to show.
            Err(error) => match kept(path, &making, &building)? {
                Some((one, _)) => {
                    terminal::note(&format!("bayleaf: {error}"));
                    done.push(Done { unread: true, ..one });
                }
                None => return Err(error.into()),
            },
        }
    }
    for path in workplace.left()? {
        if let Some((one, revision)) = kept(&path, &making, &building)? {
            left.push((one, format!("{} (revision {revision})", path.slug)));
        }
    }
    finish(done, left, &workplace, &publisher, building, target, start, options.fewer_guides)
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
fn going(target: &Path, old: &[String], new: &[Written], insists: bool) -> Result<Vec<String>, DiskError> {
    let old = published(old.iter().map(String::as_str));
    let new = published(new.iter().map(|file| file.path.as_str()));
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

fn one(
    work: &Work<'_, '_>,
    mut outcome: Outcome,
    publisher: &Publisher<'_>,
    building: &Building,
    workplace: &Workplace,
    wanted: Wanted,
) -> Result<Done, Failure> {
    let (mut written, mut problems) = (Vec::new(), Vec::new());
    let mut put = |path: &str, bytes: &[u8]| -> Result<(), Failure> {
        written.push(building.write(path, bytes)?);
        Ok(())
    };
    let making = Making { publisher, workplace, wanted, picture: &site::picture };
    let twice = outcome.findings.iter().any(|finding| finding.rule == RuleName::SlugTwice);
    let path = workplace.path_of(work);
    let (mut summary, mut kept_at, mut withdrawn) = (None, None, false);
    if let (Some(reason), false) = (&work.guide.withdrawn, twice) {
        make::withdrawn(work, &reason.value, &making, &mut problems, &mut put)?;
        withdrawn = true;
        // Nobody works to it, whatever it says.
        outcome.findings.clear();
    } else {
        summary = make::guide(work, &mut outcome, &making, &mut problems, &mut put)?;
        if summary.is_none() && !twice {
            let last = make::last_issued(path, work.history, &making, &mut problems, &mut put)?;
            (summary, kept_at) = last.unzip();
        }
    }
    if summary.is_some() || withdrawn {
        let title = work.guide.title.as_ref().map_or(work.guide.slug.as_str(), |title| title.value.as_str());
        let number = work.guide.document.as_ref().map(|number| number.value.as_str());
        let at = work.guide.file.0 as usize - 1;
        make::moved(&work.guide.slug, &workplace.leads_here(at), title, number, publisher, &mut put)?;
    }
    let source = outcome.is_held().then(|| work.source.clone());
    Ok(Done { slug: work.guide.slug.clone(), summary, written, outcome, source, problems, kept_at, withdrawn, unread: false })
}

/// The last issued revision of a guide whose text cannot be had.
fn kept(path: &GuidePath, making: &Making<'_>, building: &Building) -> Result<Option<(Done, String)>, Failure> {
    let (mut written, mut problems) = (Vec::new(), Vec::new());
    let mut put = |path: &str, bytes: &[u8]| -> Result<(), Failure> {
        written.push(building.write(path, bytes)?);
        Ok(())
    };
    let Some((summary, revision)) = make::last_issued(path, &History::of(path), making, &mut problems, &mut put)? else { return Ok(None) };
    let done = Done {
        slug: path.slug.clone(),
        summary: Some(summary),
        written,
        outcome: Outcome::default(),
        source: None,
        problems,
        kept_at: Some(revision.clone()),
        withdrawn: false,
        unread: false,
    };
    Ok(Some((done, revision)))
}

/// Guides of which only issued revisions are left, each with its name and revision in words.
type Left = Vec<(Done, String)>;

#[expect(clippy::too_many_arguments, reason = "all that was made comes together here")]
fn finish(
    done: Vec<Done>,
    left: Left,
    workplace: &Workplace,
    publisher: &Publisher<'_>,
    building: Building,
    target: &Path,
    start: Instant,
    insists: bool,
) -> Result<Status, Failure> {
    let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
    let mut sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
    let mut holds: Vec<Finding> = workplace.shop_findings.iter().filter(|finding| finding.severity == Severity::Hold).cloned().collect();
    let (mut written, mut summaries, mut left_out, mut drafts) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let (mut kept_at, mut withdrawn) = (Vec::new(), Vec::new());
    let mut queries = 0;
    let mut problems = Vec::new();
    let unread = done.iter().any(|one| one.unread);
    let without_text: Vec<String> = left.iter().map(|(_, words)| words.clone()).collect();
    for (at, one) in done.into_iter().enumerate() {
        sources.extend(one.source.map(|source| (Workplace::file(at), source)));
        let count = one.outcome.count(Severity::Hold);
        queries += one.outcome.count(Severity::Query);
        holds.extend(one.outcome.findings.into_iter().filter(|finding| finding.severity == Severity::Hold));
        let named = format!("{} ({})", one.slug, counted(count, "hold", "holds"));
        match (&one.summary, &one.kept_at) {
            (Some(_), Some(revision)) => kept_at.push(format!(
                "{} at revision {revision}{}",
                one.slug,
                if count > 0 { format!(" ({})", counted(count, "hold", "holds")) } else { String::new() }
            )),
            (None, _) if one.withdrawn => withdrawn.push(one.slug.clone()),
            (None, _) => left_out.push(named),
            (Some(_), None) if count > 0 => drafts.push(named),
            (Some(_), None) => {}
        }
        problems.extend(one.problems);
        written.extend(one.written);
        summaries.extend(one.summary);
    }
    for (one, _) in left {
        problems.extend(one.problems);
        written.extend(one.written);
        summaries.extend(one.summary);
    }
    let (guides, steps) = (summaries.len(), summaries.iter().map(|summary| summary.line.steps).sum::<usize>());
    let pages = publisher.site(summaries, &handbook::chapters())?;
    let lists: Result<Vec<Written>, DiskError> = pages.par_iter().map(|(path, bytes)| building.write(path, bytes)).collect();
    written.extend(lists?);
    let files = written.len();
    let going = match going(target, &disk::published_paths(target)?, &written, insists) {
        Ok(going) => going,
        Err(error) => {
            show(&holds, &sources);
            return Err(error.into());
        }
    };
    let over = building.finish(written)?;
    show(&holds, &sources);
    terminal::note(&format!(
        "published {} with {} to {}: {files} files in {:.2} s",
        counted(guides, "guide", "guides"),
        counted(steps, "step", "steps"),
        target.display(),
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
    if let Some(over) = over {
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
    Ok(if holds.is_empty() && !shop_held && problems.is_empty() && !unread && without_text.is_empty() {
        Status::Done
    } else {
        Status::Findings
    })
}

fn show(findings: &[Finding], sources: &Sources) {
    let shown = text::findings(findings, sources, terminal::style());
    if !shown.is_empty() {
        terminal::drawn_note(shown.trim_end_matches('\n'));
    }
}
