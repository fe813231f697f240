//! Each guide as JSON: plain types of its own with a version, so that other programs can rely on them while pages change. The
//! handbook's chapter is made from the same declaration.

use super::number::{base_unit, decimal};
use crate::described::objects;
use crate::document::summary::Summary;
use crate::document::value::{self, Told};
use crate::document::words::{self, pictures};
use crate::document::{self, Document, phrase};
use crate::guide::model::Shop;
use crate::pictures::Published;
use crate::quantity::{Exact, Form, Quantity};

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
        /// When it holds: terms, see above; empty for always.
        when_terms: String,
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
        /// Its words without markup.
        text: String,
        /// Its pictures.
        pictures: Vec<Picture>,
        /// Its cautions.
        cautions: Vec<Caution>,
        /// What is done.
        operations: Vec<Operation>,
        /// Values that no operation names.
        values: Vec<NamedValue>,
        /// Time to wait at the end.
        wait: Option<Value>,
        /// Time for it in minutes, as a decimal number.
        minutes: Option<String>,
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

/// The file of one guide.
pub fn guide(document: &Document, shop: &Shop) -> serde_json::Result<Vec<u8>> {
    let Document {
        head,
        approved,
        fingerprint,
        not_for,
        before,
        cautions,
        tools,
        // Those of the shop are no part of the guide, and its own are among its tools.
        wrenches: _,
        parts,
        kit_hardware,
        vehicle_hardware,
        choices,
        // What is open is worked out from the operations by whoever reads the file.
        accounts: _,
        intro,
        phases,
        // The rows of the torque sheet say again what the operations say.
        torques: _,
        final_checks,
        follow_up,
        circuits,
        changes,
        since,
        sources,
        // It is one of the pictures of the steps.
        questions,
        photo: _,
    } = document;
    let document::Head { slug, title, document: number, revision, issued, system, summary, fits, hours, least, untimed, steps: _, draft } =
        head;
    let supplies = |rows: &[document::Counted]| rows.iter().map(|row| supply(row, document)).collect();
    let file = GuideFile {
        format: FORMAT,
        version: VERSION,
        slug: slug.clone(),
        address: shop.address.as_ref().map(|address| format!("{address}guides/{slug}/index.html")),
        title: title.clone(),
        document: number.clone(),
        revision: revision.clone(),
        issued: issued.map(|date| date.to_string()),
        approved: approved.clone(),
        fingerprint: fingerprint.clone(),
        released: !draft,
        language: shop.language.code().to_owned(),
        deferral: shop.deferral.clone(),
        notice: shop.notice.clone(),
        system: system.clone(),
        summary: summary.clone(),
        fits: fits.iter().map(|vehicle| Vehicle { id: vehicle.id.clone(), name: vehicle.name.clone() }).collect(),
        not_for: not_for.clone(),
        hours: hours.as_ref().map(duration),
        at_least_minutes: (*least > 0).then(|| *least as f64 / 1000.0),
        steps_without_time: *untimed,
        options: choices
            .iter()
            .flat_map(|choice| &choice.options)
            .map(|option| Choice { id: option.id.clone(), name: option.name.clone() })
            .collect(),
        intro: words::plain(intro),
        before: lines("before", before),
        cautions: cautions.iter().map(caution).collect(),
        tools: tools.iter().map(tool).collect(),
        parts: supplies(parts),
        hardware: supplies(kit_hardware),
        vehicle_hardware: supplies(vehicle_hardware),
        phases: phases.iter().map(phase).collect(),
        final_checks: lines("final", final_checks),
        follow_up: lines("follow-up", follow_up),
        circuits: circuits.iter().map(circuit).collect(),
        changes: changes.iter().map(change).collect(),
        since: since.as_ref().map(since_row),
        sources: sources.clone(),
        questions: questions.iter().map(question).collect(),
    };
    written(&file)
}

/// The file `guides/index.json`.
pub fn list(summaries: &[&Summary], shop: &Shop, state: String) -> serde_json::Result<Vec<u8>> {
    let row = |summary: &&Summary| Listed {
        slug: summary.head.slug.clone(),
        title: summary.head.title.clone(),
        document: summary.head.document.clone(),
        revision: summary.head.revision.clone(),
        issued: summary.head.issued.map(|date| date.to_string()),
        fingerprint: summary.fingerprint.clone(),
        released: !summary.head.draft,
        system: summary.head.system.clone(),
        fits: summary.head.fits.iter().map(|vehicle| vehicle.id.clone()).collect(),
        steps: summary.head.steps,
    };
    let guides = summaries.iter().map(row).collect();
    written(&GuideList {
        format: LIST_FORMAT,
        version: VERSION,
        shop: shop.name.clone(),
        language: shop.language.code().to_owned(),
        state,
        guides,
    })
}

fn written(file: &impl serde::Serialize) -> serde_json::Result<Vec<u8>> {
    let mut bytes = serde_json::to_vec(file)?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Terms, empty for always.
fn when_terms(when: &document::when::When) -> String {
    when.terms().unwrap_or_default()
}

fn caution(caution: &document::Caution) -> Caution {
    let document::Caution { signal, hazard, result, avoid, when } = caution;
    let rest: Vec<String> = [result, avoid].into_iter().flatten().map(words::Line::text).collect();
    Caution { signal: signal.key(), hazard: hazard.text(), avoid: rest.join(" "), when_terms: when_terms(when) }
}

fn phase(phase: &document::Phase) -> Phase {
    let document::Phase { title, words: told, steps } = phase;
    Phase { title: title.clone(), text: words::plain(told), steps: steps.iter().map(step).collect() }
}

fn step(step: &document::Step) -> Step {
    let document::Step {
        number,
        id,
        title,
        words: told,
        // The callouts stand with the pictures.
        called: _,
        cautions,
        // What their cavities carry is drawn on the page.
        connectors: _,
        operations,
        values,
        wait,
        minutes,
        tools: _,
        checks,
        hold_point,
        when,
        needs,
        span: _,
    } = step;
    Step {
        id: id.clone(),
        number: *number,
        title: title.clone(),
        text: words::plain(told),
        pictures: pictures(told).into_iter().filter_map(picture).collect(),
        cautions: cautions.iter().map(caution).collect(),
        operations: operations.iter().map(|each| operation(step, each)).collect(),
        values: values.iter().map(named).collect(),
        wait: wait.as_ref().map(duration),
        minutes: minutes.and_then(|minutes| Exact::fraction(i128::from(minutes), 1000)).map(decimal),
        checks: lines(&format!("{id}/check"), checks),
        hold_point: hold_point.clone(),
        needs: needs.iter().map(|need| need.id.clone()).collect(),
        when_terms: when_terms(when),
    }
}

fn picture(picture: &words::Picture) -> Option<Picture> {
    let published = Published::plan(&picture.address, picture.fact?);
    let (file, width, height) = published.largest();
    let callout = |callout: &words::Callout| Callout { x: callout.at.0, y: callout.at.1, words: callout.words.text() };
    let callouts = picture.callouts.iter().map(callout).collect();
    Some(Picture { words: picture.words.clone(), file: file.to_owned(), width, height, callouts })
}

fn operation(step: &document::Step, operation: &document::Operation) -> Operation {
    let document::Operation {
        id,
        told: _,
        moves: _,
        verb,
        targets,
        hardware,
        by_hand: _,
        keep: _,
        discard_hardware: _,
        note: _,
        torque: value,
        values,
        tools,
        undoing,
        undo_passes,
        undo_count: _,
        when,
        span: _,
    } = operation;
    Operation {
        id: id.clone(),
        sentence: step.sentence(id).map(words::text),
        verb: verb.key(),
        on: targets.iter().map(|target| target.id.clone()).collect(),
        things: operation.things(),
        hardware: hardware.iter().map(document::Fasteners::words).collect(),
        how: operation.how(),
        torque: value.as_ref().map(torque),
        undo_passes: undo_passes.iter().map(words::Line::text).collect(),
        undo_order: undoing.as_ref().map(|ordered| ordered.order.positions().to_vec()).unwrap_or_default(),
        values: values.iter().map(named).collect(),
        tools: tools.iter().map(|tool| tool.id.clone()).collect(),
        when_terms: when_terms(when),
    }
}

fn torque(torque: &document::Torque) -> Torque {
    // Bounds follow from the value, the drawn order from its words and the count.
    let document::Torque { name: _, value, bounds: _, source, pattern: _, passes, condition, wrench, setting, order: _, count, note: _ } =
        torque;
    Torque {
        value: value_of(value),
        source: source.clone(),
        count: *count,
        passes: passes.iter().map(words::Line::text).collect(),
        order: torque.pattern_words(),
        condition: condition.clone(),
        wrench: wrench.clone(),
        setting: setting.as_ref().map(words::Line::text),
    }
}

fn lines(prefix: &str, lines: &[words::Line]) -> Vec<Line> {
    lines.iter().enumerate().map(|(at, line)| Line { id: format!("{prefix}/{}", at + 1), text: line.text() }).collect()
}

fn tool(tool: &document::Tool) -> Tool {
    Tool { id: tool.id.clone(), name: tool.name.clone(), number: tool.number.clone(), sizes: tool.sizes.clone() }
}

fn supply(row: &document::Counted, document: &Document) -> Supply {
    Supply {
        name: row.name.clone(),
        count: row.count.map(|count| count.to_string()).unwrap_or_default(),
        number: row.number.clone(),
        note: row.note(&document.choices),
    }
}

fn circuit(circuit: &document::Circuit) -> Circuit {
    let document::Circuit { name, wire, current, length, fuse, fuse_note, source, span: _ } = circuit;
    Circuit {
        name: name.clone(),
        wire: wire.clone(),
        current: value_of(current),
        length: length.as_ref().map(value_of),
        fuse: fuse.as_ref().map(value_of),
        fuse_note: fuse_note.clone(),
        source: source.clone(),
    }
}

fn question(question: &document::Question) -> Question {
    let document::Question { text, who, place, heard, step, span: _ } = question;
    Question {
        text: text.clone(),
        who: who.map(crate::guide::untold::Who::word),
        place: place.clone(),
        heard: heard.clone(),
        step: step.as_ref().map(|step| step.number),
    }
}

fn change(change: &document::Change) -> Change {
    let document::Change { revision, issued, what, anew: _ } = change;
    Change { revision: revision.clone(), issued: issued.map(|date| date.to_string()), what: what.clone() }
}

fn since_row(since: &document::Since) -> Since {
    let document::Since { revision, issued, anew: _, differences } = since;
    let differs = |differing: &document::Differing| {
        let document::Differing { step, kind, sort, what, old, new, by: _, look } = differing;
        Differs {
            step: step.as_ref().and_then(|(id, _)| id.clone()),
            kind: (*kind).to_owned(),
            sort: (*sort).to_owned(),
            what: what.clone(),
            old: old.clone(),
            new: new.clone(),
            look_again: *look,
        }
    };
    Since { revision: revision.clone(), issued: issued.to_string(), differences: differences.iter().map(differs).collect() }
}

fn named(named: &document::NamedValue) -> NamedValue {
    let document::NamedValue { name, value, source, bounds: _ } = named;
    NamedValue { name: name.clone(), value: value_of(value), source: source.clone() }
}

/// A time, which has one unit.
fn duration(value: &value::Value) -> Value {
    Value { first: phrase::duration(value).replace('\u{a0}', " "), second: None, ..value_of(value) }
}

fn value_of(value: &value::Value) -> Value {
    let spelt = value.spelt();
    let quantity = match value.told() {
        Told::Quantity(quantity) => Some(quantity),
        Told::Words(_) | Told::Worked(_) | Told::Untold(_) => None,
    };
    let (low, high) = quantity.map_or((None, None), Quantity::base_bounds);
    let nominal = quantity.and_then(|quantity| {
        let leading = quantity.leading();
        match &leading.form {
            Form::Single(number) | Form::Tolerance { nominal: number, .. } => leading.unit.to_base(number.value),
            _ => None,
        }
    });
    let turn = quantity.and_then(|quantity| quantity.angle.as_ref()).and_then(|angle| angle.base_bounds().0);
    Value {
        first: value.untold().map_or_else(|| spelt.first.clone(), str::to_owned),
        second: if value.untold().is_some() { None } else { spelt.second.clone() },
        untold: value.untold().is_some(),
        dimension: quantity.map(|quantity| quantity.dimension.name()),
        unit: quantity.map(|quantity| base_unit(quantity.dimension)),
        low: low.map(decimal),
        nominal: nominal.map(decimal),
        high: high.map(decimal),
        then_turn: turn.map(decimal),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Dimension;

    #[test]
    fn base_units_are_those_of_the_table() {
        for dimension in Dimension::ALL {
            let base = crate::quantity::units()
                .iter()
                .find(|unit| unit.dimension == dimension && unit.factor == Exact::whole(1) && unit.offset == Exact::whole(0));
            // Where the table has the base unit itself, its symbol must be the one that is written.
            if let Some(unit) = base {
                assert_eq!(unit.symbol, base_unit(dimension), "{dimension:?}");
            }
        }
    }

    #[test]
    fn the_described_fields_are_the_written_ones() {
        let objects = objects();
        for (name, _, fields) in &objects {
            assert!(!fields.is_empty(), "{name}");
            for field in fields {
                let holds = field.describe(&objects);
                assert!(field.meaning.ends_with('.') && !holds.contains(['<', '&']), "{name}.{}: {holds}", field.name);
            }
        }
    }
}
