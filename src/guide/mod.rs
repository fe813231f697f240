//! Layer 2: from the text of a guide to its model. `block` cuts the text, `facts` reads the blocks by the
//! table in `keys`, `lower` makes the model, `resolve` checks every id. All of it is pure: text in, model
//! and findings out.

pub mod block;
pub mod bounds;
pub mod claims;
mod define;
pub mod drawing;
pub mod facts;
mod hazard;
pub mod keys;
pub mod language;
pub mod ledger;
mod lower;
pub mod model;
pub mod moment;
pub mod names;
pub mod picture;
pub mod prose;
pub mod questions;
pub mod resolve;
pub mod shop;
pub mod short;
mod sides;
pub mod standing;
mod stated;
pub mod states;
mod style;
pub mod tally;
pub mod tightening;
mod told;
pub mod untold;
pub mod variant;
pub mod verb;
pub mod words;

pub use lower::PAGE_IDS;

use crate::finding::Finding;
use crate::source::{FileId, SourceFile};
use model::{Guide, Shop};

/// Reads one guide and checks its ids.
pub fn read<'s>(source: &'s SourceFile, file: FileId, slug: &str, shop: &Shop) -> (Guide<'s>, Vec<Finding>) {
    let (mut guide, mut findings) = lower::lower(source, file, slug, shop);
    findings.extend(standing::bounded(&mut guide, shop));
    findings.extend(resolve::resolve(&guide, shop));
    findings.extend(questions::findings(&guide, shop));
    (guide, findings)
}

/// Reads the shop file and checks its ids.
pub fn read_shop(source: &SourceFile, file: FileId) -> (Shop, Vec<Finding>) {
    let (shop, mut findings) = shop::read(source, file);
    findings.extend(resolve::resolve_shop(&shop));
    (shop, findings)
}
