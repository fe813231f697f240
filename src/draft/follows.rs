//! What follows from what is told: a torque tightens, a reading measures, and fasteners named beside a thing come and go with it.

use super::clauses::{Mood, Told};
use super::fragments::{told as told_of, verbless};
use super::phrase::{Phrase, Pronoun, phrase};
use super::talk::Talk;
use super::values::{Kind, Value};
use crate::guide::verb::Verb;
use crate::narration::End;
use crate::wording::number;

/// Fasteners that are counted beside a thing come and go with it: `take the lamp out, two wing nuts`.
pub(super) fn hardware(talk: &Talk<'_>, told: &mut Vec<Told>) {
    let mut more: Vec<Told> = Vec::new();
    for nth in 0..told.len() {
        let this = &told[nth];
        let moves = matches!(this.verb, Verb::Remove | Verb::Fit);
        if !moves || this.thing.is(&["fastener", "clip"]) || this.mood == Mood::Moment {
            continue;
        }
        let end = this.range.end;
        let next = told.get(nth + 1).map_or(talk.len(), |next| next.range.start);
        // In the same sentence, or in a fragment right behind it.
        let mut at = end;
        let mut stops = usize::from(talk.end(end - 1) >= End::Stop);
        while at < next.min(end + 14) && stops < 2 {
            if talk.end(at.saturating_sub(1)) >= End::Block && at > end {
                break;
            }
            let counts =
                number::read(&[talk.word(at)]).is_some() || matches!(talk.word(at), "all" | "both" | "its" | "the" | "same") && stops == 0;
            let fragment = at == end
                || talk.end(at - 1) >= End::Comma
                || matches!(talk.before(at, 1), "with" | "and" | "plus" | "its" | "by" | "has" | "it's" | "there's" | "that's" | "is");
            if counts
                && fragment
                && let Some(thing) =
                    phrase(talk, at).filter(|thing| thing.is(&["fastener", "clip"]) && (thing.count.is_some() || thing.plural))
            {
                let to = thing.range.end;
                // A clause of its own with a verb tells of it itself.
                let own = matches!(talk.word(to), "go" | "come" | "get" | "that" | "which" | "hold" | "holding" | "are" | "is")
                    && talk.end(to - 1) < End::Comma;
                if to <= next && !own {
                    more.push(Told {
                        verb: this.verb,
                        at,
                        range: at..to,
                        thing,
                        mood: this.mood,
                        condition: this.condition.clone(),
                        readings: vec![(this.verb, Vec::new())],
                    });
                }
                at = to;
                if talk.word(to) == "and" && talk.end(to - 1) < End::Stop {
                    at += 1;
                    continue;
                }
                if talk.end(to - 1) == End::Comma && number::read(&[talk.word(to)]).is_some() {
                    continue;
                }
                break;
            }
            if talk.end(at) >= End::Stop {
                stops += 1;
            }
            at += 1;
        }
        let _ = at;
    }
    told.append(&mut more);
}

/// Fasteners that are only named come and go with what was done last: `there are ten screws from below`, `then the locking screws, one at each end`.
pub(super) fn named(talk: &Talk<'_>, told: &mut Vec<Told>) {
    let mut more: Vec<Told> = Vec::new();
    let mut at = 0;
    while at < talk.len() {
        let from = at;
        at += 1;
        if talk.words[from].heading || told.iter().chain(&more).any(|told| told.range.contains(&from)) {
            continue;
        }
        let opens = from == 0
            || talk.end(from - 1) >= End::Stop
            || matches!(talk.before(from, 1), "then") && (from < 2 || talk.end(from - 2) >= End::Stop);
        let led = matches!(
            (talk.before(from, 2), talk.before(from, 1)),
            ("there", "are" | "is") | ("held", "by") | ("it", "is") | ("on" | "in", "with") | (_, "there's" | "it's")
        );
        if !opens && !led {
            continue;
        }
        let Some(thing) = phrase(talk, from).filter(|thing| {
            thing.is(&["fastener", "clip"]) && (thing.count.is_some() || opens && thing.plural || opens && talk.word(from) == "new")
        }) else {
            continue;
        };
        let end = thing.range.end;
        if opens && !verbless(talk, end - 1) {
            continue;
        }
        // Told by a verb close behind.
        let behind = told.iter().any(|other| {
            other.at >= end
                && other.at < end + 18
                && matches!(other.verb, Verb::Remove | Verb::Loosen | Verb::Fit | Verb::Discard)
                && (other.thing.pronoun.is_some() || other.thing.head() == thing.head())
        });
        let before = told.iter().rfind(|other| other.at < from && other.at + 45 > from);
        let verb = match before.map(|before| before.verb) {
            _ if talk.word(from) == "new" => Verb::Fit,
            Some(Verb::Remove | Verb::Loosen | Verb::Disconnect | Verb::SwitchOff) => Verb::Remove,
            Some(Verb::Fit | Verb::Tighten | Verb::Connect | Verb::Apply | Verb::Drill | Verb::Raise) => Verb::Fit,
            _ => continue,
        };
        if behind {
            continue;
        }
        at = end;
        more.push(told_of(verb, from, from..end, thing));
    }
    told.append(&mut more);
}

/// A torque that no verb tells tightens the fastener that was named last.
pub(super) fn tightened(talk: &Talk<'_>, told: &mut Vec<Told>, values: &[Value]) {
    let mut more: Vec<Told> = Vec::new();
    for (nth, value) in values.iter().enumerate().filter(|(_, value)| value.kind == Kind::Torque) {
        // The same in another unit, or another pass.
        let repeats = nth
            .checked_sub(1)
            .and_then(|before| values.get(before))
            .is_some_and(|before| before.kind == Kind::Torque && before.range.end + 7 > value.range.start);
        let start = talk.sentence_start(value.range.start).max(value.range.start.saturating_sub(22));
        let end = (value.range.end - 1..talk.len())
            .find(|at| talk.end(*at) >= End::Stop)
            .map_or(talk.len(), |at| at + 1)
            .min(value.range.end + 6);
        let tells = |told: &Told| told.verb == Verb::Tighten && told.at + 1 >= start && told.at < end;
        if repeats || told.iter().chain(&more).any(tells) || forbidden(talk, start, value.range.start) {
            continue;
        }
        // At a battery it is the clamp.
        let at_battery = told.iter().rev().find(|other| other.at >= start && other.at < value.range.start).filter(|other| {
            other.verb == Verb::Connect
                && (other.thing.is(&["battery"])
                    || other.thing.words.iter().any(|word| matches!(word.as_str(), "negative" | "battery" | "positive")))
        });
        if let Some(other) = at_battery {
            let thing = Phrase {
                words: vec!["battery".to_owned(), "clamp".to_owned()],
                class: Some("fastener".to_owned()),
                pronoun: None,
                count: None,
                size: None,
                ..other.thing.clone()
            };
            more.push(told_of(Verb::Tighten, value.range.start, value.range.start..value.range.end, thing));
            continue;
        }
        // A fastener in the sentence, or what was done up before it.
        let named = (start..value.range.start).rev().find_map(|at| {
            phrase(talk, at).filter(|thing| thing.is(&["fastener"]) && thing.range.end <= value.range.start && thing.range.start == at)
        });
        let thing = match named {
            Some(thing) => {
                // With the words in front of it.
                let from = (thing.range.start.saturating_sub(4)..=thing.range.start)
                    .find_map(|at| phrase(talk, at).filter(|longer| longer.range.end == thing.range.end && longer.class == thing.class));
                from.unwrap_or(thing)
            }
            None => Phrase::pronoun(Pronoun::Many, value.range.start..value.range.start),
        };
        let from = thing.range.start.min(value.range.start);
        more.push(Told {
            verb: Verb::Tighten,
            at: value.range.start,
            range: from..value.range.end,
            thing,
            mood: Mood::Told,
            condition: None,
            readings: vec![(Verb::Tighten, vec!["fastener".to_owned()])],
        });
    }
    for at in 0..talk.len() {
        let feel = match (talk.word(at), talk.word(at + 1), talk.word(at + 2)) {
            ("hand" | "finger", "tight", _) => 2,
            ("good" | "nice", "and", "snug" | "tight") => 3,
            ("what" | "whatever", "the", "maker" | "manufacturer" | "book" | "vehicle") => 3,
            ("torque", "as", "for") => 3,
            _ => continue,
        };
        if talk.words[at].heading {
            continue;
        }
        let start = talk.sentence_start(at).max(at.saturating_sub(14));
        let end = (at..talk.len()).find(|at| talk.end(*at) >= End::Stop).map_or(talk.len(), |at| at + 1).min(at + feel + 4);
        let tells = |told: &Told| told.verb == Verb::Tighten && told.at + 1 >= start && told.at < end;
        let by_hand =
            told.iter().any(|told| told.verb == Verb::Fit && told.thing.is(&["fastener"]) && told.at >= start && told.range.end >= at);
        if told.iter().chain(&more).any(tells)
            || by_hand
            || forbidden(talk, start, at)
            || matches!(talk.before(at, 1), "than" | "not" | "just" | "be") && talk.before(at, 1) != "just"
        {
            continue;
        }
        let named =
            (start..at).rev().find_map(|from| phrase(talk, from).filter(|thing| thing.is(&["fastener", "clip"]) && thing.range.end <= at));
        let thing = named.unwrap_or_else(|| Phrase::pronoun(Pronoun::Many, at..at));
        let from = thing.range.start.min(at);
        more.push(Told {
            verb: Verb::Tighten,
            at,
            range: from..at + feel,
            thing,
            mood: Mood::Told,
            condition: None,
            readings: vec![(Verb::Tighten, vec!["fastener".to_owned()])],
        });
    }
    told.append(&mut more);
}

/// A reading: `I had twelve point seven volts at the battery`, `at least fifteen millimetres between door and case`.
pub(super) fn measured(talk: &Talk<'_>, told: &mut Vec<Told>, values: &[Value]) {
    let mut more: Vec<Told> = Vec::new();
    for value in values {
        let item = match value.kind {
            Kind::Voltage => "voltage",
            Kind::Current => "current",
            Kind::Temperature => "temperature",
            Kind::Pressure => "pressure",
            Kind::Length => "gap",
            _ => continue,
        };
        let start = talk.sentence_start(value.range.start).max(value.range.start.saturating_sub(9));
        let end = (value.range.end - 1..talk.len())
            .find(|at| talk.end(*at) >= End::Stop)
            .map_or(talk.len(), |at| at + 1)
            .min(value.range.end + 5);
        let has = |words: &[&str]| (start..end).any(|at| words.contains(&talk.word(at)));
        let led = |words: &[&str]| (value.range.start.saturating_sub(4)..value.range.start).any(|at| words.contains(&talk.word(at)));
        let read = led(&["got", "had", "get", "reads", "shows", "showing", "reading", "i've", "says", "see", "least", "want", "be"])
            || has(&["meter", "multimeter", "measure", "measured"]);
        // `the twelve volt one`, `a thirty amp fuse` are no readings.
        let named = matches!(
            talk.word(value.range.end),
            "one" | "fuse" | "battery" | "feed" | "supply" | "system" | "fridge" | "cable" | "socket" | "wire" | "cartridge"
        );
        let between = item != "gap" || has(&["gap", "between", "clearance", "clear"]);
        let doubled = told.iter().chain(&more).any(|told| {
            matches!(told.verb, Verb::Measure | Verb::Drill | Verb::Cut) && told.at + 14 > value.range.start && told.at < end + 2
        });
        if !read
            || named
            || !between
            || doubled
            || item == "current" && has(&["fuse"])
            || item == "temperature" && has(&["warm", "over", "below"])
        {
            continue;
        }
        let thing = Phrase {
            range: value.range.clone(),
            words: vec![item.to_owned()],
            pronoun: None,
            count: None,
            size: None,
            class: Some("level".to_owned()),
            plural: false,
            determined: true,
            indefinite: false,
            definite: true,
        };
        more.push(told_of(Verb::Measure, value.range.start, start.max(value.range.start.saturating_sub(3))..value.range.end, thing));
    }
    told.append(&mut more);
}

/// Whether the words before a value say that it is not the one.
fn forbidden(talk: &Talk<'_>, from: usize, to: usize) -> bool {
    (from..to).any(|at| match talk.word(at) {
        "sheet" | "says" | "not" | "reads" | "starts" | "written" => true,
        "goes" => matches!(talk.before(at, 1), "wrench" | "only" | "that"),
        _ => false,
    })
}
