//! The guide of a draft: what was heard in the short form of the format, each fact with the moment and the words it comes from, each doubt as
//! `unsure`. Text comes out; that it can be read is held by the tests.

use std::collections::BTreeMap;
use std::ops::Range;

use super::Heard;
use super::facts::Sort;
use super::things::{Operation, Thing};
use super::values::{Kind, Value};
use crate::guide::facts::slug_of;
use crate::guide::verb::{Effect, Verb};
use crate::narration::{Narration, clock};
use crate::wording::number;

/// What the talk cannot say.
#[derive(Clone, Debug, Default)]
pub struct About<'a> {
    /// The guide's title; without it the talk's heading, or the name.
    pub title: Option<&'a str>,
    /// The name of its folder.
    pub slug: &'a str,
    /// The name of the narration's file.
    pub source: &'a str,
    /// The address or file of the video.
    pub video: Option<&'a str>,
    /// Ids that the shop has.
    pub taken: Vec<&'a str>,
    /// Things that the shop's guides share: id and name.
    pub shared: Vec<(&'a str, &'a str)>,
    /// Vehicles of the shop: id and name.
    pub vehicles: Vec<(&'a str, &'a str)>,
}

/// A guide as text, and how many steps it has.
pub struct Written {
    /// The text.
    pub text: String,
    /// The steps: heading, and when it is told.
    pub steps: Vec<(String, Option<u32>)>,
}

/// Words that a line of a guide can hold.
fn safe(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect::<String>()
        .replace('\\', "/")
        .replace('"', "\u{201d}")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// Words that one piece of the short form can hold.
fn piece(text: &str) -> String {
    safe(text).replace([';', '<', '>', '[', ']'], ",").replace(['(', ')'], ",")
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

fn plural(name: &str, many: bool) -> String {
    let last = name.rsplit(' ').next().unwrap_or_default();
    if !many || last.ends_with('s') {
        return name.to_owned();
    }
    match last {
        "foot" => name.strip_suffix("foot").map_or(name.to_owned(), |stem| format!("{stem}feet")),
        _ if last.ends_with("ch") || last.ends_with("sh") || last.ends_with('x') => format!("{name}es"),
        _ if last.ends_with("ry") || last.ends_with("ly") || last.ends_with("dy") => format!("{}ies", &name[..name.len() - 1]),
        _ => format!("{name}s"),
    }
}

/// A value as guides write it.
fn spelled(value: &Value) -> String {
    let unit = match value.unit {
        Some("ft·lbf") => "lb·ft",
        Some("in·lbf") => "lb·in",
        Some(unit) => unit,
        None => "",
    };
    let range = value.to.as_ref().map_or(value.value.clone(), |to| format!("{}..{to}", value.value));
    format!("{range} {unit}").trim().to_owned()
}

/// The key of a spec for what is measured.
fn key_of(kind: Kind) -> Option<&'static str> {
    Some(match kind {
        Kind::Torque => "torque",
        Kind::Size | Kind::Length => "length",
        Kind::Area => "area",
        Kind::Pressure => "pressure",
        Kind::Volume => "volume",
        Kind::Time => "time",
        Kind::Voltage => "voltage",
        Kind::Current => "current",
        Kind::Angle => "angle",
        Kind::Temperature => "temperature",
        Kind::Mass => "mass",
        Kind::Power => "power",
        Kind::Resistance => "resistance",
        Kind::Distance => "length",
        Kind::Speed => return None,
    })
}

struct Writer<'h> {
    heard: &'h Heard,
    narration: &'h Narration,
    ids: Vec<String>,
    taken: Vec<String>,
    /// The id of the torque of each thing.
    torques: BTreeMap<usize, String>,
    /// Things that were defined.
    defined: Vec<usize>,
    options: Vec<(String, String)>,
}

impl Writer<'_> {
    fn free(&mut self, name: &str, fallback: &str) -> String {
        let base = slug_of(name);
        let base = if base.starts_with(|c: char| c.is_ascii_lowercase()) { base } else { format!("{fallback}-{base}") };
        let base = base.trim_matches('-').chars().take(60).collect::<String>();
        let mut id = base.clone();
        let mut number = 2;
        while self.taken.contains(&id) {
            id = format!("{base}-{number}");
            number += 1;
        }
        self.taken.push(id.clone());
        id
    }

    /// When words are said, and the words, for a comment or a question.
    fn moment(&self, place: &Range<usize>) -> Option<u32> {
        self.narration.words.get(place.start).and_then(|word| word.at)
    }

    /// When the sentence begins in which words are said.
    fn begins(&self, place: &Range<usize>) -> Option<u32> {
        let words = &self.narration.words;
        let start = (place.start.saturating_sub(20)..place.start).rev().find(|at| words[*at].end >= crate::narration::End::Stop);
        let from = start.map_or(if place.start < 20 { 0 } else { place.start }, |stop| stop + 1);
        self.moment(&(from..place.end))
    }

    fn said(&self, place: &Range<usize>) -> String {
        let end = place.end.min(place.start + 32).min(self.narration.words.len());
        let words: Vec<&str> = self.narration.words[place.start.min(end)..end].iter().map(|word| word.written.as_str()).collect();
        let more = if end < place.end { " …" } else { "" };
        format!("{}{more}", safe(&words.join(" ")).trim_end_matches([',', ';', ':', '.']))
    }

    fn at(&self, place: &Range<usize>) -> String {
        self.moment(place).map_or(String::new(), |at| format!("{} ", clock(at)))
    }

    /// `talk (03:12)`: the source of a value.
    fn source(&self, place: &Range<usize>) -> String {
        match self.moment(place) {
            Some(at) => format!("talk (at {}, {})", clock(at), piece(&self.said(place))),
            None => format!("talk ({})", piece(&self.said(place))),
        }
    }

    fn takes_torque(thing: &Thing) -> bool {
        thing.is_fastener()
    }

    /// Whether a thing goes on without having come off: it is a part, and who supplies it is a question.
    fn is_new(&self, index: usize) -> bool {
        let mut operations = self.heard.operations.iter().filter(|operation| {
            operation.thing == index && !matches!(operation.verb, Verb::Mark | Verb::Clean | Verb::Apply | Verb::Measure | Verb::Inspect)
        });
        operations.next().is_some_and(|operation| operation.verb == Verb::Fit)
    }

    /// The line that defines a thing, and the words it was heard in.
    fn definition(&self, index: usize) -> String {
        let thing = &self.heard.things[index];
        let id = &self.ids[index];
        let name = capital(&piece(&thing.name));
        let comment = format!("# heard {}“{}”\n", self.at(&thing.place), self.said(&thing.place));
        let kit = self.heard.facts.from_kit.contains(&index);
        let line = match thing.class.as_str() {
            "fastener" | "clip" => {
                let mut pieces = Vec::new();
                let thread = thing.sizes.iter().find(|size| size.starts_with('m'));
                let head = thing.head();
                let kind = match (thing.class.as_str(), head) {
                    ("clip", "tie") => "tie",
                    ("clip", _) => "clip",
                    (_, "nut" | "nyloc" | "locknut") => "nut",
                    (_, "screw" | "tapper" | "setscrew" | "self-tapper") => "screw",
                    (_, "stud") => "stud",
                    (_, "washer") => "washer",
                    (_, "rivet") => "rivet",
                    (_, "clamp") => "clamp",
                    (_, "clip") => "clamp",
                    (_, "union" | "gland" | "plug" | "banjo") => "fitting",
                    _ => "",
                };
                let first = self.heard.operations.iter().find(|operation| operation.thing == index);
                let on_vehicle = first.is_some_and(|operation| matches!(operation.verb, Verb::Remove | Verb::Loosen));
                let count = thing.count.filter(|count| *count > 0);
                let counted = match (count, on_vehicle) {
                    (Some(count), false) if kit || !on_vehicle => format!("{count} x {name}"),
                    _ => name,
                };
                pieces.push(counted);
                if !kind.is_empty() {
                    pieces.push(kind.to_owned());
                }
                if let Some(thread) = thread {
                    pieces.push(thread.to_uppercase().replace('X', "x").split(' ').next().unwrap_or_default().to_owned());
                }
                match (count, on_vehicle) {
                    (Some(count), true) => pieces.push(format!("{count} on vehicle")),
                    (None, true) => pieces.push("on vehicle untold: vehicle".to_owned()),
                    (None, false) => pieces.push("supplied untold: supplier".to_owned()),
                    (Some(_), false) => {}
                }
                // Hand tight is what was said, and no torque is owed then.
                let feel = self.heard.operations.iter().find(|operation| operation.thing == index && operation.by_feel.is_some());
                let torque = self.heard.operations.iter().any(|operation| operation.thing == index && operation.torque.is_some());
                if let (Some(operation), false, true) = (feel, torque, Self::takes_torque(thing)) {
                    let words = operation.by_feel.clone().unwrap_or_default();
                    pieces.push(format!("no torque the talk says {}", piece(&words)));
                }
                format!("hardware.{id} = \"{}\"\n", pieces.join("; "))
            }
            "connector" => {
                // What is plugged in without having been unplugged was apart before.
                let first = self.heard.operations.iter().find(|operation| operation.thing == index);
                let open = if first.is_some_and(|operation| operation.verb == Verb::Connect) { "; open at start" } else { "" };
                format!("connector.{id} = \"{name}{open}\"\n")
            }
            _ if kit || self.is_new(index) => {
                let count = thing.count.or((!thing.plural).then_some(1)).filter(|_| kit);
                match count {
                    Some(count) => format!("part.{id} = \"{count} x {name}\"\n"),
                    None => format!("part.{id} = \"{name}; supplied untold: supplier\"\n"),
                }
            }
            "cable" => {
                let first = self.heard.operations.iter().find(|operation| operation.thing == index && operation.verb != Verb::Route);
                let open = if first.is_some_and(|operation| operation.verb == Verb::Connect) { "; open at start" } else { "" };
                format!("item.{id} = \"{name}{open}\"\n")
            }
            _ => format!("item.{id} = \"{name}\"\n"),
        };
        format!("{comment}{line}")
    }

    /// What is defined with a thing: its torque.
    fn torque(&mut self, index: usize) -> Option<String> {
        let operation = self.heard.operations.iter().find(|operation| operation.thing == index && operation.torque.is_some())?;
        let value = &self.heard.values[operation.torque?];
        let thing_id = self.ids[index].clone();
        let name = piece(&self.heard.things[index].name);
        let doubt = value.doubt.as_ref().map_or(String::new(), |doubt| format!(", unsure: shop, {}", piece(doubt)));
        let line = format!(
            "spec.{thing_id} = \"Torque, {name}; torque {}{doubt}; for {thing_id}; {}\"\n",
            spelled(value),
            self.source(&value.place)
        );
        self.torques.insert(index, thing_id);
        Some(line)
    }
}

/// A step while it is put together.
struct Step {
    operations: Vec<usize>,
    phase: usize,
}

const PHASES: [&str; 3] = ["Strip down", "Fit", "Close up"];

/// Which phase each operation belongs to: what only opens comes first, what only closes what was open comes last.
fn phases(heard: &Heard) -> Vec<usize> {
    let operations = &heard.operations;
    let mut opened: Vec<usize> = Vec::new();
    let mut closing = vec![false; operations.len()];
    let mut work = vec![false; operations.len()];
    for (at, operation) in operations.iter().enumerate() {
        match operation.verb.effect() {
            Effect::Opens(_) => opened.push(operation.thing),
            Effect::Closes(_) if opened.contains(&operation.thing) => closing[at] = true,
            Effect::Closes(_) | Effect::Lasting => work[at] = operation.verb != Verb::Discard,
            Effect::Nothing => work[at] = matches!(operation.verb, Verb::Apply | Verb::Route | Verb::Mark),
        }
    }
    let first = work.iter().position(|work| *work).unwrap_or(operations.len());
    let last = work.iter().rposition(|work| *work).map_or(first, |at| at + 1);
    // What goes back in between belongs to the fitting.
    let close = (last..operations.len())
        .find(|at| closing[*at] || operations[*at].verb == Verb::Test || operations[*at].verb == Verb::RoadTest)
        .unwrap_or(operations.len());
    (0..operations.len())
        .map(|at| {
            if at < first {
                0
            } else if at < close {
                1
            } else {
                2
            }
        })
        .collect()
}

fn steps(heard: &Heard, narration: &Narration) -> Vec<Step> {
    let phase = phases(heard);
    let mut steps: Vec<Step> = Vec::new();
    for (at, operation) in heard.operations.iter().enumerate() {
        let new = match steps.last() {
            None => true,
            Some(step) => {
                let before = &heard.operations[step.operations[step.operations.len() - 1]];
                let stops = (before.place.end..operation.place.start)
                    .filter(|word| narration.words[word.saturating_sub(1)].end >= crate::narration::End::Block)
                    .count();
                let apart = operation.place.start.saturating_sub(before.place.end);
                let other = before.thing != operation.thing;
                step.phase != phase[at]
                    || step.operations.len() >= 6
                    || other && step.operations.len() >= 2 && (apart > 35 || stops > 0 && step.operations.len() >= 4)
            }
        };
        if new {
            steps.push(Step { operations: vec![at], phase: phase[at] });
        } else if let Some(step) = steps.last_mut() {
            step.operations.push(at);
        }
    }
    steps
}

/// Writes the guide.
pub fn write(heard: &Heard, narration: &Narration, about: &About<'_>) -> Written {
    let mut writer = Writer {
        heard,
        narration,
        ids: Vec::new(),
        taken: about.taken.iter().map(|id| (*id).to_owned()).collect(),
        torques: BTreeMap::new(),
        defined: Vec::new(),
        options: Vec::new(),
    };
    for (index, thing) in heard.things.iter().enumerate() {
        // What the shop has under this name is that thing.
        let shared = about.shared.iter().find(|(_, name)| name.to_lowercase() == thing.name).filter(|_| !thing.is_fastener());
        let id = match shared {
            Some((id, _)) => {
                writer.defined.push(index);
                (*id).to_owned()
            }
            None => writer.free(&thing.name, "thing"),
        };
        writer.ids.push(id);
    }
    for (name, _) in &heard.facts.options {
        let id = writer.free(name, "option");
        writer.options.push((id, name.clone()));
    }
    let title = about
        .title
        .map(str::to_owned)
        .or_else(|| narration.title.clone())
        .unwrap_or_else(|| format!("Fit: {}", about.slug.replace('-', " ")));
    let title = safe(&title).replace(['*', '`', '_', '#'], "");
    let mut text = String::from(
        "+++\n# A draft from a talk. What was heard stands here with its moment and words; what was not said is left out, and the review tells it.\n# Settle each line of `unsure` and take it out; then take out `heard`.\n",
    );
    text.push_str(&format!("title = \"{title}\"\nrevision = \"A\"\n"));
    let said: Vec<&str> = narration.words.iter().map(|word| word.text.as_str()).collect();
    let named = |name: &str| {
        let words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
        !words.is_empty()
            && said.windows(words.len()).any(|said| said.iter().zip(&words).all(|(said, word)| said.trim_end_matches("'s") == word))
    };
    let vehicles: Vec<String> = about.vehicles.iter().filter(|(_, name)| named(name)).map(|(id, _)| format!("\"{id}\"")).collect();
    if vehicles.is_empty() {
        text.push_str("# fits = [\"an-id\"]   the talk names no vehicle of the shop file\n");
    } else {
        text.push_str(&format!("fits = [{}]\n", vehicles.join(", ")));
    }
    match heard.facts.total.map(|at| &heard.values[at]) {
        Some(value) => text.push_str(&format!(
            "hours = \"{} unsure: shop, heard {}“{}”\"\n",
            spelled(value),
            writer.at(&value.place),
            writer.said(&value.place)
        )),
        None => text.push_str("hours = \"untold: shop\"\n"),
    }
    text.push_str(&format!("sources = {{ talk = \"Talk, {}\" }}\n", safe(about.source)));
    if let Some(video) = about.video {
        text.push_str(&format!("video = \"{}\"\n", safe(video)));
    }
    if !heard.facts.tools.is_empty() {
        let tools: Vec<String> = heard.facts.tools.iter().map(|(name, place)| format!("{}{}", writer.at(place), safe(name))).collect();
        text.push_str(&format!("# tools heard, to be named in `tools`: {}\n", tools.join("; ")));
    }
    let general = general(heard, &writer);
    unsure(&mut text, &general);
    if !writer.options.is_empty() {
        text.push_str("\n[option]\n");
        for ((id, name), (_, place)) in writer.options.iter().zip(&heard.facts.options) {
            text.push_str(&format!("# heard {}“{}”\n{id} = \"{}\"\n", writer.at(place), writer.said(place), capital(&piece(name))));
        }
    }
    text.push_str("+++\n");
    let steps = steps(heard, narration);
    let mut headings: Vec<String> = Vec::new();
    let mut listed: Vec<(String, Option<u32>)> = Vec::new();
    let mut phase = usize::MAX;
    let mut value_from = 0;
    for (nth, step) in steps.iter().enumerate() {
        if step.phase != phase {
            phase = step.phase;
            text.push_str(&format!("\n# {}\n", PHASES[phase]));
        }
        let first = &heard.operations[step.operations[0]];
        let mut heading = heading(heard, step);
        let alike = headings.iter().filter(|known| **known == heading).count();
        headings.push(heading.clone());
        if alike > 0 {
            heading = format!(
                "{heading}, {}",
                ["again", "third time", "fourth time", "fifth time", "sixth time"].get(alike - 1).unwrap_or(&"once more")
            );
        }
        text.push_str(&format!("\n## {heading}\n\n+++\n"));
        let at = writer.begins(&first.place);
        if let Some(at) = at {
            text.push_str(&format!("at = \"{}\"\n", clock(at)));
        }
        text.push_str("minutes = \"untold: shop\"\n");
        // What is told from here to the next step.
        let until = steps.get(nth + 1).map_or(narration.words.len(), |next| heard.operations[next.operations[0]].place.start);
        let from = if nth == 0 { 0 } else { value_from };
        value_from = until;
        let mut specs: Vec<String> = Vec::new();
        let mut lines = String::new();
        let used: Vec<usize> = heard.operations.iter().filter_map(|operation| operation.torque).collect();
        for (number, value) in heard.values.iter().enumerate().filter(|(_, value)| (from..until).contains(&value.place.start)) {
            let Some(key) =
                key_of(value.kind).filter(|_| value.unit.is_some() && !used.contains(&number) && heard.facts.total != Some(number))
            else {
                continue;
            };
            let near = heard.operations.iter().rfind(|operation| operation.place.start <= value.place.end + 4);
            let of = near.map_or(String::new(), |operation| format!(", {}", heard.things[operation.thing].name));
            let id = writer.free(&format!("{key}-{}", specs.len() + 1), "value");
            let doubt = value.doubt.as_ref().map_or(String::new(), |doubt| format!(", unsure: shop, {}", piece(doubt)));
            let name = format!(
                "{}{}",
                if value.kind == Kind::Size {
                    "Size"
                } else if key == "torque" {
                    "Torque"
                } else {
                    key
                },
                of
            );
            lines.push_str(&format!(
                "spec.{id} = \"{}; {key} {}{doubt}; {}\"\n",
                capital(&piece(&name)),
                spelled(value),
                writer.source(&value.place)
            ));
            specs.push(id);
        }
        if !specs.is_empty() {
            text.push_str(&format!("specs = [{}]\n", specs.iter().map(|id| format!("\"{id}\"")).collect::<Vec<_>>().join(", ")));
        }
        let heard_lines: Vec<String> = step
            .operations
            .iter()
            .map(|at| {
                let place = &heard.operations[*at].place;
                let wide = place.start.saturating_sub(2)..(place.end + 4).min(narration.words.len());
                format!("{}{}", writer.at(place), writer.said(&wide))
            })
            .collect();
        list(&mut text, "heard", &heard_lines);
        let mut doubts: Vec<String> = step
            .operations
            .iter()
            .filter_map(|at| {
                let operation = &heard.operations[*at];
                operation.doubt.as_ref().map(|doubt| format!("{}{}: {}", writer.at(&operation.place), operation.verb.done(), safe(doubt)))
            })
            .collect();
        doubts.extend(remarks(heard, &writer, from..until));
        let here = heard.differences.iter().filter(|(place, _)| place.end > 0 && (from..until).contains(&place.start));
        doubts.extend(here.map(|(place, words)| format!("{}{words}", writer.at(place))));
        let open = heard.open.iter().filter(|open| step.operations.contains(&open.operation));
        doubts.extend(open.map(|open| {
            let operation = &heard.operations[open.operation];
            format!(
                "{}the {} is {}, and nobody says that it goes back: does it?",
                writer.at(&operation.place),
                safe(&heard.things[open.thing].name),
                operation.verb.done()
            )
        }));
        unsure(&mut text, &doubts);
        for at in &step.operations {
            let index = heard.operations[*at].thing;
            if !writer.defined.contains(&index) {
                writer.defined.push(index);
                text.push_str(&writer.definition(index));
                if let Some(torque) = writer.torque(index) {
                    text.push_str(&torque);
                }
            }
        }
        text.push_str(&lines);
        text.push_str("+++\n\n");
        for at in &step.operations {
            text.push_str(&sentence(heard, &writer, &heard.operations[*at]));
        }
        listed.push((heading, at));
    }
    Written { text, steps: listed }
}

/// A list of texts as a key.
fn list(text: &mut String, key: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    text.push_str(&format!("{key} = [\n"));
    lines.iter().for_each(|line| text.push_str(&format!("  \"{}\",\n", safe(line))));
    text.push_str("]\n");
}

fn unsure(text: &mut String, lines: &[String]) {
    list(text, "unsure", lines);
}

/// Questions that belong to no step.
fn general(heard: &Heard, writer: &Writer<'_>) -> Vec<String> {
    let mut lines: Vec<String> = heard
        .misheard
        .iter()
        .map(|misheard| {
            let place = misheard.from..misheard.from + 1;
            format!("{}“{}” is probably “{}”", writer.at(&place), misheard.heard, misheard.likely)
        })
        .collect();
    lines.extend(heard.differences.iter().filter(|(place, _)| place.end == 0).map(|(_, words)| words.clone()));
    if let Some(place) = &heard.facts.second_job {
        lines.push(format!("{}“{}”: does another job begin here? A guide has one", writer.at(place), writer.said(place)));
    }
    lines
}

/// Sentences that no key can hold as they were said.
fn remarks(heard: &Heard, writer: &Writer<'_>, within: Range<usize>) -> Vec<String> {
    let here = heard.facts.remarks.iter().filter(|remark| within.contains(&remark.place.start));
    here.map(|remark| {
        let asked = match remark.sort {
            Sort::Caution => "a caution was given; write it as one",
            Sort::Departure => "this departs from the sheet; say how and why",
            Sort::Reference => "a value that stands elsewhere; look it up",
        };
        format!("{}“{}”: {asked}", writer.at(&remark.place), writer.said(&remark.place))
    })
    .collect()
}

fn number_word(count: u32) -> String {
    number::word(count).map_or(count.to_string(), str::to_owned)
}

/// What an operation does, in words: `Remove the four trim clips`.
fn told(heard: &Heard, operation: &Operation) -> String {
    let thing = &heard.things[operation.thing];
    let count = operation.count.filter(|count| *count > 1);
    let counted = count.map_or(String::new(), |count| format!("{} ", number_word(count)));
    let many = count.is_some() || thing.plural && operation.count != Some(1);
    let mass = matches!(thing.class.as_str(), "applied" | "fluid" | "dirt");
    let name = plural(&safe(&thing.name), many && !mass);
    let article = if operation.verb == Verb::Apply { "" } else { "the " };
    format!("{} {article}{counted}{name}", operation.verb.word())
}

fn heading(heard: &Heard, step: &Step) -> String {
    // The thing that most is done to, that is no fastener.
    let main = step
        .operations
        .iter()
        .map(|at| &heard.operations[*at])
        .find(|operation| !matches!(heard.things[operation.thing].class.as_str(), "fastener" | "clip" | "applied"));
    told(heard, main.unwrap_or(&heard.operations[step.operations[0]]))
}

/// The sentence of an operation.
fn sentence(heard: &Heard, writer: &Writer<'_>, operation: &Operation) -> String {
    let thing = &heard.things[operation.thing];
    let id = &writer.ids[operation.thing];
    let counts = matches!(thing.class.as_str(), "fastener" | "clip");
    let count = operation.count.or(thing.count).filter(|count| *count > 0);
    let mut pieces = vec![match (counts, count) {
        (true, Some(count)) => format!("{count} x {id}"),
        (true, None) if !thing.plural => format!("1 x {id}"),
        (true, None) => format!("{id}, count untold: vehicle"),
        (false, _) => id.clone(),
    }];
    let kept = heard.facts.kept.contains(&operation.thing);
    if kept && operation.verb == Verb::Remove {
        pieces.push("keep".to_owned());
    }
    // What a later operation tightens is only started here.
    let later = operation.verb == Verb::Fit
        && operation.torque.is_none()
        && heard.operations.iter().any(|other| other.thing == operation.thing && other.at > operation.at && other.verb == Verb::Tighten);
    if (operation.by_hand && operation.torque.is_none() || later) && counts {
        pieces.push("by hand".to_owned());
    }
    if let Some(condition) = &operation.condition {
        let option = writer.options.iter().find(|(_, name)| name.split(' ').all(|word| condition.contains(word)));
        if let Some((id, _)) = option {
            pieces.push(format!("when {id}"));
        }
    }
    let words = told(heard, operation);
    let torque = writer
        .torques
        .get(&operation.thing)
        .filter(|_| counts && matches!(operation.verb, Verb::Tighten | Verb::Fit) && operation.torque.is_some());
    let behind = torque.map_or(String::new(), |id| format!(" to [](spec:{id})"));
    format!("[{words}](<{}: {}>){behind}.\n", operation.verb.key().replace('_', " "), pieces.join(", "))
}
