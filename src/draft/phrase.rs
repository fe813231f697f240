//! The things that a talk names: noun phrases, found by the names of the trade and by the words that end them.

use std::ops::Range;

use super::talk::Talk;
use super::values;
use crate::narration::End;
use crate::wording::lexicon::{built_in, singular};
use crate::wording::number;

/// What stands for a thing without naming it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pronoun {
    /// `it`, `that`, `this one`
    One,
    /// `them`, `those`, `these two`
    Many,
    /// `the other one`, `the other side`
    Other,
    /// `everything`, `the lot`
    Everything,
}

/// A thing as it is named at a place.
#[derive(Clone, Debug)]
pub(super) struct Phrase {
    pub(super) range: Range<usize>,
    /// The words of the name, the last of them in the singular; empty for a pronoun.
    pub(super) words: Vec<String>,
    pub(super) pronoun: Option<Pronoun>,
    pub(super) count: Option<u32>,
    /// A size in front of it, as said: `10 mm`, `M8`.
    pub(super) size: Option<String>,
    pub(super) class: Option<String>,
    pub(super) plural: bool,
    /// Whether an article, a number or the like stands in front.
    pub(super) determined: bool,
    /// `a`, `another`, `some`: not one that was named before.
    pub(super) indefinite: bool,
    /// `the`, `those`: one that is known.
    pub(super) definite: bool,
}

impl Phrase {
    /// A pronoun that stands for a thing said before.
    pub(super) fn pronoun(kind: Pronoun, range: Range<usize>) -> Self {
        Phrase {
            range,
            words: Vec::new(),
            pronoun: Some(kind),
            count: None,
            size: None,
            class: None,
            plural: kind == Pronoun::Many,
            determined: true,
            indefinite: false,
            definite: true,
        }
    }

    pub(super) fn head(&self) -> &str {
        self.words.last().map_or("", String::as_str)
    }

    pub(super) fn is(&self, classes: &[&str]) -> bool {
        self.class.as_deref().is_some_and(|class| classes.contains(&class))
    }
}

pub(super) fn is_determiner(word: &str) -> bool {
    matches!(
        word,
        "the"
            | "a"
            | "an"
            | "this"
            | "that"
            | "these"
            | "those"
            | "my"
            | "your"
            | "our"
            | "its"
            | "his"
            | "their"
            | "each"
            | "every"
            | "both"
            | "all"
            | "any"
            | "some"
            | "another"
            | "no"
            | "yer"
    )
}

/// Words that describe and name nothing.
pub(super) fn is_describing(word: &str) -> bool {
    built_in().is("describing", word)
}

/// Words that end a name.
pub(super) fn is_stop(word: &str) -> bool {
    word.is_empty()
        || built_in().is("stop", word)
        || word.ends_with("ly") && word.len() > 4 && !matches!(word, "ply" | "assembly" | "supply" | "fly" | "subassembly")
}

/// Words that measure out what stands behind their `of`.
fn is_portion(word: &str) -> bool {
    built_in().is("portion", word)
}

/// Words that may stand between a verb and its thing.
pub(super) fn is_filler(word: &str) -> bool {
    built_in().is("filler", word)
}

fn is_thread(word: &str) -> bool {
    let Some(size) = word.strip_prefix(['m', 't']) else { return false };
    let size = size.trim_end_matches('s');
    size.starts_with(|c: char| c.is_ascii_digit()) && size.chars().all(|c| c.is_ascii_digit() || matches!(c, 'x' | '.' | '×'))
}

/// The phrase that begins at a word; none where no thing is named there.
pub(super) fn phrase(talk: &Talk<'_>, from: usize) -> Option<Phrase> {
    let mut at = from;
    let closed = |at: usize| at > from && talk.end(at - 1) >= End::Comma;
    let (mut determined, mut indefinite, mut many, mut other, mut definite) = (false, false, false, false, false);
    let (mut count, mut size) = (None, None);
    let pronoun = |kind: Pronoun, to: usize| Some(Phrase::pronoun(kind, from..to));
    for _ in 0..24 {
        if closed(at) || at >= talk.len() {
            break;
        }
        let (word, next) = (talk.word(at), talk.word(at + 1));
        let more = talk.end(at) < End::Comma;
        // What stands for a thing by itself.
        match word {
            "it" => return pronoun(Pronoun::One, at + 1),
            "everything" => return pronoun(Pronoun::Everything, at + 1),
            "them" | "those" | "these" | "they"
                if !more || is_stop(next) || next == "two" && is_after_count(talk, at + 2) || next == "ones" =>
            {
                let to = if more && matches!(next, "two" | "ones") { at + 2 } else { at + 1 };
                return pronoun(Pronoun::Many, to);
            }
            "this" | "that" if more && next == "one" => return pronoun(Pronoun::One, at + 2),
            "this" | "that" if more && next == "lot" => return pronoun(Pronoun::Many, at + 2),
            "this" | "that" if !more || is_stop(next) && !matches!(next, "right" | "first" | "last" | "next") || is_filler(next) => {
                return pronoun(Pronoun::One, at + 1);
            }
            "lot" if determined && !(more && next == "of") => return pronoun(Pronoun::Everything, at + 1),
            "one" | "ones" if other => return pronoun(Pronoun::Other, at + 1),
            "side" if other => return pronoun(Pronoun::Other, at + 1),
            "others" if determined => return pronoun(Pronoun::Other, at + 1),
            "ones" | "one" if determined && count.is_none() && (!more || is_stop(next)) => {
                return pronoun(if word == "ones" { Pronoun::Many } else { Pronoun::One }, at + 1);
            }
            _ => {}
        }
        // `all of the`, `a bead of`, `the rest of them`
        if is_portion(word) && more && next == "of" && talk.end(at + 1) < End::Comma {
            if let Some((number, _)) = number::read(&[word]).filter(|_| word != "half") {
                count = Some(number.value as u32);
            }
            at += 2;
            determined = true;
            continue;
        }
        if is_determiner(word) && (more || determined) {
            indefinite |= matches!(word, "a" | "an" | "another" | "some" | "any");
            definite |= matches!(word, "the" | "this" | "that" | "these" | "those" | "my" | "your" | "its" | "both" | "all");
            many |= matches!(word, "these" | "those" | "both" | "all" | "some" | "them");
            determined = true;
            at += 1;
            continue;
        }
        if word == "other" && more {
            other = true;
            determined = true;
            at += 1;
            continue;
        }
        if word == "couple" || word == "pair" {
            count = Some(2);
            at += 1;
            determined = true;
            continue;
        }
        if is_thread(word) {
            size = Some(word.to_owned());
            at += 1;
            determined = true;
            continue;
        }
        if word == "x" && count.is_some() || matches!(word, "by" | "x") && size.is_some() {
            at += 1;
            continue;
        }
        // Numbers: how many, or a size with its unit.
        let words: Vec<&str> = (at..(at + 8).min(talk.len())).map(|nth| talk.word(nth)).collect();
        if let Some((figure, taken)) = number::read(&words) {
            if let Some(value) = values::value_at(talk, at) {
                let to = value.range.end;
                if talk.end(to - 1) >= End::Comma {
                    break;
                }
                size = Some(format!("{} {}", value.value, value.unit.unwrap_or_default()));
                at = to;
                determined = true;
                continue;
            }
            // `four ten mil bolts`: a count in front of a size.
            let one_by_one = figure.joined || taken > 1 && values::value_at(talk, at + 1).is_some();
            let (value, taken) = if one_by_one {
                (number::whole(words[0]), 1)
            } else {
                ((figure.value.fract() == 0.0 && figure.value < 100.0 && figure.value >= 0.0).then_some(figure.value as u32), taken)
            };
            if talk.end(at + taken - 1) >= End::Comma {
                // `take out all four`
                return (determined || value.is_some_and(|value| value > 1)).then(|| Phrase {
                    count: value,
                    ..pronoun(Pronoun::Many, at + taken).unwrap_or_else(|| unreachable!("a pronoun is a phrase"))
                });
            }
            if is_stop(talk.word(at + taken)) && !is_describing(talk.word(at + taken)) && size.is_none() {
                return value
                    .filter(|value| *value > 1)
                    .and_then(|value| pronoun(Pronoun::Many, at + taken).map(|phrase| Phrase { count: Some(value), ..phrase }));
            }
            count = value.or(count);
            at += taken;
            determined = true;
            continue;
        }
        break;
    }
    // The name: described by a few words, and ended by the last name of a thing, or by a word that ends names.
    let start = at;
    let mut last_known: Option<(usize, String)> = None;
    let mut end = at;
    while end < talk.len() && end < start + 7 {
        if end > start && talk.end(end - 1) >= End::Comma {
            break;
        }
        let word = talk.word(end);
        // `twelve rivets sheet off the bed`: a plural ends a name.
        if last_known.is_some() && end > start && singular(talk.word(end - 1)) != talk.word(end - 1) && talk.word(end - 1).ends_with('s') {
            break;
        }
        // `the trim lifts off`, `the bolts clamp the plate`: a verb behind the name.
        let next = talk.word(end + 1);
        let verb = || {
            talk.lexicon
                .forms(word)
                .iter()
                .any(|(_, form)| matches!(form, crate::wording::lexicon::Form::Third | crate::wording::lexicon::Form::Base))
        };
        let taken_up = is_determiner(next)
            || matches!(
                next,
                "off"
                    | "out"
                    | "up"
                    | "down"
                    | "back"
                    | "away"
                    | "on"
                    | "in"
                    | "onto"
                    | "into"
                    | "over"
                    | "through"
                    | "it"
                    | "them"
                    | "straight"
            );
        if last_known.is_some() && talk.end(end) < End::Comma && taken_up && verb() {
            break;
        }
        // `the green plug brown in one`: a colour behind a name begins another.
        if last_known.is_some() && is_colour(word) {
            break;
        }
        let known = talk
            .lexicon
            .name(&|nth| if nth == 0 || (end..end + nth).all(|at| talk.end(at) < End::Comma) { talk.word(end + nth) } else { "" });
        if let Some((class, taken)) = known.filter(|(class, _)| last_known.is_none() || *class != "nothing") {
            // A portion is no name where its `of` follows.
            if is_portion(word)
                && taken == 1
                && talk.word(end + 1) == "of"
                && last_known.is_none()
                && talk.end(end) < End::Comma
                && talk.end(end + 1) < End::Comma
                && !is_stop(talk.word(end + 2))
            {
                let rest = phrase(talk, end + 2)?;
                return Some(Phrase { range: from..rest.range.end, count: rest.count.or(count), determined: true, ..rest });
            }
            if class == "nothing" && last_known.is_none() && more_of_name(talk, end + taken) {
                // `front bolts`, `top plate`
                end += taken;
                continue;
            }
            let class = class.to_owned();
            end += taken;
            last_known = Some((end, class));
            continue;
        }
        if last_known.is_some()
            || is_stop(word) && !(is_describing(word) && end + 1 < talk.len() && !is_stop(talk.word(end + 1)) && talk.end(end) < End::Comma)
        {
            break;
        }
        if end > start && is_determiner(word) {
            break;
        }
        let past = talk.lexicon.forms(word).iter().any(|(_, form)| *form == crate::wording::lexicon::Form::Past);
        if end == start && past && (!determined || is_determiner(talk.word(end + 1))) {
            break;
        }
        // A verb in the base form begins something else, unless it stands right behind an article.
        if end > start
            && talk.lexicon.forms(word).iter().any(|(_, form)| *form != crate::wording::lexicon::Form::Past)
            && !word.ends_with("ing")
        {
            break;
        }
        if number::is_number_word(word) || word.starts_with(|c: char| c.is_ascii_digit()) && end > start {
            break;
        }
        end += 1;
    }
    if let Some((to, _)) = &last_known {
        end = *to;
    } else if !determined {
        // Unknown words without an article name a thing only alone.
        end = end.min(start + 2);
    } else {
        end = end.min(start + 3);
    }
    if end == start {
        if let Some(thread) = size.as_ref().filter(|size| size.starts_with('m') && !size.contains(' ') && talk.end(at - 1) < End::Block) {
            // `the M10`: which fastener it is, the talk has said before, or it stays a question.
            let plural = thread.ends_with('s') || many || count.is_some_and(|count| count > 1);
            let size = thread.trim_end_matches('s').to_owned();
            return Some(Phrase {
                range: from..at,
                words: vec![size.clone()],
                pronoun: None,
                count,
                size: Some(size),
                class: Some("fastener".to_owned()),
                plural,
                determined: true,
                indefinite,
                definite,
            });
        }
        if count.is_some_and(|count| count > 1) || other {
            return pronoun(if other { Pronoun::Other } else { Pronoun::Many }, at).map(|phrase| Phrase { count, ..phrase });
        }
        return None;
    }
    let last = talk.word(end - 1);
    if last.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let head = singular(last);
    let plural = head != last || many || count.is_some_and(|count| count > 1);
    let mut words: Vec<String> =
        (start..end - 1).map(|at| talk.word(at).to_owned()).filter(|word| !built_in().is("unnamed", word)).collect();
    words.push(head);
    // A pilot is a hole.
    if words.last().is_some_and(|word| word == "pilot") {
        words.push("hole".to_owned());
    }
    // `the red one`, `red`: a wire.
    if last_known.as_ref().is_some_and(|(_, class)| class == "cable") && is_colour(words.last().map_or("", String::as_str)) {
        words.push("wire".to_owned());
    }
    Some(Phrase {
        range: from..end,
        words,
        pronoun: None,
        count,
        size,
        class: last_known.map(|(_, class)| class),
        plural,
        determined,
        indefinite,
        definite,
    })
}

/// Colours of wires.
pub(super) fn is_colour(word: &str) -> bool {
    matches!(
        word,
        "red" | "black" | "blue" | "brown" | "yellow" | "green" | "white" | "grey" | "gray" | "orange" | "purple" | "violet" | "pink"
    )
}

fn more_of_name(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at - 1) < End::Comma && !is_stop(talk.word(at)) && talk.lexicon.name(&|nth| talk.word(at + nth)).is_some()
}

fn is_after_count(talk: &Talk<'_>, at: usize) -> bool {
    talk.end(at - 1) >= End::Comma || is_stop(talk.word(at))
}

/// The phrase that ends right before a word, adverbs and auxiliary verbs between: the subject of a verb.
pub(super) fn subject(talk: &Talk<'_>, verb: usize) -> Option<Phrase> {
    let mut end = verb;
    while end > 0 && talk.end(end - 1) == End::None {
        let word = talk.word(end - 1);
        let passed = is_filler(word) || built_in().is("auxiliary", word);
        if !passed {
            break;
        }
        end -= 1;
    }
    if end == 0 || talk.end(end - 1) > End::Comma {
        return None;
    }
    let last = talk.word(end - 1);
    let contracted = match last {
        "it's" | "it'll" => Some(Pronoun::One),
        "that's" | "that'll" => Some(Pronoun::One),
        "they're" | "they'll" | "they've" => Some(Pronoun::Many),
        "it" | "that" | "this" => Some(Pronoun::One),
        "they" | "those" | "these" | "them" => Some(Pronoun::Many),
        "everything" | "lot" => Some(Pronoun::Everything),
        _ => None,
    };
    if let Some(kind) = contracted {
        return Some(Phrase::pronoun(kind, end - 1..end));
    }
    // The longest phrase that ends there.
    (end.saturating_sub(7)..end).find_map(|from| {
        let begins = is_determiner(talk.word(from)) || from + 1 == end || !is_stop(talk.word(from));
        let open = (from..end - 1).all(|at| talk.end(at) == End::None);
        let found = (begins && open).then(|| phrase(talk, from)).flatten()?;
        (found.range.end == end && (found.pronoun.is_some() || found.class.is_some() || found.determined)).then_some(found)
    })
}
