//! What is open: the things that operations open and close, and the one reckoning of how many of them are open after some work. What a
//! sheet hands over at its end and what a record leaves open are both asked here.

use super::chosen::Chosen;
use super::phrase::{lower_first, open_state, option};
use super::when::{Choice, When, can_be};
use super::{Document, Operation, Step};
use crate::guide::verb::Verb;

/// Beyond so many options that meet at one thing, their combinations are not tried one by one.
const MOST: usize = 8;

/// A way in which one thing can be open.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub struct AccountId {
    /// The verb that opens it.
    pub way: Verb,
    /// The thing's id.
    pub thing: String,
}

impl AccountId {
    /// As scripts name it: `disconnect/heater-plug`.
    pub fn key(&self) -> String {
        format!("{}/{}", self.way.key(), self.thing)
    }
}

/// Something that operations open and close.
#[derive(Clone, Debug, Hash)]
pub struct Account {
    /// What it is, and in which way it is open.
    pub id: AccountId,
    /// Its name.
    pub name: String,
    /// Whether it is a connector.
    pub connector: bool,
}

impl Account {
    /// How it is while it is open: `unplugged`.
    pub fn state(&self) -> &'static str {
        open_state(self.id.way, self.connector)
    }
}

/// What an operation opens or closes.
#[derive(Clone, Debug, Hash)]
pub struct Move {
    /// What.
    pub account: AccountId,
    /// Whether it is opened.
    pub opens: bool,
    /// How many of it.
    pub count: u32,
}

impl Move {
    /// How many are open after it, of so many before.
    pub fn after(&self, before: u32) -> u32 {
        match (self.opens, self.account.way == Verb::Loosen) {
            // What lies off the vehicle lies there as a whole; bolts are loosened and done up in several places.
            (true, false) => self.count,
            (false, false) => 0,
            (true, true) => before + self.count,
            (false, true) => before.saturating_sub(self.count),
        }
    }
}

/// The moves of one account, each with its step and operation.
pub fn moves<'d>(document: &'d Document, account: &'d AccountId) -> impl Iterator<Item = (&'d Step, &'d Operation, &'d Move)> {
    let operations = document.steps().flat_map(|step| step.operations.iter().map(move |operation| (step, operation)));
    let all = operations.flat_map(|(step, operation)| operation.moves.iter().map(move |moved| (step, operation, moved)));
    all.filter(move |(.., moved)| moved.account == *account)
}

/// How many are open after those moves of an account that `done` lets through.
pub fn left<'d>(document: &'d Document, account: &'d AccountId, done: impl Fn(&Operation) -> bool) -> u32 {
    moves(document, account).filter(|(_, operation, _)| done(operation)).fold(0, |open, (.., moved)| moved.after(open))
}

struct Moved<'g> {
    /// How many operations come up to and with this one.
    at: usize,
    moved: &'g Move,
    whens: [&'g When; 2],
}

/// The moves of a guide, counted by operation.
pub struct Books<'g> {
    document: &'g Document,
    moves: Vec<Moved<'g>>,
}

impl<'g> Books<'g> {
    /// The books of a guide from which everything that does not apply is gone.
    pub fn new(document: &'g Document) -> Self {
        let mut moves = Vec::new();
        let mut at = 0;
        for step in document.steps() {
            for operation in &step.operations {
                at += 1;
                moves.extend(operation.moves.iter().map(|moved| Moved { at, moved, whens: [&step.when, &operation.when] }));
            }
        }
        Books { document, moves }
    }

    /// Whether anything is ever opened and closed again.
    pub fn are_kept(&self) -> bool {
        !self.document.accounts.is_empty()
    }

    /// What is open after so many operations, each in words. Where an option that nobody spoke of decides it, the option is named.
    pub fn open_after(&self, operations: usize, chosen: &Chosen) -> Vec<String> {
        self.document.accounts.iter().filter_map(|thing| self.open(thing, operations, chosen)).collect()
    }

    fn open(&self, thing: &Account, operations: usize, chosen: &Chosen) -> Option<String> {
        let moves: Vec<&Moved<'_>> = self.moves.iter().filter(|moved| moved.moved.account == thing.id).collect();
        let mut options: Vec<&str> = Vec::new();
        for term in moves.iter().flat_map(|moved| moved.whens).flat_map(When::alternatives).flatten() {
            let id = term.option.as_str();
            if chosen.of(id).is_none() && !options.contains(&id) {
                options.push(id);
            }
        }
        let done: Vec<&Moved<'_>> = moves.into_iter().filter(|moved| moved.at <= operations).collect();
        let mut count = 0;
        let (mut with, mut without): (Vec<u32>, Vec<u32>) = (Vec::new(), Vec::new());
        let tried = options.len().min(MOST);
        let there = |combination: u32| {
            let options = &options;
            move |id: &str| options.iter().position(|option| *option == id).map(|at| at < MOST && combination & (1 << at) != 0)
        };
        for combination in (0..1_u32 << tried).filter(|combination| can_be(&self.document.choices, there(*combination))) {
            let known = |id: &str| match options.iter().position(|option| *option == id) {
                Some(at) if at < tried => Some(combination & (1 << at) != 0),
                Some(_) => None,
                None => chosen.of(id),
            };
            let mut open = 0;
            for moved in &done {
                if moved.whens.iter().all(|when| when.holds(known) != Some(false)) {
                    open = moved.moved.after(open);
                }
            }
            count = count.max(open);
            if open > 0 { with.push(combination) } else { without.push(combination) }
        }
        if with.is_empty() {
            return None;
        }
        let many = if count > 1 { format!("{count} × ") } else { String::new() };
        let label = if without.is_empty() { String::new() } else { label(&options[..tried], &with, &without, &self.document.choices) };
        Some(format!("{many}{} ({}{label})", thing.name, thing.state()))
    }
}

/// With which options something is open, where a few words can say so.
fn label(options: &[&str], open: &[u32], closed: &[u32], choices: &[Choice]) -> String {
    let mut words = Vec::new();
    let (mut must, mut must_not) = (0_u32, 0_u32);
    for (at, id) in options.iter().enumerate() {
        let bit = 1 << at;
        let name = lower_first(option(choices, id));
        let varies = closed.iter().any(|combination| (combination & bit != 0) != (open[0] & bit != 0));
        if !varies {
            continue;
        }
        if open.iter().all(|combination| combination & bit != 0) {
            must |= bit;
            words.push(format!("with {name}"));
        } else if open.iter().all(|combination| combination & bit == 0) {
            must_not |= bit;
            words.push(format!("without {name}"));
        }
    }
    let exact = !words.is_empty() && closed.iter().all(|combination| combination & must != must || combination & must_not != 0);
    if exact { format!(", only {}", words.join(", ")) } else { ", on some vehicles".to_owned() }
}
