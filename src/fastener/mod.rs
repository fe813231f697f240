//! Threaded fasteners as the trade knows them: threads, strength classes, drives, holes, tightening orders and the window in which a
//! torque is believable. Which guide or key a text stands in, and how an objection is reported, is left to the review.
//!
//! Nothing here gives a torque to work by: the sums only say when a stated torque is hard to believe. They are engineering estimates
//! in binary floating point, printed to two digits; the values of a guide itself stay exact in `quantity`.

pub mod adapter;
pub mod class;
pub mod drive;
mod drive_read;
mod drive_table;
pub mod engagement;
mod friction;
pub mod hole;
pub mod limit;
pub mod neighbour;
pub mod pattern;
#[cfg(test)]
mod properties;
pub mod special;
pub mod stage;
pub mod thread;
mod thread_read;
mod thread_table;
pub mod turn;

pub use class::{Class, Standard};
pub use drive::Drive;
pub use thread::Thread;

/// What is wrong or doubtful with a text or an order: one lower-case phrase with the values in it, and the remedy apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Objection {
    /// What is wrong, without a full stop.
    pub message: String,
    /// What the author can do, in the same style.
    pub remedy: String,
}

impl Objection {
    fn new(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { message: message.into(), remedy: remedy.into() }
    }
}

/// A text that could be read, with what is doubtful about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading<T> {
    /// What the text says.
    pub value: T,
    /// What is unusual about it; empty for a plain standard designation.
    pub doubts: Vec<Objection>,
}

/// What sort of fastener a thread, class or torque belongs to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Bolt or stud.
    #[default]
    Bolt,
    /// Nut: its class is that of ISO 898-2, and the bolt in it is not known.
    Nut,
    /// Machine screw.
    Screw,
    /// Band clamp: its torque closes a band and stretches no bolt, so no window is known.
    Clamp,
    /// Pipe nut, union, cable gland or plug: its torque seals and stretches no bolt, so no window is known.
    Fitting,
}

impl Kind {
    /// The kind of this word in a guide; a bolt where nothing is said, none for what has no thread: clips, rivets, ties, washers.
    pub fn named(word: Option<&str>) -> Option<Self> {
        match word {
            None | Some("bolt" | "stud") => Some(Self::Bolt),
            Some("nut") => Some(Self::Nut),
            Some("screw") => Some(Self::Screw),
            Some("clamp") => Some(Self::Clamp),
            Some("fitting") => Some(Self::Fitting),
            Some(_) => None,
        }
    }
}

/// A text without the differences that carry no meaning: one sort of dash, multiplication sign, inch mark and space.
///
/// A decimal comma becomes a point, and "½" becomes "1/2".
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        let fraction = match c {
            '½' => "1/2",
            '¼' => "1/4",
            '¾' => "3/4",
            '⅛' => "1/8",
            '⅜' => "3/8",
            '⅝' => "5/8",
            '⅞' => "7/8",
            _ => "",
        };
        if !fraction.is_empty() {
            if plain.ends_with(|c: char| c.is_ascii_digit()) {
                plain.push(' ');
            }
            plain.push_str(fraction);
            continue;
        }
        let c = match c {
            '×' | '✕' | '*' => 'x',
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            '\u{201C}' | '\u{201D}' | '\u{2033}' => '"',
            '\u{2044}' => '/',
            ',' => '.',
            c if c.is_whitespace() => ' ',
            c => c,
        };
        if c != ' ' || !plain.ends_with(' ') {
            plain.push(c);
        }
    }
    plain
}

/// Joins names as a sentence does: "1.25, 1 or 0.75".
fn one_of(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

/// At most 40 characters of a text for a message.
fn shortened(text: &str) -> String {
    if text.chars().count() <= 40 { text.to_owned() } else { text.chars().take(40).chain(['…']).collect() }
}

/// A cursor over a plain text that takes numbers and words off its front.
struct Cursor<'t> {
    rest: &'t str,
}

impl<'t> Cursor<'t> {
    fn new(text: &'t str) -> Self {
        Self { rest: text.trim_start() }
    }

    fn skip(&mut self, count: usize) {
        self.rest = self.rest[count..].trim_start();
    }

    /// Takes this word or sign off, whatever its case; a word must not go on after it.
    fn take(&mut self, word: &str) -> bool {
        let Some(front) = self.rest.get(..word.len()) else { return false };
        let goes_on = word.ends_with(|c: char| c.is_ascii_alphabetic()) && self.rest[word.len()..].starts_with(|c: char| c.is_alphabetic());
        let takes = front.eq_ignore_ascii_case(word) && !goes_on;
        if takes {
            self.skip(word.len());
        }
        takes
    }

    /// Takes any of these off; true if one was there. Longer ones stand before shorter ones.
    fn take_any(&mut self, words: &[&str]) -> bool {
        words.iter().any(|word| self.take(word))
    }

    /// Takes a number off the front: its digits as a whole number, and how many of them stand after the point.
    fn decimal(&mut self) -> Option<(u32, u32)> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(self.rest.len());
        // The point of "No." or of a sentence's end is no part of a number.
        let text = self.rest[..end].trim_end_matches('.');
        let (whole, part) = text.split_once('.').unwrap_or((text, ""));
        if text.is_empty() || part.contains('.') || whole.len() + part.len() > 7 {
            return None;
        }
        let digits = format!("{whole}{part}").parse().ok()?;
        self.skip(text.len());
        Some((digits, part.len() as u32))
    }

    /// Takes a number in thousandths off the front.
    fn thousandths(&mut self) -> Option<u32> {
        let before = self.rest;
        let taken = self.decimal().filter(|(_, places)| *places <= 3);
        let value = taken.and_then(|(digits, places)| digits.checked_mul(10_u32.pow(3 - places)));
        if value.is_none() {
            self.rest = before;
        }
        value
    }

    /// Takes a whole number off the front.
    fn whole(&mut self) -> Option<u32> {
        let before = self.rest;
        let value = self.decimal().filter(|(_, places)| *places == 0).map(|(digits, _)| digits);
        if value.is_none() {
            self.rest = before;
        }
        value
    }

    /// Takes a fraction or mixed number off the front, "3/8", "1 1/8" or "1-1/8", as sixty-fourths.
    fn sixty_fourths(&mut self) -> Option<u32> {
        let before = self.rest;
        let value = (|| {
            let first = self.whole()?;
            if self.take("/") {
                return share(first, self.whole()?);
            }
            self.take("-");
            let over = self.whole()?;
            let part = self.take("/").then(|| self.whole())??;
            first.checked_mul(64)?.checked_add(share(over, part)?)
        })();
        if value.is_none() {
            self.rest = before;
        }
        value
    }
}

fn share(over: u32, under: u32) -> Option<u32> {
    let parts = over.checked_mul(64)?;
    (over > 0 && under > 0 && parts.is_multiple_of(under)).then(|| parts / under)
}

/// Sixty-fourths of an inch as the trade writes them: 24 is "3/8", 72 is "1 1/8".
fn inch_text(sixty_fourths: u32) -> String {
    let (whole, mut over, mut under) = (sixty_fourths / 64, sixty_fourths % 64, 64);
    while over > 0 && over.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{over}/{under}"),
        _ => format!("{whole} {over}/{under}"),
    }
}

/// Thousandths as a decimal without zeros at its end: 1250 is "1.25".
fn thousandths_text(thousandths: u32) -> String {
    let text = format!("{}.{:03}", thousandths / 1000, thousandths % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
