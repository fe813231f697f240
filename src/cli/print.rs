//! `bayleaf print`: sheets of guides as PDF files, and records of work done printed on them.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use crate::cli::Status;
use crate::cli::history;
use crate::cli::terminal::{self, counted};
use crate::cli::texts::{Library, Text};
use crate::cli::workplace::{Keep, Work, Workplace};
use crate::disk::{self, DiskError};
use crate::document::build::{self, Input};
use crate::document::chosen::Chosen;
use crate::document::fingerprint::fingerprint;
use crate::document::{Document, vehicles};
use crate::finding::Severity;
use crate::record::{self, Record};
use crate::review::Outcome;
use crate::sheets::paper::Paper;
use crate::sheets::{self, Job, Kind, Made, Pictures};
use crate::site;
use crate::source::SourceFile;

#[derive(Args)]
pub(super) struct Options {
    /// The guides, by the name of their folder or file
    #[arg(value_name = "GUIDE", required_unless_present_any = ["record", "sheet"])]
    guides: Vec<String>,
    /// An option that the vehicle has; what does not apply is left out
    #[arg(long, value_name = "ID")]
    option: Vec<String>,
    /// An option that the vehicle does not have
    #[arg(long, value_name = "ID")]
    without: Vec<String>,
    /// The paper
    #[arg(long, value_enum, default_value_t = PaperWord::A4)]
    paper: PaperWord,
    /// Which units stand first, instead of those of the shop
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// How much a checklist says
    #[arg(long, value_enum, default_value_t = FormWord::Full)]
    form: FormWord,
    /// Which sheets; `values` is the wall sheet of each vehicle, over all guides
    #[arg(long, value_enum)]
    sheet: Vec<SheetWord>,
    /// Write the files into this folder, or one file to standard output with `-`
    #[arg(long, value_name = "FOLDER", default_value = ".")]
    to: PathBuf,
    /// Print the record of work done that this file holds, after checking it
    #[arg(long, value_name = "FILE", conflicts_with_all = ["guides", "option", "without", "sheet"])]
    record: Option<PathBuf>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperWord {
    A4,
    Letter,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Units {
    Metric,
    Imperial,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum FormWord {
    /// Little more than a row for each step
    Short,
    /// A row for each operation, with words, drawings and pictures
    Full,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum SheetWord {
    /// What a technician works down and signs
    Checklist,
    /// The tightening values of a guide
    Torque,
    /// The parts and hardware of its kit
    Packing,
    /// What nobody knows yet, by who can answer, with room for the answers
    Questions,
    /// The tightening values of each vehicle
    Values,
}

/// What came of one guide: its data, and what of it sheets show.
struct Read {
    document: Document,
    source: SourceFile,
    pictures: Pictures,
    holds: usize,
    notes: Vec<String>,
}

/// A finished file with its name.
struct Sheet {
    name: String,
    made: Made,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, DiskError> {
    let mut workplace = Workplace::open(folder)?;
    // Sheets whose units are not those of the shop stand beside the others.
    let units = match options.units {
        Some(Units::Metric) if workplace.shop.imperial_first => "-metric",
        Some(Units::Imperial) if !workplace.shop.imperial_first => "-imperial",
        _ => "",
    };
    if !units.is_empty() {
        workplace.shop.imperial_first = !workplace.shop.imperial_first;
    }
    let shop = shop_of(&workplace);
    if shop.address.is_none() {
        terminal::note("the shop file gives no `address`, so the sheets have no QR code");
    }
    match &options.record {
        Some(file) => of_record(folder, &workplace, &shop, options, file),
        None => of_guides(folder, &workplace, &shop, units, options),
    }
}

/// Writes the questions of a guide as a sheet into one file.
pub(super) fn questions(folder: &Path, slug: &str, file: &Path) -> Result<Status, DiskError> {
    let workplace = Workplace::open(folder)?;
    let shop = shop_of(&workplace);
    let Some(wanted) = workplace.wanted(&[slug.to_owned()]) else { return Ok(Status::Failed) };
    let read = workplace.each(&wanted, Keep::Facts, |work, outcome| read_guide(&workplace, &work, &outcome, false));
    let mut made = Vec::new();
    let mut whole = true;
    for guide in read {
        let guide = guide?;
        let Ok(chosen) = Chosen::new(&guide.document.choices, &[], &[]) else { return Ok(Status::Failed) };
        let job = Job {
            shop: &shop,
            guide: &guide.document,
            pictures: &guide.pictures,
            chosen: &chosen,
            paper: Paper::A4,
            form: sheets::Form::Full,
            record: None,
            missing: &[],
        };
        whole &= keep(sheets::sheet(&job, Kind::Questions), String::new(), &guide.source, &mut made);
    }
    for sheet in &made {
        disk::write_sheet(file, &sheet.made.bytes)?;
        terminal::result(&format!("{}\n", file.display()));
    }
    Ok(if whole { Status::Done } else { Status::Failed })
}

/// What sheets say of the shop.
pub(super) fn shop_of(workplace: &Workplace) -> sheets::Shop {
    let shop = &workplace.shop;
    sheets::Shop {
        name: shop.name.clone(),
        notice: shop.notice.clone(),
        deferral: shop.deferral.clone(),
        language: shop.language.code().to_owned(),
        say: shop.language.phrases(),
        address: shop.address.clone(),
    }
}

fn paper(word: PaperWord) -> Paper {
    match word {
        PaperWord::A4 => Paper::A4,
        PaperWord::Letter => Paper::Letter,
    }
}

fn form(word: FormWord) -> sheets::Form {
    match word {
        FormWord::Short => sheets::Form::Short,
        FormWord::Full => sheets::Form::Full,
    }
}

fn of_guides(folder: &Path, workplace: &Workplace, shop: &sheets::Shop, units: &str, options: &Options) -> Result<Status, DiskError> {
    let sheets = if options.sheet.is_empty() { vec![SheetWord::Checklist] } else { options.sheet.clone() };
    let wall = sheets.contains(&SheetWord::Values);
    if options.guides.is_empty() && sheets.iter().any(|sheet| *sheet != SheetWord::Values) {
        terminal::note("bayleaf: which guide? Name it, for instance: bayleaf print swivel-seat-base");
        return Ok(Status::Failed);
    }
    let Some(named) = workplace.wanted(&options.guides) else { return Ok(Status::Failed) };
    // The values of a vehicle are those of all guides.
    let wanted: Vec<usize> = if wall { (0..workplace.guides.len()).collect() } else { named.clone() };
    let with_pictures = options.form == FormWord::Full && sheets.contains(&SheetWord::Checklist);
    let read = workplace.each(&wanted, Keep::Bytes, |work, outcome| read_guide(workplace, &work, &outcome, with_pictures));
    let mut guides = Vec::new();
    for (at, guide) in wanted.iter().zip(read) {
        guides.push((*at, guide?));
    }
    let mut made = Vec::new();
    let mut whole = true;
    for (_, guide) in guides.iter().filter(|(at, _)| named.contains(at)) {
        for sheet in &sheets {
            let kind = match sheet {
                SheetWord::Checklist => Kind::Checklist,
                SheetWord::Torque => Kind::Torque,
                SheetWord::Packing => Kind::Packing,
                SheetWord::Questions => Kind::Questions,
                SheetWord::Values => continue,
            };
            let chosen = match Chosen::new(&guide.document.choices, &options.option, &options.without) {
                Ok(chosen) => chosen,
                Err(why) => {
                    terminal::note(&format!("bayleaf: {}: {why}", guide.document.head.slug));
                    return Ok(Status::Failed);
                }
            };
            let job = Job {
                shop,
                guide: &guide.document,
                pictures: &guide.pictures,
                chosen: &chosen,
                paper: paper(options.paper),
                form: form(options.form),
                record: None,
                missing: &[],
            };
            let name = file_name(&guide.document.head.slug, kind, &job, units);
            whole &= keep(sheets::sheet(&job, kind), name, &guide.source, &mut made);
        }
    }
    if wall {
        let with_values = guides.iter().map(|(_, guide)| &guide.document).filter(|document| !document.torques.is_empty());
        let rows: Vec<_> = with_values.map(|document| (document.head.fits.as_slice(), document)).collect();
        let prints: Vec<&[u8]> = guides.iter().map(|(_, guide)| guide.document.fingerprint.as_bytes()).collect();
        let fits = |file: &str| {
            let mut of_named = guides.iter().filter(|(at, _)| named.contains(at)).flat_map(|(_, guide)| &guide.document.head.fits);
            options.guides.is_empty() || of_named.any(|vehicle| vehicle.id == file)
        };
        for vehicle in vehicles::by_vehicle(&rows, &workplace.shop).iter().filter(|vehicle| fits(&vehicle.file)) {
            let name = format!("values-{}{units}-{}.pdf", vehicle.file, paper(options.paper).word());
            let sheet = sheets::wall_sheet(shop, vehicle, &fingerprint(prints.iter().copied()), paper(options.paper));
            whole &= keep_of(sheet, name, &vehicle.name, |_| None, &mut made);
        }
    }
    for (_, guide) in guides.iter().filter(|(at, guide)| named.contains(at) && guide.holds > 0) {
        let holds = counted(guide.holds, "hold", "holds");
        terminal::note(&format!("{}: {holds}, so its sheets say NOT RELEASED; run bayleaf review {0}", guide.document.head.slug));
    }
    let notes = guides.iter().filter(|(at, _)| named.contains(at)).flat_map(|(_, guide)| &guide.notes);
    notes.for_each(|note| terminal::note(note));
    let held = guides.iter().any(|(at, guide)| named.contains(at) && guide.holds > 0);
    if !put(folder, options, &made)? {
        return Ok(Status::Failed);
    }
    Ok(if !whole {
        Status::Failed
    } else if held {
        Status::Findings
    } else {
        Status::Done
    })
}

/// Keeps a finished sheet of a guide, or tells why there is none, with the line that it comes from.
fn keep(sheet: Result<Made, sheets::Refused>, name: String, source: &SourceFile, made: &mut Vec<Sheet>) -> bool {
    let line_of = |c: char| source.text.find(c).map(|at| format!("{}:{}", source.path, source.position(at as u32).line));
    keep_of(sheet, name, &source.path, line_of, made)
}

fn keep_of(
    sheet: Result<Made, sheets::Refused>,
    name: String,
    what: &str,
    line_of: impl Fn(char) -> Option<String>,
    made: &mut Vec<Sheet>,
) -> bool {
    if let Err(sheets::Refused::Missing(characters)) = &sheet {
        let places = characters.iter().filter_map(|(c, _)| Some((c, line_of(*c)?)));
        places.for_each(|(c, place)| terminal::note(&format!("bayleaf: {c:?} first in {place}")));
    }
    match sheet {
        Ok(sheet) => {
            made.push(Sheet { name, made: sheet });
            true
        }
        Err(why) => {
            terminal::note(&format!("bayleaf: no {name} of {what}: {why}"));
            false
        }
    }
}

fn of_record(folder: &Path, workplace: &Workplace, shop: &sheets::Shop, options: &Options, file: &Path) -> Result<Status, DiskError> {
    let refuse = |why: &str| {
        terminal::note(&format!("bayleaf: {} is not printed: {why}", file.display()));
        Ok(Status::Failed)
    };
    let record = match record::read(&disk::given(&folder.join(file), disk::LARGEST_GIVEN)?) {
        Ok(record) => record,
        Err(refusal) => return refuse(&refusal.why),
    };
    let library = Library::new(workplace);
    let found = library.guide(&record.guide.slug).and_then(|at| Ok((at, library.texts(at)?)));
    let (at, texts) = match found {
        Ok(found) => found,
        Err(why) => return refuse(&why),
    };
    // A guide that was renamed is the same guide.
    let mut record = record;
    record.guide.slug.clone_from(&texts.present.head.slug);
    let of_issue = match texts.of(&record) {
        Ok(Text::Issued(issue)) if texts.present.fingerprint != record.guide.fingerprint => Some(&texts.history.issues[issue]),
        Ok(_) => None,
        Err(why) => {
            // Of another document, or with an entry twice, it is refused for that first.
            let other = record.guide.document != texts.present.head.document;
            return refuse(&record::foreign(&record, &texts.present).filter(|_| other || texts.history.issues.is_empty()).unwrap_or(why));
        }
    };
    let full = options.form == FormWord::Full;
    let guide = match of_issue {
        Some(kept) => {
            terminal::note(&format!("{}: printed against {}", record.guide.slug, history::words(&kept.issued)));
            read_issued(workplace, at, kept, full)
        }
        None => {
            let read = workplace.each(&[at], Keep::Bytes, |work, outcome| read_guide(workplace, &work, &outcome, full));
            let Some(guide) = read.into_iter().next().transpose()? else { return refuse("its guide cannot be read") };
            guide
        }
    };
    if let Some(why) = record::foreign(&record, &guide.document) {
        return refuse(&why);
    }
    guide.notes.iter().for_each(|note| terminal::note(note));
    let chosen = match Chosen::new(&guide.document.choices, &record.options.with, &record.options.without) {
        Ok(chosen) => chosen,
        Err(why) => return refuse(&why.to_string()),
    };
    let mut applies = guide.document.clone();
    chosen.apply(&mut applies);
    let missing = record::check(&record, &guide.document, &applies);
    let job = Job {
        shop,
        guide: &guide.document,
        pictures: &guide.pictures,
        chosen: &chosen,
        paper: paper(options.paper),
        form: form(options.form),
        record: Some(&record),
        missing: &missing,
    };
    let mut made = Vec::new();
    let mut sheet = sheets::sheet(&job, Kind::Checklist);
    if let Err(sheets::Refused::Missing(characters)) = &sheet {
        // A name cannot be written in other letters: the record is sealed.
        let lacking: Vec<char> = characters.iter().map(|(c, _)| *c).collect();
        let spelt = record::spelt_out(&record, &lacking);
        let told: Vec<String> = missing.iter().map(|text| record::in_numbers(text, &lacking)).collect();
        let again = sheets::sheet(&Job { record: Some(&spelt), missing: &told, ..job }, Kind::Checklist);
        if again.is_ok() {
            let told = lacking.iter().map(|c| format!("{c:?} as [U+{:04X}]", u32::from(*c))).collect::<Vec<_>>().join(", ");
            terminal::note(&format!("the fonts of the sheets lack characters of this record, so it shows {told}"));
            sheet = again;
        }
    }
    let whole = keep(sheet, record_name(&record, &job), &guide.source, &mut made);
    if !missing.is_empty() {
        terminal::note(&format!(
            "{} in this record:",
            counted(missing.len(), "thing is missing or still open", "things are missing or still open")
        ));
        missing.iter().for_each(|missing| terminal::note(&format!("  {missing}")));
    }
    let put = put(folder, options, &made)?;
    Ok(match (whole && put, missing.is_empty()) {
        (false, _) => Status::Failed,
        (true, false) => Status::Findings,
        (true, true) => Status::Done,
    })
}

/// A guide as it was issued in a revision.
fn read_issued(workplace: &Workplace, at: usize, kept: &history::Kept, with_pictures: bool) -> Read {
    let path = &workplace.guides[at];
    let (facts, contents, mut notes) = history::pictures_of(path, &kept.issued);
    let mut pictures = Pictures::new();
    for (address, bytes) in contents.iter().filter(|_| with_pictures) {
        let Some(Ok(fact)) = facts.get(address) else { continue };
        match site::sheet_picture(address, *fact, bytes) {
            Ok(bytes) => drop(pictures.insert(address.clone(), bytes)),
            Err(why) => notes.push(format!("{}: the picture {address} cannot be shown: {why}", path.slug)),
        }
    }
    let source = SourceFile::new(kept.shown.clone(), kept.issued.guide.clone());
    Read { document: kept.issued.document_in(&path.slug, &facts, workplace.shop.imperial_first), source, pictures, holds: 0, notes }
}

fn record_name(record: &Record, job: &Job<'_>) -> String {
    // Eight digits of the seal tell the records of a guide apart.
    let seal: String = record.seal.chars().take(8).collect();
    let short = if job.form == sheets::Form::Short { "-short" } else { "" };
    format!("{}-record-{seal}{short}-{}.pdf", record.guide.slug, job.paper.word())
}

/// The name of a sheet's file; the options and the form are part of it.
pub(super) fn file_name(slug: &str, kind: Kind, job: &Job<'_>, units: &str) -> String {
    let start = if slug.is_empty() { String::new() } else { format!("{slug}-") };
    let word = match kind {
        Kind::Checklist if job.form == sheets::Form::Short => "checklist-short",
        Kind::Checklist => "checklist",
        Kind::Torque => "torque",
        Kind::Packing => "packing",
        Kind::Questions => "questions",
    };
    format!("{start}{word}{}{units}-{}.pdf", job.chosen.suffix(), job.paper.word())
}

/// Writes the finished files; gives back whether they went where they should.
fn put(folder: &Path, options: &Options, made: &[Sheet]) -> Result<bool, DiskError> {
    for sheet in made {
        sheet.made.notes.iter().for_each(|note| terminal::note(&format!("{}: {note}", sheet.name)));
    }
    if options.to == Path::new("-") {
        let [sheet] = made else {
            if made.len() > 1 {
                terminal::note(&format!("bayleaf: {} sheets cannot go to standard output together; name a folder with --to", made.len()));
            }
            return Ok(made.is_empty());
        };
        let mut out = std::io::stdout().lock();
        // A reader that has seen enough closes the pipe: that is no failure.
        return match out.write_all(&sheet.made.bytes).and_then(|()| out.flush()) {
            Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
                terminal::note(&format!("bayleaf: the sheet cannot be written to standard output: {error}"));
                Ok(false)
            }
            _ => Ok(true),
        };
    }
    let to = folder.join(&options.to);
    for sheet in made {
        let path = to.join(&sheet.name);
        disk::write_sheet(&path, &sheet.made.bytes)?;
        terminal::result(&format!("{}\n", path.display()));
    }
    Ok(true)
}

fn read_guide(workplace: &Workplace, work: &Work<'_, '_>, outcome: &Outcome, with_pictures: bool) -> Read {
    let held = outcome.is_held() || workplace.shop_findings.iter().any(|finding| finding.severity == Severity::Hold);
    let mut pictures = Pictures::new();
    let mut notes = Vec::new();
    for (address, fact) in work.pictures.iter().filter(|_| with_pictures) {
        let (Ok(fact), Some(bytes)) = (fact, work.picture_bytes.get(address)) else { continue };
        match site::sheet_picture(address, *fact, bytes) {
            Ok(bytes) => drop(pictures.insert(address.clone(), bytes)),
            Err(why) => notes.push(format!("{}: the picture {address} cannot be shown: {why}", work.guide.slug)),
        }
    }
    // A sheet in other units is the same guide: it bears the fingerprint of the shop's own, and differs from older issues in the same facts.
    let own = (workplace.shop.imperial_first != workplace.imperial_first).then(|| {
        let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint: None, draft: held };
        build::document(work.guide, &workplace.own_shop(), &input)
    });
    let fingerprint = own.as_ref().map(|own| own.fingerprint.clone());
    let input = Input { pictures: work.pictures, hashes: work.hashes, fingerprint, draft: held };
    let mut document = build::document(work.guide, &workplace.shop, &input);
    document.since = work.history.since(own.as_ref().unwrap_or(&document), work.hashes);
    let holds = outcome.count(Severity::Hold) + workplace.shop_findings.iter().filter(|finding| finding.severity == Severity::Hold).count();
    Read { document, source: work.source.clone(), pictures, holds, notes }
}
