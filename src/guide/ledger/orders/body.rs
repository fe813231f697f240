//! Drilling and cutting: only after somebody looked behind.

use super::{Danger, Deed, Does, Found, State, Work};
use crate::guide::hazard;
use crate::guide::names::Thing;
use crate::guide::verb::Verb;

/// Follows every part of the body that is drilled or cut. A part of the kit lies on the bench, and what is off the vehicle as well.
pub(super) fn keep(work: &Work<'_, '_>, to: &mut Found) {
    let is_cut = |id: &str, thing: Thing<'_>| {
        matches!(thing, Thing::Item(_)) && work.has(id, |verb| verb == Verb::Drill || verb == Verb::Cut && hazard::is_panel(thing))
    };
    let cut: Vec<Thing<'_>> = work.things.iter().filter(|(id, thing)| is_cut(id, *thing)).map(|(_, thing)| *thing).collect();
    for &(id, thing) in &work.things {
        let Thing::Item(item) = thing else { continue };
        let cuts = |verb: Verb| match verb {
            Verb::Drill => !hazard::is_fastener(thing),
            Verb::Cut => hazard::is_panel(thing),
            _ => false,
        };
        if !work.has(id, cuts) {
            continue;
        }
        let mut lines = Vec::new();
        if item.open_at_start {
            lines.push(work.at_start(thing, Does::Opens(0)));
        }
        lines.extend(work.lines(|moment| {
            let Deed::On { operation, id: target, thing: other, .. } = moment.deed else { return None };
            match operation.verb {
                verb if target == id && cuts(verb) => Some(Does::Works),
                Verb::LookBehind | Verb::Inspect if target == id => Some(Does::Clears),
                // A cable or a hose that is led behind it was led by somebody who saw where.
                Verb::Inspect | Verb::Route if hazard::lies_behind(other) && hazard::behind_this(other, thing, &cut) => Some(Does::Clears),
                Verb::Remove if target == id => Some(Does::Opens(0)),
                Verb::Fit if target == id => Some(Does::Closes(0)),
                Verb::Remove | Verb::Uncover if hazard::is_lining(other) => {
                    item.behind.iter().any(|front| work.names.meant(&front.value) == target).then_some(Does::Clears)
                }
                _ => None,
            }
        }));
        let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
            Does::Clears => state.clear = true,
            Does::Opens(_) => state.open = 1,
            Does::Closes(_) => state.open = 0,
            Does::Works if state.open == 0 => {
                if !state.clear {
                    found.push(((at, Danger::Blind), None));
                }
                // It is told where it begins.
                state.clear = true;
            }
            _ => {}
        };
        work.follow(id, lines, &turn, to);
    }
}
