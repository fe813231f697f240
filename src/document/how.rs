//! How an operation is done beside what it does, a few words each: what a new word about an operation is told by, on every page, sheet, file
//! and record. Whoever writes asks for the words and knows no kind of them by name.

use super::Operation;
use crate::guide::model;
use crate::phrases::Phrases;

/// A word about how an operation is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum How {
    /// The fasteners are started by hand only.
    ByHand,
    /// What comes off is kept.
    Keep,
    /// The fasteners that come off are thrown away.
    DiscardHardware,
    /// The author's words behind it.
    Note(String),
}

impl How {
    /// All that is said of an operation, in the order in which it is told.
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
            How::Note(words) => words.clone(),
        }
    }
}

impl Operation {
    /// How it is done, a few words each.
    pub fn how_words(&self, say: &Phrases) -> Vec<String> {
        self.how.iter().map(|how| how.words(say)).collect()
    }
}
