//! Accounts of hardware and parts: how many are on the vehicle, loose in place, in the tray with what came
//! off, and in the kit. What a thing is connected to or covered by is left to `items`.

use std::collections::BTreeMap;

use super::walk::{Account, Named, audit};
use super::{Discrepancy, Entry, Posting, What};
use crate::guide::model::{Guide, Hardware, Part};
use crate::guide::names::{Names, Thing};
use crate::guide::variant::{Terms, Variants};
use crate::guide::verb::{Moves, Verb};
use crate::source::Span;

/// With more options than this on one sort of hardware, what balances by itself under one option is set aside first.
const FEW_OPTIONS: u32 = 8;

/// Keeps an account for each sort of hardware in use and for each part and hardware of the kit.
pub(super) fn keep(guide: &Guide<'_>, names: Names<'_>, variants: &Variants<'_>, postings: &[Posting<'_>], to: &mut Vec<Discrepancy>) {
    let mut lines: BTreeMap<&str, Vec<Line>> = BTreeMap::new();
    for posting in postings {
        for (id, line) in lines_of(posting, names) {
            lines.entry(id).or_default().push(line);
        }
    }
    let kit = guide.own.parts.rows.iter().map(|part| part.id.as_str()).chain(guide.own.hardware.rows.iter().map(|row| row.id.as_str()));
    for id in kit {
        lines.entry(id).or_default();
    }
    for (id, lines) in lines {
        if guide.uncounted.iter().any(|uncounted| uncounted == id) {
            continue;
        }
        let account = match names.thing(id) {
            Some(Thing::Hardware(hardware)) if !hardware.uncounted => {
                Stock::hardware(hardware, guide.own.hardware.get(id).is_none(), variants.terms(&hardware.when), lines)
            }
            Some(Thing::Part(part)) if !part.uncounted => Stock::part(part, variants.terms(&part.when), lines),
            _ => continue,
        };
        let account = account.with_few_options();
        let (faults, complete) = audit(&account, variants);
        for Named { fault: Fault { what, line }, other, when, more } in faults {
            let entry = line.map(|line| account.lines[line].entry);
            let other = other.map(|other| account.lines[other].entry);
            to.push(Discrepancy { what, thing: id.to_owned(), entry, other, when, more });
        }
        if !complete {
            let entry = account.lines.get(1).map(|line| line.entry);
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

#[derive(Clone, Copy, Debug)]
struct Line {
    entry: Entry,
    verb: Verb,
    moves: Moves,
    count: u32,
    /// Started by hand only.
    by_hand: bool,
    /// Thrown away as it comes off.
    thrown: bool,
    terms: Terms,
}

/// What one operation does to hardware and parts.
fn lines_of<'g>(posting: &Posting<'g>, names: Names<'g>) -> Vec<(&'g str, Line)> {
    let operation = posting.operation;
    let verb = operation.verb;
    let line = |span: Span, moves, count| Line {
        entry: posting.entry(span),
        verb,
        moves,
        count,
        by_hand: operation.by_hand,
        thrown: operation.discard_hardware,
        terms: posting.terms,
    };
    let mut lines = Vec::new();
    for named in &operation.hardware {
        lines.push((names.meant(&named.id.value), line(named.span, verb.moves(), named.count)));
    }
    let count = operation.count.map_or(1, |count| count.value);
    for &(id, span) in &posting.targets {
        // `tighten = "seat-bolt", hardware = "4 x seat-bolt"` speaks of the same four bolts.
        let named = operation.hardware.iter().any(|named| names.meant(&named.id.value) == id);
        match names.thing(id) {
            // `discard_hardware` speaks of the hardware, not of the part that it held.
            Some(Thing::Part(_)) => lines.push((id, Line { thrown: false, ..line(span, verb.moves(), count) })),
            Some(Thing::Hardware(_)) if !named => lines.push((id, line(span, verb.moves(), count))),
            _ => {}
        }
    }
    lines
}

/// One sort of hardware, or one part.
struct Stock {
    /// The first line brings it there; the others are operations.
    lines: Vec<Line>,
    on_vehicle: u32,
    supplied: u32,
    spare: u32,
    is_part: bool,
    one_use: bool,
    /// Whether any number can be taken: from the shop's shelf, or because no number is stated.
    shelf: bool,
    /// Whether it is stated how many are on the vehicle.
    counted: bool,
    /// Whether a later operation tightens what was started by hand.
    tightened: bool,
}

impl Stock {
    fn hardware(hardware: &Hardware, shared: bool, there: Terms, lines: Vec<Line>) -> Stock {
        let stated = |count: &Option<crate::source::Spanned<u32>>| count.map_or(0, |count| count.value);
        let unstated = hardware.supplied.is_none() && hardware.on_vehicle.is_none();
        Stock {
            tightened: lines.iter().any(|line| line.moves == Moves::Tightens),
            lines: with_start(lines, there, hardware.id.span),
            on_vehicle: stated(&hardware.on_vehicle),
            supplied: stated(&hardware.supplied),
            spare: stated(&hardware.spare),
            is_part: false,
            one_use: hardware.one_use,
            shelf: shared || unstated,
            counted: hardware.on_vehicle.is_some() || !(shared || unstated),
        }
    }

    fn part(part: &Part, there: Terms, lines: Vec<Line>) -> Stock {
        Stock {
            lines: with_start(lines, there, part.id.span),
            on_vehicle: 0,
            supplied: part.supplied.map_or(1, |count| count.value),
            spare: part.spare.map_or(0, |count| count.value),
            is_part: true,
            one_use: false,
            shelf: false,
            counted: true,
            tightened: false,
        }
    }

    /// Sets aside the lines of conditions under which everything that comes off goes back on: they change nothing for the others.
    fn with_few_options(mut self) -> Stock {
        let options = self.lines.iter().fold(0, |all, line| all | line.terms.options());
        if options.count_ones() <= FEW_OPTIONS {
            return self;
        }
        // Only sound if the vehicle has enough for all conditions at once.
        let (mut off, mut most_off) = (0u32, 0u32);
        for line in &self.lines[1..] {
            match line.moves {
                Moves::Off | Moves::Loosens => off = off.saturating_add(line.count),
                Moves::On | Moves::Tightens => off = off.saturating_sub(line.count),
                _ => {}
            }
            most_off = most_off.max(off);
        }
        if self.counted && most_off > self.on_vehicle {
            return self;
        }
        let mut conditions: Vec<Terms> = self.lines[1..].iter().map(|line| line.terms).filter(|terms| terms.options() != 0).collect();
        conditions.dedup();
        conditions.retain(|terms| balances(self.lines[1..].iter().filter(|line| line.terms == *terms)));
        let first = self.lines[0];
        self.lines.retain(|line| !conditions.contains(&line.terms) || line.entry == first.entry);
        self
    }
}

/// Whether these lines take off and put back, or loosen and tighten, the same hardware and touch nothing else.
fn balances<'l>(lines: impl Iterator<Item = &'l Line>) -> bool {
    let (mut tray, mut loose) = (0u32, 0u32);
    for line in lines {
        match line.moves {
            Moves::Off if !line.thrown && loose == 0 => tray += line.count,
            Moves::On if !line.by_hand && line.count <= tray => tray -= line.count,
            Moves::Loosens => loose += line.count,
            Moves::Tightens if line.count <= loose => loose -= line.count,
            _ => return false,
        }
    }
    tray == 0 && loose == 0
}

fn with_start(mut lines: Vec<Line>, there: Terms, span: Span) -> Vec<Line> {
    let entry = Entry { step: usize::MAX, operation: 0, span };
    let start = Line { entry, verb: Verb::Inspect, moves: Moves::Nothing, count: 0, by_hand: false, thrown: false, terms: there };
    lines.insert(0, start);
    lines
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Fault {
    /// The operation; none where the thing's own definition is told.
    line: Option<usize>,
    what: What,
}

#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    there: bool,
    vehicle: u32,
    /// Of those on the vehicle, how many are loose.
    loose: u32,
    /// Of what must not be used again, how many were loosened in place.
    undone: u32,
    /// Came off and is kept.
    tray: u32,
    kit: u32,
    fitted: bool,
    /// A part that is laid, connected or put on otherwise than by fitting it.
    used: bool,
    taken_off_by: Option<usize>,
    loosened_by: Option<usize>,
    thrown_by: Option<usize>,
}

impl Account for Stock {
    type State = State;
    type Fault = Fault;

    fn start(&self) -> State {
        State::default()
    }

    fn len(&self) -> usize {
        self.lines.len()
    }

    fn terms(&self, posting: usize) -> Terms {
        self.lines[posting].terms
    }

    fn post(&self, posting: usize, state: &mut State, found: &mut Vec<(Fault, Option<usize>)>) {
        if posting == 0 {
            *state = State { there: true, vehicle: self.on_vehicle, kit: self.supplied, ..State::default() };
            return;
        }
        let line = self.lines[posting];
        let wanted = line.count;
        let mut fault = |what, other| found.push((Fault { line: Some(posting), what }, other));
        if !state.there {
            fault(What::NotThere(line.verb), None);
            return;
        }
        // Of a part, only fitting and removing are counted; laying or connecting it uses it up.
        if self.is_part && !matches!(line.verb, Verb::Fit | Verb::Remove | Verb::Insert | Verb::Pull | Verb::Discard) {
            state.used |= line.moves == Moves::On;
            return;
        }
        let too_few = self.counted && state.vehicle < wanted;
        match line.moves {
            Moves::On => {
                if let Some(what) = self.take(wanted, state) {
                    fault(what, state.thrown_by.filter(|_| matches!(what, What::ThrownAway { .. })));
                }
                state.vehicle = state.vehicle.saturating_add(wanted);
                state.fitted = true;
                if line.by_hand && self.tightened {
                    state.loose = state.loose.saturating_add(wanted);
                    state.loosened_by = Some(posting);
                }
            }
            Moves::Off => {
                if too_few {
                    fault(What::NotOnVehicle { wanted, there: state.vehicle }, None);
                }
                state.vehicle = state.vehicle.saturating_sub(wanted);
                state.loose = state.loose.saturating_sub(wanted);
                state.undone = state.undone.saturating_sub(wanted);
                if line.thrown {
                    state.thrown_by = Some(posting);
                } else {
                    state.tray = state.tray.saturating_add(wanted);
                    state.taken_off_by = Some(posting);
                }
            }
            Moves::Loosens | Moves::Tightens => {
                if too_few {
                    fault(What::NotOnVehicle { wanted, there: state.vehicle }, None);
                }
                if line.moves == Moves::Loosens {
                    let loose = state.loose.saturating_add(wanted);
                    state.loose = if self.counted { loose.min(state.vehicle) } else { loose };
                    state.loosened_by = Some(posting);
                    if self.one_use {
                        state.undone = state.undone.saturating_add(wanted);
                    }
                } else {
                    let again = wanted.min(state.undone);
                    if again > 0 {
                        fault(What::UsedAgain(again), None);
                        state.undone -= again;
                    }
                    state.loose = state.loose.saturating_sub(wanted);
                }
            }
            Moves::Away => {
                let from_tray = wanted.min(state.tray);
                let from_kit = (wanted - from_tray).min(state.kit);
                let rest = wanted - from_tray - from_kit;
                if rest > state.vehicle && self.counted {
                    fault(What::NotInStock { wanted, there: from_tray + from_kit + state.vehicle }, None);
                }
                state.tray -= from_tray;
                state.kit -= from_kit;
                state.vehicle = state.vehicle.saturating_sub(rest);
                state.loose = state.loose.min(state.vehicle);
                state.thrown_by = Some(posting);
            }
            Moves::Nothing => {}
        }
    }

    fn close(&self, state: &State, found: &mut Vec<(Fault, Option<usize>)>) {
        if !state.there {
            return;
        }
        if let Some(line) = state.loosened_by.filter(|_| state.loose > 0) {
            found.push((Fault { line: Some(line), what: What::LeftLoose(state.loose) }, None));
        }
        if let Some(line) = state.taken_off_by.filter(|_| state.tray > 0 && !self.one_use) {
            found.push((Fault { line: Some(line), what: What::LeftOver(state.tray) }, None));
        }
        let left = state.kit.saturating_sub(self.spare);
        if left > 0 && !state.used {
            let what = if self.is_part && !state.fitted { What::NeverFitted(left) } else { What::LeftInKit(left) };
            found.push((Fault { line: None, what }, None));
        }
    }
}

impl Stock {
    /// Takes what is put on: first what came off, then new ones. Says so if there are not enough.
    fn take(&self, wanted: u32, state: &mut State) -> Option<What> {
        let from_tray = if self.one_use { 0 } else { wanted.min(state.tray) };
        let from_kit = (wanted - from_tray).min(state.kit);
        state.tray -= from_tray;
        state.kit -= from_kit;
        let there = from_tray + from_kit;
        let rest = wanted - there;
        if rest == 0 || self.shelf {
            return None;
        }
        Some(if self.one_use && state.tray > 0 {
            let again = rest.min(state.tray);
            state.tray -= again;
            What::UsedAgain(again)
        } else if state.thrown_by.is_some() && self.supplied == 0 {
            What::ThrownAway { wanted, there }
        } else if self.supplied > 0 || self.is_part {
            What::NotInKit { wanted, there }
        } else {
            What::NotInStock { wanted, there }
        })
    }
}
