//! `bayleaf compare`: two states of a guide, or of all guides in two folders, by facts.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use crate::cli::Status;
use crate::cli::failure::Failure;
use crate::cli::history::{self, History};
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Keep, Workplace};
use crate::compare::text::Comparison;
use crate::compare::{self, Difference, json, text};
use crate::disk;
use crate::document::Document;
use crate::document::build::{self, Input};
use crate::document::facts::{self, Hashes, Sort};
use crate::document::phrase::date;
use crate::guide;
use crate::guide::picture::Pictures;
use crate::issued::changed_of_shop;
use crate::site::{self, comparison};
use crate::source::{FileId, SourceFile};
use crate::theme::Theme;

#[derive(Args)]
pub(super) struct Options {
    /// The old state: GUIDE, GUIDE@REVISION, GUIDE@REF of the version control, or a folder that holds guides/
    #[arg(value_name = "OLD")]
    old: String,
    /// The new state; without it, the guide as it stands
    #[arg(value_name = "NEW")]
    new: Option<String>,
    /// The form of the report
    #[arg(long = "as", value_enum, value_name = "FORM", default_value_t = Form::Text)]
    form: Form,
    /// Write the report into this file, whole or not at all, instead of to standard output
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

/// The form of the report.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Lines for the terminal
    Text,
    /// For other programs
    Json,
    /// One HTML page with both sides
    Page,
}

/// A state of a guide.
struct Side {
    document: Document,
    hashes: Hashes,
    words: String,
    shop_text: String,
}

/// Why a state cannot be had: a sentence for people.
type Refused = String;

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    let is_folder = |name: &str| folder.join(name).join(GUIDES).is_dir();
    let compared = if is_folder(&options.old) {
        let new = options.new.as_deref().unwrap_or(".");
        if !is_folder(new) {
            terminal::note(&format!(
                "bayleaf: {} is a folder of guides and {new} is not; name two folders that hold {GUIDES}/",
                options.old
            ));
            return Ok(Status::Failed);
        }
        folders(&Workplace::open(&folder.join(&options.old))?, &Workplace::open(&folder.join(new))?)
    } else {
        one(folder, &Workplace::open(folder)?, options).map(|one| (vec![one], Vec::new()))
    };
    let (comparisons, notes) = match compared {
        Ok(compared) => compared,
        Err(why) => {
            terminal::note(&format!("bayleaf: {why}"));
            return Ok(Status::Failed);
        }
    };
    notes.iter().for_each(|note| terminal::note(note));
    let made = match options.form {
        Form::Text => comparisons.iter().map(text::write).collect::<Vec<_>>().join("\n"),
        Form::Json => json::write(&comparisons)?,
        Form::Page => {
            let shop = Workplace::open(folder).map_or_else(|_| guide::shop::unnamed(), |workplace| workplace.shop);
            let theme = Theme::new(&disk::read_theme(&folder.join("themes"))?, shop.language)?;
            let bytes = site::compared(&comparison::page(&comparisons, &shop, &theme), &theme)?;
            String::from_utf8_lossy(&bytes).into_owned()
        }
    };
    match &options.to {
        Some(to) => {
            let to = folder.join(to);
            disk::write_report(&to, made.as_bytes())?;
            terminal::result(&format!("{}\n", to.display()));
        }
        None => terminal::result(&made),
    }
    let differences: usize = comparisons.iter().map(|comparison| comparison.differences.len()).sum();
    terminal::note(&format!("{}, {}", counted(comparisons.len(), "guide", "guides"), counted(differences, "difference", "differences")));
    Ok(if differences + notes.len() == 0 { Status::Done } else { Status::Findings })
}

/// One guide in two states.
fn one(folder: &Path, workplace: &Workplace, options: &Options) -> Result<Comparison, Refused> {
    let split = |state: &str| {
        let (name, at) = state.split_once('@').map_or((state, None), |(name, at)| (name, Some(at.to_owned())));
        (name.to_owned(), at)
    };
    let (name, old) = split(&options.old);
    let at = guide_at(workplace, &name)?;
    let (new_at, new) = match options.new.as_deref().map(split) {
        Some((name, new)) => (guide_at(workplace, &name)?, new),
        None => (at, None),
    };
    let history = History::of(&workplace.guides[at]);
    let last = || {
        let now = workplace.revision(at);
        let kept = now.as_deref().and_then(|now| history.issue(now)).or(history.issues.last());
        kept.map(|kept| kept.issued.revision.clone())
    };
    let old = match (old, &options.new) {
        (Some(old), _) => Some(old),
        (None, Some(_)) => None,
        (None, None) => Some(last().ok_or_else(|| {
            format!("nothing was issued of {name} yet, so there is nothing to compare it with; name a state, such as {name}@HEAD of the version control, or issue it with: bayleaf issue {name}")
        })?),
    };
    let (old, new) = (side(folder, workplace, at, old.as_deref())?, side(folder, workplace, new_at, new.as_deref())?);
    Ok(compared(&old, &new, Some((workplace, new_at))))
}

fn guide_at(workplace: &Workplace, name: &str) -> Result<usize, Refused> {
    workplace.wanted(&[name.to_owned()]).and_then(|wanted| wanted.first().copied()).ok_or_else(|| format!("`{name}` cannot be compared"))
}

/// A guide in one state.
fn side(folder: &Path, workplace: &Workplace, at: usize, state: Option<&str>) -> Result<Side, Refused> {
    let path = &workplace.guides[at];
    let Some(state) = state else { return present(workplace, at) };
    let history = History::of(path);
    if let Some(kept) = history.issue(state) {
        let issued = &kept.issued;
        let document = issued.document(&path.slug, &history::stand_ins(issued));
        return Ok(Side { document, hashes: issued.pictures.clone(), words: history::words(issued), shop_text: issued.shop.clone() });
    }
    if let Some((file, why)) =
        history.damaged.iter().find(|(file, _)| file.ends_with(&format!("/{}", crate::issued::Issued::file_name(state))))
    {
        return Err(format!("{file} cannot be used: {why}"));
    }
    let issued: Vec<&str> = history.issues.iter().map(|kept| kept.issued.revision.as_str()).collect();
    let known = if issued.is_empty() { "nothing was issued of it".to_owned() } else { format!("issued were {}", issued.join(", ")) };
    let read = |file: &Path| disk::read_at_state(folder, state, file);
    let refused = |why: String| format!("there is no revision `{state}` of {} ({known}), and no such state: {why}", path.slug);
    let text = read(&path.file).map_err(refused)?;
    let shop_text =
        String::from_utf8_lossy(&read(&workplace.shop_path).map_err(|why| format!("the shop file cannot be had at `{state}`: {why}"))?)
            .into_owned();
    let shop = guide::read_shop(&SourceFile::new("shop.toml", shop_text.as_str()), FileId(0)).0;
    let source = SourceFile::from_bytes(path.shown.clone(), text).0;
    let (guide, _) = guide::read(&source, FileId(1), &path.slug, &shop);
    let (mut pictures, mut hashes) = (Pictures::new(), Hashes::new());
    for picture in guide.words().flat_map(|prose| &prose.pictures) {
        let address = &picture.source.value;
        if let Ok(bytes) = read(&path.file.with_file_name(address)) {
            hashes.insert(address.clone(), disk::hash(&bytes));
            pictures.insert(address.clone(), guide::picture::examine(&bytes));
        }
    }
    let document = build::document(&guide, &shop, &Input { pictures: &pictures, hashes: &hashes, fingerprint: None, draft: false });
    let words = format!("{state}: {}", state_words(&document));
    Ok(Side { document, hashes, words, shop_text })
}

fn state_words(document: &Document) -> String {
    let revision = document.head.revision.as_ref().map_or("without revision".to_owned(), |revision| format!("revision {revision}"));
    let issued = document.head.issued.map(|day| format!(", {}", date(day))).unwrap_or_default();
    format!("{revision}{issued} ({})", document.fingerprint)
}

/// A guide as it stands.
fn present(workplace: &Workplace, at: usize) -> Result<Side, Refused> {
    let read = workplace.each(&[at], Keep::Bytes, |work, _| {
        let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint: None, draft: false };
        let document = build::document(work.guide, &workplace.shop, &input);
        let words = format!("as it stands: {}", state_words(&document));
        Side { document, hashes: work.hashes.clone(), words, shop_text: workplace.shop_source.text.clone() }
    });
    read.into_iter().next().ok_or("there is no such guide")?.map_err(|error| error.to_string())
}

fn compared(old: &Side, new: &Side, place: Option<(&Workplace, usize)>) -> Comparison {
    let differences = compare::compare(&facts::of(&old.document, &old.hashes), &facts::of(&new.document, &new.hashes));
    let touched = touched(&differences, old, new, place);
    Comparison {
        slug: new.document.head.slug.clone(),
        title: new.document.head.title.clone(),
        old: old.words.clone(),
        new: new.words.clone(),
        differences,
        touched,
    }
}

/// What the differences reach.
fn touched(differences: &[Difference], old: &Side, new: &Side, place: Option<(&Workplace, usize)>) -> Vec<String> {
    if differences.is_empty() {
        return Vec::new();
    }
    let any = |sorts: &[Sort]| differences.iter().any(|difference| sorts.contains(&difference.sort));
    let mut touched = vec!["the page of the guide, and its checklists".to_owned()];
    let document = &new.document;
    if any(&[Sort::Torque, Sort::Tightening, Sort::Hardware, Sort::Operation, Sort::Step]) && !document.torques.is_empty() {
        let vehicles: Vec<&str> = document.head.fits.iter().map(|vehicle| vehicle.name.as_str()).collect();
        touched.push(format!(
            "its torque sheet, and the values on the wall of {}",
            if vehicles.is_empty() { "no vehicle".to_owned() } else { vehicles.join(", ") }
        ));
    }
    if any(&[Sort::Part, Sort::Hardware]) {
        touched.push("its packing list".to_owned());
    }
    for step in document.steps().filter(|step| !step.called.is_empty()) {
        let here = |difference: &&Difference| difference.step.as_ref().is_some_and(|place| place.id == step.id);
        if differences.iter().filter(here).any(Difference::calls_for_a_look) {
            let pictures: Vec<&str> = step.called.iter().map(|picture| picture.address.as_str()).collect();
            touched.push(format!("the callouts on {} in step {}: see whether they still fit", pictures.join(", "), step.number));
        }
    }
    if let Some((workplace, at)) = place {
        let ids = changed_of_shop(&old.shop_text, &new.shop_text);
        let mut others: BTreeMap<String, Vec<&str>> = BTreeMap::new();
        for (other, path) in workplace.guides.iter().enumerate().filter(|(other, _)| *other != at) {
            let used = workplace.ids_in(other);
            for id in ids.iter().filter(|id| used.contains(*id)) {
                others.entry(path.slug.clone()).or_default().push(id);
            }
        }
        touched.extend(others.into_iter().map(|(slug, ids)| format!("the guide {slug}, which uses {} of the shop file", ids.join(", "))));
    }
    touched
}

/// All guides of two folders.
fn folders(old: &Workplace, new: &Workplace) -> Result<(Vec<Comparison>, Vec<String>), Refused> {
    let (mut comparisons, mut notes) = (Vec::new(), Vec::new());
    for (at, path) in new.guides.iter().enumerate() {
        match old
            .guides
            .iter()
            .position(|known| known.slug == path.slug)
            .or_else(|| old.guides.iter().position(|known| new.was(at).any(|was| was == known.slug)))
        {
            Some(was) => {
                let comparison = compared(&present(old, was)?, &present(new, at)?, Some((new, at)));
                comparisons.extend(Some(comparison).filter(|comparison| !comparison.differences.is_empty()));
            }
            None => notes.push(format!("new: {}", path.slug)),
        }
    }
    let is_there = |slug: &str| new.guides.iter().enumerate().any(|(at, known)| known.slug == slug || new.was(at).any(|was| was == slug));
    notes.extend(old.guides.iter().filter(|path| !is_there(&path.slug)).map(|path| format!("gone: {}", path.slug)));
    Ok((comparisons, notes))
}
