//! `bayleaf records`: a folder of as-built records, each held against the text that it names.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use clap::{Args, ValueEnum};
use rayon::prelude::*;

use crate::cli::Status;
use crate::cli::failure::Failure;
use crate::cli::terminal::{self, counted};
use crate::cli::texts::{Library, Text};
use crate::cli::workplace::Workplace;
use crate::compare::{self, Difference, text};
use crate::disk;
use crate::document::Document;
use crate::document::chosen::Chosen;
use crate::document::facts;
use crate::record::listing::{self, FORMAT, Listing, RecordRow, Unread, VERSION};
use crate::record::{self, Record};

#[derive(Args)]
pub(super) struct Options {
    /// The folder with the records
    #[arg(value_name = "FOLDER")]
    records: PathBuf,
    /// Only records of this guide
    #[arg(long, value_name = "GUIDE")]
    guide: Option<String>,
    /// Only work done to this issued revision or an earlier one, with what changed since and calls for a look
    #[arg(long, value_name = "REVISION")]
    since: Option<String>,
    /// Only records in which this wrench was used
    #[arg(long, value_name = "NUMBER")]
    wrench: Option<String>,
    /// The form of the list
    #[arg(long = "as", value_enum, value_name = "FORM", default_value_t = Form::Text)]
    form: Form,
    /// Write the list into this file, whole or not at all, instead of to standard output
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

/// The form of the list.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Lines for the terminal
    Text,
    /// A table for other programs
    Csv,
    /// An object for other programs
    Json,
}

/// A text of a guide with the vehicle's options put in: as it was worked to, whole and as it applies, and what changed since.
struct Applied {
    whole: Document,
    applies: Document,
    changed: Vec<String>,
}

/// The texts that were put together before, by guide, fingerprint and options.
type Ready = Mutex<HashMap<(usize, String, Vec<String>, Vec<String>), Result<Arc<Applied>, String>>>;

struct Reader<'w> {
    library: Library<'w>,
    since: Option<&'w str>,
    ready: Ready,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    let workplace = Workplace::open(folder)?;
    let top = folder.join(&options.records);
    let files = disk::find_records(&top)?;
    let reader = Reader { library: Library::new(&workplace), since: options.since.as_deref(), ready: Ready::default() };
    if let Some(revision) = &options.since
        && let Some(why) = reader.never_issued(revision, options.guide.as_deref())
    {
        terminal::note(&format!("bayleaf: {why}"));
        return Ok(Status::Failed);
    }
    let read: Vec<Result<Option<RecordRow>, Unread>> = files.par_iter().map(|(shown, file)| reader.one(shown, file)).collect();
    let mut listing = Listing { format: FORMAT, version: VERSION, records: Vec::new(), unread: Vec::new() };
    let asked = |row: &RecordRow| {
        options
            .guide
            .as_ref()
            .is_none_or(|guide| row.guide == *guide || reader.library.guide(&row.guide).ok() == reader.library.guide(guide).ok())
            && options.wrench.as_ref().is_none_or(|number| row.wrenches.iter().any(|wrench| wrench.eq_ignore_ascii_case(number)))
    };
    for one in read {
        match one {
            Ok(row) => listing.records.extend(row.filter(asked)),
            Err(unread) => listing.unread.push(unread),
        }
    }
    let made = match options.form {
        Form::Text => listing::text(&listing),
        Form::Csv => listing::csv(&listing),
        Form::Json => serde_json::to_string_pretty(&listing)? + "\n",
    };
    match &options.to {
        Some(to) => {
            let to = folder.join(to);
            disk::write_report(&to, made.as_bytes())?;
            terminal::result(&format!("{}\n", to.display()));
        }
        None => terminal::result(&made),
    }
    // A table has no place for what is none of its rows.
    if options.form == Form::Csv {
        listing.unread.iter().for_each(|Unread { file, why }| terminal::note(&format!("not read: {file}: {why}")));
    }
    let open = listing.records.iter().filter(|row| row.is_open()).count();
    terminal::note(&format!(
        "{} of {}, {} open; {} not read",
        counted(listing.records.len(), "record", "records"),
        counted(files.len(), "file", "files"),
        open,
        listing.unread.len()
    ));
    Ok(if open + listing.unread.len() == 0 { Status::Done } else { Status::Findings })
}

impl Reader<'_> {
    /// Why nothing can be asked since a revision; none where one of the guides was issued in it.
    fn never_issued(&self, revision: &str, guide: Option<&str>) -> Option<String> {
        let guides: Vec<usize> = match guide {
            Some(guide) => match self.library.guide(guide) {
                Ok(at) => vec![at],
                Err(_) => return Some(format!("there is no guide `{guide}`")),
            },
            None => (0..self.library.count()).collect(),
        };
        let knows = |at: &usize| crate::cli::history::History::of(self.library.path(*at)).issue(revision).is_some();
        (!guides.iter().any(knows)).then(|| {
            format!(
                "revision {revision} was never issued{}; issue it with: bayleaf issue GUIDE",
                guide.map(|guide| format!(" of {guide}")).unwrap_or_default()
            )
        })
    }

    fn one(&self, shown: &str, file: &Path) -> Result<Option<RecordRow>, Unread> {
        let unread = |why: String| Unread { file: shown.to_owned(), why };
        let bytes = disk::read(file).map_err(|error| unread(error.cause.to_string()))?;
        let record = record::read(&bytes).map_err(|why| unread(why.why))?;
        let mut row = listing::row(shown, &record);
        match self.hold(&record, &mut row) {
            Ok(true) => Ok(Some(row)),
            Ok(false) => Ok(None),
            Err(why) => {
                // What changed since cannot be told of a text that nobody has; the vehicle stays in the list.
                row.text = why;
                Ok(Some(row))
            }
        }
    }

    /// Holds a record against its text; gives back whether it belongs into the list.
    fn hold(&self, record: &Record, row: &mut RecordRow) -> Result<bool, String> {
        let at = self.library.guide(&record.guide.slug)?;
        let texts = self.library.texts(at)?;
        let found = texts.of(record)?;
        if let Some(since) = self.since {
            let issues = &texts.history.issues;
            let last = issues.iter().position(|kept| kept.issued.revision == since);
            let here = match &found {
                Text::Issued(at) => Some(*at),
                Text::Present => None,
            };
            // Of a guide that was never issued in this revision nothing is asked.
            if last.is_none_or(|last| here.is_none_or(|here| here > last)) {
                return Ok(false);
            }
        }
        let applied = self.applied(at, &texts, &found, record)?;
        // A guide that was renamed is the same guide.
        let mut own = record.clone();
        own.guide.slug.clone_from(&applied.whole.head.slug);
        if let Some(why) = record::foreign(&own, &applied.whole) {
            return Err(why);
        }
        row.text = match found {
            Text::Issued(_) => "as issued".to_owned(),
            Text::Present => "as it stands".to_owned(),
        };
        row.proven = true;
        row.missing = record::check(&own, &applied.whole, &applied.applies);
        row.noted = listing::noted(&own, &applied.applies);
        row.changed.clone_from(&applied.changed);
        Ok(true)
    }

    fn applied(&self, at: usize, texts: &crate::cli::texts::Texts, found: &Text, record: &Record) -> Result<Arc<Applied>, String> {
        let key = (at, record.guide.fingerprint.clone(), record.options.with.clone(), record.options.without.clone());
        if let Some(ready) = self.ready.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return ready.clone();
        }
        let make = || {
            let whole = texts.document(found);
            let applied = |document: &Document| -> Result<Document, String> {
                let mut applies = document.clone();
                Chosen::new(&document.choices, &record.options.with, &record.options.without)
                    .map_err(|why| why.to_string())?
                    .apply(&mut applies);
                Ok(applies)
            };
            let applies = applied(&whole)?;
            let changed = match self.since {
                None => Vec::new(),
                Some(_) => {
                    // Options may have changed since: then everything is told.
                    let (old, new) = match applied(&texts.present) {
                        Ok(new) => (applies.clone(), new),
                        Err(_) => (whole.clone(), texts.present.clone()),
                    };
                    let all = compare::compare(&facts::of(&old, texts.hashes(found)), &facts::of(&new, &texts.hashes));
                    all.iter().filter(|difference| difference.calls_for_a_look()).map(phrase).collect()
                }
            };
            Ok(Arc::new(Applied { whole, applies, changed }))
        };
        let made: Result<Arc<Applied>, String> = make();
        self.ready.lock().unwrap_or_else(PoisonError::into_inner).insert(key, made.clone());
        made
    }
}

/// A difference in one phrase.
fn phrase(difference: &Difference) -> String {
    let line = text::line(difference).split_whitespace().collect::<Vec<_>>().join(" ");
    match &difference.step {
        Some(step) => format!("{}: {line}", step.name),
        None => line,
    }
}
