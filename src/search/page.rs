//! Pages over several guides as places of the index: a thread, a tool, a part, a vehicle, a system, a list. What stands on them is
//! gathered by whoever makes the pages.

use serde_json::json;

use super::gather::Entry;
use super::terms::{Packed, Terms, Weight};

/// A page, or a row of one, that a query may lead to.
#[derive(Clone, Copy, Debug)]
pub struct Page<'p> {
    /// Its address from the root of the site, with the anchor of a row.
    pub address: &'p str,
    /// What results call it.
    pub title: &'p str,
    /// What it is, in one word: `Thread`.
    pub sort: &'p str,
    /// A line beneath the title.
    pub about: &'p str,
    /// What is asked for as it stands: a thread, the number of a wrench, what a list is called.
    pub named: &'p str,
    /// Other words that lead to it, as much as what is done leads to a step.
    pub words: &'p str,
}

/// The row and the terms of a page.
pub fn page(page: &Page<'_>) -> (Entry, Packed) {
    let Page { address, title, sort, about, named, words } = page;
    let mut terms = Terms::default();
    // Whoever asks for a tool or a part mostly wants the step that it is used in.
    terms.words(title, 0, Weight::Told);
    terms.words(named, 0, Weight::Named);
    terms.words(about, 0, Weight::Told);
    terms.words(words, 0, Weight::Done);
    let row = json!([address, title, "", 0, about, [], sort]);
    (Entry { row: row.to_string().into_boxed_str(), steps: 0 }, terms.pack())
}
