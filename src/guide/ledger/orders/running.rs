//! Circuits of fluids and gases, and the engine: what is hot or under pressure is opened when it is no more, and the engine runs when
//! everything is filled, closed and checked.

use super::{Danger, Deed, Does, Found, Moment, State, Work};
use crate::guide::hazard::{self, Run};
use crate::guide::model::Step;
use crate::guide::names::Thing;
use crate::guide::verb::Verb;
use crate::quantity::Dimension;

/// Shorter waits let nothing cool: ten minutes, by common practice.
const COOLING: u32 = 600;

/// Follows every circuit and the engine.
pub(super) fn keep(work: &Work<'_, '_>, to: &mut Found) {
    for &(id, thing) in &work.things {
        if work.has(id, |verb| verb == Verb::Cap) && work.has(id, |verb| verb == Verb::Connect) {
            capped(work, id, to);
        }
        if let Thing::Item(item) = thing {
            if !item.open_at_start {
                opened(work, (id, thing), to);
            }
            open_while_running(work, (id, thing), to);
        }
        filled(work, (id, thing), to);
        level(work, (id, thing), to);
    }
}

/// What the moment makes the engine do.
pub(super) fn run_of(moment: &Moment<'_>) -> Option<Run> {
    match moment.deed {
        Deed::Run(run) => Some(run),
        Deed::On { operation, thing, .. } => match operation.verb {
            Verb::RoadTest => Some(Run::Drive),
            Verb::Start => hazard::is_engine(thing).then_some(Run::Engine),
            _ => None,
        },
        Deed::Wait { .. } => None,
    }
}

/// A circuit is opened cold, and without pressure.
fn opened(work: &Work<'_, '_>, (id, thing): (&str, Thing<'_>), to: &mut Found) {
    let (hot, pressed) = (hazard::has_mark(thing, "hot"), hazard::pressed(thing));
    if !hot && pressed.is_empty() {
        return;
    }
    let same = |other: Thing<'_>| pressed.iter().any(|mark| hazard::has_mark(other, mark));
    let speaks_of = |step: &Step<'_>| {
        let targets = step.operations.iter().flat_map(|operation| &operation.targets);
        let mut named = targets.chain(step.prose.references.iter().map(|reference| &reference.id)).map(|id| work.names.meant(&id.value));
        !hot && named.any(|other| other == id || work.names.thing(other).is_some_and(same))
    };
    let lines = work.lines(|moment| match moment.deed {
        // The pressure of a rail falls while a step waits for it; another step's wait says nothing of it.
        Deed::Wait { step, .. } if speaks_of(step) => Some(Does::Releases),
        Deed::Wait { seconds, .. } if seconds >= COOLING => Some(Does::Clears),
        _ if run_of(moment).is_some() => Some(Does::Spoils),
        Deed::On { step, operation, id: target, thing: other } => {
            let of = |dimension| {
                let specs = operation.specs.iter().chain(&step.specs).filter_map(|spec| work.names.spec(&spec.value));
                specs.into_iter().any(|spec| hazard::measures(spec, dimension))
            };
            match operation.verb {
                Verb::Measure if of(Dimension::Temperature) || hazard::has_mark(other, "hot") => Some(Does::Clears),
                Verb::Measure if of(Dimension::Pressure) && (target == id || same(other)) => Some(Does::Releases),
                Verb::Release if target == id || same(other) => Some(Does::Releases),
                Verb::SwitchOff | Verb::Disconnect if target != id && is_gas_tap(other) && hazard::has_mark(thing, "gas") => {
                    Some(Does::Releases)
                }
                Verb::Disconnect | Verb::Remove | Verb::Loosen | Verb::Uncap | Verb::Cut | Verb::Drill if target == id => Some(Does::Works),
                // Draining lets the pressure out; what is hot and under pressure as well scalds in doing so.
                Verb::Drain if target == id && hot && !pressed.is_empty() => Some(Does::Works),
                Verb::Drain | Verb::Uncap if same(other) => Some(Does::Releases),
                // What is done to its caps from now on opens a line that is open already.
                Verb::Cap if target == id => Some(Does::Closes(0)),
                _ => None,
            }
        }
        _ => None,
    });
    let cold = hazard::cold_at_start(work.guide);
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Clears => state.clear = true,
        Does::Releases => state.released = true,
        Does::Spoils => *state = State { open: 1, by: Some(at), ..State::default() },
        // Before work starts it is as the guide says, cold or not; the engine has not run yet.
        Does::Closes(_) => (state.clear, state.released) = (true, true),
        Does::Works => {
            let cold = cold && state.open == 0;
            if hot && !state.clear && !cold {
                found.push(((at, Danger::Hot), state.by));
            } else if !pressed.is_empty() && !state.released && !(hot && (state.clear || cold)) {
                found.push(((at, Danger::Pressed), state.by));
            }
            // It is told where it is opened first.
            (state.clear, state.released) = (true, true);
        }
        _ => {}
    };
    work.follow(id, lines, &turn, to);
}

/// What is connected has its cap or plug out.
fn capped(work: &Work<'_, '_>, id: &str, to: &mut Found) {
    let lines = work.lines(|moment| match moment.deed {
        Deed::On { operation, id: target, .. } if target == id => match operation.verb {
            Verb::Cap => Some(Does::Opens(0)),
            Verb::Uncap => Some(Does::Closes(0)),
            Verb::Connect => Some(Does::Works),
            _ => None,
        },
        _ => None,
    });
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Opens(_) => (state.open, state.by) = (1, Some(at)),
        Does::Closes(_) => state.open = 0,
        Does::Works if state.open == 1 => found.push(((at, Danger::Capped), state.by)),
        _ => {}
    };
    work.follow(id, lines, &turn, to);
}

/// Whether it shuts a gas off.
fn is_gas_tap(thing: Thing<'_>) -> bool {
    matches!(thing, Thing::Item(item) if hazard::isolates(item, "gas") || hazard::has_mark(thing, "gas"))
}

/// What was drained is filled before the engine runs.
fn filled(work: &Work<'_, '_>, (id, thing): (&str, Thing<'_>), to: &mut Found) {
    if !work.has(id, |verb| verb == Verb::Fill) || !hazard::is_working_fluid(thing) {
        return;
    }
    let fills =
        |moment: &Moment<'_>| matches!(moment.deed, Deed::On { operation, id: target, .. } if target == id && operation.verb == Verb::Fill);
    let mut lines = Vec::new();
    if matches!(thing, Thing::Part(_)) || matches!(thing, Thing::Item(item) if item.open_at_start) {
        lines.push(work.at_start(thing, Does::Opens(0)));
    }
    lines.extend(work.lines(|moment| match moment.deed {
        _ if fills(moment) => Some(Does::Follows),
        Deed::On { operation, id: target, .. } if target == id && operation.verb == Verb::Drain => Some(Does::Opens(0)),
        _ => run_of(moment).map(|_| Does::Works),
    }));
    follow_open(work, id, lines, Danger::Dry, to);
}

/// What carries fuel, pressure or a fluid is closed before the engine runs.
fn open_while_running(work: &Work<'_, '_>, (id, thing): (&str, Thing<'_>), to: &mut Found) {
    const CARRY: &[&str] = &["fuel", "gas", "pressure", "brakes", "steering", "refrigerant"];
    let carries = CARRY.iter().any(|mark| hazard::has_mark(thing, mark));
    let held = hazard::has_mark(thing, "restraint");
    if !carries && !held {
        return;
    }
    let mut lines = Vec::new();
    if matches!(thing, Thing::Item(item) if item.open_at_start) {
        lines.push(work.at_start(thing, Does::Opens(0)));
    }
    lines.extend(work.lines(|moment| match moment.deed {
        Deed::On { operation, id: target, .. } if target == id => match operation.verb {
            Verb::Remove | Verb::Disconnect | Verb::Loosen => Some(Does::Opens(0)),
            Verb::Fit | Verb::Connect | Verb::Tighten => Some(Does::Follows),
            _ => None,
        },
        // A seat belt matters on the road only.
        _ => run_of(moment).filter(|run| carries || *run == Run::Drive).map(|_| Does::Works),
    }));
    follow_open(work, id, lines, Danger::RunsOpen, to);
}

/// Tells a run while something is open that is closed later.
fn follow_open(work: &Work<'_, '_>, id: &str, lines: Vec<super::Line>, danger: Danger, to: &mut Found) {
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Opens(_) => state.open = 1,
        // Of several runs the first is the one that was too early.
        Does::Works if state.open == 1 && state.by.is_none() => state.by = Some(at),
        Does::Follows => {
            found.extend(state.by.filter(|_| state.open == 1).map(|run| ((run, danger), Some(at))));
            (state.open, state.by) = (0, None);
        }
        _ => {}
    };
    work.follow(id, lines, &turn, to);
}

/// A level is checked after the last filling and before the vehicle is driven.
fn level(work: &Work<'_, '_>, (id, thing): (&str, Thing<'_>), to: &mut Found) {
    let filled = work.has(id, |verb| verb == Verb::Fill);
    if !(hazard::is_level(thing) || filled && hazard::is_working_fluid(thing)) {
        return;
    }
    let lines = work.lines(|moment| match moment.deed {
        Deed::On { step, operation, id: target, thing: other } => {
            if target == id && hazard::reads_level(step, operation, thing, work.names) {
                return Some(Does::Follows);
            }
            if operation.verb == Verb::RoadTest {
                return Some(Does::Works);
            }
            match operation.verb {
                Verb::Fill if target == id => Some(Does::Spoils),
                // A level that is looked at as a thing of its own is that of the fluid.
                Verb::Measure | Verb::Inspect if filled && hazard::is_level(other) => Some(Does::Clears),
                _ => None,
            }
        }
        _ => run_of(moment).filter(|run| *run == Run::Drive).map(|_| Does::Works),
    });
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
        Does::Spoils => (state.clear, state.by) = (false, None),
        Does::Clears => state.clear = true,
        Does::Works if !state.clear && state.by.is_none() => state.by = Some(at),
        Does::Follows => {
            found.extend(state.by.filter(|_| !state.clear).map(|drive| ((drive, Danger::LevelLate), Some(at))));
            (state.clear, state.by) = (true, None);
        }
        _ => {}
    };
    work.follow(id, lines, &turn, to);
}
