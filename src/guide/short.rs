//! The short form: an operation or a definition in one line, cut into the keys and values of the table of keys. An operation is
//! `tighten: 4 x seat-bolt, torque seat-bolt, with torque-wrench-60`, a definition `seat-bolt = "4 x Flange bolt; M10x1.25; 10.9"`. Both
//! become the same small table that the long form is, every piece at its place, so that whatever reads and judges tables need not know.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned as TomlSpanned;
use toml::de::{DeArray, DeTable, DeValue};

use crate::fastener::special::Special;
use crate::fastener::{Class, Drive, Kind as Fastener, Thread};
use crate::finding::RuleName;
use crate::guide::facts::{is_id, slug_of};
use crate::guide::keys::{Block, Key, Kind, find, keys_of};
use crate::guide::model::{Operation, Text, TorqueRef};
use crate::guide::verb::Verb;
use crate::near::nearest;
use crate::quantity::{self, Dimension, FaultKind};

/// What is wrong with a short form.
pub struct Fault {
    /// The rule it belongs to.
    pub rule: RuleName,
    /// Where, in the text that holds the short form.
    pub range: Range<usize>,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub remedy: String,
}

/// A thing that is told by its name where it is used, and so has no definition of its own.
pub struct Named {
    /// The id made of the name.
    pub id: String,
    /// The name.
    pub name: String,
    /// Where, in the text that holds the short form.
    pub range: Range<usize>,
}

/// The words of a short form and where they stand.
#[derive(Clone)]
pub struct Line<'t> {
    text: Cow<'t, str>,
    /// The text that holds it.
    body: &'t str,
    /// Its place there.
    whole: Range<usize>,
}

impl<'t> Line<'t> {
    /// The words at `whole` of `body`. Where they read otherwise than they are written there, every piece is at the place of the whole.
    pub fn new(text: &str, body: &'t str, whole: Range<usize>) -> Self {
        let written = body.get(whole.clone()).unwrap_or_default();
        let text = if written == text { Cow::Borrowed(written) } else { Cow::Owned(text.to_owned()) };
        Line { text, body, whole }
    }

    fn place(&self, range: &Range<usize>) -> Range<usize> {
        match self.text {
            Cow::Borrowed(_) => self.whole.start + range.start..self.whole.start + range.end,
            Cow::Owned(_) => self.whole.clone(),
        }
    }

    fn slice(&self, range: Range<usize>) -> Cow<'t, str> {
        match &self.text {
            Cow::Borrowed(text) => Cow::Borrowed(&text[range]),
            Cow::Owned(text) => Cow::Owned(text[range].to_owned()),
        }
    }

    /// The same digits as they stand in the text that holds the line, since a number lives as long as that.
    fn digits(&self, range: &Range<usize>) -> Option<&'t str> {
        let written = &self.text[range.clone()];
        let held = self.body.get(self.place(range))?;
        held.find(written).map(|at| &held[at..at + written.len()])
    }
}

/// The verb of an operation in the short form and where the rest begins. `switch off` and `switch-off` are read as `switch_off`.
pub fn verb_of(text: &str) -> Option<(String, usize)> {
    let colon = text.find(':')?;
    let word = text[..colon].trim();
    let plain = !word.is_empty() && word.len() <= 20 && word.chars().all(|c| c.is_ascii_lowercase() || matches!(c, '_' | '-' | ' '));
    plain.then(|| (word.replace(['-', ' '], "_"), colon + 1))
}

/// An operation as a small table.
pub fn operation<'t>(line: Line<'t>) -> (DeTable<'t>, Vec<Fault>, Vec<Named>) {
    let mut maker = Maker::new(line, Block::Operation, false);
    let text = maker.line.text.clone();
    let Some((verb, from)) = verb_of(&text) else {
        let whole = 0..text.len();
        maker.fault(
            RuleName::TypeWrong,
            &whole,
            "this does not say what is done",
            "start it with a verb and a colon, such as `remove: seat`",
        );
        return (maker.table, maker.faults, maker.named);
    };
    let lead = text.len() - text.trim_start().len();
    let written = text[lead..from].trim_end_matches(':').trim_end().len();
    let verb_range = lead..lead + written;
    let mut things: Vec<Range<usize>> = Vec::new();
    let mut implied: Vec<Range<usize>> = Vec::new();
    let mut last: Option<(&'static Key, Range<usize>)> = None;
    let mut started = false;
    for piece in pieces(&text, from, true) {
        let words = &text[piece.clone()];
        if words.is_empty() {
            continue;
        }
        let first = !std::mem::replace(&mut started, true);
        if let Some(name) = words.strip_prefix('"').and_then(|words| words.strip_suffix('"')).filter(|name| !name.trim().is_empty()) {
            let id = slug_of(name);
            maker.named.push(Named { id: id.clone(), name: name.to_owned(), range: maker.line.place(&(piece.start + 1..piece.end - 1)) });
            maker.push(&verb, &verb_range, DeValue::String(id.into()), &piece);
            things.push(piece);
            last = None;
        } else if let Some(id) = counted(words) {
            // How many of what: whether it is hardware or a part is known when all ids are.
            maker.push("hardware", &piece, DeValue::String(maker.line.slice(piece.clone())), &piece);
            implied.push(piece.start + id.start..piece.start + id.end);
            last = None;
        } else if let Some((key, rest)) = key_at(Block::Operation, words).filter(|(key, _)| !first && Verb::from_key(key.name).is_none()) {
            let value = piece.start + rest..piece.end;
            maker.put(key, &piece, value.clone());
            last = Some((key, value));
        } else if let Some((key, value)) = last.clone().filter(|(key, _)| goes_on(key, words)) {
            match key.kind {
                Kind::Ids(_) | Kind::Texts | Kind::Condition => maker.put(key, &piece, piece.clone()),
                // A comma inside a text is a comma.
                _ => {
                    let longer = value.start..piece.end;
                    maker.replace(key, longer.clone());
                    last = Some((key, longer));
                }
            }
        } else if words.starts_with(|c: char| c.is_ascii_digit()) && !maker.table.contains_key("torque") && !first {
            maker.push_one("torque", &piece, piece.clone());
            last = None;
        } else if last.is_none() && implied.is_empty() && is_id(words) {
            maker.push(&verb, &verb_range, DeValue::String(maker.line.slice(piece.clone())), &piece);
            things.push(piece);
        } else {
            maker.unknown(&piece, first);
            last = None;
        }
    }
    // `tighten: 4 x seat-bolt` acts on the bolts themselves.
    if things.is_empty() {
        for id in implied {
            maker.push(&verb, &verb_range, DeValue::String(maker.line.slice(id.clone())), &id);
        }
        if !maker.table.contains_key(verb.as_str()) && maker.faults.is_empty() {
            maker.table.insert(
                spanned(maker.line.place(&verb_range), verb.into()),
                spanned(maker.line.place(&verb_range), DeValue::Array(DeArray::new())),
            );
        } else if !maker.table.contains_key(verb.as_str()) {
            // What is said of it was told already: the operation is left out.
            maker.table = DeTable::new();
        }
    }
    (maker.table, maker.faults, maker.named)
}

/// A definition as a small table: its id, and what stands in one line behind it.
pub fn definition<'t>(block: Block, id: TomlSpanned<Cow<'t, str>>, line: Line<'t>, decimal_comma: bool) -> (DeTable<'t>, Vec<Fault>) {
    let mut maker = Maker::new(line, block, decimal_comma);
    let id_key = if block == Block::Change { "revision" } else { "id" };
    maker.table.insert(spanned(id.span(), Cow::Borrowed(id_key)), spanned(id.span(), DeValue::String(id.get_ref().clone())));
    let text = maker.line.text.clone();
    let mut found = pieces(&text, 0, false);
    // A change is its day and then words, with whatever semicolons stand in them.
    if block == Block::Change && found.len() > 2 {
        let first_is_day = maker.looks_like(&text[found[0].clone()]) == Some("issued");
        let from = found[usize::from(first_is_day)].start;
        found.truncate(usize::from(first_is_day));
        found.push(from..text.trim_end().len());
    }
    for (at, piece) in found.into_iter().enumerate() {
        let words = &text[piece.clone()];
        if words.is_empty() {
            continue;
        }
        let name = find(block, "name").filter(|_| at == 0);
        if let Some(name) = name {
            // A value needs no name where it belongs to something that has one.
            if let Some(key) = maker.value_key(words).filter(|_| block == Block::Spec) {
                maker.put(key, &piece, piece.clone());
                continue;
            }
            let (count, from) = match leading_count(words).filter(|_| matches!(block, Block::Part | Block::Hardware)) {
                Some((digits, rest)) => (Some(piece.start..piece.start + digits), piece.start + rest),
                None => (None, piece.start),
            };
            if let (Some(count), Some(key)) = (count, find(block, "supplied")) {
                maker.put(key, &piece, count);
            }
            maker.put(name, &piece, from..piece.end);
            continue;
        }
        maker.detail(&piece);
    }
    // A value without a name of its own belongs to what has its id.
    if block == Block::Spec && !maker.table.contains_key("name") && !maker.table.contains_key("for") {
        maker.table.insert(spanned(id.span(), Cow::Borrowed("for")), spanned(id.span(), DeValue::String(id.get_ref().clone())));
    }
    (maker.table, maker.faults)
}

/// The facts in a heading as a table: values without spaces, lists with commas between.
pub fn attributes<'t>(facts: &[(Text, Text)], source: &'t str) -> DeTable<'t> {
    let mut table = DeTable::new();
    for (key, value) in facts {
        let range = value.span.range();
        let text = |range: Range<usize>| DeValue::String(Cow::Borrowed(source.get(range).unwrap_or_default()));
        let read = match find(Block::Step, &key.value).map(|key| key.kind) {
            Some(Kind::Ids(_) | Kind::Texts | Kind::Condition) => {
                let mut list = DeArray::new();
                let mut at = range.start;
                for part in value.value.split(',') {
                    list.push(spanned(at..at + part.len(), text(at..at + part.len())));
                    at += part.len() + 1;
                }
                DeValue::Array(list)
            }
            Some(Kind::Minutes | Kind::Count | Kind::Flag) => source
                .get(range.clone())
                .and_then(|text| DeValue::parse(text).ok())
                .map_or_else(|| text(range.clone()), TomlSpanned::into_inner),
            _ => text(range.clone()),
        };
        table.insert(spanned(key.span.range(), Cow::Owned(key.value.clone())), spanned(range, read));
    }
    table
}

/// Which definitions may stand in one line.
const IN_ONE_LINE: &[Block] = &[
    Block::Part,
    Block::Hardware,
    Block::Spec,
    Block::Option,
    Block::Connector,
    Block::Item,
    Block::Tool,
    Block::Consumable,
    Block::Change,
    Block::Circuit,
    Block::Vehicle,
];

/// Puts small tables in the place of everything that stands in the short form in a block: `seat = "..."` below `[item]`, texts in `do`.
pub fn expand<'t>(table: &mut DeTable<'t>, block: Block, body: &'t str, decimal_comma: bool) -> (Vec<Fault>, Vec<Named>) {
    let (mut faults, mut named) = (Vec::new(), Vec::new());
    for key in keys_of(block) {
        let Some(value) = table.get_mut(key.name) else { continue };
        let whole = value.span();
        match (key.kind, value.get_mut()) {
            // A single table with the keys of a definition lacks brackets, and is told as that.
            (Kind::Blocks(inner), DeValue::Table(rows))
                if IN_ONE_LINE.contains(&inner) && !["id", "name", "revision"].iter().any(|key| rows.contains_key(*key)) =>
            {
                let mut written: Vec<_> = std::mem::replace(rows, DeTable::new()).into_iter().collect();
                written.sort_by_key(|(id, _)| id.span().start);
                let mut list = DeArray::new();
                for (id, row) in written {
                    let span = row.span();
                    let made = match row.into_inner() {
                        DeValue::String(text) => {
                            let (made, found) = definition(inner, id, Line::new(&text, body, unquoted(body, &text, &span)), decimal_comma);
                            faults.extend(found);
                            DeValue::Table(made)
                        }
                        DeValue::Table(mut long) => {
                            let name = if inner == Block::Change { "revision" } else { "id" };
                            long.insert(spanned(id.span(), Cow::Borrowed(name)), spanned(id.span(), DeValue::String(id.into_inner())));
                            DeValue::Table(long)
                        }
                        other => other,
                    };
                    list.push(spanned(span, made));
                }
                *value = spanned(whole, DeValue::Array(list));
            }
            (Kind::Operations, DeValue::Array(list)) => {
                for each in list.iter_mut() {
                    let span = each.span();
                    let DeValue::String(text) = each.get_ref() else { continue };
                    let (made, found, things) = operation(Line::new(text, body, unquoted(body, text, &span)));
                    faults.extend(found);
                    named.extend(things);
                    *each = spanned(span, DeValue::Table(made));
                }
            }
            _ => {}
        }
    }
    (faults, named)
}

/// The place of a text without its quotation marks, where it is written as it reads; else of all of it.
fn unquoted(body: &str, text: &str, span: &Range<usize>) -> Range<usize> {
    let written = body.get(span.clone()).unwrap_or_default();
    let quotes = written.len().saturating_sub(text.len()) / 2;
    let inner = span.start + quotes..span.start + quotes + text.len();
    if body.get(inner.clone()) == Some(text) { inner } else { span.clone() }
}

fn spanned<T>(range: Range<usize>, value: T) -> TomlSpanned<T> {
    TomlSpanned::new(range, value)
}

/// What is only said of an operation, in the words of the short form.
pub fn flags(operation: &Operation) -> [(bool, &'static str); 3] {
    [(operation.by_hand, "by hand"), (operation.keep, "keep"), (operation.discard_hardware, "discard hardware")]
}

/// An operation in the short form, without what the sentence around it names; none where it has no short form or would not be read as
/// it is meant in a link.
pub fn spell(operation: &Operation, beside: &[&str]) -> Option<String> {
    let list = |ids: &[Text]| ids.iter().map(|id| id.value.clone()).collect::<Vec<_>>().join(", ");
    let left = |ids: &[Text]| -> Vec<Text> { ids.iter().filter(|id| !beside.contains(&id.as_str())).cloned().collect() };
    let mut pieces: Vec<String> = Vec::new();
    let of_hardware = operation.targets.iter().map(|id| &id.value).eq(operation.hardware.iter().map(|count| &count.id.value));
    match (operation.count, operation.targets.as_slice()) {
        (None, _) if of_hardware => {}
        (None, targets) => pieces.extend(targets.iter().map(|id| id.value.clone())),
        (Some(count), [one]) => pieces.push(format!("{} x {}", count.value, one.value)),
        (Some(_), _) => return None,
    }
    pieces.extend(operation.hardware.iter().map(|count| format!("{} x {}", count.count, count.id.value)));
    match &operation.torque {
        Some(TorqueRef::Spec(id)) if !beside.contains(&id.as_str()) => pieces.push(format!("torque {}", id.value)),
        Some(TorqueRef::InPlace(stated)) => pieces.push(format!("torque {}", stated.value.text)),
        _ => {}
    }
    pieces.extend(operation.adapter_angle.as_ref().map(|angle| format!("adapter angle {}", angle.value.text)));
    pieces.extend(operation.loosen_as.as_ref().map(|id| format!("loosen as {}", id.value)));
    pieces.extend((!operation.loosen_stages.is_empty()).then(|| format!("loosen stages {}", list(&operation.loosen_stages))));
    pieces.extend(operation.source.as_ref().map(|source| format!("source {}", source.value)));
    let specs = left(&operation.specs);
    pieces.extend((!specs.is_empty()).then(|| format!("specs {}", list(&specs))));
    pieces.extend(operation.onto.as_ref().map(|onto| format!("onto {}", onto.value)));
    pieces.extend(operation.holes.map(|holes| format!("holes {}", holes.value)));
    pieces.extend(operation.pilot.as_ref().map(|pilot| format!("pilot {}", pilot.value)));
    let wait = operation.wait_spec.as_ref().map(|id| id.value.clone()).or_else(|| Some(operation.wait.as_ref()?.value.text.clone()));
    pieces.extend(wait.map(|wait| format!("wait {wait}")));
    pieces.extend(flags(operation).into_iter().filter(|(said, _)| *said).map(|(_, words)| words.to_owned()));
    let terms = operation.when.0.iter().map(|term| format!("{}{}", if term.absent { "not " } else { "" }, term.option.value));
    pieces.extend((!operation.when.is_always()).then(|| format!("when {}", terms.collect::<Vec<_>>().join(", "))));
    let tools = left(&operation.with);
    pieces.extend((!tools.is_empty()).then(|| format!("with {}", list(&tools))));
    pieces.extend(operation.note.as_ref().map(|note| format!("note {}", note.value)));
    let words = pieces.join(", ");
    let plain = !words.is_empty() && !words.contains(['<', '>', '\\', '\n', '&', '"', ';']);
    let spaced = words.contains(' ');
    plain.then(|| if spaced { format!("<{}: {words}>", operation.verb.key()) } else { format!("{}:{words}", operation.verb.key()) })
}

/// The pieces of a line, trimmed. Of an operation they end at a comma with a space behind it or at a semicolon, of a definition at
/// semicolons; nothing ends in quotation marks or brackets.
fn pieces(text: &str, from: usize, commas: bool) -> Vec<Range<usize>> {
    let (mut found, mut start, mut depth, mut quoted) = (Vec::new(), from, 0usize, false);
    let mut cut = |start: usize, end: usize| {
        let words = &text[start..end];
        let lead = words.len() - words.trim_start().len();
        let words = words.trim();
        found.push(start + lead..start + lead + words.len());
    };
    for (at, c) in text.char_indices().filter(|(at, _)| *at >= from) {
        match c {
            '"' => quoted = !quoted,
            '(' | '[' if !quoted => depth += 1,
            ')' | ']' if !quoted => depth = depth.saturating_sub(1),
            ';' | ',' if !quoted && depth == 0 => {
                let spaced = text[at + 1..].starts_with(char::is_whitespace) || at + 1 == text.len();
                if c == ';' || commas && spaced {
                    cut(start, at);
                    start = at + 1;
                }
            }
            _ => {}
        }
    }
    cut(start, text.len());
    found
}

/// The id in `4 x seat-bolt`.
fn counted(words: &str) -> Option<Range<usize>> {
    let (_, rest) = leading_count(words)?;
    is_id(&words[rest..]).then_some(rest..words.len())
}

/// The digits of `4 x ...`, and where the rest begins.
fn leading_count(words: &str) -> Option<(usize, usize)> {
    let digits = words.len() - words.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let behind = words[digits..].trim_start().strip_prefix(['x', '×'])?;
    let rest = behind.strip_prefix(char::is_whitespace)?.trim_start();
    (digits > 0 && !rest.is_empty()).then(|| (digits, words.len() - rest.len()))
}

/// The key that words begin with, and where its value begins; `by hand` and `by-hand` are read as `by_hand`. The longest one counts.
fn key_at(block: Block, words: &str) -> Option<(&'static Key, usize)> {
    let begins = |key: &&'static Key| {
        if words.as_bytes().first() != key.name.as_bytes().first() {
            return false;
        }
        let head = words.get(..key.name.len()).map(|head| head.replace(['-', ' '], "_"));
        let rest = words.get(key.name.len()..).unwrap_or_default();
        let flag = key.kind == Kind::Flag;
        head.as_deref() == Some(key.name) && if flag { rest.is_empty() } else { rest.starts_with(' ') && !rest.trim().is_empty() }
    };
    let key = keys_of(block).filter(begins).max_by_key(|key| key.name.len())?;
    let rest = &words[key.name.len()..];
    Some((key, words.len() - rest.trim_start().len()))
}

/// Whether a piece without a key of its own goes on with the key before it.
fn goes_on(key: &Key, words: &str) -> bool {
    match key.kind {
        Kind::Ids(_) => is_id(words),
        Kind::Condition => is_id(words.strip_prefix("not ").unwrap_or(words)),
        Kind::Texts | Kind::Text => true,
        _ => false,
    }
}

struct Maker<'t> {
    line: Line<'t>,
    block: Block,
    decimal_comma: bool,
    table: DeTable<'t>,
    faults: Vec<Fault>,
    named: Vec<Named>,
}

impl<'t> Maker<'t> {
    fn new(line: Line<'t>, block: Block, decimal_comma: bool) -> Self {
        Maker { line, block, decimal_comma, table: DeTable::new(), faults: Vec::new(), named: Vec::new() }
    }

    fn fault(&mut self, rule: RuleName, range: &Range<usize>, message: impl Into<String>, remedy: impl Into<String>) {
        let range = self.line.place(range);
        self.faults.push(Fault { rule, range, message: message.into(), remedy: remedy.into() });
    }

    /// Adds to the list of a key.
    fn push(&mut self, key: &str, key_range: &Range<usize>, value: DeValue<'t>, range: &Range<usize>) {
        let value = spanned(self.line.place(range), value);
        let whole = value.span();
        if let Some(DeValue::Array(list)) = self.table.get_mut(key).map(TomlSpanned::get_mut) {
            list.push(value);
            return;
        }
        let mut list = DeArray::new();
        list.push(value);
        self.table.insert(spanned(self.line.place(key_range), Cow::Owned(key.to_owned())), spanned(whole, DeValue::Array(list)));
    }

    fn push_one(&mut self, key: &'static str, key_range: &Range<usize>, range: Range<usize>) {
        let value = DeValue::String(self.line.slice(range.clone()));
        self.table.insert(spanned(self.line.place(key_range), Cow::Borrowed(key)), spanned(self.line.place(&range), value));
    }

    /// A text that goes on behind a comma.
    fn replace(&mut self, key: &'static Key, range: Range<usize>) {
        let value = spanned(self.line.place(&range), DeValue::String(self.line.slice(range)));
        if let Some(held) = self.table.get_mut(key.name) {
            *held = value;
        }
    }

    /// A key with its value at `range`.
    fn put(&mut self, key: &'static Key, piece: &Range<usize>, range: Range<usize>) {
        let key_range = piece.start..piece.start + key.name.len().min(piece.len());
        if matches!(key.kind, Kind::Texts | Kind::Ids(_) | Kind::Words(_) | Kind::Condition | Kind::Hardware) {
            let text = self.line.text.clone();
            for part in pieces(&text[..range.end], range.start, true) {
                self.push(key.name, &key_range, DeValue::String(self.line.slice(part.clone())), &part);
            }
            return;
        }
        if self.table.contains_key(key.name) {
            let message = format!("`{}` is said twice", key.name);
            self.fault(RuleName::TypeWrong, piece, message, "keep one of the two");
            return;
        }
        let words = &self.line.text[range.clone()];
        let value = match key.kind {
            Kind::Flag => DeValue::Boolean(true),
            Kind::Count if words.bytes().all(|b| b.is_ascii_digit()) => {
                let number = self.line.digits(&range).and_then(|digits| DeValue::parse(digits).ok());
                number.map_or_else(|| DeValue::String(self.line.slice(range.clone())), TomlSpanned::into_inner)
            }
            Kind::Date => words.parse().map_or_else(|_| DeValue::String(self.line.slice(range.clone())), DeValue::Datetime),
            Kind::Blocks(_) | Kind::Named | Kind::Operations | Kind::Point | Kind::Minutes => {
                let message = format!("`{}` has no short form", key.name);
                self.fault(RuleName::TypeWrong, piece, message, "write this one in the long form, a line for each key");
                return;
            }
            _ => DeValue::String(self.line.slice(range.clone())),
        };
        self.table.insert(spanned(self.line.place(&key_range), Cow::Borrowed(key.name)), spanned(self.line.place(&range), value));
    }

    /// A piece of an operation that says not what it is.
    fn unknown(&mut self, piece: &Range<usize>, first: bool) {
        let words = self.line.slice(piece.clone());
        let word = words.split(' ').next().unwrap_or_default().to_owned();
        let near = nearest(&word, keys_of(Block::Operation).map(|key| key.name).filter(|name| Verb::from_key(name).is_none()));
        if near.is_some() && !first && word.len() < words.len() {
            // The reader tells unknown keys, and what was meant.
            let (key, value) = (piece.start..piece.start + word.len(), piece.start + word.len() + 1..piece.end);
            let text = DeValue::String(self.line.slice(value.clone()));
            self.table.insert(spanned(self.line.place(&key), Cow::Owned(word)), spanned(self.line.place(&value), text));
            return;
        }
        let message = format!("`{words}` does not say what it is");
        let remedy = if first {
            "write the id of the thing, how many of it as in `4 x seat-bolt`, or its name in quotation marks"
        } else {
            "put its key before it, such as `with trim-lever` or `note left-hand thread`, and commas between"
        };
        self.fault(RuleName::TypeWrong, piece, message, remedy);
    }

    /// A detail of a definition: with its key in front, or told by what it looks like.
    fn detail(&mut self, piece: &Range<usize>) {
        let text = self.line.text.clone();
        let words = &text[piece.clone()];
        if let Some((key, rest)) = key_at(self.block, words) {
            self.put(key, piece, piece.start + rest..piece.end);
            return;
        }
        // `4 on vehicle`
        if let Some((digits, rest)) = words.split_once(' ').filter(|(digits, _)| digits.bytes().all(|b| b.is_ascii_digit())) {
            let name = rest.trim().replace(['-', ' '], "_");
            if let Some(key) = find(self.block, &name).filter(|key| key.kind == Kind::Count) {
                self.put(key, piece, piece.start..piece.start + digits.len());
                return;
            }
        }
        let of_words = keys_of(self.block).find(|key| match key.kind {
            Kind::Word(known) | Kind::Words(known) => known.contains(&words),
            _ => false,
        });
        if let Some(key) =
            of_words.or_else(|| self.looks_like(words).and_then(|name| find(self.block, name))).or_else(|| self.value_key(words))
        {
            self.put(key, piece, piece.clone());
            return;
        }
        let keys: Vec<&str> = keys_of(self.block).map(|key| key.name).filter(|name| !matches!(*name, "id" | "name" | "hides")).collect();
        let message = format!("`{words}` does not say what it is");
        let near = nearest(words.split(' ').next().unwrap_or_default(), keys.iter().copied());
        let remedy = format!("put its key before it: one of {}{}", keys.join(", "), crate::near::did_you_mean(near));
        self.fault(RuleName::TypeWrong, piece, message, remedy);
    }

    /// The key of a detail that is known by its looks.
    fn looks_like(&self, words: &str) -> Option<&'static str> {
        let free = |name: &str| !self.table.contains_key(name);
        match self.block {
            Block::Part if free("number") && !words.contains(' ') => Some("number"),
            Block::Hardware => {
                let bolt = Fastener::named(None)?;
                let nut = Fastener::named(Some("nut"))?;
                if free("thread") && (Thread::read(words).is_ok() || matches!(Special::read(words), Some(Ok(_)))) {
                    return Some("thread");
                }
                if free("class") && [bolt, nut].into_iter().any(|kind| Class::read(words, kind, None).is_ok()) {
                    return Some("class");
                }
                if free("length") && self.reads_as(words, Dimension::Length) == Some(true) {
                    return Some("length");
                }
                (free("drive") && Drive::read(words).is_ok()).then_some("drive")
            }
            Block::Spec if words.contains('%') => Some("stages"),
            Block::Spec | Block::Circuit | Block::Wire => {
                let (id, rest) = words.split_at(words.find(' ').unwrap_or(words.len()));
                (free("source") && is_id(id) && (rest.is_empty() || rest.starts_with(" ("))).then_some("source")
            }
            Block::Change if words.len() == 10 && words.starts_with(|c: char| c.is_ascii_digit()) => Some("issued"),
            Block::Change if free("what") => Some("what"),
            _ => None,
        }
    }

    /// The key of a value, by what its unit measures; one that disagrees with itself or has a slip in it is still a value.
    fn value_key(&self, words: &str) -> Option<&'static Key> {
        if self.block != Block::Spec || !words.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        // What its unit measures is known at a glance; only where two sorts share a unit, or something is wrong, are all tried.
        let options = quantity::Options { decimal_comma: self.decimal_comma, default_unit: None };
        if let [found] = quantity::scan(words, &options).as_slice()
            && found.range.start == 0
            && found.range.end == words.len()
        {
            let dimension = found.quantity.dimension;
            let key = keys_of(self.block).find(|key| key.kind == Kind::Value(dimension));
            if key.is_some() && !matches!(dimension, Dimension::Temperature | Dimension::TemperatureDifference) {
                return key;
            }
        }
        let of = |clean: bool| {
            keys_of(self.block).find(move |key| match key.kind {
                Kind::Value(dimension) => self.reads_as(words, dimension).is_some_and(|without| without || !clean),
                _ => false,
            })
        };
        of(true).or_else(|| of(false))
    }

    /// Whether words are a value of this sort, and whether without a fault.
    fn reads_as(&self, words: &str, dimension: Dimension) -> Option<bool> {
        let options = quantity::Options { decimal_comma: self.decimal_comma, default_unit: None };
        let reading = quantity::read(words, dimension, &options);
        let foreign = reading.faults.iter().any(|fault| matches!(fault.kind, FaultKind::UnitUnknown | FaultKind::ValueUnreadable));
        (reading.quantity.is_some() && !foreign).then_some(reading.faults.is_empty())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a short form says, key by key, each value at its place.
    fn shown(text: &str, table: &DeTable<'_>) -> String {
        fn value(text: &str, value: &TomlSpanned<DeValue<'_>>) -> String {
            match value.get_ref() {
                DeValue::String(words) => {
                    let at = &text[value.span()];
                    if at == words { format!("'{words}'") } else { format!("'{words}' at '{at}'") }
                }
                DeValue::Integer(number) => number.as_str().to_owned(),
                DeValue::Array(list) => list.iter().map(|each| value_of(text, each)).collect::<Vec<_>>().join("+"),
                DeValue::Datetime(day) => day.to_string(),
                other => format!("{}", matches!(other, DeValue::Boolean(true))),
            }
        }
        fn value_of(text: &str, each: &TomlSpanned<DeValue<'_>>) -> String {
            value(text, each)
        }
        table.iter().map(|(key, each)| format!("{}={}", key.get_ref(), value(text, each))).collect::<Vec<_>>().join(" ")
    }

    fn operation_of(text: &str) -> String {
        let (table, faults, named) = operation(Line::new(text, text, 0..text.len()));
        let faults: String = faults.iter().map(|fault| format!(" !{}", &text[fault.range.clone()])).collect();
        let named: String = named.iter().map(|named| format!(" {}:{}", named.id, &text[named.range.clone()])).collect();
        shown(text, &table) + &faults + &named
    }

    fn definition_of(block: Block, id: &str, text: &str) -> String {
        let (table, faults) = definition(block, spanned(0..0, Cow::Borrowed(id)), Line::new(text, text, 0..text.len()), false);
        let faults: String = faults.iter().map(|fault| format!(" !{}", &text[fault.range.clone()])).collect();
        shown(text, &table).replace(&format!("='{id}' at ''"), "") + &faults
    }

    #[test]
    fn operations_are_cut_into_keys() {
        for (text, expected) in [
            ("remove: seat", "remove='seat'"),
            ("remove:seat", "remove='seat'"),
            ("switch off: ignition", "switch_off='ignition'"),
            ("tighten: 4 x seat-bolt, torque seat-bolt", "hardware='4 x seat-bolt' tighten='seat-bolt' torque='seat-bolt'"),
            (
                "remove: rail-covers, 4 x rail-clip, keep, with trim-lever, gloves",
                "hardware='4 x rail-clip' keep=true remove='rail-covers' with='trim-lever'+'gloves'",
            ),
            ("fit: a, b, by hand, note arrow to the front, looms free", "by_hand=true fit='a'+'b' note='arrow to the front, looms free'"),
            (
                "tighten: 1 x nut, 12,5 N·m (9 lb·ft), source sheet (page 3, note 2)",
                "hardware='1 x nut' source='sheet (page 3, note 2)' tighten='nut' torque='12,5 N·m (9 lb·ft)'",
            ),
            (
                "loosen: 4 x b, loosen as b, loosen stages 1/4 turn, 1 turn, out",
                "hardware='4 x b' loosen='b' loosen_as='b' loosen_stages='1/4 turn'+'1 turn'+'out'",
            ),
            ("test: heater, when heated-seat, not bench", "test='heater' when='heated-seat'+'not bench'"),
            ("clean: \"Mounting faces\"", "clean='mounting-faces' at '\"Mounting faces\"' mounting-faces:Mounting faces"),
            ("fit: plate 4 x bolt", " !plate 4 x bolt"),
            ("fit: plate, wiht lever", "fit='plate' wiht='lever'"),
            ("fit: plate, keep, lever", "fit='plate' keep=true !lever"),
            ("fit: plate, note a, note b", "fit='plate' note='a' !note b"),
            ("fit:", "fit="),
        ] {
            assert_eq!(operation_of(text), expected, "{text}");
        }
    }

    #[test]
    fn definitions_are_known_by_their_looks() {
        for (block, text, expected) in [
            (
                Block::Hardware,
                "4 x Flange bolt, base to seat box; M8x1.25; 25 mm; 10.9; 13 mm hex; one use",
                "class='10.9' drive='13 mm hex' id length='25 mm' name='Flange bolt, base to seat box' one_use=true supplied=4 thread='M8x1.25'",
            ),
            (
                Block::Hardware,
                "Push clip; clip; 4 on vehicle; no torque snaps in",
                "id kind='clip' name='Push clip' no_torque='snaps in' on_vehicle=4",
            ),
            (Block::Hardware, "Nut; nut; M8; 8; T30", "class='8' drive='T30' id kind='nut' name='Nut' thread='M8'"),
            (
                Block::Part,
                "2 x Bracket; SB-40-012; 1 spare; gas; note left, right",
                "id marks='gas' name='Bracket' note='left, right' number='SB-40-012' spare=1 supplied=2",
            ),
            (
                Block::Spec,
                "25 N·m (18 lb·ft); crosswise; 50 %, 100 %; dry; sheet (page 3)",
                "condition='dry' for id pattern='crosswise' source='sheet (page 3)' stages='50 %'+'100 %' torque='25 N·m (18 lb·ft)'",
            ),
            (
                Block::Spec,
                "Mass of the seat; 28 kg; for seat; manual",
                "for='seat' id mass='28 kg' name='Mass of the seat' source='manual'",
            ),
            (Block::Spec, "25 N·m (18 lb·in)", "for id torque='25 N·m (18 lb·in)'"),
            (Block::Spec, "max 0.5 mm", "for id length='max 0.5 mm'"),
            (Block::Item, "Seat; restraint; lifting; behind a, b", "behind='a'+'b' id marks='restraint'+'lifting' name='Seat'"),
            (Block::Item, "Seat; two people", "id name='Seat' !two people"),
            (Block::Hardware, "Bolt; M8; M10", "id name='Bolt' thread='M8' !M10"),
        ] {
            assert_eq!(definition_of(block, "x", text), expected, "{text}");
        }
        assert_eq!(
            definition_of(Block::Change, "x", "2026-06-19; Loom guide; given"),
            "issued=2026-06-19 revision what='Loom guide; given'"
        );
        assert_eq!(definition_of(Block::Change, "x", "First issue"), "revision what='First issue'");
    }

    #[test]
    fn words_that_are_written_otherwise_are_at_the_whole() {
        let body = r#"do = ["fit: a, note say \"x\""]"#;
        let (table, faults, _) = operation(Line::new("fit: a, note say \"x\"", body, 6..29));
        assert!(faults.is_empty());
        assert!(table.iter().all(|(key, value)| key.span() == (6..29) && (value.span() == (6..29))));
    }

    #[test]
    fn no_word_belongs_to_two_keys_of_a_block() {
        for block in Block::ALL {
            let words: Vec<&str> = keys_of(block)
                .flat_map(|key| match key.kind {
                    Kind::Word(words) => words.to_vec(),
                    Kind::Words(words) if key.name != "isolates" => words.to_vec(),
                    _ => Vec::new(),
                })
                .collect();
            let mut once = words.clone();
            once.sort_unstable();
            once.dedup();
            assert_eq!(once.len(), words.len(), "{}", block.name());
        }
    }
}
