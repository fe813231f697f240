//! The raised vehicle: work from below needs it raised, a drive needs it on its wheels.

use super::running::run_of;
use super::{Danger, Deed, Does, Found, Line, Moment, State, Work};
use crate::guide::hazard::{self, Run};
use crate::guide::model::{Item, Text};
use crate::guide::names::Thing;
use crate::guide::verb::Verb;

/// Follows what is reached from below, and the drive.
pub(super) fn keep(work: &Work<'_, '_>, to: &mut Found) {
    let lifts = |moment: &Moment<'_>| match moment.deed {
        Deed::On { operation, thing, .. } => match operation.verb {
            Verb::Raise if hazard::is_vehicle(thing) => Some(Does::Clears),
            Verb::Lower if hazard::is_vehicle(thing) => Some(Does::Spoils),
            _ => None,
        },
        _ => None,
    };
    let raised_at_all = work.moments.iter().any(|moment| lifts(moment) == Some(Does::Clears));
    for &(id, thing) in &work.things {
        let Thing::Item(item) = thing else { continue };
        let named = || hazard::below_by_name(item) || only_from_below_hides(work, item);
        if !item.from_below.unwrap_or_else(|| raised_at_all && named()) {
            continue;
        }
        let mut lines = Vec::new();
        if item.open_at_start {
            lines.push(work.at_start(thing, Does::Opens(0)));
        }
        for moment in &work.moments {
            let mut add = |does| lines.push(Line { entry: moment.entry, terms: moment.terms, does });
            match moment.deed {
                Deed::On { operation, id: target, .. } if target == id => {
                    let looks = matches!(operation.verb, Verb::Inspect | Verb::LookBehind | Verb::Measure);
                    // What is off the vehicle lies on the bench until it goes back on.
                    if operation.verb == Verb::Fit {
                        add(Does::Closes(0));
                    }
                    if operation.verb.needs_access() || looks {
                        add(Does::Works);
                    }
                    if operation.verb == Verb::Remove {
                        add(Does::Opens(0));
                    }
                }
                _ => lifts(moment).into_iter().for_each(add),
            }
        }
        let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
            Does::Clears => (state.clear, state.by) = (true, None),
            Does::Spoils => (state.clear, state.by) = (false, Some(at)),
            Does::Opens(_) => state.open = 1,
            Does::Closes(_) => state.open = 0,
            Does::Works if !state.clear && state.open == 0 => found.push(((at, Danger::NotRaised), state.by)),
            _ => {}
        };
        work.follow(id, lines, &turn, to);
    }
    drive(work, &lifts, to);
}

/// What only an undertray hides is reached where the undertray was. What hides it must say or be named so itself.
fn only_from_below_hides(work: &Work<'_, '_>, item: &Item) -> bool {
    let from_below = |front: &Text| {
        let front = work.names.thing(work.names.meant(&front.value));
        matches!(front, Some(Thing::Item(front)) if front.from_below.unwrap_or_else(|| hazard::below_by_name(front)))
    };
    !item.behind.is_empty() && item.behind.iter().all(from_below)
}

/// Nobody drives a vehicle that stands on the lift.
fn drive(work: &Work<'_, '_>, lifts: &dyn Fn(&Moment<'_>) -> Option<Does>, to: &mut Found) {
    let Some(raised) = work.moments.iter().find_map(|moment| match moment.deed {
        Deed::On { id, .. } if lifts(moment) == Some(Does::Clears) => Some(id),
        _ => None,
    }) else {
        return;
    };
    let lines = work.lines(|moment| run_of(moment).filter(|run| *run == Run::Drive).map(|_| Does::Works).or_else(|| lifts(moment)));
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Clears => (state.clear, state.by) = (true, Some(at)),
        Does::Spoils => (state.clear, state.by) = (false, None),
        Does::Works if state.clear => found.push(((at, Danger::DrivenRaised), state.by)),
        _ => {}
    };
    work.follow(raised, lines, &turn, to);
}
