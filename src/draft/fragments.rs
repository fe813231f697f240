//! What is told without a verb: `negative off`, `up go the brackets`, `in it goes`, `pin two, blue`; and what follows from what is told:
//! a torque tightens, and the fasteners named beside a thing come and go with it.

use super::clauses::{Mood, Told};
use super::follows::{hardware, measured, named, tightened};
use super::phrase::{Phrase, Pronoun, is_colour, is_determiner, is_filler, is_stop, phrase};
use super::talk::Talk;
use super::values::{Kind, Value};
use crate::guide::verb::Verb;
use crate::narration::End;
use crate::wording::number;

/// Adds what is told without a verb, in the order of the talk.
pub(super) fn add(talk: &Talk<'_>, told: &mut Vec<Told>, values: &[Value]) {
    let mut more = Vec::new();
    for at in 0..talk.len() {
        if talk.words[at].heading || told.iter().chain(&more).any(|told| told.range.contains(&at)) {
            continue;
        }
        let found = wire(talk, at)
            .or_else(|| inverted(talk, at))
            .or_else(|| elliptic(talk, at, told))
            .or_else(|| stands(talk, at))
            .or_else(|| applied(talk, at))
            .or_else(|| given(talk, at))
            .or_else(|| rubbish(talk, at))
            .or_else(|| drive(talk, at, told))
            .or_else(|| then_too(talk, at, told))
            .or_else(|| back_on(talk, at, told))
            .or_else(|| binned(talk, at))
            .or_else(|| hole(talk, at, told));
        more.extend(found);
    }
    told.append(&mut more);
    told.sort_by_key(|told| (told.at, told.range.start));
    hardware(talk, told);
    told.sort_by_key(|told| (told.at, told.range.start));
    named(talk, told);
    told.sort_by_key(|told| (told.at, told.range.start));
    tightened(talk, told, values);
    measured(talk, told, values);
    told.sort_by_key(|told| (told.at, told.range.start));
}

pub(super) fn told(verb: Verb, at: usize, range: std::ops::Range<usize>, thing: Phrase) -> Told {
    Told { verb, at, range, thing, mood: Mood::Told, condition: None, readings: vec![(verb, Vec::new())] }
}

/// Whether nobody set stops, as recognisers of speech do not.
fn unpunctuated(talk: &Talk<'_>) -> bool {
    let stops = (0..talk.len()).step_by(7).filter(|at| (*at..(*at + 7).min(talk.len())).any(|at| talk.end(at) == End::Stop)).count();
    stops * 60 < talk.len()
}

/// The particle at a word, `back` in front of it or not, and how many words it takes.
fn particle<'t>(talk: &'t Talk<'_>, at: usize) -> Option<(&'t str, bool, usize)> {
    let word = talk.word(at);
    if matches!(word, "back" | "straight" | "all")
        && talk.end(at) == End::None
        && matches!(talk.word(at + 1), "on" | "in" | "off" | "out" | "up" | "down" | "together")
    {
        return Some((talk.word(at + 1), word == "back", 2));
    }
    matches!(word, "off" | "out" | "on" | "in" | "up" | "down" | "away" | "back").then_some((word, word == "back", 1))
}

/// What a particle tells of a thing.
fn verb_of(particle: &str, back: bool, thing: &Phrase) -> Option<Verb> {
    let class = thing.class.as_deref().unwrap_or("part");
    Some(match (particle, class) {
        ("off" | "out" | "away", "connector" | "battery") => Verb::Disconnect,
        ("off", "switchable" | "engine") => Verb::SwitchOff,
        ("off", "cover") => Verb::Uncover,
        ("on", "switchable" | "engine") if !back => Verb::SwitchOn,
        ("on" | "in" | "back", "connector" | "battery") => Verb::Connect,
        ("on" | "over", "cover") => Verb::Cover,
        ("on" | "in", "applied") => Verb::Apply,
        ("down", "vehicle") => Verb::Lower,
        ("up", "vehicle") => Verb::Raise,
        ("in", "fluid") => Verb::Fill,
        ("out" | "off", "fluid") => Verb::Drain,
        ("off" | "out" | "away", _) => Verb::Remove,
        ("on" | "in" | "back", _) => Verb::Fit,
        ("up", _) if back || class == "trim" || class == "part" => Verb::Fit,
        ("up", "bonnet") => Verb::Raise,
        ("down", "bonnet") => Verb::Lower,
        ("down", _) if class == "trim" => Verb::Remove,
        _ => return None,
    })
}

/// `up go the four brackets`, `off comes the trim`, `in it goes`.
fn inverted(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let opens = at == 0 || talk.end(at - 1) >= End::Comma || matches!(talk.before(at, 1), "and" | "then" | "so" | "now" | "okay");
    let (word, back, taken) = particle(talk, at).filter(|_| opens)?;
    let next = at + taken;
    let moves = |word: &str| matches!(word, "go" | "goes" | "come" | "comes" | "went" | "came");
    if moves(talk.word(next)) {
        let thing = phrase(talk, next + 1).filter(|thing| thing.pronoun.is_none() && !thing.is(&["nothing", "tool"]))?;
        let verb = verb_of(word, back, &thing)?;
        let end = thing.range.end;
        return Some(told(verb, next, at..end, thing));
    }
    // `up with the tray`, `off with that`
    if talk.word(next) == "with" && talk.end(next) == End::None {
        let thing = phrase(talk, next + 1).filter(|thing| !thing.is(&["nothing", "tool"]))?;
        let verb = verb_of(word, back, &thing)?;
        let end = thing.range.end;
        return Some(told(verb, next, at..end, thing));
    }
    let stands = matches!(talk.word(next), "it" | "they" | "that" | "those" | "this");
    if stands && moves(talk.word(next + 1)) {
        let thing = phrase(talk, next).filter(|thing| thing.pronoun.is_some())?;
        let verb = verb_of(word, back, &thing)?;
        return Some(told(verb, next + 1, at..next + 2, thing));
    }
    None
}

/// `it's out`, `they're off`
fn stands(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let kind = match talk.word(at) {
        "it's" | "that's" => Pronoun::One,
        "they're" => Pronoun::Many,
        _ => return None,
    };
    let before = talk.before(at, 1);
    if matches!(before, "once" | "when" | "if" | "until" | "before" | "while" | "because" | "sure") || talk.end(at) >= End::Comma {
        return None;
    }
    let (word, back, taken) = particle(talk, at + 1)?;
    let last = at + taken;
    if !matches!(word, "off" | "out" | "on" | "in") || talk.end(last) < End::Comma && !matches!(talk.word(last + 1), "and" | "of") {
        return None;
    }
    let thing = Phrase::pronoun(kind, at..at + 1);
    let verb = verb_of(word, back, &thing)?;
    Some(told(verb, at + 1, at..last + 1, thing))
}

/// `a bead of sealant underneath`: what is applied, in a clause without a verb.
fn applied(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let first = at == 0
        || talk.end(at - 1) >= End::Comma
        || matches!(talk.before(at, 1), "and" | "then" | "with")
        || unpunctuated(talk) && !is_determiner(talk.before(at, 1)) && !matches!(talk.before(at, 1), "of" | "put" | "run");
    let portion = (at..at + 3)
        .find(|nth| matches!(talk.word(*nth), "bead" | "dab" | "drop" | "smear" | "bit" | "blob" | "spot" | "squirt" | "ring"))?;
    let opens = first && (at..portion).all(|nth| is_determiner(talk.word(nth)) || super::phrase::is_describing(talk.word(nth)));
    if !opens || talk.word(portion + 1) != "of" {
        return None;
    }
    let thing = phrase(talk, at).filter(|thing| thing.is(&["applied"]))?;
    let end = thing.range.end;
    Some(told(Verb::Apply, at, at..end, thing))
}

/// Whether a clause has no verb from a word to its end.
pub(super) fn verbless(talk: &Talk<'_>, from: usize) -> bool {
    for at in from..(from + 9).min(talk.len()) {
        let word = talk.word(at);
        if matches!(
            word,
            "is" | "are"
                | "was"
                | "were"
                | "has"
                | "have"
                | "had"
                | "goes"
                | "go"
                | "come"
                | "comes"
                | "will"
                | "can"
                | "it's"
                | "that's"
                | "there's"
                | "you"
                | "i"
                | "we"
                | "they"
                | "they're"
                | "need"
                | "needs"
                | "gets"
                | "get"
                | "lives"
                | "sits"
                | "runs"
                | "should"
                | "must"
                | "does"
                | "do"
        ) {
            return false;
        }
        if talk.end(at) >= End::Comma {
            return true;
        }
    }
    false
}

/// `negative off`, `seat back in, three screws`, `tape's on`.
fn elliptic(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    let before = talk.before(at, 1);
    let first = at == 0 || talk.end(at - 1) >= End::Comma || matches!(before, "then" | "so" | "now" | "okay" | "right");
    if !first
        && (matches!(
            before,
            "with"
                | "once"
                | "when"
                | "if"
                | "before"
                | "until"
                | "of"
                | "to"
                | "from"
                | "in"
                | "on"
                | "for"
                | "till"
                | "while"
                | "after"
                | "under"
                | "behind"
                | "is"
                | "are"
                | "at"
                | "by"
                | "into"
                | "onto"
                | "can"
                | "can't"
                | "cannot"
                | "will"
                | "it"
                | "they"
                | "i"
                | "you"
                | "we"
                | "could"
                | "should"
                | "not"
                | "would"
                | "through"
                | "over"
                | "between"
        ) || is_determiner(before)
            || super::phrase::is_describing(before))
    {
        return None;
    }
    let possessive = talk.word(at).strip_suffix("'s").filter(|noun| talk.lexicon.name(&|nth| if nth == 0 { noun } else { "" }).is_some());
    let thing = match possessive {
        Some(noun) => {
            let class = talk.lexicon.name(&|nth| if nth == 0 { noun } else { "" }).map(|(class, _)| class.to_owned());
            Phrase {
                range: at..at + 1,
                words: vec![noun.to_owned()],
                pronoun: None,
                count: None,
                size: None,
                class,
                plural: false,
                determined: true,
                indefinite: false,
                definite: true,
            }
        }
        None => phrase(talk, at).filter(|thing| {
            thing.pronoun.is_none() && thing.class.is_some() || thing.pronoun == Some(Pronoun::Many) && thing.count.is_some()
        })?,
    };
    let end = thing.range.end;
    if thing.is(&["nothing", "tool", "hole", "line", "level"]) || talk.end(end - 1) >= End::Stop {
        return None;
    }
    // `a plastic skirt round the front, three screws, out`
    let (word, back, taken) = match particle(talk, end) {
        Some(found) if talk.end(end - 1) < End::Comma || matches!(found.0, "off" | "out") && talk.end(end + found.2 - 1) >= End::Comma => {
            found
        }
        _ if talk.end(end - 1) < End::Comma && matches!(talk.word(end), "is" | "are") && first && talk.end(end) == End::None => {
            let found = particle(talk, end + 1).filter(|(_, _, taken)| talk.end(end + taken) >= End::Comma)?;
            (found.0, found.1, found.2 + 1)
        }
        _ => return None,
    };
    let last = end + taken - 1;
    let next = talk.word(last + 1);
    // `the bolts on the rail` names a place.
    let closes = talk.end(last) >= End::Comma || last + 1 >= talk.len();
    let goes_on = matches!(next, "and" | "then" | "so" | "now" | "next" | "i" | "we" | "you" | "that's" | "it's" | "with" | "first")
        || matches!(word, "off" | "out") && (is_determiner(next) || matches!(next, "of" | "from" | "it" | "to"))
        || back && !matches!(word, "back")
        || back && is_stop(next);
    let goes_on = goes_on || first && matches!(word, "in" | "on" | "off") && verbless(talk, last + 1);
    let goes_on = goes_on || matches!(word, "off") && is_filler(next);
    if !closes && !goes_on && !unpunctuated(talk) {
        return None;
    }
    let plain = unpunctuated(talk);
    let goes_on = goes_on || plain && thing.is(&["bonnet", "vehicle"]) && !matches!(word, "on" | "in");
    let goes_on = goes_on
        || plain
            && (back
                || matches!(word, "off" | "out")
                || !is_determiner(next)
                    && (is_stop(next) || !talk.lexicon.forms(next).is_empty() || number::read(&[next]).is_some())
                    && !super::phrase::is_describing(next));
    let closes = closes || plain && goes_on;
    if plain && !closes {
        return None;
    }
    // A verb before it on the way from the start of the sentence takes it as its own.
    let start = talk.sentence_start(at).max(at.saturating_sub(6));
    let taken_by =
        !first && others.iter().any(|other| other.range.contains(&at) || other.at >= start && other.at < at && other.range.end > at);
    let verbal = !first
        && (start..at).rev().take(3).any(|at| {
            let word = talk.word(at);
            let form = talk.lexicon.forms(word);
            matches!(
                word,
                "keep"
                    | "leave"
                    | "turn"
                    | "got"
                    | "see"
                    | "need"
                    | "want"
                    | "leaves"
                    | "hold"
                    | "holds"
                    | "holding"
                    | "move"
                    | "so"
                    | "lift"
            ) || !form.is_empty()
                && (talk.lexicon.name(&|nth| if nth == 0 { word } else { "" }).is_none()
                    || form.iter().all(|(_, form)| *form == crate::wording::lexicon::Form::Past))
        });
    if taken_by || verbal {
        return None;
    }
    // `the cover up`, `the cover down`: what is off goes back.
    let verb = match word {
        "up" | "down" if thing.is(&["trim", "part"]) && is_open(others, at, &thing) => Verb::Fit,
        "up" if thing.is(&["trim"]) && !back => Verb::Remove,
        _ => verb_of(word, back, &thing)?,
    };
    let counted = thing.range.start;
    Some(told(verb, end.min(last), counted..last + 1, thing))
}

/// `goes back in, then the aerial`: the verb before tells of the next thing too.
fn then_too(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    if talk.word(at) != "then" || !is_determiner(talk.word(at + 1)) || talk.end(at) >= End::Comma {
        return None;
    }
    let thing = phrase(talk, at + 1).filter(|thing| {
        thing.pronoun.is_none() && thing.class.is_some() && !thing.is(&["nothing", "tool", "place", "hole", "line", "level", "vehicle"])
    })?;
    let end = thing.range.end;
    let closes = talk.end(end - 1) >= End::Comma || matches!(talk.word(end), "and" | "with" | "then");
    let before = others.iter().rfind(|other| other.at < at && other.range.end + 9 > at)?;
    let verb = match (before.verb, thing.class.as_deref()) {
        (Verb::Fit | Verb::Connect, Some("connector")) => Verb::Connect,
        (Verb::Fit | Verb::Connect, Some("trim" | "part" | "fastener" | "clip" | "fuse")) => Verb::Fit,
        (Verb::Remove | Verb::Disconnect, Some("connector")) => Verb::Disconnect,
        (Verb::Remove | Verb::Disconnect, Some("trim" | "part" | "fastener" | "clip" | "fuse")) => Verb::Remove,
        (verb @ (Verb::Fit | Verb::Connect | Verb::Remove | Verb::Disconnect | Verb::Tighten | Verb::Discard), _) => verb,
        _ => return None,
    };
    (closes && verbless(talk, end - 1)).then(|| told(verb, at, at + 1..end, thing))
}

/// Whether a thing of this name is off, apart or loose at a word, as far as verbs have told.
fn is_open(others: &[Told], at: usize, thing: &Phrase) -> bool {
    let same = |other: &&Told| other.at < at && other.thing.head() == thing.head() && other.thing.pronoun.is_none();
    others.iter().rfind(same).is_some_and(|other| matches!(other.verb, Verb::Remove | Verb::Disconnect | Verb::Loosen | Verb::Lower))
}

/// `surround on`, `then the upper trim with its six clips`: what was taken off goes back, if it is named in a clause without a verb.
fn back_on(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    let first = at == 0 || talk.end(at - 1) >= End::Stop;
    if !first {
        return None;
    }
    let from = if matches!(talk.word(at), "then" | "and" | "now" | "next" | "so") { at + 1 } else { at };
    let thing = phrase(talk, from)
        .filter(|thing| thing.pronoun.is_none() && thing.is(&["trim", "part", "connector", "switchable", "fuse", "cap"]))?;
    let end = thing.range.end;
    let clause =
        verbless(talk, end - 1) && (talk.end(end - 1) >= End::Comma || matches!(talk.word(end), "with" | "and" | "back" | "on" | "in"));
    if !clause || !is_open(others, from, &thing) {
        return None;
    }
    // Work has turned from taking off to putting back.
    let turned = others
        .iter()
        .rfind(|other| other.at < at)
        .is_some_and(|other| matches!(other.verb, Verb::Fit | Verb::Connect | Verb::Tighten | Verb::Apply));
    let verb = if thing.is(&["connector"]) { Verb::Connect } else { Verb::Fit };
    turned.then(|| told(verb, from, from..end, thing))
}

/// `then a pilot hole of three millimetres`, `pilot, eighth inch, all six`: a hole told without a verb is drilled.
fn hole(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    let first = at == 0
        || talk.end(at - 1) >= End::Stop
        || matches!(talk.before(at, 1), "then" | "so" | "and") && (at < 2 || talk.end(at - 2) >= End::Comma || talk.before(at, 1) != "and");
    if !first {
        return None;
    }
    let near = (at..(at + 4).min(talk.len())).find(|nth| matches!(talk.word(*nth), "pilot" | "pilots"))?;
    let opens = (at..near).all(|nth| {
        is_determiner(talk.word(nth))
            || super::phrase::is_describing(talk.word(nth))
            || is_filler(talk.word(nth))
            || super::values::value_at(talk, nth).is_some()
            || matches!(talk.word(nth), "mil" | "mm" | "millimetre")
    });
    let figure = (near..(near + 8).min(talk.len()))
        .any(|nth| super::values::value_at(talk, nth).is_some_and(|value| value.kind == Kind::Size || value.kind == Kind::Length));
    let drilled = others.iter().any(|other| other.verb == Verb::Drill && other.at + 10 > at && other.at < at + 8);
    if !opens || !figure || drilled {
        return None;
    }
    let end = if talk.word(near + 1) == "hole" { near + 2 } else { near + 1 };
    let thing = Phrase {
        range: at..end,
        words: vec!["pilot".to_owned(), "hole".to_owned()],
        pronoun: None,
        count: None,
        size: None,
        class: Some("hole".to_owned()),
        plural: talk.word(near) == "pilots",
        determined: true,
        indefinite: true,
        definite: false,
    };
    Some(told(Verb::Drill, near, at..end, thing))
}

fn cavity(word: &str) -> bool {
    word.parse::<u32>().is_ok_and(|pin| (1..=40).contains(&pin)) || number::whole(word).is_some_and(|pin| (1..=20).contains(&pin))
}

/// `pin two, blue`, `blue in two`, `blue goes to pin two`: a wire in its cavity.
fn wire(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let of = |colour: usize, range: std::ops::Range<usize>| {
        let words = vec![talk.word(colour).trim_end_matches("'s").to_owned(), "wire".to_owned()];
        let thing = Phrase {
            range: range.clone(),
            words,
            pronoun: None,
            count: None,
            size: None,
            class: Some("cable".to_owned()),
            plural: false,
            determined: true,
            indefinite: false,
            definite: true,
        };
        Some(told(Verb::Connect, range.start, range, thing))
    };
    if talk.word(at) == "pin" && cavity(talk.word(at + 1).trim_end_matches("'s")) {
        let colour = (at + 2..at + 7)
            .take_while(|nth| talk.end(nth - 1) < End::Block)
            .find(|nth| is_colour(talk.word(*nth).trim_end_matches("'s")))?;
        let passed =
            (at + 2..colour).all(|nth| matches!(talk.word(nth), "is" | "the" | "takes" | "gets" | "that's" | "a" | "has" | "it's" | "for"));
        return passed.then(|| of(colour, at..colour + 1)).flatten();
    }
    let word = talk.word(at);
    let colour = word.trim_end_matches("'s");
    if !is_colour(colour) {
        return None;
    }
    let mut next = at + 1;
    if is_colour(talk.word(next)) || matches!(talk.word(next), "wire" | "lead" | "core" | "one") {
        next += 1;
    }
    let mut led = word.ends_with("'s");
    while matches!(
        talk.word(next),
        "in" | "to" | "into" | "goes" | "go" | "is" | "on" | "pin" | "number" | "terminal" | "cavity" | "position" | "the" | "that's"
    ) {
        led |= matches!(talk.word(next), "in" | "to" | "into" | "is" | "on" | "pin" | "number" | "terminal" | "cavity");
        next += 1;
        if next > at + 6 {
            return None;
        }
    }
    // The talk is about the wires of a plug.
    let around = at.saturating_sub(40)..(at + 12).min(talk.len());
    let plug = around
        .clone()
        .any(|nth| matches!(talk.word(nth), "pin" | "pins" | "plug" | "connector" | "terminal" | "cavity" | "socket" | "core" | "block"));
    let numbered = cavity(talk.word(next)) && !matches!(talk.word(next), "1.5" | "2.5");
    let several = around.filter(|nth| is_colour(talk.word(*nth).trim_end_matches("'s"))).count() > 1;
    let measured = super::values::value_at(talk, next).is_some();
    // `white three, blue four`
    let paired = cavity(talk.word(at + 1))
        && (2..6).any(|more| {
            is_colour(talk.word(at + more)) && cavity(talk.word(at + more + 1))
                || at >= more && is_colour(talk.word(at - more)) && cavity(talk.word(at + 1 - more))
        });
    let led = led || paired;
    // `red goes to the switch, black to ground`
    let goes = matches!(talk.word(at + 1), "to" | "goes") && several && talk.end(at) == End::None;
    let place = (at + 1..at + 5).find(|nth| {
        matches!(
            talk.word(*nth),
            "ground" | "earth" | "switch" | "plus" | "minus" | "shunt" | "relay" | "busbar" | "battery" | "fuse" | "terminal" | "module"
        )
    });
    if let (true, Some(place)) = (goes, place) {
        return of(at, at..place + 1);
    }
    (led && numbered && plug && several && !measured).then(|| of(at, at..next + 1)).flatten()
}

/// `each bracket gets a foam pad`, `the bare edge gets primer`.
fn given(talk: &Talk<'_>, at: usize) -> Option<Told> {
    if !matches!(talk.word(at), "gets" | "get") || talk.end(at) >= End::Comma || at == 0 {
        return None;
    }
    let subject = super::phrase::subject(talk, at)?;
    let thing = phrase(talk, at + 1).filter(|thing| thing.pronoun.is_none())?;
    let verb = match thing.class.as_deref()? {
        "applied" => Verb::Apply,
        "part" | "fastener" | "clip" | "fuse" | "trim" | "cap" => Verb::Fit,
        _ => return None,
    };
    let (start, end) = (subject.range.start, thing.range.end);
    Some(told(verb, at, start..end, thing))
}

/// `test drive of ten kilometres`, `round the block`: the drive at the end, whatever verb it has.
fn drive(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    let len = match (talk.word(at), talk.word(at + 1), talk.word(at + 2)) {
        ("road" | "test", "test" | "drive" | "run", _) if (talk.word(at), talk.word(at + 1)) != ("test", "test") => 2,
        ("round" | "around", "the", "block" | "ring" | "lanes" | "roundabout" | "houses" | "estate" | "corner")
            if talk.word(at + 2) != "corner" =>
        {
            3
        }
        ("for", "a", "drive" | "spin") => 3,
        _ => return None,
    };
    let talked = matches!(talk.before(at, 1), "before" | "the" | "no")
        || others.iter().any(|other| other.verb == Verb::RoadTest && other.at + 25 > at && other.at < at + 10);
    if talked {
        return None;
    }
    Some(told(Verb::RoadTest, at, at..at + len, van(at)))
}

/// `and that's rubbish`
fn rubbish(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let kind = match talk.word(at) {
        "that's" | "it's" => Pronoun::One,
        "they're" | "those're" => Pronoun::Many,
        _ => return None,
    };
    matches!(talk.word(at + 1), "rubbish" | "scrap" | "junk" | "trash").then(|| {
        let thing = Phrase::pronoun(kind, at..at + 1);
        told(Verb::Discard, at + 1, at..at + 2, thing)
    })
}

/// The vehicle, where no word names it.
pub(super) fn van(at: usize) -> Phrase {
    Phrase {
        range: at..at,
        words: vec!["van".to_owned()],
        pronoun: None,
        count: None,
        size: None,
        class: Some("vehicle".to_owned()),
        plural: false,
        determined: true,
        indefinite: false,
        definite: true,
    }
}

/// `offcuts in the bin`, `the slug's in the trash`, `they can go in the bin`.
fn binned(talk: &Talk<'_>, at: usize) -> Option<Told> {
    if !matches!(talk.word(at), "in" | "to" | "for") {
        return None;
    }
    let to = at + 1 + usize::from(talk.word(at + 1) == "the");
    if !matches!(talk.word(to), "bin" | "skip" | "trash" | "scrap" | "rubbish") || at == 0 {
        return None;
    }
    let mut end = at;
    while end > 0
        && talk.end(end - 1) == End::None
        && matches!(talk.word(end - 1), "go" | "goes" | "can" | "straight" | "is" | "are" | "both" | "all" | "will" | "just")
    {
        end -= 1;
    }
    let subject = super::phrase::subject(talk, end).or_else(|| {
        let noun = talk.before(end, 1).strip_suffix("'s")?;
        let class = talk.lexicon.name(&|nth| if nth == 0 { noun } else { "" }).map(|(class, _)| class.to_owned());
        Some(Phrase { range: end - 1..end, words: vec![noun.to_owned()], class, ..van(end) })
    })?;
    if subject.is(&["nothing", "tool"]) {
        return None;
    }
    let start = subject.range.start;
    Some(told(Verb::Discard, at, start..to + 1, subject))
}
