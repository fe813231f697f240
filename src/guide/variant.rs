//! The combinations of options that a vehicle can have: groups of which exactly one holds, options that
//! exclude each other, and conditions split along them. A combination is named only as far as it matters;
//! what happens in it is left to `ledger`.

use std::collections::BTreeMap;

use crate::guide::model::{Condition, Guide, VehicleOption};
use crate::near::nearest;

/// As many options as one guide can have; the review says so where there are more.
pub const MOST_OPTIONS: usize = 128;

/// Options that are settled: which of them, and which of those the vehicle has. The rest is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Choice {
    /// The settled options, a bit each.
    pub known: u128,
    /// Those of them that the vehicle has.
    pub with: u128,
}

impl Choice {
    /// The same with one option settled.
    pub fn and(self, bit: u128, has: bool) -> Choice {
        Choice { known: self.known | bit, with: if has { self.with | bit } else { self.with & !bit } }
    }

    /// The same with one option open again.
    fn without(self, bit: u128) -> Choice {
        Choice { known: self.known & !bit, with: self.with & !bit }
    }

    /// The settled options, those that the vehicle lacks first.
    pub fn literals(self) -> impl Iterator<Item = (u128, bool)> {
        let bits = move |mask: u128| (0..MOST_OPTIONS).map(|at| 1u128 << at).filter(move |bit| mask & bit != 0);
        bits(self.known & !self.with).map(|bit| (bit, false)).chain(bits(self.with).map(|bit| (bit, true)))
    }

    /// The smallest part of this choice for which `enough` still holds; options that it lacks are given up first.
    pub fn narrowed(self, mut enough: impl FnMut(Choice) -> bool) -> Choice {
        let mut choice = self;
        for (bit, _) in self.literals() {
            let less = choice.without(bit);
            if enough(less) {
                choice = less;
            }
        }
        choice
    }
}

/// A condition as sets of options: all of `need` and none of `bar`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Terms {
    /// Options that must be there.
    pub need: u128,
    /// Options that must not be there.
    pub bar: u128,
}

impl Terms {
    /// Both conditions.
    pub fn and(self, other: Terms) -> Terms {
        Terms { need: self.need | other.need, bar: self.bar | other.bar }
    }

    /// The options it speaks of.
    pub fn options(self) -> u128 {
        self.need | self.bar
    }

    /// Whether it holds for a choice; none if that is open.
    pub fn holds(self, choice: Choice) -> Option<bool> {
        let lacking = choice.known & !choice.with;
        if self.need & lacking != 0 || self.bar & choice.with != 0 || self.need & self.bar != 0 {
            Some(false)
        } else if self.options() & !choice.known == 0 {
            Some(true)
        } else {
            None
        }
    }
}

/// The options of a guide and what ties them together.
#[derive(Debug)]
pub struct Variants<'g> {
    /// The options in the order of the guide.
    pub options: &'g [VehicleOption],
    /// For each option, those that cannot occur with it.
    excluded: Vec<u128>,
    /// Sets of which exactly one holds.
    groups: Vec<u128>,
    /// For each option, all that it is tied to by groups and exclusions, itself among them.
    tied: Vec<u128>,
    /// Whether any combination can occur at all.
    pub consistent: bool,
}

impl<'g> Variants<'g> {
    /// The options of a guide.
    pub fn new(guide: &'g Guide<'_>) -> Self {
        let rows = &guide.own.options.rows;
        let options = &rows[..rows.len().min(MOST_OPTIONS)];
        let mut variants = Variants { options, excluded: vec![0; options.len()], groups: Vec::new(), tied: Vec::new(), consistent: true };
        let mut words: Vec<&str> = Vec::new();
        for (at, option) in options.iter().enumerate() {
            let others: Vec<usize> = option.not_with.iter().filter_map(|id| variants.find(&id.value)).collect();
            for other in others {
                variants.excluded[at] |= 1 << other;
                variants.excluded[other] |= 1 << at;
            }
            let Some(word) = &option.one_of else { continue };
            match words.iter().position(|known| *known == word.value) {
                Some(group) => variants.groups[group] |= 1 << at,
                None => {
                    words.push(&word.value);
                    variants.groups.push(1 << at);
                }
            }
        }
        variants.tie();
        variants.consistent = variants.possible(Choice::default());
        variants
    }

    fn find(&self, id: &str) -> Option<usize> {
        self.options.iter().position(|option| option.id.value == id)
    }

    fn tie(&mut self) {
        let near = |at: usize| {
            let groups = self.groups.iter().filter(|group| *group & (1 << at) != 0).fold(0, |all, group| all | group);
            (1u128 << at) | self.excluded[at] | groups
        };
        let near: Vec<u128> = (0..self.options.len()).map(near).collect();
        self.tied = (0..self.options.len())
            .map(|at| {
                let mut reached = near[at];
                loop {
                    let wider = bits(reached).fold(reached, |all, other| all | near[other]);
                    if wider == reached {
                        return reached;
                    }
                    reached = wider;
                }
            })
            .collect();
    }

    /// A condition as sets of options. A misspelt option counts as the one that was meant, so that the slip is told once;
    /// one that is quite unknown as none.
    pub fn terms(&self, condition: &Condition) -> Terms {
        let mut terms = Terms::default();
        for term in &condition.0 {
            let id = term.option.as_str();
            let near = || nearest(id, self.options.iter().map(|option| option.id.as_str())).and_then(|near| self.find(near));
            if let Some(at) = self.find(id).or_else(near) {
                if term.absent { terms.bar |= 1 << at } else { terms.need |= 1 << at }
            }
        }
        terms
    }

    /// All options tied to those in `options`, themselves among them.
    pub fn tied_to(&self, options: u128) -> u128 {
        bits(options).fold(options, |all, at| all | self.tied[at])
    }

    /// Whether some vehicle can have this choice.
    pub fn possible(&self, choice: Choice) -> bool {
        if !self.consistent {
            // Nothing can occur as the options are stated; the review says so and looks at them as if they were free.
            return true;
        }
        let mut budget = 10_000;
        self.can_complete(choice, &mut budget)
    }

    /// Options outside groups can always be left off, so only the groups have to be filled.
    fn can_complete(&self, choice: Choice, budget: &mut u32) -> bool {
        let shut = bits(choice.with).fold(choice.known & !choice.with, |all, at| all | self.excluded[at]);
        if shut & choice.with != 0 {
            return false;
        }
        let mut tightest: Option<u128> = None;
        for &group in &self.groups {
            match (group & choice.with).count_ones() {
                1 => {}
                0 => {
                    let free = group & !shut & !choice.known;
                    if free == 0 {
                        return false;
                    }
                    if tightest.is_none_or(|other| free.count_ones() < other.count_ones()) {
                        tightest = Some(free);
                    }
                }
                _ => return false,
            }
        }
        // Beyond the budget the choice passes for possible: rather one finding too many than one too few.
        let Some(free) = tightest.filter(|_| *budget > 0) else { return true };
        *budget -= 1;
        bits(free).any(|at| self.can_complete(choice.and(1 << at, true), budget))
    }

    /// Splits a choice by a condition: `with` gets every possible part of it, and whether the condition holds there.
    pub fn split(&self, choice: Choice, terms: Terms, with: &mut impl FnMut(Choice, bool)) {
        match terms.holds(choice) {
            Some(holds) => with(choice, holds),
            None => {
                let open = terms.options() & !choice.known;
                let bit = 1u128 << open.trailing_zeros();
                for has in [true, false] {
                    let part = choice.and(bit, has);
                    if self.possible(part) {
                        self.split(part, terms, with);
                    }
                }
            }
        }
    }

    /// A choice in which `holds` holds and none of `others` does; none if there is no such vehicle. Narrowed to what matters.
    pub fn without_any(&self, holds: Terms, others: &[Terms]) -> Option<Choice> {
        let mut parts = Vec::new();
        self.split(Choice::default(), holds, &mut |choice, holds| parts.extend(holds.then_some(choice)));
        for &other in others {
            let mut left = Vec::new();
            for part in parts {
                self.split(part, other, &mut |choice, holds| left.extend((!holds).then_some(choice)));
            }
            parts = left;
            parts.sort_unstable();
            parts.dedup();
        }
        let found = *parts.first()?;
        Some(found.narrowed(|less| {
            // Enough is what leaves the others no chance wherever the first condition holds.
            let mut always = true;
            self.split(less, holds, &mut |choice, holds| {
                for &other in others {
                    self.split(choice, other, &mut |_, covered| always &= !(holds && covered));
                }
            });
            always
        }))
    }

    /// Whether a vehicle exists for which the condition holds.
    pub fn can_hold(&self, terms: Terms) -> bool {
        terms.need & terms.bar == 0 && self.possible(Choice { known: terms.options(), with: terms.need })
    }

    /// The least and the most that amounts, each under a condition, can add up to for one vehicle.
    pub fn sums(&self, amounts: &[(Terms, u64)]) -> (u64, u64) {
        /// More choices at one time than this are told apart no longer: the sum is then the widest that can be.
        const MOST: usize = 4096;
        // What has one condition is one amount; conditions on the same options stand together, so that few stay open at a time.
        let mut merged: BTreeMap<(u128, u128, u128), u64> = BTreeMap::new();
        for &(terms, amount) in amounts {
            let tied = self.tied_to(terms.options());
            *merged.entry((tied, terms.need, terms.bar)).or_default() += amount;
        }
        let amounts: Vec<(Terms, u64)> = merged.into_iter().map(|((_, need, bar), amount)| (Terms { need, bar }, amount)).collect();
        let mut later = vec![0; amounts.len() + 1];
        for at in (0..amounts.len()).rev() {
            later[at] = later[at + 1] | self.tied_to(amounts[at].0.options());
        }
        // For each choice that still matters, the least and the most so far.
        let mut sums = BTreeMap::from([(Choice::default(), (0u64, 0u64))]);
        for (at, &(terms, amount)) in amounts.iter().enumerate() {
            let mut next: BTreeMap<Choice, (u64, u64)> = BTreeMap::new();
            for (choice, (least, most)) in sums {
                self.split(choice, terms, &mut |choice, holds| {
                    let more = if holds { amount } else { 0 };
                    let kept = Choice { known: choice.known & later[at + 1], with: choice.with & later[at + 1] };
                    let entry = next.entry(kept).or_insert((least + more, most + more));
                    *entry = (entry.0.min(least + more), entry.1.max(most + more));
                });
            }
            sums = next;
            if sums.len() > MOST {
                let least = sums.values().map(|(least, _)| *least).min().unwrap_or(0);
                let most = sums.values().map(|(_, most)| *most).max().unwrap_or(0);
                sums = BTreeMap::from([(Choice::default(), (least, most))]);
            }
        }
        let least = sums.values().map(|(least, _)| *least).min().unwrap_or(0);
        (least, sums.values().map(|(_, most)| *most).max().unwrap_or(0))
    }

    /// The same choice with a group told by the option it has, where all others are ruled out.
    fn positively(&self, mut choice: Choice) -> Choice {
        if !self.consistent {
            return choice;
        }
        for &group in &self.groups {
            let lacking = group & choice.known & !choice.with;
            let left = group & !lacking;
            if lacking != 0 && left.count_ones() == 1 {
                choice = Choice { known: choice.known & !lacking | left, with: choice.with | left };
            } else if group & choice.with != 0 {
                // The one that it has says that it has no other.
                choice = Choice { known: choice.known & !lacking, ..choice };
            }
        }
        choice
    }

    /// A choice in words: with `Heated seat` and without `Partition`; empty if every vehicle is meant.
    pub fn words(&self, choice: Choice) -> String {
        let choice = self.positively(choice);
        let list = |has: bool| {
            let bits = choice.literals().filter(move |(_, with)| *with == has).map(|(bit, _)| bit.trailing_zeros() as usize);
            bits.map(move |at| format!("{} `{}`", if has { "with" } else { "without" }, self.options[at].name.as_str()))
        };
        list(true).chain(list(false)).collect::<Vec<_>>().join(" and ")
    }
}

/// The positions of the bits that are set.
fn bits(mask: u128) -> impl Iterator<Item = usize> {
    let mut rest = mask;
    std::iter::from_fn(move || {
        let at = rest.trailing_zeros() as usize;
        (rest != 0).then(|| {
            rest &= rest - 1;
            at
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{read, shop};
    use crate::source::{FileId, SourceFile};

    /// Options as lines `id`, `id in group`, `id not other`.
    fn with_guide(options: &[&str], test: impl FnOnce(Variants<'_>)) {
        let mut text = "+++\ntitle = \"Demonstration\"\n".to_owned();
        for option in options {
            let words: Vec<&str> = option.split(' ').collect();
            text.push_str(&format!("\n[[option]]\nid = \"{0}\"\nname = \"{0}\"\n", words[0]));
            match words[1..] {
                ["in", group] => text.push_str(&format!("one_of = \"{group}\"\n")),
                ["not", other] => text.push_str(&format!("not_with = [\"{other}\"]\n")),
                _ => {}
            }
        }
        text.push_str("+++\n\n## Step\n");
        let source = SourceFile::new("a.md", text);
        let (guide, _) = read(&source, FileId(0), "a", &shop::unnamed());
        test(Variants::new(&guide));
    }

    fn choice(with: u128, without: u128) -> Choice {
        Choice { known: with | without, with }
    }

    #[test]
    fn of_a_group_exactly_one_holds() {
        with_guide(&["a in g", "b in g", "c"], |variants| {
            assert!(variants.consistent);
            assert!(variants.possible(choice(0b001, 0)));
            assert!(!variants.possible(choice(0b011, 0)), "both");
            assert!(!variants.possible(choice(0, 0b011)), "neither");
            assert!(variants.possible(choice(0b100, 0b001)));
        });
    }

    #[test]
    fn an_exclusion_reaches_into_a_group() {
        // With c neither a nor b can hold, and one of them has to: no vehicle has c.
        with_guide(&["a in g", "b in g", "c not a", "d not b"], |variants| {
            assert!(variants.possible(choice(0b0100, 0)));
            assert!(variants.possible(choice(0b1000, 0)));
            assert!(!variants.possible(choice(0b1100, 0)), "c leaves b, d leaves a");
        });
    }

    #[test]
    fn options_that_cannot_be_are_seen_as_contradictory() {
        with_guide(&["a in g", "b in h not-a"], |variants| assert!(variants.consistent));
        with_guide(&["a not a"], |variants| assert!(!variants.possible(choice(1, 0))));
    }

    #[test]
    fn what_matters_is_named_and_no_more() {
        with_guide(&["a", "b", "c"], |variants| {
            let found = variants.without_any(Terms::default(), &[Terms { need: 0b001, bar: 0 }]).unwrap();
            assert_eq!(variants.words(found), "without `a`");
            assert_eq!(variants.words(choice(0b011, 0b100)), "with `a` and with `b` and without `c`");
            assert!(variants.without_any(Terms { need: 1, bar: 0 }, &[Terms { need: 1, bar: 0 }]).is_none());
            assert_eq!(variants.without_any(Terms { need: 1, bar: 0 }, &[]), Some(Choice::default()));
        });
    }
}
