//! `bayleaf review`: reads every guide and reports what is missing or wrong.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::failure::Failure;
use crate::cli::report::{Form, Reported};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{Keep, NONE_FOUND, Workplace, make_strict};
use crate::cli::{Status, handbook, mend, report};
use crate::finding::{Former, Known, RuleName, Severity};
use crate::guide::questions;
use crate::near::{did_you_mean, nearest};
use crate::review::report::questions::Asked;
use crate::review::report::{Sources, text};
use crate::review::{self, Outcome};
use crate::source::FileId;

#[derive(Args)]
pub(super) struct Options {
    /// Review only these guides, by the name of their folder or file
    #[arg(value_name = "GUIDE")]
    guides: Vec<String>,
    /// Explain a rule instead of reviewing
    #[arg(long, value_name = "NAME", conflicts_with = "guides")]
    rule: Option<String>,
    /// Count queries as holds
    #[arg(long)]
    strict: bool,
    /// The form of the report
    #[arg(long = "as", value_enum, value_name = "FORM", default_value_t = Form::Text, conflicts_with = "rule")]
    form: Form,
    /// Write the report into this file, whole or not at all, instead of to standard output
    #[arg(long, value_name = "FILE", conflicts_with = "rule")]
    to: Option<PathBuf>,
    /// Make the certain repairs in the guides, then report what is left
    #[arg(long, conflicts_with = "rule")]
    mend: bool,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    if let Some(name) = &options.rule {
        return Ok(explain(name));
    }
    let workplace = Workplace::open(folder)?;
    let Some(wanted) = workplace.wanted(&options.guides) else { return Ok(Status::Failed) };
    let mut failed = options.mend && !mend::run(&workplace, &wanted);
    let mut sources = Sources::new();
    if workplace.shop.file.is_some() {
        sources.insert(FileId(0), workplace.shop_source.clone());
    }
    let mut outcomes = vec![Outcome { findings: workplace.shop_findings.clone(), ..Outcome::default() }];
    let (mut guides, mut asked) = (Vec::new(), Vec::new());
    let mut complete = true;
    let all = workplace.each(&wanted, Keep::Facts, |work, outcome| {
        let title = work.guide.title.as_ref().map(|title| title.value.clone());
        let asked = questions::questions(work.guide, &workplace.shop);
        (outcome, work.source.clone(), title, asked)
    });
    for (at, result) in wanted.iter().zip(all) {
        match result {
            Ok((outcome, source, title, questions)) => {
                let slug = workplace.guides[*at].slug.clone();
                asked.push(Asked { file: Workplace::file(*at), slug, questions });
                sources.insert(Workplace::file(*at), source);
                outcomes.push(outcome);
                guides.push((*at, title));
            }
            Err(error) => {
                terminal::note(&format!("bayleaf: {error}"));
                complete = false;
            }
        }
    }
    failed |= !complete;
    review::look_elsewhere(&mut outcomes);
    if options.strict {
        outcomes.iter_mut().for_each(|outcome| make_strict(&mut outcome.findings));
    }
    let reported = Reported { workplace: &workplace, guides, asked, outcomes: &outcomes, sources: &sources, complete };
    match report::write(&reported, options.form, folder, options.to.as_deref()) {
        Ok(()) => {}
        Err(error @ Failure::Disk(_)) => return Err(error),
        Err(error) => {
            terminal::note(&format!("bayleaf: {error}"));
            failed = true;
        }
    }
    let count = |severity| outcomes.iter().map(|outcome| outcome.count(severity)).sum::<usize>();
    let accepted = outcomes.iter().map(|outcome| outcome.accepted.len()).sum();
    let (holds, queries, remarks) = (count(Severity::Hold), count(Severity::Query), count(Severity::Remark));
    if wanted.is_empty() {
        terminal::note(NONE_FOUND);
    }
    terminal::note(&format!("{}: {}", counted(wanted.len(), "guide", "guides"), text::totals(holds, queries, remarks, accepted)));
    Ok(match (failed, holds) {
        (true, _) => Status::Failed,
        (false, 0) => Status::Done,
        (false, _) => Status::Findings,
    })
}

fn explain(name: &str) -> Status {
    let explained = |name| {
        terminal::result(&handbook::explanation(review::rule(name)));
        Status::Done
    };
    match RuleName::known(name) {
        Known::Current(name) => explained(name),
        Known::Former(Former::Renamed(now)) => {
            terminal::note(&format!("bayleaf: the rule `{name}` is now called `{now}`"));
            explained(now)
        }
        Known::Former(Former::Retired(why)) => {
            terminal::note(&format!("bayleaf: there is no rule `{name}` any more: {why}"));
            Status::Failed
        }
        Known::Never => {
            let near = nearest(name, RuleName::ALL.iter().map(|rule| rule.name()));
            let known: Vec<&str> = RuleName::ALL.iter().map(|rule| rule.name()).collect();
            terminal::note(&format!("bayleaf: there is no rule `{name}`{}\nthe rules are: {}", did_you_mean(near), known.join(", ")));
            Status::Failed
        }
    }
}
