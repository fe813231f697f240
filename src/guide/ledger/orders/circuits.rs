//! Work on restraint systems, battery circuits and fuses: only with the battery cut off and the wait over; poles in their order; the
//! fuse last. How things are known for what they are stands in `hazard`.

use super::{Danger, Deed, Does, Found, Line, Moment, State, Work, bit, opens};
use crate::guide::hazard;
use crate::guide::model::{Item, Text};
use crate::guide::names::Thing;
use crate::guide::verb::Verb;
use crate::quantity::Dimension;

/// Isolators have the first bits, what stands between source and thing those from here on.
const UPSTREAM: u32 = 16;

/// Follows every thing that must be dead when it is worked on.
pub(super) fn keep(work: &Work<'_, '_>, to: &mut Found) {
    let battery = isolators(work, "battery");
    // On no battery of the vehicle: what the kit brings is dead until its own negative lead is on.
    let negative = |(id, thing): (_, Thing<'_>)| {
        (matches!(thing, Thing::Part(_)) && hazard::pole(thing).is_some_and(|(_, minus)| minus)).then_some(id)
    };
    let kit: Vec<&str> = match battery.is_empty() {
        true => work.things.iter().copied().filter_map(negative).take(UPSTREAM as usize).collect(),
        false => battery.clone(),
    };
    let needed = needed_wait(work);
    for &(id, thing) in &work.things {
        if let Some(danger) = danger_of(work, id, thing) {
            let own;
            let isolators = match danger {
                Live::Circuit(mark) => {
                    own = isolators(work, mark);
                    &own
                }
                // It says nothing of what the vehicle had before.
                Live::Restraint => &battery,
                Live::Battery | Live::Fuse if matches!(thing, Thing::Item(_)) => &battery,
                Live::Battery | Live::Fuse => &kit,
            };
            if !isolators.contains(&id) {
                isolated(work, (id, danger), isolators, needed, to);
            }
        }
        if hazard::is_fuse(thing) {
            fuse_last(work, (id, thing), &kit, to);
        }
    }
    poles(work, to);
}

/// Why a thing must be dead.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Live<'g> {
    Restraint,
    Battery,
    /// A fuse without the mark: in a guide that never connects the battery it may be pulled to make a circuit dead; after that it goes
    /// in and out with the battery off.
    Fuse,
    Circuit(&'g str),
}

fn danger_of<'g>(work: &Work<'_, 'g>, id: &str, thing: Thing<'g>) -> Option<Live<'g>> {
    let marks = marks_of(work, id, thing);
    let marked = |mark: &str| marks.contains(&mark);
    if marked("restraint") {
        return Some(Live::Restraint);
    }
    // Poles have an order of their own.
    let paired = hazard::pole(thing).is_some_and(|(name, minus)| !minus && negative_of(work, &name).is_some());
    // A plug is made to be pulled; what a circuit is bolted together of is not.
    let plug = matches!(thing, Thing::Item(item) if item.connector);
    if (marked("battery") || upstream(work, id).is_some() && !plug) && !paired {
        return Some(Live::Battery);
    }
    if hazard::is_fuse(thing) {
        return Some(Live::Fuse);
    }
    // Without anything to isolate it by, how it is made dead is left to those who are licensed for it.
    let other = marks.into_iter().find(|mark| matches!(*mark, "mains" | "high-voltage"))?;
    (!isolators(work, other).is_empty()).then_some(Live::Circuit(other))
}

/// The marks of a thing; hardware is of a battery circuit where all that it holds is. Bolts of a seat do not fire its airbag.
fn marks_of<'g>(work: &Work<'_, 'g>, id: &str, thing: Thing<'g>) -> Vec<&'g str> {
    let Thing::Hardware(_) = thing else { return thing.marks().iter().map(Text::as_str).collect() };
    let mut held: Option<Vec<&'g str>> = None;
    for moment in &work.moments {
        let Deed::On { operation, id: target, thing, .. } = moment.deed else { continue };
        if target == id || !operation.hardware.iter().any(|named| work.names.meant(&named.id.value) == id) {
            continue;
        }
        let marks = thing.marks().iter().map(Text::as_str).filter(|mark| *mark == "battery");
        held = Some(match held {
            None => marks.collect(),
            Some(held) => held.into_iter().filter(|mark| hazard::has_mark(thing, mark)).collect(),
        });
    }
    held.unwrap_or_default()
}

/// Items that cut a source off, that operations act on or that are off from the start. The battery that starts the engine counts before
/// any other.
fn isolators<'g>(work: &Work<'_, 'g>, mark: &str) -> Vec<&'g str> {
    let worked_on = work.things.iter().copied().filter_map(|(_, thing)| if let Thing::Item(item) = thing { Some(item) } else { None });
    let mut all: Vec<(&str, &Item)> = Vec::new();
    for item in worked_on.chain(work.guide.own.items.rows.iter().filter(|item| item.open_at_start)) {
        if hazard::isolates(item, mark) && !all.iter().any(|(id, _)| *id == item.id.as_str()) {
            all.push((item.id.as_str(), item));
        }
    }
    let keep_if = |all: &mut Vec<(&str, &Item)>, better: &dyn Fn(&Item) -> bool| {
        if all.iter().any(|(_, item)| better(item)) {
            all.retain(|(_, item)| better(item));
        }
    };
    keep_if(&mut all, &|item| !hazard::is_second(item));
    // A battery that is taken out and thrown away cuts nothing off for good: its lead says more.
    keep_if(&mut all, &|item| !hazard::is_battery(Thing::Item(item)));
    let kept = all.into_iter();
    kept.map(|(id, _)| id).take(UPSTREAM as usize).collect()
}

/// The circuits that run through a thing: for each, what its current runs through before.
fn upstream<'g>(work: &Work<'_, 'g>, id: &str) -> Option<Vec<&'g [Text]>> {
    let mut before = Vec::new();
    for circuit in &work.guide.own.circuits.rows {
        if let Some(at) = circuit.through.iter().position(|one| work.names.meant(&one.value) == id) {
            before.push(&circuit.through[..at]);
        }
    }
    (!before.is_empty()).then_some(before)
}

/// The wait that the guide itself gives for restraint systems, in seconds; none if it gives none.
fn needed_wait(work: &Work<'_, '_>) -> Option<u32> {
    let steps = work.guide.steps.iter();
    let ids = steps.flat_map(|step| step.specs.iter().chain(step.operations.iter().flat_map(|operation| &operation.specs)));
    ids.filter_map(|id| work.names.spec(&id.value))
        .filter(|spec| hazard::measures(spec, Dimension::Time))
        .filter(|spec| {
            let mut words = hazard::words(spec.id.as_str());
            words.extend(spec.name.iter().flat_map(|name| hazard::words(name.as_str())));
            let of = |list: &[&str]| words.iter().any(|word| list.contains(&word.as_str()));
            of(&["restraint", "restraints", "airbag", "airbags", "srs", "tensioner"])
                && of(&["wait", "waiting", "disconnection", "isolation"])
        })
        .filter_map(|spec| spec.quantity().map(super::seconds))
        .max()
}

/// Whether the thing is dead whenever it is worked on.
fn isolated(work: &Work<'_, '_>, (id, live): (&str, Live<'_>), isolators: &[&str], needed: Option<u32>, to: &mut Found) {
    let number = |id: &str, of: &[&str]| of.iter().position(|one| *one == id).map(|at| at as u32);
    // What stands between the source and the thing in all circuits that run through it.
    let before = upstream(work, id).unwrap_or_default();
    let common = before.first().copied().unwrap_or_default().iter().map(|one| work.names.meant(&one.value));
    let common: Vec<&str> =
        common.filter(|one| before.iter().all(|others| others.iter().any(|other| work.names.meant(&other.value) == *one))).collect();
    let is_work = |moment: &Moment<'_>| {
        let Deed::On { operation, id: target, thing, .. } = moment.deed else { return false };
        // To set a battery down is no work on its circuit.
        let set_down = live == Live::Battery && operation.verb == Verb::Fit && hazard::is_battery(thing);
        target == id && operation.verb.works_on() && !set_down
    };
    let mut lines = Vec::new();
    for (at, isolator) in isolators.iter().enumerate() {
        let Some(thing) = work.names.thing(isolator).filter(|thing| is_apart(*thing)) else { continue };
        // It was off before the work, and so long that no wait is due.
        lines.push(work.at_start(thing, Does::Opens(at as u32)));
        lines.push(work.at_start(thing, Does::Waits(u32::MAX)));
    }
    for (at, one) in common.iter().enumerate() {
        let Some(thing) = work.names.thing(one) else { continue };
        if is_apart(thing) {
            lines.push(work.at_start(thing, Does::Opens(UPSTREAM + at as u32)));
        }
    }
    lines.extend(work.lines(|moment| match &moment.deed {
        Deed::Wait { seconds, .. } => Some(Does::Waits(*seconds)),
        Deed::Run(_) => None,
        Deed::On { .. } if is_work(moment) => Some(Does::Works),
        Deed::On { operation, id: target, .. } => {
            let number = number(target, isolators).or_else(|| Some(UPSTREAM + number(target, &common)?))?;
            Some(if opens(operation.verb)? { Does::Opens(number) } else { Does::Closes(number) })
        }
    }));
    // Two batteries side by side feed it both.
    let side_by_side: u64 = hazard::side_by_side(isolators.iter().filter_map(|id| work.names.thing(id)))
        .into_iter()
        .filter_map(|id| number(id, isolators))
        .map(bit)
        .fold(0, |all, bit| all | bit);
    let is_off = |open: u64| {
        let alone = open & (bit(UPSTREAM) - 1) & !side_by_side;
        alone != 0 || side_by_side != 0 && open & side_by_side == side_by_side
    };
    let said = hazard::isolated_before(work.guide);
    let never = !lines.iter().any(|line| matches!(line.does, Does::Opens(number) if number < UPSTREAM));
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| {
        match does {
            Does::Opens(number) => {
                let before = is_off(state.open);
                state.open |= bit(number);
                if !before && is_off(state.open) {
                    (state.waited, state.by) = (0, Some(at));
                }
            }
            Does::Closes(number) => {
                let before = is_off(state.open);
                state.open &= !bit(number);
                if before && !is_off(state.open) {
                    (state.waited, state.by) = (0, Some(at));
                }
            }
            Does::Waits(seconds) if is_off(state.open) => state.waited = state.waited.saturating_add(seconds),
            Does::Works => {
                // A restraint system keeps its charge behind its fuse, and is fed by more than one.
                let behind_open = live != Live::Restraint && state.open >> UPSTREAM != 0;
                let danger = if !is_off(state.open) {
                    match live {
                        _ if behind_open => None,
                        Live::Restraint | Live::Battery if never && said => None,
                        Live::Restraint | Live::Battery if never => Some(Danger::NeverIsolated),
                        Live::Restraint => Some(Danger::RestraintLive),
                        Live::Battery => Some(Danger::BatteryLive),
                        Live::Fuse => state.by.map(|_| Danger::BatteryLive),
                        Live::Circuit(_) => Some(Danger::CircuitLive),
                    }
                } else if live != Live::Restraint {
                    None
                } else if state.waited == 0 {
                    Some(Danger::NoWait)
                } else {
                    needed.filter(|needed| state.waited < *needed).map(Danger::ShortWait)
                };
                if matches!(danger, Some(Danger::NoWait | Danger::ShortWait(_))) {
                    // It is told where it begins.
                    state.waited = u32::MAX;
                }
                found.extend(danger.map(|danger| ((at, danger), state.by)));
            }
            _ => {}
        }
    };
    work.follow(id, lines, &turn, to);
}

/// Whether a thing is off or apart before work starts.
fn is_apart(thing: Thing<'_>) -> bool {
    match thing {
        Thing::Part(_) => true,
        Thing::Item(item) => item.open_at_start,
        Thing::Hardware(_) => false,
    }
}

/// The negative pole that belongs to a positive one.
fn negative_of<'g>(work: &Work<'_, 'g>, name: &str) -> Option<(&'g str, Thing<'g>)> {
    work.things.iter().copied().find(|(_, thing)| hazard::pole(*thing).is_some_and(|(other, minus)| minus && other == name))
}

/// Off with the negative pole first, on with it last.
fn poles(work: &Work<'_, '_>, to: &mut Found) {
    for &(id, thing) in &work.things {
        let Some((name, false)) = hazard::pole(thing) else { continue };
        let Some((negative, other)) = negative_of(work, &name) else { continue };
        let mut lines = Vec::new();
        if is_apart(other) {
            lines.push(work.at_start(other, Does::Opens(0)));
        }
        lines.extend(work.lines(|moment| match moment.deed {
            Deed::On { operation, id: target, .. } if target == id => operation.verb.works_on().then_some(Does::Works),
            Deed::On { operation, id: target, .. } if target == negative => {
                Some(if opens(operation.verb)? { Does::Opens(0) } else { Does::Closes(0) })
            }
            _ => None,
        }));
        let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| match does {
            Does::Opens(_) => (state.open, state.by) = (1, None),
            Does::Closes(_) => (state.open, state.by) = (0, Some(at)),
            Does::Works if state.open == 0 => found.push(((at, Danger::PositiveFirst), state.by)),
            _ => {}
        };
        work.follow(id, lines, &turn, to);
    }
}

/// A fuse goes in when everything else of its circuit is in.
fn fuse_last<'g>(work: &Work<'_, 'g>, (id, thing): (&'g str, Thing<'g>), isolators: &[&str], to: &mut Found) {
    let circuits: Vec<Vec<&str>> = work
        .guide
        .own
        .circuits
        .rows
        .iter()
        .map(|circuit| circuit.through.iter().map(|one| work.names.meant(&one.value)).collect::<Vec<_>>())
        .filter(|through| through.contains(&id))
        .collect();
    let things = &work.things;
    let mut others: Vec<&str> = Vec::new();
    let members: Vec<&str> = if circuits.is_empty() {
        // Nobody can tell which fuse belongs to which circuit; but what is done when the last of them is in belongs to one that is in.
        if !hazard::has_mark(thing, "battery") {
            return;
        }
        others = things
            .iter()
            .filter(|(other, thing)| *other != id && hazard::is_fuse(*thing))
            .map(|(other, _)| *other)
            .take(UPSTREAM as usize - 1)
            .collect();
        let of_battery = |(id, thing): &&(&'g str, Thing<'g>)| {
            let of_source = isolators.contains(id) || hazard::is_battery(*thing) || hazard::pole(*thing).is_some();
            marks_of(work, id, *thing).contains(&"battery") && !of_source && !hazard::is_fuse(*thing)
        };
        things.iter().filter(of_battery).map(|(id, _)| *id).collect()
    } else {
        circuits.into_iter().flatten().filter(|other| *other != id && !isolators.contains(other)).collect()
    };
    let mut lines = Vec::new();
    for (at, other) in others.iter().enumerate() {
        if let Some(Thing::Part(part)) = work.names.thing(other) {
            lines.push(work.at_start(Thing::Part(part), Does::Opens(at as u32 + 1)));
        }
    }
    for moment in &work.moments {
        let Deed::On { operation, id: target, .. } = moment.deed else { continue };
        let mut add = |does| lines.push(Line { entry: moment.entry, terms: moment.terms, does });
        let verb = operation.verb;
        if target == id {
            if let Some(opens) = opens(verb) {
                add(if opens { Does::Opens(0) } else { Does::Works });
            }
            continue;
        }
        let named = |one: &str| target == one || operation.hardware.iter().any(|named| work.names.meant(&named.id.value) == one);
        for (at, member) in members.iter().enumerate().filter(|(_, member)| named(member)) {
            let number = UPSTREAM + at as u32;
            // A joint that is tightened once more was done before, unless it was left loose.
            if verb == Verb::Tighten && target == *member {
                add(Does::Tightens(number));
            } else if verb.does_up() && target == *member {
                add(Does::Follows);
            }
            if verb.does_up() || verb.undoes() {
                let loose = operation.by_hand || verb == Verb::Loosen;
                add(if loose { Does::Opens(number) } else { Does::Closes(number) });
            }
        }
        if !members.contains(&target)
            && let Some(at) = others.iter().position(|other| *other == target)
            && let Some(opens) = opens(verb)
        {
            add(if opens { Does::Opens(at as u32 + 1) } else { Does::Closes(at as u32 + 1) });
        }
    }
    let fuses = bit(UPSTREAM) - 1;
    let turn = |does: Does, at: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>| {
        let early = match does {
            Does::Follows => true,
            Does::Tightens(number) => state.open & bit(number) != 0,
            _ => false,
        };
        match does {
            Does::Opens(0) => state.by = None,
            Does::Opens(number) => state.open |= bit(number),
            Does::Closes(number) if number >= UPSTREAM => state.open &= !bit(number),
            // The later fuse is the one that is told.
            Does::Closes(number) => (state.open, state.by) = (state.open & !bit(number), None),
            Does::Works => state.by = Some(at),
            _ if early && state.open & fuses == 0 => found.extend(state.by.map(|fuse| ((fuse, Danger::FuseEarly), Some(at)))),
            _ => {}
        }
    };
    work.follow(id, lines, &turn, to);
}
