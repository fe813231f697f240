//! The shapes of one stated value: limits, ranges, tolerances, hours with minutes, and the angle after a torque.
//! It reads one statement at a time; what several of them together mean is left to `read` and `scan`.

use std::ops::Range;

use super::exact::Exact;
use super::lexis::{Cursor, Meaning, is_dash, is_space, number, starts_number, unit_at};
use super::number::{Number, Written};
use super::table::Ambiguous;
use super::{Dimension, Fault, FaultKind, Form, Options, Statement, Unit, unit};

/// What stands in the place of a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seen {
    Unit(&'static Unit),
    Ambiguous(&'static Ambiguous),
    /// A known unit of another dimension.
    Wrong(&'static Unit),
    Unknown,
}

/// A unit and where it stands.
#[derive(Clone, Debug)]
pub(super) struct SeenUnit {
    pub seen: Seen,
    pub range: Range<usize>,
}

/// One statement, as far as it could be read. Without a form there is already a fault that says why.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub form: Option<Form>,
    pub unit: Option<SeenUnit>,
    pub range: Range<usize>,
}

#[derive(Clone)]
struct Term {
    number: Option<Number>,
    unit: Option<SeenUnit>,
    range: Range<usize>,
}

/// The side that a limit closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Limit {
    Max,
    Min,
}

const MAX_WORDS: &[&str] = &[
    "≤",
    "<=",
    "⩽",
    "<",
    "maximum",
    "max",
    "at most",
    "up to",
    "not more than",
    "no more than",
    "not over",
    "not above",
    "not exceeding",
    "not to exceed",
    "not greater than",
    "no greater than",
];
const MIN_WORDS: &[&str] = &["≥", ">=", "⩾", ">", "minimum", "min", "at least", "not less than", "no less than", "not under", "not below"];
const ABOUT_WORDS: &[&str] =
    &["about", "approximately", "approx.", "approx", "around", "circa", "ca.", "roughly", "nominally", "nominal", "~", "≈", "c."];
// Words that may follow a number in place of a unit without being an unknown one.
const CONNECTORS: &[&str] = &["to", "through", "and", "or", "max", "maximum", "min", "minimum", "plus", "then", "minus"];
// The units of a value written in parts, largest first.
const CHAINS: &[(Dimension, &[&str])] =
    &[(Dimension::Time, &["h", "min", "s"]), (Dimension::Length, &["ft", "in"]), (Dimension::Mass, &["lb", "oz"])];

/// Whether the text before a value ends in a limit word, and where that word begins. For values found in prose.
pub(super) fn limit_before(before: &str) -> Option<(Limit, usize)> {
    let mut kept = before.trim_end_matches(is_space);
    if let Some(rest) = strip_word(kept, "of") {
        kept = rest.trim_end_matches(is_space);
    }
    let find = |words: &[&str], limit| {
        words.iter().find_map(|word| {
            let bare = kept.strip_suffix('.').filter(|_| matches!(*word, "max" | "min")).unwrap_or(kept);
            strip_word(bare, word).map(|rest| (limit, rest.len()))
        })
    };
    find(MAX_WORDS, Limit::Max).or_else(|| find(MIN_WORDS, Limit::Min))
}

/// The text without a word at its end, where that is no part of a longer one; capitals do not matter.
pub(super) fn strip_word<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let at = text.len().checked_sub(word.len())?;
    let tail = text.get(at..)?;
    let whole = !text[..at].ends_with(char::is_alphanumeric) || !word.starts_with(char::is_alphabetic);
    (tail.eq_ignore_ascii_case(word) && whole).then(|| &text[..at])
}

/// A reader of statements from one text.
#[derive(Clone)]
pub(super) struct Parser<'a> {
    pub cursor: Cursor<'a>,
    /// The dimension asked for; in prose it is open until the first unit settles it.
    pub dimension: Option<Dimension>,
    pub options: Options,
    /// Running prose: a word that is no unit is only the next word of the sentence.
    pub prose: bool,
    pub faults: Vec<Fault>,
    /// Thousands were parted by a plain space somewhere.
    pub plain_groups: bool,
}

impl<'a> Parser<'a> {
    pub(super) fn new(text: &'a str, at: usize, dimension: Option<Dimension>, options: Options) -> Self {
        Self { cursor: Cursor { text, at }, dimension, options, prose: dimension.is_none(), faults: Vec::new(), plain_groups: false }
    }

    /// Reads one statement; without a number at the cursor it reads nothing.
    pub(super) fn statement(&mut self) -> Option<Part> {
        let mut trial = self.clone();
        trial.cursor.skip_spaces();
        let start = trial.cursor.at;
        let limit = trial.limit_prefix();
        let about = trial.about();
        let between = limit.is_none() && (trial.cursor.eat_word("between") || trial.cursor.eat_word("from"));
        let first = trial.term()?;
        let (form, unit) = trial.shape(first, between);
        let limit = limit.or_else(|| trial.limit_suffix());
        let range = start..trial.cursor.at;
        if about {
            let stated = &trial.cursor.text[range.clone()];
            let message = format!("\"{stated}\" leaves open how far the value may be out");
            trial.faults.push(Fault::new(FaultKind::ValueUnreadable, range.clone(), message, "give a range, a limit or a tolerance"));
        }
        let form = form.and_then(|form| trial.limited(form, limit, &range));
        *self = trial;
        Some(Part { form, unit, range })
    }

    fn limited(&mut self, form: Form, limit: Option<Limit>, range: &Range<usize>) -> Option<Form> {
        match (form, limit) {
            (form, None) => Some(form),
            (Form::Single(number), Some(Limit::Max)) => Some(Form::Max(number)),
            (Form::Single(number), Some(Limit::Min)) => Some(Form::Min(number)),
            (_, Some(_)) => {
                let stated = &self.cursor.text[range.clone()];
                let message = format!("\"{stated}\" is a limit and a range at once");
                self.faults.push(Fault::new(FaultKind::ValueUnreadable, range.clone(), message, "give either the limit or the range"));
                None
            }
        }
    }

    fn limit_prefix(&mut self) -> Option<Limit> {
        let mut probe = self.cursor;
        let limit = Self::limit_word(&mut probe)?;
        probe.skip_spaces();
        if probe.eat_word("of") || probe.eat(":") {
            probe.skip_spaces();
        }
        self.cursor = probe;
        Some(limit)
    }

    fn limit_word(probe: &mut Cursor<'_>) -> Option<Limit> {
        let limit = if MAX_WORDS.iter().any(|word| probe.eat_word(word)) {
            Limit::Max
        } else if MIN_WORDS.iter().any(|word| probe.eat_word(word)) {
            Limit::Min
        } else {
            return None;
        };
        if !probe.rest().starts_with("..") && !starts_number(probe.rest()) {
            probe.eat(".");
        }
        Some(limit)
    }

    /// Reads a limit that follows its value: "5 mm max".
    pub(super) fn limit_suffix(&mut self) -> Option<Limit> {
        let mut probe = self.cursor;
        probe.skip_spaces();
        probe.eat(",");
        probe.skip_spaces();
        let limit = if probe.eat_word("or less") {
            Limit::Max
        } else if probe.eat_word("or more") {
            Limit::Min
        } else {
            if !probe.peek().is_some_and(char::is_alphabetic) {
                return None;
            }
            let limit = Self::limit_word(&mut probe)?;
            // "5 mm, max 6 mm" are two values and no suffix.
            let mut ahead = probe;
            ahead.skip_spaces();
            if starts_number(ahead.rest()) {
                return None;
            }
            limit
        };
        self.cursor = probe;
        Some(limit)
    }

    fn about(&mut self) -> bool {
        let found = ABOUT_WORDS.iter().any(|word| self.cursor.eat_word(word));
        self.cursor.skip_spaces();
        found
    }

    // A number with the unit after it, if it has its own, and the smaller units of a value in parts.
    fn term(&mut self) -> Option<Term> {
        self.cursor.skip_spaces();
        let lexed = number(&mut self.cursor, self.options.decimal_comma)?;
        self.faults.extend(lexed.fault);
        self.plain_groups |= lexed.plain_groups;
        let unit = self.unit();
        let mut term = Term { number: lexed.number, unit, range: lexed.range.start..self.cursor.at };
        self.split(&mut term);
        Some(term)
    }

    fn unit(&mut self) -> Option<SeenUnit> {
        let mut probe = self.cursor;
        // "a 10-second wait": the hyphen joins the number to its unit.
        let hyphen = probe.eat_char(is_dash) && probe.peek().is_some_and(char::is_alphabetic);
        if !hyphen {
            probe = self.cursor;
            probe.skip_spaces();
        }
        let start = probe.at;
        if let Some((length, meanings)) = unit_at(probe.rest()) {
            probe.at += length;
            let mut stop = probe;
            if stop.eat(".") && !matches!(stop.peek(), Some('.' | '0'..='9')) && !self.prose && !hyphen {
                probe = stop;
            }
            if let Some(seen) = self.choose(&meanings) {
                self.cursor = probe;
                return Some(SeenUnit { seen, range: start..start + length });
            }
        }
        if self.prose || hyphen {
            return None;
        }
        self.unknown_unit(probe)
    }

    fn choose(&mut self, meanings: &[Meaning]) -> Option<Seen> {
        let Some(dimension) = self.dimension else {
            let found = meanings.iter().find_map(|meaning| match meaning {
                Meaning::Unit(unit) => Some(*unit),
                Meaning::Ambiguous(_) => None,
            });
            self.dimension = found.map(|unit| unit.dimension);
            return found.map(Seen::Unit);
        };
        let own = meanings.iter().find(|meaning| meaning.dimension() == dimension);
        match own.or(meanings.first())? {
            Meaning::Unit(unit) if unit.dimension == dimension => Some(Seen::Unit(unit)),
            Meaning::Ambiguous(doubt) if doubt.dimension == dimension => Some(Seen::Ambiguous(doubt)),
            Meaning::Unit(other) => Some(Seen::Wrong(other)),
            Meaning::Ambiguous(doubt) => unit(doubt.dimension, doubt.readings[0]).map(Seen::Wrong),
        }
    }

    fn unknown_unit(&mut self, mut probe: Cursor<'a>) -> Option<SeenUnit> {
        let start = probe.at;
        let first = probe.peek()?;
        if !(first.is_alphabetic() || matches!(first, '°' | '#' | '%' | '\'' | '"' | '$' | '€' | '£')) {
            return None;
        }
        if CONNECTORS.iter().any(|word| probe.clone().eat_word(word)) {
            return None;
        }
        while probe.peek().is_some_and(|c| !is_space(c) && !matches!(c, '(' | ')' | '[' | ']' | ',' | ';' | '±' | '+' | '=')) {
            probe.bump();
        }
        let mut end = probe.at;
        if self.cursor.text[start..end].ends_with('.') && end - start > 1 {
            end -= 1;
        }
        self.cursor = probe;
        Some(SeenUnit { seen: Seen::Unknown, range: start..end })
    }

    fn split(&mut self, term: &mut Term) {
        loop {
            let (Some(number), Some(SeenUnit { seen: Seen::Unit(large), range })) = (term.number, &term.unit) else { return };
            let Some(&(_, chain)) = CHAINS.iter().find(|(dimension, _)| *dimension == large.dimension) else { return };
            let Some(place) = chain.iter().position(|symbol| *symbol == large.symbol) else { return };
            if !matches!(number.written, Written::Decimal { decimals: 0 } | Written::Split { decimals: 0 }) || number.value.is_negative() {
                return;
            }
            let mut trial = self.clone();
            trial.cursor.skip_spaces();
            if trial.cursor.eat_word("and") {
                trial.cursor.skip_spaces();
            }
            if !starts_number(trial.cursor.rest()) {
                return;
            }
            let Some(small) = super::lexis::number(&mut trial.cursor, self.options.decimal_comma) else { return };
            let (Some(small_number), None) = (small.number, small.fault) else { return };
            let Some(SeenUnit { seen: Seen::Unit(small_unit), range: small_range }) = trial.unit() else { return };
            let below = chain.iter().skip(place + 1).any(|symbol| *symbol == small_unit.symbol);
            let sum = large.convert_distance(number.value, small_unit).and_then(|value| value.plus(small_number.value));
            let (true, Some(sum)) = (below && small_unit.dimension == large.dimension, sum) else { return };
            let Some(mut whole) = split_number(sum, large, small_unit) else { return };
            if small_unit.convert_distance(sum, large).is_some_and(Exact::is_whole) {
                // "1 h 60 min" would be printed as "2 h" and then be read in hours; it stays in the smaller unit.
                whole.written = Written::Decimal { decimals: whole.decimals() };
            }
            term.number = Some(whole);
            term.unit = Some(SeenUnit { seen: Seen::Unit(small_unit), range: range.start..small_range.end });
            term.range.end = trial.cursor.at;
            *self = trial;
        }
    }

    fn shape(&mut self, first: Term, between: bool) -> (Option<Form>, Option<SeenUnit>) {
        if let Some(found) = self.tolerance(&first).or_else(|| self.range(&first, between)) {
            return found;
        }
        (first.number.map(Form::Single), first.unit)
    }

    fn range(&mut self, first: &Term, between: bool) -> Option<(Option<Form>, Option<SeenUnit>)> {
        let mut trial = self.clone();
        trial.cursor.skip_spaces();
        let cursor = &mut trial.cursor;
        let joined = (between && cursor.eat_word("and"))
            || ["...", "..", "…", "~", "〜", "～"].iter().any(|mark| cursor.eat(mark))
            || cursor.eat_word("to")
            || cursor.eat_word("through")
            || cursor.eat_char(is_dash);
        if !joined {
            return None;
        }
        // "24 -1 +2" is a tolerance with its lower side first, which was tried before this.
        let second = trial.term()?;
        if self.prose && first.unit.is_some() {
            // "9 N·m to 12 clips" is no range: a unit on the first number asks for a like one on the second.
            let like = matches!(&second.unit, Some(SeenUnit { seen: Seen::Unit(unit), .. }) if Some(unit.dimension) == self.dimension);
            if !like {
                return None;
            }
        }
        let units = trial.one_unit(first, &second);
        let (low, high, seen) = match units {
            Ok(found) => found,
            Err(seen) => {
                *self = trial;
                return Some((None, Some(seen)));
            }
        };
        let form = low.zip(high).map(|(low, high)| Form::Range(low, high));
        *self = trial;
        Some((form, seen))
    }

    // Brings two terms to one unit. Two different ones are only good for durations, where "45 min to 2 h" is plain.
    #[allow(clippy::type_complexity, reason = "two numbers and the unit they share; a name for it would be used once")]
    fn one_unit(&mut self, first: &Term, second: &Term) -> Result<(Option<Number>, Option<Number>, Option<SeenUnit>), SeenUnit> {
        let (Some(a), Some(b)) = (&first.unit, &second.unit) else {
            return Ok((first.number, second.number, first.unit.clone().or_else(|| second.unit.clone())));
        };
        if a.seen == b.seen {
            return Ok((first.number, second.number, Some(b.clone())));
        }
        if let (Seen::Unit(x), Seen::Unit(y)) = (a.seen, b.seen)
            && let Some((_, chain)) = CHAINS.iter().find(|(dimension, _)| *dimension == x.dimension && *dimension == Dimension::Time)
            && chain.contains(&x.symbol)
            && chain.contains(&y.symbol)
        {
            let small = if x.factor < y.factor { x } else { y };
            let bring = |number: Option<Number>, from: &Unit| {
                let number = number.filter(|_| from != small);
                number.and_then(|number| split_number(from.convert_distance(number.value, small)?, from, small))
            };
            let seen = SeenUnit { seen: Seen::Unit(small), range: b.range.clone() };
            let low = bring(first.number, x).or(first.number);
            return Ok((low, bring(second.number, y).or(second.number), Some(seen)));
        }
        self.two_units(first.range.start..second.range.end);
        Err(a.clone())
    }

    fn two_units(&mut self, range: Range<usize>) {
        let message = format!("\"{}\" has two different units in one value", &self.cursor.text[range.clone()]);
        self.faults.push(Fault::new(FaultKind::ValueUnreadable, range, message, "write all its numbers in one unit"));
    }

    fn tolerance(&mut self, first: &Term) -> Option<(Option<Form>, Option<SeenUnit>)> {
        let mut trial = self.clone();
        trial.cursor.skip_spaces();
        let (plus, minus) = if trial.plus_minus() {
            let term = trial.deviation(first)?;
            (term.clone(), term)
        } else if trial.cursor.eat("+") {
            let plus = trial.deviation(first)?;
            trial.between_sides();
            // "+2/0" leaves the sign of nought away.
            if !trial.cursor.eat_char(is_dash) && !trial.cursor.rest().starts_with('0') {
                return None;
            }
            (plus, trial.deviation(first)?)
        } else if trial.cursor.eat_char(is_dash) {
            let minus = trial.deviation(first)?;
            trial.between_sides();
            if !trial.cursor.eat("+") {
                return None;
            }
            (trial.deviation(first)?, minus)
        } else {
            return None;
        };
        let form = trial.around(first, &plus, &minus);
        *self = trial;
        Some(form)
    }

    fn between_sides(&mut self) {
        self.cursor.skip_spaces();
        self.cursor.eat_char(|c| matches!(c, '/' | ','));
        self.cursor.skip_spaces();
    }

    fn around(&mut self, nominal: &Term, plus: &Term, minus: &Term) -> (Option<Form>, Option<SeenUnit>) {
        // A side without its own unit takes that of the other side, or of the value.
        let unit = [minus, plus, nominal].iter().find_map(|term| term.unit.clone());
        let plus = Term { unit: plus.unit.clone().or(unit.clone()), ..plus.clone() };
        let minus = Term { unit: minus.unit.clone().or(unit.clone()), ..minus.clone() };
        let nominal = Term { unit: nominal.unit.clone().or(unit), ..nominal.clone() };
        let above = match self.one_unit(&nominal, &plus) {
            Ok(found) => found,
            Err(seen) => return (None, Some(seen)),
        };
        let below = match self.one_unit(&nominal, &minus) {
            Ok(found) => found,
            Err(seen) => return (None, Some(seen)),
        };
        if above.2.as_ref().map(|unit| unit.seen) != below.2.as_ref().map(|unit| unit.seen) {
            let range = nominal.range.start..self.cursor.at;
            self.two_units(range);
            return (None, nominal.unit);
        }
        let form = above.0.zip(above.1).zip(below.1).map(|((nominal, plus), minus)| Form::Tolerance { nominal, plus, minus });
        (form, below.2)
    }

    fn plus_minus(&mut self) -> bool {
        let mut probe = self.cursor;
        let found = probe.eat("±") || {
            probe.eat("+") && {
                probe.eat("/");
                probe.eat_char(is_dash)
            }
        };
        if found {
            self.cursor = probe;
        }
        found
    }

    // The number after ± or + or -, with its sign already taken. A share of the value becomes a number in its unit.
    fn deviation(&mut self, first: &Term) -> Option<Term> {
        self.cursor.skip_spaces();
        if !starts_number(self.cursor.rest()) {
            return None;
        }
        let start = self.cursor.at;
        let mut probe = self.clone();
        let lexed = number(&mut probe.cursor, self.options.decimal_comma)?;
        probe.cursor.skip_spaces();
        if probe.cursor.eat("%") {
            self.cursor = probe.cursor;
            self.faults.extend(lexed.fault);
            let share = |nominal: Number, percent: Number| {
                Number::shortest(nominal.value.times(percent.value)?.times(Exact::ratio(1, 100))?.magnitude())
            };
            let number = first.number.zip(lexed.number).and_then(|(nominal, percent)| share(nominal, percent));
            return Some(Term { number, unit: first.unit.clone(), range: start..self.cursor.at });
        }
        let term = self.term()?;
        // The angle after a torque is no tolerance.
        let angle = matches!(&term.unit, Some(SeenUnit { seen: Seen::Wrong(unit), .. }) if unit.dimension == Dimension::Angle);
        (!angle).then_some(term)
    }

    /// Reads the angle after a torque: "+ 90°", "then 90°", ", then turn a further 90° ± 5°".
    pub(super) fn angle(&mut self) -> Option<Statement> {
        if self.dimension != Some(Dimension::Torque) {
            return None;
        }
        let mut cursor = self.cursor;
        cursor.skip_spaces();
        cursor.eat(",");
        cursor.skip_spaces();
        if !(cursor.eat("+") || ["plus", "then", "and"].iter().any(|word| cursor.eat_word(word))) {
            return None;
        }
        cursor.skip_spaces();
        cursor.eat_word("then");
        for word in ["turn", "tighten", "a", "further", "another", "through", "by"] {
            cursor.skip_spaces();
            cursor.eat_word(word);
        }
        let mut inner = Parser::new(cursor.text, cursor.at, Some(Dimension::Angle), self.options);
        inner.prose = self.prose;
        let part = inner.statement()?;
        let (Some(form), Some(SeenUnit { seen: Seen::Unit(unit), .. }), true) = (part.form, part.unit, inner.faults.is_empty()) else {
            return None;
        };
        self.cursor = inner.cursor;
        Some(Statement { form, unit, range: part.range })
    }
}

// A value whose parts were written in larger and smaller units. Where it would be printed in one unit after all, it is a plain number.
fn split_number(value: Exact, large: &Unit, small: &Unit) -> Option<Number> {
    let decimals = value.exact_decimals()?;
    let plain = large == small || value < large.convert(Exact::ONE, small)?;
    let written = if plain { Written::Decimal { decimals } } else { Written::Split { decimals } };
    Some(Number { value, written })
}
