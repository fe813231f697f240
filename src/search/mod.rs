//! The search index: which word, number and value stands in which step. Built from each guide as it is published and
//! written as plain scripts in pieces, of which a query loads the few it needs. Asking is left to the theme's script
//! `search.js`, which must fold words, file values and read codes as is done here.
//!
//! A place is a guide or a step of it, numbered through: a guide, then its steps, then the next guide.

mod code;
mod designation;
mod fold;
mod gather;
mod index;
mod page;
mod terms;
#[cfg(test)]
mod tests;
mod trade;
mod values;

pub use fold::fold;
pub use gather::{Entry, gather};
pub use index::index;
pub use page::{Page, page};
pub use terms::{Packed, Terms, Weight};
pub use values::{dimension_code, unit_table};
