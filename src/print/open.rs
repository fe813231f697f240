//! What is open after each operation, as the ledger's moves tell it: what a shift hands over at the end of a sheet. Where an option that
//! nobody spoke of decides it, the option is named.

use std::collections::BTreeMap;

use super::chosen::{holds, lower_first};
use crate::publish::page_data::{Guide, Move, OpenThing};

/// Beyond so many options that meet at one thing, their combinations are not tried one by one.
const MOST: usize = 8;

struct Moved<'g> {
    /// How many operations come up to and with this one.
    at: usize,
    moved: Move<'g>,
    terms: Vec<&'g str>,
}

/// The moves of a guide, counted by operation.
pub struct Books<'g> {
    guide: &'g Guide,
    moves: Vec<Moved<'g>>,
    names: BTreeMap<&'g str, &'g str>,
}

impl<'g> Books<'g> {
    /// The books of a guide from which everything that does not apply is gone.
    pub fn new(guide: &'g Guide) -> Self {
        let mut moves = Vec::new();
        let mut at = 0;
        for step in guide.phases.iter().flat_map(|phase| &phase.steps) {
            for operation in &step.operations {
                at += 1;
                let terms: Vec<&str> = [&step.terms, &operation.terms].into_iter().flatten().map(String::as_str).collect();
                moves.extend(operation.moved().map(|moved| Moved { at, moved, terms: terms.clone() }));
            }
        }
        let options = guide.choices.iter().flat_map(|choice| &choice.options);
        Books { guide, moves, names: options.map(|option| (option.id.as_str(), option.name.as_str())).collect() }
    }

    /// Whether anything is ever opened and closed again.
    pub fn are_kept(&self) -> bool {
        !self.guide.accounts.is_empty()
    }

    /// What is open after so many operations, each in words.
    pub fn open_after(&self, operations: usize, of: impl Fn(&str) -> Option<bool>) -> Vec<String> {
        self.guide.accounts.iter().filter_map(|thing| self.open(thing, operations, &of)).collect()
    }

    fn open(&self, thing: &OpenThing, operations: usize, of: &impl Fn(&str) -> Option<bool>) -> Option<String> {
        let moves: Vec<&Moved<'_>> = self.moves.iter().filter(|moved| moved.moved.account == thing.account).collect();
        // What stays open for good is no work left over.
        if !moves.iter().any(|moved| !moved.moved.opens) {
            return None;
        }
        let mut options: Vec<&str> = Vec::new();
        for term in moves.iter().flat_map(|moved| &moved.terms).flat_map(|terms| terms.split(['|', ' '])) {
            let id = term.trim_start_matches('!');
            if !id.is_empty() && of(id).is_none() && !options.contains(&id) {
                options.push(id);
            }
        }
        let done: Vec<&Moved<'_>> = moves.into_iter().filter(|moved| moved.at <= operations).collect();
        let mut count = 0;
        let mut with: Vec<u32> = Vec::new();
        let mut without: Vec<u32> = Vec::new();
        let tried = options.len().min(MOST);
        for combination in (0..1_u32 << tried).filter(|combination| self.can_be(&options, *combination)) {
            let known = |id: &str| match options.iter().position(|option| *option == id) {
                Some(at) if at < tried => Some(combination & (1 << at) != 0),
                Some(_) => None,
                None => of(id),
            };
            let mut open = 0;
            for moved in &done {
                if moved.terms.iter().all(|terms| holds(terms, known) != Some(false)) {
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
        let label = if without.is_empty() { String::new() } else { self.label(&options[..tried], &with, &without) };
        Some(format!("{many}{} ({}{label})", thing.name, thing.state))
    }

    /// Whether the combination can occur: of a group exactly one, and nothing beside what excludes it.
    fn can_be(&self, options: &[&str], combination: u32) -> bool {
        let there = |id: &str| options.iter().position(|option| *option == id).map(|at| at < MOST && combination & (1 << at) != 0);
        self.guide.choices.iter().all(|choice| {
            let states: Vec<Option<bool>> = choice.options.iter().map(|option| there(&option.id)).collect();
            let chosen = states.iter().filter(|state| **state == Some(true)).count();
            let barred = choice
                .options
                .iter()
                .any(|option| there(&option.id) == Some(true) && option.not_with.split(' ').any(|other| there(other) == Some(true)));
            !barred && (!choice.one_of || chosen == 1 || (chosen == 0 && states.contains(&None)))
        })
    }

    /// With which options it is open, where a few words can say so.
    fn label(&self, options: &[&str], open: &[u32], closed: &[u32]) -> String {
        let mut words = Vec::new();
        let (mut must, mut must_not) = (0_u32, 0_u32);
        for (at, id) in options.iter().enumerate() {
            let bit = 1 << at;
            let name = lower_first(self.names.get(id).unwrap_or(id));
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
}
