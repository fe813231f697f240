//! The raised vehicle: work from below needs it raised, a drive needs it on its wheels.

use super::running::run_of;
use super::{Danger, Deed, Does, Found, Moment, State, Work};
use crate::guide::hazard::{self, Run};
use crate::guide::model::Text;
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
        let (said, named) = hazard::from_below(item);
        // What only an undertray hides is reached where the undertray was.
        let hidden = |front: &Text| {
            let front = work.names.thing(work.names.meant(&front.value));
            matches!(front, Some(Thing::Item(front)) if hazard::from_below(front) != (false, false))
        };
        let named = named || !item.behind.is_empty() && item.behind.iter().all(hidden);
        if !(said || named && raised_at_all) {
            continue;
        }
        let lines = work.lines(|moment| match moment.deed {
            Deed::On { operation, id: target, .. } if target == id => {
                let looks = matches!(operation.verb, Verb::Inspect | Verb::LookBehind | Verb::Measure);
                (operation.verb.needs_access() || looks).then_some(Does::Works)
            }
            _ => lifts(moment),
        });
        let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
            Does::Clears => (state.clear, state.by) = (true, None),
            Does::Spoils => (state.clear, state.by) = (false, Some(at)),
            Does::Works if !state.clear => found.push(((at, Danger::NotRaised), state.by)),
            _ => {}
        };
        work.follow(id, lines, &turn, to);
    }
    drive(work, &lifts, to);
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
