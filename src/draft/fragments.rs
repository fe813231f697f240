//! What is told without a verb: `negative off`, `up go the brackets`, `in it goes`, `pin two, blue`; and what follows from what is told:
//! a torque tightens, and the fasteners named beside a thing come and go with it.

use super::clauses::{Mood, Told};
use super::phrase::{Phrase, is_colour, Pronoun, is_determiner, is_filler, is_stop, phrase};
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
        let found = inverted(talk, at).or_else(|| elliptic(talk, at, told)).or_else(|| wire(talk, at)).or_else(|| stands(talk, at)).or_else(|| applied(talk, at)).or_else(|| given(talk, at)).or_else(|| rubbish(talk, at)).or_else(|| drive(talk, at, told)).or_else(|| then_too(talk, at, told)).or_else(|| hole(talk, at, told));
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

fn told(verb: Verb, at: usize, range: std::ops::Range<usize>, thing: Phrase) -> Told {
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
    if matches!(word, "back" | "straight" | "all") && talk.end(at) == End::None && matches!(talk.word(at + 1), "on" | "in" | "off" | "out" | "up" | "down" | "together") {
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
    let thing = Phrase { range: at..at + 1, words: Vec::new(), pronoun: Some(kind), count: None, size: None, class: None, plural: kind == Pronoun::Many, determined: true, indefinite: false, definite: true };
    let verb = verb_of(word, back, &thing)?;
    Some(told(verb, at + 1, at..last + 1, thing))
}

/// `a bead of sealant underneath`: what is applied, in a clause without a verb.
fn applied(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let first = at == 0 || talk.end(at - 1) >= End::Comma || matches!(talk.before(at, 1), "and" | "then");
    let portion = (at..at + 3).find(|nth| matches!(talk.word(*nth), "bead" | "dab" | "drop" | "smear" | "bit" | "blob" | "spot" | "squirt" | "ring"))?;
    let opens = first && (at..portion).all(|nth| is_determiner(talk.word(nth)) || super::phrase::is_describing(talk.word(nth)));
    if !opens || talk.word(portion + 1) != "of" {
        return None;
    }
    let thing = phrase(talk, at).filter(|thing| thing.is(&["applied"]))?;
    let end = thing.range.end;
    Some(told(Verb::Apply, at, at..end, thing))
}

/// Whether a clause has no verb from a word to its end.
fn verbless(talk: &Talk<'_>, from: usize) -> bool {
    for at in from..(from + 9).min(talk.len()) {
        let word = talk.word(at);
        if matches!(word, "is" | "are" | "was" | "were" | "has" | "have" | "had" | "goes" | "go" | "come" | "comes" | "will" | "can" | "it's" | "that's" | "there's" | "you" | "i" | "we" | "they" | "they're" | "need" | "needs" | "gets" | "get" | "lives" | "sits" | "runs" | "should" | "must" | "does" | "do") {
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
    if !first && (matches!(before, "with" | "once" | "when" | "if" | "before" | "until" | "of" | "to" | "from" | "in" | "on" | "for" | "till" | "while" | "after" | "under" | "behind" | "is" | "are" | "at" | "by" | "into" | "onto" | "can" | "can't" | "cannot" | "will" | "it" | "they" | "i" | "you" | "we" | "could" | "should" | "not" | "would" | "through" | "over" | "between") || is_determiner(before) || super::phrase::is_describing(before)) {
        return None;
    }
    let possessive = talk.word(at).strip_suffix("'s").filter(|noun| talk.lexicon.name(&|nth| if nth == 0 { noun } else { "" }).is_some());
    let thing = match possessive {
        Some(noun) => {
            let class = talk.lexicon.name(&|nth| if nth == 0 { noun } else { "" }).map(|(class, _)| class.to_owned());
            Phrase { range: at..at + 1, words: vec![noun.to_owned()], pronoun: None, count: None, size: None, class, plural: false, determined: true, indefinite: false, definite: true }
        }
        None => phrase(talk, at).filter(|thing| thing.pronoun.is_none() && thing.class.is_some())?,
    };
    let end = thing.range.end;
    if thing.is(&["nothing", "tool", "hole", "line", "level"]) || talk.end(end - 1) >= End::Stop {
        return None;
    }
    // `a plastic skirt round the front, three screws, out`
    let (word, back, taken) = match particle(talk, end) {
        Some(found) if talk.end(end - 1) < End::Comma || matches!(found.0, "off" | "out") && talk.end(end + found.2 - 1) >= End::Comma => found,
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
    let goes_on = matches!(next, "and" | "then" | "so" | "now" | "next" | "i" | "we" | "you" | "that's" | "it's" | "with" | "first") || matches!(word, "off" | "out") && (is_determiner(next) || matches!(next, "of" | "from" | "it" | "to")) || back && !matches!(word, "back") || back && is_stop(next);
    let goes_on = goes_on || first && matches!(word, "in" | "on" | "off") && verbless(talk, last + 1);
    let goes_on = goes_on || matches!(word, "off") && is_filler(next);
    if !closes && !goes_on && !unpunctuated(talk) {
        return None;
    }
    let plain = unpunctuated(talk);
    let goes_on = goes_on || plain && (back || matches!(word, "off" | "out") || !is_determiner(next) && (is_stop(next) || !talk.lexicon.forms(next).is_empty() || number::read(&[next]).is_some()) && !super::phrase::is_describing(next));
    let closes = closes || plain && goes_on;
    if plain && !closes {
        return None;
    }
    // A verb before it on the way from the start of the sentence takes it as its own.
    let start = talk.sentence_start(at).max(at.saturating_sub(6));
    let taken_by = !first && others.iter().any(|other| other.range.contains(&at) || other.at >= start && other.at < at && other.range.end > at);
    let verbal = !first && (start..at).rev().take(3).any(|at| matches!(talk.word(at), "take" | "get" | "put" | "pull" | "have" | "keep" | "leave" | "turn" | "got" | "had" | "see" | "need" | "want" | "let" | "leaves"));
    if taken_by || verbal {
        return None;
    }
    let verb = verb_of(word, back, &thing)?;
    let counted = thing.range.start;
    Some(told(verb, end.min(last), counted..last + 1, thing))
}

/// `goes back in, then the aerial`: the verb before tells of the next thing too.
fn then_too(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    if talk.word(at) != "then" || !is_determiner(talk.word(at + 1)) || talk.end(at) >= End::Comma {
        return None;
    }
    let thing = phrase(talk, at + 1).filter(|thing| thing.pronoun.is_none() && thing.class.is_some() && !thing.is(&["nothing", "tool", "place", "hole", "line", "level", "vehicle"]))?;
    let end = thing.range.end;
    let closes = talk.end(end - 1) >= End::Comma || matches!(talk.word(end), "and" | "with" | "then");
    let before = others.iter().filter(|other| other.at < at && other.range.end + 9 > at).next_back()?;
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

/// `then a pilot hole of three millimetres`, `pilot, eighth inch, all six`: a hole told without a verb is drilled.
fn hole(talk: &Talk<'_>, at: usize, others: &[Told]) -> Option<Told> {
    let first = at == 0 || talk.end(at - 1) >= End::Stop || matches!(talk.before(at, 1), "then" | "so" | "and") && (at < 2 || talk.end(at - 2) >= End::Comma || talk.before(at, 1) != "and");
    if !first {
        return None;
    }
    let near = (at..(at + 4).min(talk.len())).find(|nth| matches!(talk.word(*nth), "pilot" | "pilots"))?;
    let opens = (at..near).all(|nth| is_determiner(talk.word(nth)) || super::phrase::is_describing(talk.word(nth)) || is_filler(talk.word(nth)) || super::values::value_at(talk, nth).is_some() || matches!(talk.word(nth), "mil" | "mm" | "millimetre"));
    let figure = (near..(near + 8).min(talk.len())).any(|nth| super::values::value_at(talk, nth).is_some_and(|value| value.kind == Kind::Size || value.kind == Kind::Length));
    let drilled = others.iter().any(|other| other.verb == Verb::Drill && other.at + 10 > at && other.at < at + 8);
    if !opens || !figure || drilled {
        return None;
    }
    let end = if talk.word(near + 1) == "hole" { near + 2 } else { near + 1 };
    let thing = Phrase { range: at..end, words: vec!["pilot".to_owned(), "hole".to_owned()], pronoun: None, count: None, size: None, class: Some("hole".to_owned()), plural: talk.word(near) == "pilots", determined: true, indefinite: true, definite: false };
    Some(told(Verb::Drill, near, at..end, thing))
}

fn cavity(word: &str) -> bool {
    word.parse::<u32>().is_ok_and(|pin| (1..=40).contains(&pin)) || number::whole(word).is_some_and(|pin| (1..=20).contains(&pin))
}

/// `pin two, blue`, `blue in two`, `blue goes to pin two`: a wire in its cavity.
fn wire(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let of = |colour: usize, range: std::ops::Range<usize>| {
        let words = vec![talk.word(colour).trim_end_matches("'s").to_owned(), "wire".to_owned()];
        let thing = Phrase { range: range.clone(), words, pronoun: None, count: None, size: None, class: Some("cable".to_owned()), plural: false, determined: true, indefinite: false, definite: true };
        Some(told(Verb::Connect, range.start, range, thing))
    };
    if talk.word(at) == "pin" && cavity(talk.word(at + 1)) {
        let colour = (at + 2..at + 7).take_while(|nth| talk.end(nth - 1) < End::Block).find(|nth| is_colour(talk.word(*nth).trim_end_matches("'s")))?;
        let passed = (at + 2..colour).all(|nth| matches!(talk.word(nth), "is" | "the" | "takes" | "gets" | "that's" | "a" | "has" | "it's" | "for"));
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
    while matches!(talk.word(next), "in" | "to" | "into" | "goes" | "go" | "is" | "on" | "pin" | "number" | "terminal" | "cavity" | "position" | "the" | "that's") {
        led |= matches!(talk.word(next), "in" | "to" | "into" | "is" | "on" | "pin" | "number" | "terminal" | "cavity");
        next += 1;
        if next > at + 6 {
            return None;
        }
    }
    // The talk is about the wires of a plug.
    let around = at.saturating_sub(40)..(at + 12).min(talk.len());
    let plug = around.clone().any(|nth| matches!(talk.word(nth), "pin" | "pins" | "plug" | "connector" | "terminal" | "cavity" | "socket" | "core" | "block"));
    let numbered = cavity(talk.word(next)) && !matches!(talk.word(next), "1.5" | "2.5");
    let several = around.filter(|nth| is_colour(talk.word(*nth).trim_end_matches("'s"))).count() > 1;
    let measured = super::values::value_at(talk, next).is_some();
    (led && numbered && plug && several && !measured).then(|| of(at, at..next + 1)).flatten()
}

/// Fasteners that are counted beside a thing come and go with it: `take the lamp out, two wing nuts`.
fn hardware(talk: &Talk<'_>, told: &mut Vec<Told>) {
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
            let counts = number::read(&[talk.word(at)]).is_some() || matches!(talk.word(at), "all" | "both" | "its" | "the" | "same") && stops == 0;
            let fragment = at == end || talk.end(at - 1) >= End::Comma || matches!(talk.before(at, 1), "with" | "and" | "plus" | "its" | "by" | "has" | "it's" | "there's" | "that's" | "is");
            if counts && fragment && let Some(thing) = phrase(talk, at).filter(|thing| thing.is(&["fastener", "clip"]) && (thing.count.is_some() || thing.plural)) {
                let to = thing.range.end;
                // A clause of its own with a verb tells of it itself.
                let own = matches!(talk.word(to), "go" | "come" | "get" | "that" | "which" | "hold" | "holding" | "are" | "is") && talk.end(to - 1) < End::Comma;
                if to <= next && !own {
                    more.push(Told { verb: this.verb, at, range: at..to, thing, mood: this.mood, condition: this.condition.clone(), readings: vec![(this.verb, Vec::new())] });
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

/// A torque that no verb tells tightens the fastener that was named last.
fn tightened(talk: &Talk<'_>, told: &mut Vec<Told>, values: &[Value]) {
    let mut more: Vec<Told> = Vec::new();
    for (nth, value) in values.iter().enumerate().filter(|(_, value)| value.kind == Kind::Torque) {
        // The same in another unit, or another pass.
        let repeats = nth.checked_sub(1).and_then(|before| values.get(before)).is_some_and(|before| before.kind == Kind::Torque && before.range.end + 7 > value.range.start);
        let start = talk.sentence_start(value.range.start).max(value.range.start.saturating_sub(22));
        let end = (value.range.end - 1..talk.len()).find(|at| talk.end(*at) >= End::Stop).map_or(talk.len(), |at| at + 1).min(value.range.end + 6);
        let tells = |told: &Told| told.verb == Verb::Tighten && told.at + 1 >= start && told.at < end;
        if repeats || told.iter().chain(&more).any(tells) || forbidden(talk, start, value.range.start) {
            continue;
        }
        // At a battery it is the clamp.
        let at_battery = told.iter().rev().find(|other| other.at >= start && other.at < value.range.start).filter(|other| other.verb == Verb::Connect && (other.thing.is(&["battery"]) || other.thing.words.iter().any(|word| matches!(word.as_str(), "negative" | "battery" | "positive"))));
        if let Some(other) = at_battery {
            let thing = Phrase { words: vec!["battery".to_owned(), "clamp".to_owned()], class: Some("fastener".to_owned()), pronoun: None, count: None, size: None, ..other.thing.clone() };
            more.push(self::told(Verb::Tighten, value.range.start, value.range.start..value.range.end, thing));
            continue;
        }
        // A fastener in the sentence, or what was done up before it.
        let named = (start..value.range.start).rev().find_map(|at| phrase(talk, at).filter(|thing| thing.is(&["fastener"]) && thing.range.end <= value.range.start && thing.range.start == at && (is_determiner(talk.before(at, 1)) || thing.determined || at == start || !is_stop(talk.before(at, 1)) || true)));
        let thing = match named {
            Some(thing) => {
                // With the words in front of it.
                let from = (thing.range.start.saturating_sub(4)..=thing.range.start).find_map(|at| phrase(talk, at).filter(|longer| longer.range.end == thing.range.end && longer.class == thing.class));
                from.unwrap_or(thing)
            }
            None => Phrase { range: value.range.start..value.range.start, words: Vec::new(), pronoun: Some(Pronoun::Many), count: None, size: None, class: None, plural: true, determined: true, indefinite: false, definite: true },
        };
        let from = thing.range.start.min(value.range.start);
        more.push(Told { verb: Verb::Tighten, at: value.range.start, range: from..value.range.end, thing, mood: Mood::Told, condition: None, readings: vec![(Verb::Tighten, vec!["fastener".to_owned()])] });
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
        let by_hand = told.iter().any(|told| told.verb == Verb::Fit && told.thing.is(&["fastener"]) && told.at >= start && told.range.end >= at);
        if told.iter().chain(&more).any(tells) || by_hand || forbidden(talk, start, at) || matches!(talk.before(at, 1), "than" | "not" | "just" | "be") && talk.before(at, 1) != "just" {
            continue;
        }
        let named = (start..at).rev().find_map(|from| phrase(talk, from).filter(|thing| thing.is(&["fastener", "clip"]) && thing.range.end <= at));
        let thing = named.unwrap_or_else(|| Phrase { range: at..at, words: Vec::new(), pronoun: Some(Pronoun::Many), count: None, size: None, class: None, plural: true, determined: true, indefinite: false, definite: true });
        let from = thing.range.start.min(at);
        more.push(Told { verb: Verb::Tighten, at, range: from..at + feel, thing, mood: Mood::Told, condition: None, readings: vec![(Verb::Tighten, vec!["fastener".to_owned()])] });
    }
    told.append(&mut more);
}

/// A reading: `I had twelve point seven volts at the battery`, `at least fifteen millimetres between door and case`.
fn measured(talk: &Talk<'_>, told: &mut Vec<Told>, values: &[Value]) {
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
        let end = (value.range.end - 1..talk.len()).find(|at| talk.end(*at) >= End::Stop).map_or(talk.len(), |at| at + 1).min(value.range.end + 5);
        let has = |words: &[&str]| (start..end).any(|at| words.contains(&talk.word(at)));
        let led = |words: &[&str]| (value.range.start.saturating_sub(4)..value.range.start).any(|at| words.contains(&talk.word(at)));
        let read = led(&["got", "had", "get", "reads", "shows", "showing", "reading", "i've", "says", "see", "least", "want", "be"]) || has(&["meter", "multimeter", "measure", "measured"]);
        // `the twelve volt one`, `a thirty amp fuse` are no readings.
        let named = matches!(talk.word(value.range.end), "one" | "fuse" | "battery" | "feed" | "supply" | "system" | "fridge" | "cable" | "socket" | "wire" | "cartridge");
        let between = item != "gap" || has(&["gap", "between", "clearance", "clear"]);
        let doubled = told.iter().chain(&more).any(|told| matches!(told.verb, Verb::Measure | Verb::Drill | Verb::Cut) && told.at + 14 > value.range.start && told.at < end + 2);
        if !read || named || !between || doubled || item == "current" && has(&["fuse"]) || item == "temperature" && has(&["warm", "over", "below"]) {
            continue;
        }
        let thing = Phrase { range: value.range.clone(), words: vec![item.to_owned()], pronoun: None, count: None, size: None, class: Some("level".to_owned()), plural: false, determined: true, indefinite: false, definite: true };
        more.push(self::told(Verb::Measure, value.range.start, start.max(value.range.start.saturating_sub(3))..value.range.end, thing));
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
        ("round" | "around", "the", "block" | "ring" | "lanes" | "roundabout" | "houses" | "estate" | "corner") if talk.word(at + 2) != "corner" => 3,
        ("for", "a", "drive" | "spin") => 3,
        _ => return None,
    };
    let talked = matches!(talk.before(at, 1), "before" | "the" | "no") || others.iter().any(|other| other.verb == Verb::RoadTest && other.at + 25 > at && other.at < at + 10);
    if talked {
        return None;
    }
    let thing = Phrase { range: at..at, words: vec!["van".to_owned()], pronoun: None, count: None, size: None, class: Some("vehicle".to_owned()), plural: false, determined: true, indefinite: false, definite: true };
    Some(told(Verb::RoadTest, at, at..at + len, thing))
}

/// `and that's rubbish`
fn rubbish(talk: &Talk<'_>, at: usize) -> Option<Told> {
    let kind = match talk.word(at) {
        "that's" | "it's" => Pronoun::One,
        "they're" | "those're" => Pronoun::Many,
        _ => return None,
    };
    matches!(talk.word(at + 1), "rubbish" | "scrap" | "junk" | "trash").then(|| {
        let thing = Phrase { range: at..at + 1, words: Vec::new(), pronoun: Some(kind), count: None, size: None, class: None, plural: kind == Pronoun::Many, determined: true, indefinite: false, definite: true };
        told(Verb::Discard, at + 1, at..at + 2, thing)
    })
}

/// Fasteners that are only named come and go with what was done last: `there are ten screws from below`, `then the locking screws, one at each end`.
fn named(talk: &Talk<'_>, told: &mut Vec<Told>) {
    let mut more: Vec<Told> = Vec::new();
    let mut at = 0;
    while at < talk.len() {
        let from = at;
        at += 1;
        if talk.words[from].heading || told.iter().chain(&more).any(|told| told.range.contains(&from)) {
            continue;
        }
        let opens = from == 0 || talk.end(from - 1) >= End::Stop || matches!(talk.before(from, 1), "then") && (from < 2 || talk.end(from - 2) >= End::Stop);
        let led = match (talk.before(from, 2), talk.before(from, 1)) {
            ("there", "are" | "is") | ("held", "by") | ("it", "is") | ("on", "with") | ("in", "with") => true,
            (_, "there's" | "it's") => true,
            _ => false,
        };
        if !opens && !led {
            continue;
        }
        let Some(thing) = phrase(talk, from).filter(|thing| thing.is(&["fastener", "clip"]) && (thing.count.is_some() || opens && thing.plural || opens && talk.word(from) == "new")) else { continue };
        let end = thing.range.end;
        if opens && !verbless(talk, end - 1) {
            continue;
        }
        // Told by a verb close behind.
        let behind = told.iter().any(|other| other.at >= end && other.at < end + 18 && matches!(other.verb, Verb::Remove | Verb::Loosen | Verb::Fit | Verb::Discard) && (other.thing.pronoun.is_some() || other.thing.head() == thing.head()));
        let before = told.iter().filter(|other| other.at < from && other.at + 45 > from).next_back();
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
        more.push(self::told(verb, from, from..end, thing));
    }
    told.append(&mut more);
}
