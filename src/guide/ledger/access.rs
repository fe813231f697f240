//! Whether a thing can be reached when it is worked on: what stands in front of it must be off. The states
//! of the thing itself are left to `items`.

use super::walk::{Account, Named, audit};
use super::{Discrepancy, Entry, Posting, What};
use crate::guide::names::{Names, Thing};
use crate::guide::variant::{Terms, Variants};
use crate::guide::verb::Verb;

/// Follows, for each item and each thing in front of it, whether that is off when the item is worked on.
pub(super) fn keep(names: Names<'_>, variants: &Variants<'_>, postings: &[Posting<'_>], to: &mut Vec<Discrepancy>) {
    let mut targets: Vec<&str> = postings.iter().flat_map(|posting| &posting.targets).map(|(id, _)| *id).collect();
    targets.sort_unstable();
    targets.dedup();
    for id in targets {
        let Some(Thing::Item(item)) = names.thing(id) else { continue };
        // What lies behind itself is told where the ids are looked up.
        for (number, front) in item.behind.iter().enumerate().filter(|(_, front)| front.value != id) {
            let mut lines = Vec::new();
            // Before work starts, things on the vehicle are in place and parts of the kit are not.
            let (in_place, when) = match names.thing(&front.value) {
                Some(Thing::Item(item)) => (!item.open_at_start, variants.terms(&item.when)),
                Some(Thing::Hardware(hardware)) => (hardware.on_vehicle.is_some(), variants.terms(&hardware.when)),
                Some(Thing::Part(_)) | None => (false, Terms::default()),
            };
            if in_place {
                let entry = Entry { step: 0, operation: 0, span: front.span };
                lines.push(Line { entry, terms: when, does: Does::Puts });
            }
            for posting in postings {
                for &(target, span) in &posting.targets {
                    let verb = posting.operation.verb;
                    let does = match verb {
                        Verb::Discard if target == id => Does::Ends,
                        _ if target == id && verb.needs_access() => Does::Works,
                        Verb::Fit if target == front.value => Does::Puts,
                        Verb::Remove | Verb::Discard if target == front.value => Does::Takes,
                        _ => continue,
                    };
                    // What is not there is told elsewhere; it is neither reached nor in front of anything.
                    let there = match names.thing(target) {
                        Some(Thing::Item(item)) => variants.terms(&item.when),
                        Some(Thing::Part(part)) => variants.terms(&part.when),
                        Some(Thing::Hardware(hardware)) => variants.terms(&hardware.when),
                        None => Terms::default(),
                    };
                    lines.push(Line { entry: posting.entry(span), terms: posting.terms.and(there), does });
                }
            }
            let account = Reach { lines };
            let (faults, complete) = audit(&account, variants);
            for Named { fault, when, more, .. } in faults {
                let entry = Some(account.lines[fault].entry);
                to.push(Discrepancy { what: What::Behind(number), thing: id.to_owned(), entry, other: None, when, more });
            }
            if !complete {
                let entry = account.lines.iter().find(|line| line.does == Does::Works).map(|line| line.entry);
                to.push(Discrepancy {
                    what: What::TooMany,
                    thing: id.to_owned(),
                    entry,
                    other: None,
                    when: vec![Default::default()],
                    more: false,
                });
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Does {
    Puts,
    Takes,
    Works,
    /// The thing behind it is thrown away: nothing is reached any more.
    Ends,
}

struct Line {
    entry: Entry,
    terms: Terms,
    does: Does,
}

struct Reach {
    lines: Vec<Line>,
}

impl Account for Reach {
    /// Whether it stands in front; none once what it hides is thrown away.
    type State = Option<bool>;
    /// The line that works on what it hides.
    type Fault = usize;

    fn start(&self) -> Option<bool> {
        Some(false)
    }

    fn len(&self) -> usize {
        self.lines.len()
    }

    fn terms(&self, posting: usize) -> Terms {
        self.lines[posting].terms
    }

    fn post(&self, posting: usize, state: &mut Option<bool>, found: &mut Vec<(usize, Option<usize>)>) {
        match self.lines[posting].does {
            Does::Puts => *state = state.map(|_| true),
            Does::Takes => *state = state.map(|_| false),
            Does::Ends => *state = None,
            Does::Works => found.extend((*state == Some(true)).then_some((posting, None))),
        }
    }

    fn close(&self, _: &Option<bool>, _: &mut Vec<(usize, Option<usize>)>) {}
}
