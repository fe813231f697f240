//! While what a thing may be worked on: `remove while vehicle raised`, written once where the thing is defined. Read here; followed through
//! every combination of options by the ledger.

use crate::finding::{Finding, RuleName};
use crate::guide::facts::{Fields, Reader};
use crate::guide::model::{Allowed, Text};
use crate::guide::names::Thing;
use crate::guide::verb::{Effect, Verb};
use crate::near::{did_you_mean, nearest};

/// The verb that brings a thing into a state: what it has done, or `running` for what was started.
fn state_of(word: &str) -> Option<Verb> {
    if word == "running" {
        return Some(Verb::Start);
    }
    Verb::ALL.iter().copied().find(|verb| verb.done() == word)
}

/// A state in words: `raised`, `running`.
pub fn state_words(state: Verb) -> &'static str {
    if state == Verb::Start { "running" } else { state.done() }
}

/// Reads `only` and `never` of a thing.
pub(super) fn read(reader: &mut Reader, f: &Fields<'_>) -> (Vec<Allowed>, Vec<Allowed>) {
    let only: Vec<Allowed> = reader.texts(f, "only").into_iter().filter_map(|text| one(reader, text)).collect();
    let never: Vec<Allowed> = reader.texts(f, "never").into_iter().filter_map(|text| one(reader, text)).collect();
    let common =
        |one: &Allowed, other: &Allowed| one.thing.value == other.thing.value && one.verbs.iter().any(|verb| other.verbs.contains(verb));
    // One thing is never in two states that exclude each other, so the work could never be done.
    for (at, one) in only.iter().enumerate() {
        let opposite = only[..at].iter().find(|other| common(one, other) && one.state.inverse() == Some(other.state));
        let barred = never.iter().find(|other| common(one, other) && one.state == other.state);
        if let Some(other) = opposite.or(barred) {
            let message = format!("`{}` and `{}` exclude each other, so this could never be done", other.text.value, one.text.value);
            let finding = Finding::hold(RuleName::TypeWrong, reader.place(one.text.span), message, "keep the one that is right");
            let first = reader.place(other.text.span);
            reader.findings.push(finding.with_related(first, "the other one"));
        }
    }
    (only, never)
}

fn one(reader: &mut Reader, text: Text) -> Option<Allowed> {
    let mut wrong = |message: String, remedy: String| {
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(text.span), message, remedy));
        None
    };
    let form = "write a verb, `while`, a thing and its state, such as `remove while vehicle raised`";
    let Some((done, state)) = text.value.split_once(" while ") else {
        return wrong(format!("`{}` does not say while what", text.value), form.to_owned());
    };
    let mut verbs = Vec::new();
    for word in done.split(" or ").map(str::trim) {
        let key = word.replace([' ', '-'], "_");
        let Some(verb) = Verb::from_key(&key) else {
            let near = nearest(&key, Verb::ALL.iter().map(|verb| verb.key()));
            return wrong(format!("`{word}` is no verb of an operation"), format!("{form}{}", did_you_mean(near)));
        };
        verbs.push(verb);
    }
    let Some((thing, word)) = state.trim().split_once(' ') else {
        return wrong(format!("`{}` does not say in which state", text.value), form.to_owned());
    };
    let Some(state) = state_of(word.trim()) else {
        let near = nearest(word.trim(), Verb::ALL.iter().map(|verb| verb.done()));
        return wrong(format!("`{}` is no state that an operation brings about", word.trim()), format!("{form}{}", did_you_mean(near)));
    };
    let at = text.value.len() - text.value.split_once(" while ")?.1.trim_start().len();
    let exact = (text.span.end - text.span.start) as usize == text.value.len();
    let span = if exact { text.span.part(at..at + thing.len()) } else { text.span };
    let thing = Text { value: thing.to_owned(), span };
    Some(Allowed { text, verbs, thing, state })
}

impl<'g> Thing<'g> {
    /// While what it may be worked on alone, and while what it may not.
    pub fn allowed(self) -> (&'g [Allowed], &'g [Allowed]) {
        match self {
            Thing::Item(item) => (&item.only, &item.never),
            Thing::Part(part) => (&part.only, &part.never),
            Thing::Hardware(_) => (&[], &[]),
        }
    }
}

/// What a verb does to a state of the thing it is done to: brings it about, ends it, or neither.
pub fn turns(state: Verb, done: Verb) -> Option<bool> {
    if done == state {
        return Some(true);
    }
    let ends = match state.effect() {
        Effect::Opens(other) | Effect::Closes(other) => done == other,
        // What was bled or programmed is so until it is taken apart again.
        Effect::Lasting => false,
        Effect::Nothing => done.undoes() || matches!(done, Verb::Drain | Verb::Pull | Verb::Discard),
    };
    ends.then_some(false)
}
