//! What of a guide can be found, by which words and values, and what a result shows of it. How it is filed is left to
//! `terms` and `values`.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::terms::{Packed, Terms, Weight};
use crate::guide::model::{Caution, Guide, Item, Operation, Shop, Spec, Stated, Step};
use crate::guide::names::{Names, Thing};
use crate::guide::prose::{Prose, RefKind, Reference};
use crate::guide::tally;
use crate::publish::page_data as page;
use crate::publish::photo::Published;
use crate::quantity::{self, Options};

/// A result shows one fact of a step or two; more than this many are not sent along.
const MOST_FACTS: usize = 6;

/// What results show of a guide, written out and waiting for its piece of the index.
#[derive(Clone, Debug, Default)]
pub struct Entry {
    /// The row as it stands in the piece.
    pub(super) row: Box<str>,
    /// How many steps it has.
    pub(super) steps: u16,
}

/// Gathers a guide: what results show, and the terms that lead to it.
pub fn gather(guide: &Guide<'_>, page: &page::Guide, shop: &Shop, pictures: &BTreeMap<String, Published>) -> (Entry, Packed) {
    let mut gatherer = Gatherer { guide, defined: Names::new(guide, shop), terms: Terms::default(), at: 0 };
    gatherer.head(page);
    let mut rows = Vec::with_capacity(guide.steps.len());
    let shown = page.phases.iter().flat_map(|phase| phase.steps.iter().map(move |step| (phase, step)));
    for ((phase, shown), step) in shown.zip(&guide.steps) {
        // A step beyond the last number is found with the one before; nobody writes so many.
        gatherer.at = u16::try_from(shown.number).unwrap_or(u16::MAX);
        phase.title.iter().for_each(|title| gatherer.words(title, Weight::Told));
        gatherer.step(step, shown);
        let picture = step.prose.pictures.iter().find_map(|picture| pictures.get(&picture.source.value)).map_or("", Published::smallest);
        let id = if plain_anchor(&shown.title) == shown.id { "" } else { &shown.id };
        let mut row = vec![json!(id), json!(shown.title), json!(picture)];
        row.extend(facts(step, shown, gatherer.defined).into_iter().map(Value::from));
        rows.push(Value::Array(row));
    }
    let line = &page.line;
    let fits: Vec<&str> = line.fits.iter().map(|vehicle| vehicle.name.as_str()).collect();
    let about = if fits.is_empty() { line.system.clone() } else { format!("{}: {}", line.system, fits.join("; ")) };
    let row = json!([line.slug, line.title, line.document.as_deref().unwrap_or_default(), u8::from(line.draft), about, rows]);
    let entry = Entry { row: row.to_string().into_boxed_str(), steps: gatherer.at };
    (entry, gatherer.terms.pack())
}

struct Gatherer<'g, 's> {
    guide: &'g Guide<'s>,
    defined: Names<'g>,
    terms: Terms,
    at: u16,
}

impl<'g> Gatherer<'g, '_> {
    /// Words, and the values that stand in them.
    fn words(&mut self, text: &str, weight: Weight) {
        self.terms.words(text, self.at, weight);
        if text.bytes().any(|byte| byte.is_ascii_digit()) {
            for found in quantity::scan(text, &Options::default()) {
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

    /// A value of the model, and its printed words, for whoever asks for the number alone.
    fn value(&mut self, stated: &Stated, printed: Option<&page::Value>, weight: Weight) {
        if let Some(quantity) = &stated.quantity {
            self.terms.value(quantity, self.at, weight);
        }
        self.terms.words(&stated.text, self.at, Weight::Told);
        if let Some(value) = printed {
            self.terms.words(&value.first, self.at, Weight::Told);
            value.second.iter().for_each(|second| self.terms.words(second, self.at, Weight::Told));
        }
    }

    /// The guide itself. What is in its lists counts for little here: the step that needs it is the better answer.
    fn head(&mut self, page: &page::Guide) {
        let line = &page.line;
        self.words(&line.title, Weight::Named);
        line.document.iter().for_each(|text| self.words(text, Weight::Named));
        self.words(&line.system, Weight::Done);
        line.fits.iter().for_each(|vehicle| self.words(&vehicle.name, Weight::Done));
        line.summary.iter().for_each(|text| self.words(text, Weight::Told));
        for part in page.parts.iter().chain(&page.kit_hardware).chain(&page.vehicle_hardware) {
            self.words(&part.name, Weight::Told);
            part.number.iter().chain(&part.note).for_each(|text| self.words(text, Weight::Told));
        }
        for tool in &page.tools {
            self.names(&tool.name, Weight::Told);
            tool.number.iter().chain(&tool.note).chain(&tool.sizes).for_each(|text| self.names(text, Weight::Told));
        }
        let guide = self.guide;
        let lines = guide.not_for.iter().chain(&guide.before).chain(&guide.final_checks).chain(&guide.follow_up);
        lines.for_each(|text| self.words(&text.value, Weight::Told));
        page.choices.iter().flat_map(|choice| &choice.options).for_each(|option| self.words(&option.name, Weight::Told));
        self.prose(&guide.intro);
        guide.phases.iter().for_each(|phase| self.prose(&phase.prose));
        for (circuit, shown) in guide.own.circuits.rows.iter().zip(&page.circuits) {
            self.words(&circuit.name.value, Weight::Told);
            self.words(&circuit.wire.value, Weight::Told);
            self.value(&circuit.current.value, Some(&shown.current), Weight::Told);
            circuit.length.iter().chain(&circuit.fuse).for_each(|stated| self.value(&stated.value, None, Weight::Told));
        }
    }

    fn step(&mut self, step: &'g Step<'_>, shown: &page::Step) {
        let names = self.defined;
        self.words(&shown.title, Weight::Named);
        for (operation, shown) in step.operations.iter().zip(&shown.operations) {
            self.operation(operation, shown);
        }
        for (id, shown) in step.specs.iter().zip(&shown.specs) {
            self.spec(self.defined.spec(&id.value), shown);
        }
        let by_id = step.caution_refs.iter().filter_map(|id| names.caution(&id.value));
        by_id.chain(&step.cautions).for_each(|caution| self.caution(caution));
        shown.tools.iter().for_each(|text| self.names(text, Weight::Done));
        let numbers = step.tools.iter().filter_map(|id| names.tool(&id.value)?.number.as_ref());
        numbers.for_each(|number| self.words(&number.value, Weight::Done));
        step.checks.iter().chain(&step.hold_point).for_each(|text| self.words(&text.value, Weight::Told));
        step.wait.iter().for_each(|wait| self.value(&wait.value, None, Weight::Told));
        shown.when.iter().for_each(|text| self.words(text, Weight::Told));
        step.callouts.iter().for_each(|callout| self.words(&callout.words.value, Weight::Told));
        self.prose(&step.prose);
    }

    fn operation(&mut self, operation: &'g Operation, shown: &page::Operation) {
        let names = self.defined;
        self.words(shown.verb, Weight::Done);
        self.words(&shown.things, Weight::Done);
        for thing in operation.targets.iter().filter_map(|id| names.thing(&id.value)) {
            match thing {
                Thing::Part(part) => part.number.iter().for_each(|number| self.words(&number.value, Weight::Named)),
                Thing::Item(item) => self.pins(item),
                Thing::Hardware(_) => {}
            }
        }
        shown.hardware.iter().for_each(|text| self.words(text, Weight::Done));
        shown.tools.iter().for_each(|text| self.names(text, Weight::Done));
        shown.how.iter().chain(&shown.when).for_each(|text| self.words(text, Weight::Told));
        for tool in operation.with.iter().filter_map(|id| names.tool(&id.value)) {
            self.names(&tool.name.value, Weight::Told);
            tool.number.iter().for_each(|number| self.words(&number.value, Weight::Done));
        }
        if let (Some((stated, spec)), Some(torque)) = (tally::torque_of(operation, names), &shown.torque) {
            self.value(stated, Some(&torque.value), Weight::Named);
            spec.iter().flat_map(|spec| &spec.name).for_each(|name| self.words(&name.value, Weight::Done));
            let told = [&torque.pattern, &torque.condition, &torque.stages, &torque.note, &torque.setting, &torque.wrench];
            told.into_iter().flatten().for_each(|text| self.names(text, Weight::Told));
        }
        for (id, shown) in operation.specs.iter().zip(&shown.specs) {
            self.spec(self.defined.spec(&id.value), shown);
        }
    }

    fn spec(&mut self, spec: Option<&Spec>, shown: &page::NamedValue) {
        self.words(&shown.name, Weight::Done);
        match spec.and_then(|spec| spec.value.as_ref()) {
            Some(stated) => self.value(&stated.value, Some(&shown.value), Weight::Named),
            None => self.words(&shown.value.first, Weight::Done),
        }
    }

    fn caution(&mut self, caution: &Caution) {
        self.words(caution.signal.value.key(), Weight::Told);
        [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()]
            .into_iter()
            .flatten()
            .for_each(|text| self.words(&text.value, Weight::Told));
    }

    fn pins(&mut self, item: &Item) {
        item.pins.iter().flat_map(|pin| &pin.what).for_each(|what| self.words(&what.value, Weight::Told));
    }

    fn prose(&mut self, prose: &'g Prose<'_>) {
        prose.shown().for_each(|text| self.words(text, Weight::Told));
        prose.pictures.iter().for_each(|picture| self.words(&picture.words, Weight::Told));
        prose.references.iter().for_each(|reference| self.reference(reference));
    }

    /// What the page shows where a link has no words of its own.
    fn reference(&mut self, reference: &Reference) {
        let id = &reference.id.value;
        let name = match reference.kind {
            RefKind::Spec => {
                if let Some(stated) = self.defined.spec(id).and_then(|spec| spec.value.as_ref()) {
                    self.value(&stated.value, None, Weight::Told);
                }
                return;
            }
            _ if !reference.wordless => return,
            RefKind::Tool => self.defined.tool(id).map(|tool| tool.name.value.as_str()),
            _ => self.defined.thing(id).map(Thing::name),
        };
        name.into_iter().for_each(|name| self.words(name, Weight::Told));
    }
}

/// What a result can show of a step beside its heading: values first, then parts by number, fasteners and tools.
fn facts(step: &Step<'_>, shown: &page::Step, names: Names<'_>) -> Vec<String> {
    let printed = |value: &page::Value| match &value.second {
        Some(second) => format!("{} ({})", value.first, quantity::beside(&value.first, second)),
        None => value.first.clone(),
    };
    let (mut values, mut others) = (Vec::new(), Vec::new());
    for (operation, shown) in step.operations.iter().zip(&shown.operations) {
        let hardware = shown.hardware.join("; ");
        match &shown.torque {
            Some(torque) => {
                let on = if hardware.is_empty() { &shown.things } else { &hardware };
                values.push(format!("{on}: {}", printed(&torque.value)));
            }
            None if !hardware.is_empty() => others.push(hardware),
            None => {}
        }
        for thing in operation.targets.iter().filter_map(|id| names.thing(&id.value)) {
            if let Thing::Part(part) = thing
                && let Some(number) = &part.number
            {
                others.insert(0, format!("{}, {}", part.name.value, number.value));
            }
        }
        values.extend(shown.specs.iter().map(|spec| format!("{}: {}", spec.name, printed(&spec.value))));
        others.extend(operation.with.iter().filter_map(|id| names.tool(&id.value)).map(|tool| match &tool.number {
            Some(number) => format!("{}, {}", tool.name.value, number.value),
            None => tool.name.value.clone(),
        }));
    }
    values.extend(shown.specs.iter().map(|spec| format!("{}: {}", spec.name, printed(&spec.value))));
    values.extend(others);
    let mut facts: Vec<String> = Vec::with_capacity(MOST_FACTS);
    for fact in values {
        if facts.len() < MOST_FACTS && !facts.contains(&fact) {
            facts.push(fact);
        }
    }
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
