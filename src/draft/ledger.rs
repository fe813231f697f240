//! What a talk leaves open: things taken off, apart or loose that nobody says go back, and fasteners done up without a torque.

use super::clauses::Told;
use super::phrase::Pronoun;
use super::talk::Talk;
use super::things::{Resolved, ends_sentence};
use super::values::{Kind, Value};
use crate::guide::verb::Verb;

/// Something left open.
#[derive(Clone, Debug)]
pub struct Open {
    /// The thing.
    pub thing: usize,
    /// The operation that opened it.
    pub operation: usize,
}

/// A fastener done up without a torque.
#[derive(Clone, Debug)]
pub struct Untorqued {
    /// The thing.
    pub thing: usize,
    /// The operation that does it up.
    pub operation: usize,
}

pub(super) struct Ledger {
    pub(super) open: Vec<Open>,
    pub(super) untorqued: Vec<Untorqued>,
}

/// Words for a tightness without a value.
const BY_FEEL: &[&[&str]] = &[&["hand", "tight"], &["finger", "tight"]];

/// Words for what is only started and tightened later.
const BY_HAND: &[&[&str]] = &[&["by", "hand"], &["with", "your", "fingers"]];

/// Words for a value that stands elsewhere.
const BY_REFERENCE: &[&[&str]] = &[
    &["what", "the", "maker", "says"],
    &["whatever", "the", "maker", "says"],
    &["maker's", "figure"],
    &["same", "as", "the", "other"],
    &["same", "again"],
    &["same", "torque"],
    &["same", "figure"],
    &["vehicle", "maker"],
    &["in", "the", "manual"],
    &["in", "the", "book"],
    &["what", "the", "book", "says"],
    &["manufacturer's"],
    &["the", "same", "as"],
];

fn any_of(talk: &Talk<'_>, from: usize, to: usize, phrases: &[&[&str]]) -> Option<String> {
    (from..to).find_map(|at| {
        let found =
            phrases.iter().find(|words| words.iter().enumerate().all(|(nth, word)| at + nth < to && talk.word(at + nth) == *word))?;
        Some(found.join(" "))
    })
}

/// Gives torques to their fasteners and reckons up what stays open.
pub(super) fn reckon(talk: &Talk<'_>, resolved: &mut Resolved, values: &[Value], told: &[Told]) -> Ledger {
    torques(talk, resolved, values);
    let Resolved { things, operations } = resolved;
    // `Everything goes back`: the things that were taken off before it.
    let all_back: Vec<usize> = told
        .iter()
        .filter(|told| told.thing.pronoun == Some(Pronoun::Everything) && matches!(told.verb, Verb::Fit | Verb::Connect))
        .map(|told| told.at)
        .collect();
    let mut open = Vec::new();
    for (thing, known) in things.iter().enumerate() {
        let mut state: Option<usize> = None;
        let raised = operations.iter().any(|operation| operation.thing == thing && operation.verb == Verb::Raise);
        for (at, operation) in operations.iter().enumerate().filter(|(_, operation)| operation.thing == thing) {
            match operation.verb {
                Verb::Remove | Verb::Disconnect | Verb::Loosen | Verb::Drain | Verb::Cap | Verb::Cover | Verb::Raise | Verb::SwitchOff => {
                    state = Some(at)
                }
                // A window that is let down is to be raised again; a vehicle is not.
                Verb::Lower if state.is_none() && !raised && !matches!(known.class.as_str(), "vehicle" | "bonnet") => state = Some(at),
                Verb::Fit
                | Verb::Connect
                | Verb::Tighten
                | Verb::Fill
                | Verb::Uncap
                | Verb::Uncover
                | Verb::Lower
                | Verb::SwitchOn
                | Verb::Discard
                | Verb::Apply
                | Verb::Start => state = None,
                _ => {}
            }
        }
        let Some(at) = state else { continue };
        if all_back.iter().any(|back| *back > operations[at].at) && operations[at].verb == Verb::Remove {
            continue;
        }
        if matches!(known.class.as_str(), "applied" | "hole" | "tool" | "nothing") {
            continue;
        }
        open.push(Open { thing, operation: at });
    }
    let mut untorqued = Vec::new();
    for (thing, known) in things.iter().enumerate().filter(|(_, thing)| thing.is_fastener()) {
        let of_it: Vec<usize> = (0..operations.len()).filter(|at| operations[*at].thing == thing).collect();
        let said = of_it.iter().any(|at| operations[*at].torque.is_some() || operations[*at].by_feel.is_some());
        let done_up = of_it.iter().rev().find(|at| matches!(operations[**at].verb, Verb::Fit | Verb::Tighten | Verb::Connect));
        // What is thrown away and does not come back is not done up.
        let away = of_it.last().is_some_and(|at| operations[*at].verb == Verb::Discard);
        let washer = matches!(known.head(), "washer" | "insert" | "rivnut" | "rivet");
        if let Some(last) = done_up.or(of_it.last()).filter(|_| !said && !away && !washer) {
            untorqued.push(Untorqued { thing, operation: *last });
        }
    }
    Ledger { open, untorqued }
}

/// Gives each torque to the fastener that it is told of: the last one done up before it, or else the next.
fn torques(talk: &Talk<'_>, resolved: &mut Resolved, values: &[Value]) {
    let Resolved { things, operations } = resolved;
    let does_up = |verb: Verb| matches!(verb, Verb::Tighten | Verb::Fit);
    for (nth, value) in values.iter().enumerate().filter(|(_, value)| value.kind == Kind::Torque) {
        let start = talk.sentence_start(value.range.start);
        let near = |at: usize| at + 40 > value.range.start;
        let before = operations
            .iter()
            .enumerate()
            .rev()
            .filter(|(_, operation)| operation.at < value.range.start && near(operation.at))
            .find(|(_, operation)| does_up(operation.verb) && things[operation.thing].is_fastener())
            .map(|(at, _)| at);
        let end = (value.range.end..talk.len()).find(|at| ends_sentence(talk, *at)).unwrap_or(talk.len());
        let behind = operations
            .iter()
            .enumerate()
            .find(|(_, operation)| {
                operation.at > value.range.start
                    && operation.at < end.min(value.range.end + 20)
                    && does_up(operation.verb)
                    && things[operation.thing].is_fastener()
            })
            .map(|(at, _)| at);
        let chosen = match (before, behind) {
            (Some(before), Some(behind)) => {
                Some(if operations[before].at < start && operations[behind].range.start < end && operations[before].torque.is_some() {
                    behind
                } else {
                    before
                })
            }
            (before, behind) => before.or(behind),
        };
        if let Some(at) = chosen {
            operations[at].torque.get_or_insert(nth);
        }
    }
    for operation in operations.iter_mut().filter(|operation| does_up(operation.verb)) {
        let end = (operation.at..talk.len()).find(|at| ends_sentence(talk, *at)).map_or(talk.len(), |at| at + 1).min(operation.at + 25);
        let from = talk.sentence_start(operation.at).max(operation.at.saturating_sub(10));
        operation.by_feel = any_of(talk, from, end, BY_FEEL);
        operation.by_hand = any_of(talk, from, end, BY_HAND).is_some();
        operation.by_reference = any_of(talk, from, end, BY_REFERENCE);
    }
}
