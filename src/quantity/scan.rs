//! Finds values with a unit in running prose: only those that can be nothing else.
//! It reports no faults, since a sentence is not a value; comparing what it finds with a spec is left to the review.
//!
//! A sentence is full of numbers that are no values: counts, sizes of fasteners, part numbers, dates. So a number counts only with a
//! known unit, in a place where a value can stand; where the word behind it may belong to the sentence, the number is left alone.

use std::ops::Range;

use super::grammar::{Limit, Parser, Part, Seen, limit_before, strip_word};
use super::lexis::{Cursor, is_dash, is_space, starts_number};
use super::number::{Number, Written};
use super::read::MOST_STATEMENTS;
use super::{Dimension, Form, Options, Quantity, Statement};

/// A value found in running prose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scanned {
    /// Where it stands, in bytes of the text; from the first digit or limit word to the end of the last unit or bracket.
    pub range: Range<usize>,
    /// The value; the ranges of its statements are bytes of the whole text too.
    pub quantity: Quantity,
}

/// Finds the values with a unit in running prose, in the order of the text. The default unit of `options` plays no part.
pub fn scan(text: &str, options: &Options) -> Vec<Scanned> {
    let options = Options { default_unit: None, ..*options };
    let mut found = Vec::new();
    let mut quotes = Quotes::default();
    let (mut at, mut floor, mut named) = (0, 0, None);
    while let Some(step) = text[at..].find(may_begin) {
        let start = at + step;
        quotes.advance(&text[at..start]);
        let listed = named.is_some_and(|end| continues_list(&text[end..start]));
        let attempt = if joined(text, floor, start) {
            Attempt::Nothing
        } else if listed || labelled(&text[..start]) {
            match bare_end(text, start, options) {
                Some(end) => {
                    named = Some(end);
                    Attempt::Passed(end)
                }
                None => value_at(text, floor, start, options, quotes),
            }
        } else {
            value_at(text, floor, start, options, quotes)
        };
        let end = match attempt {
            Attempt::Value(value) => {
                // Its inch marks are no quotation marks, so they are not counted.
                at = value.range.end;
                floor = at;
                found.push(*value);
                continue;
            }
            Attempt::Passed(end) => end.max(token_end(text, start)),
            Attempt::Nothing => token_end(text, start),
        };
        quotes.advance(&text[start..end]);
        at = end;
    }
    found
}

// Whether a double quotation mark is open, for then the next one closes it and is no inch mark.
#[derive(Clone, Copy, Default)]
struct Quotes {
    open: bool,
}

impl Quotes {
    fn advance(&mut self, passed: &str) {
        if passed.bytes().filter(|&byte| byte == b'"').count() % 2 == 1 {
            self.open = !self.open;
        }
    }
}

enum Attempt {
    Value(Box<Scanned>),
    /// No value, but so much of the text belongs together that nothing can begin inside it.
    Passed(usize),
    Nothing,
}

fn may_begin(c: char) -> bool {
    c.is_ascii_digit() || (!c.is_ascii() && starts_number(c.encode_utf8(&mut [0; 4])))
}

// A token runs on over whatever is joined to it without a space: "3500-series", "2026-09-14", "3/8-16".
fn token_end(text: &str, start: usize) -> usize {
    let length =
        text[start..].find(|c: char| !(c.is_alphanumeric() || is_dash(c) || matches!(c, '.' | '/' | '_'))).unwrap_or(text.len() - start);
    start + length.max(text[start..].chars().next().map_or(0, char::len_utf8))
}

// Words before a number that make it a name and not a value.
const LABELS: &str = "\
    step steps page pages figure figures fig photo photos picture item items pin pins part parts no nos number numbers group \
    section chapter table row line size grade class issue revision bolt bolts nut nuts screw screws stud studs stage pass \
    terminal terminals fuse relay type all both position positions cylinder cylinders zone hole holes point points version \
    model";

// Whether the number belongs to the characters right before it: "M8", "SB-40", "1.5.2".
fn joined(text: &str, floor: usize, start: usize) -> bool {
    let mut back = text[..start].chars().rev();
    match back.next() {
        None | Some('Ø' | '⌀') => false,
        Some(c) if c.is_alphanumeric() || matches!(c, '_' | '#' | '$' | '€' | '£' | '°' | '\'' | '’' | '^' | '.' | ',') => true,
        Some(':') => back.next().is_some_and(|c| c.is_ascii_digit()),
        Some(c) if is_dash(c) || matches!(c, '/' | '+') => {
            // A sign stands after a space, and a slash may follow a value; anything else is one word with the number.
            let before = back.next();
            before.is_some_and(|c| !(is_space(c) || matches!(c, '(' | '[' | '"'))) && start > floor + c.len_utf8()
        }
        Some(_) => false,
    }
}

fn labelled(before: &str) -> bool {
    // Only the word right before the number counts, so the look back is short.
    let line = before.trim_end_matches(|c: char| is_space(c) || c == '.');
    let word: String = line.chars().rev().take_while(|c| c.is_alphabetic()).take(12).collect();
    let word: String = word.chars().rev().flat_map(char::to_lowercase).collect();
    LABELS.split(' ').any(|label| label == word)
}

// "bolts 3 and 4": what follows a named number with nothing but a connector between is named too.
fn continues_list(between: &str) -> bool {
    matches!(between.trim_matches(is_space), "," | "and" | "or" | "&" | "to" | ", and" | "/")
        || (between.len() <= 3 && between.chars().all(is_dash))
}

// The end of a number, or range of numbers, that is a name: of "bolts 1 to 4 to 9 N·m" it is that of the 4, and of "all 4 to 9 N·m"
// too. "Bolts 30 mm long" has no name in it; "pin 2 A" may, so one letter is not enough.
fn bare_end(text: &str, start: usize, options: Options) -> Option<usize> {
    let mut parser = Parser::new(text, start, None, options);
    match parser.statement() {
        Some(Part { unit: None, .. }) => Some(parser.cursor.at),
        Some(Part { unit: Some(seen), form: Some(form), .. }) if seen.range.len() > 1 && !matches!(form, Form::Range(..)) => None,
        _ => Some(token_end(text, start)),
    }
}

fn value_at(text: &str, floor: usize, start: usize, options: Options, quotes: Quotes) -> Attempt {
    // A sign before the number belongs to it.
    let sign = text[floor..start].chars().next_back().filter(|&c| is_dash(c)).map_or(0, char::len_utf8);
    let mut begin = start - sign;
    if let Some(rest) = strip_word(text[floor..begin].trim_end_matches(is_space), "between") {
        begin = floor + rest.len();
    }
    let mut parser = Parser::new(text, begin, None, options);
    let Some(part) = parser.statement() else { return Attempt::Nothing };
    let end = parser.cursor.at;
    let Some(leading) = settled(&parser, &part, quotes) else {
        // "1 to 4" without a unit is passed over whole, lest its end be taken for the beginning of "4 to 9 N·m".
        return Attempt::Passed(end);
    };
    let dimension = leading.unit.dimension;
    let mut range = leading.range.clone();
    let mut statements = vec![leading];
    let mut angle = parser.angle();
    let mut end = parser.cursor.at;
    while let Some((beside, after, turn)) = beside(text, end, &statements, options, quotes) {
        statements.extend(beside);
        end = after;
        angle = angle.or(turn);
        parser.cursor.at = end;
        if angle.is_none() {
            angle = parser.angle();
            end = parser.cursor.at;
        }
    }
    range.end = end;
    if let Some((limit, length)) = limit_before(&text[floor..begin])
        && statements.iter().all(|statement| matches!(statement.form, Form::Single(_)))
    {
        range.start = floor + length;
        for statement in &mut statements {
            limit_statement(statement, limit);
        }
        statements[0].range.start = range.start;
    } else if let Some(limit) = match statements[0].form {
        Form::Max(_) => Some(Limit::Max),
        Form::Min(_) => Some(Limit::Min),
        _ => None,
    } {
        statements.iter_mut().for_each(|statement| limit_statement(statement, limit));
    }
    Attempt::Value(Box::new(Scanned { range, quantity: Quantity { dimension, statements, angle } }))
}

fn limit_statement(statement: &mut Statement, limit: Limit) {
    if let Form::Single(number) = statement.form {
        statement.form = if limit == Limit::Max { Form::Max(number) } else { Form::Min(number) };
    }
}

// The same value in further units, in brackets or after a slash. A value in the same unit is another value.
fn beside(
    text: &str,
    at: usize,
    stated: &[Statement],
    options: Options,
    quotes: Quotes,
) -> Option<(Vec<Statement>, usize, Option<Statement>)> {
    let mut cursor = Cursor { text, at };
    cursor.skip_spaces();
    let bracket = cursor.eat("(");
    if !bracket && !cursor.eat("/") {
        return None;
    }
    let mut parser = Parser::new(text, cursor.at, Some(stated[0].unit.dimension), options);
    parser.prose = true;
    let mut found: Vec<Statement> = Vec::new();
    let mut angle = None;
    loop {
        let part = parser.statement()?;
        let statement = settled(&parser, &part, quotes)?;
        if stated.len() + found.len() >= MOST_STATEMENTS || stated.iter().chain(&found).any(|other| other.unit == statement.unit) {
            return None;
        }
        found.push(statement);
        angle = angle.or_else(|| parser.angle());
        if !bracket {
            break;
        }
        parser.cursor.skip_spaces();
        if parser.cursor.eat(")") {
            break;
        }
        if !parser.cursor.eat_char(|c| matches!(c, ',' | ';' | '/')) {
            return None;
        }
    }
    Some((found, parser.cursor.at, angle))
}

// A statement that is certain in prose, with its dimension's own unit and no fault.
fn settled(parser: &Parser<'_>, part: &Part, quotes: Quotes) -> Option<Statement> {
    let seen = part.unit.as_ref()?;
    let Seen::Unit(unit) = seen.seen else { return None };
    let form = part.form.clone()?;
    // A decimal comma is a slip of the pen, and the value is as certain as with a point.
    if parser.faults.iter().any(|fault| fault.replacement.is_none()) || parser.plain_groups {
        return None;
    }
    if let Form::Range(low, high) = &form
        && low.value > high.value
    {
        return None;
    }
    let text = parser.cursor.text;
    let written = &text[seen.range.clone()];
    let after = &text[seen.range.end..];
    plain_unit(unit.dimension, written, form.numbers()[0], after, &text[..seen.range.start], quotes.open).then(|| Statement {
        form,
        unit,
        range: part.range.clone(),
    })
}

// Whether a unit's letters, standing here, can be nothing but the unit.
fn plain_unit(dimension: Dimension, written: &str, number: &Number, after: &str, before: &str, quote_open: bool) -> bool {
    let next = after.trim_start_matches(is_space);
    let word: String = next.chars().take_while(|c| c.is_alphabetic()).take(12).collect::<String>().to_lowercase();
    let count = matches!(number.written, Written::Decimal { decimals: 0 });
    match written {
        "C" | "F" | "K" | "PS" | "ch" | "cv" | "CV" | "'" | "’" | "″" | "”" | "''" | "turns" => false,
        "turn" | "Turn" => matches!(number.written, Written::Fraction { .. }),
        "\"" => !quote_open,
        // "2 in the tray", but "1/8 in gap" and "2 in long".
        "in" | "In" | "IN" => {
            const SIZES: &[&str] = &[
                "long", "wide", "deep", "high", "thick", "apart", "from", "hole", "drill", "bit", "diameter", "gap", "of", "clear",
                "behind", "above", "below",
            ];
            !count || SIZES.contains(&word.as_str()) || next.starts_with(['(', ')', ';', '/', '±'])
        }
        "A" => !["pillar", "pillars", "post", "posts", "frame", "frames", "arm", "arms", "side", "sides", "class"].contains(&word.as_str()),
        "V" => {
            !["belt", "belts", "block", "blocks", "band", "bands", "clamp", "clamps", "groove", "notch", "shape"].contains(&word.as_str())
        }
        "L" | "l" => !["bracket", "brackets", "shape", "plate", "plates", "section"].contains(&word.as_str()),
        "bar" | "Bar" => !["clamp", "clamps", "end", "ends", "mount", "mounts", "feet", "foot", "kit", "set"].contains(&word.as_str()),
        "bars" | "Bars" => false,
        "foot" => !["rest", "rests", "well", "wells", "plate", "plates", "pedal", "pedals", "board", "boards"].contains(&word.as_str()),
        "second" | "Second" => number.value == super::Exact::ONE || before.ends_with(is_dash),
        _ if dimension == Dimension::Angle => {
            // "90 degrees" may be heat; the words before it tell.
            let from = before.char_indices().rev().take(60).last().map_or(0, |(place, _)| place);
            let near = before[from..].to_lowercase();
            let says = |words: &[&str]| words.iter().any(|word| near.contains(word));
            if written == "°" {
                !says(&["heat", "warm", "cool", "temperature", "oven"])
            } else {
                says(&["turn", "rotat", "angle", "further", "tighten", "clockwise", "through", "swing", "tilt"])
            }
        }
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::super::spell;
    use super::*;

    fn found(text: &str) -> Vec<(&str, String)> {
        scan(text, &Options::default()).into_iter().map(|found| (&text[found.range.clone()], spell(&found.quantity))).collect()
    }

    #[test]
    fn counts_names_and_sizes_are_no_values() {
        for text in [
            "Fit 4 bolts M8, T50, as in step 3 and page 3 of SB-40.",
            "A 3/8-16 UNC stud, M10x1.25, 2026-09-14, 1 to 4, 2 in the tray, 4 A-pillar clips.",
            "a 2 in 1 adapter, 2 V-belts, 4 A pillars, 2 L brackets, 2 bar clamps, 2 turn signals",
            "Heat to 90 degrees; \"step 3\" follows.",
            "1,500 kg, about 1.2.3 mm, 3 m/s, 9 lbf/in, SB-40 mm",
            "bolts 3 and 4, fuse F2, pin 2 A, 5 gal",
        ] {
            assert_eq!(found(text), [], "{text}");
        }
    }

    #[test]
    fn values_are_found_with_what_belongs_to_them() {
        for (text, expected) in [
            ("A 12 V feed and a 13 mm spanner.", vec![("12 V", "12 V"), ("13 mm", "13 mm")]),
            ("Tighten to 30 N·m (22 lb·ft).", vec![("30 N·m (22 lb·ft)", "30 N·m (22 lb·ft)")]),
            ("Tighten to 45 N·m (33 lb·in).", vec![("45 N·m (33 lb·in)", "45 N·m (33 lb·in)")]),
            ("30 N·m + 90°.", vec![("30 N·m + 90°", "30 N·m + 90°")]),
            ("no more than 5 mm gap", vec![("no more than 5 mm", "max. 5 mm")]),
            ("5 mm max. Then", vec![("5 mm max.", "max. 5 mm")]),
            ("between 8 and 12 N·m", vec![("between 8 and 12 N·m", "8 to 12 N·m")]),
            ("bolts 1 to 4 to 9 N·m", vec![("9 N·m", "9 N·m")]),
            ("all 4 to 9 N·m", vec![("9 N·m", "9 N·m")]),
            ("use bolts 30 mm long", vec![("30 mm", "30 mm")]),
            ("5 mm (6 mm with gasket)", vec![("5 mm", "5 mm"), ("6 mm", "6 mm")]),
            ("a 2\" hole and a 3\" hole", vec![("2\"", "2 in"), ("3\"", "3 in")]),
            ("a 3/8 in drive, 2 in long", vec![("3/8 in", "3/8 in"), ("2 in", "2 in")]),
            ("turn it 90 degrees", vec![("90 degrees", "90°")]),
            ("-5 °C; ½ in", vec![("-5 °C", "−5 °C"), ("½ in", "1/2 in")]),
            ("wait 1 h 30 min, a 10-second pause", vec![("1 h 30 min", "1 h 30 min"), ("10-second", "10 s")]),
            (".5 mm", vec![]),
        ] {
            let expected: Vec<(&str, String)> = expected.into_iter().map(|(place, spelt)| (place, spelt.to_owned())).collect();
            assert_eq!(found(text), expected, "{text}");
        }
    }
}
