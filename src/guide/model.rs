//! The model of a guide: types only, every value with its place in the text. Made by `lower`, read by
//! rules and pages; it knows no file, no page and no rule.

use foldhash::HashMap;

use crate::fastener::Drive;
use crate::guide::language::Language;
use crate::guide::prose::Prose;
use crate::guide::untold::Untold;
use crate::guide::verb::Verb;
use crate::quantity::{Exact, Quantity};
use crate::source::{FileId, Place, Span, Spanned};
use crate::wiring::{FuseType, blade_fuse};

/// Text with its place.
pub type Text = Spanned<String>;

/// A calendar day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
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

/// A drive as the author spells it, read once so that it can be compared by meaning.
#[derive(Clone, Debug)]
pub struct DriveText {
    read: Option<Drive>,
    folded: String,
}

impl DriveText {
    /// Reads a drive; one that is not known is compared by its letters, whatever the case and the spacing.
    pub fn new(text: &str) -> Self {
        let folded = text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect();
        DriveText { read: Drive::read(text).ok(), folded }
    }

    /// Whether both mean the same drive.
    pub fn is(&self, other: &DriveText) -> bool {
        self.folded == other.folded || (self.read.is_some() && self.read == other.read)
    }
}

/// A tool.
#[derive(Clone, Debug)]
pub struct Tool {
    /// The name to refer by.
    pub id: Text,
    /// The name on the page.
    pub name: Text,
    /// The drives it covers.
    pub sizes: Vec<Text>,
    /// The same as read.
    pub drives: Vec<DriveText>,
    /// For a torque wrench, from and to.
    pub range: Option<Spanned<Stated>>,
    /// For a torque wrench, from grip to drive.
    pub lever: Option<Spanned<Stated>>,
    /// For an adapter, from drive to fastener.
    pub offset: Option<Spanned<Stated>>,
    /// The square that drives it or that it drives.
    pub square: Option<Spanned<Stated>>,
    /// The shop's number for it.
    pub number: Option<Text>,
    /// The day its calibration ends.
    pub calibrated_until: Option<Spanned<Date>>,
    /// A few words shown with it.
    pub note: Option<Text>,
    /// Whether it stands in front of the shop's of the same id.
    pub hides: bool,
}

impl Tool {
    /// Whether one of its sizes is this drive, however both are spelt.
    pub fn fits(&self, drive: &DriveText) -> bool {
        self.drives.iter().any(|own| own.is(drive))
    }

    /// The ends of a torque wrench's range in newton-metres; none for other tools.
    pub fn torque_range(&self) -> Option<(Exact, Exact)> {
        let (from, to) = self.range.as_ref()?.value.quantity.as_ref()?.base_bounds();
        Some((from?, to?))
    }

    /// Whether a torque wrench's range holds the whole of a torque.
    pub fn holds(&self, torque: &Quantity) -> bool {
        let (low, high) = torque.base_bounds();
        self.torque_range().is_some_and(|(from, to)| [low, high].into_iter().flatten().all(|end| from <= end && end <= to))
    }
}

/// A signal word by ANSI Z535.6.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
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

/// Rows with an id, kept in the order written and found by id.
#[derive(Clone, Debug)]
pub struct Table<T> {
    /// The rows in order.
    pub rows: Vec<T>,
    index: HashMap<String, usize>,
}

impl<T> Default for Table<T> {
    fn default() -> Self {
        Table { rows: Vec::new(), index: HashMap::default() }
    }
}

impl<T> Table<T> {
    /// Adds a row; gives back the earlier row of the same id, which stays the one that is found.
    pub fn insert(&mut self, id: &str, row: T) -> Option<&T> {
        self.rows.push(row);
        match self.index.get(id) {
            Some(&earlier) => Some(&self.rows[earlier]),
            None => {
                self.index.insert(id.to_owned(), self.rows.len() - 1);
                None
            }
        }
    }

    /// The row with this id.
    pub fn get(&self, id: &str) -> Option<&T> {
        self.index.get(id).map(|&at| &self.rows[at])
    }
}

/// Everything with an id that one file defines.
#[derive(Clone, Debug, Default)]
pub struct Definitions {
    /// `[[part]]`
    pub parts: Table<Part>,
    /// `[[hardware]]`
    pub hardware: Table<Hardware>,
    /// `[[spec]]`
    pub specs: Table<Spec>,
    /// `[[option]]`
    pub options: Table<VehicleOption>,
    /// `[[item]]` and `[[connector]]`
    pub items: Table<Item>,
    /// `[[tool]]`
    pub tools: Table<Tool>,
    /// `[[caution]]` with an id
    pub cautions: Table<Caution>,
    /// `[[circuit]]`
    pub circuits: Table<Circuit>,
    /// `[[vehicle]]`
    pub vehicles: Table<Vehicle>,
    /// Papers that values come from: id and full name.
    pub sources: Table<(Text, Text)>,
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

/// A numbered piece of work.
#[derive(Clone, Debug)]
pub struct Step<'s> {
    /// The name to refer by, unique in the guide.
    pub id: Text,
    /// The heading's words.
    pub title: Text,
    /// From the heading to the next step.
    pub span: Span,
    /// The step's block, fence to fence; none if it has none.
    pub block: Option<Span>,
    /// Time for it, in thousandths of a minute.
    pub minutes: Option<Spanned<u32>>,
    /// What is done.
    pub operations: Vec<Operation>,
    /// Time to wait at the end.
    pub wait: Option<Spanned<Stated>>,
    /// Only with these options.
    pub when: Condition,
    /// Tools of the step.
    pub tools: Vec<Text>,
    /// Cautions shown by id.
    pub caution_refs: Vec<Text>,
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
    /// Time for the job.
    pub hours: Option<Spanned<Stated>>,
    /// Tool ids.
    pub tools: Vec<Text>,
    /// Before work starts.
    pub before: Vec<Text>,
    /// Standing cautions by id.
    pub caution_refs: Vec<Text>,
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

/// The shop: its name, its ways and what its guides share.
#[derive(Clone, Debug)]
pub struct Shop {
    /// The shop file; none if there is no such file.
    pub file: Option<FileId>,
    /// The name on every page.
    pub name: String,
    /// A sentence for every page.
    pub notice: Option<String>,
    /// `en` or `de`.
    pub language: Language,
    /// Whether imperial units stand first.
    pub imperial_first: bool,
    /// The sentence that puts the maker's instructions, local rules and licensed people first.
    pub deferral: String,
    /// Whether every guide has to say who approved it.
    pub approval: bool,
    /// Whether the handbook for authors is published with the site.
    pub handbook: bool,
    /// The published address, ending in `/`.
    pub address: Option<String>,
    /// How much of the voltage a circuit may lose, as a share: 0.03 for 3 %.
    pub drop: Option<Exact>,
    /// How far from a torque the one applied may be, as a share, where its spec does not say.
    pub tolerance: Option<Exact>,
    /// The largest current in each wire.
    pub wires: Vec<WireLimit>,
    /// Rules that the shop weighs in its own way.
    pub weights: Vec<Weight>,
    /// Combinations of options for which sheets are published.
    pub sheets: Vec<SheetFor>,
    /// What nobody knows yet of what the guides share.
    pub untold: Vec<Untold>,
    /// What the guides share.
    pub shared: Definitions,
}
