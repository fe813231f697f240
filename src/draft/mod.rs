//! From a talk to a first draft of a guide: what was said is captured as operations and values, each with where it was heard; what was not
//! said is left out, so that the review of the draft tells it. Nothing is made up.

mod clauses;
mod facts;
mod fragments;
mod ledger;
mod phrase;
mod talk;
mod things;
mod values;
pub mod write;

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
    Heard { things, operations, values, open: ledger.open, untorqued: ledger.untorqued, misheard: talk.misheard, facts }
}
