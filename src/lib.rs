//! bayleaf reviews and publishes the installation guides of a shop that fits vehicle equipment.
//!
//! It is built like a compiler. Text with positions goes in; a typed model stands in the middle, which rules read; from it a document is
//! made, of which every page, sheet, file, index and record is written; bytes come out at the edge. Nobody reads the text again, and no
//! writer reads what another wrote.
//!
//! | layer | modules | may use |
//! |---|---|---|
//! | 0 text and findings | [`source`], [`finding`], [`near`], [`described`], [`chapter`], [`markup`], [`phrases`] | nothing of ours |
//! | 1 the trade's knowledge | [`quantity`], and [`fastener`] and [`wiring`], which may use it | layer 0 |
//! | 2 the guide | [`guide`] | layers 0 and 1 |
//! | 3 readers of the model | [`review`], [`document`], which never use each other | layers 0 to 2 |
//! | 3 the history of a guide | [`issued`], [`compare`] | layers 0 to 2, [`document`] |
//! | 4 writers of the document | [`drawing`] and [`pictures`] for the others; [`theme`], and [`site`] with [`machine`] and [`search`], which fill it in; `sheets` with [`record`] | layers 0 to 2, [`document`] |
//! | 4 pages beside it | [`handbook`] and the [`reviewer`]'s page, with [`highlight`] | layer 0, [`theme`] |
//! | 5 the session | [`shop`] | layers 0 to 2 |
//! | 6 the edge | [`disk`], [`preview`], [`cli`] | everything |

// Only `cli::terminal` writes to the terminal.
#![warn(clippy::print_stdout, clippy::print_stderr)]

pub mod chapter;
pub mod described;
pub mod finding;
pub mod markup;
pub mod near;
pub mod phrases;
pub mod source;

pub mod fastener;
pub mod quantity;
pub mod wiring;

pub mod guide;

pub mod draft;
pub mod narration;
pub mod wording;

pub mod compare;
pub mod document;
pub mod issued;
pub mod review;

pub mod drawing;
pub mod handbook;
pub mod highlight;
pub mod machine;
pub mod pictures;
pub mod record;
pub mod reviewer;
pub mod search;
#[cfg(feature = "sheets")]
pub mod sheets;
pub mod shop;
pub mod site;
pub mod start;
pub mod theme;

pub mod disk;
#[cfg(feature = "preview")]
pub mod preview;

pub mod cli;
