//! Reads a text that must be a value of a known dimension, and says in a mechanic's words what is wrong with it.
//! The shape of one statement is left to `grammar`; whether the value is a good one for its place is left to the review.

use std::ops::Range;

use super::agree::agree;
use super::exact::Exact;
use super::grammar::{Limit, Parser, Part, Seen, SeenUnit};
use super::lexis::{is_space, starts_number};
use super::print::{convert_form, form_text};
use super::slip::Slip;
use super::table::Ambiguous;
use super::{Dimension, Fault, FaultKind, Form, Quantity, Statement, System, Unit, unit, units};

/// How a text is to be read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// A comma separates decimals, as the shop has chosen; a point is still read where it can mean nothing else.
    pub decimal_comma: bool,
    /// The unit of a bare number, by its symbol, where the key says it: "h" for a key named hours.
    pub default_unit: Option<&'static str>,
}

/// What came of reading a text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The value, where enough could be read to have one. With faults beside it, it is what the text says, not what it should say.
    pub quantity: Option<Quantity>,
    /// Everything wrong with it, in the order of the text.
    pub faults: Vec<Fault>,
}

/// Reads a text that must be a value of this dimension.
///
/// Up to three statements of the one value may stand side by side, in brackets or parted by a slash, a comma or "or". A single value
/// beside a limit is the same limit: "max 5 mm (0.2 in)". A fault in one statement does not keep the others from being read.
pub fn read(text: &str, dimension: Dimension, options: &Options) -> Reading {
    if let Some(range) = letter_for_digit(text) {
        let message = format!("\"{}\" is no number: there is a letter among its digits", &text[range.clone()]);
        let fault = Fault::new(FaultKind::ValueUnreadable, range, message, "write the digit that is meant, 0 or 1");
        return Reading { quantity: None, faults: vec![fault] };
    }
    let mut reader = Reader { parser: Parser::new(text, 0, Some(dimension), *options), dimension, parts: Vec::new(), angle: None };
    reader.text();
    let mut reading = reader.settle();
    reading.faults.sort_by_key(|fault| (fault.range.start, fault.range.end));
    // What follows an unknown unit cannot be told apart from it: one slip is told once.
    let units: Vec<Range<usize>> =
        reading.faults.iter().filter(|fault| fault.kind == FaultKind::UnitUnknown).map(|fault| fault.range.clone()).collect();
    let follows = |fault: &Fault, unit: &Range<usize>| {
        let holds = fault.range.start <= unit.start && unit.end <= fault.range.end;
        holds || text.get(unit.end..fault.range.start).is_some_and(|between| !between.contains(['(', '[', '/', ',', ';']))
    };
    reading.faults.retain(|fault| fault.kind != FaultKind::ValueUnreadable || !units.iter().any(|unit| follows(fault, unit)));
    reading
}

/// A number with a letter that looks like a digit in it: `1o5`, `2l.5`.
fn letter_for_digit(text: &str) -> Option<Range<usize>> {
    let bytes = text.as_bytes();
    let part = |at: usize| bytes.get(at).is_some_and(|b| b.is_ascii_digit() || matches!(b, b'o' | b'O' | b'l' | b'I'));
    let at = (1..bytes.len()).find(|&at| {
        let between = bytes[at - 1].is_ascii_digit() && bytes.get(at + 1).is_some_and(|b| b.is_ascii_digit() || *b == b'.');
        between && matches!(bytes[at], b'o' | b'O' | b'l' | b'I')
    })?;
    let start = (0..=at).rev().take_while(|&before| part(before)).last().unwrap_or(at);
    let end = (at..bytes.len()).take_while(|&after| part(after)).last().map_or(at + 1, |last| last + 1);
    Some(start..end)
}

// A longer text is a sentence that slipped into the place of a value; its words would be reported one by one.
const LONGEST: usize = 300;

/// No value is stated in more units than this.
pub(super) const MOST_STATEMENTS: usize = 3;

struct Reader<'a> {
    parser: Parser<'a>,
    dimension: Dimension,
    parts: Vec<Part>,
    angle: Option<Statement>,
}

impl Reader<'_> {
    fn fault(&mut self, kind: FaultKind, range: Range<usize>, message: String, remedy: impl Into<String>) {
        self.parser.faults.push(Fault::new(kind, range, message, remedy));
    }

    fn unreadable(&mut self, range: Range<usize>, message: String, remedy: impl Into<String>) {
        self.fault(FaultKind::ValueUnreadable, range, message, remedy);
    }

    fn source(&self, range: &Range<usize>) -> &str {
        &self.parser.cursor.text[range.clone()]
    }

    fn text(&mut self) {
        let text = self.parser.cursor.text;
        if text.trim_matches(is_space).is_empty() {
            let remedy = format!("write a number and its unit, for instance in {}", examples(self.dimension));
            return self.unreadable(0..text.len(), "the value is empty".to_owned(), remedy);
        }
        if text.len() > LONGEST {
            let message = format!("a text of {} characters is too long to be a value", text.chars().count());
            return self.unreadable(0..text.len(), message, "write only the value here, and the rest as prose");
        }
        loop {
            let before = self.parser.cursor.at;
            self.separator();
            if self.parser.cursor.rest().is_empty() {
                return self.whole();
            }
            match self.parser.statement() {
                Some(part) => self.parts.push(part),
                None if self.parser.cursor.at > before && self.angle() => {}
                None => self.junk(),
            }
            self.angle();
            self.limit_of_all();
        }
    }

    // What only the whole text can show to be missing.
    fn whole(&mut self) {
        let text = self.parser.cursor.text;
        if self.parts.is_empty() && self.parser.faults.is_empty() {
            let remedy = format!("write a number and its unit, for instance in {}", examples(self.dimension));
            self.unreadable(0..text.len(), format!("there is no value in \"{text}\""), remedy);
        }
        let count = |bracket| text.matches(bracket).count();
        if count('(') != count(')') || count('[') != count(']') {
            let remedy = "close every bracket that is opened";
            self.unreadable(0..text.len(), format!("the brackets in \"{text}\" do not pair"), remedy);
        }
    }

    // Takes whatever may stand between two statements, brackets included.
    fn separator(&mut self) {
        let cursor = &mut self.parser.cursor;
        loop {
            cursor.skip_spaces();
            let taken = cursor.eat_char(|c| matches!(c, '(' | ')' | '[' | ']' | '/' | ',' | ';' | '=' | '|'));
            if !taken && !cursor.eat_word("or") {
                return;
            }
        }
    }

    fn angle(&mut self) -> bool {
        let start = self.parser.cursor.at;
        let Some(angle) = self.parser.angle() else { return false };
        match &self.angle {
            None => self.angle = Some(angle),
            Some(first) if agree(first, &angle) => {}
            Some(_) => {
                let range = start..self.parser.cursor.at;
                let message = format!("\"{}\" is a second angle", self.source(&range).trim());
                self.unreadable(range, message, "write one angle after the torque, and further ones as stages of their own");
            }
        }
        true
    }

    // A limit word at the end belongs to every statement before it: "5 mm (0.2 in) max".
    fn limit_of_all(&mut self) {
        let mut trial = self.parser.clone();
        while trial.cursor.eat_char(|c| is_space(c) || matches!(c, ')' | ']')) {}
        let Some(limit) = trial.limit_suffix() else { return };
        self.parser.cursor = trial.cursor;
        for part in &mut self.parts {
            part.form = part.form.take().map(|form| limited(form, limit));
        }
    }

    // Steps over what is no statement, up to the next number or separator.
    fn junk(&mut self) {
        let start = self.parser.cursor.at;
        loop {
            self.parser.cursor.bump();
            let rest = self.parser.cursor.rest();
            let number = starts_number(rest) && !self.parser.cursor.text[..self.parser.cursor.at].ends_with(char::is_alphanumeric);
            if rest.is_empty() || number || rest.starts_with(['(', ')', '[', ']', ',', ';']) {
                break;
            }
        }
        // The separators before it took every space, so something is left of it.
        let range = start..start + self.source(&(start..self.parser.cursor.at)).trim_end_matches(is_space).len();
        let stated = self.source(&range).to_owned();
        if self.parts.is_empty() && self.parser.cursor.rest().is_empty() {
            let remedy = format!("write a number and its unit, for instance in {}", examples(self.dimension));
            let what = if stated.contains(|c: char| c.is_ascii_digit()) { "value" } else { "number" };
            return self.unreadable(range, format!("there is no {what} in \"{stated}\""), remedy);
        }
        self.unreadable(range, format!("\"{stated}\" is not part of a value"), "write only numbers and units here");
    }

    fn settle(mut self) -> Reading {
        self.adopt_limit();
        let known: Vec<Option<Statement>> = self.parts.iter().map(|part| self.known(part)).collect();
        let mut statements = Vec::new();
        for (place, part) in self.parts.clone().into_iter().enumerate() {
            let settled = match &known[place] {
                Some(statement) => Some(statement.clone()),
                None => self.unsettled(&part, &known),
            };
            let Some(statement) = settled else {
                self.never_silent(&part.range);
                continue;
            };
            if self.possible(&statement) {
                statements.push(statement);
            }
        }
        if let Some(fourth) = self.parts.get(MOST_STATEMENTS) {
            let range = fourth.range.clone();
            let message = format!("\"{}\" is one unit too many for one value", self.source(&range));
            self.unreadable(range, message, "state a value in at most three units");
        }
        if let Some(angle) = &self.angle.clone()
            && !self.possible(angle)
        {
            self.angle = None;
        }
        self.compare(&statements);
        statements.truncate(MOST_STATEMENTS);
        let quantity = (!statements.is_empty()).then_some(Quantity { dimension: self.dimension, statements, angle: self.angle });
        Reading { quantity, faults: self.parser.faults }
    }

    // Whatever is not read is reported, even if nothing more exact is known of it.
    fn never_silent(&mut self, range: &Range<usize>) {
        if !self.parser.faults.iter().any(|fault| fault.range.start >= range.start && fault.range.end <= range.end) {
            let message = format!("\"{}\" cannot be read as {}", self.source(range), with_article(self.dimension));
            self.unreadable(range.clone(), message, "write the numbers as decimals, with one unit");
        }
    }

    fn adopt_limit(&mut self) {
        let limit = match self.parts.first().and_then(|part| part.form.as_ref()) {
            Some(Form::Max(_)) => Limit::Max,
            Some(Form::Min(_)) => Limit::Min,
            _ => return,
        };
        for part in self.parts.iter_mut().skip(1) {
            part.form = part.form.take().map(|form| limited(form, limit));
        }
    }

    fn known(&self, part: &Part) -> Option<Statement> {
        let unit = match &part.unit {
            Some(SeenUnit { seen: Seen::Unit(unit), .. }) => unit,
            None => unit(self.dimension, self.parser.options.default_unit?)?,
            _ => return None,
        };
        Some(Statement { form: part.form.clone()?, unit, range: part.range.clone() })
    }

    // Reports a unit that is missing, unknown or can be read in several ways, and settles on a reading where one is certain.
    fn unsettled(&mut self, part: &Part, known: &[Option<Statement>]) -> Option<Statement> {
        let Some(seen) = &part.unit else {
            let written = self.source(&part.range);
            if written.starts_with('+') && part.range.start > 0 {
                let message = format!("\"{written}\" is only one side of a tolerance");
                self.unreadable(part.range.clone(), message, "write both sides, the upper one first");
            } else if self.parser.options.default_unit.is_none() {
                let message = format!("\"{}\" has no unit", self.source(&part.range));
                self.unreadable(
                    part.range.clone(),
                    message,
                    format!("write the unit after the number, for instance {}", examples(self.dimension)),
                );
            }
            return None;
        };
        match seen.seen {
            Seen::Unit(_) => None,
            Seen::Ambiguous(doubt) => self.ambiguous(part, seen, doubt, known),
            Seen::Wrong(other) => {
                let message = format!(
                    "\"{}\" is a unit of {}, and this is {}",
                    self.source(&seen.range),
                    other.dimension.name(),
                    with_article(self.dimension)
                );
                let remedy = format!("give {} in its own unit, for instance {}", with_article(self.dimension), examples(self.dimension));
                self.fault(FaultKind::UnitUnknown, seen.range.clone(), message, remedy);
                None
            }
            Seen::Unknown => {
                let written = self.source(&seen.range);
                let message = format!("\"{written}\" is no known unit of {}", self.dimension.name());
                let remedy = match (prefixed(written, self.dimension), nearest(written, self.dimension)) {
                    // Another prefix would change the value by tens, hundreds or thousands without a word.
                    (Some(unit), _) => format!(
                        "\"{written}\" reads as a multiple or a part of \"{}\", which is another value: give the value in \"{}\", converted, as the source means it",
                        unit.symbol, unit.symbol
                    ),
                    (None, Some(symbol)) => format!("write \"{symbol}\" if that is meant"),
                    (None, None) => format!("write the unit as in {}", examples(self.dimension)),
                };
                self.fault(FaultKind::UnitUnknown, seen.range.clone(), message, remedy);
                None
            }
        }
    }

    fn ambiguous(&mut self, part: &Part, seen: &SeenUnit, doubt: &Ambiguous, known: &[Option<Statement>]) -> Option<Statement> {
        let readings: Vec<&'static Unit> = doubt.readings.iter().filter_map(|symbol| unit(doubt.dimension, symbol)).collect();
        let names = readings.iter().map(|unit| format!("\"{}\"", unit.symbol)).collect::<Vec<_>>().join(" or ");
        let written = self.source(&seen.range).to_owned();
        let stated = |unit| part.form.clone().map(|form| Statement { form, unit, range: part.range.clone() });
        let fitting: Vec<(&'static Unit, &Statement)> = readings
            .iter()
            .filter_map(|&unit| {
                let statement = stated(unit)?;
                let other = known.iter().flatten().find(|other| agree(other, &statement))?;
                Some((unit, other))
            })
            .collect();
        let (message, remedy, decided) = match (&fitting[..], &readings[..]) {
            (&[(unit, other)], _) => {
                let message = format!("\"{written}\" alone does not say which unit is meant: {names}");
                let by = self.source(&other.range);
                (message, format!("write \"{}\", which is what \"{by}\" beside it agrees with", unit.symbol), Some(unit))
            }
            (_, &[unit]) => {
                let message = format!("\"{written}\" is not a unit of {}", self.dimension.name());
                (message, format!("write {names} if that is meant"), Some(unit).filter(|_| unit.symbol == "N·m"))
            }
            _ => {
                let message = format!("\"{written}\" alone does not say which unit is meant: {names}");
                (message, format!("write {names}, whichever the source gives"), None)
            }
        };
        let fault = Fault::new(FaultKind::UnitAmbiguous, seen.range.clone(), message, remedy);
        self.parser.faults.push(match decided {
            Some(unit) => fault.with_replacement(unit.symbol),
            None => fault,
        });
        stated(decided?)
    }

    // Refuses what cannot exist. A reversed range is reported and kept, since both its ends are known.
    fn possible(&mut self, statement: &Statement) -> bool {
        let stated = self.source(&statement.range).to_owned();
        if let Form::Range(low, high) = &statement.form
            && low.value > high.value
        {
            let message = format!("\"{stated}\" runs from the higher value to the lower");
            self.fault(
                FaultKind::RangeReversed,
                statement.range.clone(),
                message,
                "write the lower value first, after making sure that both are right",
            );
        }
        // "0 ± 0.5 mm" is a good gap, so of a tolerance only the value aimed at counts.
        let lowest = match &statement.form {
            Form::Tolerance { nominal, .. } => statement.unit.to_base(nominal.value),
            _ => {
                let (low, high) = statement.base_bounds();
                low.into_iter().chain(high).min()
            }
        };
        let Some((floor, words)) = floor(statement.unit.dimension) else { return true };
        if lowest.is_some_and(|lowest| lowest < floor) {
            let message = format!("\"{stated}\" is {words}");
            self.unreadable(statement.range.clone(), message, "check the value and its sign against the source");
            return false;
        }
        true
    }

    fn compare(&mut self, statements: &[Statement]) {
        let Some((first, others)) = statements.split_first() else { return };
        for other in others {
            if agree(first, other) {
                continue;
            }
            let (a, b) = (self.source(&first.range).to_owned(), self.source(&other.range).to_owned());
            let slip = Slip::between(first, other);
            let converted = converted_text(first, other.unit);
            let (message, otherwise) = if std::mem::discriminant(&first.form) == std::mem::discriminant(&other.form) {
                let sum = converted.map(|converted| format!(": the first is {converted}")).unwrap_or_default();
                (format!("\"{a}\" and \"{b}\" are not the same value{sum}"), "look both up in the source and correct the wrong one")
            } else {
                let message = format!("\"{a}\" is {} and \"{b}\" is {}", shape(&first.form), shape(&other.form));
                (message, "state both in the same way, so that either can be worked to alone")
            };
            let remedy = match slip {
                Some(slip) => format!("{slip}; {otherwise}"),
                None => otherwise.to_owned(),
            };
            self.fault(FaultKind::Disagree, other.range.clone(), message, remedy);
        }
    }
}

fn limited(form: Form, limit: Limit) -> Form {
    match (form, limit) {
        (Form::Single(number), Limit::Max) => Form::Max(number),
        (Form::Single(number), Limit::Min) => Form::Min(number),
        (form, _) => form,
    }
}

fn converted_text(statement: &Statement, unit: &Unit) -> Option<String> {
    if statement.unit == unit {
        return None;
    }
    Some(form_text(&convert_form(&statement.form, statement.unit, unit)?, unit, '.'))
}

fn shape(form: &Form) -> &'static str {
    match form {
        Form::Single(_) => "a single value",
        Form::Range(..) => "a range",
        Form::Tolerance { .. } => "a value with a tolerance",
        Form::Max(_) => "a maximum",
        Form::Min(_) => "a minimum",
    }
}

/// The lowest value that can exist in base units, and what is said of one below it.
fn floor(dimension: Dimension) -> Option<(Exact, &'static str)> {
    match dimension {
        Dimension::Angle | Dimension::Current | Dimension::Voltage | Dimension::TemperatureDifference => None,
        // The air of a day with high pressure is the most that a gauge can read below nought.
        Dimension::Pressure => Some((Exact::whole(-110_000), "below an absolute vacuum")),
        Dimension::Temperature => Some((Exact::ZERO, "below absolute zero")),
        Dimension::Torque => Some((Exact::ZERO, "a torque below zero")),
        Dimension::Length => Some((Exact::ZERO, "a length below zero")),
        Dimension::Area => Some((Exact::ZERO, "an area below zero")),
        Dimension::Volume => Some((Exact::ZERO, "a volume below zero")),
        Dimension::Mass => Some((Exact::ZERO, "a mass below zero")),
        Dimension::Force => Some((Exact::ZERO, "a force below zero")),
        Dimension::Time => Some((Exact::ZERO, "a time below zero")),
        Dimension::Resistance => Some((Exact::ZERO, "a resistance below zero")),
        Dimension::Power => Some((Exact::ZERO, "a power below zero")),
        Dimension::RotationSpeed => Some((Exact::ZERO, "a rotation speed below zero")),
    }
}

fn with_article(dimension: Dimension) -> String {
    let name = dimension.name();
    format!("{} {name}", if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" })
}

// A unit or two of the dimension. Never a number: what the value should be is not for this tool to say.
fn examples(dimension: Dimension) -> String {
    let first = |system| units().iter().find(|unit| unit.dimension == dimension && unit.system == system);
    let mut symbols: Vec<&str> = [System::Metric, System::Both].into_iter().find_map(first).map(|unit| unit.symbol).into_iter().collect();
    symbols.extend(first(System::Imperial).map(|unit| unit.symbol));
    symbols.iter().map(|symbol| format!("\"{symbol}\"")).collect::<Vec<_>>().join(" or ")
}

/// The unit that a text names with a decimal prefix which no unit of the table has: "Nmm", "hNm", "µNm". A slip of the keyboard looks
/// the same, but a remedy that drops the prefix would change the value.
fn prefixed(written: &str, dimension: Dimension) -> Option<&'static Unit> {
    const PREFIXES: [&str; 12] = ["da", "d", "c", "m", "µ", "u", "n", "h", "k", "M", "G", "D"];
    let bare = |text: &str| {
        let found = super::lexis::unit_at(text).filter(|(length, _)| *length == text.len())?;
        found.1.into_iter().find_map(|meaning| match meaning {
            super::lexis::Meaning::Unit(unit) if unit.dimension == dimension && unit.system == System::Metric => Some(unit),
            _ => None,
        })
    };
    let written = written.trim_end_matches('.');
    let front = PREFIXES.iter().find_map(|prefix| bare(written.strip_prefix(prefix)?));
    // In a product the prefix may stand before the second unit: N·mm, N·km.
    front.or_else(|| {
        PREFIXES.iter().find_map(|prefix| {
            let (before, after) = written.split_once(&format!("{prefix}m"))?;
            bare(&format!("{before}m{after}"))
        })
    })
}

fn nearest(written: &str, dimension: Dimension) -> Option<&'static str> {
    let length = written.chars().count();
    if length > 24 {
        return None;
    }
    let most = if length <= 2 {
        0
    } else if length <= 5 {
        1
    } else {
        2
    };
    let folded = written.to_lowercase();
    let mut best: Option<(usize, &'static str)> = None;
    for unit in units().iter().filter(|unit| unit.dimension == dimension) {
        for spelling in [unit.symbol].iter().chain(unit.spellings).chain(unit.words) {
            let distance = strsim::damerau_levenshtein(&folded, &spelling.to_lowercase());
            if distance <= most && best.is_none_or(|(least, _)| distance < least) {
                best = Some((distance, unit.symbol));
            }
        }
    }
    best.map(|(_, symbol)| symbol)
}

#[cfg(test)]
mod tests {
    use super::super::{Order, print, spell};
    use super::*;

    #[track_caller]
    fn spelt(text: &str, dimension: Dimension) -> String {
        let reading = read(text, dimension, &Options::default());
        assert!(reading.faults.is_empty(), "{text}: {:?}", reading.faults);
        spell(&reading.quantity.expect("a clean reading has a value"))
    }

    #[track_caller]
    fn faults(text: &str, dimension: Dimension) -> Vec<(FaultKind, String, String)> {
        let reading = read(text, dimension, &Options::default());
        reading.faults.into_iter().map(|fault| (fault.kind, text[fault.range].to_owned(), fault.message)).collect()
    }

    #[test]
    fn every_shape_is_read_and_spelt_in_one_way() {
        use Dimension::*;
        for (text, dimension, expected) in [
            ("8..12 N·m", Torque, "8 to 12 N·m"),
            ("8-12 Nm", Torque, "8 to 12 N·m"),
            ("8 – 12 Nm", Torque, "8 to 12 N·m"),
            ("8 N·m to 12 N·m", Torque, "8 to 12 N·m"),
            ("between 8 and 12 N·m", Torque, "8 to 12 N·m"),
            ("24 ±3 N·m", Torque, "24 ± 3 N·m"),
            ("24 +/- 3 N·m", Torque, "24 ± 3 N·m"),
            ("24 +2/-1 N·m", Torque, "24 +2/−1 N·m"),
            ("24 -1/+2 N·m", Torque, "24 +2/−1 N·m"),
            ("24 N·m ±10 %", Torque, "24 ± 2.4 N·m"),
            ("30 N·m + 90°", Torque, "30 N·m + 90°"),
            ("30 N·m, then turn a further 90 degrees", Torque, "30 N·m + 90°"),
            ("30 N·m + 90° (22 lb·ft + 90°)", Torque, "30 N·m (22 lb·ft) + 90°"),
            ("45 N·m / 33 lb·ft", Torque, "45 N·m (33 lb·ft)"),
            ("45 N·m, 33 lb·ft", Torque, "45 N·m (33 lb·ft)"),
            ("24 ± 3 N·m (17.7 ± 2.2 lb·ft)", Torque, "24 ± 3 N·m (17.7 ± 2.2 lb·ft)"),
            ("max 5 mm", Length, "max. 5 mm"),
            ("<= 5 mm", Length, "max. 5 mm"),
            ("not more than 5 mm", Length, "max. 5 mm"),
            ("5 mm or less", Length, "max. 5 mm"),
            ("5 mm (0.2 in) max.", Length, "max. 5 mm (0.2 in)"),
            ("at least 5 mm", Length, "min. 5 mm"),
            ("1-1/8\"", Length, "1 1/8 in"),
            ("1⅛ in", Length, "1 1/8 in"),
            ("5' 6\"", Length, "5 ft 6 in"),
            ("1 500 mm", Length, "1500 mm"),
            ("−40..85 °C", Temperature, "−40 to 85 °C"),
            ("1h30min", Time, "1 h 30 min"),
            ("45 min to 2 h", Time, "45 min to 2 h"),
            ("3 min", Time, "3 min"),
            ("min 3 min", Time, "min. 3 min"),
            ("-0.8 bar", Pressure, "−0.8 bar"),
            ("850 rpm", RotationSpeed, "850 r/min"),
        ] {
            assert_eq!(spelt(text, dimension), expected, "{text}");
        }
    }

    #[test]
    fn faults_say_what_is_wrong_where() {
        use Dimension::*;
        use FaultKind::*;
        for (text, dimension, kind, place, message) in [
            ("45", Torque, ValueUnreadable, "45", "\"45\" has no unit"),
            ("45 mm", Torque, UnitUnknown, "mm", "\"mm\" is a unit of length, and this is a torque"),
            ("45 foo", Torque, UnitUnknown, "foo", "\"foo\" is no known unit of torque"),
            ("45 lb", Torque, UnitAmbiguous, "lb", "\"lb\" alone does not say which unit is meant: \"lb·ft\" or \"lb·in\""),
            ("5 kg", Torque, UnitAmbiguous, "kg", "\"kg\" alone does not say which unit is meant: \"kgf·m\" or \"kgf·cm\""),
            ("4,5 N·m", Torque, ValueUnreadable, "4,5", "\"4,5\" has a decimal comma"),
            ("1,500 mm", Length, ValueUnreadable, "1,500", "\"1,500\" can be read as 1500 or as 1.500"),
            ("12..8 N·m", Torque, RangeReversed, "12..8 N·m", "\"12..8 N·m\" runs from the higher value to the lower"),
            ("-4 N·m", Torque, ValueUnreadable, "-4 N·m", "\"-4 N·m\" is a torque below zero"),
            ("-3 bar", Pressure, ValueUnreadable, "-3 bar", "\"-3 bar\" is below an absolute vacuum"),
            ("-300 °C", Temperature, ValueUnreadable, "-300 °C", "\"-300 °C\" is below absolute zero"),
            ("about 45 N·m", Torque, ValueUnreadable, "about 45 N·m", "\"about 45 N·m\" leaves open how far the value may be out"),
            ("securely", Torque, ValueUnreadable, "securely", "there is no number in \"securely\""),
            ("900 mm to 1 m", Length, ValueUnreadable, "900 mm to 1 m", "\"900 mm to 1 m\" has two different units in one value"),
            ("45 N·m (33 lb·ft", Torque, ValueUnreadable, "45 N·m (33 lb·ft", "the brackets in \"45 N·m (33 lb·ft\" do not pair"),
            (
                "24 ± 3 N·m (18 lb·ft)",
                Torque,
                Disagree,
                "18 lb·ft",
                "\"24 ± 3 N·m\" is a value with a tolerance and \"18 lb·ft\" is a single value",
            ),
            (
                "45 N·m (33 lb·in)",
                Torque,
                Disagree,
                "33 lb·in",
                "\"45 N·m\" and \"33 lb·in\" are not the same value: the first is 398 lb·in",
            ),
        ] {
            assert_eq!(faults(text, dimension), [(kind, place.to_owned(), message.to_owned())], "{text}");
        }
    }

    #[test]
    fn a_fault_keeps_nothing_else_from_being_read() {
        let reading = read("45 foo (33 lb·ft, 4,6 kgf·m)", Dimension::Torque, &Options::default());
        let kinds: Vec<FaultKind> = reading.faults.iter().map(|fault| fault.kind).collect();
        assert_eq!(kinds, [FaultKind::UnitUnknown, FaultKind::ValueUnreadable]);
        assert_eq!(reading.quantity.map(|quantity| spell(&quantity)).as_deref(), Some("33 lb·ft (4.6 kgf·m)"));
    }

    #[test]
    fn a_remedy_never_names_a_torque_that_the_text_does_not() {
        for text in ["45", "45 mm", "45 lb", "12..8 N·m", "about 45 N·m", "securely", "", "45 NM"] {
            for fault in read(text, Dimension::Torque, &Options::default()).faults {
                assert!(!fault.remedy.contains(|c: char| c.is_ascii_digit()), "{text}: {}", fault.remedy);
            }
        }
    }

    #[test]
    fn options_change_the_decimal_mark_and_the_unit_of_a_bare_number() {
        let comma = Options { decimal_comma: true, default_unit: None };
        let read_comma = |text| read(text, Dimension::Torque, &comma);
        let quantity = read_comma("4,5 N·m").quantity.expect("a comma is decimal here");
        assert_eq!(print(&quantity, Order::MetricFirst, true).first, "4,5 N·m");
        assert!(read_comma("4.5 N·m").faults.is_empty(), "a point is plain where three digits do not follow it");
        assert_eq!(read_comma("1.500 N·m").faults.len(), 1);
        let hours = Options { decimal_comma: false, default_unit: Some("h") };
        let quantity = read("1.5..2", Dimension::Time, &hours).quantity.expect("a bare number is in hours");
        assert_eq!(spell(&quantity), "1.5 to 2 h");
        assert_eq!(read("90 min", Dimension::Time, &hours).quantity.map(|quantity| spell(&quantity)).as_deref(), Some("90 min"));
    }
}
