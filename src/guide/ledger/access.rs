//! Whether a thing can be reached when it is worked on: what stands in front of it must be off. The states
//! of the thing itself are left to `items`.

use super::walk::{Account, audit};
use super::{Discrepancy, Entry, Posting, What};
use crate::guide::names::{Names, Thing};
use crate::guide::variant::{Terms, Variants};
use crate::guide::verb::Verb;

/// A thing has few others in front of it; the review says so where further ones are not looked at.
const MOST_IN_FRONT: usize = 60;
/// Set once the thing itself is thrown away: nothing is reached any more.
const GONE: u64 = 1 << 63;

/// Follows, for each item with something in front of it, what is off when it is worked on.
pub(super) fn keep(names: Names<'_>, variants: &Variants<'_>, postings: &[Posting<'_>], to: &mut Vec<Discrepancy>) {
    let mut targets: Vec<&str> =
        postings.iter().flat_map(|posting| &posting.operation.targets).map(|target| target.value.as_str()).collect();
    targets.sort_unstable();
    targets.dedup();
    for id in targets {
        let Some(Thing::Item(item)) = names.thing(id) else { continue };
        if item.behind.is_empty() {
            continue;
        }
        let mut lines = Vec::new();
        for (at, front) in item.behind.iter().take(MOST_IN_FRONT).enumerate() {
            let bit = 1u64 << at;
            // Before work starts, things on the vehicle are in place and parts of the kit are not.
            let (in_place, when) = match names.thing(&front.value) {
                Some(Thing::Item(item)) => (!item.open_at_start, variants.terms(&item.when)),
                Some(Thing::Hardware(hardware)) => (hardware.on_vehicle.is_some(), variants.terms(&hardware.when)),
                Some(Thing::Part(_)) | None => (false, Terms::default()),
            };
            if in_place {
                let entry = Entry { step: 0, operation: 0, span: front.span };
                lines.push(Line { entry, terms: when, does: Does::Puts(bit) });
            }
        }
        for posting in postings {
            for target in &posting.operation.targets {
                let verb = posting.operation.verb;
                // What is not there is told elsewhere; it is neither reached nor in front of anything.
                let there = match names.thing(&target.value) {
                    Some(Thing::Item(item)) => variants.terms(&item.when),
                    Some(Thing::Part(part)) => variants.terms(&part.when),
                    Some(Thing::Hardware(hardware)) => variants.terms(&hardware.when),
                    None => Terms::default(),
                };
                let line = |does| Line { entry: posting.entry(target.span), terms: posting.terms.and(there), does };
                if target.value == id && verb == Verb::Discard {
                    lines.push(line(Does::Puts(GONE)));
                } else if target.value == id && verb.needs_access() {
                    lines.push(line(Does::Works));
                }
                let Some(at) = item.behind.iter().take(MOST_IN_FRONT).position(|front| front.value == target.value) else { continue };
                match verb {
                    Verb::Fit => lines.push(line(Does::Puts(1 << at))),
                    Verb::Remove | Verb::Discard => lines.push(line(Does::Takes(1 << at))),
                    _ => {}
                }
            }
        }
        let account = Reach { lines };
        let (faults, complete) = audit(&account, variants);
        for (Fault { line, front }, when) in faults {
            let entry = Some(account.lines[line].entry);
            to.push(Discrepancy { what: What::Behind(front), thing: id.to_owned(), entry, other: None, when });
        }
        if !complete || item.behind.len() > MOST_IN_FRONT {
            let entry = account.lines.iter().find(|line| line.does == Does::Works).map(|line| line.entry);
            to.push(Discrepancy { what: What::TooMany, thing: id.to_owned(), entry, other: None, when: vec![Default::default()] });
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Does {
    Puts(u64),
    Takes(u64),
    Works,
}

struct Line {
    entry: Entry,
    terms: Terms,
    does: Does,
}

struct Reach {
    lines: Vec<Line>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Fault {
    line: usize,
    front: usize,
}

impl Account for Reach {
    /// What stands in front, a bit each.
    type State = u64;
    type Fault = Fault;

    fn start(&self) -> u64 {
        0
    }

    fn len(&self) -> usize {
        self.lines.len()
    }

    fn terms(&self, posting: usize) -> Terms {
        self.lines[posting].terms
    }

    fn post(&self, posting: usize, state: &mut u64, found: &mut Vec<Fault>) {
        match self.lines[posting].does {
            Does::Puts(bit) => *state |= bit,
            Does::Takes(bit) => *state &= !bit,
            Does::Works if *state != 0 && *state & GONE == 0 => {
                found.push(Fault { line: posting, front: state.trailing_zeros() as usize });
            }
            Does::Works => {}
        }
    }

    fn close(&self, _: &u64, _: &mut Vec<Fault>) {}
}
