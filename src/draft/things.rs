//! Which thing is meant: the same thing gets the same name, a pronoun the thing it most likely stands for, and what is told twice is told once.

use std::ops::Range;

use super::clauses::{Mood, Told};
use super::phrase::{self, Phrase, Pronoun};
use super::talk::Talk;
use crate::guide::verb::Verb;
use crate::narration::End;

/// A thing of the job.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its name, in lower case and the singular.
    pub name: String,
    /// What sort of thing it is.
    pub class: String,
    /// How many were said.
    pub count: Option<u32>,
    /// A size said with it: `M8`, `10 mm`.
    pub sizes: Vec<String>,
    /// Whether it was spoken of as several.
    pub plural: bool,
    /// The words of the narration where it is named first.
    pub place: Range<usize>,
    pub(super) words: Vec<String>,
}

impl Thing {
    /// Its last word.
    pub fn head(&self) -> &str {
        self.words.last().map_or("", String::as_str)
    }

    /// Whether it is a fastener that takes a torque.
    pub fn is_fastener(&self) -> bool {
        self.class == "fastener"
    }
}

/// An operation that was told.
#[derive(Clone, Debug)]
pub struct Operation {
    /// What is done.
    pub verb: Verb,
    /// To which thing.
    pub thing: usize,
    /// How many of it.
    pub count: Option<u32>,
    /// Its words in the narration.
    pub place: Range<usize>,
    /// Why it is not certain.
    pub doubt: Option<String>,
    /// The torque it is tightened to, as an index of the values.
    pub torque: Option<usize>,
    /// `hand tight`, `snug`: how tight, in words.
    pub by_feel: Option<String>,
    /// Whether it is only started by hand.
    pub by_hand: bool,
    /// What a torque is said to be the same as, in words.
    pub by_reference: Option<String>,
    /// The words of a condition.
    pub condition: Option<String>,
    pub(super) at: usize,
    pub(super) range: Range<usize>,
    pub(super) mood: Mood,
    pub(super) before: bool,
}

/// A thing named at a place.
struct Mention {
    at: usize,
    thing: usize,
    plural: bool,
    /// How far back it stands for who looks for what a pronoun means: what is only said of a place is less likely meant.
    aside: usize,
}

pub(super) struct Resolved {
    pub(super) things: Vec<Thing>,
    pub(super) operations: Vec<Operation>,
}

/// Every phrase of the talk that names a thing, in order.
fn mentions(talk: &Talk<'_>, told: &[Told]) -> Vec<Phrase> {
    let verbs: std::collections::HashSet<usize> = told.iter().map(|told| told.at).collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < talk.len() {
        let word = talk.word(at);
        let begins =
            phrase::is_determiner(word) || crate::wording::number::is_number_word(word) || word.starts_with(|c: char| c.is_ascii_digit());
        let known =
            !begins && !verbs.contains(&at) && talk.lexicon.name(&|nth| if nth == 0 { word } else { talk.word(at + nth) }).is_some();
        let read = (begins || known).then(|| phrase::phrase(talk, at)).flatten();
        match read.filter(|phrase| phrase.pronoun.is_none() && phrase.class.is_some()) {
            Some(phrase) => {
                at = phrase.range.end.max(at + 1);
                if !phrase.is(&["nothing", "tool"]) {
                    found.push(phrase);
                }
            }
            None => at += 1,
        }
    }
    found
}

struct Resolver<'t, 'n> {
    talk: &'t Talk<'n>,
    things: Vec<Thing>,
    mentions: Vec<Mention>,
}

/// The things and operations of a talk.
pub(super) fn resolve(talk: &Talk<'_>, told: &[Told]) -> Resolved {
    let mut resolver = Resolver { talk, things: Vec::new(), mentions: Vec::new() };
    let named = mentions(talk, told);
    let mut next = 0;
    let mut operations: Vec<Operation> = Vec::new();
    for told in told {
        while next < named.len() && named[next].range.start < told.thing.range.start.max(told.at) {
            if named[next].range.end <= told.thing.range.start.max(told.range.start) || named[next].range.end <= told.at {
                resolver.name(&named[next]);
            }
            next += 1;
        }
        let Some((thing, verb, doubt)) = resolver.find(told, &operations) else { continue };
        // Connectors come apart and together, whatever verb is used.
        let verb = match (verb, resolver.things[thing].class.as_str()) {
            (Verb::Remove, "connector" | "battery") => Verb::Disconnect,
            (Verb::Fit, "connector" | "battery") => Verb::Connect,
            (verb, _) => verb,
        };
        let before = told.mood == Mood::Moment && moment_is_before(talk, told.at);
        operations.push(Operation {
            verb,
            thing,
            count: told.thing.count,
            place: talk.place(told.range.start, told.range.end),
            doubt,
            torque: None,
            by_feel: None,
            by_hand: false,
            by_reference: None,
            condition: told.condition.clone().map(|range| words(talk, &range)),
            at: told.at,
            range: told.range.clone(),
            mood: told.mood,
            before,
        });
    }
    let things = resolver.things;
    once(&mut operations);
    Resolved { things, operations }
}

/// The words of a stretch of the talk.
pub(super) fn words(talk: &Talk<'_>, range: &Range<usize>) -> String {
    range.clone().map(|at| talk.word(at)).collect::<Vec<_>>().join(" ")
}

/// Whether the moment that a verb tells lies ahead: `before you refit the panel`.
fn moment_is_before(talk: &Talk<'_>, at: usize) -> bool {
    (at.saturating_sub(8)..at).rev().find_map(|back| match talk.word(back) {
        "before" | "until" | "till" | "while" | "whilst" | "as" | "when" => Some(true),
        "after" | "once" => Some(false),
        _ => None,
    }) == Some(true)
}

/// What is told twice is told once: where it is done.
fn once(operations: &mut Vec<Operation>) {
    let mut drop = vec![false; operations.len()];
    for at in 0..operations.len() {
        let (verb, thing) = (operations[at].verb, operations[at].thing);
        if operations[at].before {
            drop[at] = true;
            continue;
        }
        let earlier = (0..at).rev().filter(|before| !drop[*before]).find(|before| {
            operations[*before].thing == thing && (operations[*before].verb == verb || Some(operations[*before].verb) == verb.inverse())
        });
        let Some(before) = earlier.filter(|before| operations[*before].verb == verb) else { continue };
        let apart = operations[at].at.saturating_sub(operations[before].at);
        match (operations[before].mood, operations[at].mood) {
            (_, Mood::Moment) => drop[at] = true,
            (Mood::Announced | Mood::Moment, _) => drop[before] = true,
            (Mood::Told, Mood::Announced) => drop[at] = apart < 60,
            // A pilot hole is opened up: that is drilled too.
            (Mood::Told, Mood::Told) => drop[at] = apart < 14 && verb != Verb::Drill,
        }
    }
    let mut kept = drop.iter();
    operations.retain(|_| !kept.next().copied().unwrap_or(false));
}

/// The classes of things that a verb is most often told of.
fn preferred(verb: Verb) -> &'static [&'static str] {
    match verb {
        Verb::Tighten | Verb::Loosen => &["fastener"],
        Verb::Disconnect | Verb::Connect => &["connector", "battery"],
        Verb::SwitchOff | Verb::SwitchOn => &["switchable", "engine"],
        Verb::Raise | Verb::Lower => &["vehicle", "part"],
        Verb::Route => &["cable"],
        Verb::Drill => &["hole"],
        Verb::Measure => &["level"],
        _ => &[],
    }
}

/// Words that tell one of several alike from another.
fn tells_apart(word: &str) -> bool {
    !matches!(
        word,
        "old"
            | "new"
            | "same"
            | "little"
            | "big"
            | "mounting"
            | "fixing"
            | "steel"
            | "stainless"
            | "long"
            | "short"
            | "small"
            | "large"
            | "heavy"
            | "plastic"
            | "rubber"
            | "metal"
    )
}

impl Resolver<'_, '_> {
    /// The thing that a phrase names; a new one where none fits.
    fn name(&mut self, phrase: &Phrase) -> usize {
        let found = self.known(phrase);
        let thing = found.unwrap_or_else(|| self.add(phrase));
        let known = &mut self.things[thing];
        known.plural |= phrase.plural;
        if known.count.is_none() {
            known.count = phrase.count;
        }
        if let Some(size) = phrase.size.as_ref().filter(|size| !known.sizes.contains(size)) {
            known.sizes.push(size.clone());
        }
        // A fuller name than before.
        if phrase.words.len() > known.words.len() && phrase.head() == known.head() && known.words.len() == 1 {
            known.words = phrase.words.clone();
            known.name = phrase.words.join(" ");
        }
        let aside = self.aside(phrase);
        self.mentions.push(Mention { at: phrase.range.start, thing, plural: phrase.plural, aside });
        thing
    }

    /// What stands behind `of`, `under`, `on` tells where something is.
    fn aside(&self, phrase: &Phrase) -> usize {
        let start = phrase.range.start;
        let opens = start == 0
            || self.talk.end(start - 1) >= End::Stop
            || matches!(self.talk.before(start, 1), "then" | "now") && (start < 2 || self.talk.end(start - 2) >= End::Stop);
        if opens {
            return 0;
        }
        match self.talk.before(start, 1) {
            "of" | "in" | "on" | "under" | "above" | "behind" | "from" | "to" | "with" | "by" | "through" | "into" | "onto" | "along"
            | "near" | "for" | "at" | "against" | "inside" | "below" | "over" | "round" | "around" | "beside" | "between" | "across"
            | "off" | "like" | "than" => 18,
            _ => 6,
        }
    }

    fn known(&self, phrase: &Phrase) -> Option<usize> {
        if let [only] = phrase.words.as_slice()
            && phrase.class.as_deref() == Some("fastener")
            && phrase.size.as_ref() == Some(only)
        {
            let same =
                |thing: &Thing| thing.is_fastener() && thing.sizes.iter().any(|size| size.split(['x', ' ']).next() == Some(only.as_str()));
            return self.mentions.iter().rev().map(|mention| mention.thing).find(|at| same(&self.things[*at]));
        }
        // The battery's negative has many names and is one thing.
        let negative = |words: &[String], class: Option<&str>| {
            class == Some("battery") || words.iter().any(|word| word == "negative") || words == ["earth".to_owned(), "lead".to_owned()]
        };
        if negative(&phrase.words, phrase.class.as_deref())
            && !phrase.words.iter().any(|word| matches!(word.as_str(), "leisure" | "positive" | "second" | "isolator" | "tray"))
        {
            let known = self
                .mentions
                .iter()
                .rev()
                .map(|mention| mention.thing)
                .find(|at| negative(&self.things[*at].words, Some(&self.things[*at].class)));
            if known.is_some() {
                return known;
            }
        }
        // `four screws`: others than those that were named before, unless name and count are the same.
        if !phrase.definite && phrase.count.is_some() && phrase.class.as_deref() == Some("fastener") {
            return self.mentions.iter().rev().map(|mention| mention.thing).find(|at| {
                let thing = &self.things[*at];
                thing.words == phrase.words && (thing.count == phrase.count || thing.count.is_none())
            });
        }
        let own: Vec<&String> = phrase.words[..phrase.words.len().saturating_sub(1)].iter().filter(|word| tells_apart(word)).collect();
        let mut recent: Vec<usize> = Vec::new();
        for mention in self.mentions.iter().rev() {
            if !recent.contains(&mention.thing) {
                recent.push(mention.thing);
            }
        }
        let same_head = |thing: &Thing| thing.head() == phrase.head();
        let others = |thing: &Thing| -> Vec<String> {
            thing.words[..thing.words.len() - 1].iter().filter(|word| tells_apart(word)).cloned().collect()
        };
        // All words the same, then a shorter name for it, then a fuller one.
        let exact = recent.iter().copied().find(|at| same_head(&self.things[*at]) && self.things[*at].words == phrase.words);
        exact
            .or_else(|| {
                recent.iter().copied().find(|at| {
                    same_head(&self.things[*at]) && {
                        let others = others(&self.things[*at]);
                        own.iter().all(|word| others.contains(word)) && !(phrase.indefinite && own.is_empty() && !others.is_empty())
                    }
                })
            })
            .or_else(|| {
                recent.iter().copied().find(|at| {
                    same_head(&self.things[*at])
                        && others(&self.things[*at]).is_empty()
                        && !phrase.indefinite
                        && self.things[*at].words.len() == 1
                })
            })
    }

    fn add(&mut self, phrase: &Phrase) -> usize {
        let thread = phrase.size.is_some() && phrase.words.len() == 1 && phrase.size.as_ref() == phrase.words.first();
        let words = if thread { vec![phrase.words[0].to_uppercase(), "bolt".to_owned()] } else { phrase.words.clone() };
        self.things.push(Thing {
            name: words.join(" "),
            class: phrase.class.clone().unwrap_or_else(|| "part".to_owned()),
            count: phrase.count,
            sizes: phrase.size.iter().cloned().collect(),
            plural: phrase.plural,
            place: self.talk.place(phrase.range.start, phrase.range.end),
            words,
        });
        self.things.len() - 1
    }

    /// The thing of an operation, and why that is not certain.
    fn find(&mut self, told: &Told, operations: &[Operation]) -> Option<(usize, Verb, Option<String>)> {
        // What is driven at the end is the vehicle.
        if told.verb == Verb::RoadTest {
            let vehicle = self.things.iter().position(|thing| thing.class == "vehicle");
            return Some((vehicle.unwrap_or_else(|| self.name(&super::fragments::van(told.at))), told.verb, None));
        }
        let Some(pronoun) = told.thing.pronoun else { return Some((self.name(&told.thing), told.verb, None)) };
        let reading = |thing: &Thing| {
            told.readings
                .iter()
                .find(|(_, classes)| classes.is_empty() || classes.contains(&thing.class))
                .map(|(verb, classes)| (*verb, !classes.is_empty()))
        };
        if pronoun == Pronoun::Everything {
            return None;
        }
        let many = pronoun == Pronoun::Many;
        let wanted = |thing: &Thing| -> bool {
            let Some((verb, asked)) = reading(thing) else { return false };
            if asked {
                return true;
            }
            match verb {
                Verb::Tighten => matches!(thing.class.as_str(), "fastener" | "clip" | "connector"),
                Verb::Loosen => matches!(thing.class.as_str(), "fastener" | "clip" | "connector"),
                Verb::Disconnect | Verb::Connect => matches!(thing.class.as_str(), "connector" | "cable" | "battery" | "switchable"),
                Verb::Drill => matches!(thing.class.as_str(), "hole" | "line") || thing.class == "part" || thing.class == "trim",
                Verb::Fill | Verb::Drain => matches!(thing.class.as_str(), "fluid" | "part"),
                Verb::Route => thing.class == "cable",
                Verb::Apply => thing.class != "vehicle",
                Verb::SwitchOff | Verb::SwitchOn => !matches!(thing.class.as_str(), "fastener" | "clip" | "hole"),
                Verb::Raise | Verb::Lower => !matches!(thing.class.as_str(), "fastener" | "clip" | "applied"),
                Verb::Remove | Verb::Fit => !matches!(thing.class.as_str(), "hole" | "level" | "pressure" | "vehicle" | "line"),
                _ => true,
            }
        };
        // The thing last named, or last worked on, before the verb.
        let limit = told.thing.range.start.max(told.at.min(told.thing.range.start));
        let start = self.talk.sentence_start(told.at);
        let mut candidates: Vec<(usize, usize)> = Vec::new();
        for mention in self.mentions.iter().rev().filter(|mention| mention.at < limit) {
            if limit - mention.at > 110 {
                break;
            }
            let thing = &self.things[mention.thing];
            if !wanted(thing) || candidates.iter().any(|(known, _)| *known == mention.thing) {
                continue;
            }
            let mut distance = limit - mention.at + mention.aside;
            if preferred(reading(thing).map_or(told.verb, |(verb, _)| verb)).contains(&thing.class.as_str()) {
                distance = distance.saturating_sub(14);
            } else if matches!(thing.class.as_str(), "place" | "vehicle" | "hole" | "applied" | "dirt" | "line" | "level" | "pressure") {
                distance += 30;
            }
            // Another number counts as far off.
            if many != mention.plural && pronoun != Pronoun::Other {
                distance += if many { 45 } else { 25 };
            }
            // What was just worked on is more likely meant than what was named beside it.
            let worked = operations.iter().rev().take(2).any(|operation| operation.thing == mention.thing);
            if worked {
                distance = distance.saturating_sub(8);
            }
            if mention.at < start {
                distance += 2;
            }
            candidates.push((mention.thing, distance));
        }
        candidates.sort_by_key(|(_, distance)| *distance);
        let (thing, distance) = candidates.first().copied()?;
        if distance > 100 {
            return None;
        }
        let said = words(self.talk, &told.thing.range);
        let doubt = match candidates.get(1) {
            Some((other, next)) if *next < distance + 5 => {
                let (first, second) = (self.things[thing].name.clone(), self.things[*other].name.clone());
                Some(format!("“{said}”: the {first}, or the {second}?"))
            }
            _ if distance > 40 => Some(if said.is_empty() {
                format!("is the {} meant here?", self.things[thing].name)
            } else {
                format!("“{said}”: the {}?", self.things[thing].name)
            }),
            _ => None,
        };
        self.mentions.push(Mention { at: told.thing.range.start, thing, plural: many, aside: 0 });
        let (verb, _) = reading(&self.things[thing])?;
        Some((thing, verb, doubt))
    }
}

/// Whether a word ends a sentence or a paragraph.
pub(super) fn ends_sentence(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at) >= End::Stop
}
