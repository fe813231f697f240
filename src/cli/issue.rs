//! `bayleaf issue`: keeps the text of a revision beside its guide, after asking whether it may be issued.

use std::path::Path;

use clap::Args;

use crate::cli::Status;
use crate::cli::failure::Failure;
use crate::cli::history;
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{Keep, Work, Workplace};
use crate::disk;
use crate::document::Document;
use crate::document::build::{self, Input};
use crate::document::phrase::date;
use crate::finding::{Finding, RuleName, Severity};
use crate::issued::{Issued, used_of_shop};
use crate::review::Outcome;
use crate::review::report::{Sources, text};
use crate::source::FileId;

#[derive(Args)]
pub(super) struct Options {
    /// The guides, by the name of their folder or file
    #[arg(value_name = "GUIDE", required = true)]
    guides: Vec<String>,
    /// Only ask whether they may be issued, and write nothing
    #[arg(long)]
    check: bool,
}

/// What is to be kept of a guide, or why it is not.
enum Asked {
    /// It may be issued.
    May(Box<ToKeep>),
    /// It was issued before, as it stands.
    Was(String),
    /// It may not.
    MayNot(String),
}

struct ToKeep {
    issued: Issued,
    pictures: Vec<(String, Vec<u8>)>,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    let workplace = Workplace::open(folder)?;
    let Some(wanted) = workplace.wanted(&options.guides) else { return Ok(Status::Failed) };
    let asked = workplace.each(&wanted, Keep::Bytes, |work, outcome| {
        let sources = Sources::from([(FileId(0), workplace.shop_source.clone()), (work.guide.file, work.source.clone())]);
        let in_the_way: Vec<Finding> = in_the_way(&workplace, &outcome).into_iter().cloned().collect();
        let shown = text::findings(&in_the_way, &sources, terminal::style());
        (shown, ask(&workplace, &work, &in_the_way))
    });
    let mut status = Status::Done;
    for (at, asked) in wanted.into_iter().zip(asked) {
        let path = &workplace.guides[at];
        let slug = &path.slug;
        let (shown, asked) = asked?;
        if !shown.is_empty() {
            terminal::drawn_note(shown.trim_end_matches('\n'));
        }
        match asked {
            Asked::May(keep) => {
                let ToKeep { issued, pictures } = *keep;
                let told =
                    format!("{slug}: revision {}, issued {}, fingerprint {}", issued.revision, date(issued.issued), issued.fingerprint);
                if options.check {
                    terminal::note(&format!("{told}: it may be issued"));
                    continue;
                }
                let pictures: Vec<(String, &[u8])> = pictures.iter().map(|(name, bytes)| (name.clone(), bytes.as_slice())).collect();
                let file = disk::keep_issued(path, &Issued::file_name(&issued.revision), &issued.write(), &pictures)?;
                terminal::note(&format!("{told}; put the folder {} under version control with the guide", path.issued_shown()));
                terminal::result(&format!("{}\n", file.display()));
            }
            Asked::Was(told) => terminal::note(&format!("{slug}: {told}")),
            Asked::MayNot(why) => {
                terminal::note(&format!("bayleaf: {slug} is not issued: {why}"));
                status = Status::Findings;
            }
        }
    }
    Ok(status)
}

/// What has to be mended before the guide can be issued: holds, and what contradicts or is not told of the revision itself.
fn in_the_way<'f>(workplace: &'f Workplace, outcome: &'f Outcome) -> Vec<&'f Finding> {
    let of_the_revision = |finding: &Finding| {
        matches!(finding.rule, RuleName::RevisionMissing | RuleName::RevisionContradicts | RuleName::ChangeUntold | RuleName::DocumentTwice)
    };
    workplace
        .shop_findings
        .iter()
        .filter(|finding| finding.severity == Severity::Hold)
        .chain(outcome.findings.iter().filter(|finding| finding.severity == Severity::Hold || of_the_revision(finding)))
        .collect()
}

fn ask(workplace: &Workplace, work: &Work<'_, '_>, in_the_way: &[Finding]) -> Asked {
    if !in_the_way.is_empty() {
        return Asked::MayNot(format!("{} above to be mended first", counted(in_the_way.len(), "finding", "findings")));
    }
    let guide = work.guide;
    let (Some(revision), Some(issued)) = (&guide.revision, guide.issued) else {
        return Asked::MayNot("it has no `revision` or no `issued`; write both into its head".to_owned());
    };
    if let Some(kept) = work.history.issue(&revision.value) {
        // Whether it is the same text was asked by the review.
        return Asked::Was(format!("{} is kept already in {} beside the guide", history::words(&kept.issued), kept.shown));
    }
    if let Some((file, _)) =
        work.history.damaged.iter().find(|(file, _)| file.ends_with(&format!("/{}", Issued::file_name(&revision.value))))
    {
        return Asked::MayNot(format!("{file} is there already and cannot be used; put it back as it was issued"));
    }
    if let Some(last) = work.history.issues.last().filter(|last| last.issued.issued > issued.value) {
        return Asked::MayNot(format!(
            "its day of issue, {}, lies before that of revision {}, {}; write the day on which this one is issued",
            date(issued.value),
            last.issued.revision,
            date(last.issued.issued)
        ));
    }
    let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint: None, draft: false };
    let document: Document = build::document(guide, &workplace.shop, &input);
    let whole = Issued {
        slug: guide.slug.clone(),
        document: document.head.document.clone(),
        revision: revision.value.clone(),
        issued: issued.value,
        fingerprint: document.fingerprint.clone(),
        pictures: work.hashes.clone(),
        guide: work.source.text.clone(),
        shop: workplace.shop_source.text.clone(),
    };
    let small = Issued { shop: used_of_shop(&whole.shop, &whole.guide), ..whole.clone() };
    // What is kept has to give the document again that is issued. Where the small form does not, all of the shop file is kept.
    let again = |issued: &Issued| {
        Issued::read(issued.write().as_bytes()).is_ok_and(|read| read.fingerprint_now(&history::stand_ins(&read)) == document.fingerprint)
    };
    let Some(issued) = [small, whole].into_iter().find(again) else {
        return Asked::MayNot(
            "its text cannot be kept so that it gives the same document again; please report this with the guide".to_owned(),
        );
    };
    let pictures = work.picture_bytes.iter().map(|(address, bytes)| (Issued::picture_name(address, &work.hashes[address]), bytes.clone()));
    Asked::May(Box::new(ToKeep { pictures: pictures.collect(), issued }))
}
