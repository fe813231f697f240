//! `bayleaf draft`: a talk becomes the first draft of a guide; what it leaves out is told at the end. A guide that is there is never touched.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::Status;
use crate::cli::failure::Failure;
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Keep, Workplace};
use crate::disk::{self, DiskError};
use crate::draft::{self, Heard, Judged, write};
use crate::finding::{Finding, RuleName};
use crate::guide::facts::slug_of;
use crate::narration::{self, Narration, clock};
use crate::source::SourceFile;
use crate::wording::lexicon::{Lexicon, built_in};

/// A file of subtitles is far smaller.
const LARGEST: u64 = 8 << 20;
/// The words of a shop's own.
const WORDS: &str = "words.txt";
/// What the draft needs of a shop, where there is none.
const SHOP: &str = "# Written for a first draft. The name stands on every page and sheet: put yours in its place.\nname = \"Your shop\"\n";

#[derive(Args)]
pub(super) struct Options {
    /// Subtitles (WebVTT, SRT), dictated notes or plain instructions; - reads them from standard input
    #[arg(value_name = "NARRATION")]
    narration: PathBuf,
    /// The guide to write, guides/<name>/guide.md; without it, named after the narration
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// What the guide does, as a command
    #[arg(long, value_name = "WORDS")]
    title: Option<String>,
    /// Where the talk can be watched: an address, or a file beside the guide
    #[arg(long, value_name = "ADDRESS")]
    video: Option<String>,
    /// A second text, such as the supplier's sheet: what differs becomes a question of the draft
    #[arg(long, value_name = "SHEET")]
    against: Option<PathBuf>,
    #[cfg(feature = "sheets")]
    /// Write the questions of the draft as a sheet to print, each with its moment in the talk
    #[arg(long, value_name = "FILE")]
    ask: Option<PathBuf>,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, Failure> {
    let refuse = |why: &str| {
        terminal::note(&format!("bayleaf: no draft of {}: {why}", options.narration.display()));
        Ok(Status::Failed)
    };
    let Some((slug, file)) = target(folder, options) else {
        let to = options.to.as_deref().unwrap_or(&options.narration).display();
        terminal::note(&format!(
            "bayleaf: `{to}` is no place of a guide: write --to guides/<name>/guide.md, the name in lower-case letters, digits and hyphens"
        ));
        return Ok(Status::Failed);
    };
    if std::path::Path::exists(&file) {
        return Err(DiskError::refused(file, "write", "it is there already; a draft never takes the place of a guide").into());
    }
    let narration = match narration::read(&given(&options.narration)?) {
        Ok(narration) => narration,
        Err(why) => return refuse(&why),
    };
    let own = words_of(folder)?;
    let lexicon = match own.as_deref().map(Lexicon::with).transpose() {
        Ok(own) => own,
        Err(why) => {
            terminal::note(&format!("bayleaf: {}: {why}", folder.join(GUIDES).join(WORDS).display()));
            return Ok(Status::Failed);
        }
    };
    let lexicon = lexicon.as_ref().unwrap_or(built_in());
    let mut heard = draft::read(&narration, lexicon);
    if let Judged::No(why) = draft::judge(&narration, &heard) {
        return refuse(&why);
    }
    let sheet = match &options.against {
        None => None,
        Some(path) => match narration::read(&given(path)?) {
            Ok(sheet) => {
                let told = draft::read(&sheet, lexicon);
                Some((sheet, told))
            }
            Err(why) => {
                terminal::note(&format!("bayleaf: {} is no second text: {why}", path.display()));
                return Ok(Status::Failed);
            }
        },
    };
    if let Some((sheet, told)) = &sheet {
        draft::against(&mut heard, &narration, told, sheet);
    }
    // Without a shop the draft brings what it needs.
    let shop_file = folder.join(GUIDES).join(disk::SHOP_FILE);
    if !shop_file.exists() {
        disk::write_new(&shop_file, SHOP.as_bytes())?;
        terminal::note(&format!("there was no {}, so one was written with nothing but a name to change", shop_file.display()));
    }
    let workplace = Workplace::open(folder)?;
    if let Some(there) = workplace.guides.iter().find(|guide| guide.slug == slug) {
        return Err(DiskError::refused(there.file.clone(), "write", "there is a guide of this name; choose another with --to").into());
    }
    let written = writing(&workplace, &heard, &narration, &slug, options);
    disk::write_new(&file, written.text.as_bytes())?;
    terminal::result(&format!("{}\n", file.display()));
    narration.remarks.iter().for_each(|remark| terminal::note(remark));
    summary(folder, &slug, &heard, &narration, &written)?;
    #[cfg(feature = "sheets")]
    if let Some(ask) = &options.ask {
        return Ok(crate::cli::print::questions(folder, &slug, &folder.join(ask))?);
    }
    Ok(Status::Done)
}

fn given(path: &Path) -> Result<Vec<u8>, DiskError> {
    if path == Path::new("-") { disk::piped(LARGEST) } else { disk::given(path, LARGEST) }
}

/// The words that the shop adds to those of the trade.
fn words_of(folder: &Path) -> Result<Option<String>, DiskError> {
    let path = folder.join(GUIDES).join(WORDS);
    if !path.exists() {
        return Ok(None);
    }
    match String::from_utf8(disk::given(&path, LARGEST)?) {
        Ok(text) => Ok(Some(text)),
        Err(_) => Err(DiskError::refused(path, "read", "it is no text in UTF-8")),
    }
}

/// The name of the guide and its file; none where the place is no place of a guide.
fn target(folder: &Path, options: &Options) -> Option<(String, PathBuf)> {
    let guides = folder.join(GUIDES);
    let slug = match &options.to {
        Some(to) => {
            let to = to.strip_prefix("./").unwrap_or(to);
            let inside = to.strip_prefix(GUIDES).or_else(|_| to.strip_prefix(&guides)).ok().unwrap_or(to);
            let parts: Vec<String> = inside.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
            match parts.as_slice() {
                [name, file] if file == "guide.md" => name.clone(),
                [name] => name.strip_suffix(".md").unwrap_or(name).to_owned(),
                _ => return None,
            }
        }
        None if options.narration == Path::new("-") => return None,
        None => slug_of(&options.narration.file_stem()?.to_string_lossy()),
    };
    let plain = !slug.is_empty() && slug_of(&slug) == slug;
    plain.then(|| (slug.clone(), guides.join(&slug).join("guide.md")))
}

fn writing(workplace: &Workplace, heard: &Heard, narration: &Narration, slug: &str, options: &Options) -> write::Written {
    let shared = &workplace.shop.shared;
    let mut taken: Vec<&str> = shared.items.rows.iter().map(|row| row.id.as_str()).collect();
    taken.extend(shared.hardware.rows.iter().map(|row| row.id.as_str()));
    taken.extend(shared.specs.rows.iter().map(|row| row.id.as_str()));
    taken.extend(shared.tools.rows.iter().map(|row| row.id.as_str()));
    taken.extend(shared.parts.rows.iter().map(|row| row.id.as_str()));
    taken.extend(shared.options.rows.iter().map(|row| row.id.as_str()));
    let name = options.narration.file_name().map_or_else(|| "dictated".to_owned(), |name| name.to_string_lossy().into_owned());
    let about = write::About {
        title: options.title.as_deref(),
        slug,
        source: if name == "-" { "dictated" } else { &name },
        video: options.video.as_deref(),
        taken,
        shared: shared.items.rows.iter().map(|row| (row.id.as_str(), row.name.as_str())).collect(),
        vehicles: shared.vehicles.rows.iter().map(|row| (row.id.as_str(), row.name.as_str())).collect(),
    };
    write::write(heard, narration, &about)
}

/// What the author takes back to the bench.
fn summary(folder: &Path, slug: &str, heard: &Heard, narration: &Narration, written: &write::Written) -> Result<(), DiskError> {
    terminal::note(&format!(
        "{}, {}, {} found",
        counted(written.steps.len(), "step", "steps"),
        counted(heard.operations.len(), "operation", "operations"),
        counted(heard.values.iter().filter(|value| value.unit.is_some()).count(), "value", "values")
    ));
    let at = |place: &std::ops::Range<usize>| {
        let moment = narration.words.get(place.start).and_then(|word| word.at);
        moment.map_or(String::new(), |at| format!("{} ", clock(at)))
    };
    let name = |thing: usize| heard.things[thing].name.as_str();
    let list = |head: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            terminal::note(&format!("{head}:"));
            lines.iter().for_each(|line| terminal::note(&format!("  {line}")));
        }
    };
    let untorqued = heard.untorqued.iter().map(|row| format!("{}{}", at(&heard.operations[row.operation].place), name(row.thing)));
    list("done up, and no torque was said", untorqued.collect());
    let open = heard.open.iter().map(|row| {
        let operation = &heard.operations[row.operation];
        format!("{}{} {}", at(&operation.place), name(row.thing), operation.verb.done())
    });
    list("opened, and nobody said that it goes back", open.collect());
    let misheard = heard.misheard.iter().map(|row| format!("{}“{}”: probably “{}”", at(&(row.from..row.from + 1)), row.heard, row.likely));
    list("probably misheard", misheard.collect());
    if let Some(place) = &heard.facts.second_job {
        terminal::note(&format!("{}another job seems to begin there: a guide has one, so cut the talk and draft each", at(place)));
    }
    let workplace = Workplace::open(folder)?;
    let Some(found) = workplace.wanted(&[slug.to_owned()]) else { return Ok(()) };
    let findings = workplace.each(&found, Keep::Facts, |work, outcome| {
        let line = |finding: &Finding| line_of(work.source, finding);
        outcome.findings.iter().map(|finding| (finding.rule, line(finding), finding.message.clone())).collect::<Vec<_>>()
    });
    let mut all: Vec<(RuleName, usize, String)> = Vec::new();
    for of_guide in findings {
        all.extend(of_guide?);
    }
    let shown = |rules: &[RuleName]| -> Vec<String> {
        let mut lines: Vec<String> =
            all.iter().filter(|(rule, ..)| rules.contains(rule)).map(|(_, line, message)| format!("line {line}: {message}")).collect();
        let more = lines.len().saturating_sub(12);
        lines.truncate(12);
        if more > 0 {
            lines.push(format!("and {more} more"));
        }
        lines
    };
    use RuleName::{CautionMissing, CountDisagrees, CountUntold, HardwareLeftOver, HardwareShort, KitLeftOver, KitOverdrawn};
    list("counts that do not add up", shown(&[HardwareShort, HardwareLeftOver, KitOverdrawn, KitLeftOver, CountDisagrees, CountUntold]));
    list("cautions missing", shown(&[CautionMissing]));
    terminal::note(&format!(
        "the review of the draft has {}; next: bayleaf review {slug}, and bayleaf review {slug} --as questions for what is still to be asked",
        counted(all.len(), "finding", "findings")
    ));
    Ok(())
}

fn line_of(source: &SourceFile, finding: &Finding) -> usize {
    source.position(finding.place.span.start).line
}
