//! How an operation is done beside what it does, a few words each: what a new word about an operation is told by, on every page, sheet, file
//! and record. Whoever writes asks for the words and knows no kind of them by name.

use super::Operation;
use crate::guide::model;
use crate::phrases::Phrases;

/// A word about how an operation is done.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum How {
    /// The fasteners are started by hand only.
    ByHand,
    /// What comes off is kept.
    Keep,
    /// The fasteners that come off are thrown away.
    DiscardHardware,
    /// The author's words behind it.
    Note(String),
    /// The place, of several.
    Place(String),
    /// So many holes.
    Holes(u32),
    /// The pilot drill comes first.
    Pilot(String),
    /// What it goes onto.
    Onto(String),
    /// While what it may be done alone, or may not.
    While {
        /// Whether only then; never then otherwise.
        only: bool,
        /// The other thing.
        thing: String,
        /// Its state.
        state: &'static str,
    },
    /// How long to wait behind it.
    Wait(String),
}

impl How {
    /// What is said of an operation by itself, in the order in which it is told.
    pub fn of(operation: &model::Operation) -> Vec<Self> {
        let flags = [(operation.by_hand, How::ByHand), (operation.keep, How::Keep), (operation.discard_hardware, How::DiscardHardware)];
        let note = operation.note.as_ref().map(|note| How::Note(note.value.clone()));
        flags.into_iter().filter_map(|(holds, how)| holds.then_some(how)).chain(note).collect()
    }

    /// In words.
    fn words(&self, say: &Phrases) -> String {
        match self {
            How::ByHand => say.by_hand.to_owned(),
            How::Keep => say.keep_part.to_owned(),
            How::DiscardHardware => say.throw_fasteners_away.to_owned(),
            How::Note(words) | How::Place(words) => words.clone(),
            How::Holes(count) => say.so_many_holes(*count),
            How::Pilot(drill) => say.pilot_first(drill),
            How::Onto(thing) => say.goes_onto(thing),
            How::While { only: true, thing, state } => say.only_while(thing, state),
            How::While { only: false, thing, state } => say.never_while(thing, state),
            How::Wait(time) => say.then_wait(time),
        }
    }
}

impl Operation {
    /// How it is done, a few words each.
    pub fn how_words(&self, say: &Phrases) -> Vec<String> {
        self.how.iter().map(|how| how.words(say)).collect()
    }
}
