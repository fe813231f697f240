//! bayleaf reviews and publishes the installation guides of a shop that fits vehicle equipment.
//!
//! It is built like a compiler. Text with positions goes in; a typed model stands in the middle; rules
//! and pages read the model and never the text; bytes come out at the edge.
//!
//! | layer | modules | may use |
//! |---|---|---|
//! | 0 text and findings | [`source`], [`finding`], [`near`], [`described`] | nothing of ours |
//! | 1 the trade's knowledge | [`quantity`], and [`fastener`] and [`wiring`], which may use it | layer 0 |
//! | 2 the guide | [`guide`] | layers 0 and 1 |
//! | 3 readers of the model | [`review`], [`publish`], which never use each other | layers 0 to 2 |
//! | 3 paper and records | [`record`] and [`mod@print`], which read the pages' data | layers 0 to 2, [`publish`] |
//! | 4 the edge | [`disk`], [`preview`], [`cli`] | everything |

// Only `cli::terminal` writes to the terminal.
#![warn(clippy::print_stdout, clippy::print_stderr)]

pub mod chapter;
pub mod described;
pub mod finding;
pub mod near;
pub mod source;

pub mod fastener;
pub mod quantity;
pub mod wiring;

pub mod guide;

pub mod document;

pub mod publish;
pub mod review;

#[cfg(feature = "sheets")]
pub mod print;
pub mod record;

pub mod disk;
#[cfg(feature = "preview")]
pub mod preview;

pub mod cli;
