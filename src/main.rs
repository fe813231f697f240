//! The program: hands its arguments to [`bayleaf::cli::run`] and turns the outcome into the exit status.

use std::process::ExitCode;

/// A page is thousands of small texts: this allocator makes the whole program faster (see the bench `shop`).
#[cfg(feature = "mimalloc")]
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    ExitCode::from(bayleaf::cli::run(std::env::args_os()).code())
}
