//! Sheets on paper. From the document of a guide to the bytes of PDF files: checklists, torque sheets, packing lists, values for the
//! wall. It writes no file and reads none, knows no clock, and gives the same bytes for the same input on every machine.

pub mod checklist;
pub mod compose;
pub mod desk;
pub mod drawing;
pub mod flow;
pub mod frame;
pub mod handbook;
pub mod paper;
pub mod passes;
pub mod pdf;
pub mod piece;
pub mod prose;
pub mod qr;
pub mod step;
pub mod table;
pub mod tables;
pub mod typeset;
pub mod words;

use std::collections::BTreeMap;

use crate::document::chosen::Chosen;
use crate::document::open::Books;
use crate::document::vehicles::OfVehicle;
use crate::document::{Document, phrase};
use crate::phrases::Phrases;
use crate::record::Record;
use paper::Paper;

use checklist::Maker;
use compose::{Plan, compose, width_of};
use desk::Desk;
use frame::Frame;
use pdf::{About, PdfError};
use qr::Code;
use typeset::{Faults, Typesetter};

/// How much a checklist says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Little more than a row for each step: no words, no pictures.
    Short,
    /// A row for each operation, with words, drawings and pictures.
    Full,
}

/// Which sheet of a guide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The checklist.
    Checklist,
    /// Its tightening values.
    Torque,
    /// What belongs in the kit.
    Packing,
    /// What nobody knows yet.
    Questions,
}

/// What sheets say of the shop.
#[derive(Clone, Debug)]
pub struct Shop {
    /// Its name.
    pub name: String,
    /// Its sentence for every page.
    pub notice: Option<String>,
    /// The sentence that puts the vehicle maker first.
    pub deferral: String,
    /// The language of the guides.
    pub language: String,
    /// Its words.
    pub say: &'static Phrases,
    /// The address of its site, ending in `/`.
    pub address: Option<String>,
}

/// The pictures of a guide as sheets show them: address in the guide's text to the bytes.
pub type Pictures = BTreeMap<String, Vec<u8>>;

/// A sheet that is asked for.
#[derive(Clone, Copy)]
pub struct Job<'j> {
    /// The shop.
    pub shop: &'j Shop,
    /// The guide, with everything in it.
    pub guide: &'j Document,
    /// Its pictures.
    pub pictures: &'j Pictures,
    /// The vehicle's options.
    pub chosen: &'j Chosen,
    /// The paper.
    pub paper: Paper,
    /// How much is said.
    pub form: Form,
    /// What was done, to print it filled in, with what is missing in it.
    pub record: Option<&'j Record>,
    /// What is missing in the record.
    pub missing: &'j [String],
}

/// A finished sheet.
#[derive(Debug)]
pub struct Made {
    /// The file.
    pub bytes: Vec<u8>,
    /// What it does not show, for who asked for it.
    pub notes: Vec<String>,
}

/// Why there is no sheet.
#[derive(Debug, PartialEq, Eq)]
pub enum Refused {
    /// The fonts lack these characters, each with some words round it.
    Missing(Vec<(char, String)>),
    /// Words that are written from right to left.
    RightToLeft(String),
    /// Words with a sign that is put together of too many.
    Joined(String),
    /// A fault of the program.
    Broken(PdfError),
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Refused::Missing(characters) => {
                write!(f, "the fonts of the sheets do not have ")?;
                for (at, (c, words)) in characters.iter().enumerate() {
                    let between = if at == 0 { "" } else { ", " };
                    write!(f, "{between}{c:?} (U+{:04X}) in \"{words}\"", u32::from(*c))?;
                }
                write!(f, "; write it with other letters")
            }
            Refused::RightToLeft(words) => {
                write!(f, "\"{words}\" is written from right to left, which the sheets cannot set; write it in Latin letters")
            }
            Refused::Joined(words) => {
                write!(f, "\"{words}\" has a sign that is put together of more signs than any letter is; write it with plain letters")
            }
            Refused::Broken(why) => write!(f, "the PDF could not be written, which is a fault of bayleaf: {why}"),
        }
    }
}

impl std::error::Error for Refused {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Refused::Broken(cause) => Some(cause),
            Refused::Missing(_) | Refused::RightToLeft(_) | Refused::Joined(_) => None,
        }
    }
}

/// Makes a sheet of a guide.
pub fn sheet(job: &Job<'_>, kind: Kind) -> Result<Made, Refused> {
    let mut guide = job.guide.clone();
    job.chosen.apply(&mut guide);
    let upright = job.paper.size();
    // The table of values is wide: it lies across.
    let size = if kind == Kind::Torque { (upright.1, upright.0) } else { upright };
    let desk = Desk { letters: Typesetter::of_thread(), width: width_of(size), done: 0, say: job.guide.say };
    let mut maker = Maker::new(job, kind, &guide, desk);
    let groups = match kind {
        Kind::Checklist => maker.checklist(),
        Kind::Torque => maker.torque_sheet(),
        Kind::Packing => maker.packing_list(),
        Kind::Questions => maker.question_list(),
    };
    let Maker { mut desk, mut notes, .. } = maker;
    let books = Books::new(&guide, job.chosen);
    let open_after = |done: usize| books.open_after(done, compose::MOST_OPEN);
    let kept = kind == Kind::Checklist && books.are_kept() && job.record.is_none();
    let plan = Plan {
        frame: frame_of(job, &guide, kind),
        groups,
        about: about(job, kind),
        size,
        open: if kept { Some(&open_after) } else { None },
    };
    let bytes = compose(&mut desk, plan).map_err(Refused::Broken);
    refuse(desk.letters.give_back())?;
    notes.sort();
    notes.dedup();
    Ok(Made { bytes: bytes?, notes })
}

/// Makes the sheet of a vehicle's tightening values, for the wall. `fingerprint` is that of all guides together.
pub fn wall_sheet(shop: &Shop, vehicle: &OfVehicle<&Document>, fingerprint: &str, paper: Paper) -> Result<Made, Refused> {
    let upright = paper.size();
    let size = (upright.1, upright.0);
    let mut desk = Desk { letters: Typesetter::of_thread(), width: width_of(size), done: 0, say: shop.say };
    let say = shop.say;
    let groups = tables::wall(&mut desk, vehicle);
    let address = shop.address.as_ref().map(|address| format!("{address}values/{}.html", vehicle.file));
    let frame = Frame {
        kind: say.tightening_by_vehicle.to_owned(),
        title: vehicle.name.clone(),
        fields: [
            vec![(say.guides, vehicle.guides.len().to_string()), (say.fingerprint_of_all, fingerprint.to_owned())],
            vec![(say.owner_and_creator, shop.name.clone())],
        ],
        identity: format!("{} · {fingerprint}", vehicle.name),
        foot: foot(shop),
        code: address.as_deref().and_then(Code::new),
        leads_to: say.page_of_values,
        address,
        draft: vehicle.guides.iter().any(|guide| guide.head.draft),
        ..Frame::default()
    };
    let about = About {
        title: say.tightening_values_of(&vehicle.name),
        language: shop.language.clone(),
        author: shop.name.clone(),
        date: None,
        identity: format!("values/{}/{fingerprint}/{}", vehicle.file, paper.word()),
    };
    let bytes = compose(&mut desk, Plan { frame, groups, about, size, open: None }).map_err(Refused::Broken);
    refuse(desk.letters.give_back())?;
    Ok(Made { bytes: bytes?, notes: Vec::new() })
}

fn refuse(faults: Faults) -> Result<(), Refused> {
    if let Some(words) = faults.right_to_left {
        return Err(Refused::RightToLeft(words));
    }
    if let Some(words) = faults.joined {
        return Err(Refused::Joined(words));
    }
    if faults.missing.is_empty() { Ok(()) } else { Err(Refused::Missing(faults.missing.into_iter().collect())) }
}

fn foot(shop: &Shop) -> String {
    match &shop.notice {
        Some(notice) => format!("{} {notice}", shop.deferral),
        None => shop.deferral.clone(),
    }
}

fn kind_words(job: &Job<'_>, kind: Kind) -> String {
    let say = job.guide.say;
    let words = match kind {
        Kind::Checklist if job.record.is_some() => say.as_built_record,
        Kind::Checklist if job.form == Form::Short => say.checklist_short,
        Kind::Checklist => say.checklist,
        Kind::Torque => say.torque_sheet,
        Kind::Packing => say.packing_list,
        Kind::Questions => say.questions,
    };
    words.to_owned()
}

/// The title block: the mandatory fields of ISO 7200 (owner, number, date of issue, sheet, title, approval, creator, type of document)
/// with the revision, and the fingerprint that changes with the content.
fn frame_of(job: &Job<'_>, guide: &Document, kind: Kind) -> Frame {
    let say = guide.say;
    let line = &guide.head;
    let told = |text: &Option<String>, none: &str| text.clone().unwrap_or_else(|| none.to_owned());
    let address = job.shop.address.as_ref().map(|address| {
        let page = if kind == Kind::Torque { "torque.html" } else { "" };
        format!("{address}guides/{}/{page}{}", line.slug, with_revision(job.chosen.query(), line.revision.as_deref()))
    });
    let name = line.document.clone().unwrap_or_else(|| line.title.clone());
    let revision = line.revision.as_ref().map(|revision| format!(" · {}", say.revision_small(revision))).unwrap_or_default();
    Frame {
        kind: kind_words(job, kind),
        title: line.title.clone(),
        subtitle: job.chosen.words().map(|words| say.for_a_vehicle(words)),
        fields: [
            vec![
                (say.document, told(&line.document, say.none_given)),
                (say.revision, told(&line.revision, say.none_given)),
                (say.date_of_issue, told(&line.issued.map(phrase::date), say.not_issued)),
                (say.fingerprint, guide.fingerprint.clone()),
            ],
            vec![(say.owner_and_creator, job.shop.name.clone()), (say.approved_by, told(&guide.approved, say.nobody))],
        ],
        identity: format!("{name}{revision} · {}", guide.fingerprint),
        foot: foot(job.shop),
        code: address.as_deref().and_then(Code::new),
        leads_to: say.page_of_guide,
        address,
        draft: line.draft,
        vehicle: vehicle_of(job, kind),
    }
}

/// The query of an address with the revision of the sheet, so that the page can say what has changed since.
fn with_revision(query: String, revision: Option<&str>) -> String {
    let plain =
        |revision: &&str| !revision.is_empty() && revision.bytes().all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.'));
    match revision.filter(plain) {
        Some(revision) => format!("{query}{}rev={revision}", if query.is_empty() { "?" } else { "&" }),
        None => query,
    }
}

/// What tells the sheets of two vehicles apart when they lie in one heap.
fn vehicle_of(job: &Job<'_>, kind: Kind) -> Vec<(&'static str, String)> {
    // Questions are asked of a guide, not of a vehicle.
    if kind == Kind::Questions {
        return Vec::new();
    }
    let entry = |of: fn(&crate::record::RecordOrder) -> &String| job.record.map(|record| of(&record.order).clone()).unwrap_or_default();
    let mut fields = vec![(job.guide.say.registration, entry(|order| &order.registration))];
    let order = entry(|order| &order.order);
    if job.record.is_none() || !order.is_empty() {
        fields.push((job.guide.say.work_order, order));
    }
    if kind != Kind::Packing {
        fields.push((job.guide.say.technician, entry(|order| &order.technician)));
    }
    fields
}

fn about(job: &Job<'_>, kind: Kind) -> About {
    let line = &job.guide.head;
    let date = line.issued.map(|date| (date.year, date.month, date.day));
    let sealed = job.record.map(|record| record.seal.as_str()).unwrap_or_default();
    let form = if job.form == Form::Short { "short" } else { "full" };
    About {
        title: job.guide.say.at_place(kind_words(job, kind), &line.title),
        language: job.shop.language.clone(),
        author: job.shop.name.clone(),
        date,
        identity: format!("{}/{}/{kind:?}/{}/{form}{}/{sealed}", line.slug, job.guide.fingerprint, job.paper.word(), job.chosen.query()),
    }
}
