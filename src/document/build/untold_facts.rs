//! What nobody knows yet, as a document shows it: blanks in the place of facts, and the questions. Which facts are told is left to
//! `guide::untold`.

use super::{Maker, UNTOLD, text};
use crate::document::value::{BLANK, Told, Value};
use crate::document::{Connector, Fasteners, Pin, Question, StepLink};
use crate::guide::keys::Block;
use crate::guide::model::{self, Hardware, Spec, Stated};
use crate::guide::untold::{self, Untold};
use crate::guide::{moment, questions};
use crate::source::Spanned;

impl<'g> Maker<'g, '_> {
    /// The blank of a fact, with whom to ask.
    pub(super) fn blank(&self, untold: &Untold) -> Value {
        let why = untold.answer.beside_blank().map_or_else(|| UNTOLD.to_owned(), |ask| format!("{UNTOLD}: {ask}"));
        self.new_value(Told::Untold(why))
    }

    /// A text of a thing, a blank where nobody knows it yet; none where it has none.
    pub(super) fn told(&self, told: &Option<model::Text>, block: Block, id: &str, key: &str) -> Option<String> {
        text(told).or_else(|| untold::of(self.guide, self.shop, block, id, key).map(|_| BLANK.to_owned()))
    }

    /// Where the value of a spec comes from.
    pub(super) fn source_of(&self, spec: &Spec) -> Option<String> {
        let told = spec.source.as_ref().map(|source| self.names.source_words(&source.value));
        told.or_else(|| untold::of(self.guide, self.shop, Block::Spec, &spec.id.value, "source").map(|_| format!("{BLANK} ({UNTOLD})")))
    }

    pub(super) fn of_circuit(&self, circuit: &model::Circuit, key: &str, stated: Option<&Spanned<Stated>>) -> Option<Value> {
        let blank = || untold::of(self.guide, self.shop, Block::Circuit, &circuit.id.value, key).map(|untold| self.blank(untold));
        stated.map(|stated| self.value(&stated.value)).or_else(blank)
    }

    pub(super) fn connector(&self, item: &model::Item) -> Connector {
        let asked = |pin: &model::Pin, key: &str| {
            let mut of_pin = self.guide.untold.iter().filter(|untold| untold.block == Block::Pin && untold.key == key);
            of_pin.any(|untold| untold.table.contains(pin.at.span) && untold.heard.is_none()).then(|| BLANK.to_owned())
        };
        let pin = |pin: &model::Pin| Pin {
            at: pin.at.value.clone(),
            what: text(&pin.what).or_else(|| asked(pin, "what")),
            colour: text(&pin.colour).or_else(|| asked(pin, "colour")),
            wire: text(&pin.wire).or_else(|| asked(pin, "wire")),
        };
        Connector {
            name: item.name.value.clone(),
            pins: item.pins.iter().map(pin).collect(),
            layout: item.layout.iter().map(|row| row.value.clone()).collect(),
            mating_side: item.seen_from.as_ref().map(|side| side.value == "mating-side"),
        }
    }

    /// So many of some hardware.
    pub(super) fn fasteners(&self, hardware: &Hardware, count: u32) -> Fasteners {
        Fasteners {
            count,
            id: hardware.id.value.clone(),
            name: hardware.name.value.clone(),
            thread: self.thread_words(hardware),
            designation: text(&hardware.thread),
            drive: self.told(&hardware.drive, Block::Hardware, &hardware.id.value, "drive"),
        }
    }

    /// Thread, length and class in the usual order: `M8 × 1.25 × 25, 10.9`.
    fn thread_words(&self, hardware: &Hardware) -> String {
        let asked = |key: &str| untold::of(self.guide, self.shop, Block::Hardware, &hardware.id.value, key).is_some();
        let mut words = hardware.thread.as_ref().map_or_else(String::new, |thread| thread.value.replace('x', "\u{a0}×\u{a0}"));
        if asked("thread") {
            words.push_str("thread ____");
        }
        if let Some(length) = &hardware.length {
            let millimetres = length.value.text.strip_suffix("mm").map(str::trim);
            match (millimetres, words.is_empty()) {
                (Some(number), false) => words.push_str(&format!("\u{a0}×\u{a0}{number}")),
                (_, true) => words.push_str(&length.value.text),
                (None, false) => words.push_str(&format!(", {}", length.value.text)),
            }
        } else if asked("length") {
            words.push_str(if words.is_empty() { "length ____" } else { "\u{a0}×\u{a0}____" });
        }
        let class = match &hardware.class {
            // A nut's class is a bare number, which nobody would take for one.
            Some(class) if class.value.bytes().all(|b| b.is_ascii_digit()) => Some(format!("class {}", class.value)),
            Some(class) => Some(class.value.clone()),
            None => asked("class").then(|| "class ____".to_owned()),
        };
        if let Some(class) = class {
            words.push_str(&format!("{}{class}", if words.is_empty() { "" } else { ", " }));
        }
        words
    }

    /// What nobody knows yet, in the order of those who can answer.
    pub(super) fn questions(&self) -> Vec<Question> {
        let step = |at: usize| StepLink { id: self.guide.steps[at].id.value.clone(), number: at + 1 };
        // The moment in the talk that a step was drafted from helps whoever is asked.
        let say = self.shop.language.phrases();
        let moment = |question: &questions::Question| {
            let at = question.step.and_then(|step| self.guide.steps[step].at.as_ref())?;
            let told = question.text.split(' ').next().is_some_and(|first| moment::read(first).is_some());
            (!told).then(|| say.step_at_moment(moment::clock(at.value)))
        };
        let asked = questions::questions(self.guide, self.shop).into_iter().map(|question| Question {
            text: format!("{}{}", question.text, moment(&question).unwrap_or_default()),
            who: question.answer.who,
            place: question.answer.place,
            heard: question.heard,
            step: question.step.map(step),
            span: question.span,
        });
        let mut all: Vec<Question> = asked.collect();
        // Nobody named comes last.
        all.sort_by_key(|question| (question.who.is_none(), question.who));
        all
    }
}
