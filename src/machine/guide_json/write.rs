//! Fills the declared objects of a guide's JSON from its document.

use super::super::number::{base_unit, decimal};
use super::*;
use crate::document::summary::Summary;
use crate::document::value::{self, Told};
use crate::document::words::{self, pictures};
use crate::document::{self, Document, phrase};
use crate::guide::model::Shop;
use crate::phrases::Phrases;
use crate::pictures::Published;
use crate::quantity::{Exact, Form, Quantity};

/// The file of one guide.
pub fn guide(document: &Document, shop: &Shop) -> serde_json::Result<Vec<u8>> {
    let Document {
        say,
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
        consumables,
        ready,
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
        video,
        photo: _,
        also: _,
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
        consumables: consumables.iter().map(consumable).collect(),
        ready: ready.iter().map(words::Line::text).collect(),
        phases: phases.iter().map(|each| phase(say, each)).collect(),
        final_checks: lines("final", final_checks),
        follow_up: lines("follow-up", follow_up),
        circuits: circuits.iter().map(circuit).collect(),
        changes: changes.iter().map(change).collect(),
        since: since.as_ref().map(since_row),
        sources: sources.clone(),
        video: video.as_ref().map(|video| {
            let (document::Video::Address(told) | document::Video::File(told)) = video;
            told.clone()
        }),
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
    let document::Caution { signal, hazard, result, avoid, until, when } = caution;
    let rest: Vec<String> = [result, avoid].into_iter().flatten().map(words::Line::text).collect();
    Caution {
        signal: signal.key(),
        hazard: hazard.text(),
        avoid: rest.join(" "),
        until: until.as_ref().map(|step| step.id.clone()),
        when_terms: when_terms(when),
    }
}

fn still(standing: &document::Standing) -> Standing {
    let document::Standing { caution: held, from } = standing;
    Standing { from: from.as_ref().map(|step| step.id.clone()), caution: caution(held) }
}

fn departure(departure: &document::Departure) -> Departure {
    let document::Departure { says, does, why, approved, source } = departure;
    Departure { says: says.text(), does: does.text(), why: why.text(), approved: approved.clone(), source: source.clone() }
}

fn consumable(consumable: &document::Consumable) -> Consumable {
    let document::Consumable { id, name, amount, number, buy, when, note, steps: _, span: _ } = consumable;
    Consumable {
        id: id.clone(),
        name: name.clone(),
        amount: amount.clone(),
        number: number.clone(),
        buy: *buy,
        note: note.clone(),
        when_terms: when_terms(when),
    }
}

fn phase(say: &Phrases, phase: &document::Phase) -> Phase {
    let document::Phase { title, words: told, steps } = phase;
    Phase { title: title.clone(), text: words::plain(told), steps: steps.iter().map(|each| step(say, each)).collect() }
}

fn step(say: &Phrases, step: &document::Step) -> Step {
    let document::Step {
        number,
        id,
        title,
        side,
        words: told,
        // The callouts stand with the pictures.
        called: _,
        cautions,
        standing,
        departures,
        // What their cavities carry is drawn on the page.
        connectors: _,
        operations,
        values,
        wait,
        minutes,
        moment,
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
        side: side.clone(),
        text: words::plain(told),
        pictures: pictures(told).into_iter().filter_map(picture).collect(),
        cautions: cautions.iter().map(caution).collect(),
        standing: standing.iter().map(still).collect(),
        departures: departures.iter().map(departure).collect(),
        operations: operations.iter().map(|each| operation(say, step, each)).collect(),
        values: values.iter().map(named).collect(),
        wait: wait.as_ref().map(duration),
        moment: *moment,
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

fn operation(say: &Phrases, step: &document::Step, operation: &document::Operation) -> Operation {
    let document::Operation {
        id,
        told: _,
        moves: _,
        verb,
        targets,
        hardware,
        how: _,
        place,
        onto,
        holes,
        pilot,
        wait,
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
        how: operation.how_words(say),
        place: place.clone(),
        holes: *holes,
        pilot: pilot.as_ref().map(named),
        onto: onto.as_ref().map(|onto| onto.id.clone()),
        wait: wait.as_ref().map(duration),
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
