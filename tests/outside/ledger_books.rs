//! The books of a guide kept a second time, plainly, from the words of the handbook's chapter "What is
//! opened is closed" alone: every vehicle that can occur goes through the job, one operation after the
//! other. It shares no code with the program; reading and drawing guides is left to others.
//!
//! The chapter names no rules, so a fault is told by the rule whose summary says most about it: too many put
//! on is `one-use-refitted` if some came off before, else `kit-overdrawn` if the kit holds any, else
//! `fitted-but-absent` if some were thrown away, else `hardware-short`. After a fault the operation is trusted.

use std::collections::{BTreeMap, BTreeSet};

use crate::outside::ledger_guide::{Hardware, Name, Op, PAIRS, Plan, Spot, When};

/// Which options a vehicle has.
pub(crate) type Vehicle = Vec<bool>;

/// Every fault with the vehicles that have it.
pub(crate) type Faults = BTreeMap<(&'static str, Spot), BTreeSet<Vehicle>>;

/// Every vehicle that groups and exclusions allow; all of them where nothing is allowed.
pub(crate) fn vehicles(plan: &Plan) -> Vec<Vehicle> {
    let count = plan.options.len();
    let all: Vec<Vehicle> = (0..1usize << count).map(|bits| (0..count).map(|at| bits >> at & 1 == 1).collect()).collect();
    let allowed = |vehicle: &&Vehicle| {
        let groups: BTreeSet<usize> = plan.options.iter().filter_map(|choice| choice.group).collect();
        let one_each =
            groups.iter().all(|group| (0..count).filter(|&at| vehicle[at] && plan.options[at].group == Some(*group)).count() == 1);
        let no_clash = (0..count).all(|at| !vehicle[at] || plan.options[at].not_with.iter().all(|&other| !vehicle[other]));
        one_each && no_clash
    };
    let some: Vec<Vehicle> = all.iter().filter(allowed).cloned().collect();
    if some.is_empty() { all } else { some }
}

/// Whether a condition holds.
fn holds(when: &When, vehicle: &Vehicle) -> bool {
    when.iter().all(|&(option, absent)| vehicle[option] != absent)
}

/// Keeps the books for every vehicle.
pub(crate) fn faults(plan: &Plan) -> Faults {
    let mut found = Faults::new();
    for vehicle in vehicles(plan) {
        for fault in one_vehicle(plan, &vehicle) {
            found.entry(fault).or_default().insert(vehicle.clone());
        }
    }
    found
}

/// One thing and one pair of operations.
#[derive(Clone, Debug, Default)]
struct State {
    open: bool,
    began_open: bool,
    last: Option<Spot>,
}

/// One part of the kit.
#[derive(Clone, Debug, Default)]
struct Pieces {
    kit: u32,
    beside: u32,
    on: u32,
    fitted: bool,
    /// Fitted and not removed since.
    in_place: bool,
    used_up: bool,
    taken_off: Option<Spot>,
}

/// One sort of hardware.
#[derive(Clone, Debug, Default)]
struct Stock {
    shelf: bool,
    kit: u32,
    tray: u32,
    on: u32,
    bin: u32,
    loose: u32,
    /// Of what must not be used again, how many were loosened in place.
    undone: u32,
    loosened: Option<Spot>,
    thrown_away: bool,
    taken_off: Option<Spot>,
}

struct Books<'p> {
    plan: &'p Plan,
    vehicle: &'p Vehicle,
    states: BTreeMap<(Name, usize), State>,
    pieces: Vec<Pieces>,
    stock: Vec<Stock>,
    gone: BTreeSet<Name>,
    /// Fitted although it was thrown away.
    back: BTreeSet<Name>,
    faults: BTreeSet<(&'static str, Spot)>,
}

fn one_vehicle(plan: &Plan, vehicle: &Vehicle) -> BTreeSet<(&'static str, Spot)> {
    let supplied = |when: &When, count: u32| if holds(when, vehicle) { count } else { 0 };
    let stock = |hardware: &Hardware| Stock {
        shelf: hardware.of_shop || (hardware.supplied.is_none() && hardware.on_vehicle.is_none()),
        kit: supplied(&hardware.when, hardware.supplied.unwrap_or(0)),
        on: supplied(&hardware.when, hardware.on_vehicle.unwrap_or(0)),
        ..Stock::default()
    };
    let mut books = Books {
        plan,
        vehicle,
        states: BTreeMap::new(),
        pieces: plan
            .parts
            .iter()
            .map(|part| Pieces { kit: supplied(&part.when, part.supplied.unwrap_or(1)), ..Pieces::default() })
            .collect(),
        stock: plan.hardware.iter().map(stock).collect(),
        gone: BTreeSet::new(),
        back: BTreeSet::new(),
        faults: BTreeSet::new(),
    };
    for (at, step) in plan.steps.iter().enumerate().filter(|(_, step)| holds(&step.when, vehicle)) {
        for (nth, &needed) in step.needs.iter().enumerate() {
            let all = vehicles(plan);
            let possible = all.iter().any(|other| holds(&plan.steps[needed].when, other));
            let together = all.iter().any(|other| holds(&step.when, other) && holds(&plan.steps[needed].when, other));
            if needed > at && holds(&plan.steps[needed].when, vehicle) || possible && !together {
                books.fault("out-of-order", Spot::Needs(at, nth));
            }
        }
        for (nth, op) in step.ops.iter().enumerate().filter(|(_, op)| holds(&op.when, vehicle)) {
            for (which, &name) in op.names.iter().enumerate() {
                books.work_on(op, name, Spot::Named(at, nth, which));
            }
            for (which, &(count, hardware)) in op.hardware.iter().enumerate() {
                books.move_hardware(op, count, hardware, Spot::Counted(at, nth, which));
            }
        }
    }
    books.close();
    books.faults
}

impl Books<'_> {
    fn fault(&mut self, rule: &'static str, spot: Spot) {
        self.faults.insert((rule, spot));
    }

    fn is_there(&self, name: Name) -> bool {
        let when = match name {
            Name::Thing(at) => &self.plan.things[at].when,
            Name::Part(at) => &self.plan.parts[at].when,
            Name::Hardware(at) => &self.plan.hardware[at].when,
        };
        holds(when, self.vehicle) && !self.gone.contains(&name)
    }

    fn work_on(&mut self, op: &Op, name: Name, spot: Spot) {
        if let Name::Hardware(at) = name {
            return self.move_hardware(op, op.count.unwrap_or(1), at, spot);
        }
        if !self.is_there(name) {
            // The operation is trusted: what was thrown away and is fitted stands there again.
            match op.verb {
                "fit" => self.back.insert(name),
                "remove" | "discard" => self.back.remove(&name),
                _ => false,
            };
            return self.fault("fitted-but-absent", spot);
        }
        let no_reach = ["inspect", "measure", "test", "switch_off", "switch_on", "raise", "lower", "discard"];
        if !no_reach.contains(&op.verb) && self.is_hidden(name) {
            self.fault("out-of-order", spot);
        }
        if op.verb == "discard" {
            self.gone.insert(name);
            return;
        }
        let count = op.count.unwrap_or(1);
        if let Name::Part(at) = name {
            let pieces = &mut self.pieces[at];
            match op.verb {
                "fit" => {
                    let short = count > pieces.beside + pieces.kit;
                    let from_beside = count.min(pieces.beside);
                    pieces.beside -= from_beside;
                    pieces.kit = pieces.kit.saturating_sub(count - from_beside);
                    pieces.on += count;
                    pieces.fitted = true;
                    pieces.in_place = true;
                    if short {
                        self.fault("kit-overdrawn", spot);
                    }
                    return;
                }
                "remove" => {
                    let missing = count > pieces.on;
                    pieces.on = pieces.on.saturating_sub(count);
                    pieces.beside += count;
                    pieces.in_place = false;
                    pieces.taken_off = Some(spot);
                    if missing {
                        self.fault("hardware-short", spot);
                    }
                    return;
                }
                "route" | "connect" | "fill" | "apply" | "cap" | "cover" => pieces.used_up = true,
                _ => {}
            }
        }
        self.open_or_close(op.verb, name, spot);
    }

    /// Whether something that is still on stands in front of a thing.
    fn is_hidden(&self, name: Name) -> bool {
        let Name::Thing(at) = name else { return false };
        self.plan.things[at].behind.iter().any(|&front| {
            let thrown_away = self.gone.contains(&front);
            (thrown_away && self.back.contains(&front))
                || self.is_there(front)
                    && match front {
                        Name::Thing(other) => match self.states.get(&(front, 0)) {
                            Some(state) => !state.open,
                            None => !self.plan.things[other].open_at_start,
                        },
                        // Of several pieces the chapter does not say which one is in the way: the part counts as one thing.
                        Name::Part(other) => self.pieces[other].in_place,
                        Name::Hardware(_) => false,
                    }
        })
    }

    fn open_or_close(&mut self, verb: &'static str, name: Name, spot: Spot) {
        let Some(pair) = PAIRS.iter().position(|&(opens, closes)| opens == verb || closes == verb) else { return };
        let opens = PAIRS[pair].0 == verb;
        let began_open = match (pair, name) {
            // Fitted or off, connected or apart, tight or loose, full or empty.
            (0..=3, Name::Thing(at)) => self.plan.things[at].open_at_start,
            (0..=3, _) => true,
            // On the ground.
            (4, _) => false,
            // The opposite of the first operation.
            _ => !opens,
        };
        // Of a part only this is known: it is apart until it is connected.
        let known = pair == 1 || matches!(name, Name::Thing(_));
        let state = self.states.entry((name, pair)).or_insert(State { open: began_open, began_open, ..State::default() });
        let fault = match (opens, state.open) {
            (true, true) if known => Some("opened-twice"),
            (false, false) if known && verb != "tighten" => Some("closed-not-open"),
            _ => None,
        };
        // The operation is trusted, right or wrong.
        state.open = opens;
        state.last = Some(spot);
        if let Some(rule) = fault {
            self.fault(rule, spot);
        }
    }

    fn move_hardware(&mut self, op: &Op, count: u32, at: usize, spot: Spot) {
        if !self.is_there(Name::Hardware(at)) {
            return self.fault("fitted-but-absent", spot);
        }
        let Hardware { one_use, supplied, .. } = self.plan.hardware[at];
        let tightened_somewhere = self.tightens(at);
        let stock = &mut self.stock[at];
        let counted = !stock.shelf;
        let mut fault = None;
        match op.verb {
            "remove" | "disconnect" | "drain" | "uncap" | "uncover" => {
                fault = (counted && count > stock.on).then_some("hardware-short");
                stock.on = stock.on.saturating_sub(count);
                // Who loosens four and takes two off takes loose ones.
                stock.loose = stock.loose.saturating_sub(count);
                stock.undone = stock.undone.saturating_sub(count);
                if op.discard_hardware {
                    stock.thrown_away = true;
                } else if one_use {
                    stock.bin += count;
                } else {
                    stock.tray += count;
                    stock.taken_off = Some(spot);
                }
            }
            "fit" | "connect" | "fill" | "cap" | "cover" | "apply" | "route" => {
                let from_tray = count.min(stock.tray);
                let new = count - from_tray;
                let missing = if counted { new.saturating_sub(stock.kit) } else { 0 };
                stock.tray -= from_tray;
                stock.kit = stock.kit.saturating_sub(new);
                stock.on += count;
                if op.by_hand && tightened_somewhere {
                    stock.loose += count;
                    stock.loosened = Some(spot);
                }
                // One fault, told by the rule that says most about it.
                if missing > 0 && stock.bin > 0 {
                    stock.bin -= missing.min(stock.bin);
                    fault = Some("one-use-refitted");
                } else if missing > 0 {
                    fault = Some(match supplied {
                        Some(1..) => "kit-overdrawn",
                        _ if stock.thrown_away => "fitted-but-absent",
                        _ => "hardware-short",
                    });
                }
            }
            "loosen" => {
                fault = (counted && count > stock.on).then_some("hardware-short");
                stock.loose += count;
                if counted {
                    stock.loose = stock.loose.min(stock.on);
                }
                stock.loosened = Some(spot);
                stock.undone += if one_use { count } else { 0 };
            }
            "tighten" => {
                fault = (counted && count > stock.on).then_some("hardware-short");
                if stock.undone > 0 {
                    self.faults.insert(("one-use-refitted", spot));
                    stock.undone -= count.min(stock.undone);
                }
                stock.loose = stock.loose.saturating_sub(count);
            }
            _ => {}
        }
        if let Some(rule) = fault {
            self.fault(rule, spot);
        }
    }

    /// Whether any operation of the guide tightens this hardware.
    fn tightens(&self, at: usize) -> bool {
        let mut ops = self.plan.steps.iter().flat_map(|step| &step.ops).filter(|op| op.verb == "tighten");
        ops.any(|op| op.names.contains(&Name::Hardware(at)) || op.hardware.iter().any(|&(_, hardware)| hardware == at))
    }

    fn close(&mut self) {
        for ((name, pair), state) in self.states.clone() {
            let stays = matches!(name, Name::Thing(at) if self.plan.things[at].stays);
            let came_with_it = matches!(name, Name::Part(_)) && pair >= 5 && state.began_open;
            if stays || came_with_it || self.gone.contains(&name) {
                continue;
            }
            // Capping, covering and switching end as they began; everything else ends closed if it was opened.
            let owed = state.open && (pair < 5 || !state.began_open) || pair >= 5 && !state.open && state.began_open;
            if let Some(spot) = state.last.filter(|_| owed) {
                self.fault("left-open", spot);
            }
        }
        for (at, thing) in self.plan.things.iter().enumerate() {
            let name = Name::Thing(at);
            if !thing.open_at_start || thing.stays || !self.is_there(name) {
                continue;
            }
            // What is open at the start has to be closed: the ways that the guide speaks of, a connector always in its own way.
            let ops = || self.plan.steps.iter().flat_map(|step| &step.ops).filter(|op| op.names.contains(&name));
            let mut ways: BTreeSet<usize> =
                ops().filter_map(|op| PAIRS[..4].iter().position(|&(opens, closes)| opens == op.verb || closes == op.verb)).collect();
            if thing.connector {
                ways.insert(1);
            } else if ways.is_empty() {
                ways.insert(0);
            }
            if ways.into_iter().any(|pair| !self.states.contains_key(&(name, pair))) {
                self.fault("left-open", Spot::Definition(name));
            }
        }
        for at in 0..self.pieces.len() {
            let Pieces { kit, beside, fitted, used_up, taken_off, .. } = self.pieces[at];
            let name = Name::Part(at);
            if let Some(spot) = taken_off.filter(|_| beside > 0) {
                self.fault("hardware-left-over", spot);
            }
            if used_up || kit <= self.plan.parts[at].spare {
                continue;
            }
            self.fault(if fitted { "kit-left-over" } else { "part-never-fitted" }, Spot::Definition(name));
        }
        for at in 0..self.stock.len() {
            let stock = self.stock[at].clone();
            if stock.kit > self.plan.hardware[at].spare && !stock.shelf {
                self.fault("kit-left-over", Spot::Definition(Name::Hardware(at)));
            }
            if let Some(spot) = stock.taken_off.filter(|_| stock.tray > 0) {
                self.fault("hardware-left-over", spot);
            }
            if let Some(spot) = stock.loosened.filter(|_| stock.loose > 0) {
                self.fault("left-open", spot);
            }
        }
    }
}
