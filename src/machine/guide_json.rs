//! Each guide as JSON: plain types of its own with a version, so that other programs can rely on them while pages change. The
//! handbook's chapter is made from the same declaration.

mod write;

pub use write::{guide, list};

use crate::described::objects;

/// What the field `format` of a guide says.
pub const FORMAT: &str = "bayleaf-guide";
/// What the field `format` of the list of guides says.
pub const LIST_FORMAT: &str = "bayleaf-guides";
/// The version of both; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// A guide.
    GuideFile "The guide" {
        /// Always `bayleaf-guide`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The name of the guide's folder in the site.
        slug: String,
        /// The whole address of its page, where the shop file gives the site's.
        address: Option<String>,
        /// What the guide does.
        title: String,
        /// The shop's number for it.
        document: Option<String>,
        /// The revision.
        revision: Option<String>,
        /// The day of issue, as ISO 8601.
        issued: Option<String>,
        /// Who approved it.
        approved: Option<String>,
        /// Eight characters that change with every change of the guide, the shop file or a picture.
        fingerprint: String,
        /// Whether it may be worked to. `false` marks a held guide that was published as a draft.
        released: bool,
        /// The language of all texts.
        language: String,
        /// The sentence that puts the vehicle maker's instructions and local rules first. Show it wherever a value of the guide is shown.
        deferral: String,
        /// The shop's notice for every page.
        notice: Option<String>,
        /// The part of the vehicle.
        system: String,
        /// A sentence or two.
        summary: Option<String>,
        /// The vehicles it is for.
        fits: Vec<Vehicle>,
        /// What it is not for.
        not_for: Vec<String>,
        /// Time for the whole job.
        hours: Option<Value>,
        /// What the steps that always apply add up to in minutes, as far as they give a time; null where none gives one.
        at_least_minutes: Option<f64>,
        /// How many steps give no time.
        steps_without_time: usize,
        /// Differences between vehicles that switch steps on or off.
        options: Vec<Choice>,
        /// Words before the first step, without markup.
        intro: String,
        /// What must be so before work starts.
        before: Vec<Line>,
        /// Cautions for the whole job.
        cautions: Vec<Caution>,
        /// Tools.
        tools: Vec<Tool>,
        /// Parts of the kit.
        parts: Vec<Supply>,
        /// Hardware of the kit.
        hardware: Vec<Supply>,
        /// Hardware on the vehicle.
        vehicle_hardware: Vec<Supply>,
        /// What is used up.
        consumables: Vec<Consumable>,
        /// What else is to be ready, in words.
        ready: Vec<String>,
        /// The steps in groups.
        phases: Vec<Phase>,
        /// Checks when the job is done.
        final_checks: Vec<Line>,
        /// What is due later.
        follow_up: Vec<Line>,
        /// Electrical circuits that the job lays.
        circuits: Vec<Circuit>,
        /// What revisions changed.
        changes: Vec<Change>,
        /// What differs from the revision that was issued before; null where none was.
        since: Option<Since>,
        /// Full names of the papers that values come from.
        sources: Vec<String>,
        /// The address of its video, or the name of a video file beside the page.
        video: Option<String>,
        /// What nobody knows yet; empty in a guide that is released.
        questions: Vec<Question>,
    }

    /// A question that has to be answered before the guide goes out.
    Question "Question" {
        /// What is not known.
        text: String,
        /// Who can answer: `supplier`, `vehicle` or `shop`; null where nobody is named.
        who: Option<&'static str>,
        /// Where the answer would be found.
        place: Option<String>,
        /// What somebody heard.
        heard: Option<String>,
        /// The number of the step it comes up in.
        step: Option<usize>,
    }

    /// A vehicle.
    Vehicle "Vehicle" {
        /// Its id in the shop file.
        id: String,
        /// Its name with the years.
        name: String,
    }

    /// An option.
    Choice "Option" {
        /// Its id, as terms write it.
        id: String,
        /// Its name.
        name: String,
    }

    /// A line to tick.
    Line "Line" {
        /// The name under which a tick for it is kept, such as `before/1`.
        id: String,
        /// The words; a value stands in both units.
        text: String,
    }

    /// A safety message.
    Caution "Caution" {
        /// `danger`, `warning`, `caution` or `notice`, as ANSI Z535.6 uses them.
        signal: &'static str,
        /// The hazard.
        hazard: String,
        /// What happens otherwise, and how to avoid it.
        avoid: String,
        /// The id of the last step that it stands for; null where it speaks for its place alone.
        until: Option<String>,
        /// When it holds: terms, see above; empty for always.
        when_terms: String,
    }

    /// A caution that still holds.
    Standing "Caution that still holds" {
        /// The id of the step that stated it; null where it stands before the first step.
        from: Option<String>,
        /// The caution.
        caution: Caution,
    }

    /// A departure from the supplier's sheet.
    Departure "Departure from the supplier's sheet" {
        /// What the sheet says.
        says: String,
        /// What is done.
        does: String,
        /// Why.
        why: String,
        /// Who approved it.
        approved: Option<String>,
        /// The sheet.
        source: Option<String>,
    }

    /// A tool.
    Tool "Tool" {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// The shop's number for it.
        number: Option<String>,
        /// Which of its sizes the guide uses.
        sizes: Vec<String>,
    }

    /// A part or hardware with its count.
    Supply "Part or hardware" {
        /// Its name, with thread and class where it has them.
        name: String,
        /// How many, as printed; empty where the guide does not say.
        count: String,
        /// The part number.
        number: Option<String>,
        /// A few words.
        note: Option<String>,
    }

    /// What is used up.
    Consumable "What is used up" {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// How much, as written; null where nothing is said.
        amount: Option<String>,
        /// The number it is ordered by.
        number: Option<String>,
        /// Whether it has to be bought for the job.
        buy: bool,
        /// A few words.
        note: Option<String>,
        /// When it is needed: terms, see above; empty for always.
        when_terms: String,
    }

    /// A group of steps.
    Phase "Phase" {
        /// Its heading; null for steps before the first one.
        title: Option<String>,
        /// Its words.
        text: String,
        /// Its steps.
        steps: Vec<Step>,
    }

    /// A step.
    Step "Step" {
        /// Its id, which is its anchor on the page too.
        id: String,
        /// Its number, from 1, whatever options are chosen.
        number: usize,
        /// Its heading.
        title: String,
        /// The side that it is for, where the guide writes it once for several.
        side: Option<String>,
        /// Its words without markup.
        text: String,
        /// Its pictures.
        pictures: Vec<Picture>,
        /// Its cautions.
        cautions: Vec<Caution>,
        /// Cautions that an earlier step stated and that still hold.
        standing: Vec<Standing>,
        /// Where it departs from the supplier's sheet.
        departures: Vec<Departure>,
        /// What is done.
        operations: Vec<Operation>,
        /// Values that no operation names.
        values: Vec<NamedValue>,
        /// Time to wait at the end.
        wait: Option<Value>,
        /// Time for it in minutes, as a decimal number.
        minutes: Option<String>,
        /// When it begins in the video, in seconds.
        moment: Option<u32>,
        /// Checks at its end.
        checks: Vec<Line>,
        /// Who signs before work goes on.
        hold_point: Option<String>,
        /// Ids of steps that come first.
        needs: Vec<String>,
        /// When it is done: terms, see above; empty for always.
        when_terms: String,
    }

    /// A picture.
    Picture "Picture" {
        /// What it shows, in words.
        words: String,
        /// The file at its largest, beside this one.
        file: String,
        /// Its width in pixels.
        width: u32,
        /// Its height in pixels.
        height: u32,
        /// Places on it that the step explains, numbered from 1 in this order.
        callouts: Vec<Callout>,
    }

    /// A place on a picture.
    Callout "Callout" {
        /// From the left edge, as a share of the width.
        x: f64,
        /// From the top, as a share of the height.
        y: f64,
        /// What is there.
        words: String,
    }

    /// An operation.
    Operation "Operation" {
        /// The name under which a tick for it is kept: the step's id, a slash, and its number.
        id: String,
        /// The sentence that tells it; none where it stands among the facts of the step alone.
        sentence: Option<String>,
        /// The verb as a guide writes it, such as `remove` or `switch_off`.
        verb: &'static str,
        /// Ids of what it acts on.
        on: Vec<String>,
        /// The same in words.
        things: String,
        /// The fasteners: how many of which.
        hardware: Vec<String>,
        /// How it is done, in a few words each.
        how: Vec<String>,
        /// The place, where one entry of the guide is done in several.
        place: Option<String>,
        /// How many holes are drilled.
        holes: Option<u32>,
        /// The pilot drill, which comes first.
        pilot: Option<NamedValue>,
        /// The id of what it goes onto.
        onto: Option<String>,
        /// Time to wait behind it.
        wait: Option<Value>,
        /// The torque.
        torque: Option<Torque>,
        /// The passes of undoing, in words; empty for one pass.
        undo_passes: Vec<String>,
        /// The order of undoing: numbers of the places in the order they are taken; empty where the guide gives none.
        undo_order: Vec<usize>,
        /// Other values.
        values: Vec<NamedValue>,
        /// Ids of its tools.
        tools: Vec<String>,
        /// When it is done: terms, see above; empty for always.
        when_terms: String,
    }

    /// A torque.
    Torque "Torque" {
        /// The value.
        value: Value,
        /// Where it comes from.
        source: Option<String>,
        /// How many fasteners are tightened; 0 where that is not known.
        count: u32,
        /// The passes in words; empty for one pass.
        passes: Vec<String>,
        /// The order in words.
        order: Option<String>,
        /// The state of the thread, in words.
        condition: Option<String>,
        /// The torque wrench.
        wrench: Option<String>,
        /// What the wrench is set to where an adapter lengthens it, in words.
        setting: Option<String>,
    }

    /// A value with its name.
    NamedValue "Named value" {
        /// What the value is.
        name: String,
        /// The value.
        value: Value,
        /// Where it comes from.
        source: Option<String>,
    }

    /// A value.
    Value "Value" {
        /// As printed, in the shop's first units.
        first: String,
        /// As printed in the others, where there are others.
        second: Option<String>,
        /// Whether nobody has told it yet; then `first` says so in words, and there are no numbers.
        untold: bool,
        /// What it measures, such as `torque`; null for a designation, which has no number.
        dimension: Option<&'static str>,
        /// The unit of the numbers below: the SI unit of the dimension without prefix. Angles are in degrees, speeds of rotation in turns per minute.
        unit: Option<&'static str>,
        /// The lowest value that is right, exactly converted: a decimal number, or a fraction such as `5/9` where no decimal is exact. Null where there is no limit.
        low: Option<String>,
        /// The value to aim at, where the guide names one.
        nominal: Option<String>,
        /// The highest value that is right.
        high: Option<String>,
        /// The angle in degrees to turn further once a torque is reached.
        then_turn: Option<String>,
    }

    /// A circuit.
    Circuit "Circuit" {
        /// Its name.
        name: String,
        /// The conductor.
        wire: String,
        /// The largest current in service.
        current: Value,
        /// Its length, one way.
        length: Option<Value>,
        /// The fuse.
        fuse: Option<Value>,
        /// How the fuse is built, and the colour of a blade fuse's housing.
        fuse_note: Option<String>,
        /// Where these values come from.
        source: Option<String>,
    }

    /// What differs from a revision that was issued before.
    Since "What differs since" {
        /// That revision.
        revision: String,
        /// Its day, as ISO 8601.
        issued: String,
        /// What differs, in the order of the guide.
        differences: Vec<Differs>,
    }

    /// A difference.
    Differs "Difference" {
        /// The step's anchor; null for what is the guide's own, or gone.
        step: Option<String>,
        /// `changed`, `added`, `removed` or `moved`.
        kind: String,
        /// The sort of thing, such as `torque`.
        sort: String,
        /// What differs.
        what: String,
        /// How it was told.
        old: Option<String>,
        /// How it is told now.
        new: Option<String>,
        /// Whether it calls for a look at work that was done to the old text.
        look_again: bool,
    }

    /// A change.
    Change "Change" {
        /// The revision that brought it.
        revision: String,
        /// Its day, as ISO 8601.
        issued: Option<String>,
        /// What changed.
        what: String,
    }

    /// The file `guides/index.json`.
    GuideList "The list of guides" {
        /// Always `bayleaf-guides`.
        format: &'static str,
        /// As in a guide.
        version: u32,
        /// The shop.
        shop: String,
        /// The language of all texts.
        language: String,
        /// The state of all guides together, as a fingerprint.
        state: String,
        /// The guides, in the order of their files.
        guides: Vec<Listed>,
    }

    /// A line of the list.
    Listed "Guide in the list" {
        /// The name of its folder beside this file; its JSON is `guide.json` in there.
        slug: String,
        /// What it does.
        title: String,
        /// The shop's number for it.
        document: Option<String>,
        /// Its revision.
        revision: Option<String>,
        /// The day of issue, as ISO 8601.
        issued: Option<String>,
        /// Its fingerprint.
        fingerprint: String,
        /// Whether it may be worked to.
        released: bool,
        /// The part of the vehicle.
        system: String,
        /// Ids of the vehicles it is for.
        fits: Vec<String>,
        /// How many steps.
        steps: usize,
    }
}
