//! States that definitions ask for: work on a thing only while, or never while, another is in a state.

use super::{Danger, Deed, Does, Entry, Found, Line, State, Work};
use crate::guide::model::Allowed;
use crate::guide::names::Thing;
use crate::guide::states::turns;
use crate::guide::verb::{Effect, Verb};

/// Follows every `only` and `never`.
pub(super) fn keep(work: &Work<'_, '_>, to: &mut Found) {
    for &(id, thing) in &work.things {
        let (only, never) = thing.allowed();
        for (number, allowed) in only.iter().enumerate() {
            follow(work, id, allowed, (Danger::NotWhile(number), true), to);
        }
        for (number, allowed) in never.iter().enumerate() {
            follow(work, id, allowed, (Danger::While(number), false), to);
        }
    }
}

/// One of them: `asked` is whether the state has to be there.
fn follow(work: &Work<'_, '_>, id: &str, allowed: &Allowed, (danger, asked): (Danger, bool), to: &mut Found) {
    let other = work.names.meant(&allowed.thing.value);
    let Some(thing) = work.names.thing(other) else { return };
    let mut lines = Vec::new();
    // Before anything is done it is known on every vehicle how the other thing stands; where it is not there at all, nothing is asked.
    if at_start(work, other, thing, allowed.state) {
        lines.push(work.at_start(thing, Does::Clears));
    }
    for moment in &work.moments {
        let Deed::On { operation, id: target, .. } = moment.deed else { continue };
        let mut add = |does| lines.push(Line { entry: moment.entry, terms: moment.terms, does });
        // What is done to both in one operation is done at once: the state is that of before.
        if target == id && allowed.verbs.contains(&operation.verb) {
            add(Does::Works);
        }
        if target == other {
            match turns(allowed.state, operation.verb) {
                Some(true) => add(Does::Clears),
                Some(false) => add(Does::Spoils),
                None => {}
            }
        }
    }
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Clears => (state.clear, state.by) = (true, Some(at)),
        Does::Spoils => (state.clear, state.by) = (false, Some(at)),
        Does::Works if state.clear != asked => found.push(((at, danger), state.by)),
        _ => {}
    };
    let before = to.lapses.len();
    work.follow(id, lines, &turn, to);
    // What a thing was before work starts is led to by nothing that anybody did.
    let start = Entry { step: 0, operation: 0, span: thing.id().span };
    to.lapses[before..].iter_mut().filter(|lapse| lapse.other == Some(start)).for_each(|lapse| lapse.other = None);
}

/// Whether a thing is in a state before work starts. Of two that undo each other, where either may come first, it is what the first
/// operation ends.
fn at_start(work: &Work<'_, '_>, id: &str, thing: Thing<'_>, state: Verb) -> bool {
    let open = match thing {
        Thing::Item(item) => item.open_at_start,
        // A part of the kit is off and apart.
        Thing::Part(_) => true,
        Thing::Hardware(_) => false,
    };
    let off = |opening: Verb| matches!(opening, Verb::Remove | Verb::Disconnect | Verb::Loosen | Verb::Drain | Verb::Pull);
    let first = || {
        let of = work.moments.iter().find_map(|moment| match moment.deed {
            Deed::On { operation, id: target, .. } if target == id => turns(state, operation.verb),
            _ => None,
        });
        of == Some(false)
    };
    match state.effect() {
        Effect::Opens(closing) if state.first_opens() || closing.first_opens() => first(),
        Effect::Closes(opening) if state.first_opens() || opening.first_opens() => first(),
        Effect::Opens(_) => off(state) && open,
        Effect::Closes(opening) => !(off(opening) && open),
        Effect::Lasting | Effect::Nothing => false,
    }
}
