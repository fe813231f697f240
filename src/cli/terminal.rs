//! What goes to the terminal: results to standard output, notes to standard error, colour only where it
//! is wanted, and no complaint when the reader of a pipe has left.

use std::io::Write;

use crate::review::report::text::Style;

/// The width where there is no terminal to ask.
const WIDTH: usize = 100;

/// Writes results to standard output.
pub(super) fn result(text: &str) {
    // A reader that has seen enough, such as `head`, closes the pipe: that is no failure.
    let _ = anstream::stdout().lock().write_all(text.as_bytes());
}

/// Writes a line to standard error.
pub(super) fn note(text: &str) {
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}

/// How findings are drawn. Colours are always asked for: the stream takes them out where they are not wanted.
pub(super) fn style() -> Style {
    let width = terminal_size::terminal_size().map_or(WIDTH, |(width, _)| usize::from(width.0));
    Style { colour: true, width: width.clamp(60, 160) }
}

/// Text that was drawn for a terminal as it stands in a file.
pub(super) fn without_colour(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

/// `1 guide`, `2 guides`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
