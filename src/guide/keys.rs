//! The table of keys: every key a guide or the shop file may use, what kind of value it takes,
//! what it means and an example. Reading, messages and the author's handbook all come from here;
//! what the values add up to is left to `lower` and `shop`.

use std::sync::LazyLock;

use crate::guide::language::Language;
use crate::quantity::Dimension;

/// A place in the format where a set of keys is valid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Block {
    /// The block at the top of a guide.
    Guide,
    /// The block under a step heading.
    Step,
    /// One entry of a step's `do` list.
    Operation,
    /// `[[part]]`
    Part,
    /// `[[hardware]]`
    Hardware,
    /// `[[spec]]`
    Spec,
    /// `[[option]]`
    Option,
    /// `[[connector]]`
    Connector,
    /// `[[item]]`
    Item,
    /// `[[tool]]`
    Tool,
    /// `[[caution]]`
    Caution,
    /// `[[change]]`
    Change,
    /// `[[accept]]`
    Accept,
    /// The file `guides/shop.toml`.
    Shop,
    /// `[[vehicle]]` in the shop file.
    Vehicle,
    /// `[[rule]]` in the shop file.
    Rule,
    /// An entry of a connector's `pin` list.
    Pin,
    /// `[[circuit]]`
    Circuit,
    /// `[[wire]]` in the shop file.
    Wire,
    /// `[[sheet]]` in the shop file.
    Sheet,
    /// `[[callout]]`
    Callout,
    /// `[[departure]]`
    Departure,
    /// `[[consumable]]`
    Consumable,
}

impl Block {
    /// Every block, in the order of the handbook.
    pub const ALL: [Block; 23] = [
        Block::Guide,
        Block::Step,
        Block::Operation,
        Block::Part,
        Block::Hardware,
        Block::Spec,
        Block::Option,
        Block::Connector,
        Block::Item,
        Block::Tool,
        Block::Caution,
        Block::Change,
        Block::Accept,
        Block::Shop,
        Block::Vehicle,
        Block::Rule,
        Block::Pin,
        Block::Circuit,
        Block::Wire,
        Block::Sheet,
        Block::Callout,
        Block::Departure,
        Block::Consumable,
    ];

    /// What messages call the block.
    pub fn name(self) -> &'static str {
        match self {
            Block::Guide => "the guide block",
            Block::Step => "a step block",
            Block::Operation => "an operation",
            Block::Part => "[[part]]",
            Block::Hardware => "[[hardware]]",
            Block::Spec => "[[spec]]",
            Block::Option => "[[option]]",
            Block::Connector => "[[connector]]",
            Block::Item => "[[item]]",
            Block::Tool => "[[tool]]",
            Block::Caution => "[[caution]]",
            Block::Change => "[[change]]",
            Block::Accept => "[[accept]]",
            Block::Shop => "shop.toml",
            Block::Vehicle => "[[vehicle]]",
            Block::Rule => "[[rule]]",
            Block::Pin => "a pin",
            Block::Circuit => "[[circuit]]",
            Block::Wire => "[[wire]]",
            Block::Sheet => "[[sheet]]",
            Block::Callout => "[[callout]]",
            Block::Departure => "[[departure]]",
            Block::Consumable => "[[consumable]]",
        }
    }
}

/// The kind of value a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A line of text.
    Text,
    /// A name to refer by: lower-case letters, digits and hyphens.
    Id,
    /// A list of texts; a single text counts as a list of one.
    Texts,
    /// A list of words out of a fixed set.
    Words(&'static [&'static str]),
    /// A list of ids of the named sort; a single id counts as a list of one.
    Ids(&'static str),
    /// One id of the named sort.
    Ref(&'static str),
    /// `true` or `false`.
    Flag,
    /// A whole number, zero or more.
    Count,
    /// A number of minutes, zero or more, whole or not.
    Minutes,
    /// A place on a picture: two numbers.
    Point,
    /// A date, year first, without quotes.
    Date,
    /// A value with its unit, as text.
    Value(Dimension),
    /// A torque as text, or the id of a spec that has one.
    Torque,
    /// Counts of hardware: `"4 x seat-bolt"`, or a list of such texts.
    Hardware,
    /// An option's id, `"not "` and an option's id, or a list of which all must hold.
    Condition,
    /// A table from id to text.
    Named,
    /// One of a fixed set of words.
    Word(&'static [&'static str]),
    /// A list of operations, each a small table.
    Operations,
    /// Blocks of the named kind, written `[[name]]`.
    Blocks(Block),
}

impl Kind {
    /// What messages say the key takes.
    pub fn describe(self) -> String {
        match self {
            Kind::Text => "text in quotes".into(),
            Kind::Id => "an id in quotes: lower-case letters, digits and hyphens".into(),
            Kind::Texts => "a list of texts".into(),
            Kind::Ids("item") => "the id of an item, connector, part or hardware, or a list of ids".into(),
            Kind::Ids(what) => format!("a list of {what} ids"),
            Kind::Words(words) => format!("a list of words out of: {}", words.join(", ")),
            Kind::Ref(what) => format!("the id of a {what}"),
            Kind::Flag => "true or false".into(),
            Kind::Count => "a whole number, zero or more".into(),
            Kind::Minutes => "a number of minutes, zero or more".into(),
            Kind::Point => "two numbers between 0 and 1, such as [0.42, 0.31]".into(),
            Kind::Date => "a date without quotes, such as 2026-09-14".into(),
            Kind::Value(dimension) => {
                let article = if dimension.name().starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                format!("{article} {} with its unit, in quotes", dimension.name())
            }
            Kind::Torque => "a torque with its unit in quotes, or the id of a spec".into(),
            Kind::Hardware => "counts of hardware in quotes, such as \"4 x seat-bolt\"".into(),
            Kind::Condition => "an option id, \"not \" and an option id, or a list of these".into(),
            Kind::Named => "a table of ids and texts, such as { sheet = \"...\" }".into(),
            Kind::Word(words) => format!("one of {}", words.join(", ")),
            Kind::Operations => "a list of operations, such as [{ remove = \"seat\" }]".into(),
            Kind::Blocks(block) => format!("blocks that start with {}", block.name()),
        }
    }
}

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Where the key is valid.
    pub block: Block,
    /// The key as written.
    pub name: &'static str,
    /// The kind of value.
    pub kind: Kind,
    /// Whether the block is wrong without it.
    pub required: bool,
    /// What it means, one sentence or two.
    pub meaning: &'static str,
    /// The value as written in a guide, without the key.
    pub example: &'static str,
}

const fn key(block: Block, name: &'static str, kind: Kind, meaning: &'static str, example: &'static str) -> Key {
    Key { block, name, kind, required: false, meaning, example }
}

const fn must(block: Block, name: &'static str, kind: Kind, meaning: &'static str, example: &'static str) -> Key {
    Key { block, name, kind, required: true, meaning, example }
}

/// The signal words of ANSI Z535.6 as written in a guide.
pub const SIGNALS: &[&str] = &["danger", "warning", "caution", "notice"];
/// What marks an item, a part or a connector as needing a caution or a licensed person.
pub const MARKS: &[&str] = &[
    "restraint",
    "fuel",
    "gas",
    "pressure",
    "hot",
    "lifting",
    "battery",
    "high-voltage",
    "mains",
    "brakes",
    "steering",
    "refrigerant",
    "glazing",
    "cutting",
];
/// Those of the marks that the law or the vehicle maker keeps for trained people.
pub const LICENSED_MARKS: &[&str] = &["restraint", "fuel", "gas", "high-voltage", "mains", "brakes", "refrigerant"];
/// Those of the marks whose circuits can be made dead by something that is pulled or switched off.
pub const ISOLATED: &[&str] = &["battery", "high-voltage", "mains", "gas"];
/// The weights that a shop can give to a rule.
pub const WEIGHTS: &[&str] = &["hold", "query", "remark", "off"];
/// Tightening orders that can be named.
pub const PATTERNS: &[&str] = &["circle", "rectangle", "crosswise", "in-order", "maker-sequence"];
/// What a thread is driven into.
pub const INTO: &[&str] = &["steel", "aluminium", "plastic", "captive-nut", "rivet-nut", "insert"];
/// From where the face of a connector is drawn.
pub const SIDES: &[&str] = &["wire-side", "mating-side"];
/// The state of the thread that a torque is given for.
pub const CONDITIONS: &[&str] = &["dry", "oiled", "thread-locker", "anti-seize", "as-supplied"];
/// How a fuse is built.
pub const FUSE_TYPES: &[&str] = &["blade", "bolt-down", "cartridge", "tube", "breaker"];
/// Sorts of hardware; clips, rivets, ties and washers take no torque.
pub const HARDWARE_KINDS: &[&str] = &["bolt", "nut", "screw", "stud", "clip", "rivet", "tie", "washer", "clamp", "fitting"];

use Block::*;
use Kind::{Blocks, Condition, Count, Date, Flag, Id, Ids, Minutes, Named, Operations, Point, Ref, Text, Texts, Torque, Value, Word};

/// Every key of the format.
#[rustfmt::skip]
pub const KEYS: &[Key] = &[
    // the guide block
    must(Guide, "title", Text, "What the guide does, as a command: this is the page's title.", "\"Fit the swivel base under the front passenger seat\""),
    key(Guide, "document", Text, "The shop's number for the document.", "\"TH-0142\""),
    key(Guide, "revision", Text, "The letter or number of this revision.", "\"B\""),
    key(Guide, "issued", Date, "The day this revision was issued.", "2026-09-14"),
    key(Guide, "approved", Text, "Who approved this revision: a role, not a name.", "\"Shop foreman\""),
    key(Guide, "was", Texts, "Names that the guide's folder had before: their addresses, and the QR codes on paper with them, lead on to this one.", "[\"swivel-base\"]"),
    key(Guide, "withdrawn", Text, "Why the guide is not to be worked to any more. Its page stays and says so; it goes from search and lists.", "\"The supplier took the base from the market.\""),
    key(Guide, "system", Text, "The part of the vehicle it belongs to; groups guides on the front page.", "\"Seats\""),
    key(Guide, "summary", Text, "One or two sentences under the title.", "\"The seat comes out once. No drilling.\""),
    key(Guide, "fits", Ids("vehicle"), "The vehicles of the shop file that the guide is for.", "[\"marlin-3500\"]"),
    key(Guide, "not_for", Texts, "What it is not for, in words.", "[\"vans with a bench seat\"]"),
    key(Guide, "also", Texts, "Other words for the job, by which the search finds the guide too.", "[\"captain seat\", \"turning seat\"]"),
    key(Guide, "video", Text, "Where the job can be watched: an address, or a file beside the guide. Steps with `at` lead to their moment in it; nothing is loaded before somebody asks for it.", "\"https://videos.example/swivel-seat\""),
    key(Guide, "unsure", Texts, "What was heard of the whole job and is not certain, one question each; the review asks them until they are settled and taken out.", "[\"02:10 “gromit” is probably “grommet”\"]"),
    key(Guide, "hours", Value(Dimension::Time), "Time for the whole job; a bare number is hours. Where options change the work, from the shortest to the longest.", "\"1.5..2\""),
    key(Guide, "sources", Named, "Where values come from: an id for each paper, and its full name.", "{ sheet = \"Fitting sheet SB-40, issue 2\" }"),
    key(Guide, "tools", Ids("tool"), "Every tool the job needs, from the shop file or from this guide. A torque wrench is used by the torques in its range, a set of sockets by the hardware of its `sizes`; all others are named in `with`.", "[\"torque-wrench-60\", \"trim-lever\"]"),
    key(Guide, "ready", Texts, "What else is to be ready beside tools and kit, for instance a helper or blocks of wood; a list of its own.", "[\"two blocks of wood\", \"a helper\"]"),
    key(Guide, "before", Texts, "What must be so before work starts.", "[\"Park on level ground, key out\"]"),
    key(Guide, "cautions", Ids("caution"), "Cautions shown before the first step. `ID until STEP` names one in every step up to that one.", "[\"restraint\"]"),
    key(Guide, "final_check", Texts, "Checks when the job is done.", "[\"The seat locks in both positions\"]"),
    key(Guide, "follow_up", Texts, "What is due later, for instance a re-torque.", "[\"Check the torque again after 100 km\"]"),
    key(Guide, "part", Blocks(Part), "A thing supplied in the kit.", "id, name, number, supplied"),
    key(Guide, "hardware", Blocks(Hardware), "Fasteners of one sort.", "id, name, thread, class, drive, counts"),
    key(Guide, "spec", Blocks(Spec), "A value with its unit, written once and referred to by id.", "id, the value, for, source"),
    key(Guide, "option", Blocks(Option), "A difference between vehicles that switches steps on or off.", "id, name"),
    key(Guide, "connector", Blocks(Connector), "An electrical connector.", "id, name"),
    key(Guide, "circuit", Blocks(Circuit), "An electrical circuit that the job lays: its current, wire, length and fuse.", "id, name, current, wire, length, fuse"),
    key(Guide, "item", Blocks(Item), "A thing on the vehicle that operations act on.", "id, name, marks"),
    key(Guide, "tool", Blocks(Tool), "A tool that only this guide needs.", "id, name, sizes"),
    key(Guide, "consumable", Blocks(Consumable), "What the job uses up: oil, sealant, tape.", "id, name, amount"),
    key(Guide, "caution", Blocks(Caution), "A safety message with an id, to show in several places.", "id, signal, hazard, result, avoid"),
    key(Guide, "change", Blocks(Change), "What changed in a revision.", "revision, issued, what"),
    key(Guide, "accept", Blocks(Accept), "A finding about the whole guide that the author judges acceptable.", "rule, reason"),
    // a step block
    key(Step, "id", Id, "A name to refer to the step by; without it, the heading in lower case with hyphens.", "\"seat-out\""),
    key(Step, "sides", Texts, "In the heading of a step, or of a phase for all its steps: written once, done for each side, as in `{#lamp sides=left,right}`. `{side}` in heading, words and facts is the side; in ids it stands with hyphens, as in `lamp-{side}`.", "left,right"),
    key(Step, "minutes", Minutes, "Time for the step.", "15"),
    key(Step, "at", Text, "When the step begins in the video of the guide, or in the talk it was drafted from: minutes and seconds.", "\"12:40\""),
    key(Step, "heard", Texts, "The words of a talk that the step was drafted from, each with its moment. They stand for the author and are not published.", "[\"12:40 those four come out\"]"),
    key(Step, "unsure", Texts, "What was heard and is not certain, one question each; the review asks them until they are settled and taken out.", "[\"12:40 “those”: the bolts, or the clips?\"]"),
    key(Step, "do", Operations, "What is done and told in no sentence, one small table or one text in the short form an operation, in order; it comes before what the sentences tell.", "[{ remove = \"seat\", hardware = \"4 x seat-bolt\", keep = true }]"),
    key(Step, "wait", Value(Dimension::Time), "Time to wait at the end of the step: a time, or the id of a spec that is one.", "\"3 min\""),
    key(Step, "when", Condition, "The step is done only with this option.", "\"heated-seat\""),
    key(Step, "tools", Ids("tool"), "Tools of this step; they must be in the guide's list too.", "[\"trim-lever\"]"),
    key(Step, "cautions", Ids("caution"), "Cautions with an id to show in this step, above its words. `ID until STEP` says that it stands up to that step: the steps between need not show it again.", "[\"restraint\"]"),
    key(Step, "specs", Ids("spec"), "Values of this step that no operation names, shown beside it.", "[\"seat-mass\"]"),
    key(Step, "check", Texts, "Checks at the end of the step.", "[\"The lamp goes out within 10 s\"]"),
    key(Step, "hold_point", Text, "Work stops here until the named role has signed.", "\"Inspector\""),
    key(Step, "needs", Ids("step"), "Steps that must be done before this one.", "[\"isolate\"]"),
    key(Step, "part", Blocks(Part), "A thing supplied in the kit that this step uses first. Its id is known in the whole guide, as if it stood at the top.", "id, name, number, supplied"),
    key(Step, "hardware", Blocks(Hardware), "Fasteners that this step uses first.", "id, name, thread, class, drive, counts"),
    key(Step, "spec", Blocks(Spec), "A value that this step uses first.", "id, the value, for, source"),
    key(Step, "connector", Blocks(Connector), "A connector that this step works on first.", "id, name"),
    key(Step, "item", Blocks(Item), "A thing on the vehicle that this step works on first.", "id, name, marks"),
    key(Step, "consumable", Blocks(Consumable), "What this step uses up first.", "id, name, amount"),
    key(Step, "caution", Blocks(Caution), "A safety message of this step alone.", "signal, hazard, result, avoid"),
    key(Step, "callout", Blocks(Callout), "A place on a picture of this step, shown as a numbered balloon and explained below the picture.", "picture, at, words"),
    key(Step, "departure", Blocks(Departure), "Where the step departs from the supplier's sheet: what the sheet says, what is done and why. Page, checklist and a list at the end of the guide show it.", "says, does, why, approved, source"),
    key(Step, "accept", Blocks(Accept), "A finding in this step that the author judges acceptable.", "rule, reason"),
    // an operation: exactly one of the verbs, then how
    key(Operation, "remove", Ids("item"), "Take off or out.", "\"seat\""),
    key(Operation, "fit", Ids("item"), "Put on or in.", "\"swivel-base\""),
    key(Operation, "disconnect", Ids("item"), "Unplug or undo a connection.", "\"battery-negative\""),
    key(Operation, "connect", Ids("item"), "Plug in or make a connection.", "\"battery-negative\""),
    key(Operation, "loosen", Ids("item"), "Slacken but leave in place.", "\"strut-nut\""),
    key(Operation, "tighten", Ids("item"), "Tighten what is already in place.", "\"strut-nut\""),
    key(Operation, "drain", Ids("item"), "Let a fluid out.", "\"gearbox-fluid\""),
    key(Operation, "fill", Ids("item"), "Put a fluid in.", "\"gearbox-fluid\""),
    key(Operation, "cap", Ids("item"), "Close an open line or port.", "\"cooler-line\""),
    key(Operation, "uncap", Ids("item"), "Take the cap off a line or port.", "\"cooler-line\""),
    key(Operation, "cover", Ids("item"), "Protect with a cover.", "\"carpet\""),
    key(Operation, "uncover", Ids("item"), "Take the cover off.", "\"carpet\""),
    key(Operation, "raise", Ids("item"), "Lift and support.", "\"vehicle\""),
    key(Operation, "lower", Ids("item"), "Let down.", "\"vehicle\""),
    key(Operation, "switch_off", Ids("item"), "Switch off or make safe.", "\"ignition\""),
    key(Operation, "switch_on", Ids("item"), "Switch on.", "\"ignition\""),
    key(Operation, "start", Ids("item"), "Start and leave running: an engine, a heater. What it needs is filled and closed before.", "\"engine\""),
    key(Operation, "stop", Ids("item"), "Stop what runs.", "\"engine\""),
    key(Operation, "release", Ids("item"), "Let the pressure out of a circuit, before it is opened.", "\"fuel-rail\""),
    key(Operation, "hold", Ids("item"), "Hold in place or under tension: a spring in its compressor, a shaft by its pin.", "\"front-spring\""),
    key(Operation, "let_go", Ids("item"), "Let go what was held.", "\"front-spring\""),
    key(Operation, "unlock", Ids("item"), "Open a lock, a tab or a latch.", "\"loom-tab\""),
    key(Operation, "lock", Ids("item"), "Close a lock, a tab or a latch.", "\"loom-tab\""),
    key(Operation, "pull", Ids("item"), "Pull a fuse or a relay out of its socket.", "\"fuse-12\""),
    key(Operation, "insert", Ids("item"), "Put a fuse or a relay into its socket.", "\"fuse-12\""),
    key(Operation, "transfer", Ids("item"), "Move over from the old part to the new one, which stands in `onto`: it comes off and goes on in one operation.", "\"park-sensor\""),
    key(Operation, "bleed", Ids("item"), "Let the air out of a circuit.", "\"brake-circuit\""),
    key(Operation, "top_up", Ids("item"), "Fill up to the mark what was not drained.", "\"coolant\""),
    key(Operation, "seal", Ids("item"), "Seal a joint, a hole or a bare edge.", "\"hole-edge\""),
    key(Operation, "lubricate", Ids("item"), "Oil or grease.", "\"rail\""),
    key(Operation, "programme", Ids("item"), "Write data or coding into a control unit.", "\"body-module\""),
    key(Operation, "calibrate", Ids("item"), "Set a sensor or a camera to its reference.", "\"front-camera\""),
    key(Operation, "mark", Ids("item"), "Mark the place or position.", "\"hole-row\""),
    key(Operation, "cut", Ids("item"), "Cut, for good. Cutting needs a caution that covers `cutting`.", "\"carpet\""),
    key(Operation, "drill", Ids("item"), "Drill, for good. Drilling needs a caution that covers `cutting`.", "\"floor-panel\""),
    key(Operation, "discard", Ids("item"), "Throw away: it does not go back. It need not have been removed before.", "\"old-gasket\""),
    key(Operation, "look_behind", Ids("item"), "Look for wires, lines and tanks behind a panel, before it is drilled or cut.", "\"floor-panel\""),
    key(Operation, "inspect", Ids("item"), "Look for damage or fit. A value in `specs` is read off: page, sheet and record have a field for it.", "\"loom\""),
    key(Operation, "measure", Ids("item"), "Measure and compare with the spec. A value in `specs` is read off: page, sheet and record have a field for it.", "\"battery-voltage\""),
    key(Operation, "clean", Ids("item"), "Clean.", "\"earth-point\""),
    key(Operation, "apply", Ids("item"), "Put on sealant, grease, tape or paint.", "\"cavity-wax\""),
    key(Operation, "route", Ids("item"), "Lay a cable or hose along its way.", "\"supply-cable\""),
    key(Operation, "road_test", Ids("item"), "Drive the vehicle to try it: last, with every level checked. A value in `specs` is read off: page, sheet and record have a field for it.", "\"vehicle\""),
    key(Operation, "test", Ids("item"), "Try the function. A value in `specs` is read off: page, sheet and record have a field for it.", "\"charger\""),
    key(Operation, "count", Count, "How many of the part or hardware named with the verb, as in { fit = \"cable-tie\", count = 12 }; one unless said. Hardware given beside it is counted once for the whole operation.", "2"),
    key(Operation, "hardware", Kind::Hardware, "The fasteners that are undone or done up with it, and how many; several sorts stand in a list: [\"4 x seat-bolt\", \"4 x washer\"]. A torque beside them is that of those that take one.", "\"4 x seat-bolt\""),
    key(Operation, "torque", Torque, "The torque they are tightened to: a spec's id, or a value in place.", "\"seat-bolt\""),
    key(Operation, "adapter_angle", Value(Dimension::Angle), "With a crowfoot or other adapter in `with`: its angle to the wrench, 0° straight out.", "\"0°\""),
    key(Operation, "loosen_as", Ref("spec"), "Undone in the reverse of the tightening order of this spec; page and checklist draw it.", "\"head-bolt\""),
    key(Operation, "loosen_stages", Texts, "The passes in which the hardware is undone, each in a few words or as an angle to turn back; page and checklist have a box for each fastener in each pass.", "[\"1/4 turn\", \"1 turn\", \"out\"]"),
    key(Operation, "source", Text, "Where a torque given in place comes from: a source's id, or several words.", "\"sheet\""),
    key(Operation, "specs", Ids("spec"), "Other values that belong to the operation. With `inspect`, `measure`, `road_test` and `test` each of them is read off, and page, sheet and record have a field for it; with any other verb it tells what is used or made. A condition under which something is tested stands in the `specs` of the step.", "[\"tongue-gap\"]"),
    key(Operation, "by_hand", Flag, "Hardware is only started by hand; a later operation tightens it.", "true"),
    key(Operation, "keep", Flag, "Says on page and sheet that what comes off is kept to go back on; it changes nothing in the counts.", "true"),
    key(Operation, "discard_hardware", Flag, "The hardware that comes off is thrown away.", "true"),
    key(Operation, "when", Condition, "Only with this option.", "\"heated-seat\""),
    key(Operation, "onto", Ref("item"), "What it goes onto: the new part, or a sub-assembly on the bench.", "\"new-bumper\""),
    key(Operation, "holes", Count, "How many holes are drilled.", "4"),
    key(Operation, "pilot", Ref("spec"), "The drill of the pilot hole, which comes first; the final size stands in `specs`.", "\"pilot-drill\""),
    key(Operation, "places", Texts, "Where it is done, if in several places: an operation of its own for each, counted and ticked as such.", "[\"left side\", \"right side\"]"),
    key(Operation, "wait", Value(Dimension::Time), "Time to wait behind it, before the next operation: a time, or the id of a spec that is one.", "\"10 min\""),
    key(Operation, "with", Ids("tool"), "Tools for this operation.", "[\"trim-lever\"]"),
    key(Operation, "note", Text, "A few words shown behind the operation.", "\"arrow to the front\""),
    // parts, hardware, specs
    must(Part, "id", Id, "The name to refer by.", "\"swivel-base\""),
    must(Part, "name", Text, "The name on the page.", "\"Swivel base SB-40\""),
    key(Part, "number", Text, "The supplier's part number.", "\"SB-40-012\""),
    key(Part, "supplied", Count, "How many are in the kit.", "1"),
    key(Part, "spare", Count, "How many of those supplied are spares, so that they may be left over.", "1"),
    key(Part, "when", Condition, "Supplied only with this option.", "\"heated-seat\""),
    key(Part, "only", Texts, "While what it may be worked on alone: a verb or several with `or`, then `while`, a thing and its state, which is what a verb has done to it, or `running`.", "[\"remove while vehicle raised\"]"),
    key(Part, "never", Texts, "While what it may not be worked on, written like `only`.", "[\"disconnect while engine running\"]"),
    key(Part, "marks", Kind::Words(MARKS), "What makes work on it dangerous or licensed.", "[\"gas\"]"),
    key(Part, "note", Text, "A few words shown with it.", "\"left-hand thread\""),
    key(Part, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    must(Hardware, "id", Id, "The name to refer by.", "\"seat-bolt\""),
    must(Hardware, "name", Text, "The name on the page.", "\"Seat rail bolt\""),
    key(Hardware, "kind", Word(HARDWARE_KINDS), "What sort of fastener; a bolt unless said. Clips, rivets, ties and washers take no torque; the torque of a clamp or a fitting (pipe nut, union, gland, plug) is not held against a bolt's strength.", "\"nut\""),
    key(Hardware, "thread", Text, "The thread as the trade writes it: metric, unified, pipe (G, R, NPT), gland, tapping-screw (ST) or trapezoidal (Tr).", "\"M10x1.25\""),
    key(Hardware, "length", Value(Dimension::Length), "Length under the head.", "\"25 mm\""),
    key(Hardware, "class", Text, "Strength class or grade.", "\"10.9\""),
    key(Hardware, "drive", Text, "What the tool fits on.", "\"13 mm hex\""),
    key(Hardware, "supplied", Count, "How many are in the kit.", "4"),
    key(Hardware, "on_vehicle", Count, "How many are on the vehicle before work starts: no more can be taken off or tightened.", "4"),
    key(Hardware, "spare", Count, "How many of those supplied are spares, so that they may be left over.", "1"),
    key(Hardware, "when", Condition, "Supplied, or on the vehicle, only with this option.", "\"heated-seat\""),
    key(Hardware, "one_use", Flag, "Not to be used again once undone.", "true"),
    key(Hardware, "no_torque", Text, "Why this hardware is done up without a torque.", "\"plastic nut, hand tight by design\""),
    key(Hardware, "note", Text, "A few words shown with it.", "\"with patch of thread-locker\""),
    key(Hardware, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    must(Spec, "id", Id, "The name to refer by.", "\"seat-bolt\""),
    key(Spec, "name", Text, "What the value is, where `for` does not say it.", "\"Gap at the front edge\""),
    key(Spec, "for", Ref("hardware, part or item"), "What the value belongs to.", "\"seat-bolt\""),
    key(Spec, "torque", Value(Dimension::Torque), "A tightening torque, with an angle where one follows.", "\"45 N·m (33 lb·ft)\""),
    key(Spec, "angle", Value(Dimension::Angle), "An angle.", "\"90°\""),
    key(Spec, "hand_then", Value(Dimension::Angle), "For what is done up without a torque: hand tight, and then turned so far. An operation names it where others name their torque.", "\"3/4 turn\""),
    key(Spec, "length", Value(Dimension::Length), "A length, gap, depth or diameter.", "\"0.9 mm\""),
    key(Spec, "area", Value(Dimension::Area), "An area, for instance of a wire; its gauge does as well, as in AWG 6.", "\"16 mm²\""),
    key(Spec, "pressure", Value(Dimension::Pressure), "A pressure.", "\"2.4 bar (35 psi)\""),
    key(Spec, "volume", Value(Dimension::Volume), "A volume.", "\"6.5 L\""),
    key(Spec, "mass", Value(Dimension::Mass), "A mass.", "\"28 kg\""),
    key(Spec, "force", Value(Dimension::Force), "A force.", "\"150 N\""),
    key(Spec, "temperature", Value(Dimension::Temperature), "A temperature.", "\"80 °C\""),
    key(Spec, "temperature_difference", Value(Dimension::TemperatureDifference), "A difference between two temperatures.", "\"10 K\""),
    key(Spec, "time", Value(Dimension::Time), "A time.", "\"10 min\""),
    key(Spec, "current", Value(Dimension::Current), "An electric current.", "\"30 A\""),
    key(Spec, "voltage", Value(Dimension::Voltage), "A voltage.", "\"12.6 V\""),
    key(Spec, "resistance", Value(Dimension::Resistance), "A resistance.", "\"max 0.5 Ω\""),
    key(Spec, "power", Value(Dimension::Power), "A power.", "\"120 W\""),
    key(Spec, "speed", Value(Dimension::RotationSpeed), "A rotation speed.", "\"800 rpm\""),
    key(Spec, "thread", Text, "A thread, carried as text.", "\"3/8-16 UNC\""),
    key(Spec, "drill", Text, "The size of a drill: its diameter with the unit, or the number or letter it is sold by, as in #7 or F.", "\"9 mm\""),
    key(Spec, "source", Text, "Where the value comes from: a source's id, with a page or clause in brackets if wanted, or several words.", "\"sheet\""),
    key(Spec, "pattern", Word(PATTERNS), "The order in which several are tightened. `maker-sequence` is the sequence that the source shows and the guide does not repeat; an order that nobody knows yet is \"untold\".", "\"circle\""),
    key(Spec, "rows", Count, "For a rectangle: in how many rows the fasteners stand.", "2"),
    key(Spec, "order", Text, "An order of the supplier's own: position numbers in the order of tightening. Positions run clockwise from the top, or row by row from the top left.", "\"1-4-2-3\""),
    key(Spec, "stages", Texts, "The passes, in percent or as values.", "[\"50 %\", \"100 %\"]"),
    key(Spec, "condition", Word(CONDITIONS), "The state of the thread that the torque is given for.", "\"dry\""),
    key(Spec, "into", Word(INTO), "What the thread is driven into; steel unless said.", "\"aluminium\""),
    key(Spec, "locker", Text, "The thread-locker or sealant to put on, as the supplier names it.", "\"medium-strength thread-locker, from the kit\""),
    key(Spec, "lubricant", Text, "The lubricant to put on, as the supplier names it.", "\"copper-free assembly paste\""),
    key(Spec, "retorque", Text, "When the torque is checked again; it goes to the follow-up of page and checklist by itself.", "\"after 100 km\""),
    key(Spec, "tolerance", Text, "How far from this torque the one applied may be, in percent, where the torque itself states no range, tolerance or limit; otherwise that of the shop file holds.", "\"5 %\""),
    key(Spec, "note", Text, "A few words shown with it.", "\"cold engine\""),
    key(Spec, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    // options, connectors, items, tools
    must(Option, "id", Id, "The name to refer by.", "\"heated-seat\""),
    must(Option, "name", Text, "The name on the page.", "\"Heated seat\""),
    key(Option, "one_of", Text, "Options with the same word here exclude each other, and one of them always holds.", "\"gearbox\""),
    key(Option, "not_with", Ids("option"), "Options that cannot occur together with this one.", "[\"bench-seat\"]"),
    must(Connector, "id", Id, "The name to refer by.", "\"seat-airbag-connector\""),
    must(Connector, "name", Text, "The name on the page.", "\"Seat airbag connector, yellow\""),
    key(Connector, "marks", Kind::Words(MARKS), "What makes work on it dangerous or licensed.", "[\"restraint\"]"),
    key(Connector, "isolates", Kind::Words(ISOLATED), "What is dead while this is disconnected, off or switched off: the circuits of these marks. A battery's negative lead or isolator is known by its name too.", "[\"battery\"]"),
    key(Connector, "from_below", Flag, "Whether it is reached from below: then the vehicle is raised whenever it is worked on. `false` says that it is not, whatever its name says or hides it.", "true"),
    key(Connector, "behind", Ids("item"), "Items that must be off before this one can be reached.", "[\"sill-trim\"]"),
    key(Connector, "only", Texts, "While what it may be worked on alone: a verb or several with `or`, then `while`, a thing and its state, which is what a verb has done to it, or `running`.", "[\"remove while vehicle raised\"]"),
    key(Connector, "never", Texts, "While what it may not be worked on, written like `only`.", "[\"disconnect while engine running\"]"),
    key(Connector, "stays", Text, "Why it may stay apart when the job is done.", "\"the old lamp is not used again\""),
    key(Connector, "open_at_start", Flag, "It is apart before work starts, for instance a new plug pair.", "true"),
    key(Connector, "when", Condition, "There only with this option.", "\"heated-seat\""),
    key(Connector, "pin", Blocks(Pin), "A cavity in use: its number, what it carries, and its wire.", "at, what, colour, wire"),
    key(Connector, "layout", Texts, "The cavities as they stand, row by row from the top, numbers parted by spaces, points for half a place left free; or the word ring, clockwise from the top.", "[\"1 2 3\", \"4 5 6\"]"),
    key(Connector, "seen_from", Word(SIDES), "From where the layout is seen.", "\"wire-side\""),
    key(Connector, "note", Text, "A few words shown with it.", "\"slide the lock back first\""),
    key(Connector, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    must(Item, "id", Id, "The name to refer by.", "\"seat\""),
    must(Item, "name", Text, "The name on the page.", "\"Front passenger seat\""),
    key(Item, "marks", Kind::Words(MARKS), "What makes work on it dangerous or licensed.", "[\"restraint\", \"lifting\"]"),
    key(Item, "isolates", Kind::Words(ISOLATED), "What is dead while this is disconnected, off or switched off: the circuits of these marks. A battery's negative lead or isolator is known by its name too.", "[\"battery\"]"),
    key(Item, "from_below", Flag, "Whether it is reached from below: then the vehicle is raised whenever it is worked on. `false` says that it is not, whatever its name says or hides it.", "true"),
    key(Item, "behind", Ids("item"), "Items that must be off before this one can be reached.", "[\"sill-trim\"]"),
    key(Item, "only", Texts, "While what it may be worked on alone: a verb or several with `or`, then `while`, a thing and its state, which is what a verb has done to it, or `running`.", "[\"remove while vehicle raised\"]"),
    key(Item, "never", Texts, "While what it may not be worked on, written like `only`.", "[\"disconnect while engine running\"]"),
    key(Item, "stays", Text, "Why it may stay off, open or cut when the job is done.", "\"the old bracket is not used again\""),
    key(Item, "open_at_start", Flag, "It is off, apart, loose or empty before work starts.", "true"),
    key(Item, "when", Condition, "There only with this option.", "\"partition\""),
    key(Item, "note", Text, "A few words shown with it.", "\"two people\""),
    key(Item, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    must(Tool, "id", Id, "The name to refer by.", "\"torque-wrench-60\""),
    must(Tool, "name", Text, "The name on the page.", "\"Torque wrench 10 to 60 N·m, 3/8 in\""),
    key(Tool, "sizes", Texts, "The drives it covers, written as hardware writes them.", "[\"10 mm hex\", \"13 mm hex\", \"T50\"]"),
    key(Tool, "range", Value(Dimension::Torque), "For a torque wrench: from and to.", "\"10..60 N·m\""),
    key(Tool, "lever", Value(Dimension::Length), "For a torque wrench: from the middle of the grip to the middle of the drive.", "\"400 mm\""),
    key(Tool, "offset", Value(Dimension::Length), "For a crowfoot or other adapter: from the middle of the drive to the middle of the fastener.", "\"50 mm\""),
    key(Tool, "square", Value(Dimension::Length), "The square of a wrench or of a set of sockets.", "\"1/2 in\""),
    key(Tool, "number", Text, "The shop's number for the tool.", "\"TW-03\""),
    key(Tool, "calibrated_until", Date, "The day its calibration ends.", "2027-03-31"),
    key(Tool, "note", Text, "A few words shown with it.", "\"from the electrician's bench\""),
    key(Tool, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    // cautions, changes, acceptances
    key(Caution, "id", Id, "The name to refer by, for cautions shown in several places.", "\"restraint\""),
    must(Caution, "signal", Word(SIGNALS), "The signal word: danger (will kill or seriously injure), warning (could), caution (minor injury), notice (damage, no injury).", "\"warning\""),
    must(Caution, "hazard", Text, "The kind of hazard, one sentence.", "\"The side airbag can fire for some minutes after the battery is disconnected.\""),
    key(Caution, "result", Text, "What happens if it is not avoided.", "\"Serious injury.\""),
    key(Caution, "avoid", Text, "How to avoid it.", "\"Wait 3 minutes before touching the yellow connector.\""),
    key(Caution, "covers", Kind::Words(MARKS), "The marks that this caution speaks for.", "[\"restraint\", \"battery\"]"),
    key(Caution, "until", Ref("step"), "The last step for which it holds. Then it is stated once, in the step where the hazard begins, and speaks for every step up to this one: each of them names it, and each sheet repeats it.", "\"reconnect\""),
    key(Caution, "when", Condition, "Only with this option.", "\"heated-seat\""),
    key(Caution, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
    must(Change, "revision", Text, "The revision that brought it.", "\"B\""),
    key(Change, "issued", Date, "The day of that revision.", "2026-09-14"),
    must(Change, "what", Text, "What changed.", "\"Bolt class corrected to 10.9\""),
    key(Change, "about", Texts, "Ids of what it speaks of, where its words do not name it: steps, specs, hardware, parts, items, tools, options.", "[\"base-bolt\"]"),
    key(Change, "anew", Flag, "The guide was written anew: who knows the revision before reads it as a new one.", "true"),
    must(Accept, "rule", Text, "The rule's name.", "\"torque-missing\""),
    must(Accept, "reason", Text, "Why the finding is acceptable; printed in the review.", "\"the supplier gives none and was asked on 2026-08-03\""),
    // the shop file
    must(Shop, "name", Text, "The shop's name, on every page and sheet.", "\"Tern Hollow Van Works\""),
    key(Shop, "notice", Text, "A sentence for every page and sheet.", "\"Invented shop, vehicles and values, for demonstration.\""),
    key(Shop, "language", Word(Language::CODES), "The language of the guides: with de, decimals have a comma. Sentences are read in English only, and the words of pages and sheets are English.", "\"en\""),
    key(Shop, "units", Word(&["metric", "imperial"]), "Which units stand first.", "\"metric\""),
    key(Shop, "deferral", Text, "The sentence that puts the vehicle maker's instructions, local rules and licensed people first. There is a built-in one; it follows yours unless yours names all three.", "\"...\""),
    key(Shop, "also", Texts, "Words that mean the same in this shop, for the search, beside those of the trade that it knows: each text a group with = between its members.", "[\"crew seat = bench\", \"DuctLine = air duct\"]"),
    key(Shop, "approval", Flag, "Every guide says who approved its revision: one without `approved` is held.", "true"),
    key(Shop, "handbook", Flag, "Publishes the handbook for authors with the site. Without it `bayleaf handbook` writes it for the own machine: its examples carry invented torques, which no customer needs.", "true"),
    key(Shop, "address", Text, "The address under which the site is published. With it each page names its own address, and there are a map of the site, a preview for links and a description of the search.", "\"https://guides.example/\""),
    key(Shop, "sources", Named, "Papers that several guides take values from.", "{ practice = \"Shop practice sheet 3\" }"),
    key(Shop, "tolerance", Text, "How far from a torque the one applied may be, in percent, where neither the torque nor its spec says it; 4 % where nothing is said.", "\"4 %\""),
    key(Shop, "drop", Text, "How much of the voltage a circuit may lose in its wires, in percent.", "\"3 %\""),
    key(Shop, "wire", Blocks(Wire), "The largest current that the shop allows in a wire.", "wire, current, source"),
    key(Shop, "rule", Blocks(Rule), "A rule that the shop weighs in its own way.", "name, severity, reason"),
    key(Shop, "sheet", Blocks(Sheet), "A combination of options for which publishing makes checklists as PDF, beside the one with everything labelled.", "guide, with, without"),
    key(Shop, "vehicle", Blocks(Vehicle), "A vehicle the shop works on.", "id, name, years"),
    key(Shop, "tool", Blocks(Tool), "A tool of the shop.", "id, name, sizes"),
    key(Shop, "hardware", Blocks(Hardware), "Hardware that several guides use.", "id, name, thread"),
    key(Shop, "spec", Blocks(Spec), "A value that several guides use.", "id, value, source"),
    key(Shop, "consumable", Blocks(Consumable), "What several guides use up.", "id, name"),
    key(Shop, "caution", Blocks(Caution), "A standing caution.", "id, signal, hazard"),
    key(Shop, "item", Blocks(Item), "An item that several guides act on.", "id, name, marks"),
    key(Shop, "connector", Blocks(Connector), "A connector that several guides act on.", "id, name, marks"),
    must(Vehicle, "id", Id, "The name to refer by.", "\"marlin-3500\""),
    must(Vehicle, "name", Text, "The name on the page.", "\"Marlin 3500\""),
    key(Vehicle, "years", Text, "Which years of it.", "\"2019 on\""),
    key(Vehicle, "note", Text, "A few words shown with it.", "\"short wheelbase\""),
    must(Sheet, "guide", Text, "The guide, by the name of its folder or file.", "\"swivel-seat-base\""),
    key(Sheet, "with", Ids("option"), "Options that the vehicle has.", "[\"heated-seat\"]"),
    key(Sheet, "without", Ids("option"), "Options that it does not have.", "[\"heated-seat\"]"),
    must(Rule, "name", Text, "The rule's name.", "\"long-sentence\""),
    must(Rule, "severity", Word(WEIGHTS), "What its findings weigh in this shop; with off they are not shown.", "\"remark\""),
    must(Rule, "reason", Text, "Why; printed in every review.", "\"our authors are asked for short sentences in training\""),
    must(Pin, "at", Text, "The number of the cavity, as on the housing.", "\"1\""),
    key(Pin, "what", Text, "What it carries.", "\"Left direction indicator\""),
    key(Pin, "colour", Text, "The colour of the wire: letters of IEC 60757 or the name, two colours with a slash.", "\"BU/WH\""),
    key(Pin, "wire", Text, "The conductor, in mm² or AWG.", "\"1.5 mm²\""),
    must(Circuit, "id", Id, "The name to refer by.", "\"charge\""),
    must(Circuit, "name", Text, "The name on the page.", "\"Charging circuit\""),
    must(Circuit, "wire", Text, "The conductor, in mm² or AWG.", "\"16 mm²\""),
    must(Circuit, "current", Value(Dimension::Current), "The largest current in service.", "\"30 A\""),
    key(Circuit, "length", Value(Dimension::Length), "One way, from the supply to the consumer.", "\"5 m\""),
    key(Circuit, "voltage", Value(Dimension::Voltage), "The nominal voltage; 12 V unless said. Write AC or DC behind a higher one.", "\"230 V AC\""),
    key(Circuit, "fuse", Value(Dimension::Current), "The rating of the fuse that protects the wire.", "\"40 A\""),
    key(Circuit, "fuse_type", Word(FUSE_TYPES), "How the fuse is built. A blade fuse is taken up to 40 A unless said; its colour is told beside it.", "\"bolt-down\""),
    key(Circuit, "through", Ids("item"), "What its current runs through, from the source to the consumer: leads, fuse holders, fuse, connectors, parts. The fuse goes in after all the others, and nothing behind an open place is live.", "[\"stud-lead\", \"fuse-holder\", \"main-fuse\", \"supply-cable\", \"charger\"]"),
    key(Circuit, "source", Text, "Where these values come from: a source's id, or several words.", "\"charger (page 13)\""),
    must(Wire, "wire", Text, "The conductor, in mm² or AWG.", "\"16 mm²\""),
    must(Wire, "current", Value(Dimension::Current), "The largest current that the shop allows in it, and the largest fuse before it.", "\"80 A\""),
    key(Wire, "source", Text, "Where the limit comes from.", "\"electric\""),
    must(Callout, "picture", Text, "The picture, as the step's words name it.", "\"seat-out.jpg\""),
    must(Callout, "at", Point, "The place: how far from the left edge and from the top, each as a share of the picture's width or height.", "[0.42, 0.31]"),
    must(Callout, "words", Text, "What is there.", "\"Yellow connector of the airbag, under the seat's edge\""),
    must(Departure, "says", Text, "What the sheet says.", "\"Tighten the base bolts before the seat is fitted\""),
    must(Departure, "does", Text, "What is done instead.", "\"The base bolts are tightened with the seat on\""),
    must(Departure, "why", Text, "Why.", "\"the seat's rails pull the base into its place\""),
    key(Departure, "approved", Text, "Who approved it: a role, not a name. A departure that nobody approved is held.", "\"Shop foreman\""),
    key(Departure, "source", Text, "The sheet that it departs from: a source's id, with a page or clause in brackets if wanted, or several words.", "\"sheet (step 7)\""),
    must(Consumable, "id", Id, "The name to refer by, in operations and in `with`.", "\"seal-paste\""),
    must(Consumable, "name", Text, "The name on the page.", "\"Sealing paste, grey\""),
    key(Consumable, "amount", Text, "How much of it the job uses up, with its unit.", "\"20 ml\""),
    key(Consumable, "number", Text, "The number it is ordered by.", "\"SP-20\""),
    key(Consumable, "buy", Flag, "To be bought for the job: neither in the kit nor on the shelf.", "true"),
    key(Consumable, "marks", Kind::Words(MARKS), "What makes work with it dangerous or licensed.", "[\"fuel\"]"),
    key(Consumable, "when", Condition, "Needed only with this option.", "\"heated-seat\""),
    key(Consumable, "note", Text, "A few words shown with it.", "\"not older than a year\""),
    key(Consumable, "hides", Flag, "The id stands for this one, not for the shop's of the same id.", "true"),
];

/// The verbs an operation can have, in the order of the table.
pub const VERBS: &[&str] = &[
    "remove",
    "fit",
    "disconnect",
    "connect",
    "loosen",
    "tighten",
    "drain",
    "fill",
    "cap",
    "uncap",
    "cover",
    "uncover",
    "raise",
    "lower",
    "switch_off",
    "switch_on",
    "start",
    "stop",
    "release",
    "hold",
    "let_go",
    "unlock",
    "lock",
    "pull",
    "insert",
    "transfer",
    "bleed",
    "top_up",
    "seal",
    "lubricate",
    "programme",
    "calibrate",
    "mark",
    "cut",
    "drill",
    "discard",
    "look_behind",
    "inspect",
    "measure",
    "clean",
    "apply",
    "route",
    "road_test",
    "test",
];

/// The keys of one block, in the order of the table.
pub fn keys_of(block: Block) -> impl Iterator<Item = &'static Key> {
    static ROWS: LazyLock<[&[Key]; Block::ALL.len()]> = LazyLock::new(|| {
        // The rows of a block stand together (a test holds that), so each block is one slice.
        Block::ALL.map(|block| {
            let start = KEYS.iter().position(|key| key.block == block).unwrap_or(0);
            let count = KEYS[start..].iter().take_while(|key| key.block == block).count();
            &KEYS[start..start + count]
        })
    });
    ROWS[block as usize].iter()
}

/// The row for a key, if the block has it.
pub fn find(block: Block, name: &str) -> std::option::Option<&'static Key> {
    keys_of(block).find(|key| key.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_of_a_block_stand_together_and_no_key_twice() {
        for (at, block) in Block::ALL.into_iter().enumerate() {
            assert_eq!(block as usize, at);
            assert_eq!(keys_of(block).count(), KEYS.iter().filter(|key| key.block == block).count(), "{}", block.name());
            for key in keys_of(block) {
                assert_eq!(keys_of(block).filter(|other| other.name == key.name).count(), 1, "{}", key.name);
                assert!(key.meaning.ends_with('.') && !key.example.is_empty(), "{}", key.name);
            }
        }
    }
}
