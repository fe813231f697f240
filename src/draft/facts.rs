//! What a talk says beside its operations: what is kept and comes from the kit, options, cautions, shortcuts and their reasons, tools, how long
//! the job took. Whatever no key of a guide can hold as it was said becomes a question with its words.

use std::ops::Range;

use super::talk::Talk;
use super::things::{Operation, Thing};
use super::values::{Kind, Value};
use crate::guide::verb::Verb;
use crate::narration::End;

/// A sentence that says something no operation or value holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// What sort of thing it says.
    pub sort: Sort,
    /// Its words in the narration.
    pub place: Range<usize>,
}

/// What a remark is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// It warns.
    Caution,
    /// It does otherwise than the sheet says.
    Departure,
    /// A value that stands elsewhere.
    Reference,
}

/// What else was heard.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// Things that are kept, as indices.
    pub kept: Vec<usize>,
    /// Things from the kit, as indices.
    pub from_kit: Vec<usize>,
    /// Conditions, in the words of what the vehicle has.
    pub options: Vec<(String, Range<usize>)>,
    /// Sentences for the author to settle.
    pub remarks: Vec<Remark>,
    /// Tools named, each once.
    pub tools: Vec<(String, Range<usize>)>,
    /// The value that says how long the whole job took.
    pub total: Option<usize>,
    /// Where a second job seems to begin: the words.
    pub second_job: Option<Range<usize>>,
}

/// Reads them.
pub(super) fn read(talk: &Talk<'_>, things: &[Thing], operations: &[Operation], values: &[Value]) -> Facts {
    let mut facts = Facts::default();
    kept(talk, operations, &mut facts);
    kit(talk, things, &mut facts);
    options(talk, &mut facts);
    remarks(talk, &mut facts);
    tools(talk, &mut facts);
    facts.total = total(talk, values);
    facts.second_job = second_job(talk);
    facts
}

fn kept(talk: &Talk<'_>, operations: &[Operation], facts: &mut Facts) {
    for operation in operations.iter().filter(|operation| matches!(operation.verb, Verb::Remove)) {
        let end = (operation.range.end + 14).min(talk.len());
        let words: Vec<&str> = (operation.range.end..end).map(|at| talk.word(at)).collect();
        let keep = words.windows(2).any(|pair| {
            matches!(
                pair,
                ["keep" | "save" | "kept", "them" | "those" | "it" | "that" | "the" | "all" | "hold"]
                    | ["hang", "on"]
                    | ["put", "them"]
                    | ["goes", "back"]
                    | ["go", "back"]
            )
        }) && !words.contains(&"don't")
            && !words.contains(&"bin");
        if keep && !facts.kept.contains(&operation.thing) {
            facts.kept.push(operation.thing);
        }
    }
}

fn kit(talk: &Talk<'_>, things: &[Thing], facts: &mut Facts) {
    for at in 0..talk.len() {
        let led = matches!(
            (talk.word(at), talk.word(at + 1), talk.word(at + 2)),
            ("from" | "of" | "in", "the", "kit" | "box") | ("the", "supplied" | "included", _)
        );
        if !led || talk.word(at) == "in" && !matches!(talk.before(at, 1), "comes" | "new" | "bolts" | "screws" | "one" | "ones") {
            continue;
        }
        let here = talk.words[at].from;
        let near = things.iter().enumerate().filter(|(_, thing)| thing.place.start <= here + 6 && thing.place.end + 8 > here);
        if let Some((thing, _)) = near.min_by_key(|(_, thing)| thing.place.end.abs_diff(here))
            && !facts.from_kit.contains(&thing)
            && !matches!(things[thing].class.as_str(), "tool" | "vehicle" | "place" | "dirt" | "hole" | "line" | "level")
        {
            facts.from_kit.push(thing);
        }
    }
}

fn options(talk: &Talk<'_>, facts: &mut Facts) {
    for at in 0..talk.len() {
        let has = match (talk.word(at), talk.word(at + 1), talk.word(at + 2)) {
            ("if", "yours" | "it" | "you" | "the" | "there's", _) => {
                (at + 1..(at + 6).min(talk.len())).find(|at| matches!(talk.word(*at), "has" | "have" | "there's" | "got")).map(|at| at + 1)
            }
            ("if", "it's", "got") | ("if", "you've", "got") => Some(at + 3),
            ("if", "there", "is" | "are") => Some(at + 3),
            ("on", "models" | "vans" | "vehicles", "with") | ("vans" | "models", "with", _) => {
                Some(at + if talk.word(at) == "on" { 3 } else { 2 })
            }
            ("where", "fitted", _) | ("if", "fitted", _) | ("if", "equipped", _) | ("if", "ordered", _) => None,
            _ => continue,
        };
        let Some(from) = has else { continue };
        let Some(thing) = super::phrase::phrase(talk, from).filter(|thing| thing.pronoun.is_none() && !thing.words.is_empty()) else {
            continue;
        };
        let name = thing.words.join(" ");
        if name.len() > 2 && !facts.options.iter().any(|(known, _)| *known == name) {
            facts.options.push((name, talk.place(at, thing.range.end)));
        }
    }
}

/// The sentences of a talk as ranges of its words; where there are no stops, stretches of some words.
pub(super) fn sentences(talk: &Talk<'_>) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut start = 0;
    for at in 0..talk.len() {
        let long =
            at + 1 - start >= 40 || at + 1 - start >= 22 && matches!(talk.word(at + 1), "and" | "then" | "so" | "now" | "but" | "next");
        if talk.end(at) >= End::Stop || long || at + 1 == talk.len() {
            found.push(start..at + 1);
            start = at + 1;
        }
    }
    found
}

fn remarks(talk: &Talk<'_>, facts: &mut Facts) {
    for sentence in sentences(talk) {
        let has = |words: &[&str]| sentence.clone().any(|at| words.contains(&talk.word(at)));
        let pair = |first: &[&str], second: &[&str]| {
            sentence.clone().any(|at| at + 1 < sentence.end && first.contains(&talk.word(at)) && second.contains(&talk.word(at + 1)))
        };
        let warns =
            has(&[
                "never",
                "danger",
                "dangerous",
                "warning",
                "caution",
                "careful",
                "burn",
                "burns",
                "crush",
                "injure",
                "glasses",
                "goggles",
                "gloves",
                "sharp",
                "explode",
                "fumes",
                "shock",
                "scald",
            ]) || pair(&["don't", "dont"], &["ever", "go", "get", "put", "touch", "stand", "let", "drill", "cut", "breathe", "even"])
                || pair(&["do"], &["not"])
                || pair(&["mind", "watch"], &["your", "the", "out", "you"]);
        let departs = (has(&["sheet", "instructions", "supplier"])
            && has(&["says", "wants", "tells", "shows", "say", "reckons", "takes"])
            && has(&["but", "i", "we", "because", "instead"]))
            || pair(&["instead"], &["of"]) && has(&["sheet"]);
        let refers = pair(&["what", "whatever"], &["the"]) && has(&["maker", "manufacturer", "book", "manual"])
            || pair(&["same"], &["as", "again", "figure", "torque"])
            || pair(&["torque"], &["as"]);
        let place = talk.place(sentence.start, sentence.end);
        for (said, sort) in [(warns, Sort::Caution), (departs, Sort::Departure), (refers, Sort::Reference)] {
            if said {
                facts.remarks.push(Remark { sort, place: place.clone() });
            }
        }
    }
}

fn tools(talk: &Talk<'_>, facts: &mut Facts) {
    let mut at = 0;
    while at < talk.len() {
        match super::phrase::phrase(talk, at).filter(|thing| thing.is(&["tool"]) && thing.determined) {
            Some(thing) => {
                let mut name = thing.words.join(" ");
                if let Some(size) = &thing.size {
                    name = format!("{name}, {size}");
                }
                if !facts.tools.iter().any(|(known, _)| *known == name) {
                    facts.tools.push((name, talk.place(thing.range.start, thing.range.end)));
                }
                at = thing.range.end.max(at + 1);
            }
            None => at += 1,
        }
    }
}

/// The last time of an hour or more that is said to be that of the whole job.
fn total(talk: &Talk<'_>, values: &[Value]) -> Option<usize> {
    values.iter().enumerate().rev().filter(|(_, value)| value.kind == Kind::Time && matches!(value.unit, Some("h" | "min"))).find_map(
        |(nth, value)| {
            let around = value.range.start.saturating_sub(9)..(value.range.end + 7).min(talk.len());
            let about = around
                .into_iter()
                .any(|at| matches!(talk.word(at), "altogether" | "total" | "whole" | "took" | "time" | "start" | "all" | "job" | "allow"));
            let long = value.unit == Some("h") || value.figure >= 60.0;
            let late = value.range.start * 10 > talk.len() * 7 || value.range.start * 10 < talk.len();
            (about && long && late).then_some(nth)
        },
    )
}

/// Where a second job begins.
fn second_job(talk: &Talk<'_>) -> Option<Range<usize>> {
    (talk.len() / 6..talk.len()).find_map(|at| {
        let said = match (talk.word(at), talk.word(at + 1), talk.word(at + 2)) {
            ("next" | "second" | "other", "job", _) => 2,
            ("on", "to", "the") if talk.word(at + 3) == "next" && matches!(talk.word(at + 4), "van" | "job" | "one") => 5,
            ("next", "van" | "vehicle", _) => 2,
            _ => return None,
        };
        let opens = at == 0 || talk.end(at - 1) >= End::Comma || matches!(talk.before(at, 1), "the" | "now" | "right" | "okay" | "so");
        opens.then(|| talk.place(at, at + said))
    })
}
