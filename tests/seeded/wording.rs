//! Faults of the words.

use bayleaf::guide::model::Guide;

use super::clean::{Broken, Clean};

pub(crate) fn two_actions(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn long_sentence(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn passive(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn condition_last(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn vague(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn in_a_note(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn caution_in_words(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn other_count(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}

pub(crate) fn untold(_: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    Vec::new()
}
