//! Tests of the whole program. Unit tests stand beside the code; here are the command line, the literate
//! cases of the rules, values from outside, the published site and the shape of the tree itself.

mod bounds;
mod cli;
mod draft;
mod history;
mod lists;
mod literate;
mod outside;
mod preview;
mod reports;
#[path = "../seeded/mod.rs"]
mod seeded;
mod sheets;
mod site;
mod start;
mod supply;
mod tidy;
mod untold;
mod vectors;
mod whole;
