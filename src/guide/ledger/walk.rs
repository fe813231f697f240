//! Walks one account of the ledger through every combination of options. An account sees only the options
//! that touch it, and forgets an option as soon as nothing later depends on it: what grows is the number of
//! options open at one time, not the number of options. What an account holds is left to its own file.

use std::collections::BTreeMap;

use crate::guide::variant::{Choice, Terms, Variants};

/// Combinations followed at one time; beyond it the walk says that it is not complete.
const MOST_WORLDS: usize = 1 << 13;
/// Steps through combinations spent on one account, most of them on naming its faults as shortly as can be.
const MOST_EFFORT: u64 = 400_000;
/// Combinations named for one fault: a reader takes in a few.
pub(super) const MOST_NAMED: usize = 3;

/// A thing with its postings in order.
pub(super) trait Account {
    /// What is known of the thing at one moment.
    type State: Copy + Ord;
    /// What can be wrong.
    type Fault: Copy + Ord;

    /// The state before work starts.
    fn start(&self) -> Self::State;
    /// How many postings there are.
    fn len(&self) -> usize;
    /// The condition of a posting.
    fn terms(&self, posting: usize) -> Terms;
    /// Applies a posting. Beside a fault may stand the posting that led to it.
    fn post(&self, posting: usize, state: &mut Self::State, found: &mut Vec<(Self::Fault, Option<usize>)>);
    /// Closes the account.
    fn close(&self, state: &Self::State, found: &mut Vec<(Self::Fault, Option<usize>)>);
}

/// A fault with the combinations in which it occurs.
pub(super) struct Named<F> {
    /// The fault.
    pub(super) fault: F,
    /// The posting that led to it, in the first combination in which it occurs.
    pub(super) other: Option<usize>,
    /// The combinations.
    pub(super) when: Vec<Choice>,
    /// Whether there are more of them.
    pub(super) more: bool,
}

/// Each fault of an account with the combinations in which it occurs, and whether all were followed.
pub(super) fn audit<A: Account>(account: &A, variants: &Variants<'_>) -> (Vec<Named<A::Fault>>, bool) {
    let mut effort = MOST_EFFORT;
    let run = follow(account, variants, Choice::default(), None, &mut effort);
    let named = |(fault, (choice, other)): (&A::Fault, &(Choice, Option<usize>))| {
        let (when, more) = if run.complete { name(account, variants, *fault, *choice, &mut effort) } else { (vec![*choice], true) };
        Named { fault: *fault, other: *other, when, more }
    };
    (run.faults.iter().map(named).collect(), run.complete)
}

struct Run<F> {
    /// Each fault with one choice in which it occurs, and the posting that led to it.
    faults: BTreeMap<F, (Choice, Option<usize>)>,
    /// For a watched fault: whether it occurred, for every way to the end.
    ends: Vec<(bool, Choice)>,
    complete: bool,
}

/// Follows the account through all combinations of `from`, watching one fault if asked to.
fn follow<A: Account>(account: &A, variants: &Variants<'_>, from: Choice, watched: Option<A::Fault>, effort: &mut u64) -> Run<A::Fault> {
    let mut run = Run { faults: BTreeMap::new(), ends: Vec::new(), complete: true };
    let later = later_options(account, variants);
    // What decides the rest of the walk, and one full choice that led there.
    let mut worlds: BTreeMap<(Choice, A::State, bool), Choice> = BTreeMap::new();
    if variants.possible(from) {
        worlds.insert((forget(from, later[0]), account.start(), false), from);
    }
    let mut found = Vec::new();
    for posting in 0..account.len() {
        let terms = account.terms(posting);
        let mut next: BTreeMap<(Choice, A::State, bool), Choice> = BTreeMap::new();
        *effort = effort.saturating_sub(worlds.len() as u64);
        for ((live, state, hit), choice) in worlds {
            variants.split(live, terms, &mut |live, holds| {
                let (mut state, mut hit) = (state, hit);
                let choice = Choice { known: choice.known | live.known, with: choice.with | live.with };
                if holds {
                    found.clear();
                    account.post(posting, &mut state, &mut found);
                    for &(fault, other) in &found {
                        hit |= watched == Some(fault);
                        run.faults.entry(fault).or_insert((choice, other));
                    }
                }
                next.entry((forget(live, later[posting + 1]), state, hit)).or_insert(choice);
            });
        }
        while next.len() > MOST_WORLDS {
            next.pop_last();
            run.complete = false;
        }
        worlds = next;
    }
    for ((_, state, mut hit), choice) in worlds {
        found.clear();
        account.close(&state, &mut found);
        for &(fault, other) in &found {
            hit |= watched == Some(fault);
            run.faults.entry(fault).or_insert((choice, other));
        }
        run.ends.push((hit, choice));
    }
    run
}

/// For each posting, the options that it or a later one depends on, with all that are tied to them.
fn later_options<A: Account>(account: &A, variants: &Variants<'_>) -> Vec<u128> {
    let mut later = vec![0; account.len() + 1];
    for posting in (0..account.len()).rev() {
        later[posting] = later[posting + 1] | variants.tied_to(account.terms(posting).options());
    }
    later
}

fn forget(choice: Choice, keep: u128) -> Choice {
    Choice { known: choice.known & keep, with: choice.with & keep }
}

/// The combinations in which a fault occurs, each with no more options than matter, and whether there are more.
fn name<A: Account>(account: &A, variants: &Variants<'_>, fault: A::Fault, first: Choice, effort: &mut u64) -> (Vec<Choice>, bool) {
    let mut named: Vec<Choice> = Vec::new();
    let mut regions = vec![Choice::default()];
    let mut more = false;
    while let Some(region) = regions.pop() {
        // A guide with hundreds of such faults is told where they are; one full combination each must do then.
        if *effort == 0 {
            named.push(first);
            more = true;
            break;
        }
        let run = follow(account, variants, region, Some(fault), effort);
        let Some((_, choice)) = run.ends.iter().find(|(hit, _)| *hit) else { continue };
        if named.len() == MOST_NAMED {
            more = true;
            break;
        }
        let narrowed = choice.narrowed(|less| follow(account, variants, less, Some(fault), effort).ends.iter().all(|(hit, _)| *hit));
        named.push(narrowed);
        if narrowed.known == 0 {
            break;
        }
        // The rest of the region, in parts that do not overlap.
        let mut within = region;
        for (bit, has) in narrowed.literals().filter(|(bit, _)| region.known & bit == 0) {
            regions.push(within.and(bit, !has));
            within = within.and(bit, has);
        }
    }
    named.sort_unstable();
    named.dedup();
    (named, more)
}
