//! What goes to the terminal: results to standard output, notes to standard error, colour only where it
//! is wanted, and no complaint when the reader of a pipe has left.

use std::borrow::Cow;
use std::io::{IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use anstream::{AutoStream, ColorChoice};

use crate::review::report::text::Style;

/// The width where there is no terminal to ask.
const WIDTH: usize = 100;

/// How findings are drawn into a file: the same from every terminal.
pub(super) const FILE: Style = Style { colour: false, width: WIDTH };

/// Writes results to standard output.
pub(super) fn result(text: &str) {
    write(&mut anstream::stdout().lock(), &harmless(text, false));
}

/// Writes findings, which have colours, to standard output.
pub(super) fn drawn(text: &str) {
    write(&mut anstream::stdout().lock(), &harmless(text, true));
}

/// Writes what is meant for a program to standard output, as it is.
pub(super) fn data(text: &str) {
    write(&mut std::io::stdout().lock(), text);
}

/// Writes a line to standard error.
pub(super) fn note(text: &str) {
    write(&mut anstream::stderr().lock(), &format!("{}\n", harmless(text, false)));
}

/// Writes findings, which have colours, to standard error.
pub(super) fn drawn_note(text: &str) {
    write(&mut anstream::stderr().lock(), &format!("{}\n", harmless(text, true)));
}

fn write(to: &mut impl Write, text: &str) {
    // A reader that has seen enough, such as `head`, closes the pipe: that is no failure.
    let _ = to.write_all(text.as_bytes());
}

/// A text in which nothing steers a terminal, hides or turns what stands beside it: such characters stand by their number. Names of files,
/// records and guides come from anywhere. With `colours` the sequences that set them stay, since findings are drawn with them.
pub(super) fn harmless(text: &str, colours: bool) -> Cow<'_, str> {
    if !text.chars().any(steers) {
        return Cow::Borrowed(text);
    }
    let mut clean = String::with_capacity(text.len() + 16);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let colour = if colours { colour(rest) } else { 0 };
        if colour > 0 {
            clean.push_str(&rest[..colour]);
            rest = &rest[colour..];
            continue;
        }
        if steers(c) {
            clean.push_str(&format!("[U+{:04X}]", u32::from(c)));
        } else {
            clean.push(c);
        }
        rest = &rest[c.len_utf8()..];
    }
    Cow::Owned(clean)
}

/// How long the sequence is that sets a colour at the start of a text (ECMA-48, 8.3.117: SELECT GRAPHIC RENDITION); 0 if there is none.
fn colour(text: &str) -> usize {
    let Some(numbers) = text.strip_prefix("\u{1b}[") else { return 0 };
    let end = numbers.find(|c: char| !c.is_ascii_digit() && c != ';');
    end.filter(|end| numbers[*end..].starts_with('m')).map_or(0, |end| end + 3)
}

/// Controls but the end of a line and the tabulator (ECMA-48), and characters of no width or that turn the direction (Unicode, general
/// category Cf).
fn steers(c: char) -> bool {
    c.is_control() && !matches!(c, '\n' | '\t')
        || matches!(u32::from(c), 0x034f | 0x061c | 0x180e | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0xfe00..=0xfe0f | 0xfeff | 0xfff9..=0xfffb | 0xe0000..=0xe0fff)
}

/// How far a long run has come: a bar on a terminal, nothing elsewhere. It shows only what takes longer than a moment.
pub(super) struct Progress {
    bar: Option<ProgressBar>,
    start: Instant,
    shown: AtomicBool,
}

impl Progress {
    /// So long nothing is shown.
    const QUIET: Duration = Duration::from_millis(700);

    /// Begins a run over so many guides.
    pub(super) fn start(guides: usize) -> Self {
        let bar = std::io::stderr().is_terminal().then(|| {
            let bar = ProgressBar::with_draw_target(Some(guides as u64), ProgressDrawTarget::hidden());
            let style = ProgressStyle::with_template("{bar:30} {pos} of {len} guides, {eta} to go");
            bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
            bar
        });
        Progress { bar, start: Instant::now(), shown: AtomicBool::new(false) }
    }

    /// One guide more is done.
    pub(super) fn step(&self) {
        let Some(bar) = &self.bar else { return };
        if self.start.elapsed() > Self::QUIET && !self.shown.swap(true, Ordering::Relaxed) {
            bar.set_draw_target(ProgressDrawTarget::stderr_with_hz(8));
        }
        bar.inc(1);
    }

    /// Takes the bar off the terminal.
    pub(super) fn end(&self) {
        self.bar.iter().for_each(ProgressBar::finish_and_clear);
    }
}

/// How findings are drawn: with colours, and underlined by the terminal, where both streams take them.
pub(super) fn style() -> Style {
    let width = terminal_size::terminal_size().map_or(WIDTH, |(width, _)| usize::from(width.0));
    // Findings go to either stream, and what is stripped of its colours on the way out has lost its underlining.
    let plain = |choice: ColorChoice| choice == ColorChoice::Never;
    let colour = !plain(AutoStream::choice(&std::io::stdout())) && !plain(AutoStream::choice(&std::io::stderr()));
    Style { colour, width: width.clamp(60, 160) }
}

/// `1 guide`, `2 guides`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_steers_the_terminal() {
        let hostile = "a\u{1b}]0;title\u{7}b\u{9b}31mc\u{1b}[2Jd\r\u{8}e\u{202e}f\u{200b}g\u{7f}\u{0}\u{1b}[31";
        for colours in [false, true] {
            let clean = harmless(hostile, colours);
            assert!(clean.chars().all(|c| !steers(c)), "{clean:?}");
            assert!(clean.contains("a[U+001B]]0;title[U+0007]b[U+009B]31mc[U+001B][2Jd[U+000D][U+0008]e[U+202E]f[U+200B]g"), "{clean}");
        }
        assert_eq!(harmless("\u{1b}[1;31mred\u{1b}[0m", true), "\u{1b}[1;31mred\u{1b}[0m");
        assert_eq!(harmless("\u{1b}[8mhidden", false), "[U+001B][8mhidden");
        assert!(matches!(harmless("plain, ä — ½ 漢\n\tx", false), Cow::Borrowed(_)));
    }
}
