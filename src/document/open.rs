//! What is open: the things that operations open and close, and the one reckoning of how many of them are open after some work. What a
//! sheet hands over at its end and what a record leaves open are both asked here.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

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

/// The moves of every account of a document, looked up once.
pub struct Moves<'d>(HashMap<&'d AccountId, Vec<(&'d Step, &'d Operation, &'d Move)>>);

impl<'d> Moves<'d> {
    /// All of them.
    pub fn new(document: &'d Document) -> Self {
        let mut of: HashMap<&AccountId, Vec<_>> = HashMap::new();
        for step in document.steps() {
            for operation in &step.operations {
                for moved in &operation.moves {
                    of.entry(&moved.account).or_default().push((step, operation, moved));
                }
            }
        }
        Moves(of)
    }

    /// The moves of one account, each with its step and operation.
    pub fn of(&self, account: &AccountId) -> &[(&'d Step, &'d Operation, &'d Move)] {
        self.0.get(account).map_or(&[], Vec::as_slice)
    }

    /// How many are open after those moves of an account that `done` lets through.
    pub fn left(&self, account: &AccountId, done: impl Fn(&Operation) -> bool) -> u32 {
        self.of(account).iter().filter(|(_, operation, _)| done(operation)).fold(0, |open, (.., moved)| moved.after(open))
    }
}

/// What is open at some place of a guide.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Open {
    /// Each in words, in the order of the accounts.
    pub named: Vec<String>,
    /// How many more there are.
    pub more: usize,
}

/// An account is open in other words from an operation on.
struct Change {
    /// How many operations come up to and with this one.
    at: usize,
    /// The account, as an index.
    account: usize,
    before: Option<Rc<str>>,
    after: Option<Rc<str>>,
}

/// What is open, at a place that is moved to and fro.
#[derive(Default)]
struct Cursor {
    /// How many changes lie before it.
    passed: usize,
    open: BTreeMap<usize, Rc<str>>,
}

/// What is open after each operation of a guide. It is asked from the start to the end, a few operations to and fro, so that each
/// answer is made from the one before.
pub struct Books {
    changes: Vec<Change>,
    cursor: RefCell<Cursor>,
    kept: bool,
}

impl Books {
    /// The books of a guide from which everything that does not apply is gone. Where an option that nobody spoke of decides whether
    /// something is open, the option is named.
    pub fn new(document: &Document, chosen: &Chosen) -> Self {
        let accounts: HashMap<&AccountId, usize> = document.accounts.iter().enumerate().map(|(at, thing)| (&thing.id, at)).collect();
        let mut moves: Vec<Vec<Moved<'_>>> = document.accounts.iter().map(|_| Vec::new()).collect();
        let mut at = 0;
        for step in document.steps() {
            for operation in &step.operations {
                at += 1;
                for moved in &operation.moves {
                    if let Some(&account) = accounts.get(&moved.account) {
                        moves[account].push(Moved { at, moved, whens: [&step.when, &operation.when] });
                    }
                }
            }
        }
        let mut changes = Vec::new();
        for (account, (thing, moves)) in document.accounts.iter().zip(&moves).enumerate() {
            follow(thing, moves, document, chosen, |at, before, after| changes.push(Change { at, account, before, after }));
        }
        changes.sort_by_key(|change| change.at);
        Books { changes, cursor: RefCell::default(), kept: !document.accounts.is_empty() }
    }

    /// Whether anything is ever opened and closed again.
    pub fn are_kept(&self) -> bool {
        self.kept
    }

    /// What is open after so many operations, so many of it in words.
    pub fn open_after(&self, operations: usize, most: usize) -> Open {
        let mut cursor = self.cursor.borrow_mut();
        let Cursor { passed, open } = &mut *cursor;
        let mut set = |account: usize, words: &Option<Rc<str>>| match words {
            Some(words) => drop(open.insert(account, Rc::clone(words))),
            None => drop(open.remove(&account)),
        };
        while let Some(change) = self.changes.get(*passed).filter(|change| change.at <= operations) {
            set(change.account, &change.after);
            *passed += 1;
        }
        while let Some(change) = passed.checked_sub(1).and_then(|last| self.changes.get(last)).filter(|change| change.at > operations) {
            set(change.account, &change.before);
            *passed -= 1;
        }
        let named: Vec<String> = open.values().take(most).map(|words| words.as_ref().to_owned()).collect();
        Open { more: open.len() - named.len(), named }
    }
}

struct Moved<'g> {
    /// How many operations come up to and with this one.
    at: usize,
    moved: &'g Move,
    whens: [&'g When; 2],
}

/// Follows one account through its moves, under every combination of the options that nobody spoke of.
fn follow(
    thing: &Account,
    moves: &[Moved<'_>],
    document: &Document,
    chosen: &Chosen,
    mut to: impl FnMut(usize, Option<Rc<str>>, Option<Rc<str>>),
) {
    let mut options: Vec<&str> = Vec::new();
    for term in moves.iter().flat_map(|moved| moved.whens).flat_map(When::alternatives).flatten() {
        let id = term.option.as_str();
        if chosen.of(id).is_none() && !options.contains(&id) {
            options.push(id);
        }
    }
    let tried = options.len().min(MOST);
    let there = |combination: u32| {
        let options = &options;
        move |id: &str| options.iter().position(|option| *option == id).map(|at| at < MOST && combination & (1 << at) != 0)
    };
    // How many are open under each combination.
    let mut open: Vec<(u32, u32)> = (0..1_u32 << tried)
        .filter(|combination| can_be(&document.choices, there(*combination)))
        .map(|combination| (combination, 0))
        .collect();
    let mut before: Option<Rc<str>> = None;
    for moved in moves {
        for (combination, count) in &mut open {
            let known = |id: &str| match options.iter().position(|option| *option == id) {
                Some(at) if at < tried => Some(*combination & (1 << at) != 0),
                Some(_) => None,
                None => chosen.of(id),
            };
            if moved.whens.iter().all(|when| when.holds(known) != Some(false)) {
                *count = moved.moved.after(*count);
            }
        }
        let (with, without): (Vec<(u32, u32)>, Vec<_>) = open.iter().partition(|(_, count)| *count > 0);
        let after = (!with.is_empty()).then(|| {
            let count = with.iter().map(|(_, count)| *count).max().unwrap_or_default();
            let [with, without] = [with, without].map(|list| list.into_iter().map(|(combination, _)| combination).collect::<Vec<u32>>());
            let many = if count > 1 { format!("{count} × ") } else { String::new() };
            let label = if without.is_empty() { String::new() } else { label(&options[..tried], &with, &without, &document.choices) };
            Rc::from(format!("{many}{} ({}{label})", thing.name, thing.state()))
        });
        if before != after {
            to(moved.at, std::mem::replace(&mut before, after.clone()), after);
        }
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
