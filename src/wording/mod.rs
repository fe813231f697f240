//! The words of the trade, for whoever reads prose: the review reads those of guides, the draft those of a talk. What a sentence means is
//! left to them.
//!
//! Verbs and things are data (`words.txt`), so that a shop can add its own; number words are read by their grammar.

pub mod lexicon;
pub mod number;
