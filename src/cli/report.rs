//! Carries what the review found to the report that was asked for, and the report to where it was asked for.

use std::collections::BTreeMap;
use std::path::Path;

use clap::ValueEnum;

use crate::cli::failure::Failure;
use crate::cli::terminal;
use crate::cli::workplace::Workplace;
use crate::disk::{self, DiskError};
use crate::finding::Finding;
use crate::review::report::questions::{self, Asked};
use crate::review::report::{PROGRAM, Results, Reviewed, Sources, json, sarif, text};
use crate::review::{Outcome, rules};
use crate::reviewer::{self, Input, InputFile};
use crate::source::FileId;
use crate::theme::Theme;

/// The forms of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// For people at the terminal
    Text,
    /// For programs: the handbook lists its fields
    Json,
    /// SARIF 2.1.0, for code hosts and editors
    Sarif,
    /// One HTML file: every source with its findings under their lines
    Page,
    /// What nobody knows yet, by who can answer
    Questions,
    /// The same for programs: the handbook lists its fields
    QuestionsJson,
}

/// What came of reviewing a workplace.
pub(super) struct Reported<'r> {
    /// The workplace.
    pub(super) workplace: &'r Workplace,
    /// The guides that were reviewed, by their index, with their titles.
    pub(super) guides: Vec<(usize, Option<String>)>,
    /// What nobody knows yet in each of them.
    pub(super) asked: Vec<Asked>,
    /// Of the shop file and the guides.
    pub(super) outcomes: &'r [Outcome],
    /// Their texts.
    pub(super) sources: &'r Sources,
    /// Whether every guide could be read.
    pub(super) complete: bool,
}

/// Writes the report to `to`, or to standard output.
pub(super) fn write(reported: &Reported<'_>, form: Form, folder: &Path, to: Option<&Path>) -> Result<(), Failure> {
    let made = made(reported, form, folder, if to.is_some() { terminal::FILE } else { terminal::style() })?;
    let Some(to) = to else {
        match form {
            Form::Text => terminal::drawn(&made),
            Form::Questions => terminal::result(&made),
            Form::Json | Form::Sarif | Form::Page | Form::QuestionsJson => terminal::data(&made),
        }
        return Ok(());
    };
    let to = folder.join(to);
    let workplace = reported.workplace;
    let mut ours = workplace.guides.iter().map(|guide| guide.file.as_path()).chain([workplace.shop_path.as_path()]);
    if ours.any(|file| disk::is_same_file(file, &to)) {
        let why = "it is one of the files that were reviewed; name another one with --to";
        return Err(DiskError::refused(to, "write the report to", why).into());
    }
    let bytes = if matches!(form, Form::Text | Form::Questions) { terminal::harmless(&made, false).into_owned() } else { made };
    Ok(disk::write_report(&to, bytes.as_bytes())?)
}

/// The report as text.
pub(super) fn made(reported: &Reported<'_>, form: Form, folder: &Path, style: text::Style) -> Result<String, Failure> {
    Ok(match form {
        Form::Text => plain_text(reported, style),
        Form::Json => json::text(&results(reported))?,
        Form::Questions => questions::text(&reported.asked, &results(reported)),
        Form::QuestionsJson => questions::json(&reported.asked, &results(reported))?,
        Form::Sarif => sarif::text(&results(reported))?,
        Form::Page => page(reported, &Theme::new(&disk::read_theme(&folder.join("themes"))?, reported.workplace.shop.language)?)?,
    })
}

fn plain_text(reported: &Reported<'_>, style: text::Style) -> String {
    let all: Vec<Finding> = reported.outcomes.iter().flat_map(|outcome| outcome.findings.iter().cloned()).collect();
    let mut shown = text::findings(&all, reported.sources, style);
    for (finding, reason) in reported.outcomes.iter().flat_map(|outcome| &outcome.accepted) {
        let place = place(finding, reported.sources);
        // No drawer looks at these, so nothing in them may pass for a colour of ours.
        let accepted = format!("accepted  {}\n     {place}, rule {}\n     because {reason}\n\n", finding.message, finding.rule);
        shown.push_str(&terminal::harmless(&accepted, false));
    }
    for weight in &reported.workplace.shop.weights {
        shown.push_str(&format!(
            "weighed  rule {} is set to {} in this shop\n     because {}\n\n",
            weight.rule.value, weight.severity.value, weight.reason.value
        ));
    }
    shown
}

fn place(finding: &Finding, sources: &Sources) -> String {
    sources.get(&finding.place.file).map_or_else(String::new, |source| {
        let position = source.position(finding.place.span.start);
        format!("{}:{}:{}", source.path, position.line, position.column)
    })
}

fn results<'r>(reported: &Reported<'r>) -> Results<'r> {
    let workplace = reported.workplace;
    let guides = reported.guides.iter().map(|(at, _)| Reviewed { file: Workplace::file(*at), slug: workplace.guides[*at].slug.clone() });
    Results {
        guides: guides.collect(),
        findings: reported.outcomes.iter().flat_map(|outcome| &outcome.findings).collect(),
        accepted: reported
            .outcomes
            .iter()
            .flat_map(|outcome| &outcome.accepted)
            .map(|(finding, reason)| (finding, reason.as_str()))
            .collect(),
        weights: &workplace.shop.weights,
        sources: reported.sources,
        folder: &workplace.folder,
        complete: reported.complete,
    }
}

/// The reviewer's page with a theme that is ready.
pub(super) fn page(reported: &Reported<'_>, theme: &Theme) -> Result<String, Failure> {
    let results = results(reported);
    let shop = &reported.workplace.shop;
    let titles: BTreeMap<FileId, &Option<String>> = reported.guides.iter().map(|(at, title)| (Workplace::file(*at), title)).collect();
    let files = reported.sources.iter().map(|(&file, source)| {
        let title = titles.get(&file).and_then(|title| (*title).clone());
        (file, InputFile { source, path: results.path(source), title })
    });
    let input = Input {
        program: PROGRAM,
        shop: &shop.name,
        language: shop.language.code(),
        deferral: &shop.deferral,
        guides: reported.guides.len(),
        files: files.collect(),
        findings: results.findings.clone(),
        accepted: results.accepted.clone(),
        rules: rules::ALL.iter().map(|rule| (rule.name.name(), rule.text.summary)).collect(),
    };
    let bytes = reviewer::render(&reviewer::page(&input, theme), theme)?;
    // The template engine writes text.
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
