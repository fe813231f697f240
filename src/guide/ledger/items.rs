//! Accounts of things on the vehicle and of connections of any thing: fitted or off, connected or apart,
//! tight or loose, full or empty, capped, covered, raised, switched. Counts are left to `stock`.

use std::collections::BTreeMap;

use super::walk::{Account, Named, audit};
use super::{Discrepancy, Entry, Posting, What};
use crate::guide::model::Guide;
use crate::guide::names::{Names, Thing};
use crate::guide::variant::{Terms, Variants};
use crate::guide::verb::{Effect, Verb};

/// Names the account that only asks whether a thing is there: the last of the verbs, which opens nothing.
const PRESENCE: Verb = Verb::Test;

/// Keeps an account for each thing and each way in which it can be open.
pub(super) fn keep(guide: &Guide<'_>, names: Names<'_>, variants: &Variants<'_>, postings: &[Posting<'_>], to: &mut Vec<Discrepancy>) {
    // The opening verb names the way: `remove` for off and on, `cap` for capped and not.
    let mut accounts: BTreeMap<(&str, Verb), Vec<Line>> = BTreeMap::new();
    for posting in postings {
        for &(id, span) in &posting.targets {
            let verb = posting.operation.verb;
            let line = Line { entry: posting.entry(span), verb, terms: posting.terms };
            match (verb.effect(), verb) {
                (Effect::Opens(_), _) => accounts.entry((id, verb)).or_default().push(line),
                (Effect::Closes(opening), _) => accounts.entry((id, opening)).or_default().push(line),
                // Whatever else is done with a thing, it must be there.
                _ => accounts.entry((id, PRESENCE)).or_default().push(line),
            }
        }
    }
    // What is open before work starts is there to be closed, even if no operation touches it.
    for item in guide.own.items.rows.iter().filter(|item| item.open_at_start && item.stays.is_none()) {
        let id = item.id.as_str();
        let ways = [Verb::Remove, Verb::Disconnect, Verb::Loosen, Verb::Drain, Verb::Pull];
        if item.connector {
            accounts.entry((id, Verb::Disconnect)).or_default();
        } else if !ways.iter().any(|way| accounts.contains_key(&(id, *way))) {
            accounts.entry((id, Verb::Remove)).or_default();
        }
    }
    for posting in postings.iter().filter(|posting| posting.operation.verb == Verb::Discard) {
        for &(id, span) in &posting.targets {
            let line = Line { entry: posting.entry(span), verb: Verb::Discard, terms: posting.terms };
            for ((_, _), lines) in accounts.range_mut((id, Verb::Remove)..(id, PRESENCE)) {
                lines.push(line);
                lines.sort_by_key(|line| line.entry);
            }
        }
    }
    for ((id, opening), mut lines) in accounts {
        let Some(thing) = names.thing(id) else { continue };
        let Some(ways) = Ways::of(thing, opening) else { continue };
        let there = match thing {
            Thing::Item(item) => variants.terms(&item.when),
            Thing::Part(part) => variants.terms(&part.when),
            Thing::Hardware(hardware) => variants.terms(&hardware.when),
        };
        // Being there is the first posting, so that it is settled before anything is done.
        let entry = lines.first().map_or(Entry { step: usize::MAX, operation: 0, span: thing.id().span }, |line| line.entry);
        lines.insert(0, Line { entry, verb: opening, terms: there });
        let account = Item { lines, ways };
        let (faults, complete) = audit(&account, variants);
        for Named { fault: Fault { what, line }, other, when, more } in faults {
            let entry = (line > 0).then(|| account.lines[line].entry);
            let other = other.map(|other| account.lines[other].entry);
            to.push(Discrepancy { what, thing: id.to_owned(), entry, other, when, more });
        }
        if !complete {
            let entry = Some(account.lines[0].entry);
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

#[derive(Clone, Copy)]
struct Line {
    entry: Entry,
    verb: Verb,
    terms: Terms,
}

/// How a thing stands before work starts, and what is asked of it at the end.
#[derive(Clone, Copy)]
struct Ways {
    opening: Verb,
    /// Whether it is open at first; none if the first operation shows it.
    open: Option<bool>,
    /// Whether opening what is open, or closing what is closed, is a fault.
    strict: bool,
    /// Whether it must end as it began.
    owed: bool,
    /// Whether it must be closed even if nothing is done with it: a thing on the vehicle that is open at the start.
    kept: bool,
    /// Whether it need not get back what it came with: the cap or cover of a part.
    bare: bool,
}

impl Ways {
    /// The ways of a thing; none where its counts say it all.
    fn of(thing: Thing<'_>, opening: Verb) -> Option<Ways> {
        // These begin as the opposite of the first operation: a reservoir is uncapped and capped, a cut line capped and uncapped.
        let either = opening.first_opens();
        match thing {
            Thing::Hardware(_) => None,
            _ if opening == PRESENCE => Some(Ways { opening, open: None, strict: false, owed: false, kept: false, bare: false }),
            Thing::Part(_) if matches!(opening, Verb::Remove | Verb::Pull) => None,
            // A part of the kit is apart, loose and empty until it is fitted; tightening or filling it is never wrong, and what was
            // undone on it is done up again. A part that comes with a cap or cover on need not get it back.
            Thing::Part(_) if either => Some(Ways { opening, open: None, strict: false, owed: true, kept: false, bare: true }),
            Thing::Part(_) => {
                Some(Ways { opening, open: Some(true), strict: opening == Verb::Disconnect, owed: true, kept: false, bare: false })
            }
            Thing::Item(item) => {
                // Off, apart, loose or empty says nothing about standing on the ground or running.
                let open = (!either).then_some(item.open_at_start && !matches!(opening, Verb::Raise | Verb::Start | Verb::Hold));
                Some(Ways { opening, open, strict: true, owed: item.stays.is_none(), kept: item.open_at_start, bare: false })
            }
        }
    }
}

struct Item {
    /// The first line tells whether the thing is there; the others are operations.
    lines: Vec<Line>,
    ways: Ways,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Fault {
    line: usize,
    what: What,
}

#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    there: bool,
    /// Closed, open, or not known yet.
    open: Option<bool>,
    /// How it was at the start, once that is known.
    began_open: Option<bool>,
    /// The operation that put it into this state.
    by: Option<usize>,
    /// The operation that threw it away.
    gone: Option<usize>,
}

impl Account for Item {
    type State = State;
    type Fault = Fault;

    fn start(&self) -> State {
        State { open: self.ways.open, began_open: self.ways.open, ..State::default() }
    }

    fn len(&self) -> usize {
        self.lines.len()
    }

    fn terms(&self, posting: usize) -> Terms {
        self.lines[posting].terms
    }

    fn post(&self, posting: usize, state: &mut State, found: &mut Vec<(Fault, Option<usize>)>) {
        if posting == 0 {
            state.there = true;
            return;
        }
        let Line { verb, .. } = self.lines[posting];
        let mut fault = |what, other| found.push((Fault { line: posting, what }, other));
        if !state.there {
            fault(What::NotThere(verb), None);
            return;
        }
        if let Some(by) = state.gone {
            fault(What::Gone(verb), Some(by));
            return;
        }
        if verb == Verb::Discard {
            state.gone = Some(posting);
            return;
        }
        if self.ways.opening == PRESENCE {
            return;
        }
        let opens = verb == self.ways.opening;
        // Tightening what is tight is a check and no fault.
        let harmless = verb == Verb::Tighten || !self.ways.strict;
        match state.open {
            None => state.began_open = Some(!opens),
            Some(open) if open == opens && !harmless => {
                let what = if opens { What::OpenAlready(verb) } else { What::NotOpen(verb) };
                fault(what, state.by);
            }
            Some(_) => {}
        }
        state.open = Some(opens);
        state.by = Some(posting);
    }

    fn close(&self, state: &State, found: &mut Vec<(Fault, Option<usize>)>) {
        if !self.ways.owed || state.gone.is_some() {
            return;
        }
        let Some(by) = state.by else {
            if let (true, Some(true), Some(closing)) = (state.there, self.ways.open, self.ways.opening.inverse())
                && self.ways.kept
            {
                found.push((Fault { line: 0, what: What::NeverClosed(closing) }, None));
            }
            return;
        };
        if self.ways.bare && state.began_open == Some(true) {
            return;
        }
        // What can be either way ends as it began.
        let wrong = match self.ways.open {
            Some(_) => self.lines[by].verb == self.ways.opening,
            None => state.open != state.began_open,
        };
        if wrong {
            found.push((Fault { line: by, what: What::LeftOpen(self.lines[by].verb) }, None));
        }
    }
}
