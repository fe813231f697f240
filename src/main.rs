//! The program: hands its arguments to [`bayleaf::cli::run`] and turns the outcome into the exit status.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(bayleaf::cli::run(std::env::args_os()).code())
}
