//! Turns what the ledger states of dangerous orders into findings: what the rules on them share.

use crate::finding::Finding;
use crate::guide::ledger::{Danger, Entry, Lapse};
use crate::review::booked;
use crate::review::rule::{Rule, Subject};
use crate::source::Place;

/// A lapse as it is told: once for all things of one step that it befalls in the same way.
pub(crate) struct Told<'g> {
    /// The first of them.
    pub(crate) lapse: &'g Lapse,
    /// The ids of the other things of the step that it befalls.
    pub(crate) others: Vec<&'g str>,
}

/// The lapses of some dangers, in the order of the guide.
pub(crate) fn told<'g>(subject: &'g Subject<'_, '_>, pick: impl Fn(Danger) -> bool) -> Vec<Told<'g>> {
    let mut all: Vec<Told<'g>> = Vec::new();
    for lapse in subject.ledger.lapses.iter().filter(|lapse| pick(lapse.danger)) {
        let same = |told: &&mut Told<'g>| {
            // What one definition asks for says nothing of another.
            let own = matches!(lapse.danger, Danger::NotWhile(_) | Danger::While(_));
            told.lapse.entry.step == lapse.entry.step
                && told.lapse.danger == lapse.danger
                && told.lapse.when == lapse.when
                && (!own || told.lapse.thing == lapse.thing)
        };
        match all.iter_mut().find(same) {
            Some(told) if told.lapse.thing == lapse.thing || told.others.contains(&lapse.thing.as_str()) => {}
            Some(told) => told.others.push(&lapse.thing),
            None => all.push(Told { lapse, others: Vec::new() }),
        }
    }
    all
}

impl Told<'_> {
    /// What it befalls: `connector Seat airbag connector is disconnected`.
    pub(crate) fn what_is_done(&self, subject: &Subject<'_, '_>) -> String {
        let thing = booked::thing(subject, &self.lapse.thing);
        let verb = booked::operation(subject, self.lapse.entry).verb.done();
        match self.others.len() {
            0 => format!("{thing} is {verb} here"),
            1 => format!("{thing} is {verb} here, as one more is,"),
            more => format!("{thing} is {verb} here, as {more} more are,"),
        }
    }

    /// The finding, with the other end beside it: what is done there, or `done` where the words of a step tell it.
    pub(crate) fn finding(
        &self,
        subject: &Subject<'_, '_>,
        rule: &Rule,
        message: impl AsRef<str>,
        remedy: impl Into<String>,
        done: &str,
    ) -> Finding {
        let on_which = booked::on_vehicles(subject, &self.lapse.when, self.lapse.more);
        let finding = rule.at(booked::place(subject, self.lapse.entry), format!("{}{on_which}", message.as_ref()), remedy);
        let Some((place, words)) = self.lapse.other.and_then(|other| end(subject, other, done)) else { return finding };
        finding.with_related(place, words)
    }
}

/// The other end of a lapse. What was so before work starts has no place among the operations.
fn end(subject: &Subject<'_, '_>, entry: Entry, done: &str) -> Option<(Place, String)> {
    let place = booked::place(subject, entry);
    if entry.operation == Entry::STEP {
        return Some((place, done.to_owned()));
    }
    let operation = subject.guide.steps.get(entry.step)?.operations.get(entry.operation)?;
    let named = operation.targets.iter().any(|target| target.span == entry.span);
    named.then(|| (place, format!("{} here", operation.verb.done())))
}
