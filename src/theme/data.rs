//! What templates get: plain, versioned data with every word ready to print. The built-in theme and a
//! shop's own get the same. Fields whose names end in `html` hold finished markup and are written with
//! `safe`; all others are text. Model types never come this far.

mod asked;
mod comparison;
mod findings;
mod lists;
mod stated;
mod values;

use serde::{Deserialize, Serialize};

pub use asked::*;
pub use comparison::*;
pub use findings::*;
pub use lists::*;
pub use stated::*;
pub use values::*;

/// The version of this data; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 5;

/// What every page gets, as `site`.
#[derive(Clone, Debug, Serialize)]
pub struct Site {
    /// The version of this data.
    pub version: u32,
    /// The language of the guides, such as `en`.
    pub language: String,
    /// The shop's name.
    pub shop: String,
    /// The shop's sentence for every page, for instance that all values are invented.
    pub notice: Option<String>,
    /// The sentence that puts the vehicle maker's instructions, local rules and licensed people first. A page that does not say it is not
    /// published.
    pub deferral: String,
    /// Whether the handbook for authors stands in `handbook/`.
    pub handbook: bool,
    /// Whether the handbook stands by itself, without a site around it.
    pub alone: bool,
    /// Whether imperial units stand first.
    pub imperial_first: bool,
    /// Names of the files in `assets/`: the content is part of the name.
    pub assets: Assets,
    /// The address under which the site is published, ending in `/`; none where the shop file gives none.
    pub address: Option<String>,
    /// The content-security policy for the page's head.
    pub policy: &'static str,
}

/// Names of the theme's files as published.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Assets {
    /// The style of all pages.
    pub sheet_css: String,
    /// The style of checklists, less the paper.
    pub checklist_css: String,
    /// The papers: A4 and Letter.
    pub paper_css: String,
    /// The script of all pages.
    pub site_js: String,
    /// The script for paper of older revisions and for old addresses, which a page loads where there is need.
    pub history_js: String,
    /// The style of what differs between two states of a guide.
    pub history_css: String,
    /// The style of lists and the handbook.
    pub lists_css: String,
    /// The script of the search, which a page loads when its search field is first used.
    pub search_js: String,
    /// The script that lets a guide be kept on the device.
    pub offline_js: String,
    /// The script that speaks of kept guides.
    pub kept_js: String,
    /// The colours of highlighted examples.
    pub code_css: String,
    /// The script of pages with options.
    pub options_js: String,
    /// The style of the bay view, loaded when it is opened.
    pub bay_css: String,
    /// The script of the bay view, loaded when it is opened: all of its files in one, each after those that it says it needs.
    pub bay_js: String,
}

/// A value in both unit orders.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Value {
    /// In the shop's first units.
    pub first: String,
    /// In the others, where there are others.
    pub second: Option<String>,
    /// Both, marked up so that the page can change the order.
    pub html: String,
}

/// A safety message.
#[derive(Clone, Debug, Serialize)]
pub struct Caution {
    /// `danger`, `warning`, `caution` or `notice`; the class of the panel.
    pub signal: &'static str,
    /// The word as printed, in capitals.
    pub word: String,
    /// The hazard.
    pub hazard_html: String,
    /// What happens otherwise, and how to avoid it.
    pub rest_html: String,
    /// The number of the last step that it stands for; none where it speaks for its place alone.
    pub until: Option<usize>,
    /// Whether a step before this one states the same in full, on every vehicle: it is then one line that opens.
    pub again: bool,
    /// The options it needs, in words.
    pub when: Option<String>,
    /// The same as terms for a script: all must hold, `!` before an option says without it.
    pub terms: Option<String>,
}

/// A vehicle.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Vehicle {
    /// Its id.
    pub id: String,
    /// Its name with the years.
    pub name: String,
}

/// A torque wrench as the bay view holds what is entered against it.
#[derive(Clone, Debug, Serialize)]
pub struct Wrench {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The shop's number for it.
    pub number: Option<String>,
    /// Its range in words.
    pub range: String,
    /// Its lowest torque in newton-metres.
    pub low: Option<String>,
    /// Its highest.
    pub high: Option<String>,
    /// The day its calibration ends, as ISO 8601.
    pub calibrated_until: Option<String>,
}

/// A tool.
#[derive(Clone, Debug, Deserialize, Serialize)]
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
    /// The day its calibration ends, in words.
    pub calibrated_until: Option<String>,
    /// Which of its sizes the guide uses.
    pub sizes: Vec<String>,
    /// The options it is needed with, as terms; `|` stands between alternatives.
    pub terms: Option<String>,
    /// A few words.
    pub note: Option<String>,
}

/// A part or some hardware with its count.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Counted {
    /// Its name, thread and class included.
    pub name: String,
    /// How many, as printed.
    pub count: String,
    /// The options it is there with, as terms; `|` stands between alternatives.
    pub terms: Option<String>,
    /// What the count is the sum of where that depends on options: `4@ 2@heated-seat`.
    pub amounts: Option<String>,
    /// The part number.
    pub number: Option<String>,
    /// A few words.
    pub note: Option<String>,
    /// Whether nobody has told how many there are.
    pub untold: bool,
}

/// A tightening value where it is used.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Torque {
    /// The value.
    pub value: Value,
    /// What counts as it in each unit it is printed in.
    pub reads: Vec<Reads>,
    /// The lowest torque in N·m that counts as the value applied, as a decimal; none where there is no lower end.
    pub low: Option<String>,
    /// The highest.
    pub high: Option<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// The order of tightening, in words.
    pub pattern: Option<String>,
    /// The passes, in words, such as `50 %, then 100 %`.
    pub stages: Option<String>,
    /// Each pass in words; one without words where none are given.
    pub passes: Vec<String>,
    /// The same as HTML with values in both unit orders; empty where none are given.
    pub passes_html: Vec<String>,
    /// The state of the thread.
    pub condition: Option<String>,
    /// Listed torque wrenches.
    pub wrench: Option<String>,
    /// What the wrench is set to where an adapter lengthens it, in words.
    pub setting: Option<String>,
    /// The same as HTML with values in both unit orders.
    pub setting_html: Option<String>,
    /// The order of tightening drawn, as SVG.
    pub order_svg: Option<String>,
    /// How many fasteners; 0 where unknown.
    pub count: u32,
    /// A few words.
    pub note: Option<String>,
}

/// One operation.
#[derive(Clone, Debug, Serialize)]
pub struct Operation {
    /// The step's anchor and its number in the step, as `take-the-seat-out/1`: what ticks and records name it by.
    pub id: String,
    /// Whether a row of the step's words shows it.
    pub told: bool,
    /// What it opens and closes, as accounts with `+` or `-` before them: `+disconnect/heater-plug -loosen/seat-bolt*4`.
    pub moves: String,
    /// The verb, as printed: `Remove`.
    pub verb: &'static str,
    /// What it acts on, in words: `seat, bracket`.
    pub things: String,
    /// The fasteners: `4 × Seat rail bolt (T50)`.
    pub hardware: Vec<String>,
    /// How: keep, by hand, notes; each a few words.
    pub how: Vec<String>,
    /// The torque.
    pub torque: Option<Torque>,
    /// Other values with what they are.
    pub specs: Vec<NamedValue>,
    /// Tools for it.
    pub tools: Vec<String>,
    /// The order of undoing drawn, as SVG.
    pub loosening_svg: Option<String>,
    /// The passes of undoing, in words; empty for one pass.
    pub undo_passes: Vec<String>,
    /// The same as HTML.
    pub undo_passes_html: Vec<String>,
    /// How many fasteners are undone.
    pub undo_count: u32,
    /// The options it needs, in words.
    pub when: Option<String>,
    /// The same as terms for a script: all must hold, `!` before an option says without it.
    pub terms: Option<String>,
}

/// Some words of a step, with the operations that they tell.
#[derive(Clone, Debug, Serialize)]
pub struct Row {
    /// The words: a sentence, or all that stands up to the next one that tells an operation.
    pub html: String,
    /// The operations; empty for words alone.
    pub operations: Vec<Operation>,
    /// The words behind a sentence that tells operations, up to the next one.
    pub after_html: String,
    /// The options that all of them need, as terms for a script.
    pub terms: Option<String>,
}

/// A picture with callouts.
#[derive(Clone, Debug, Serialize)]
pub struct Called {
    /// The picture with its balloons.
    pub picture_html: String,
    /// What the balloons point to, as a numbered list.
    pub list_html: String,
}

/// A connector's face.
#[derive(Clone, Debug, Serialize)]
pub struct Face {
    /// The connector's name.
    pub name: String,
    /// The drawing with its legend, as SVG; none where the places of the cavities or the side are not told.
    pub svg: Option<String>,
    /// Why it is not drawn.
    pub not_drawn: Option<&'static str>,
    /// Its cavities where it is not drawn.
    pub pins: Vec<Pin>,
}

/// A cavity of a connector that is not drawn.
#[derive(Clone, Debug, Serialize)]
pub struct Pin {
    /// Its number, as on the housing.
    pub at: String,
    /// What it carries and its wire.
    pub words: String,
}

/// An electrical circuit that the job lays.
#[derive(Clone, Debug, Serialize)]
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
}

/// A value with its name.
#[derive(Clone, Debug, Serialize)]
pub struct NamedValue {
    /// What the value is.
    pub name: String,
    /// The value.
    pub value: Value,
    /// Where it comes from.
    pub source: Option<String>,
    /// Where the value is read off and written down, beside `inspect`, `measure` and `test`: what counts as it in each unit it is printed
    /// in. Empty where nothing is read off.
    pub reads: Vec<Reads>,
}

/// What counts as a value that is measured, in one unit.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Reads {
    /// The unit.
    pub unit: String,
    /// The lowest number; none where there is no lower limit.
    pub low: Option<String>,
    /// The highest number; none where there is no upper limit.
    pub high: Option<String>,
}

/// A step.
#[derive(Clone, Debug, Serialize)]
pub struct Step {
    /// From 1.
    pub number: usize,
    /// Its anchor.
    pub id: String,
    /// Its heading.
    pub title: String,
    /// Whether something differs in it from the revision before.
    pub changed: bool,
    /// Its words and pictures.
    pub html: String,
    /// The same in rows, each sentence that tells operations with them.
    pub rows: Vec<Row>,
    /// Whether a sentence of it tells an operation.
    pub tells: bool,
    /// Whether it has a sentence with an operation and an operation without one: that stands beside the words before the first such sentence.
    pub lead: bool,
    /// Whether there are facts beside the words.
    pub facts: bool,
    /// Its pictures with callouts once more, for paper.
    pub called: Vec<Called>,
    /// Its cautions, shown before its words.
    pub cautions: Vec<Caution>,
    /// Cautions that an earlier step stated and that still hold.
    pub standing: Vec<StillHolds>,
    /// Where it departs from the supplier's sheet.
    pub departures: Vec<Departure>,
    /// Faces of connectors that the step works on, as SVG with their names.
    pub faces: Vec<Face>,
    /// What is done.
    pub operations: Vec<Operation>,
    /// Values that no operation names.
    pub specs: Vec<NamedValue>,
    /// Time to wait at the end.
    pub wait: Option<String>,
    /// The same in seconds, as a decimal; the longest where there is a range. None where the text is no time.
    pub wait_seconds: Option<String>,
    /// Time for it, in words.
    pub minutes: Option<String>,
    /// The same in minutes, as a decimal.
    pub minutes_number: Option<String>,
    /// The same as ISO 8601.
    pub minutes_iso: Option<String>,
    /// Tools of the step that no operation names.
    pub tools: Vec<String>,
    /// Checks at its end.
    pub checks_html: Vec<String>,
    /// Who signs before work goes on.
    pub hold_point: Option<String>,
    /// The options it needs, in words.
    pub when: Option<String>,
    /// The same as terms for a script: all must hold, `!` before an option says without it.
    pub terms: Option<String>,
    /// Steps that come first.
    pub needs: Vec<StepLink>,
    /// When it begins in the video.
    pub moment: Option<Moment>,
}

/// A moment of the video.
#[derive(Clone, Debug, Serialize)]
pub struct Moment {
    /// Minutes and seconds.
    pub clock: String,
    /// The address of the video at that moment; none where the guide has no video.
    pub href: Option<String>,
}

/// The video of a guide.
#[derive(Clone, Debug, Serialize)]
pub struct Video {
    /// Its address.
    pub href: String,
    /// Whether it is a file beside the page, which plays it.
    pub is_file: bool,
    /// The file of its chapters; none where no step has a moment.
    pub chapters: Option<String>,
}

/// A link to a step.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct StepLink {
    /// Its anchor.
    pub id: String,
    /// Its number.
    pub number: usize,
}

/// A group of steps.
#[derive(Clone, Debug, Serialize)]
pub struct Phase {
    /// Its heading; none for steps before the first one.
    pub title: Option<String>,
    /// Its words.
    pub html: String,
    /// Its steps.
    pub steps: Vec<Step>,
}

/// A row of a torque sheet.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct TorqueRow {
    /// The step's number.
    pub number: usize,
    /// The step's anchor.
    pub step: String,
    /// The step's heading.
    pub title: String,
    /// What is tightened: `4 × Flange bolt`.
    pub fastener: String,
    /// What it holds, and where it is, as far as its name does not say it.
    pub place: Option<String>,
    /// Thread and class.
    pub thread: String,
    /// The threads alone, as the guide writes them.
    pub threads: Vec<String>,
    /// The drive.
    pub drive: String,
    /// The value and how.
    pub torque: Torque,
    /// The options it needs, in words.
    pub when: Option<String>,
    /// The same as terms for a script: all must hold, `!` before an option says without it.
    pub terms: Option<String>,
}

/// An option, or several of which exactly one holds.
#[derive(Clone, Debug, Serialize)]
pub struct Choice {
    /// What is chosen: the option's name, or the word of the group.
    pub name: String,
    /// Whether exactly one of them holds; otherwise it is a single option that is there or not.
    pub one_of: bool,
    /// The options.
    pub options: Vec<OptionLine>,
}

/// An option of the vehicle.
#[derive(Clone, Debug, Serialize)]
pub struct OptionLine {
    /// What terms name it by.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Options that cannot occur with it, with spaces between.
    pub not_with: String,
}

/// Something that operations open and close.
#[derive(Clone, Debug, Serialize)]
pub struct OpenThing {
    /// What [`Operation::moves`] names it by.
    pub account: String,
    /// Its name.
    pub name: String,
    /// How it is while it is open: `disconnected`.
    pub state: &'static str,
    /// Whether it is a connector.
    pub connector: bool,
}

/// What a revision changed.
#[derive(Clone, Debug, Serialize)]
pub struct Change {
    /// The revision.
    pub revision: String,
    /// Its day.
    pub issued: Option<String>,
    /// What changed.
    pub what: String,
}

/// A guide in one line, for lists. Every list of guides uses it.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct GuideLine {
    /// Its folder under `guides/`.
    pub slug: String,
    /// What it does.
    pub title: String,
    /// Its number.
    pub document: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// The day of issue, in words.
    pub issued: Option<String>,
    /// The same as ISO 8601.
    pub issued_iso: Option<String>,
    /// The part of the vehicle.
    pub system: String,
    /// A sentence or two.
    pub summary: Option<String>,
    /// What it fits.
    pub fits: Vec<Vehicle>,
    /// Time for the job.
    pub hours: Option<String>,
    /// How many steps.
    pub steps: usize,
    /// Whether it is published although it is held.
    pub draft: bool,
}

/// A photo of a guide, to show where its page is linked.
#[derive(Clone, Debug, Serialize)]
pub struct Photo {
    /// The file beside the guide's page.
    pub file: String,
    /// Its width.
    pub width: u32,
    /// Its height.
    pub height: u32,
    /// What it shows.
    pub words: String,
}

/// A guide's page, its checklists and its torque sheet, as `guide`.
#[derive(Clone, Debug, Serialize)]
pub struct Guide {
    /// The line that lists show.
    #[serde(flatten)]
    pub line: GuideLine,
    /// Who approved it.
    pub approved: Option<String>,
    /// Eight characters that change with every change of the guide.
    pub fingerprint: String,
    /// The time as ISO 8601.
    pub hours_iso: Option<String>,
    /// What it is not for.
    pub not_for: Vec<String>,
    /// Before work starts.
    pub before_html: Vec<String>,
    /// Cautions before the first step.
    pub cautions: Vec<Caution>,
    /// Where its steps depart from the supplier's sheet.
    pub departures: Vec<DepartureRow>,
    /// Tools.
    pub tools: Vec<Tool>,
    /// Torque wrenches of the guide and the shop, against which the bay view holds what is entered.
    pub wrenches: Vec<Wrench>,
    /// Parts of the kit.
    pub parts: Vec<Counted>,
    /// Hardware of the kit.
    pub kit_hardware: Vec<Counted>,
    /// Hardware on the vehicle.
    pub vehicle_hardware: Vec<Counted>,
    /// What is used up.
    pub consumables: Vec<Consumable>,
    /// How much of it has to be bought.
    pub buys: usize,
    /// How much of it has not.
    pub uses_up: usize,
    /// What else is to be ready.
    pub ready_html: Vec<String>,
    /// Options, those of which exactly one holds together.
    pub choices: Vec<Choice>,
    /// Things that operations open and close.
    pub accounts: Vec<OpenThing>,
    /// Words before the first step.
    pub intro_html: String,
    /// The steps.
    pub phases: Vec<Phase>,
    /// The torque sheet.
    pub torques: Vec<TorqueRow>,
    /// Checks when done.
    pub final_checks_html: Vec<String>,
    /// What is due later.
    pub follow_up_html: Vec<String>,
    /// Circuits that the job lays.
    pub circuits: Vec<Circuit>,
    /// Revisions.
    pub changes: Vec<Change>,
    /// Full names of the papers.
    pub sources: Vec<String>,
    /// Where the job can be watched.
    pub video: Option<Video>,
    /// What nobody knows yet, by who can answer.
    pub asked: Vec<Asked>,
    /// Its first photo.
    pub photo: Option<Photo>,
    /// Checklists as PDF that stand beside the page.
    pub sheets: Vec<SheetLinks>,
    /// What differs from the revision before; on the page of a superseded one, what differs from it now.
    pub since: Option<SinceThen>,
    /// Older revisions that are kept readable, the newest first.
    pub older: Vec<OlderIssue>,
    /// On the page of an older revision, what took its place.
    pub superseded: Option<Superseded>,
    /// Whether it is the last issued revision of a guide of which a newer one is worked on.
    pub kept: bool,
}

/// The PDF files of a sheet, one for each paper.
#[derive(Clone, Debug, Deserialize, Hash, Serialize)]
pub struct SheetLinks {
    /// Which sheet.
    pub what: String,
    /// For which vehicle, in words; none where it holds everything, labelled.
    pub of: Option<String>,
    /// The files.
    pub files: Vec<SheetLink>,
}

/// A PDF file.
#[derive(Clone, Debug, Deserialize, Hash, Serialize)]
pub struct SheetLink {
    /// Its name.
    pub file: String,
    /// Its paper, as people call it.
    pub paper: String,
}
