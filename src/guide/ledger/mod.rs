//! The ledger: a state for everything that operations act on, moved by them one after the other, for every
//! combination of options that can occur. It states where the books do not balance; whether that is a
//! fault, and how it is told, is left to the rules.

mod access;
mod items;
mod moves;
mod order;
mod orders;
mod stock;
mod walk;

use crate::guide::model::{Guide, Operation, Shop};
use crate::guide::names::Names;
use crate::guide::variant::{Choice, Terms, Variants};
use crate::guide::verb::Verb;
use crate::source::Span;
pub use moves::{Move, moves};
pub use orders::{Danger, Lapse};

/// One entry of the ledger: what an operation does to one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// The step, as an index.
    pub step: usize,
    /// The operation in it, as an index.
    pub operation: usize,
    /// Where the thing is named.
    pub span: Span,
}

/// Where the books do not balance.
#[derive(Clone, Debug)]
pub struct Discrepancy {
    /// What does not balance.
    pub what: What,
    /// The id of the thing, or of the step for `TooEarly`.
    pub thing: String,
    /// The entry it is told at; none where the thing is never acted on.
    pub entry: Option<Entry>,
    /// Another entry that belongs to it: the one that opened, the one that threw away.
    pub other: Option<Entry>,
    /// The combinations in which it is so; one empty choice for all.
    pub when: Vec<Choice>,
    /// Whether there are more combinations than are named.
    pub more: bool,
}

/// The kinds of discrepancy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Opened by the entry and open at the end.
    LeftOpen(Verb),
    /// Open before work starts, and never closed by this verb.
    NeverClosed(Verb),
    /// So many are loose in place at the end.
    LeftLoose(u32),
    /// Closed by the entry and not open before it.
    NotOpen(Verb),
    /// Opened by the entry and open already.
    OpenAlready(Verb),
    /// Acted on after it was thrown away.
    Gone(Verb),
    /// Acted on in a combination in which it is not there.
    NotThere(Verb),
    /// The entry takes off or tightens more than are on the vehicle.
    NotOnVehicle {
        /// How many the entry names.
        wanted: u32,
        /// How many are there.
        there: u32,
    },
    /// The entry puts on more than came off or were supplied.
    NotInStock {
        /// How many the entry names.
        wanted: u32,
        /// How many are there.
        there: u32,
    },
    /// The entry puts on more than the kit holds.
    NotInKit {
        /// How many the entry names.
        wanted: u32,
        /// How many are left.
        there: u32,
    },
    /// The entry puts back what was thrown away.
    ThrownAway {
        /// How many the entry names.
        wanted: u32,
        /// How many are there.
        there: u32,
    },
    /// The entry puts back on what must not be used again.
    UsedAgain(u32),
    /// So many came off and neither went back on nor were thrown away.
    LeftOver(u32),
    /// So many of the kit are left at the end.
    LeftInKit(u32),
    /// Nothing of it was fitted.
    NeverFitted(u32),
    /// Something in front of it, the thing of this index in its `behind`, is still fitted.
    Behind(usize),
    /// A step that comes first, the one of this index in `needs`, comes later.
    TooEarly(usize),
    /// A step that comes first, the one of this index in `needs`, is on no vehicle that has this step.
    Apart(usize),
    /// So many options meet at the thing that not every combination was followed.
    TooMany,
}

/// The whole ledger of a guide.
#[derive(Debug)]
pub struct Ledger<'g> {
    /// The combinations of options.
    pub variants: Variants<'g>,
    /// Where the books do not balance, in the order of the guide.
    pub discrepancies: Vec<Discrepancy>,
    /// Where the order of work puts people in danger, in the order of the guide.
    pub lapses: Vec<Lapse>,
}

impl<'g> Ledger<'g> {
    /// Keeps the books of a guide.
    pub fn new(guide: &'g Guide<'_>, shop: &'g Shop) -> Self {
        let variants = Variants::new(guide);
        let names = Names::new(guide, shop);
        let mut discrepancies = Vec::new();
        let entries = entries(guide, names, &variants);
        items::keep(guide, names, &variants, &entries, &mut discrepancies);
        stock::keep(guide, names, &variants, &entries, &mut discrepancies);
        access::keep(names, &variants, &entries, &mut discrepancies);
        order::keep(guide, &variants, &mut discrepancies);
        let lapses = orders::keep(guide, names, &variants, &entries, &mut discrepancies);
        discrepancies.sort_by(|a, b| (a.entry, &a.thing, a.what).cmp(&(b.entry, &b.thing, b.what)));
        merge_counts(&mut discrepancies);
        Ledger { variants, discrepancies, lapses }
    }
}

/// What differs by its counts only is one discrepancy, with the largest of them and all its combinations.
fn merge_counts(discrepancies: &mut Vec<Discrepancy>) {
    discrepancies.dedup_by(|next, kept| {
        let same = std::mem::discriminant(&next.what) == std::mem::discriminant(&kept.what);
        let counted = !matches!(next.what, What::Behind(_) | What::TooEarly(_) | What::Apart(_) | What::TooMany)
            && verb_of(next.what) == verb_of(kept.what);
        let one = same && counted && next.entry == kept.entry && next.thing == kept.thing;
        if one {
            // In the order of sorting the next one has the larger count.
            kept.what = next.what;
            kept.other = kept.other.or(next.other);
            kept.more |= next.more;
            kept.when.append(&mut next.when);
            kept.when.sort_unstable();
            kept.when.dedup();
        }
        one
    });
    for discrepancy in discrepancies {
        // If it is so on every vehicle, nothing else need be named.
        if discrepancy.when.iter().any(|choice| choice.known == 0) {
            discrepancy.when = vec![Choice::default()];
            discrepancy.more = false;
        }
        discrepancy.more |= discrepancy.when.len() > walk::MOST_NAMED;
        discrepancy.when.truncate(walk::MOST_NAMED);
    }
}

/// The verb of a discrepancy that has one.
fn verb_of(what: What) -> Option<Verb> {
    match what {
        What::LeftOpen(verb)
        | What::NeverClosed(verb)
        | What::NotOpen(verb)
        | What::OpenAlready(verb)
        | What::Gone(verb)
        | What::NotThere(verb) => Some(verb),
        _ => None,
    }
}

/// An operation on its way into the books.
struct Posting<'g> {
    step: usize,
    at: usize,
    operation: &'g Operation,
    /// What it acts on, misspelt ids put right, each with its place.
    targets: Vec<(&'g str, Span)>,
    terms: Terms,
}

impl Posting<'_> {
    fn entry(&self, span: Span) -> Entry {
        Entry { step: self.step, operation: self.at, span }
    }
}

fn entries<'g>(guide: &'g Guide<'_>, names: Names<'g>, variants: &Variants<'_>) -> Vec<Posting<'g>> {
    let mut entries = Vec::new();
    for (step, facts) in guide.steps.iter().enumerate() {
        let when = variants.terms(&facts.when);
        for (at, operation) in facts.operations.iter().enumerate() {
            let targets = operation.targets.iter().map(|id| (names.meant(&id.value), id.span)).collect();
            entries.push(Posting { step, at, operation, targets, terms: when.and(variants.terms(&operation.when)) });
        }
    }
    entries
}
