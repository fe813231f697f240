//! From a document to the data of its page, its checklists and its torque sheet: values, dates and conditions spelt, words written as
//! HTML, orders and connectors drawn. What is told was decided in the document, layout is left to the theme.

use std::cell::Cell;

use crate::document::when::{self, When};
use crate::document::words::{Block, Line, Picture};
use crate::document::{self, Document, phrase, value};
use crate::drawing::told;
use crate::guide::picture::PictureKind;
use crate::guide::tally;
use crate::pictures::Published;
use crate::quantity::{self, decimal};
use crate::site::{comparison, html, watch};
use crate::source::Spanned;
use crate::theme::data as page;

/// The data of a guide's pages.
pub fn page(document: &Document) -> page::Guide {
    let shown = Cell::new(false);
    let maker = Maker { document, shown: &shown };
    let Document {
        say: _,
        head,
        approved,
        fingerprint,
        not_for,
        before,
        cautions,
        tools,
        wrenches,
        parts,
        kit_hardware,
        vehicle_hardware,
        consumables,
        ready,
        choices,
        accounts,
        intro,
        phases,
        torques,
        final_checks,
        follow_up,
        circuits,
        changes,
        since,
        sources,
        video,
        questions,
        photo,
        also: _,
    } = document;
    // In the order of the page, so that its first picture is known.
    let intro_html = html::blocks(intro, &shown);
    let mut phases: Vec<page::Phase> = phases.iter().map(|phase| maker.phase(phase)).collect();
    told_again(&mut phases);
    page::Guide {
        line: line(head),
        approved: approved.clone(),
        fingerprint: fingerprint.clone(),
        hours_iso: head.hours.as_ref().and_then(value::Value::quantity).map(quantity::duration_iso),
        not_for: not_for.clone(),
        before_html: lines(before),
        cautions: cautions.iter().map(|caution| maker.caution(caution)).collect(),
        departures: document.steps().flat_map(departure_rows).collect(),
        tools: tools.iter().map(tool).collect(),
        wrenches: wrenches.iter().map(wrench).collect(),
        parts: maker.counted(parts),
        kit_hardware: maker.counted(kit_hardware),
        vehicle_hardware: maker.counted(vehicle_hardware),
        consumables: consumables.iter().map(|row| maker.consumable(row)).collect(),
        buys: consumables.iter().filter(|row| row.buy).count(),
        uses_up: consumables.iter().filter(|row| !row.buy).count(),
        ready_html: lines(ready),
        choices: choices.iter().map(choice).collect(),
        accounts: accounts
            .iter()
            .map(|account| page::OpenThing {
                account: account.id.key(),
                name: account.name.clone(),
                state: account.state(),
                connector: account.connector,
            })
            .collect(),
        intro_html,
        phases,
        torques: torques.iter().enumerate().map(|(at, row)| maker.torque_row(at, row)).collect(),
        final_checks_html: lines(final_checks),
        follow_up_html: lines(follow_up),
        circuits: circuits.iter().map(circuit).collect(),
        changes: changes
            .iter()
            .map(|document::Change { revision, issued, what, anew: _ }| page::Change {
                revision: revision.clone(),
                issued: issued.map(phrase::date),
                what: what.clone(),
            })
            .collect(),
        sources: sources.clone(),
        video: video.as_ref().map(|video| watch::video(video, document)),
        asked: asked(questions),
        sheets: Vec::new(),
        since: since.as_ref().map(comparison::since),
        older: Vec::new(),
        superseded: None,
        kept: false,
        photo: photo.as_ref().and_then(photo_of),
    }
}

fn wrench(wrench: &document::Wrench) -> page::Wrench {
    let document::Wrench { id, name, number, range, low, high, calibrated_until } = wrench;
    page::Wrench {
        id: id.clone(),
        name: name.clone(),
        number: number.clone(),
        range: range.clone(),
        low: low.and_then(quantity::decimal),
        high: high.and_then(quantity::decimal),
        calibrated_until: calibrated_until.map(|date| date.to_string()),
    }
}

/// The parts of a kit, or its hardware, each with the steps that work on it.
pub fn part_rows(document: &Document, rows: &[document::Counted]) -> Vec<page::PartRow> {
    let shown = Cell::new(false);
    let maker = Maker { document, shown: &shown };
    let parts = maker.counted(rows).into_iter();
    parts.zip(rows).map(|(part, row)| page::PartRow { part, steps: row.steps.iter().map(link).collect() }).collect()
}

/// The line that lists show.
pub fn line(head: &document::Head) -> page::GuideLine {
    let document::Head { slug, title, document, revision, issued, system, summary, fits, hours: _, least: _, untimed: _, steps, draft } =
        head;
    page::GuideLine {
        slug: slug.clone(),
        title: title.clone(),
        document: document.clone(),
        revision: revision.clone(),
        issued: issued.map(phrase::date),
        issued_iso: issued.map(|date| date.to_string()),
        system: system.clone(),
        summary: summary.clone(),
        fits: fits.iter().map(|vehicle| page::Vehicle { id: vehicle.id.clone(), name: vehicle.name.clone() }).collect(),
        hours: phrase::time(head),
        steps: *steps,
        draft: *draft,
    }
}

/// Questions by who can answer, each group once.
fn asked(questions: &[document::Question]) -> Vec<page::Asked> {
    let mut groups: Vec<page::Asked> = Vec::new();
    for question in questions {
        let document::Question { text: _, who, place, heard: _, step, span: _ } = question;
        let who = phrase::asked(*who);
        let told = page::Question { words: question.words(), place: place.clone(), step: step.as_ref().map(link) };
        match groups.last_mut() {
            Some(group) if group.who == who => group.questions.push(told),
            _ => groups.push(page::Asked { who, questions: vec![told] }),
        }
    }
    groups
}

fn departure(departure: &document::Departure) -> page::Departure {
    let document::Departure { says, does, why, approved, source } = departure;
    page::Departure {
        says_html: html::line(says),
        does_html: html::line(does),
        why_html: html::line(why),
        approved: approved.clone(),
        source: source.clone(),
    }
}

fn departure_rows(step: &document::Step) -> impl Iterator<Item = page::DepartureRow> {
    step.departures.iter().map(|each| page::DepartureRow {
        step: page::StepLink { id: step.id.clone(), number: step.number },
        title: step.title.clone(),
        terms: step.when.terms(),
        departure: departure(each),
    })
}

fn lines(lines: &[Line]) -> Vec<String> {
    lines.iter().map(html::line).collect()
}

fn link(link: &document::StepLink) -> page::StepLink {
    page::StepLink { id: link.id.clone(), number: link.number }
}

fn photo_of(picture: &Picture) -> Option<page::Photo> {
    let fact = picture.fact.filter(|fact| fact.kind == PictureKind::Raster)?;
    let published = Published::plan(&picture.address, fact);
    let (file, width, height) = published.largest();
    Some(page::Photo { file: file.to_owned(), width, height, words: picture.words.clone() })
}

/// A value as templates get it.
pub fn value_of(value: &value::Value) -> page::Value {
    let spelt = value.spelt();
    page::Value { first: spelt.first.clone(), second: spelt.second.clone(), html: html::value(value) }
}

fn tool(tool: &document::Tool) -> page::Tool {
    let document::Tool { id, name, square, number, is_wrench, calibrated_until, sizes, when, note, span: _ } = tool;
    page::Tool {
        id: id.clone(),
        name: name.clone(),
        square: square.clone(),
        number: number.clone(),
        is_wrench: *is_wrench,
        calibrated_until: calibrated_until.map(phrase::date),
        sizes: sizes.clone(),
        terms: when.terms(),
        note: note.clone(),
    }
}

fn choice(choice: &when::Choice) -> page::Choice {
    let options = choice.options.iter().map(|option| page::OptionLine {
        id: option.id.clone(),
        name: option.name.clone(),
        not_with: option.not_with.join(" "),
    });
    page::Choice { name: choice.name.clone(), one_of: choice.one_of, options: options.collect() }
}

fn circuit(circuit: &document::Circuit) -> page::Circuit {
    let document::Circuit { name, wire, current, length, fuse, fuse_note, source, span: _ } = circuit;
    page::Circuit {
        name: name.clone(),
        wire: wire.clone(),
        current: value_of(current),
        length: length.as_ref().map(value_of),
        fuse: fuse.as_ref().map(value_of),
        fuse_note: fuse_note.clone(),
        source: source.clone(),
    }
}

fn reads(bounds: &document::Bounds) -> Vec<page::Reads> {
    let read = |(unit, low, high): &quantity::ReadOff| page::Reads {
        unit: unit.symbol.to_owned(),
        low: low.and_then(decimal),
        high: high.and_then(decimal),
    };
    bounds.reads.iter().map(read).collect()
}

fn named(named: &document::NamedValue) -> page::NamedValue {
    let document::NamedValue { name, value, source, bounds } = named;
    page::NamedValue {
        name: name.clone(),
        value: value_of(value),
        source: source.clone(),
        reads: bounds.as_ref().map(reads).unwrap_or_default(),
    }
}

/// What an operation opens and closes, as the script of the page reads it.
fn moves(moves: &[document::open::Move]) -> String {
    let words = moves.iter().map(|moved| {
        let count = if moved.count > 1 { format!("*{}", moved.count) } else { String::new() };
        format!("{}{}{count}", if moved.opens { '+' } else { '-' }, moved.account.key())
    });
    words.collect::<Vec<_>>().join(" ")
}

/// Marks the cautions of steps that a step before states in the same words, whatever the vehicle has.
fn told_again(phases: &mut [page::Phase]) {
    let mut told = std::collections::HashSet::new();
    for step in phases.iter_mut().flat_map(|phase| &mut phase.steps) {
        for caution in &mut step.cautions {
            let words = (caution.signal, caution.hazard_html.clone(), caution.rest_html.clone());
            caution.again = told.contains(&words) && caution.until.is_none();
            if step.terms.is_none() && caution.terms.is_none() {
                told.insert(words);
            }
        }
    }
}

struct Maker<'d> {
    document: &'d Document,
    shown: &'d Cell<bool>,
}

impl Maker<'_> {
    fn when(&self, when: &When) -> Option<String> {
        self.document.when_words(when)
    }

    fn caution(&self, caution: &document::Caution) -> page::Caution {
        let document::Caution { signal, hazard, result, avoid, until, when } = caution;
        let rest: Vec<String> = [result, avoid].into_iter().flatten().map(html::line).collect();
        page::Caution {
            signal: signal.key(),
            word: caution.word(),
            hazard_html: html::line(hazard),
            rest_html: rest.join(" "),
            until: until.as_ref().map(|step| step.number),
            again: false,
            when: self.when(when),
            terms: when.terms(),
        }
    }

    fn still(&self, standing: &document::Standing) -> page::StillHolds {
        let document::Standing { caution, from } = standing;
        page::StillHolds { caution: self.caution(caution), from: from.as_ref().map(link) }
    }

    fn consumable(&self, consumable: &document::Consumable) -> page::Consumable {
        let document::Consumable { id: _, name, amount, number, buy, when, note, steps: _, span: _ } = consumable;
        page::Consumable {
            name: name.clone(),
            amount: amount.clone(),
            number: number.clone(),
            buy: *buy,
            note: self.when(when).into_iter().chain(note.clone()).collect::<Vec<_>>().join(", "),
            terms: when.terms(),
        }
    }

    fn counted(&self, rows: &[document::Counted]) -> Vec<page::Counted> {
        let amounts = |amounts: &[(i64, When)]| {
            let amount = |(count, when): &(i64, When)| format!("{count}@{}", when.terms().unwrap_or_default().replace(' ', "+"));
            (!amounts.is_empty()).then(|| amounts.iter().map(amount).collect::<Vec<_>>().join(" "))
        };
        rows.iter()
            .map(|row| page::Counted {
                name: row.name.clone(),
                count: row.count_words(),
                terms: row.when.terms(),
                amounts: amounts(&row.amounts),
                number: row.number.clone(),
                note: row.note(&self.document.choices),
                untold: row.is_untold(),
            })
            .collect()
    }

    fn phase(&self, phase: &document::Phase) -> page::Phase {
        let document::Phase { title, words, steps } = phase;
        page::Phase {
            title: title.clone(),
            html: html::blocks(words, self.shown),
            steps: steps.iter().map(|step| self.step(step)).collect(),
        }
    }

    fn step(&self, step: &document::Step) -> page::Step {
        let document::Step {
            number,
            id,
            title,
            side: _,
            words,
            called,
            cautions,
            standing,
            departures,
            connectors,
            operations,
            values,
            wait,
            minutes,
            moment,
            tools,
            checks,
            hold_point,
            when,
            needs,
            span: _,
        } = step;
        let exact_minutes = minutes.and_then(|minutes| quantity::Exact::fraction(i128::from(minutes), 1000));
        let called = called.iter().filter_map(|picture| {
            Some(page::Called { picture_html: html::paper_picture(picture)?, list_html: html::callout_list(&picture.callouts) })
        });
        let face = |(at, connector): (usize, &document::Connector)| page::Face {
            name: connector.name.clone(),
            svg: told::connector(connector, &format!("f{number}-{}", at + 1)).map(|drawn| drawn.svg),
            not_drawn: connector.not_drawn(),
            pins: match connector.not_drawn() {
                Some(_) => connector.pins.iter().map(|pin| page::Pin { at: pin.at.clone(), words: pin.words() }).collect(),
                None => Vec::new(),
            },
        };
        let operations: Vec<page::Operation> =
            operations.iter().enumerate().map(|(at, operation)| self.operation(operation, &format!("o{number}-{}", at + 1))).collect();
        let rows = self.rows(words, &operations);
        let tells = rows.iter().any(|row| !row.operations.is_empty());
        let untold = operations.iter().any(|operation| !operation.told);
        let html = rows.iter().flat_map(|row| [row.html.as_str(), row.after_html.as_str()]).collect::<String>();
        page::Step {
            changed: self.document.since.as_ref().is_some_and(|since| since.is_in(id)),
            number: *number,
            id: id.clone(),
            title: title.clone(),
            html,
            tells,
            lead: tells && untold,
            facts: untold && !tells || wait.is_some() || minutes.is_some() || !values.is_empty() || !tools.is_empty() || !needs.is_empty(),
            rows,
            called: called.collect(),
            cautions: cautions.iter().map(|caution| self.caution(caution)).collect(),
            standing: standing.iter().map(|standing| self.still(standing)).collect(),
            departures: departures.iter().map(departure).collect(),
            faces: connectors.iter().enumerate().map(face).collect(),
            operations,
            specs: values.iter().map(named).collect(),
            wait: wait.as_ref().map(phrase::duration),
            wait_seconds: wait.as_ref().and_then(|wait| {
                let (low, high) = wait.quantity()?.base_bounds();
                decimal(high.or(low)?)
            }),
            moment: moment.map(|at| watch::moment(self.document.video.as_ref(), at)),
            minutes: minutes.map(|minutes| tally::minutes_words(u64::from(minutes))),
            minutes_number: exact_minutes.map(|minutes| minutes.to_string()),
            minutes_iso: exact_minutes.map(quantity::duration_iso_minutes),
            tools: tools.iter().map(|tool| tool.name.clone()).collect(),
            checks_html: lines(checks),
            hold_point: hold_point.clone(),
            when: self.when(when),
            terms: when.terms(),
            needs: needs.iter().map(link).collect(),
        }
    }

    /// The words of a step in rows, each sentence that tells operations with them.
    fn rows(&self, words: &[Spanned<Block>], operations: &[page::Operation]) -> Vec<page::Row> {
        let mut rows: Vec<page::Row> = Vec::new();
        let tells = |block: &Spanned<Block>| matches!(block.value, Block::Told { .. });
        for some in words.chunk_by(|one, next| !tells(one) && !tells(next)) {
            let told = match some {
                [Spanned { value: Block::Told { label: _, operations: ids, words: _ }, span: _ }] => {
                    operations.iter().filter(|operation| ids.contains(&operation.id)).cloned().collect()
                }
                _ => Vec::new(),
            };
            let terms = told.first().and_then(|first: &page::Operation| first.terms.clone());
            let terms = terms.filter(|terms| told.iter().all(|operation| operation.terms.as_ref() == Some(terms)));
            let html = html::blocks(some, self.shown);
            match rows.last_mut().filter(|last| told.is_empty() && !last.operations.is_empty()) {
                Some(last) => last.after_html = html,
                None => rows.push(page::Row { html, operations: told, after_html: String::new(), terms }),
            }
        }
        rows
    }

    /// An operation; `prefix` keeps the ids of its drawings apart from others.
    fn operation(&self, operation: &document::Operation, prefix: &str) -> page::Operation {
        let document::Operation {
            id,
            told,
            moves: moved,
            verb,
            targets: _,
            hardware,
            how: _,
            // In the words of how it is done.
            place: _,
            onto: _,
            holes: _,
            pilot: _,
            wait: _,
            torque,
            values,
            tools,
            undoing,
            undo_passes,
            undo_count,
            when,
            span: _,
        } = operation;
        page::Operation {
            id: id.clone(),
            told: *told,
            moves: moves(moved),
            verb: verb.word(),
            things: operation.things(),
            hardware: hardware.iter().map(document::Fasteners::words).collect(),
            how: operation.how_words(self.document.say).iter().map(|words| html::whole(words)).collect(),
            torque: torque.as_ref().map(|torque| page_torque(torque, prefix)),
            specs: values.iter().map(named).collect(),
            tools: tools.iter().filter(|tool| !tool.of_torque).map(|tool| tool.name.clone()).collect(),
            undo_passes: undo_passes.iter().map(Line::text).collect(),
            undo_passes_html: lines(undo_passes),
            undo_count: *undo_count,
            loosening_svg: undoing.as_ref().map(|order| told::order(order, prefix).svg),
            when: self.when(when),
            terms: when.terms(),
        }
    }

    fn torque_row(&self, at: usize, row: &document::TorqueRow) -> page::TorqueRow {
        let document::TorqueRow { step, title, fasteners, things: _, place: _, torque, when } = row;
        page::TorqueRow {
            place: row.place_words(),
            number: step.number,
            step: step.id.clone(),
            title: title.clone(),
            fastener: row.fastener(),
            threads: fasteners.iter().filter_map(|fasteners| fasteners.designation.clone()).collect(),
            thread: row.thread(),
            drive: row.drive(),
            torque: page_torque(torque, &format!("t{}", at + 1)),
            when: self.when(when),
            terms: when.terms(),
        }
    }
}

fn page_torque(torque: &document::Torque, prefix: &str) -> page::Torque {
    let document::Torque { name: _, value, bounds, source, pattern: _, passes, condition, wrench, setting, order, count, note } = torque;
    let words: Vec<String> = passes.iter().map(Line::text).collect();
    page::Torque {
        value: value_of(value),
        reads: reads(bounds),
        low: bounds.low.and_then(decimal),
        high: bounds.high.and_then(decimal),
        source: source.clone(),
        pattern: torque.pattern_words(),
        stages: torque.passes_words(),
        passes: if words.is_empty() { vec![String::new()] } else { words },
        passes_html: lines(passes),
        condition: condition.clone(),
        wrench: wrench.clone(),
        setting: setting.as_ref().map(Line::text),
        setting_html: setting.as_ref().map(html::line),
        order_svg: order.as_ref().map(|order| told::order(order, prefix).svg),
        count: *count,
        note: note.clone(),
    }
}
