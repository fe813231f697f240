//! What a reader of a guide is told, resolved and still unspelled: one typed tree from which every page, sheet, file, index and record is
//! written. Ids are looked up, counts added up, orders and settings worked out; how a value, a date or a condition is spelt is left to
//! whoever writes. Writers take its types apart without a catch-all, so that a new kind of node does not compile until each has answered.

pub mod build;
pub mod chosen;
pub mod facts;
pub mod fingerprint;
mod how;
pub mod open;
pub mod phrase;
mod sort;
pub mod summary;
pub mod value;
pub mod vehicles;
pub mod when;
pub mod words;

use serde::{Deserialize, Serialize};

use crate::fastener::pattern;
use crate::guide::model::{Date, Signal};
use crate::guide::untold::Who;
use crate::guide::verb::Verb;
use crate::phrases::Phrases;
use crate::quantity::{Exact, ReadOff};
use crate::source::{Span, Spanned};
pub use how::How;
use open::{Account, Move};
use value::Value;
use when::{Choice, When};
use words::{Block, Line, Picture};

/// A guide as it is told.
#[derive(Clone, Debug, Hash)]
pub struct Document {
    /// The words of its language, for what is said of what it tells.
    pub say: &'static Phrases,
    /// What lists show of it.
    pub head: Head,
    /// Who approved it.
    pub approved: Option<String>,
    /// Eight characters that change with what the guide says.
    pub fingerprint: String,
    /// What it is not for.
    pub not_for: Vec<String>,
    /// Other words for the job, by which it is found and which nobody reads.
    pub also: Vec<String>,
    /// Before work starts.
    pub before: Vec<Line>,
    /// Cautions before the first step.
    pub cautions: Vec<Caution>,
    /// Tools.
    pub tools: Vec<Tool>,
    /// Torque wrenches that may be entered in a record: those of the guide and of the shop.
    pub wrenches: Vec<Wrench>,
    /// Parts of the kit, in the order in which the guide defines them.
    pub parts: Vec<Counted>,
    /// Hardware of the kit.
    pub kit_hardware: Vec<Counted>,
    /// Hardware on the vehicle.
    pub vehicle_hardware: Vec<Counted>,
    /// What is used up.
    pub consumables: Vec<Consumable>,
    /// What else is to be ready.
    pub ready: Vec<Line>,
    /// Options, those of which exactly one holds together.
    pub choices: Vec<Choice>,
    /// Things that operations open and close.
    pub accounts: Vec<Account>,
    /// Words before the first step.
    pub intro: Vec<Spanned<Block>>,
    /// The steps in groups.
    pub phases: Vec<Phase>,
    /// Every tightening value in the order of the steps.
    pub torques: Vec<TorqueRow>,
    /// Checks when done.
    pub final_checks: Vec<Line>,
    /// What is due later.
    pub follow_up: Vec<Line>,
    /// Circuits that the job lays.
    pub circuits: Vec<Circuit>,
    /// Revisions.
    pub changes: Vec<Change>,
    /// What differs from the revision that was issued before; none where nothing was, or nothing is known of it.
    pub since: Option<Since>,
    /// Full names of the papers.
    pub sources: Vec<String>,
    /// Where the job can be watched.
    pub video: Option<Video>,
    /// What nobody knows yet.
    pub questions: Vec<Question>,
    /// Its first photo.
    pub photo: Option<Picture>,
}

impl Document {
    /// Every step in order.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.phases.iter().flat_map(|phase| &phase.steps)
    }
}

/// A video of the job.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Video {
    /// An address elsewhere: a link, and nothing is loaded before somebody follows it.
    Address(String),
    /// A file beside the guide, which its page plays.
    File(String),
}

impl Video {
    /// The address of a moment, as Media Fragments URI 1.0 (W3C) writes it.
    pub fn at(&self, seconds: u32) -> String {
        let (Video::Address(address) | Video::File(address)) = self;
        let whole = address.split('#').next().unwrap_or(address);
        format!("{whole}#t={seconds}")
    }
}

/// A question that has to be answered before the guide goes out.
#[derive(Clone, Debug, Hash)]
pub struct Question {
    /// What is not known: `How many of “Lamp screw” are supplied`.
    pub text: String,
    /// Who can answer.
    pub who: Option<Who>,
    /// Where the answer would be found.
    pub place: Option<String>,
    /// What somebody heard.
    pub heard: Option<String>,
    /// The step it comes up in.
    pub step: Option<StepLink>,
    /// Where it stands in the guide.
    pub span: Span,
}

/// A guide in one line, for lists.
#[derive(Clone, Debug, Hash)]
pub struct Head {
    /// Its folder under `guides/`.
    pub slug: String,
    /// What it does.
    pub title: String,
    /// Its number.
    pub document: Option<String>,
    /// The revision.
    pub revision: Option<String>,
    /// The day of issue.
    pub issued: Option<Date>,
    /// The part of the vehicle.
    pub system: String,
    /// A sentence or two.
    pub summary: Option<String>,
    /// What it fits.
    pub fits: Vec<Vehicle>,
    /// Time for the job.
    pub hours: Option<Value>,
    /// What the steps that always apply add up to in thousandths of a minute, as far as they give a time: a lower bound.
    pub least: u64,
    /// How many steps give no time.
    pub untimed: usize,
    /// How many steps.
    pub steps: usize,
    /// Whether it is published although it is held.
    pub draft: bool,
}

/// A vehicle.
#[derive(Clone, Debug, Hash, PartialEq, Eq, Deserialize, Serialize)]
pub struct Vehicle {
    /// Its id.
    pub id: String,
    /// Its name with the years.
    pub name: String,
}

/// A safety message.
#[derive(Clone, Debug, Hash)]
pub struct Caution {
    /// The signal word.
    pub signal: Signal,
    /// The hazard.
    pub hazard: Line,
    /// What happens otherwise.
    pub result: Option<Line>,
    /// How to avoid it.
    pub avoid: Option<Line>,
    /// The last step that it stands for; none where it speaks for its place alone.
    pub until: Option<StepLink>,
    /// The options it needs.
    pub when: When,
}

/// A caution that was stated before and still holds.
#[derive(Clone, Debug, Hash)]
pub struct Standing {
    /// The caution.
    pub caution: Caution,
    /// The step that stated it; none where it stands before the first step.
    pub from: Option<StepLink>,
}

/// Where a step departs from the supplier's sheet.
#[derive(Clone, Debug, Hash)]
pub struct Departure {
    /// What the sheet says.
    pub says: Line,
    /// What is done.
    pub does: Line,
    /// Why.
    pub why: Line,
    /// Who approved it.
    pub approved: Option<String>,
    /// The sheet.
    pub source: Option<String>,
}

/// A tool.
#[derive(Clone, Debug, Hash)]
pub struct Tool {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its square, such as `1/2 in`.
    pub square: Option<String>,
    /// The shop's number for it.
    pub number: Option<String>,
    /// Whether it is a torque wrench, whose calibration is written on the checklist.
    pub is_wrench: bool,
    /// The day its calibration ends.
    pub calibrated_until: Option<Date>,
    /// Which of its sizes the guide uses.
    pub sizes: Vec<String>,
    /// The options it is needed with.
    pub when: When,
    /// A few words.
    pub note: Option<String>,
    /// Where it is defined.
    pub span: Span,
}

/// A torque wrench as a record is held against it.
#[derive(Clone, Debug, Hash)]
pub struct Wrench {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The shop's number for it.
    pub number: Option<String>,
    /// Its range as the author wrote it, since it is what stands on the wrench.
    pub range: String,
    /// Its lowest torque in newton-metres.
    pub low: Option<Exact>,
    /// Its highest.
    pub high: Option<Exact>,
    /// The day its calibration ends.
    pub calibrated_until: Option<Date>,
}

/// A part or some hardware with its count.
#[derive(Clone, Debug, Hash)]
pub struct Counted {
    /// Its id.
    pub id: String,
    /// Its name, with thread and class where it has them.
    pub name: String,
    /// How many; none where the guide does not say.
    pub count: Option<i64>,
    /// What the count is the sum of where that depends on options; empty where it does not.
    pub amounts: Vec<(i64, When)>,
    /// The options it is there with.
    pub when: When,
    /// The part number.
    pub number: Option<String>,
    /// What is said behind it.
    pub remarks: Vec<Remark>,
    /// The steps that work on it, by their numbers from 1.
    pub steps: Vec<StepLink>,
    /// Where it is defined.
    pub span: Span,
}

/// What a job uses up.
#[derive(Clone, Debug, Hash)]
pub struct Consumable {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How much; a blank where nobody knows it yet.
    pub amount: Option<String>,
    /// The number it is ordered by.
    pub number: Option<String>,
    /// Whether it has to be bought for the job.
    pub buy: bool,
    /// The options it is needed with.
    pub when: When,
    /// A few words.
    pub note: Option<String>,
    /// The steps that use it.
    pub steps: Vec<StepLink>,
    /// Where it is defined.
    pub span: Span,
}

/// What is said behind a part or some hardware.
#[derive(Clone, Debug, Hash)]
pub enum Remark {
    /// It comes only with these options.
    Only(When),
    /// So many are spares.
    Spare(u32),
    /// It comes from the shop's shelf.
    Shelf,
    /// It is thrown away.
    ThrownAway,
    /// No step puts it back on.
    NotBack,
    /// The count is what the steps need: nobody has told how many are supplied.
    Needed,
    /// Nobody has told how many are supplied, and no step says how many are needed.
    Uncounted,
    /// Nobody has told how many are on the vehicle.
    UncountedOn,
    /// It is not to be used again.
    OneUse,
    /// The author's words.
    Note(String),
}

/// A tightening value where it is used.
#[derive(Clone, Debug, Hash)]
pub struct Torque {
    /// What the author calls it.
    pub name: Option<String>,
    /// The value.
    pub value: Value,
    /// What counts as it.
    pub bounds: Bounds,
    /// Where it comes from.
    pub source: Option<String>,
    /// The pattern of the order: `circle`, `rectangle`, or the author's words.
    pub pattern: Option<String>,
    /// The passes, each with what it comes to; empty where there is one.
    pub passes: Vec<Line>,
    /// The state of the thread, in words.
    pub condition: Option<String>,
    /// Listed torque wrench.
    pub wrench: Option<String>,
    /// What the wrench is set to where an adapter lengthens it.
    pub setting: Option<Line>,
    /// The order of tightening.
    pub order: Option<Ordered>,
    /// How many fasteners; 0 where unknown.
    pub count: u32,
    /// A few words.
    pub note: Option<String>,
}

/// What may be written down as a value.
#[derive(Clone, Debug, Default, Hash)]
pub struct Bounds {
    /// In each unit it is printed in: lowest and highest.
    pub reads: Vec<ReadOff>,
    /// The lowest in the base unit that counts in any unit; none where there is no lower end.
    pub low: Option<Exact>,
    /// The highest.
    pub high: Option<Exact>,
}

/// Fasteners in their order.
#[derive(Clone, Debug, Hash)]
pub struct Ordered {
    /// The order with the places.
    pub order: pattern::Order,
    /// Whether the places lie on a circle; otherwise in rows.
    pub circle: bool,
    /// In how many rows.
    pub rows: u32,
    /// How many fasteners.
    pub count: u32,
    /// Whether it is an order of undoing.
    pub undoing: bool,
}

/// Something that an operation acts on.
#[derive(Clone, Debug, Hash)]
pub struct Target {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How many; 0 where nobody knows it yet.
    pub count: u32,
    /// Whether the operation's hardware names it already, so that it is not said twice.
    pub told_as_hardware: bool,
    /// The part number, where it is a part with one.
    pub number: Option<String>,
    /// What its wires carry, where it is a connector.
    pub pins: Vec<String>,
}

/// So many fasteners of one sort.
#[derive(Clone, Debug, Hash)]
pub struct Fasteners {
    /// How many; 0 where nobody knows it yet.
    pub count: u32,
    /// The id.
    pub id: String,
    /// The name; the id where nothing is known of it.
    pub name: String,
    /// Thread, length and class in words; empty where none are told.
    pub thread: String,
    /// The thread alone, as the guide writes it.
    pub designation: Option<String>,
    /// The drive.
    pub drive: Option<String>,
}

/// What something goes onto.
#[derive(Clone, Debug, Hash)]
pub struct Onto {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
}

/// One operation.
#[derive(Clone, Debug, Hash)]
pub struct Operation {
    /// The step's anchor and its number in the step, as `take-the-seat-out/1`: what ticks and records name it by.
    pub id: String,
    /// Whether a sentence of the step tells it; otherwise it stands in the list of the step's facts.
    pub told: bool,
    /// What it opens and closes.
    pub moves: Vec<Move>,
    /// The verb.
    pub verb: Verb,
    /// What it acts on.
    pub targets: Vec<Target>,
    /// The fasteners.
    pub hardware: Vec<Fasteners>,
    /// How it is done.
    pub how: Vec<How>,
    /// The place, where one entry of the guide is done in several.
    pub place: Option<String>,
    /// What it goes onto.
    pub onto: Option<Onto>,
    /// How many holes are drilled.
    pub holes: Option<u32>,
    /// The pilot drill, which comes first.
    pub pilot: Option<NamedValue>,
    /// Time to wait behind it.
    pub wait: Option<Value>,
    /// The torque.
    pub torque: Option<Torque>,
    /// Other values.
    pub values: Vec<NamedValue>,
    /// Tools for it.
    pub tools: Vec<ToolUse>,
    /// The order of undoing.
    pub undoing: Option<Ordered>,
    /// The passes of undoing; empty where there is one.
    pub undo_passes: Vec<Line>,
    /// How many fasteners are undone in these passes.
    pub undo_count: u32,
    /// The options it needs.
    pub when: When,
    /// The whole entry.
    pub span: Span,
}

/// A tool where it is used.
#[derive(Clone, Debug, Hash)]
pub struct ToolUse {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The shop's number for it.
    pub number: Option<String>,
    /// Whether it is the torque wrench of the operation, which its torque names already.
    pub of_torque: bool,
}

/// A value with its name.
#[derive(Clone, Debug, Hash)]
pub struct NamedValue {
    /// What the value is.
    pub name: String,
    /// The value.
    pub value: Value,
    /// Where it comes from.
    pub source: Option<String>,
    /// Where the value is read off and written down: what counts as it. None where nothing is read off.
    pub bounds: Option<Bounds>,
}

/// A connector as it is seen.
#[derive(Clone, Debug, Hash)]
pub struct Connector {
    /// Its name.
    pub name: String,
    /// Its cavities in use.
    pub pins: Vec<Pin>,
    /// Its rows as written, each a list of cavities.
    pub layout: Vec<String>,
    /// Whether it is seen from where the other half is plugged in; none where nobody said from which side.
    pub mating_side: Option<bool>,
}

impl Connector {
    /// Why its face cannot be drawn; none where the places of its cavities and the side they are seen from are told. A side that is made up
    /// pins the housing the wrong way round.
    pub fn not_drawn(&self) -> Option<&'static str> {
        let ring = self.layout.iter().any(|row| row == "ring");
        let placed = |pin: &Pin| self.layout.iter().any(|row| row.split_whitespace().any(|cavity| cavity == pin.at));
        let placed = ring || (!self.layout.is_empty() && self.pins.iter().all(placed));
        match (placed, self.mating_side.is_some()) {
            (true, true) => None,
            (true, false) => Some("the side it is seen from is not told: go by the numbers on the housing"),
            (false, true) => Some("where the cavities stand is not told: go by the numbers on the housing"),
            (false, false) => Some("where the cavities stand, and seen from which side, is not told: go by the numbers on the housing"),
        }
    }
}

impl Pin {
    /// What it carries and its wire: `Lamp, BU/WH, 1.5 mm²`.
    pub fn words(&self) -> String {
        [&self.what, &self.colour, &self.wire].into_iter().flatten().map(String::as_str).collect::<Vec<_>>().join(", ")
    }
}

/// A cavity in use.
#[derive(Clone, Debug, Hash)]
pub struct Pin {
    /// Its number, as on the housing.
    pub at: String,
    /// What it carries.
    pub what: Option<String>,
    /// The colour of its wire, as written.
    pub colour: Option<String>,
    /// The conductor, as written.
    pub wire: Option<String>,
}

/// An electrical circuit that the job lays.
#[derive(Clone, Debug, Hash)]
pub struct Circuit {
    /// Its name.
    pub name: String,
    /// The conductor.
    pub wire: String,
    /// The largest current in service.
    pub current: Value,
    /// One way.
    pub length: Option<Value>,
    /// The fuse.
    pub fuse: Option<Value>,
    /// How the fuse is built, and the colour of a blade fuse's housing.
    pub fuse_note: Option<String>,
    /// Where these values come from.
    pub source: Option<String>,
    /// Where it is defined.
    pub span: Span,
}

/// A step.
#[derive(Clone, Debug, Hash)]
pub struct Step {
    /// From 1.
    pub number: usize,
    /// Its anchor.
    pub id: String,
    /// Its heading.
    pub title: String,
    /// The side that it is for, where it is written once for several; its heading says it too.
    pub side: Option<String>,
    /// Its words and pictures.
    pub words: Vec<Spanned<Block>>,
    /// Its pictures with callouts once more, for paper.
    pub called: Vec<Picture>,
    /// Its cautions, the gravest first.
    pub cautions: Vec<Caution>,
    /// Cautions that an earlier step stated and that still hold.
    pub standing: Vec<Standing>,
    /// Where it departs from the supplier's sheet.
    pub departures: Vec<Departure>,
    /// Connectors that it works on or speaks of.
    pub connectors: Vec<Connector>,
    /// What is done.
    pub operations: Vec<Operation>,
    /// Values that no operation names.
    pub values: Vec<NamedValue>,
    /// Time to wait at the end.
    pub wait: Option<Value>,
    /// Time for it, in thousandths of a minute.
    pub minutes: Option<u32>,
    /// When it begins in the video, in seconds.
    pub moment: Option<u32>,
    /// Tools of the step that no operation names.
    pub tools: Vec<ToolUse>,
    /// Checks at its end.
    pub checks: Vec<Line>,
    /// Who signs before work goes on.
    pub hold_point: Option<String>,
    /// The options it needs.
    pub when: When,
    /// Steps that come first.
    pub needs: Vec<StepLink>,
    /// From the heading to the next step.
    pub span: Span,
}

impl Step {
    /// The operation of this id.
    pub fn operation(&self, id: &str) -> Option<&Operation> {
        self.operations.iter().find(|operation| operation.id == id)
    }

    /// Takes out sentences whose operations are all gone: what is not done on this vehicle is not told either.
    pub(crate) fn forget_untold(&mut self) {
        let Step { words, operations, .. } = self;
        words.retain_mut(|block| match &mut block.value {
            Block::Told { label: _, operations: told, words: _ } => {
                told.retain(|id| operations.iter().any(|operation| operation.id == *id));
                !told.is_empty()
            }
            _ => true,
        });
    }

    /// The sentence that tells an operation; none where it stands in the list of facts.
    pub fn sentence(&self, id: &str) -> Option<&words::Words> {
        self.words.iter().find_map(|block| match &block.value {
            Block::Told { label: _, operations, words } => operations.iter().any(|told| told == id).then_some(words),
            _ => None,
        })
    }
}

/// A link to a step.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct StepLink {
    /// Its anchor.
    pub id: String,
    /// Its number.
    pub number: usize,
}

/// A group of steps.
#[derive(Clone, Debug, Hash)]
pub struct Phase {
    /// Its heading; none for steps before the first one.
    pub title: Option<String>,
    /// Its words.
    pub words: Vec<Spanned<Block>>,
    /// Its steps.
    pub steps: Vec<Step>,
}

/// A row of a torque sheet.
#[derive(Clone, Debug, Hash)]
pub struct TorqueRow {
    /// The step.
    pub step: StepLink,
    /// The step's heading.
    pub title: String,
    /// What is tightened; empty where no hardware is named.
    pub fasteners: Vec<Fasteners>,
    /// Names of what is tightened where no hardware is named.
    pub things: Vec<String>,
    /// What it holds, and where it is, as far as its name does not say it.
    pub place: Vec<String>,
    /// The value and how.
    pub torque: Torque,
    /// The options it needs.
    pub when: When,
}

/// What differs from a revision that was issued before.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct Since {
    /// That revision.
    pub revision: String,
    /// Its day.
    pub issued: Date,
    /// Whether the guide was written anew since.
    pub anew: bool,
    /// What differs, in the order of the guide.
    pub differences: Vec<Differing>,
}

impl Since {
    /// Whether something differs in a step.
    pub fn is_in(&self, step: &str) -> bool {
        self.differences.iter().any(|differing| differing.step.as_ref().is_some_and(|(id, _)| id.as_deref() == Some(step)))
    }
}

/// Something that differs from a revision before.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct Differing {
    /// The step in words, with its anchor where it is in the guide; none for what is the guide's own.
    pub step: Option<(Option<String>, String)>,
    /// In which way: `changed`, `added`, `removed`, `moved`.
    pub kind: &'static str,
    /// What sort of thing: `torque`.
    pub sort: &'static str,
    /// What it is.
    pub what: String,
    /// How it was told.
    pub old: Option<String>,
    /// How it is told now.
    pub new: Option<String>,
    /// By how much.
    pub by: Option<String>,
    /// Whether it calls for a look at work that was done to the old text.
    pub look: bool,
}

impl Differing {
    /// In one line: `torque of 4 × Base bolt: 22.5 N·m → 24 N·m (+1.5 N·m)`.
    pub fn line(&self) -> String {
        let told = match (&self.old, &self.new, self.kind) {
            (Some(old), Some(new), _) => {
                format!("{}: {old} → {new}{}", self.what, self.by.as_ref().map(|by| format!(" ({by})")).unwrap_or_default())
            }
            (None, Some(new), _) => format!("new: {}: {new}", self.what),
            (Some(old), None, _) => format!("gone: {}: {old}", self.what),
            (None, None, _) => self.what.clone(),
        };
        match &self.step {
            Some((_, step)) => format!("{step}: {told}"),
            None => told,
        }
    }
}

/// What a revision changed.
#[derive(Clone, Debug, Hash)]
pub struct Change {
    /// The revision.
    pub revision: String,
    /// Its day.
    pub issued: Option<Date>,
    /// What changed.
    pub what: String,
    /// Whether the guide was written anew.
    pub anew: bool,
}
