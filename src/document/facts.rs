//! A document as a tree of facts, each with its sort, its name and how it is told: what the fingerprint is made of, and what two states
//! of a guide are compared by. Types are taken apart by name, so that what a reader sees cannot be left out of either.

use std::collections::BTreeMap;

use super::phrase::{self, date};
pub use super::sort::Sort;
use super::value::{Told as Is, Value};
use super::when::{Choice, When};
use super::words::{self, Block, Callout, Inline, Line, Picture, Target as To, Words};
use super::{
    Bounds, Caution, Change, Circuit, Connector, Consumable, Counted, Departure, Document, Fasteners, Head, NamedValue, Operation, Ordered,
    Phase, Pin, Standing, Step, StepLink, Target, Tool, ToolUse, Torque, TorqueRow, Vehicle,
};
use crate::document::open::{Account, Move};
use crate::phrases::Phrases;
use crate::source::Spanned;

/// A fact, and the facts that belong to it.
#[derive(Clone, Debug)]
pub struct Fact {
    /// What sort of thing it is.
    pub sort: Sort,
    /// What it is known by among its neighbours of the same sort; empty where only what it says tells it apart.
    pub key: String,
    /// What readers call it.
    pub name: String,
    /// How it is told.
    pub told: String,
    /// The same without what follows from elsewhere, such as the number of another step; none where it is the same.
    pub own: Option<String>,
    /// The same with its values left open, where some stand among words.
    pub open: Option<String>,
    /// The value, where it is one.
    pub value: Option<Value>,
    /// What belongs to it, in its order.
    pub below: Vec<Fact>,
    /// What readers see that follows from other facts: it counts for the fingerprint, and is no difference of its own.
    pub follows: Vec<String>,
}

impl Fact {
    /// A fact without anything below it.
    pub fn new(sort: Sort, key: impl Into<String>, name: impl Into<String>, told: impl Into<String>) -> Self {
        Fact {
            sort,
            key: key.into(),
            name: name.into(),
            told: told.into(),
            own: None,
            open: None,
            value: None,
            below: Vec::new(),
            follows: Vec::new(),
        }
    }

    /// What it says by itself.
    pub fn says(&self) -> &str {
        self.own.as_deref().unwrap_or(&self.told)
    }

    /// All of it as one text, by which two trees are equal; `hashed` puts in what follows from other facts.
    pub fn write(&self, hashed: bool, out: &mut String) {
        out.push_str(self.sort.word());
        out.push('\u{1}');
        // Ids of things are no words for readers; those of steps and options are addresses, ticks and conditions.
        if !hashed || !matches!(self.sort, Sort::Hardware | Sort::Part | Sort::Tool | Sort::Operation) {
            out.push_str(&self.key);
        }
        out.push('\u{1}');
        // The number in a step's name follows from its place.
        if self.sort != Sort::Step {
            out.push_str(&self.name);
        }
        out.push('\u{1}');
        out.push_str(if hashed { &self.told } else { self.says() });
        if hashed {
            for follows in &self.follows {
                out.push('\u{2}');
                out.push_str(follows);
            }
        }
        out.push('\u{3}');
        // A tool that was calibrated again, or got another number, makes no other text: work done to it stays provable.
        for below in self.below.iter().filter(|below| !hashed || below.sort != Sort::ToolState) {
            below.write(hashed, out);
        }
        out.push('\u{4}');
    }

    fn with(mut self, below: impl IntoIterator<Item = Fact>) -> Self {
        self.below.extend(below);
        self
    }

    fn of_value(sort: Sort, key: &str, name: impl Into<String>, value: &Value) -> Self {
        Fact { value: Some(value.clone()), ..Fact::new(sort, key, name, value.in_line()) }
    }
}

/// The hashes of a guide's pictures, by the address in its text.
pub type Hashes = BTreeMap<String, String>;

/// The facts of a document; `hashes` stand for its pictures.
pub fn of(document: &Document, hashes: &Hashes) -> Fact {
    let Document {
        say: _,
        head,
        approved,
        fingerprint: _,
        not_for,
        // Nobody reads them: they lead to the guide and say nothing of the work.
        also: _,
        before,
        cautions,
        tools,
        parts,
        kit_hardware,
        vehicle_hardware,
        consumables,
        ready,
        choices,
        accounts,
        intro,
        phases,
        torques,
        final_checks,
        follow_up,
        circuits,
        changes,
        since: _,
        sources,
        photo: _,
        video,
        // What nobody knows yet stands with the facts themselves.
        questions: _,
        // Which wrenches a record may name is the shop's matter, and told with its tools.
        wrenches: _,
    } = document;
    let teller = Teller {
        say: document.say,
        choices,
        hashes,
        titles: document.steps().map(|step| (step.id.as_str(), step.title.as_str())).collect(),
    };
    let mut root = teller.head(head, approved.as_deref());
    root.below.extend(not_for.iter().map(|words| Fact::new(Sort::Vehicle, "", "not for", words)));
    root.below.extend(choices.iter().map(choice));
    root.below.extend(before.iter().map(|line| teller.line(Sort::Before, "before work starts", line)));
    root.below.extend(cautions.iter().map(|caution| teller.caution(caution)));
    root.below.extend(tools.iter().map(|tool| teller.tool(tool)));
    for (sort, name, rows) in [
        (Sort::Part, "part of the kit", parts),
        (Sort::Hardware, "hardware of the kit", kit_hardware),
        (Sort::Hardware, "hardware on the vehicle", vehicle_hardware),
    ] {
        root.below.extend(rows.iter().map(|row| teller.counted(sort, name, row)));
    }
    root.below.extend(video.iter().map(|video| {
        let (crate::document::Video::Address(told) | crate::document::Video::File(told)) = video;
        Fact::new(Sort::Head, "video", "video", told)
    }));
    root.below.extend(consumables.iter().map(|row| teller.consumable(row)));
    root.below.extend(ready.iter().map(|line| teller.line(Sort::Before, "to have ready", line)));
    root.below.extend(circuits.iter().map(circuit));
    root.below.extend(teller.blocks("before the first step", intro));
    for phase in phases {
        let Phase { title, words, steps } = phase;
        root.below.extend(teller.blocks(title.as_deref().unwrap_or("before the first step"), words));
        for (at, step) in steps.iter().enumerate() {
            let mut told = teller.step(step);
            // Steps are compared over all phases: the heading of a phase stands with its first step.
            told.follows.extend(title.clone().filter(|_| at == 0));
            root.below.push(told);
        }
    }
    let titles: Vec<&str> = phases.iter().filter_map(|phase| phase.title.as_deref()).collect();
    root.below.push(Fact::new(Sort::Head, "phases", "phases", titles.join("; ")));
    root.below.extend(final_checks.iter().map(|line| teller.line(Sort::Check, "final check", line)));
    root.below.extend(follow_up.iter().map(|line| teller.line(Sort::Check, "follow-up", line)));
    root.below.extend(sources.iter().map(|source| Fact::new(Sort::Source, "", "source", source)));
    root.below.extend(changes.iter().map(change));
    root.follows.extend(torques.iter().map(row));
    root.follows.extend(accounts.iter().map(account));
    root
}

fn change(change: &Change) -> Fact {
    let Change { revision, issued, what, anew: _ } = change;
    let day = issued.map(|day| format!(", {}", date(day))).unwrap_or_default();
    Fact::new(Sort::Change, "", format!("revision {revision}"), format!("{revision}{day}: {what}"))
}

fn choice(choice: &Choice) -> Fact {
    let Choice { name, one_of, options } = choice;
    let rows = options.iter().map(|option| {
        let super::when::VehicleOption { id, name, not_with } = option;
        let barred = if not_with.is_empty() { String::new() } else { format!(", not with {}", not_with.join(", ")) };
        Fact::new(Sort::Option, id, name, format!("{name}{barred}"))
    });
    let rows: Vec<Fact> = rows.collect();
    let kind = if *one_of { "exactly one of them" } else { "there or not" };
    Fact::new(Sort::Option, name, name, format!("{name}: {kind}")).with(rows)
}

fn account(account: &Account) -> String {
    let Account { id, name, connector: _ } = account;
    format!("{} {name} {}", id.key(), account.state())
}

fn moved(moved: &Move) -> String {
    let Move { account, opens, count } = moved;
    format!("{} {opens} {count}", account.key())
}

/// A row of the torque sheet: its place among the others follows from the steps.
fn row(row: &TorqueRow) -> String {
    let TorqueRow { step, title, fasteners: _, things: _, place: _, torque: _, when: _ } = row;
    format!("{} {title}: {} {}", step.id, row.fastener(), row.place_words().unwrap_or_default())
}

fn circuit(circuit: &Circuit) -> Fact {
    let Circuit { name, wire, current, length, fuse, fuse_note, source, span: _ } = circuit;
    let mut below =
        vec![Fact::new(Sort::Circuit, "wire", "conductor", wire), Fact::of_value(Sort::Circuit, "current", "largest current", current)];
    below.extend(length.iter().map(|length| Fact::of_value(Sort::Circuit, "length", "length one way", length)));
    below.extend(fuse.iter().map(|fuse| Fact::of_value(Sort::Circuit, "fuse", "fuse", fuse)));
    below.extend(fuse_note.iter().map(|note| Fact::new(Sort::Circuit, "fuse-note", "how the fuse is built", note)));
    below.extend(source.iter().map(|source| Fact::new(Sort::Source, "source", "source of its values", source)));
    Fact::new(Sort::Circuit, name, name, "").with(below)
}

fn connector(connector: &Connector) -> Fact {
    let Connector { name, pins, layout, mating_side } = connector;
    let pins = pins.iter().map(|pin| {
        let Pin { at, what, colour, wire } = pin;
        let told = [what, colour, wire].into_iter().flatten().map(String::as_str).collect::<Vec<_>>().join(", ");
        Fact::new(Sort::Connector, at, format!("cavity {at}"), told)
    });
    let pins: Vec<Fact> = pins.collect();
    let side = match mating_side {
        Some(true) => "seen from the mating side",
        Some(false) => "seen from the wire side",
        None => "",
    };
    let face = Fact::new(Sort::Connector, "face", "face", format!("{} {side}", layout.join(" / ")).trim().to_owned());
    Fact::new(Sort::Connector, name, name, "").with(pins).with([face])
}

fn ordered(order: &Ordered) -> String {
    let Ordered { order, circle, rows, count, undoing } = order;
    let shape = if *circle { "circle".to_owned() } else { format!("{rows} rows") };
    let positions: Vec<String> = order.positions().iter().map(ToString::to_string).collect();
    format!("{} ({shape} of {count}{})", positions.join("-"), if *undoing { ", undone in reverse" } else { "" })
}

/// What may be written down follows from the value.
fn bounds(bounds: &Bounds) -> String {
    let Bounds { reads, low: _, high: _ } = bounds;
    let decimal = |end: &Option<crate::quantity::Exact>| end.and_then(crate::quantity::decimal).unwrap_or_default();
    reads.iter().map(|(unit, low, high)| format!("{} {} {}", unit.symbol, decimal(low), decimal(high))).collect::<Vec<_>>().join(" ")
}

fn tool_use(tool: &ToolUse) -> Fact {
    let ToolUse { id, name, number: _, of_torque: _ } = tool;
    // Its name is told in the list of tools.
    Fact { own: Some(id.clone()), ..Fact::new(Sort::Tool, id, "tool", name) }
}

struct Teller<'d> {
    say: &'static Phrases,
    choices: &'d [Choice],
    hashes: &'d Hashes,
    titles: BTreeMap<&'d str, &'d str>,
}

impl Teller<'_> {
    fn head(&self, head: &Head, approved: Option<&str>) -> Fact {
        // The slug is the address, whether it is a draft is no matter of what it says, and its steps tell their times themselves.
        let Head { slug: _, title, document, revision, issued, system, summary, fits, hours, least: _, untimed: _, steps: _, draft: _ } =
            head;
        let mut below = vec![Fact::new(Sort::Head, "title", "title", title)];
        for (key, name, told) in [
            ("document", "document number", document.clone()),
            ("revision", "revision", revision.clone()),
            ("issued", "day of issue", issued.map(date)),
            ("approved", "approved by", approved.map(str::to_owned)),
            ("system", "system", Some(system.clone())),
            ("summary", "summary", summary.clone()),
        ] {
            below.extend(told.map(|told| Fact::new(Sort::Head, key, name, told)));
        }
        below.extend(hours.iter().map(|hours| Fact::of_value(Sort::Head, "hours", "time for the job", hours)));
        below.extend(fits.iter().map(|vehicle| {
            let Vehicle { id, name } = vehicle;
            Fact::new(Sort::Vehicle, id, "fits", name)
        }));
        Fact::new(Sort::Head, "", "the guide", "").with(below)
    }

    fn when(&self, when: &When) -> Option<Fact> {
        let words = phrase::needed_when(when, self.choices)?;
        let mut fact = Fact::new(Sort::Condition, "when", "condition", words);
        fact.follows.extend(when.terms());
        Some(fact)
    }

    fn line(&self, sort: Sort, name: &str, line: &Line) -> Fact {
        let Line { words, span: _ } = line;
        self.said(sort, name, words)
    }

    /// Running words as one fact.
    fn said(&self, sort: Sort, name: &str, words: &Words) -> Fact {
        let mut told = Told::default();
        self.inlines(words, &mut told);
        told.fact(sort, name)
    }

    fn inlines(&self, words: &Words, told: &mut Told) {
        for inline in words {
            match &inline.value {
                Inline::Text(text) => told.push(text),
                Inline::Code(code) => told.push(&format!("`{code}`")),
                Inline::Strong(words) => self.within("**", words, "**", told),
                Inline::Emphasis(words) => self.within("*", words, "*", told),
                // What was worked out follows from the value that it was worked out for.
                Inline::Value(value) if matches!(value.told(), Is::Worked(_)) => told.all.push_str(&value.in_line()),
                Inline::Value(value) => told.value(&value.in_line()),
                Inline::Reference { kind: _, id: _, value, words } => {
                    // What is read are the words; the value behind them stands in a tip of the page.
                    self.inlines(words, told);
                    if let Some(value) = value {
                        told.value(&format!(" [{}]", value.in_line()));
                    }
                }
                Inline::Step { id, words } => {
                    let mut inner = Told::default();
                    self.inlines(words, &mut inner);
                    // Its number follows from the steps before it.
                    let numbered = inner.all.strip_prefix("step ").is_some_and(|rest| rest.bytes().all(|b| b.is_ascii_digit()));
                    let own = if numbered { format!("step ({id})") } else { inner.all.clone() };
                    told.follows.push(format!("step {id}"));
                    told.all.push_str(&inner.all);
                    told.own.push_str(&own);
                    told.open.push_str(&own);
                }
                Inline::Operation { id, words } => {
                    told.follows.push(format!("tells {id}"));
                    self.inlines(words, told);
                }
                Inline::Link { to, words } => {
                    self.inlines(words, told);
                    match to {
                        To::Guide(slug) => told.push(&format!(" (guide {slug})")),
                        To::Address(address) => told.push(&format!(" ({address})")),
                        To::Nowhere => {}
                    }
                }
                Inline::Picture(picture) => told.below.push(self.picture(picture)),
                Inline::Note(label) => told.push(&format!("[{label}]")),
                Inline::Soft => told.push(" "),
                Inline::Break => told.push("\n"),
            }
        }
    }

    fn within(&self, before: &str, words: &Words, after: &str, told: &mut Told) {
        told.push(before);
        self.inlines(words, told);
        told.push(after);
    }

    fn blocks(&self, name: &str, blocks: &[Spanned<Block>]) -> Vec<Fact> {
        let mut facts = Vec::new();
        for block in &words::rejoined(blocks) {
            self.block(name, &block.value, &mut facts);
        }
        facts
    }

    fn block(&self, name: &str, block: &Block, facts: &mut Vec<Fact>) {
        match block {
            Block::Paragraph(words) => facts.push(self.said(Sort::Words, name, words)),
            Block::Told { label, operations, words } => {
                // Whether a sentence has a row of its own follows from what is said of its operations.
                let mut fact = self.said(Sort::Words, name, words);
                fact.follows.extend(label.clone());
                fact.follows.push(operations.join(" "));
                facts.push(fact);
            }
            Block::Bare(words) => {
                let mut fact = self.said(Sort::Words, name, words);
                fact.follows.push("bare".to_owned());
                facts.push(fact);
            }
            Block::Heading { level, words } => {
                let mut fact = self.said(Sort::Words, name, words);
                fact.follows.push(format!("heading {level}"));
                facts.push(fact);
            }
            Block::List { start, items } => {
                for (at, item) in items.iter().enumerate() {
                    let before = facts.len();
                    facts.extend(self.blocks(name, item));
                    if let Some(first) = facts.get_mut(before) {
                        first.follows.push(start.map_or("list".to_owned(), |start| format!("list {}", start + at as u64)));
                    }
                }
            }
            Block::Table { aligned, head, rows } => {
                for (at, row) in std::iter::once(head).chain(rows).enumerate() {
                    let mut told = Told::default();
                    for (at, cell) in row.iter().enumerate() {
                        if at > 0 {
                            told.push(" | ");
                        }
                        self.inlines(cell, &mut told);
                    }
                    let mut fact = told.fact(Sort::Words, &format!("{name}, table"));
                    if at == 0 {
                        fact.follows.push(format!("{aligned:?}"));
                    }
                    facts.push(fact);
                }
            }
            Block::Figure { picture, caption, explained } => {
                let mut fact = self.picture(picture);
                if !caption.is_empty() {
                    fact.below.push(Fact::new(Sort::Words, "caption", "line under the picture", caption));
                }
                fact.follows.push(explained.to_string());
                facts.push(fact);
            }
            // What balloons point to stands with the picture.
            Block::Callouts(_) => {}
            Block::Code { language, text } => {
                let mut fact = Fact::new(Sort::Words, "", name, text);
                fact.follows.push(language.clone());
                facts.push(fact);
            }
            Block::Quote(blocks) => {
                let before = facts.len();
                facts.extend(self.blocks(name, blocks));
                facts[before..].iter_mut().for_each(|fact| fact.follows.push("quoted".to_owned()));
            }
            Block::Rule => {
                if let Some(last) = facts.last_mut() {
                    last.follows.push("rule".to_owned());
                }
            }
            Block::Footnote { label, blocks } => {
                let before = facts.len();
                facts.extend(self.blocks(&format!("{name}, note {label}"), blocks));
                facts[before..].iter_mut().for_each(|fact| fact.follows.push("note".to_owned()));
            }
        }
    }

    fn picture(&self, picture: &Picture) -> Fact {
        let Picture { address, words, fact: _, callouts } = picture;
        let hash = self.hashes.get(address).map_or("not there", |hash| hash.get(..12).unwrap_or(hash));
        let below = [Fact::new(Sort::Picture, "content", format!("content of {address}"), hash)]
            .into_iter()
            .chain((!words.is_empty()).then(|| Fact::new(Sort::Words, "words", format!("words for {address}"), words)));
        let below: Vec<Fact> = below.chain(callouts.iter().map(|callout| self.callout(callout))).collect();
        Fact::new(Sort::Picture, address, format!("picture {address}"), "").with(below)
    }

    fn callout(&self, callout: &Callout) -> Fact {
        let Callout { at: (left, top), words } = callout;
        let mut fact = self.line(Sort::Words, "callout", words);
        fact.follows.push(format!("{left} {top}"));
        fact
    }

    fn caution(&self, caution: &Caution) -> Fact {
        let Caution { signal: _, hazard, result, avoid, until, when } = caution;
        let mut below = vec![
            Fact::new(Sort::Caution, "signal", "signal word", caution.word()),
            Fact { key: "hazard".to_owned(), ..self.line(Sort::Caution, "hazard", hazard) },
        ];
        below.extend(
            result.iter().map(|line| Fact { key: "result".to_owned(), ..self.line(Sort::Caution, "what happens otherwise", line) }),
        );
        below.extend(avoid.iter().map(|line| Fact { key: "avoid".to_owned(), ..self.line(Sort::Caution, "how to avoid it", line) }));
        below.extend(until.iter().map(|StepLink { id, number: _ }| {
            let told =
                Fact::new(Sort::Caution, "until", "last step for which it holds", self.titles.get(id.as_str()).copied().unwrap_or(id));
            Fact { own: Some(id.clone()), ..told }
        }));
        below.extend(self.when(when));
        Fact::new(Sort::Caution, "", "caution", "").with(below)
    }

    fn departure(&self, departure: &Departure) -> Fact {
        let Departure { says, does, why, approved, source } = departure;
        let mut below = vec![
            Fact { key: "says".to_owned(), ..self.line(Sort::Departure, "what the sheet says", says) },
            Fact { key: "does".to_owned(), ..self.line(Sort::Departure, "what is done instead", does) },
            Fact { key: "why".to_owned(), ..self.line(Sort::Departure, "why", why) },
        ];
        below.extend(approved.iter().map(|who| Fact::new(Sort::Departure, "approved", "approved by", who)));
        below.extend(source.iter().map(|source| Fact::new(Sort::Source, "source", "the sheet", source)));
        Fact::new(Sort::Departure, "", "departure from the sheet", "").with(below)
    }

    fn tool(&self, tool: &Tool) -> Fact {
        let Tool { id, name, square, number, is_wrench, calibrated_until, sizes, when, note, span: _ } = tool;
        let mut below = vec![Fact::new(Sort::Tool, "name", "name", name)];
        below.extend(square.iter().map(|square| Fact::new(Sort::Tool, "square", "square", square)));
        below.extend(number.iter().map(|number| Fact::new(Sort::ToolState, "number", "number", number)));
        below.extend(calibrated_until.iter().map(|day| Fact::new(Sort::ToolState, "calibrated", "calibrated until", date(*day))));
        if !sizes.is_empty() {
            below.push(Fact::new(Sort::Tool, "sizes", "sizes", sizes.join(", ")));
        }
        below.extend(note.iter().map(|note| Fact::new(Sort::Words, "note", "note", note)));
        // With which options it is needed follows from the operations.
        let mut fact = Fact::new(Sort::Tool, id, format!("tool: {name}"), "").with(below);
        fact.follows.extend(when.terms());
        fact.follows.push(is_wrench.to_string());
        fact
    }

    fn consumable(&self, consumable: &Consumable) -> Fact {
        let Consumable { id, name, amount, number, buy, when, note, steps: _, span: _ } = consumable;
        let mut below = vec![Fact::new(Sort::Part, "name", "name", name)];
        for (key, what, told) in [("amount", "how much is used up", amount), ("number", "number", number), ("note", "note", note)] {
            below.extend(told.iter().map(|told| Fact::new(Sort::Part, key, what, told)));
        }
        below.extend(buy.then(|| Fact::new(Sort::Part, "buy", "whether it is to be bought", "to buy")));
        below.extend(self.when(when));
        Fact::new(Sort::Part, id, format!("used up: {name}"), "").with(below)
    }

    fn counted(&self, sort: Sort, what: &str, counted: &Counted) -> Fact {
        let Counted { id, name, count: _, amounts, when, number, remarks: _, steps, span: _ } = counted;
        let mut below = vec![Fact::new(sort, "name", "name", name)];
        let count = counted.count_words();
        if !count.is_empty() {
            let by: Vec<String> = amounts.iter().map(|(count, when)| format!("{count} {}", when.terms().unwrap_or_default())).collect();
            let mut fact = Fact::new(sort, "count", "count", count);
            fact.follows = by;
            below.push(fact);
        }
        below.extend(number.iter().map(|number| Fact::new(sort, "number", "part number", number)));
        below.extend(counted.note(self.choices).map(|note| Fact::new(sort, "remarks", "remarks", note)));
        let mut fact = Fact::new(sort, format!("{what} {id}"), format!("{what}: {name}"), "").with(below);
        fact.follows.extend(when.terms());
        fact.follows.extend(steps.iter().map(|StepLink { id, number: _ }| id.clone()));
        fact
    }

    fn named(&self, value: &NamedValue) -> Fact {
        let NamedValue { name, value, source, bounds: read } = value;
        let mut below = vec![Fact::of_value(Sort::Value, "value", name, value)];
        below.extend(source.iter().map(|source| Fact::new(Sort::Source, "source", format!("source of {name}"), source)));
        if let Some(read) = read {
            let mut fact = Fact::new(Sort::Value, "read", format!("{name}: written down"), "yes");
            fact.follows.push(bounds(read));
            below.push(fact);
        }
        Fact::new(Sort::Value, name, name, "").with(below)
    }

    fn torque(&self, of: &str, torque: &Torque) -> Fact {
        let Torque { name, value, bounds: read, source, pattern: _, passes, condition, wrench, setting, order, count, note } = torque;
        let mut told = Fact::of_value(Sort::Torque, "value", format!("torque of {of}"), value);
        told.follows = vec![bounds(read), count.to_string()];
        // The wrench is looked up among the tools.
        told.follows.extend(wrench.clone());
        let mut below = vec![told];
        for (sort, key, what, told) in [
            (Sort::Tightening, "name", "name of the torque", name.clone()),
            (Sort::Source, "source", "source of the torque", source.clone()),
            (Sort::Order, "pattern", "order of tightening", torque.pattern_words()),
            (Sort::Order, "order", "order of the fasteners", order.as_ref().map(ordered)),
            (Sort::Tightening, "condition", "state of the thread", condition.clone()),
            (Sort::Tightening, "note", "note on the torque", note.clone()),
        ] {
            below.extend(told.map(|told| Fact::new(sort, key, what, told)));
        }
        below.extend(
            setting.iter().map(|line| Fact { key: "setting".to_owned(), ..self.line(Sort::Tightening, "setting of the wrench", line) }),
        );
        if !passes.is_empty() {
            below.push(self.passes(Sort::Tightening, "passes", "passes", passes));
        }
        Fact::new(Sort::Torque, "torque", format!("torque of {of}"), "").with(below)
    }

    /// Passes in one line; what a pass in percent comes to follows from the torque.
    fn passes(&self, sort: Sort, key: &str, name: &str, passes: &[Line]) -> Fact {
        let mut told = Told::default();
        for (at, line) in passes.iter().enumerate() {
            if at > 0 {
                told.push(", then ");
            }
            self.inlines(&line.words, &mut told);
        }
        Fact { key: key.to_owned(), ..told.fact(sort, name) }
    }

    fn operation(&self, operation: &Operation) -> Fact {
        let Operation {
            id: _,
            told,
            moves,
            verb,
            targets,
            hardware,
            how: _,
            place,
            // In the words of how it is done.
            onto: _,
            holes: _,
            pilot: _,
            wait: _,
            torque,
            values,
            tools,
            undoing,
            undo_passes,
            undo_count,
            when,
            span: _,
        } = operation;
        let ids: Vec<&str> = targets.iter().map(|target| target.id.as_str()).chain(place.as_deref()).collect();
        let name = done(operation);
        let mut below = vec![Fact::new(Sort::Operation, "done", "what is done", format!("{} {}", verb.word(), targeted(targets)))];
        below.extend(hardware.iter().map(fasteners));
        let how = operation.how_words(self.say);
        if !how.is_empty() {
            below.push(Fact::new(Sort::Operation, "how", "how it is done", how.join(", ")));
        }
        let of = if hardware.is_empty() {
            operation.things()
        } else {
            hardware.iter().map(|hardware| format!("{} × {}", hardware.count, hardware.name)).collect::<Vec<_>>().join("; ")
        };
        below.extend(torque.iter().map(|torque| self.torque(&of, torque)));
        below.extend(values.iter().map(|value| self.named(value)));
        // The wrench of a torque is told with the torque.
        below.extend(tools.iter().filter(|tool| !tool.of_torque).map(tool_use));
        below.extend(undoing.iter().map(|order| Fact::new(Sort::Order, "undoing", "order of undoing", ordered(order))));
        if !undo_passes.is_empty() {
            below.push(self.passes(Sort::Order, "undo-passes", "passes of undoing", undo_passes));
        }
        below.extend(self.when(when));
        let mut fact = Fact::new(Sort::Operation, format!("{} {}", verb.key(), ids.join(" ")), name, "").with(below);
        fact.follows.extend(moves.iter().map(moved));
        fact.follows.push(undo_count.to_string());
        fact.follows.push(told.to_string());
        fact
    }

    fn step(&self, step: &Step) -> Fact {
        let Step {
            number,
            id,
            title,
            side: _,
            words,
            called: _,
            cautions,
            standing,
            departures,
            connectors,
            operations,
            values,
            wait,
            minutes,
            moment,
            tools,
            checks,
            hold_point,
            when,
            needs,
            span: _,
        } = step;
        let mut below = vec![Fact::new(Sort::Words, "title", "heading", title)];
        below.extend(self.when(when));
        if !needs.is_empty() {
            let before = needs.iter().map(|StepLink { id, number: _ }| self.titles.get(id.as_str()).copied().unwrap_or(id));
            let ids: Vec<&str> = needs.iter().map(|StepLink { id, number: _ }| id.as_str()).collect();
            let told = Fact::new(Sort::Order, "needs", "steps that come first", before.collect::<Vec<_>>().join("; "));
            // A step that got another heading is the same step.
            below.push(Fact { own: Some(ids.join(" ")), ..told });
        }
        below.extend(cautions.iter().map(|caution| self.caution(caution)));
        below.extend(operations.iter().map(|operation| self.operation(operation)));
        below.extend(values.iter().map(|value| self.named(value)));
        below.extend(wait.iter().map(|wait| Fact::of_value(Sort::Wait, "wait", "wait", wait)));
        below.extend(minutes.iter().map(|minutes| {
            let told = format!("{} min", f64::from(*minutes) / 1000.0);
            Fact::new(Sort::Head, "minutes", "time for the step", told)
        }));
        below.extend(moment.iter().map(|at| Fact::new(Sort::Head, "at", "moment in the video", crate::guide::moment::clock(*at))));
        below.extend(tools.iter().map(tool_use));
        below.extend(connectors.iter().map(connector));
        below.extend(self.blocks("words", words));
        below.extend(checks.iter().map(|line| self.line(Sort::Check, "check", line)));
        below.extend(hold_point.iter().map(|who| Fact::new(Sort::Stop, "stop", "signed before work goes on", who)));
        below.extend(departures.iter().map(|departure| self.departure(departure)));
        let mut fact = Fact::new(Sort::Step, id, format!("step {number}, {title}"), "").with(below);
        fact.follows.push(number.to_string());
        // What still holds was stated before.
        fact.follows.extend(standing.iter().map(|Standing { caution, from }| {
            let from = from.as_ref().map_or("", |from| from.id.as_str());
            format!("{} {} {from}", caution.word(), caution.hazard.text())
        }));
        fact
    }
}

/// Words while they are put together: all of them, without what follows from elsewhere, and with values left open.
#[derive(Default)]
struct Told {
    all: String,
    own: String,
    open: String,
    below: Vec<Fact>,
    follows: Vec<String>,
}

impl Told {
    fn push(&mut self, text: &str) {
        [&mut self.all, &mut self.own, &mut self.open].into_iter().for_each(|out| out.push_str(text));
    }

    fn fact(self, sort: Sort, name: &str) -> Fact {
        let Told { all, own, open, below, follows } = self;
        let mut fact = Fact::new(sort, "", name, all.trim());
        fact.own = (own != all).then(|| own.trim().to_owned());
        fact.open = (open != own).then(|| open.trim().to_owned());
        fact.follows = follows;
        fact.with(below)
    }

    fn value(&mut self, text: &str) {
        [&mut self.all, &mut self.own].into_iter().for_each(|out| out.push_str(text));
        self.open.push('□');
    }
}

/// An operation in a few words: `Fit: seat base, 4 × Seat bolt M8`.
fn done(operation: &Operation) -> String {
    let things = operation.things();
    let things = if things.is_empty() {
        operation.hardware.iter().map(|hardware| hardware.name.clone()).collect::<Vec<_>>().join(", ")
    } else {
        things
    };
    format!("{}: {things}", operation.verb.word())
}

fn targeted(targets: &[Target]) -> String {
    let told = targets.iter().map(|target| {
        let Target { id: _, name, count, told_as_hardware: _, number, pins } = target;
        let count = if *count > 1 { format!("{count} × ") } else { String::new() };
        let number = number.as_ref().map(|number| format!(" ({number})")).unwrap_or_default();
        let pins = if pins.is_empty() { String::new() } else { format!(" [{}]", pins.join(", ")) };
        format!("{count}{name}{number}{pins}")
    });
    told.collect::<Vec<_>>().join(", ")
}

fn fasteners(fasteners: &Fasteners) -> Fact {
    let Fasteners { count: _, id, name, thread: _, designation, drive: _ } = fasteners;
    let mut fact = Fact::new(Sort::Hardware, id, format!("hardware: {name}"), fasteners.words());
    fact.follows.extend(designation.clone());
    fact
}
