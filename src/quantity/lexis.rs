//! The smallest pieces of a stated value: spaces, dashes, numbers and unit spellings, found at a place in a text.
//! How they make up a value is left to `grammar`.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::LazyLock;

use super::exact::Exact;
use super::number::Number;
use super::table::{AMBIGUOUS, Ambiguous};
use super::{Dimension, Fault, FaultKind, Unit, units};

/// A place in a text. Every move ends at a character boundary.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cursor<'a> {
    pub text: &'a str,
    pub at: usize,
}

impl<'a> Cursor<'a> {
    pub(super) fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub(super) fn bump(&mut self) -> Option<char> {
        let next = self.peek()?;
        self.at += next.len_utf8();
        Some(next)
    }

    pub(super) fn skip_spaces(&mut self) {
        while self.peek().is_some_and(is_space) {
            self.bump();
        }
    }

    pub(super) fn eat(&mut self, expected: &str) -> bool {
        let found = self.rest().starts_with(expected);
        if found {
            self.at += expected.len();
        }
        found
    }

    pub(super) fn eat_char(&mut self, accepted: impl Fn(char) -> bool) -> bool {
        let found = self.peek().is_some_and(accepted);
        if found {
            self.bump();
        }
        found
    }

    /// Eats a word without regard to capitals, where it is not the beginning of a longer one; spaces in it match any spaces.
    pub(super) fn eat_word(&mut self, word: &str) -> bool {
        let mut probe = *self;
        for expected in word.chars() {
            if expected == ' ' {
                if !probe.peek().is_some_and(is_space) {
                    return false;
                }
                probe.skip_spaces();
            } else if !probe.bump().is_some_and(|found| found.eq_ignore_ascii_case(&expected)) {
                return false;
            }
        }
        if word.ends_with(char::is_alphabetic) && probe.peek().is_some_and(char::is_alphabetic) {
            return false;
        }
        *self = probe;
        true
    }
}

/// White space of every width, breaking or not.
pub(super) fn is_space(c: char) -> bool {
    c.is_whitespace() || c == '\u{2060}'
}

/// Everything typed for a dash between two numbers or a minus before one.
pub(super) fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{FE63}' | '\u{FF0D}')
}

fn is_joiner(c: char) -> bool {
    is_space(c)
        || is_dash(c)
        || matches!(c, '.' | '*' | '\u{B7}' | '\u{22C5}' | '\u{2022}' | '\u{2219}' | '\u{2027}' | '\u{30FB}' | '\u{D7}')
}

/// A number found in a text. Where the number is certain although its writing is not to be kept, there are both a number and a fault.
pub(super) struct Lexed {
    pub number: Option<Number>,
    pub fault: Option<Fault>,
    pub range: Range<usize>,
    /// Thousands were parted by a plain space, which in running prose may as well part two numbers.
    pub plain_groups: bool,
}

/// Reads the number at the cursor, if there is one.
pub(super) fn number(cursor: &mut Cursor<'_>, decimal_comma: bool) -> Option<Lexed> {
    let start = cursor.at;
    let mut probe = *cursor;
    let negative = probe.eat_char(is_dash);
    if !negative {
        probe.eat("+");
    }
    let mut lexed = unsigned(&mut probe, decimal_comma)?;
    lexed.range = start..probe.at;
    if negative && let Some(number) = &mut lexed.number {
        number.value = number.value.negated();
    }
    *cursor = probe;
    Some(lexed)
}

/// Whether a number starts here, a sign aside.
pub(super) fn starts_number(rest: &str) -> bool {
    let mut chars = rest.chars();
    match chars.next() {
        Some(c) if c.is_ascii_digit() || vulgar(c).is_some() => true,
        Some('.') => chars.next().is_some_and(|c| c.is_ascii_digit()),
        _ => false,
    }
}

fn unsigned(cursor: &mut Cursor<'_>, decimal_comma: bool) -> Option<Lexed> {
    let start = cursor.at;
    if !starts_number(cursor.rest()) {
        return None;
    }
    if let Some((over, under)) = cursor.peek().and_then(vulgar) {
        cursor.bump();
        return Some(fraction(0, over, under, start..cursor.at));
    }
    // Digits with single points or commas between them belong together; two points are a range.
    while let Some(c) = cursor.peek() {
        let next_is_digit = cursor.rest()[c.len_utf8()..].starts_with(|c: char| c.is_ascii_digit());
        if !(c.is_ascii_digit() || (matches!(c, '.' | ',') && next_is_digit)) {
            break;
        }
        cursor.bump();
    }
    let raw = &cursor.text[start..cursor.at];
    let mut plain_groups = false;
    let mut digits = raw.to_owned();
    if raw.bytes().all(|byte| byte.is_ascii_digit()) {
        if let Some(fraction) = fraction_after(cursor, start, raw) {
            return Some(fraction);
        }
        if raw.len() <= 3 && !raw.starts_with('0') {
            plain_groups = group_digits(cursor, &mut digits, decimal_comma);
        }
    }
    let range = start..cursor.at;
    let mut lexed = judge(&digits, &cursor.text[range.clone()], range, decimal_comma);
    lexed.plain_groups = plain_groups;
    Some(lexed)
}

// Takes in " 500" after "1": a space and exactly three digits, as often as there are; then the decimals, if any.
fn group_digits(cursor: &mut Cursor<'_>, digits: &mut String, decimal_comma: bool) -> bool {
    let mut plain = false;
    let mut any = false;
    loop {
        let mut probe = *cursor;
        let Some(space) = probe.bump().filter(|&c| is_space(c) && c != '\n' && c != '\r') else { break };
        let group: String = probe.rest().chars().take_while(char::is_ascii_digit).take(4).collect();
        let after = probe.rest()[group.len()..].chars().next();
        if group.len() != 3 || after == Some('/') || after == Some('\u{2044}') {
            break;
        }
        probe.at += 3;
        plain |= space == ' ';
        any = true;
        digits.push_str(&group);
        *cursor = probe;
    }
    if any && cursor.peek().is_some_and(|c| c == '.' || (c == ',' && decimal_comma)) {
        let decimals: String = cursor.rest()[1..].chars().take_while(char::is_ascii_digit).collect();
        if !decimals.is_empty() {
            digits.push_str(&cursor.rest()[..=decimals.len()]);
            cursor.at += 1 + decimals.len();
        }
    }
    plain
}

// "1/8", "1 1/8", "1-1/8", "1½": a fraction that belongs to the whole number just read.
fn fraction_after(cursor: &mut Cursor<'_>, start: usize, raw: &str) -> Option<Lexed> {
    let whole: i128 = raw.parse().ok().filter(|&whole| whole < 1_000_000_000)?;
    let mut probe = *cursor;
    if let Some((over, under)) = ratio_tail(&mut probe, whole) {
        *cursor = probe;
        return Some(fraction(0, over, under, start..cursor.at));
    }
    let joined = probe.eat_char(|c| is_space(c) || matches!(c, '-' | '\u{2010}' | '\u{2011}'));
    if let Some((over, under)) = probe.peek().and_then(vulgar) {
        probe.bump();
        *cursor = probe;
        return Some(fraction(whole, over, under, start..cursor.at));
    }
    if !joined {
        return None;
    }
    let over: String = probe.rest().chars().take_while(char::is_ascii_digit).take(4).collect();
    probe.at += over.len();
    let (over, under) = ratio_tail(&mut probe, over.parse().ok()?)?;
    if over >= under {
        return None;
    }
    *cursor = probe;
    Some(fraction(whole, over, under, start..cursor.at))
}

// The "/8" of a fraction. Only denominators that rules and drills carry count; anything else is a slash between two values.
fn ratio_tail(cursor: &mut Cursor<'_>, over: i128) -> Option<(i128, i128)> {
    if !cursor.eat_char(|c| matches!(c, '/' | '\u{2044}')) {
        return None;
    }
    let under: String = cursor.rest().chars().take_while(char::is_ascii_digit).take(4).collect();
    cursor.at += under.len();
    let under = under.parse().ok().filter(|under| matches!(under, 2..=6 | 8 | 10 | 12 | 16 | 32 | 64 | 128))?;
    let mut next = cursor.rest().chars();
    let ends = !matches!((next.next(), next.next()), (Some('.' | ','), Some('0'..='9')) | (Some('0'..='9' | '/'), _));
    ends.then_some((over, under))
}

fn fraction(whole: i128, over: i128, under: i128, range: Range<usize>) -> Lexed {
    let number = Exact::fraction(whole * under + over, under).map(|value| Number::fraction(value, u32::try_from(under).unwrap_or(1)));
    Lexed { number, fault: None, range, plain_groups: false }
}

fn judge(digits: &str, written: &str, range: Range<usize>, decimal_comma: bool) -> Lexed {
    let (own, other) = if decimal_comma { (',', '.') } else { ('.', ',') };
    let refuse = |message: String, remedy: &str| Lexed {
        number: None,
        fault: Some(Fault::new(FaultKind::ValueUnreadable, range.clone(), message, remedy)),
        range: range.clone(),
        plain_groups: false,
    };
    let marks: Vec<(usize, char)> = digits.char_indices().filter(|(_, c)| matches!(c, '.' | ',')).collect();
    if marks.len() > 1 {
        return refuse(
            format!("\"{written}\" has more than one point or comma"),
            "write the number with one decimal point and nothing between thousands",
        );
    }
    let Some(&(place, mark)) = marks.first() else {
        return valued(digits, "", written, range);
    };
    let (before, after) = (&digits[..place], &digits[place + 1..]);
    if mark == own {
        return valued(before, after, written, range);
    }
    let thousands = after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
    if thousands {
        let message = format!("\"{written}\" can be read as {before}{after} or as {before}{own}{after}");
        return refuse(message, "write it without a mark between thousands, or with the decimal mark if that is meant");
    }
    let mut lexed = valued(before, after, written, range.clone());
    if other == ',' && lexed.number.is_some() {
        let repaired = format!("{before}.{after}");
        let remedy = format!("write a decimal point: {repaired}");
        let message = format!("\"{written}\" has a decimal comma");
        lexed.fault = Some(Fault::new(FaultKind::ValueUnreadable, range, message, remedy).with_replacement(repaired));
    }
    lexed
}

fn valued(before: &str, after: &str, written: &str, range: Range<usize>) -> Lexed {
    let significant = format!("{before}{after}");
    let significant = significant.trim_start_matches('0');
    let mut lexed = Lexed { number: None, fault: None, range: range.clone(), plain_groups: false };
    if significant.len() > 15 || after.len() > 12 {
        let remedy = "write no more digits than can be measured";
        lexed.fault =
            Some(Fault::new(FaultKind::ValueUnreadable, range, format!("\"{written}\" has too many digits to be a value"), remedy));
        return lexed;
    }
    let value: i128 = significant.parse().unwrap_or(0);
    lexed.number = Number::decimal(value, u32::try_from(after.len()).unwrap_or(0));
    lexed
}

/// Numerator and denominator of a fraction that is one character.
fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        _ => return None,
    })
}

/// What a spelling stands for.
#[derive(Clone, Copy, Debug)]
pub(super) enum Meaning {
    Unit(&'static Unit),
    Ambiguous(&'static Ambiguous),
}

impl Meaning {
    pub(super) fn dimension(self) -> Dimension {
        match self {
            Self::Unit(unit) => unit.dimension,
            Self::Ambiguous(doubt) => doubt.dimension,
        }
    }
}

struct Entry {
    spelling: &'static str,
    folded: bool,
    meaning: Meaning,
}

// By first character, so that a number in prose is tried against a handful of spellings and not against all.
static ENTRIES: LazyLock<BTreeMap<char, Vec<Entry>>> = LazyLock::new(|| {
    let mut entries: BTreeMap<char, Vec<Entry>> = BTreeMap::new();
    let mut enter = |spellings: &'static [&'static str], folded: bool, meaning: Meaning| {
        for spelling in spellings {
            for first in firsts(spelling, folded) {
                entries.entry(first).or_default().push(Entry { spelling, folded, meaning });
            }
        }
    };
    for unit in units() {
        enter(unit.spellings, false, Meaning::Unit(unit));
        enter(unit.words, true, Meaning::Unit(unit));
    }
    for doubt in AMBIGUOUS {
        enter(doubt.spellings, false, Meaning::Ambiguous(doubt));
        enter(doubt.words, true, Meaning::Ambiguous(doubt));
    }
    entries
});

fn firsts(spelling: &str, folded: bool) -> Vec<char> {
    let first = spelling.chars().next().unwrap_or(' ');
    let mut all = vec![first];
    if folded && first.is_ascii_alphabetic() {
        all = vec![first.to_ascii_lowercase(), first.to_ascii_uppercase()];
    }
    all.extend(match first {
        'µ' => vec!['\u{3BC}'],
        'Ω' => vec!['\u{2126}'],
        '°' => vec!['\u{BA}', '\u{2DA}'],
        _ => Vec::new(),
    });
    all
}

/// The meanings of the longest unit spelling at the start of `rest`, and its length in bytes; a full stop after it is not part of it.
pub(super) fn unit_at(rest: &str) -> Option<(usize, Vec<Meaning>)> {
    let first = rest.chars().next()?;
    let mut longest = 0;
    let mut meanings = Vec::new();
    for entry in ENTRIES.get(&first)? {
        let Some(length) = match_spelling(rest, entry) else { continue };
        if length > longest {
            longest = length;
            meanings.clear();
        }
        if length == longest {
            meanings.push(entry.meaning);
        }
    }
    (longest > 0).then_some((longest, meanings))
}

fn match_spelling(rest: &str, entry: &Entry) -> Option<usize> {
    let mut cursor = Cursor { text: rest, at: 0 };
    for expected in entry.spelling.chars() {
        let matched = match expected {
            '·' => {
                // Three are enough for ". -" and the like; more would be two sentences.
                for _ in 0..3 {
                    if !cursor.eat_char(is_joiner) {
                        break;
                    }
                }
                true
            }
            ' ' => {
                cursor.eat_char(is_space);
                true
            }
            '²' => cursor.eat_char(|c| matches!(c, '²' | '2')) || cursor.eat("^2"),
            '³' => cursor.eat_char(|c| matches!(c, '³' | '3')) || cursor.eat("^3"),
            'µ' => cursor.eat_char(|c| matches!(c, 'µ' | '\u{3BC}')),
            'Ω' => cursor.eat_char(|c| matches!(c, 'Ω' | '\u{2126}')),
            '°' => cursor.eat_char(|c| matches!(c, '°' | '\u{BA}' | '\u{2DA}')),
            _ => cursor.eat_char(|c| c == expected || (entry.folded && c.eq_ignore_ascii_case(&expected))),
        };
        if !matched {
            return None;
        }
    }
    let last = entry.spelling.chars().next_back()?;
    // "1h30min" is the one place where a digit is joined to a letter that is a whole unit.
    let before_minutes = entry.spelling == "h" && cursor.peek().is_some_and(|c| c.is_ascii_digit());
    (before_minutes || ends_unit(last, cursor.rest())).then_some(cursor.at)
}

// A unit ends where no letter, power or further unit is joined to it: "V" is no unit in "V-belt", nor "m" in "m/s".
fn ends_unit(last: char, rest: &str) -> bool {
    let mut chars = rest.chars();
    let Some(next) = chars.next() else { return true };
    let after = chars.next();
    if next.is_ascii_digit() && !last.is_alphanumeric() {
        return true;
    }
    if next.is_alphanumeric() || matches!(next, '°' | '^' | '⁻' | '\u{B7}' | '\u{22C5}' | '#' | '%' | '_') {
        return false;
    }
    let joins = is_dash(next) || matches!(next, '/' | '.' | '*' | '\'' | '\u{2019}');
    !(joins && after.is_some_and(char::is_alphabetic))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_end_where_they_end() {
        for (text, taken, value) in [
            ("8..12", "8", Some("8")),
            ("1 1/8 in", "1 1/8", Some("1.125")),
            ("1-1/8", "1-1/8", Some("1.125")),
            ("1½", "1½", Some("1.5")),
            ("1/min", "1", Some("1")),
            ("45/33 lb", "45", Some("45")),
            ("1 500 N", "1 500", Some("1500")),
            ("1 5000", "1", Some("1")),
            ("12 500.5", "12 500.5", Some("12500.5")),
            ("−40", "−40", Some("−40")),
            ("1.2.3", "1.2.3", None),
            ("1234567890123456", "1234567890123456", None),
            (".5", ".5", Some("0.5")),
        ] {
            let mut cursor = Cursor { text, at: 0 };
            let lexed = number(&mut cursor, false).expect("the text begins with a number");
            assert_eq!(&text[lexed.range], taken, "{text}");
            assert_eq!(lexed.number.map(|number| number.value.to_string()).as_deref(), value, "{text}");
            assert_eq!(lexed.number.is_none(), lexed.fault.is_some(), "{text}");
        }
    }

    #[test]
    fn the_longest_unit_wins_and_ends_at_a_word() {
        for (text, symbol) in [
            ("N", Some("N")),
            ("N m", Some("N·m")),
            ("N·mm", None),
            ("in. lbs.", Some("lb·in")),
            ("in Hg", Some("inHg")),
            ("m/s", None),
            ("V-belt", None),
            ("mmHg", Some("mmHg")),
            ("kg/cm2", Some("kgf/cm²")),
            ("℃", Some("°C")),
        ] {
            let unit = unit_at(text).and_then(|(_, meanings)| match meanings[0] {
                Meaning::Unit(unit) => Some(unit.symbol),
                Meaning::Ambiguous(_) => None,
            });
            assert_eq!(unit, symbol, "{text}");
        }
    }
}
