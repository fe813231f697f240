//! What of a guide can be found, by which words and values, and what a result shows of it. How it is filed is left to
//! `terms` and `values`.

use serde_json::{Value as Json, json};

use super::terms::{Packed, Terms, Weight};
use crate::document::value::Value;
use crate::document::words::{Block, Inline, Line, Words, pictures};
use crate::document::{Caution, Connector, Departure, Document, NamedValue, Operation, Pin, Step, phrase};
use crate::pictures::Published;
use crate::quantity::{self, Options};
use crate::source::Spanned;

/// A result shows one fact of a step or two; more than this many are not sent along.
const MOST_FACTS: usize = 6;
/// As many pins are; the largest plugs of a vehicle's trailer socket have 13.
const MOST_PINS: usize = 16;

/// What results show of a guide, written out and waiting for its piece of the index.
#[derive(Clone, Debug, Default, serde::Deserialize, serde::Serialize)]
pub struct Entry {
    /// The row as it stands in the piece.
    pub(super) row: Box<str>,
    /// How many steps it has.
    pub(super) steps: u16,
}

/// Gathers a guide: what results show, and the terms that lead to it. `reading` says how values in its words are written.
pub fn gather(document: &Document, reading: Options) -> (Entry, Packed) {
    let mut gatherer = Gatherer { document, reading, terms: Terms::default(), at: 0 };
    gatherer.head();
    let mut rows = Vec::new();
    for (phase, step) in document.phases.iter().flat_map(|phase| phase.steps.iter().map(move |step| (phase, step))) {
        // A step beyond the last number is found with the one before; nobody writes so many.
        gatherer.at = u16::try_from(step.number).unwrap_or(u16::MAX);
        phase.title.iter().for_each(|title| gatherer.words(title, Weight::Told));
        gatherer.step(step);
        let mut shown = pictures(&step.words).into_iter().filter_map(|picture| Some(Published::plan(&picture.address, picture.fact?)));
        let picture = shown.next().map_or_else(String::new, |published| published.smallest().to_owned());
        let id = if plain_anchor(&step.title) == step.id { "" } else { &step.id };
        let mut row = vec![json!(id), json!(step.title), json!(picture)];
        row.extend(facts(step).into_iter().map(Json::from));
        rows.push(Json::Array(row));
    }
    let head = &document.head;
    let fits: Vec<&str> = head.fits.iter().map(|vehicle| vehicle.name.as_str()).collect();
    let about = if fits.is_empty() { head.system.clone() } else { format!("{}: {}", head.system, fits.join("; ")) };
    let row = json!([head.slug, head.title, head.document.as_deref().unwrap_or_default(), u8::from(head.draft), about, rows]);
    let entry = Entry { row: row.to_string().into_boxed_str(), steps: gatherer.at };
    (entry, gatherer.terms.pack())
}

struct Gatherer<'d> {
    document: &'d Document,
    reading: Options,
    terms: Terms,
    at: u16,
}

impl Gatherer<'_> {
    /// Words, and the values that stand in them.
    fn words(&mut self, text: &str, weight: Weight) {
        self.terms.words(text, self.at, weight);
        if text.bytes().any(|byte| byte.is_ascii_digit()) {
            for found in quantity::scan(text, &self.reading) {
                self.terms.value(&found.quantity, self.at, weight);
            }
        }
    }

    /// Words whose values are none of the work: the range of a wrench holds nearly every torque that anybody asks for. A size in
    /// the name of a tool counts for less than the same size of a fastener.
    fn names(&mut self, text: &str, weight: Weight) {
        for word in text.split_whitespace() {
            let sized = word.bytes().any(|byte| byte.is_ascii_digit());
            self.terms.words(word, self.at, if sized { Weight::Told } else { weight });
        }
        self.terms.threads(text, self.at, Weight::Told);
    }

    /// A value, and its printed words for whoever asks for the number alone.
    fn value(&mut self, value: &Value, weight: Weight) {
        match value.quantity() {
            Some(quantity) => {
                self.terms.value(quantity, self.at, weight);
                let spelt = value.spelt();
                self.terms.words(&spelt.first, self.at, Weight::Told);
                spelt.second.iter().for_each(|second| self.terms.words(second, self.at, Weight::Told));
            }
            None => self.words(&value.in_line(), weight),
        }
    }

    fn line(&mut self, line: &Line) {
        self.inlines(&line.words);
    }

    fn inlines(&mut self, words: &Words) {
        for inline in words {
            match &inline.value {
                Inline::Text(text) | Inline::Code(text) => self.words(text, Weight::Told),
                Inline::Strong(words)
                | Inline::Emphasis(words)
                | Inline::Step { id: _, words }
                | Inline::Operation { id: _, words }
                | Inline::Link { to: _, words } => {
                    self.inlines(words);
                }
                Inline::Reference { kind: _, id: _, value, words } => {
                    value.iter().for_each(|value| self.value(value, Weight::Told));
                    self.inlines(words);
                }
                Inline::Value(value) => self.value(value, Weight::Told),
                Inline::Picture(picture) => self.words(&picture.words, Weight::Told),
                Inline::Note(_) | Inline::Soft | Inline::Break => {}
            }
        }
    }

    fn blocks(&mut self, blocks: &[Spanned<Block>]) {
        for block in blocks {
            match &block.value {
                Block::Paragraph(words)
                | Block::Bare(words)
                | Block::Heading { level: _, words }
                | Block::Told { label: _, operations: _, words } => self.inlines(words),
                Block::List { start: _, items } => items.iter().for_each(|item| self.blocks(item)),
                Block::Table { aligned: _, head, rows } => head.iter().chain(rows.iter().flatten()).for_each(|cell| self.inlines(cell)),
                Block::Figure { picture, caption, explained: _ } => {
                    self.words(&picture.words, Weight::Told);
                    self.words(caption, Weight::Told);
                    picture.callouts.iter().for_each(|callout| self.line(&callout.words));
                }
                Block::Callouts(callouts) => callouts.iter().for_each(|callout| self.line(&callout.words)),
                Block::Code { language: _, text } => self.words(text, Weight::Told),
                Block::Quote(blocks) | Block::Footnote { label: _, blocks } => self.blocks(blocks),
                Block::Rule => {}
            }
        }
    }

    /// The guide itself. What is in its lists counts for little here: the step that needs it is the better answer.
    fn head(&mut self) {
        let Document {
            say: _,
            head,
            approved: _,
            fingerprint: _,
            not_for,
            also,
            before,
            // What the whole job is warned of is found with the steps that it belongs to.
            cautions: _,
            tools,
            // A wrench is found as a tool of the guides that list it.
            wrenches: _,
            parts,
            kit_hardware,
            vehicle_hardware,
            consumables,
            ready,
            choices,
            accounts: _,
            intro,
            phases,
            torques: _,
            final_checks,
            follow_up,
            circuits,
            changes: _,
            sources: _,
            since: _,
            questions: _,
            video: _,
            photo: _,
        } = self.document;
        self.words(&head.title, Weight::Named);
        head.document.iter().for_each(|text| self.words(text, Weight::Named));
        self.words(&head.system, Weight::Done);
        head.fits.iter().for_each(|vehicle| self.words(&vehicle.name, Weight::Done));
        head.summary.iter().for_each(|text| self.words(text, Weight::Told));
        for part in parts.iter().chain(kit_hardware).chain(vehicle_hardware) {
            self.words(&part.name, Weight::Told);
            part.number.iter().for_each(|text| self.words(text, Weight::Told));
            part.note(choices).iter().for_each(|text| self.words(text, Weight::Told));
        }
        consumables.iter().for_each(|row| self.words(&row.words(choices), Weight::Told));
        ready.iter().for_each(|line| self.line(line));
        for tool in tools {
            self.names(&tool.name, Weight::Told);
            tool.number.iter().chain(&tool.note).chain(&tool.sizes).for_each(|text| self.names(text, Weight::Told));
        }
        also.iter().for_each(|text| self.words(text, Weight::Named));
        not_for.iter().for_each(|text| self.words(text, Weight::Told));
        before.iter().chain(final_checks).chain(follow_up).for_each(|line| self.line(line));
        choices.iter().flat_map(|choice| &choice.options).for_each(|option| self.words(&option.name, Weight::Told));
        self.blocks(intro);
        phases.iter().for_each(|phase| self.blocks(&phase.words));
        for circuit in circuits {
            self.words(&circuit.name, Weight::Told);
            self.words(&circuit.wire, Weight::Told);
            circuit.fuse_note.iter().for_each(|text| self.words(text, Weight::Told));
            let values = std::iter::once(&circuit.current).chain(&circuit.length).chain(&circuit.fuse);
            values.for_each(|value| self.value(value, Weight::Told));
        }
    }

    fn step(&mut self, step: &Step) {
        let Step {
            number: _,
            id: _,
            title,
            side: _,
            words,
            called: _,
            cautions,
            // What still holds is found where it is stated.
            standing: _,
            departures,
            connectors,
            operations,
            values,
            wait,
            minutes: _,
            moment: _,
            tools,
            checks,
            hold_point,
            when,
            needs: _,
            span: _,
        } = step;
        self.words(title, Weight::Named);
        operations.iter().for_each(|operation| self.operation(operation));
        values.iter().for_each(|value| self.named(value));
        cautions.iter().for_each(|caution| self.caution(caution));
        tools.iter().for_each(|tool| self.names(&tool.name, Weight::Done));
        tools.iter().filter_map(|tool| tool.number.as_ref()).for_each(|number| self.words(number, Weight::Done));
        checks.iter().for_each(|line| self.line(line));
        for Departure { says, does, why, approved, source: _ } in departures {
            [says, does, why].into_iter().for_each(|line| self.line(line));
            approved.iter().for_each(|who| self.words(who, Weight::Told));
        }
        hold_point.iter().for_each(|text| self.words(text, Weight::Told));
        connectors.iter().for_each(|connector| self.connector(connector));
        if let Some(wait) = wait {
            self.words("wait", Weight::Done);
            self.value(wait, Weight::Told);
        }
        phrase::when(when, &self.document.choices).iter().for_each(|text| self.words(text, Weight::Told));
        self.blocks(words);
    }

    fn connector(&mut self, connector: &Connector) {
        let Connector { name, pins, layout: _, mating_side: _ } = connector;
        self.words(name, Weight::Done);
        for Pin { at, what, colour, wire } in pins {
            self.words("pin pinout", Weight::Told);
            self.words(at, Weight::Done);
            what.iter().chain(colour).for_each(|text| self.words(text, Weight::Done));
            wire.iter().for_each(|text| self.words(text, Weight::Told));
        }
    }

    fn operation(&mut self, operation: &Operation) {
        let Operation {
            id: _,
            told: _,
            moves: _,
            verb,
            targets,
            hardware,
            how: _,
            // In the words of how it is done.
            place: _,
            onto: _,
            holes: _,
            pilot: _,
            wait,
            torque,
            values,
            tools,
            undoing: _,
            undo_passes,
            undo_count: _,
            when,
            span: _,
        } = operation;
        self.words(verb.word(), Weight::Done);
        wait.iter().for_each(|wait| self.value(wait, Weight::Told));
        self.words(&operation.things(), Weight::Done);
        for target in targets {
            target.number.iter().for_each(|number| self.words(number, Weight::Named));
            target.pins.iter().for_each(|pin| self.words(pin, Weight::Told));
        }
        hardware.iter().for_each(|fasteners| self.words(&fasteners.words(), Weight::Done));
        for tool in tools {
            self.names(&tool.name, if tool.of_torque { Weight::Told } else { Weight::Done });
            tool.number.iter().for_each(|number| self.words(number, Weight::Done));
        }
        undo_passes.iter().for_each(|pass| self.line(pass));
        operation.how_words(self.document.say).iter().for_each(|text| self.words(text, Weight::Told));
        phrase::when(when, &self.document.choices).iter().for_each(|text| self.words(text, Weight::Told));
        if let Some(torque) = torque {
            self.value(&torque.value, Weight::Named);
            torque.name.iter().for_each(|name| self.words(name, Weight::Done));
            let told = [torque.pattern_words(), torque.condition.clone(), torque.passes_words(), torque.note.clone()];
            let told = told.into_iter().flatten().chain(torque.setting.as_ref().map(Line::text)).chain(torque.wrench.clone());
            told.for_each(|text| self.names(&text, Weight::Told));
        }
        values.iter().for_each(|value| self.named(value));
    }

    fn named(&mut self, named: &NamedValue) {
        self.words(&named.name, Weight::Done);
        let weight = if named.value.quantity().is_some() { Weight::Named } else { Weight::Done };
        self.value(&named.value, weight);
    }

    fn caution(&mut self, caution: &Caution) {
        self.words(caution.signal.key(), Weight::Told);
        [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()].into_iter().flatten().for_each(|line| self.line(line));
    }
}

/// What a result can show of a step beside its heading: values first, then parts by number, fasteners and tools.
fn facts(step: &Step) -> Vec<String> {
    let (mut values, mut others) = (Vec::new(), Vec::new());
    let told = |named: &NamedValue| format!("{}: {}", named.name, named.value.in_line());
    for operation in &step.operations {
        let hardware = operation.hardware.iter().map(|fasteners| fasteners.words()).collect::<Vec<_>>().join("; ");
        match &operation.torque {
            Some(torque) => {
                let on = if hardware.is_empty() { operation.things() } else { hardware };
                values.push(format!("{on}: {}", torque.value.in_line()));
            }
            None if !hardware.is_empty() => others.push(hardware),
            None => {}
        }
        for target in &operation.targets {
            if let Some(number) = &target.number {
                others.insert(0, format!("{}, {number}", target.name));
            }
        }
        values.extend(operation.values.iter().map(told));
        others.extend(operation.tools.iter().map(|tool| match &tool.number {
            Some(number) => format!("{}, {number}", tool.name),
            None => tool.name.clone(),
        }));
    }
    values.extend(step.values.iter().map(told));
    values.extend(others);
    let mut facts: Vec<String> = Vec::with_capacity(MOST_FACTS);
    for fact in values {
        if facts.len() < MOST_FACTS && !facts.contains(&fact) {
            facts.push(fact);
        }
    }
    // Whoever asks for a pin wants its wire, whichever of them it is.
    let pins = step.connectors.iter().flat_map(|connector| &connector.pins).take(MOST_PINS);
    facts.extend(pins.map(|pin| format!("Pin {}: {}", pin.at, pin.words())));
    facts
}

/// The anchor that the script makes of a heading by itself, so that it need not be sent.
fn plain_anchor(title: &str) -> String {
    let mut anchor = String::with_capacity(title.len());
    for c in title.chars() {
        if c.is_ascii_alphanumeric() {
            anchor.push(c.to_ascii_lowercase());
        } else if !anchor.is_empty() && !anchor.ends_with('-') {
            anchor.push('-');
        }
    }
    anchor.truncate(anchor.trim_end_matches('-').len());
    anchor
}
