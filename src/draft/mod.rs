//! From a talk to a first draft of a guide: what was said is captured as operations and values, each with where it was heard; what was not
//! said is left out, so that the review of the draft tells it. Nothing is made up.

mod against;
mod clauses;
mod facts;
mod follows;
mod fragments;
mod ledger;
mod mood;
mod phrase;
mod talk;
mod things;
mod values;
pub mod write;

pub use against::against;
pub use facts::{Facts, Remark, Sort};
pub use ledger::{Open, Untorqued};
pub use talk::Misheard;
pub use things::{Operation, Thing};
pub use values::{Kind, Value};

use crate::narration::Narration;
use crate::wording::lexicon::Lexicon;

/// What a talk tells.
#[derive(Clone, Debug)]
pub struct Heard {
    /// The things of the job.
    pub things: Vec<Thing>,
    /// What is done, in order.
    pub operations: Vec<Operation>,
    /// Every value, in order.
    pub values: Vec<Value>,
    /// What was opened and never said to be closed.
    pub open: Vec<Open>,
    /// Fasteners done up without a torque.
    pub untorqued: Vec<Untorqued>,
    /// Words that were probably misheard.
    pub misheard: Vec<Misheard>,
    /// What else was said.
    pub facts: Facts,
    /// What differs from a second text, each with its place in the talk.
    pub differences: Vec<(std::ops::Range<usize>, String)>,
}

/// Reads a talk.
pub fn read(narration: &Narration, lexicon: &Lexicon) -> Heard {
    let talk = talk::Talk::new(narration, lexicon);
    let values = values::read(&talk);
    let mut told = clauses::read(&talk);
    fragments::add(&talk, &mut told, &values);
    let mut resolved = things::resolve(&talk, &told);
    let ledger = ledger::reckon(&talk, &mut resolved, &values, &told);
    let things::Resolved { things, operations } = resolved;
    let facts = facts::read(&talk, &things, &operations, &values);
    Heard {
        things,
        operations,
        values,
        open: ledger.open,
        untorqued: ledger.untorqued,
        misheard: talk.misheard,
        facts,
        differences: Vec::new(),
    }
}

/// Whether a talk tells a procedure.
pub enum Judged {
    /// It does.
    Yes,
    /// It does not: why, in words for the author.
    No(String),
}

/// Words that stand in nearly every sentence of English.
const COMMON: &[&str] = &[
    "the", "a", "and", "to", "of", "it", "in", "on", "is", "you", "that", "with", "for", "i", "then", "from", "we", "at", "by", "this",
    "all", "off",
];

/// Judges whether there is anything to write: a text in another language, or one that tells no work, is told and nothing is written.
pub fn judge(narration: &Narration, heard: &Heard) -> Judged {
    let words = narration.words.len();
    let common = narration.words.iter().filter(|word| COMMON.contains(&word.text.as_str())).count();
    if words >= 12 && common * 100 < words * 12 && heard.operations.len() * 25 < words {
        return Judged::No("it does not read as English, which is the only language that talks are read in".to_owned());
    }
    if heard.operations.is_empty() {
        return Judged::No(format!("none of its {words} words tell work on a vehicle, so it is no procedure"));
    }
    if words > 60 && (heard.operations.len() * 150 < words || heard.operations.len() < 3) {
        return Judged::No(format!("{words} words tell only {} operations, so it is no procedure", heard.operations.len()));
    }
    Judged::Yes
}
