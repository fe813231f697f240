//! Reads the TOML of a block by the table of keys: typed fields with their places, and a finding for
//! every fault, after which the rest is still read. The only user of the TOML parser. What the fields
//! mean together is left to `lower` and `shop`.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned as TomlSpanned;
use toml::de::{DeTable, DeValue};

use crate::finding::{Finding, RuleName};
use crate::guide::bounds;
use crate::guide::keys::{Block, Key, Kind, find, keys_of};
use crate::guide::model::{Condition, Date, HardwareCount, Term, Text};
use crate::guide::short::{self, Fault, Named};
use crate::guide::sides::Swaps;
use crate::guide::untold::Untold;
use crate::guide::verb::Verb;
use crate::near::{did_you_mean, nearest};
use crate::source::{FileId, Place, Span, Spanned};

/// What is named or titled has so many letters at most.
pub const LONGEST_NAME: usize = 200;
/// Any other text of a block.
pub const LONGEST_TEXT: usize = 2_000;
/// Keys whose text is a name.
const NAMES: [&str; 7] = ["title", "name", "id", "document", "revision", "system", "the heading"];
/// A number larger than this is a slip of the keyboard, not a count of bolts or a time.
const LARGEST_COUNT: i64 = 100_000;

/// Reads the blocks of one file and gathers what is wrong with them.
pub struct Reader {
    /// The file being read.
    pub file: FileId,
    /// What was found so far.
    pub findings: Vec<Finding>,
    /// Whether a comma separates decimals.
    pub decimal_comma: bool,
    /// Ids of which some count could not be read: nothing is then said of how many there are.
    pub uncounted: Vec<String>,
    /// Things that are told by their name where they are used: id and name.
    pub named: Vec<(String, Text)>,
    /// What nobody knows yet, and what somebody only heard.
    pub untold: Vec<Untold>,
    /// Whether it was told that there are more definitions than are read.
    pub full: bool,
}

/// The parsed text of one block.
pub struct Parsed<'t> {
    table: TomlSpanned<DeTable<'t>>,
    body: &'t str,
    base: usize,
    swaps: &'t Swaps,
    fence: Span,
}

/// The fields of one table.
#[derive(Clone, Copy)]
pub struct Fields<'t> {
    /// Which keys are valid.
    pub block: Block,
    table: &'t DeTable<'t>,
    pub(super) body: &'t str,
    base: usize,
    swaps: &'t Swaps,
    /// Where the table begins in the body.
    at: usize,
    /// The whole table, where findings about something missing point.
    pub span: Span,
}

impl<'t> Parsed<'t> {
    /// The fields of the block itself.
    pub fn fields(&'t self, block: Block) -> Fields<'t> {
        let at = (self.fence.start as usize).checked_sub(self.base).unwrap_or(usize::MAX);
        Fields { block, table: self.table.get_ref(), body: self.body, base: self.base, swaps: self.swaps, at, span: self.fence }
    }
}

type Value<'t> = &'t TomlSpanned<DeValue<'t>>;

impl<'t> Fields<'t> {
    /// Where the key itself stands, if it is there.
    pub fn key_span(&self, name: &str) -> Option<Span> {
        self.table.get_key_value(name).map(|(key, _)| self.shift(key.span()))
    }

    /// The names of the keys that are there.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.table.keys().map(|key| key.get_ref().as_ref())
    }

    /// Whether nothing stands in the table.
    pub fn is_empty(&self) -> bool {
        self.table.is_empty()
    }

    /// Whether the table was made of a short form: it does not begin with its bracket.
    pub fn is_short(&self) -> bool {
        !self.body.get(self.at..).is_some_and(|text| text.starts_with(['{', '[']))
    }

    /// Whether these are the fields of a step's block.
    pub fn is_step(&self) -> bool {
        self.block == Block::Step
    }

    /// The texts under a key as they are written, judged by nobody.
    pub fn plain(&self, name: &str) -> Option<String> {
        let text = |value: Value<'_>| match value.get_ref() {
            DeValue::String(text) => Some(text.clone().into_owned()),
            _ => None,
        };
        let value = self.table.get(name)?;
        match value.get_ref() {
            DeValue::Array(values) => Some(values.iter().filter_map(text).collect::<Vec<_>>().join(", ")),
            _ => text(value),
        }
    }

    /// Whether the table of keys has a row `name` for this block.
    pub fn has_row(&self, name: &str) -> bool {
        find(self.block, name).is_some()
    }

    pub(super) fn get(&self, name: &'static str) -> Option<Value<'t>> {
        debug_assert!(find(self.block, name).is_some(), "`{name}` is not in the table of keys for {}", self.block.name());
        self.table.get(name)
    }

    pub(super) fn shift(&self, range: Range<usize>) -> Span {
        let start = self.swaps.back(range.start, false);
        let end = self.swaps.back(range.end, true).max(start);
        Span::new(start + self.base..end + self.base)
    }

    /// The place of a text without its quotes, where the text is written without escapes; else of the whole value.
    fn inner(&self, value: Value<'_>, text: &str) -> Span {
        let span = value.span();
        let raw = self.body.get(span.clone()).unwrap_or_default();
        let quotes = raw.len().saturating_sub(text.len()) / 2;
        if raw.get(quotes..quotes + text.len()) == Some(text) && (quotes == 1 || quotes == 3) {
            self.shift(span.start + quotes..span.start + quotes + text.len())
        } else {
            self.shift(span)
        }
    }
}

/// The place in the file of a range of a text that begins at `base`, as it was before a side was put into it.
fn swapped(swaps: &Swaps, base: usize, range: Range<usize>) -> Span {
    let start = swaps.back(range.start, false);
    Span::new(base + start..base + swaps.back(range.end, true).max(start))
}

impl Reader {
    /// Parses the body of a block, short forms made into tables. Every syntax fault becomes one finding; what could be read is given back.
    pub fn parse<'t>(&mut self, body: &'t str, base: usize, fence: Span, block: Block) -> Parsed<'t> {
        self.parse_swapped((body, Swaps::NONE), base, fence, block)
    }

    /// The same of a text into which a side was put.
    pub fn parse_swapped<'t>(&mut self, (body, swaps): (&'t str, &'t Swaps), base: usize, fence: Span, block: Block) -> Parsed<'t> {
        let (mut table, errors) = DeTable::parse_recoverable(body);
        let mut seen = Vec::new();
        for error in errors {
            let range = error.span().unwrap_or(0..0);
            // The parser may report one fault again while it recovers; the first report of a line is the apt one.
            let line = body[..body.floor_char_boundary(range.start.min(body.len()))].matches('\n').count();
            if seen.contains(&line) {
                continue;
            }
            // The parser may end a mark inside of a character.
            let end = body.ceil_char_boundary(range.end.max(range.start).min(body.len()));
            let span = swapped(swaps, base, range.start.min(body.len())..end);
            let (message, remedy) = words_for(error.message(), &body[range.start.min(body.len())..]);
            self.findings.push(Finding::hold(RuleName::BlockUnreadable, self.place(span), message, remedy));
            seen.push(line);
        }
        let (faults, named) = short::expand(table.get_mut(), block, body, self.decimal_comma);
        self.short_faults(swaps, base, faults, named);
        Parsed { table, body, base, swaps, fence }
    }

    /// Reads an operation in the short form that is written at `base`; `whole` is the link that it is the address of.
    pub fn operation<'t>(&mut self, (text, swaps): (&'t str, &'t Swaps), base: usize, whole: Span) -> Parsed<'t> {
        let (table, faults, named) = short::operation(short::Line::new(text, text, 0..text.len()));
        self.short_faults(swaps, base, faults, named);
        Parsed { table: TomlSpanned::new(0..text.len(), table), body: text, base, swaps, fence: whole }
    }

    /// Reads the facts in the heading of a step.
    pub fn heading<'t>(&mut self, facts: &[(Text, Text)], source: &'t str, heading: Span) -> Parsed<'t> {
        let table = short::attributes(facts, source);
        Parsed { table: TomlSpanned::new(heading.range(), table), body: source, base: 0, swaps: Swaps::NONE, fence: heading }
    }

    fn short_faults(&mut self, swaps: &Swaps, base: usize, faults: Vec<Fault>, named: Vec<Named>) {
        let shift = |range: Range<usize>| swapped(swaps, base, range);
        for Fault { rule, range, message, remedy } in faults {
            self.findings.push(Finding::hold(rule, self.place(shift(range)), message, remedy));
        }
        self.named.extend(named.into_iter().map(|Named { id, name, range }| (id, Spanned::new(name, shift(range)))));
    }

    /// Checks the keys of a table against the rows for its block: unknown ones and missing ones.
    pub fn check_keys(&mut self, fields: &Fields<'_>) {
        for (key, _) in fields.table.iter() {
            let name: &str = key.get_ref();
            if find(fields.block, name).is_none() {
                self.unknown_key(fields, name, fields.shift(key.span()));
            }
        }
        for key in keys_of(fields.block).filter(|key| key.required && !fields.table.contains_key(key.name)) {
            self.findings.push(Finding::hold(
                RuleName::KeyMissing,
                self.place(fields.span),
                format!("{} has no `{}`", fields.block.name(), key.name),
                format!("add `{} = {}` with the right words: {}", key.name, key.example, lower_first(key.meaning)),
            ));
        }
    }

    fn unknown_key(&mut self, fields: &Fields<'_>, name: &str, span: Span) {
        let near = nearest(name, keys_of(fields.block).map(|key| key.name).filter(|key| !fields.table.contains_key(*key)));
        let elsewhere = Block::ALL.into_iter().filter(|&block| find(block, name).is_some()).map(Block::name).collect::<Vec<_>>();
        let remedy = match (near, elsewhere.is_empty()) {
            (Some(near), _) => format!("write `{near}`, or take the line out"),
            (None, false) => format!("`{name}` belongs to {}; move it there, or take the line out", elsewhere.join(" or ")),
            (None, true) => "take the line out; the handbook lists the keys of each block".to_owned(),
        };
        let mut finding =
            Finding::hold(RuleName::KeyUnknown, self.place(span), format!("{} has no key `{name}`", fields.block.name()), remedy);
        if let Some(near) = near {
            let certain = elsewhere.is_empty() && certain_key(fields, name).is_some_and(|key| key.name == near);
            finding = if certain { finding.with_edit(span, near) } else { finding.with_suggestion(span, near) };
        }
        self.findings.push(finding);
    }

    /// A place in the file being read.
    pub fn place(&self, span: Span) -> Place {
        Place { file: self.file, span }
    }

    fn wrong(&mut self, fields: &Fields<'_>, name: &str, value: Value<'_>) {
        let Some(key) = find(fields.block, name) else { return };
        self.wrong_value(fields, key, value);
    }

    fn wrong_value(&mut self, fields: &Fields<'_>, key: &Key, value: Value<'_>) {
        let given = match value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let place = self.place(fields.shift(value.span()));
        let remedy = match key.kind {
            Kind::Blocks(_) => format!("write [[{0}]] with two brackets on a line of its own, once for each {0}", key.name),
            _ => format!("write it like this: {} = {}", key.name, key.example),
        };
        let message = format!("`{}` is {given} here, and takes {}", key.name, key.kind.describe());
        self.findings.push(Finding::hold(RuleName::TypeWrong, place, message, remedy));
    }

    /// A line of text; empty text counts as missing.
    pub fn text(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Text> {
        let value = fields.get(name)?;
        let text = self.as_text(fields, name, value)?;
        if text.value.trim().is_empty() {
            let place = self.place(fields.shift(value.span()));
            let finding = if find(fields.block, name).is_some_and(|key| key.required) {
                Finding::hold(RuleName::KeyMissing, place, format!("`{name}` is empty"), "write the words")
            } else {
                Finding::query(RuleName::TypeWrong, place, format!("`{name}` is empty"), "write the words, or take the line out")
            };
            self.findings.push(finding);
            return None;
        }
        self.certain(fields, name, text)
    }

    fn as_text(&mut self, fields: &Fields<'_>, name: &str, value: Value<'_>) -> Option<Text> {
        match value.get_ref() {
            DeValue::String(text) => {
                let span = fields.inner(value, text);
                Some(Spanned::new(self.bounded(name, text, span), span))
            }
            _ => {
                self.wrong(fields, name, value);
                None
            }
        }
    }

    /// A text no longer than it can be, told where it is cut: what is made of it further on has to fit a line, a list or a sheet.
    pub fn bounded(&mut self, name: &str, text: &str, span: Span) -> String {
        let most = if NAMES.contains(&name) { LONGEST_NAME } else { LONGEST_TEXT };
        let Some((end, _)) = text.char_indices().nth(most) else { return text.to_owned() };
        // Its start is enough to find it by.
        let start = text.char_indices().nth(20).map_or(0, |(at, _)| at);
        let span = if (span.end - span.start) as usize == text.len() { span.part(0..start) } else { span };
        let named = if name.contains(' ') { name.to_owned() } else { format!("`{name}`") };
        let message = format!("{named} has {} letters, and takes at most {most}", text.chars().count());
        self.findings.push(Finding::hold(
            RuleName::OverLimit,
            self.place(span),
            message,
            "shorten it; what needs more words belongs in a step",
        ));
        text[..end].to_owned()
    }

    /// An id: lower-case letters, digits and hyphens.
    pub fn id(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Text> {
        let id = self.text(fields, name)?;
        if !is_id(&id.value) {
            self.findings.push(Finding::hold(
                RuleName::TypeWrong,
                self.place(id.span),
                format!("`{}` cannot be an id", id.value),
                format!("use lower-case letters, digits and hyphens, for instance `{}`", slug_of(&id.value)),
            ));
        }
        Some(id)
    }

    /// A list of texts; a single text counts as a list of one.
    pub fn texts(&mut self, fields: &Fields<'_>, name: &'static str) -> Vec<Text> {
        debug_assert!(find(fields.block, name).is_some(), "`{name}` is not in the table of keys for {}", fields.block.name());
        let mut texts = self.texts_as_written(fields, name);
        self.untold_list(fields, name, &mut texts);
        texts
    }

    /// The same under a key that may be misspelt.
    pub fn texts_as_written(&mut self, fields: &Fields<'_>, name: &str) -> Vec<Text> {
        let Some(value) = fields.table.get(name) else { return Vec::new() };
        match value.get_ref() {
            DeValue::Array(values) => {
                let beside = matches!(fields.block, Block::Step | Block::Operation) || matches!(name, "stages" | "order");
                let most = if beside { bounds::MOST_BESIDE } else { bounds::MOST_ROWS };
                let values = self.no_more(fields, name, values, most);
                values.iter().filter_map(|value| self.filled(fields, name, value)).collect()
            }
            _ => self.filled(fields, name, value).into_iter().collect(),
        }
    }

    /// The entries of a list as far as they are read; more are told.
    fn no_more<'l, 'v>(
        &mut self,
        fields: &Fields<'_>,
        name: &str,
        values: &'l [TomlSpanned<DeValue<'v>>],
        most: usize,
    ) -> &'l [TomlSpanned<DeValue<'v>>] {
        let Some(beyond) = values.get(most) else { return values };
        let start = fields.shift(beyond.span()).part(0..0);
        self.beyond(
            start,
            format!("`{name}` has {} entries, and is read up to here: it takes {most}", values.len()),
            "part the guide, or take some out",
        );
        &values[..most]
    }

    /// Something that is more than is read.
    pub fn beyond(&mut self, start: Span, message: String, remedy: &str) {
        let place = self.place(start);
        self.findings.push(Finding::hold(RuleName::OverLimit, place, message, remedy));
    }

    /// A text of a list, told and left out where there is nothing in it.
    fn filled(&mut self, fields: &Fields<'_>, name: &str, value: Value<'_>) -> Option<Text> {
        let text = self.as_text(fields, name, value)?;
        if text.value.trim().is_empty() {
            let place = self.place(fields.shift(value.span()));
            self.findings.push(Finding::query(
                RuleName::TypeWrong,
                place,
                format!("an entry of `{name}` is empty"),
                "write the words, or take it out",
            ));
            return None;
        }
        Some(text)
    }

    /// One of the words the key allows.
    pub fn word(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Text> {
        let text = self.text(fields, name)?;
        let Some(Key { kind: Kind::Word(words), .. }) = find(fields.block, name) else { return Some(text) };
        if words.contains(&text.as_str()) {
            return Some(text);
        }
        let near = nearest(&text.value.to_lowercase(), words.iter().copied());
        let mut finding = Finding::hold(
            RuleName::TypeWrong,
            self.place(text.span),
            format!("`{name}` cannot be `{}`", text.value),
            format!("use one of {}{}", words.join(", "), did_you_mean(near)),
        );
        if let Some(near) = near {
            finding = finding.with_suggestion(text.span, near);
        }
        self.findings.push(finding);
        // What was meant is clear: the slip is told once, and the rest goes on as if it were written right.
        near.map(|near| Spanned::new(near.to_owned(), text.span))
    }

    /// True or false; false where the key is not there.
    pub fn flag(&mut self, fields: &Fields<'_>, name: &'static str) -> bool {
        self.yes_or_no(fields, name).unwrap_or(false)
    }

    /// True or false where it makes a difference that nothing is said.
    pub fn yes_or_no(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<bool> {
        let value = fields.get(name)?;
        if let DeValue::Boolean(said) = value.get_ref() {
            return Some(*said);
        }
        self.wrong(fields, name, value);
        None
    }

    /// A whole number, zero or more.
    pub fn count(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Spanned<u32>> {
        let value = fields.get(name)?;
        let span = fields.shift(value.span());
        if let DeValue::String(_) = value.get_ref() {
            return self.count_in_words(fields, name, value);
        }
        let DeValue::Integer(number) = value.get_ref() else {
            self.wrong(fields, name, value);
            return None;
        };
        match i64::from_str_radix(&number.as_str().replace('_', ""), number.radix()) {
            Ok(count @ 0..=LARGEST_COUNT) => Some(Spanned::new(count as u32, span)),
            _ => self.impossible(name, number.as_str(), span),
        }
    }

    /// A count that is unsure, or that nobody knows; any other text is none.
    fn count_in_words(&mut self, fields: &Fields<'_>, name: &'static str, value: Value<'_>) -> Option<Spanned<u32>> {
        let (before, heard) = (self.findings.len(), self.untold.len());
        let text = self.text(fields, name)?;
        match text.value.trim().parse::<u32>().ok().filter(|count| i64::from(*count) <= LARGEST_COUNT) {
            Some(count) if self.untold.len() > heard => Some(Spanned::new(count, text.span)),
            _ => {
                if self.findings.len() == before {
                    self.untold.truncate(heard);
                    self.wrong(fields, name, value);
                }
                None
            }
        }
    }

    fn impossible<T>(&mut self, name: &str, written: &str, span: Span) -> Option<T> {
        let message = format!("`{name}` cannot be {written}");
        self.findings.push(Finding::hold(
            RuleName::TypeWrong,
            self.place(span),
            message,
            format!("write a number from 0 to {LARGEST_COUNT}"),
        ));
        None
    }

    /// A number of minutes in thousandths.
    pub fn minutes(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Spanned<u32>> {
        let value = fields.get(name)?;
        let span = fields.shift(value.span());
        let written = match value.get_ref() {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            DeValue::Float(number) => number.as_str(),
            DeValue::String(_) => {
                return self.count_in_words(fields, name, value).map(|minutes| Spanned::new(minutes.value * 1000, minutes.span));
            }
            _ => {
                self.wrong(fields, name, value);
                return None;
            }
        };
        match thousandths(&written.replace('_', "")) {
            Some(minutes) => Some(Spanned::new(minutes, span)),
            None => self.impossible(name, written, span),
        }
    }

    /// A calendar day.
    pub fn date(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Spanned<Date>> {
        let value = fields.get(name)?;
        match value.get_ref() {
            DeValue::Datetime(when) => {
                let date = when.date.filter(|_| when.time.is_none());
                if date.is_none() {
                    self.wrong(fields, name, value);
                }
                let date = date?;
                Some(Spanned::new(Date { year: date.year, month: date.month, day: date.day }, fields.shift(value.span())))
            }
            _ => {
                self.wrong(fields, name, value);
                None
            }
        }
    }

    /// A place on a picture: two numbers, left to right and top to bottom. Whether they lie on it is left to a rule.
    pub fn point(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Spanned<(f64, f64)>> {
        let value = fields.get(name)?;
        let number = |part: &TomlSpanned<DeValue<'_>>| match part.get_ref() {
            DeValue::Integer(_) | DeValue::Float(_) => {
                fields.body.get(part.span())?.replace('_', "").parse::<f64>().ok().filter(|n| n.is_finite())
            }
            _ => None,
        };
        let point = match value.get_ref() {
            DeValue::Array(parts) if parts.len() == 2 => number(&parts[0]).zip(number(&parts[1])),
            _ => None,
        };
        if point.is_none() {
            self.wrong(fields, name, value);
        }
        Some(Spanned::new(point?, fields.shift(value.span())))
    }

    /// Counts of hardware: `4 x seat-bolt`.
    pub fn hardware(&mut self, fields: &Fields<'_>, name: &'static str) -> Vec<HardwareCount> {
        let texts = self.texts(fields, name);
        texts.into_iter().filter_map(|text| self.hardware_count(fields, name, text)).collect()
    }

    fn hardware_count(&mut self, fields: &Fields<'_>, name: &str, text: Text) -> Option<HardwareCount> {
        let whole = text.span;
        let text = match self.untold_count(fields, name, &text) {
            Some((id, true)) if is_id(&id.value) => {
                self.uncounted.push(id.value.clone());
                return Some(HardwareCount { count: 0, id, span: whole });
            }
            Some((text, false)) => text,
            _ => text,
        };
        let written = text.value.as_str();
        let digits = written.len() - written.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let rest = written[digits..].trim_start();
        let id = rest.strip_prefix(['x', '×']).filter(|rest| rest.starts_with(' ')).map_or("", str::trim);
        let count = written[..digits].parse::<u32>().ok().filter(|count| (1..=10_000).contains(count));
        match count {
            Some(count) if is_id(id) => {
                let at = written.len() - written.trim_end().len();
                let end = text.span.end - at as u32;
                let id_span = Span { start: end.saturating_sub(id.len() as u32).max(text.span.start), end };
                Some(HardwareCount { count, id: Spanned::new(id.to_owned(), id_span), span: text.span })
            }
            _ => {
                self.findings.push(Finding::hold(
                    RuleName::TypeWrong,
                    self.place(text.span),
                    format!("`{written}` does not say how many of which hardware"),
                    "write a number, an x and the id of the hardware, for instance \"4 x seat-bolt\"",
                ));
                self.uncounted.extend(written.split_whitespace().next_back().map(str::to_owned));
                None
            }
        }
    }

    /// A condition on options.
    pub fn condition(&mut self, fields: &Fields<'_>, name: &'static str) -> Condition {
        let texts = self.texts(fields, name);
        let terms = texts.into_iter().map(|text| match text.value.strip_prefix("not ") {
            Some(option) => {
                let option = option.trim().to_owned();
                let start = text.span.end.saturating_sub(option.len() as u32).max(text.span.start);
                Term { option: Spanned::new(option, Span { start, end: text.span.end }), absent: true }
            }
            None => {
                // `no partition` is meant as what it says, whatever it should be written as.
                let without = ["no ", "without ", "! ", "!"].iter().find_map(|word| text.value.strip_prefix(word));
                match without.map(|option| option.trim().to_owned()) {
                    Some(option) if is_id(&option) => {
                        let place = self.place(text.span);
                        let message = format!("`{}` is no condition", text.value);
                        self.findings.push(
                            Finding::hold(RuleName::TypeWrong, place, message, format!("write \"not {option}\""))
                                .with_suggestion(text.span, format!("not {option}")),
                        );
                        let start = text.span.end.saturating_sub(option.len() as u32).max(text.span.start);
                        Term { option: Spanned::new(option, Span { start, end: text.span.end }), absent: true }
                    }
                    _ => Term { option: text, absent: false },
                }
            }
        });
        Condition(terms.collect())
    }

    /// A table from id to text, in the order written.
    pub fn named(&mut self, fields: &Fields<'_>, name: &'static str) -> Vec<(Text, Text)> {
        let Some(value) = fields.get(name) else { return Vec::new() };
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong(fields, name, value);
            return Vec::new();
        };
        let mut rows: Vec<(Text, Text)> = table
            .iter()
            .filter_map(|(key, value)| {
                let id = Spanned::new(key.get_ref().clone().into_owned(), fields.shift(key.span()));
                self.as_text(fields, name, value).map(|text| (id, text))
            })
            .collect();
        rows.sort_by_key(|(id, _)| id.span);
        rows
    }

    /// The tables of `[[name]]`, or of a list of small tables, their keys checked.
    pub fn tables<'t>(&mut self, fields: &Fields<'t>, name: &'static str, block: Block) -> Vec<Fields<'t>> {
        let Some(value) = fields.get(name) else { return Vec::new() };
        let DeValue::Array(values) = value.get_ref() else {
            self.wrong(fields, name, value);
            return Vec::new();
        };
        let most = if block == Block::Operation { bounds::MOST_IN_STEP } else { bounds::MOST_ROWS };
        let values = self.no_more(fields, name, values, most);
        let mut tables = Vec::with_capacity(values.len());
        for value in values {
            match value.get_ref() {
                DeValue::Table(table) => {
                    let (at, span) = (value.span().start, fields.shift(value.span()));
                    let inner = Fields { block, table, body: fields.body, base: fields.base, swaps: fields.swaps, at, span };
                    self.check_keys(&inner);
                    tables.push(inner);
                }
                _ => self.wrong(fields, name, value),
            }
        }
        tables
    }
}

/// The rule that a fault of a value belongs to.
/// The known key that differs from `name` by one character, or by a swap of neighbours, if there is only one.
fn one_slip_away(block: Block, name: &str) -> Option<&'static Key> {
    let mut near = keys_of(block).filter(|key| strsim::damerau_levenshtein(name, key.name) == 1);
    near.next().filter(|_| near.next().is_none())
}

/// The key that a misspelt one must have meant: one slip away, no other is, and putting it in its place moves nothing else.
fn certain_key(fields: &Fields<'_>, name: &str) -> Option<&'static Key> {
    let meant = one_slip_away(fields.block, name)?;
    // Of three letters one is too much to guess. A table may go on in several places under one misspelt name.
    if meant.name.len() < 4 || matches!(meant.kind, Kind::Blocks(_) | Kind::Named | Kind::Operations) {
        return None;
    }
    // A spec has one value and an operation one verb: a second one would push the first aside.
    let excludes = |other: &Key| match meant.kind {
        Kind::Value(_) => matches!(other.kind, Kind::Value(_)),
        _ => Verb::from_key(meant.name).is_some() && fields.block == Block::Operation && Verb::from_key(other.name).is_some(),
    };
    let clear = fields.names().filter(|other| *other != name).all(|other| {
        find(fields.block, other).or_else(|| one_slip_away(fields.block, other)).is_none_or(|key| key.name != meant.name && !excludes(key))
    });
    clear.then_some(meant)
}

/// Whether `text` may name something: letters, digits and hyphens in lower case, a letter first.
pub fn is_id(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.len() <= 80
        && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

/// `text` as an id: lower case, hyphens for everything that is neither letter nor digit.
pub fn slug_of(text: &str) -> String {
    let mut slug = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        let folded: Cow<'_, str> = match c {
            'ä' => "ae".into(),
            'ö' => "oe".into(),
            'ü' => "ue".into(),
            'ß' => "ss".into(),
            'é' | 'è' | 'ê' => "e".into(),
            'á' | 'à' | 'â' => "a".into(),
            c if c.is_ascii_alphanumeric() => c.to_string().into(),
            _ => "-".into(),
        };
        if folded != "-" || !(slug.is_empty() || slug.ends_with('-')) {
            slug.push_str(&folded);
        }
    }
    while slug.ends_with('-') {
        slug.pop();
    }
    if slug.starts_with(|c: char| c.is_ascii_digit()) {
        slug.insert_str(0, "n-");
    }
    slug.truncate(80);
    if slug.is_empty() { "unnamed".to_owned() } else { slug }
}

/// A plain decimal number of minutes in thousandths.
fn thousandths(written: &str) -> Option<u32> {
    let (whole, part) = written.strip_prefix('+').unwrap_or(written).split_once('.').unwrap_or((written, ""));
    if part.len() > 3 || !part.bytes().all(|b| b.is_ascii_digit()) || !whole.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let whole: i64 = whole.parse().ok().filter(|&minutes| minutes <= LARGEST_COUNT)?;
    let part: u32 = format!("{part:0<3}").parse().ok()?;
    Some(whole as u32 * 1000 + part)
}

/// What the reader's syntax messages mean to somebody who does not know the notation: a piece of the message, what is wrong, what to do.
const SYNTAX: &[(&str, &str, &str)] = &[
    ("invalid basic string", "a text has no closing quotation mark", "put the text between quotation marks: key = \"text\""),
    ("invalid literal string", "a text has no closing quotation mark", "put the text between quotation marks: key = \"text\""),
    ("must be quoted", "a text or value stands without quotation marks, or is missing", "put it between quotation marks: key = \"text\""),
    ("between array elements", "a comma is missing between two entries of the list", "put a comma between the entries"),
    ("between key-value pairs", "a comma is missing between two entries of the small table", "put a comma between the entries"),
    (
        "unclosed array table",
        "a line that starts a block has too few brackets",
        "write the name between two brackets on each side: [[part]]",
    ),
    ("unclosed table", "a line that starts a block has no closing bracket", "write the name between two brackets on each side: [[part]]"),
    ("unclosed array", "the list is not closed", "close the list with ]"),
    ("unclosed inline table", "the small table is not closed", "close the small table with }"),
    (
        "unexpected key or value",
        "something more stands behind the value",
        "start a new line for the next key, or make a list: [\"one\", \"two\"]",
    ),
    (
        "duplicate key",
        "this key stands here twice",
        "keep one of the two; several blocks of a kind are all written [[name]], or all in one list",
    ),
    ("key with no value", "this line has no = with a value behind it", "write key = value"),
    ("keys cannot be empty", "there is no key in front of the =", "write key = value"),
    ("invalid date", "this is no date", "write year, month and day: 2026-09-14"),
    ("leading zero", "a number starts with 0", "write the number without it, or put the value between quotation marks"),
    ("invalid float", "this is no number", "write one number, or put the value between quotation marks"),
    ("invalid boolean", "this is neither true nor false", "write true or false in lower-case letters"),
    ("escape", "a backslash stands in the text", "write it twice, or take it out"),
];

/// The words of a reader's syntax message.
fn words_for(message: &str, text: &str) -> (String, String) {
    let told = message.lines().next().unwrap_or_default().trim();
    let line = text.lines().next().unwrap_or_default();
    let known = SYNTAX.iter().find(|(piece, ..)| told.contains(piece));
    let remedy = if line.contains(['“', '”', '„', '‘', '’']) {
        "use straight quotation marks: key = \"text\""
    } else if line.starts_with(|c: char| c.is_ascii_digit() || c == '-') && told.contains("quot") {
        "write one number, or a date such as 2026-09-14; anything else stands in quotation marks"
    } else {
        known.map_or("each line is key = value; texts stand in quotation marks, lists in [ ], small tables in { }", |(.., remedy)| remedy)
    };
    (format!("this cannot be read: {}", known.map_or(told, |(_, words, _)| words)), remedy.to_owned())
}

fn lower_first(sentence: &str) -> String {
    let mut chars = sentence.trim_end_matches('.').chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_are_read_exactly() {
        assert_eq!(thousandths("15"), Some(15_000));
        assert_eq!(thousandths("2.5"), Some(2_500));
        assert_eq!(thousandths("-1"), None);
        assert_eq!(thousandths("1e3"), None);
        assert_eq!(thousandths("99999999999999999999"), None);
    }

    #[test]
    fn headings_become_ids() {
        assert_eq!(slug_of("Take the seat out"), "take-the-seat-out");
        assert_eq!(slug_of("Öl ablassen (6,5 L)"), "oel-ablassen-6-5-l");
        assert_eq!(slug_of("…"), "unnamed");
        assert!(is_id(&slug_of("13-pin socket")));
    }
}
