//! Walks one account of the ledger through every combination of options. An account sees only the options
//! that touch it, and forgets an option as soon as nothing later depends on it: what grows is the number of
//! options open at one time, not the number of options. What an account holds is left to its own file.

use std::collections::BTreeMap;

use crate::guide::variant::{Choice, Terms, Variants};

/// Combinations followed at one time; beyond it the walk says that it is not complete.
const MOST_WORLDS: usize = 1 << 13;
/// Combinations named for one fault: a reader takes in a few.
const MOST_NAMED: usize = 3;

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
    /// Applies a posting.
    fn post(&self, posting: usize, state: &mut Self::State, found: &mut Vec<Self::Fault>);
    /// Closes the account.
    fn close(&self, state: &Self::State, found: &mut Vec<Self::Fault>);
}

/// Faults, each with the combinations in which it occurs, and whether all combinations were followed.
type Audited<F> = (Vec<(F, Vec<Choice>)>, bool);

/// Looks at an account in every combination.
pub(super) fn audit<A: Account>(account: &A, variants: &Variants<'_>) -> Audited<A::Fault> {
    let run = follow(account, variants, Choice::default(), None);
    let named = |(fault, choice): (A::Fault, Choice)| {
        let when = if run.complete { name(account, variants, fault) } else { vec![choice] };
        (fault, when)
    };
    (run.faults.iter().map(|(fault, choice)| (*fault, *choice)).map(named).collect(), run.complete)
}

struct Run<F> {
    /// Each fault with one choice in which it occurs.
    faults: BTreeMap<F, Choice>,
    /// For a watched fault: whether it occurred, for every way to the end.
    ends: Vec<(bool, Choice)>,
    complete: bool,
}

/// Follows the account through all combinations of `from`, watching one fault if asked to.
fn follow<A: Account>(account: &A, variants: &Variants<'_>, from: Choice, watched: Option<A::Fault>) -> Run<A::Fault> {
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
        for ((live, state, hit), choice) in worlds {
            variants.split(live, terms, &mut |live, holds| {
                let (mut state, mut hit) = (state, hit);
                let choice = Choice { known: choice.known | live.known, with: choice.with | live.with };
                if holds {
                    found.clear();
                    account.post(posting, &mut state, &mut found);
                    for &fault in &found {
                        hit |= watched == Some(fault);
                        run.faults.entry(fault).or_insert(choice);
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
        for &fault in &found {
            hit |= watched == Some(fault);
            run.faults.entry(fault).or_insert(choice);
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

/// The combinations in which a fault occurs, each with no more options than matter.
fn name<A: Account>(account: &A, variants: &Variants<'_>, fault: A::Fault) -> Vec<Choice> {
    let mut named: Vec<Choice> = Vec::new();
    let mut regions = vec![Choice::default()];
    while let Some(region) = regions.pop() {
        let run = follow(account, variants, region, Some(fault));
        let Some((_, choice)) = run.ends.iter().find(|(hit, _)| *hit) else { continue };
        let narrowed = choice.narrowed(|less| follow(account, variants, less, Some(fault)).ends.iter().all(|(hit, _)| *hit));
        named.push(narrowed);
        if narrowed.known == 0 || named.len() == MOST_NAMED {
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
    named
}
