//! The model of a guide: types only, every value with its place in the text. Made by `lower`, read by
//! rules and pages; it knows no file, no page and no rule.

use crate::guide::prose::Prose;
use crate::guide::untold::Untold;
use crate::guide::verb::Verb;
use crate::quantity::{Exact, Quantity};
use crate::source::{FileId, Place, Span, Spanned};
use crate::wiring::{FuseType, blade_fuse};

mod shop;
mod table;
mod tool;

pub use shop::Shop;
pub use table::{Definitions, Table};
pub use tool::{DriveText, Tool};

/// Text with its place.
pub type Text = Spanned<String>;

/// A calendar day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Deserialize, serde::Serialize)]
pub struct Date {
    /// The year.
    pub year: u16,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

/// As ISO 8601 writes it, and as guides do.
impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A value as written and as read; `quantity` is none where it could not be read (a finding says why).
#[derive(Clone, Debug)]
pub struct Stated {
    /// The author's own spelling.
    pub text: String,
    /// What it says.
    pub quantity: Option<Quantity>,
    /// Whether somebody only heard it.
    pub unsure: bool,
}

/// One option that must or must not be there.
#[derive(Clone, Debug)]
pub struct Term {
    /// The option's id.
    pub option: Text,
    /// Whether the option must be absent.
    pub absent: bool,
}

/// All terms must hold; no terms means always.
#[derive(Clone, Debug, Default)]
pub struct Condition(pub Vec<Term>);

impl Condition {
    /// Whether there is nothing to hold.
    pub fn is_always(&self) -> bool {
        self.0.is_empty()
    }
}

/// While what a thing may be worked on, or may not.
#[derive(Clone, Debug)]
pub struct Allowed {
    /// As written.
    pub text: Text,
    /// What is done to it.
    pub verbs: Vec<Verb>,
    /// The other thing.
    pub thing: Text,
    /// The verb that brings it into the state.
    pub state: Verb,
}

/// A part supplied in the kit.
#[derive(Clone, Debug)]
pub struct Part {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// The supplier's number.
    pub number: Option<Text>,
    /// How many are supplied.
    pub supplied: Option<Spanned<u32>>,
    /// How many of them are spares.
    pub spare: Option<Spanned<u32>>,
    /// Whether a count stands there that cannot be read: nothing is then said about counts.
    pub uncounted: bool,
    /// Supplied only with these options.
    pub when: Condition,
    /// While what it may be worked on alone.
    pub only: Vec<Allowed>,
    /// While what it may not be worked on.
    pub never: Vec<Allowed>,
    /// Why work on it is dangerous or licensed.
    pub marks: Vec<Text>,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

/// Fasteners of one sort.
#[derive(Clone, Debug)]
pub struct Hardware {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// Bolt, nut, clip and so on; a bolt unless said.
    pub kind: Option<Text>,
    /// The thread as written.
    pub thread: Option<Text>,
    /// Length under the head.
    pub length: Option<Spanned<Stated>>,
    /// Strength class or grade.
    pub class: Option<Text>,
    /// What the tool fits on.
    pub drive: Option<Text>,
    /// How many are supplied.
    pub supplied: Option<Spanned<u32>>,
    /// How many are on the vehicle at the start.
    pub on_vehicle: Option<Spanned<u32>>,
    /// How many of those supplied are spares.
    pub spare: Option<Spanned<u32>>,
    /// Whether a count stands there that cannot be read: nothing is then said about counts.
    pub uncounted: bool,
    /// There only with these options.
    pub when: Condition,
    /// Not to be used again.
    pub one_use: bool,
    /// Why no torque is given.
    pub no_torque: Option<Text>,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Hardware {
    /// Whether it is tightened to a torque at all.
    pub fn takes_torque(&self) -> bool {
        self.no_torque.is_none() && !self.kind.as_ref().is_some_and(|kind| matches!(kind.as_str(), "clip" | "rivet" | "tie" | "washer"))
    }
}

/// A value, written once.
#[derive(Clone, Debug)]
pub struct Spec {
    /// The name to refer by.
    pub id: Text,
    /// What the value is.
    pub name: Option<Text>,
    /// What it belongs to.
    pub of: Option<Text>,
    /// The value itself; none for a spec that only carries a thread or drill.
    pub value: Option<Spanned<Stated>>,
    /// Whether the value is a turn behind hand tight, in the place of a torque.
    pub hand_then: bool,
    /// A thread or drill carried as text.
    pub designation: Option<Text>,
    /// Where the value comes from.
    pub source: Option<Text>,
    /// The tightening order.
    pub pattern: Option<Text>,
    /// For a rectangle, in how many rows.
    pub rows: Option<Spanned<u32>>,
    /// An order of the supplier's own, as written.
    pub order: Option<Text>,
    /// The passes.
    pub stages: Vec<Text>,
    /// The state of the thread.
    pub condition: Option<Text>,
    /// What the thread is driven into.
    pub into: Option<Text>,
    /// The thread-locker to put on.
    pub locker: Option<Text>,
    /// The lubricant to put on.
    pub lubricant: Option<Text>,
    /// When the torque is checked again.
    pub retorque: Option<Text>,
    /// How far from the torque the one applied may be, as a share.
    pub tolerance: Option<Exact>,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Spec {
    /// The value as read.
    pub fn quantity(&self) -> Option<&Quantity> {
        self.value.as_ref().and_then(|value| value.value.quantity.as_ref())
    }
}

/// A difference between vehicles.
#[derive(Clone, Debug)]
pub struct VehicleOption {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// The group of which exactly one holds.
    pub one_of: Option<Text>,
    /// Options that cannot occur with it.
    pub not_with: Vec<Text>,
}

/// A cavity of a connector that is in use.
#[derive(Clone, Debug)]
pub struct Pin {
    /// Its number, as on the housing.
    pub at: Text,
    /// What it carries.
    pub what: Option<Text>,
    /// The colour of its wire, as written.
    pub colour: Option<Text>,
    /// The conductor, as written.
    pub wire: Option<Text>,
}

/// An electrical circuit that the job lays.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// The conductor, as written; none where nobody knows it yet.
    pub wire: Option<Text>,
    /// The largest current in service; none where nobody knows it yet.
    pub current: Option<Spanned<Stated>>,
    /// One way, from supply to consumer.
    pub length: Option<Spanned<Stated>>,
    /// The nominal voltage.
    pub voltage: Option<Spanned<Stated>>,
    /// The fuse that protects it.
    pub fuse: Option<Spanned<Stated>>,
    /// How the fuse is built.
    pub fuse_type: Option<Text>,
    /// What its current runs through, from the source to the consumer.
    pub through: Vec<Text>,
    /// Where these values come from.
    pub source: Option<Text>,
}

impl Circuit {
    /// The upper end of its voltage in volts; 12 V where none is stated.
    pub fn volts(&self) -> Option<Exact> {
        self.voltage.as_ref().map_or(Some(Exact::whole(12)), |voltage| voltage.value.quantity.as_ref()?.base_bounds().1)
    }

    /// How its fuse is built, where that is stated.
    pub fn fuse_type(&self) -> Option<FuseType> {
        self.fuse_type.as_ref().and_then(|word| FuseType::named(word.as_str()))
    }

    /// What is told beside its fuse: how it is built, and the colour of a blade fuse's housing.
    ///
    /// Up to the 58 V that blade fuses are made for, one of unstated type is taken for a blade fuse if its rating has a colour.
    pub fn fuse_note(&self) -> Option<String> {
        let rating = self.fuse.as_ref()?.value.quantity.as_ref()?.base_bounds().1?;
        let colour = blade_fuse(rating).map(|fuse| fuse.housing.name());
        match (self.fuse_type(), colour) {
            (Some(FuseType::Blade), Some(colour)) => Some(format!("blade fuse, {colour}")),
            (Some(other), _) => Some(other.name().to_owned()),
            (None, Some(colour)) if self.volts()? <= Exact::whole(58) => Some(format!("blade fuse: {colour}")),
            (None, _) => None,
        }
    }
}

/// The largest current that the shop allows in a wire.
#[derive(Clone, Debug)]
pub struct WireLimit {
    /// The conductor, as written.
    pub wire: Text,
    /// The current.
    pub current: Spanned<Stated>,
    /// Where the limit comes from.
    pub source: Option<Text>,
}

/// A connector, or another thing on the vehicle that operations act on.
#[derive(Clone, Debug)]
pub struct Item {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// Whether it is an electrical connector.
    pub connector: bool,
    /// Why work on it is dangerous or licensed.
    pub marks: Vec<Text>,
    /// The marks whose circuits are dead while it is off or apart.
    pub isolates: Vec<Text>,
    /// Whether it is reached from below, so that the vehicle is raised when it is worked on; none where the name and what hides it decide.
    pub from_below: Option<bool>,
    /// While what it may be worked on alone.
    pub only: Vec<Allowed>,
    /// While what it may not be worked on.
    pub never: Vec<Allowed>,
    /// Items that must be off first.
    pub behind: Vec<Text>,
    /// Why it may stay as it is at the end.
    pub stays: Option<Text>,
    /// Whether it is off, apart, loose or empty before work starts.
    pub open_at_start: bool,
    /// Of a connector, its cavities in use.
    pub pins: Vec<Pin>,
    /// Of a connector, its cavities as they stand.
    pub layout: Vec<Text>,
    /// Of a connector, from where the layout is seen.
    pub seen_from: Option<Text>,
    /// There only with these options.
    pub when: Condition,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Item {
    /// A thing of which nothing but its name is said.
    pub fn named(id: Text, name: Text) -> Item {
        Item {
            id,
            name,
            connector: false,
            marks: Vec::new(),
            isolates: Vec::new(),
            from_below: None,
            only: Vec::new(),
            never: Vec::new(),
            behind: Vec::new(),
            stays: None,
            open_at_start: false,
            pins: Vec::new(),
            layout: Vec::new(),
            seen_from: None,
            when: Condition::default(),
            note: None,
            hides: false,
        }
    }
}

/// What a job uses up. It is an item of the same id as well, so that operations can act on it.
#[derive(Clone, Debug)]
pub struct Consumable {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// How much of it, as written.
    pub amount: Option<Text>,
    /// The number it is ordered by.
    pub number: Option<Text>,
    /// Whether it has to be bought for the job.
    pub buy: bool,
    /// Needed only with these options.
    pub when: Condition,
    /// A few words shown with it.
    pub note: Option<Text>,
}

/// A signal word by ANSI Z535.6.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Signal {
    /// Will cause death or serious injury.
    Danger,
    /// Could cause death or serious injury.
    Warning,
    /// Could cause minor or moderate injury.
    Caution,
    /// Damage, no injury.
    Notice,
}

impl Signal {
    /// The word as written in a guide.
    pub fn key(self) -> &'static str {
        match self {
            Signal::Danger => "danger",
            Signal::Warning => "warning",
            Signal::Caution => "caution",
            Signal::Notice => "notice",
        }
    }
}

/// A safety message.
#[derive(Clone, Debug)]
pub struct Caution {
    /// The name to refer by; none for a message of one step.
    pub id: Option<Text>,
    /// The signal word.
    pub signal: Spanned<Signal>,
    /// The kind of hazard.
    pub hazard: Text,
    /// What happens otherwise.
    pub result: Option<Text>,
    /// How to avoid it.
    pub avoid: Option<Text>,
    /// The last step that it stands for; none where it speaks for its own step alone.
    pub until: Option<Text>,
    /// The marks it speaks for.
    pub covers: Vec<Text>,
    /// Only with these options.
    pub when: Condition,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Caution {
    /// Whether it speaks for a mark.
    pub fn covers(&self, mark: &str) -> bool {
        self.covers.iter().any(|covered| covered.value == mark)
    }
}

/// A caution shown by its id.
#[derive(Clone, Debug)]
pub struct CautionRef {
    /// The id.
    pub id: Text,
    /// The last step that it stands for, where the reference says so.
    pub until: Option<Text>,
}

/// A vehicle of the shop.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// Which years.
    pub years: Option<Text>,
    /// A few words shown with it.
    pub note: Option<Text>,
}

/// What a revision changed.
#[derive(Clone, Debug)]
pub struct Change {
    /// The revision.
    pub revision: Text,
    /// Its day.
    pub issued: Option<Spanned<Date>>,
    /// What changed.
    pub what: Text,
    /// Ids of what it speaks of.
    pub about: Vec<Text>,
    /// Whether the guide was written anew.
    pub anew: bool,
}

/// A finding that the author judges acceptable.
#[derive(Clone, Debug)]
pub struct Acceptance {
    /// The rule.
    pub rule: Text,
    /// Why.
    pub reason: Text,
    /// The text it speaks for: a step, or the whole guide.
    pub scope: Span,
}

/// A rule that the shop weighs in its own way.
#[derive(Clone, Debug)]
pub struct Weight {
    /// The rule's name.
    pub rule: Text,
    /// Hold, query, remark or off, as written.
    pub severity: Text,
    /// Why.
    pub reason: Text,
}

/// A combination of options for which sheets are published.
#[derive(Clone, Debug)]
pub struct SheetFor {
    /// The guide, by its name in addresses.
    pub guide: Text,
    /// Options that are there.
    pub with: Vec<Text>,
    /// Options that are not.
    pub without: Vec<Text>,
}

/// The torque of an operation.
#[derive(Clone, Debug)]
pub enum TorqueRef {
    /// The id of a spec.
    Spec(Text),
    /// A value given in place.
    InPlace(Box<Spanned<Stated>>),
}

/// So many of one sort of hardware.
#[derive(Clone, Debug)]
pub struct HardwareCount {
    /// How many; 0 where nobody knows it yet.
    pub count: u32,
    /// The id of the hardware.
    pub id: Text,
    /// The whole text, `4 x seat-bolt`.
    pub span: Span,
}

/// One thing a step does.
#[derive(Clone, Debug)]
pub struct Operation {
    /// What is done.
    pub verb: Verb,
    /// The whole entry; of one that a sentence tells, the link.
    pub span: Span,
    /// Whether a sentence of the step tells it, and not the list `do`.
    pub told: bool,
    /// Whether it is written in the short form.
    pub short: bool,
    /// Where the verb's key stands.
    pub verb_span: Span,
    /// Ids of what it acts on.
    pub targets: Vec<Text>,
    /// How many of the part or hardware named with the verb; one unless said.
    pub count: Option<Spanned<u32>>,
    /// The fasteners involved.
    pub hardware: Vec<HardwareCount>,
    /// The torque.
    pub torque: Option<TorqueRef>,
    /// The angle of an adapter to the wrench.
    pub adapter_angle: Option<Spanned<Stated>>,
    /// The spec in the reverse of whose order the hardware is undone.
    pub loosen_as: Option<Text>,
    /// The passes in which the hardware is undone.
    pub loosen_stages: Vec<Text>,
    /// Where a torque given in place comes from.
    pub source: Option<Text>,
    /// Other values.
    pub specs: Vec<Text>,
    /// Started by hand only.
    pub by_hand: bool,
    /// What comes off is kept.
    pub keep: bool,
    /// The hardware that comes off is thrown away.
    pub discard_hardware: bool,
    /// Only with these options.
    pub when: Condition,
    /// What it goes onto.
    pub onto: Option<Text>,
    /// How many holes are drilled.
    pub holes: Option<Spanned<u32>>,
    /// The spec of the pilot drill.
    pub pilot: Option<Text>,
    /// The place, where one entry is done in several.
    pub place: Option<Text>,
    /// Time to wait behind it.
    pub wait: Option<Spanned<Stated>>,
    /// The spec that the time to wait is written in.
    pub wait_spec: Option<Text>,
    /// Tools.
    pub with: Vec<Text>,
    /// A few words shown behind it.
    pub note: Option<Text>,
}

/// A place on a picture that a step speaks of.
#[derive(Clone, Debug)]
pub struct Callout {
    /// The whole entry.
    pub span: Span,
    /// The picture's address as the step's words write it.
    pub picture: Text,
    /// From the left and from the top, as shares of its width and height.
    pub at: Spanned<(f64, f64)>,
    /// What is there.
    pub words: Text,
}

/// Where a step departs from the supplier's sheet.
#[derive(Clone, Debug)]
pub struct Departure {
    /// The whole entry.
    pub span: Span,
    /// What the sheet says.
    pub says: Text,
    /// What is done.
    pub does: Text,
    /// Why.
    pub why: Text,
    /// Who approved it.
    pub approved: Option<Text>,
    /// The sheet.
    pub source: Option<Text>,
}

/// The side of a step that is written once for several.
#[derive(Clone, Debug)]
pub struct Side {
    /// The side, in words.
    pub name: Text,
    /// The id of all sides together.
    pub of: String,
    /// Whether it is the first of them.
    pub first: bool,
}

/// A numbered piece of work.
#[derive(Clone, Debug)]
pub struct Step<'s> {
    /// The name to refer by, unique in the guide.
    pub id: Text,
    /// The heading's words.
    pub title: Text,
    /// The side that it is for, where it is written once for several.
    pub side: Option<Side>,
    /// From the heading to the next step.
    pub span: Span,
    /// The step's block, fence to fence; none if it has none.
    pub block: Option<Span>,
    /// Time for it, in thousandths of a minute.
    pub minutes: Option<Spanned<u32>>,
    /// When it begins in the video, in seconds.
    pub at: Option<Spanned<u32>>,
    /// What is done.
    pub operations: Vec<Operation>,
    /// Time to wait at the end.
    pub wait: Option<Spanned<Stated>>,
    /// The spec that it is written in.
    pub wait_spec: Option<Text>,
    /// Only with these options.
    pub when: Condition,
    /// Tools of the step.
    pub tools: Vec<Text>,
    /// Cautions shown by id.
    pub caution_refs: Vec<CautionRef>,
    /// Cautions of the step alone.
    pub cautions: Vec<Caution>,
    /// Values shown beside it.
    pub specs: Vec<Text>,
    /// Checks at its end.
    pub checks: Vec<Text>,
    /// Who signs before work goes on.
    pub hold_point: Option<Text>,
    /// Steps that come first.
    pub needs: Vec<Text>,
    /// Places on its pictures.
    pub callouts: Vec<Callout>,
    /// Where it departs from the supplier's sheet.
    pub departures: Vec<Departure>,
    /// The words.
    pub prose: Prose<'s>,
}

/// A group of steps under a level-1 heading.
#[derive(Clone, Debug)]
pub struct Phase<'s> {
    /// The heading; none for steps before the first one.
    pub title: Option<Text>,
    /// Words between the heading and its first step.
    pub prose: Prose<'s>,
    /// Its steps, as indices.
    pub steps: std::ops::Range<usize>,
}

/// A whole guide.
#[derive(Clone, Debug)]
pub struct Guide<'s> {
    /// The file.
    pub file: FileId,
    /// The name in addresses: the folder's or the file's name.
    pub slug: String,
    /// Where findings about the whole guide point: the first fence, or the start of the file.
    pub head: Span,
    /// Whether the guide block could be read; if not, nothing is said to be missing from it.
    pub head_read: bool,
    /// The keys that stand in the guide block, read or not.
    pub stated: Vec<String>,
    /// What the guide does.
    pub title: Option<Text>,
    /// The shop's number.
    pub document: Option<Text>,
    /// The revision.
    pub revision: Option<Text>,
    /// Its day.
    pub issued: Option<Spanned<Date>>,
    /// Who approved it.
    pub approved: Option<Text>,
    /// Names that it had in addresses.
    pub was: Vec<Text>,
    /// Why it is not to be worked to any more.
    pub withdrawn: Option<Text>,
    /// The part of the vehicle.
    pub system: Option<Text>,
    /// Under the title.
    pub summary: Option<Text>,
    /// Vehicle ids.
    pub fits: Vec<Text>,
    /// Whether `fits` is there and names nothing.
    pub fits_nothing: bool,
    /// What it is not for.
    pub not_for: Vec<Text>,
    /// How many of its steps have all their cautions: every one, unless they came to more than there can be.
    pub cautioned: usize,
    /// Other words for the job, for the search.
    pub also: Vec<Text>,
    /// Where the job can be watched: an address, or a file beside the guide.
    pub video: Option<Text>,
    /// What was heard and is not certain, of the guide and of its steps.
    pub unsure: Vec<Text>,
    /// Time for the job.
    pub hours: Option<Spanned<Stated>>,
    /// Tool ids.
    pub tools: Vec<Text>,
    /// What is to be ready beside tools and kit.
    pub ready: Vec<Text>,
    /// Before work starts.
    pub before: Vec<Text>,
    /// Standing cautions by id.
    pub caution_refs: Vec<CautionRef>,
    /// Checks when done.
    pub final_checks: Vec<Text>,
    /// What is due later.
    pub follow_up: Vec<Text>,
    /// What revisions changed.
    pub changes: Vec<Change>,
    /// Accepted findings, of the guide and of its steps.
    pub acceptances: Vec<Acceptance>,
    /// Ids of which some count could not be read: nothing is then said of how many there are.
    pub uncounted: Vec<String>,
    /// What nobody knows yet, and what somebody only heard.
    pub untold: Vec<Untold>,
    /// What the guide defines.
    pub own: Definitions,
    /// Words before the first step.
    pub intro: Prose<'s>,
    /// The groups of steps.
    pub phases: Vec<Phase<'s>>,
    /// The steps in order.
    pub steps: Vec<Step<'s>>,
}

impl Guide<'_> {
    /// A place in this guide.
    pub fn place(&self, span: Span) -> Place {
        Place { file: self.file, span }
    }

    /// All words of the guide: before the first step, under phases and in steps.
    pub fn words(&self) -> impl Iterator<Item = &Prose<'_>> {
        std::iter::once(&self.intro).chain(self.phases.iter().map(|phase| &phase.prose)).chain(self.steps.iter().map(|step| &step.prose))
    }

    /// Whether the guide block has a line for `key`, even one that cannot be read.
    pub fn states(&self, key: &str) -> bool {
        self.stated.iter().any(|stated| stated == key)
    }

    /// Every operation with the index of its step.
    pub fn operations(&self) -> impl Iterator<Item = (usize, &Operation)> {
        self.steps.iter().enumerate().flat_map(|(at, step)| step.operations.iter().map(move |operation| (at, operation)))
    }
}
