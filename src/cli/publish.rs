//! `bayleaf publish`: reviews every guide and makes the site from those that may go out.

use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::Args;
use rayon::prelude::*;

use crate::cli::failure::Failure;
use crate::cli::make::{self, Making, Wanted};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Keep, NONE_FOUND, Work, Workplace, make_strict};
use crate::cli::{Status, handbook, sheets};
use crate::disk::{self, Building, DiskError, Written};
use crate::finding::{Finding, Severity};
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
    #[arg(long)]
    draft: bool,
    /// Count queries as holds
    #[arg(long)]
    strict: bool,
    /// Leave out the checklists as PDF, which take most of the time in a large shop
    #[arg(long)]
    no_sheets: bool,
}

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
    if options.strict {
        make_strict(&mut workplace.shop_findings);
    }
    let shop_held = workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
    if shop_held && !options.draft {
        let sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
        show(&workplace.shop_findings, &sources);
        terminal::note("every guide leans on the shop file, so nothing is published until its holds are mended (or with --draft)");
        return Ok(Status::Findings);
    }
    let theme = Theme::new(&disk::read_theme(&folder.join("themes"))?)?;
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
    for result in results {
        done.push(result??);
    }
    finish(done, &workplace, &publisher, building, target, start, shop_held)
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
    let summary = make::guide(work, &mut outcome, &making, &mut problems, &mut put)?;
    let source = outcome.is_held().then(|| work.source.clone());
    Ok(Done { slug: work.guide.slug.clone(), summary, written, outcome, source, problems })
}

fn finish(
    done: Vec<Done>,
    workplace: &Workplace,
    publisher: &Publisher<'_>,
    building: Building,
    target: &Path,
    start: Instant,
    shop_held: bool,
) -> Result<Status, Failure> {
    let mut sources = Sources::from([(FileId(0), workplace.shop_source.clone())]);
    let mut holds: Vec<Finding> = workplace.shop_findings.iter().filter(|finding| finding.severity == Severity::Hold).cloned().collect();
    let (mut written, mut summaries, mut left_out, mut drafts) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut queries = 0;
    let mut problems = Vec::new();
    for (at, one) in done.into_iter().enumerate() {
        sources.extend(one.source.map(|source| (Workplace::file(at), source)));
        let count = one.outcome.count(Severity::Hold);
        queries += one.outcome.count(Severity::Query);
        holds.extend(one.outcome.findings.into_iter().filter(|finding| finding.severity == Severity::Hold));
        let named = format!("{} ({})", one.slug, counted(count, "hold", "holds"));
        match &one.summary {
            None => left_out.push(named),
            Some(_) if count > 0 => drafts.push(named),
            Some(_) => {}
        }
        problems.extend(one.problems);
        written.extend(one.written);
        summaries.extend(one.summary);
    }
    let (guides, steps) = (summaries.len(), summaries.iter().map(|summary| summary.line.steps).sum::<usize>());
    let pages = publisher.site(summaries, &handbook::chapters())?;
    let lists: Result<Vec<Written>, DiskError> = pages.par_iter().map(|(path, bytes)| building.write(path, bytes)).collect();
    written.extend(lists?);
    let files = written.len();
    let left = building.finish(written)?;
    show(&holds, &sources);
    terminal::note(&format!(
        "published {} with {} to {}: {files} files in {:.2} s",
        counted(guides, "guide", "guides"),
        counted(steps, "step", "steps"),
        target.display(),
        start.elapsed().as_secs_f64()
    ));
    if guides + left_out.len() == 0 {
        terminal::note(NONE_FOUND);
    }
    for (what, names) in [("left out", &left_out), ("published as NOT RELEASED", &drafts)] {
        if !names.is_empty() {
            terminal::note(&format!("{what}: {}", names.join(", ")));
        }
    }
    if let Some(left) = left {
        terminal::note(&format!("the new site stands, and the old one could not be removed: {left}"));
    }
    problems.iter().for_each(|problem| terminal::note(problem));
    if !sheets::CAN_BE_MADE {
        terminal::note("no sheets as PDF were made: this bayleaf was built without them");
    }
    if queries > 0 {
        terminal::note(&format!("{} to answer: run bayleaf review", counted(queries, "query", "queries")));
    }
    terminal::result(&format!("{}\n", target.join("index.html").display()));
    Ok(if holds.is_empty() && !shop_held && problems.is_empty() { Status::Done } else { Status::Findings })
}

fn show(findings: &[Finding], sources: &Sources) {
    let shown = text::findings(findings, sources, terminal::style());
    if !shown.is_empty() {
        terminal::drawn_note(shown.trim_end_matches('\n'));
    }
}
