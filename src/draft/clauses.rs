//! What sentences tell as done: verbs of the trade with their things, less what is forbidden, only thought of, or told of somebody else.

use std::ops::Range;

pub(super) use super::mood::Mood;
use super::mood::{introduces, mood};
use super::phrase::{Phrase, Pronoun, is_determiner, is_filler, is_stop, phrase, subject};
use super::talk::Talk;
use crate::guide::verb::Verb;
use crate::narration::End;
use crate::wording::lexicon::{Form, Phrase as Pattern};

/// Something told of a thing.
#[derive(Clone, Debug)]
pub(super) struct Told {
    pub(super) verb: Verb,
    /// The verb's word.
    pub(super) at: usize,
    /// From the verb or its thing to the end of both.
    pub(super) range: Range<usize>,
    pub(super) thing: Phrase,
    pub(super) mood: Mood,
    /// The condition in front of it: words from `if` on.
    pub(super) condition: Option<Range<usize>>,
    /// What else the words can tell, by the class of the thing: where a pronoun stands for it, that is known later.
    pub(super) readings: Vec<(Verb, Vec<String>)>,
}

/// Everything told in the talk, in order.
pub(super) fn read(talk: &Talk<'_>) -> Vec<Told> {
    let mut found: Vec<Told> = Vec::new();
    let mut at = 0;
    while at < talk.len() {
        if talk.words[at].heading {
            at += 1;
            continue;
        }
        let read = at_verb(talk, at);
        let mut next = at + 1;
        for told in read {
            // A verb inside the words of the one before is a part of it.
            let inside =
                found.last().is_some_and(|last| last.range.end > told.range.start && last.at < told.at && last.range.end > told.at + 1);
            if inside {
                continue;
            }
            next = next.max(told.at + 1);
            found.push(told);
        }
        at = next;
    }
    found
}

/// What a word tells, if it is a verb there.
fn at_verb(talk: &Talk<'_>, at: usize) -> Vec<Told> {
    found_at(talk, at).unwrap_or_default()
}

/// What a thing put somewhere comes to: in the bin it is thrown away, on the bench it is not fitted. None where it is no work on the vehicle.
fn elsewhere(talk: &Talk<'_>, verb: Verb, range: &Range<usize>) -> Option<Verb> {
    if !matches!(verb, Verb::Fit | Verb::Connect | Verb::Remove) {
        return Some(verb);
    }
    let to = (range.end + 4).min(talk.len());
    for at in range.start..to {
        let inside = at < range.end || (range.end..at).all(|at| talk.end(at - 1) < End::Comma) && talk.end(at - 1) < End::Comma;
        if !inside {
            break;
        }
        let led = matches!(talk.before(at, 1), "the" | "a" | "my" | "your" | "that" | "tool" | "one" | "parts" | "its" | "to");
        let led = led
            && (matches!(talk.before(at, 2), "in" | "on" | "into" | "onto" | "to" | "under" | "straight")
                || matches!(talk.before(at, 1), "to"));
        match talk.word(at) {
            "bin" | "skip" | "trash" | "rubbish" | "scrap" if led && verb == Verb::Fit => return Some(Verb::Discard),
            "bench" | "pocket" | "bag" | "tray" | "box" | "bucket" | "shelf" | "mat" | "bonnet" | "tub" | "drawer" | "tailgate" | "cab"
            | "blanket" | "table" | "seat" | "side"
                if led
                    && verb == Verb::Fit
                    && !(talk.word(at) == "seat" && range.contains(&at))
                    && !(talk.word(at) == "box" && matches!(talk.before(at, 1), "battery" | "seat"))
                    && !matches!(talk.word(at + 1), "box" | "base" | "panel" | "plate")
                // The thing itself may have that name.
                && (at + 1 < range.end || at >= range.end) =>
            {
                return if matches!(talk.before(at, 1), "the" | "my" | "your" | "tool" | "a" | "parts" | "one") {
                    None
                } else {
                    Some(verb)
                };
            }
            _ => {}
        }
    }
    Some(verb)
}

/// Who greases contacts applies grease.
fn substance(lemma: &str, pattern: &Pattern, things: Vec<Phrase>) -> Vec<Phrase> {
    let name = match lemma {
        "grease" => "grease",
        "paint" if pattern.after.is_empty() => "paint",
        "tape" => "tape",
        "seal" => "sealant",
        "prime" => "primer",
        "oil" => "oil",
        "lubricate" | "lube" => "lubricant",
        "coat" | "treat" => return things,
        _ => return things,
    };
    if pattern.verb != Verb::Apply || !pattern.classes.is_empty() && lemma != "prime" {
        return things;
    }
    things
        .into_iter()
        .take(1)
        .map(|thing| Phrase {
            words: name.split(' ').map(str::to_owned).collect(),
            class: Some("applied".to_owned()),
            pronoun: None,
            count: None,
            size: None,
            plural: false,
            ..thing
        })
        .collect()
}

fn found_at(talk: &Talk<'_>, at: usize) -> Option<Vec<Told>> {
    for (lemma, form) in talk.lexicon.forms(talk.word(at)) {
        if !is_verbal(talk, at, *form, lemma) {
            continue;
        }
        let passive = *form == Form::Past && is_passive(talk, at);
        // `the link is fixed`: how things are.
        let state = matches!(
            lemma.as_str(),
            "fix"
                | "glue"
                | "bond"
                | "rivet"
                | "clip"
                | "hook"
                | "mount"
                | "attach"
                | "seat"
                | "tie"
                | "pin"
                | "place"
                | "position"
                | "cover"
                | "sit"
                | "split"
                | "set"
                | "hang"
        );
        if passive && state || lemma == "sit" && *form == Form::Past {
            continue;
        }
        for pattern in talk.lexicon.phrases(lemma) {
            let matched = if pattern.behind {
                behind(talk, at, pattern, *form)
            } else if passive {
                passive_of(talk, at, pattern)
            } else {
                ahead(talk, at, *form, pattern)
            };
            let Some((things, range)) = matched else { continue };
            let mut readings = vec![(pattern.verb, pattern.classes.clone())];
            if things.iter().any(|thing| thing.pronoun.is_some()) {
                for other in talk
                    .lexicon
                    .phrases(lemma)
                    .iter()
                    .filter(|other| other.behind == pattern.behind && other.after == pattern.after && other.before == pattern.before)
                {
                    let reading = (other.verb, other.classes.clone());
                    // `start it`: no fastener is started alone.
                    let alone =
                        lemma == "start" && things.iter().any(|thing| thing.pronoun == Some(Pronoun::One)) && reading.1 == ["fastener"];
                    if !readings.contains(&reading) && !alone {
                        readings.push(reading);
                    }
                }
                // What asks for a class goes before what takes anything.
                readings.sort_by_key(|(_, classes)| classes.is_empty());
            }
            let general = readings.last().map_or(pattern.verb, |(verb, _)| *verb);
            let verb = elsewhere(talk, general, &range)?;
            let things = substance(lemma, pattern, things);
            let (mood, condition) = mood(talk, at, *form, range.start)?;
            if taken_back(talk, range.end) || asks(talk, at) || lemma == "prime" && things.iter().any(|thing| thing.pronoun.is_some()) {
                return None;
            }
            if introduces(talk, at, *form, pattern.verb) {
                return None;
            }
            let told = things
                .into_iter()
                .map(|thing| Told {
                    verb,
                    at,
                    range: range.clone(),
                    thing,
                    mood,
                    condition: condition.clone(),
                    readings: if verb == general { readings.clone() } else { vec![(verb, Vec::new())] },
                })
                .collect();
            return Some(told);
        }
    }
    None
}

/// Whether what was told is taken back at once: `the tray goes up, no wait, leave that`.
fn taken_back(talk: &Talk<'_>, end: usize) -> bool {
    matches!((talk.word(end), talk.word(end + 1)), ("no", "wait" | "leave" | "sorry" | "hang" | "not" | "hold" | "don't") | ("wait", "no"))
}

/// Whether a sentence asks.
fn asks(talk: &Talk<'_>, at: usize) -> bool {
    let end = (at..(at + 30).min(talk.len())).find(|at| talk.end(*at) >= End::Stop);
    end.is_some_and(|end| {
        let word = &talk.narration.words[talk.words[end].to - 1];
        word.written.contains('?')
    })
}

/// Whether a form of a verb is a verb where it stands.
fn is_verbal(talk: &Talk<'_>, at: usize, form: Form, lemma: &str) -> bool {
    let mut back = 1;
    while at >= back
        && talk.end(at - back) == End::None
        && is_filler(talk.before(at, back))
        && !matches!(talk.before(at, back), "all" | "like" | "right" | "straight")
    {
        back += 1;
    }
    let first = at < back || talk.end(at - back) >= End::Comma;
    let before = if first { "" } else { talk.before(at, back) };
    let next = talk.word(at + 1);
    let open = talk.end(at) < End::Comma;
    let object = open
        && (is_determiner(next)
            || matches!(
                next,
                "it" | "them"
                    | "both"
                    | "up"
                    | "off"
                    | "out"
                    | "down"
                    | "in"
                    | "on"
                    | "back"
                    | "away"
                    | "over"
                    | "through"
                    | "everything"
                    | "all"
                    | "behind"
            )
            || is_filler(next)
            || next.starts_with(|c: char| c.is_ascii_digit())
            || crate::wording::number::is_number_word(next));
    let ambiguous = matches!(form, Form::Base | Form::Third)
        && talk.lexicon.name(&|nth| if nth == 0 { talk.word(at) } else { "" }).is_some()
        || talk.lexicon.is("also-noun", lemma);
    // `masking tape`, `drain hose`: the name of a thing.
    let compound = talk
        .lexicon
        .name(&|nth| if nth == 0 || (at..at + nth).all(|at| talk.end(at) == End::None) { talk.word(at + nth) } else { "" })
        .is_some_and(|(_, taken)| taken > 1);
    if compound && !matches!(before, "to" | "i" | "we" | "you" | "just" | "i'll" | "we'll" | "you'll") {
        return false;
    }
    if is_determiner(before) && !matches!(before, "that" | "them" | "all" | "both" | "these" | "those" | "this") {
        return false;
    }
    if matches!(before, "of" | "with" | "for" | "at" | "from" | "into" | "onto" | "under" | "per") && form != Form::Ing {
        return false;
    }
    match form {
        Form::Ing => {
            !matches!(before, "the" | "a" | "that" | "this")
                && !before.starts_with(|c: char| c.is_ascii_digit())
                && (object || !ambiguous || first || talk.lexicon.name(&|nth| talk.word(at + nth)).is_none_or(|(_, taken)| taken == 1))
        }
        Form::Past => !is_determiner(before) || matches!(before, "all" | "both" | "them" | "that"),
        // `eight M5 screws in it`
        Form::Third if before.len() < 8 && before.starts_with(['m', 't']) && before[1..].starts_with(|c: char| c.is_ascii_digit()) => false,
        Form::Base | Form::Third => {
            let opens = first || talk.lexicon.is("before-verb", before);
            if ambiguous {
                // `the bolts go in, clip the trim back`: a verb of two senses needs its object, and something that opens it.
                let named = open && talk.lexicon.name(&|nth| talk.word(at + 1 + nth)).is_some();
                let noun_behind = matches!(before, "and" | "or" | "") && form == Form::Base && named && !object;
                if form == Form::Third {
                    return !first && !matches!(before, "and" | "or") && object && !crate::draft::phrase::is_describing(before);
                }
                // `the end caps push on`
                let plural = talk.lexicon.name(&|nth| if nth == 0 { before } else { "" }).is_some_and(|(class, _)| class != "nothing")
                    && before.ends_with('s')
                    && crate::wording::lexicon::singular(before) != before;
                if plural
                    && form == Form::Base
                    && open
                    && matches!(next, "on" | "in" | "off" | "out" | "back" | "up" | "down" | "straight" | "into" | "over" | "through")
                {
                    return true;
                }
                (opens && (object || named || !is_stop(next) && open) && (!noun_behind || first))
                    || object && !is_stop_noun(talk, at, before)
            } else {
                opens || object || form == Form::Third && !first || !is_stop(before) && open
            }
        }
    }
}

/// Whether the word before makes a noun of the next: `a sump plug in the`, `two clip on`.
fn is_stop_noun(talk: &Talk<'_>, at: usize, before: &str) -> bool {
    let known = at > 0 && talk.lexicon.name(&|nth| if nth == 0 { before } else { "" }).is_some();
    let described = super::phrase::is_describing(before) || crate::wording::number::is_number_word(before);
    known || described || !is_stop(before) || before.starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a participle stands behind a form of `be` or `get`, or right behind its thing.
fn is_passive(talk: &Talk<'_>, at: usize) -> bool {
    let mut back = 1;
    while at >= back
        && talk.end(at - back) == End::None
        && (is_filler(talk.before(at, back)) || matches!(talk.before(at, back), "both" | "not" | "already"))
    {
        back += 1;
    }
    if at < back || talk.end(at - back) >= End::Comma {
        return false;
    }
    let before = talk.before(at, back);
    // `speakers plugged back in`: a participle right behind its thing, with nothing behind it to take.
    let behind_thing = back == 1
        && !is_stop(before)
        && talk.lexicon.name(&|nth| if nth == 0 { before } else { "" }).is_some_and(|(class, _)| class != "nothing")
        && (talk.end(at) >= End::Comma
            || is_stop(talk.word(at + 1)) && !is_determiner(talk.word(at + 1)) && !matches!(talk.word(at + 1), "it" | "them"));
    if behind_thing {
        return true;
    }
    matches!(
        before,
        "is" | "are" | "be" | "was" | "were" | "been" | "being" | "gets" | "get" | "that's" | "they're" | "it's" | "got" | "getting"
    ) && !has_object(talk, at)
}

/// `got the bolts torqued` is no passive, and neither is `got fitted the rail`.
fn has_object(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at) < End::Comma && matches!(talk.word(at + 1), "the" | "a" | "it" | "them" | "my" | "all")
}

type Matched = Option<(Vec<Phrase>, Range<usize>)>;

/// `take the trim off`, `take off the trim`.
fn ahead(talk: &Talk<'_>, at: usize, form: Form, pattern: &Pattern) -> Matched {
    // `the camera sits in the bracket`, `it sticks on the underside`: what is put there stands before the verb.
    if form == Form::Third
        && !pattern.after.is_empty()
        && pattern.before.is_empty()
        && talk.end(at) < End::Comma
        && let Some(end) = words_at(talk, at + 1, &pattern.after)
        && (talk.end(end - 1) >= End::Comma || is_stop(talk.word(end)) || is_determiner(talk.word(end)))
        && let Some(thing) = subject(talk, at)
            .filter(|thing| fits(thing, pattern) && !thing.is(&["nothing", "tool"]) && (thing.pronoun.is_some() || thing.class.is_some()))
    {
        let start = thing.range.start;
        return Some((vec![thing], start..end));
    }
    let mut from = at + 1;
    for word in &pattern.before {
        if talk.end(from - 1) >= End::Comma {
            return None;
        }
        let said = talk.word(from);
        let inflected = said == word
            || said.strip_suffix("ed").is_some_and(|stem| stem == word)
            || said.strip_suffix("ing").is_some_and(|stem| stem == word);
        if !inflected {
            return None;
        }
        from += 1;
    }
    if talk.end(from - 1) >= End::Comma {
        return None;
    }
    // The words behind the thing may stand before it.
    if !pattern.after.is_empty()
        && let Some(behind) = words_at(talk, from, &pattern.after)
        && talk.end(behind - 1) < End::Comma
        && let Some((things, to)) = things(talk, skip_fillers(talk, behind), pattern)
    {
        return Some((things, at..to));
    }
    let Some((things, to)) = things(talk, skip_fillers(talk, from), pattern) else {
        return fronted(talk, at, from, pattern);
    };
    if pattern.after.is_empty() {
        return Some((things, at..to));
    }
    let end = particle(talk, to, &pattern.after)?;
    Some((things, at..end))
}

/// `those I do up snug`, `the earth nut I tighten to seven`: the thing stands before the subject.
fn fronted(talk: &Talk<'_>, at: usize, from: usize, pattern: &Pattern) -> Matched {
    let end = if pattern.after.is_empty() { from } else { words_at(talk, from, &pattern.after)? };
    let mut subject_at = at.checked_sub(1)?;
    while subject_at > 0
        && (is_filler(talk.word(subject_at)) || matches!(talk.word(subject_at), "to" | "going" | "have" | "want" | "need" | "can" | "will"))
        && talk.end(subject_at) == End::None
    {
        subject_at -= 1;
    }
    if !matches!(talk.word(subject_at), "i" | "we" | "you" | "i've" | "we've" | "i'll" | "we'll" | "you'll" | "i'm")
        || subject_at == 0
        || talk.end(subject_at - 1) >= End::Stop
    {
        return None;
    }
    let before = talk.word(subject_at - 1);
    if matches!(
        before,
        "and"
            | "then"
            | "so"
            | "but"
            | "because"
            | "if"
            | "when"
            | "before"
            | "once"
            | "where"
            | "while"
            | "now"
            | "as"
            | "what"
            | "until"
            | "after"
            | "first"
            | "next"
            | "here"
            | "okay"
    ) {
        return None;
    }
    // The phrase that opens the clause.
    let start = (0..subject_at)
        .rev()
        .find(|nth| *nth == 0 || talk.end(nth - 1) >= End::Comma || matches!(talk.before(*nth, 1), "and" | "then" | "so" | "but"))?;
    if subject_at - start > 9 {
        return None;
    }
    let thing = phrase(talk, start).filter(|thing| {
        fits(thing, pattern) && !thing.is(&["nothing", "tool", "place", "hole"]) && (thing.pronoun.is_some() || thing.class.is_some())
    })?;
    let led = (thing.range.end..subject_at)
        .next()
        .is_none_or(|nth| matches!(talk.word(nth), "on" | "in" | "from" | "of" | "at" | "above" | "under" | "behind"));
    led.then(|| (vec![thing], start..end))
}

fn skip_fillers(talk: &Talk<'_>, mut at: usize) -> usize {
    while is_filler(talk.word(at))
        && talk.end(at) < End::Comma
        && !(talk.word(at) == "all" && is_stop(talk.word(at + 1)) && !is_determiner(talk.word(at + 1)))
        && (talk.word(at) != "right" || is_stop(talk.word(at + 1)))
    {
        at += 1;
    }
    at
}

/// The words of a pattern from a word on, fillers between.
fn words_at(talk: &Talk<'_>, from: usize, words: &[String]) -> Option<usize> {
    let mut at = from;
    for (nth, word) in words.iter().enumerate() {
        let mut skipped = 0;
        while talk.word(at) != word {
            let passed = matches!(
                talk.word(at),
                "straight" | "right" | "back" | "nicely" | "gently" | "carefully" | "all" | "it" | "just" | "then" | "first"
            );
            if !passed || skipped > 1 || talk.end(at) >= End::Comma || words.iter().any(|word| word == talk.word(at)) {
                return None;
            }
            at += 1;
            skipped += 1;
        }
        if nth + 1 < words.len() && talk.end(at) >= End::Comma {
            return None;
        }
        at += 1;
    }
    Some(at)
}

/// The particle of a verb behind its thing, a place or a few adverbs between.
fn particle(talk: &Talk<'_>, from: usize, words: &[String]) -> Option<usize> {
    if talk.end(from - 1) >= End::Stop {
        return None;
    }
    for at in from..from + 5 {
        if let Some(end) = words_at(talk, at, words) {
            return Some(end);
        }
        if talk.end(at) >= End::Stop || talk.end(from - 1) >= End::Comma && at == from || talk.end(at) >= End::Comma {
            return None;
        }
        let word = talk.word(at);
        let passed = is_filler(word)
            || is_determiner(word)
            || matches!(
                word,
                "on" | "at"
                    | "side"
                    | "end"
                    | "of"
                    | "from"
                    | "bit"
                    | "little"
                    | "front"
                    | "rear"
                    | "top"
                    | "bottom"
                    | "left"
                    | "right"
                    | "here"
                    | "there"
                    | "too"
                    | "both"
                    | "one"
                    | "hand"
                    | "each"
                    | "either"
                    | "as"
                    | "well"
                    | "with"
                    | "nice"
                    | "by"
                    | "and"
                    | "two"
                    | "for"
                    | "in"
                    | "under"
                    | "behind"
                    | "around"
                    | "round"
                    | "ends"
                    | "sides"
                    | "corners"
                    | "underneath"
                    | "four"
                    | "three"
                    | "six"
                    | "that"
                    | "holding"
            )
            || talk.lexicon.name(&|nth| if nth == 0 { word } else { "" }).is_some() && at > from;
        if !passed {
            return None;
        }
    }
    None
}

/// The things that a verb is told of: one, or several joined by `and`.
fn things(talk: &Talk<'_>, from: usize, pattern: &Pattern) -> Option<(Vec<Phrase>, usize)> {
    let first = phrase(talk, from)?;
    if !fits(&first, pattern) {
        return None;
    }
    let mut to = first.range.end;
    let mut all = vec![first];
    for _ in 0..5 {
        // `the nuts, washers and the bracket`
        // `the speakers, that is two plugs, and the lamp`
        let aside = match (talk.word(to), talk.word(to + 1)) {
            ("that", "is" | "are") => 2,
            ("that's" | "it's" | "they're", _) => 1,
            _ => 0,
        };
        if aside > 0
            && talk.end(to - 1) <= End::Comma
            && let Some(told) = phrase(talk, to + aside).filter(|told| told.count.is_some() && talk.word(told.range.end) == "and")
        {
            to = told.range.end;
        }
        let comma = talk.end(to - 1) == End::Comma;
        let next = if talk.word(to) == "and" && talk.end(to - 1) <= End::Comma {
            to + 1
        } else if comma && is_list(talk, to) {
            to
        } else {
            break;
        };
        let verb = talk.lexicon.forms(talk.word(next)).iter().any(|(lemma, form)| is_verbal(talk, next, *form, lemma))
            && !is_determiner(talk.word(next));
        if verb || matches!(talk.word(next), "that's" | "that" | "it" | "they" | "them" | "then" | "this" | "these" | "those") {
            break;
        }
        let Some(more) =
            phrase(talk, next).filter(|more| more.pronoun.is_none() && (more.class.is_some() || more.determined) && fits(more, pattern))
        else {
            break;
        };
        if !more.is(&["nothing"]) && more.class.is_some() && !begins_clause(talk, more.range.end) {
            to = more.range.end;
            all.push(more);
        } else {
            break;
        }
    }
    Some((all, to))
}

/// Whether a verb follows a phrase at once, so that it is the subject of a clause of its own: `and the plug comes off`.
fn begins_clause(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at - 1) < End::Comma
        && matches!(
            talk.word(at),
            "comes"
                | "come"
                | "goes"
                | "go"
                | "is"
                | "are"
                | "gets"
                | "get"
                | "will"
                | "should"
                | "has"
                | "have"
                | "was"
                | "were"
                | "just"
                | "sits"
                | "needs"
                | "want"
                | "wants"
                | "pulls"
                | "pops"
                | "drops"
                | "lifts"
                | "slides"
                | "then"
        )
}

/// Whether a list with commas goes on up to an `and`.
fn is_list(talk: &Talk<'_>, at: usize) -> bool {
    (at..at + 8).take_while(|at| talk.end(*at) < End::Stop).any(|nth| talk.word(nth) == "and")
        && phrase(talk, at).is_some_and(|phrase| {
            phrase.class.is_some()
                && phrase.pronoun.is_none()
                && matches!(talk.word(phrase.range.end), "and") | (talk.end(phrase.range.end - 1) == End::Comma)
        })
}

/// Whether a thing can be what the pattern asks for. What a pronoun stands for is known later.
fn fits(thing: &Phrase, pattern: &Pattern) -> bool {
    if thing.pronoun.is_some() {
        return pattern.classes.is_empty()
            || !pattern.after.is_empty()
            || pattern.classes.iter().any(|class| class != "applied")
                && matches!(thing.pronoun, Some(Pronoun::One | Pronoun::Many | Pronoun::Other));
    }
    if !pattern.classes.is_empty() {
        return thing.class.as_deref().is_some_and(|class| pattern.classes.iter().any(|wanted| wanted == class));
    }
    match thing.class.as_deref() {
        Some("nothing") => false,
        // Tools are taken out and put down; that is no work on the vehicle.
        Some("tool") => matches!(pattern.verb, Verb::Raise) || thing.head() == "socket" && thing.size.is_none(),
        Some("dirt") => matches!(pattern.verb, Verb::Clean | Verb::Remove | Verb::Discard),
        Some("level" | "pressure") => matches!(pattern.verb, Verb::Measure | Verb::Inspect | Verb::Release | Verb::Test),
        Some("place") => !matches!(pattern.verb, Verb::Remove | Verb::Fit | Verb::Tighten | Verb::Disconnect | Verb::Connect),
        Some(_) => true,
        // `draws forty five amps flat out`
        None => {
            thing.determined
                && thing.size.as_ref().is_none_or(|size| size.starts_with(['m', 't']) || size.ends_with("mm") || size.ends_with("in"))
        }
    }
}

/// `the trim comes off`
fn behind(talk: &Talk<'_>, at: usize, pattern: &Pattern, form: Form) -> Matched {
    if talk.end(at) >= End::Comma && !pattern.after.is_empty() {
        return None;
    }
    // `a cable coming out of the end`, `the pipe that goes across the front` say how things are.
    let relative = talk.before(at, 1) == "that"
        && at > 1
        && talk.end(at - 2) == End::None
        && talk.lexicon.name(&|nth| if nth == 0 { talk.before(at, 2) } else { "" }).is_some();
    if form == Form::Ing || relative || talk.before(at, 1) == "can" {
        return None;
    }
    let end = if pattern.after.is_empty() { at + 1 } else { words_at(talk, at + 1, &pattern.after)? };
    let thing = subject(talk, at)?;
    if form == Form::Base && !thing.plural && thing.pronoun.is_none() && !may_be_told(talk, at) {
        return None;
    }
    if !fits(&thing, pattern) || thing.is(&["nothing", "tool", "dirt"]) {
        return None;
    }
    let start = thing.range.start;
    Some((vec![thing], start..end))
}

/// Auxiliary verbs before a base form.
fn may_be_told(talk: &Talk<'_>, at: usize) -> bool {
    matches!(talk.before(at, 1), "will" | "should" | "can" | "to" | "then" | "must" | "just" | "now" | "and" | "that'll" | "it'll")
}

/// `the bolts are torqued`
fn passive_of(talk: &Talk<'_>, at: usize, pattern: &Pattern) -> Matched {
    if !pattern.before.is_empty() {
        return None;
    }
    let end = if pattern.after.is_empty() {
        at + 1
    } else if talk.end(at) >= End::Comma {
        return None;
    } else {
        words_at(talk, at + 1, &pattern.after)?
    };
    let thing = subject(talk, at)?;
    if !fits(&thing, pattern) || thing.is(&["nothing", "tool"]) {
        return None;
    }
    let start = thing.range.start;
    Some((vec![thing], start..end))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::lexicon::built_in;

    fn told(text: &str) -> String {
        let narration = crate::narration::read(text.as_bytes()).unwrap();
        let talk = Talk::new(&narration, built_in());
        let spell = |told: &Told| {
            let thing = told.thing.pronoun.map_or_else(|| told.thing.words.join(" "), |pronoun| format!("({pronoun:?})"));
            let mood = match told.mood {
                Mood::Told => "",
                Mood::Announced => " announced",
                Mood::Moment => " moment",
            };
            format!("{} {thing}{mood}", told.verb.key())
        };
        read(&talk).iter().map(spell).collect::<Vec<_>>().join("; ")
    }

    #[test]
    fn sentences_tell_operations() {
        for (text, expected) in [
            ("Take the four trim clips out.", "remove trim clip"),
            ("So I'm just going to pop that off.", "remove (One) announced"),
            ("Unplug the connector and take off the panel.", "disconnect connector; remove panel"),
            ("the trim comes off and the plug goes back in", "remove trim; connect plug"),
            ("Don't drill through the skin.", ""),
            ("Don't forget to tighten the bolts.", "tighten bolt"),
            ("then do the nuts up to nine newton metres", "tighten nut"),
            ("Once the panel is off, undo the two bolts.", "remove bolt"),
            ("run a bead of sealant round the hole", "apply sealant"),
            ("run the cable down the pillar", "route cable"),
            ("the bolts are torqued to 25", "tighten bolt"),
            ("put the washers and the nuts on", "fit washer; fit nut"),
            ("You could cut the loom.", ""),
            ("jack the van up", "raise van"),
            ("Before you refit the panel, check the plug.", "fit panel moment; inspect plug"),
            ("pull the plug out", "disconnect plug"),
        ] {
            assert_eq!(told(text), expected, "{text}");
        }
    }
}
