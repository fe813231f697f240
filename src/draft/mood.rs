//! How a verb is told: as done, as what is going to be done, as a moment, or not at all because it is forbidden, only thought of, or told of
//! others.

use std::ops::Range;

use super::phrase::is_stop;
use super::talk::Talk;
use crate::guide::verb::Verb;
use crate::narration::End;
use crate::wording::lexicon::Form;

/// How something is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mood {
    /// As done, or to be done.
    Told,
    /// As what is going to be done.
    Announced,
    /// As a moment: `before you refit the panel`, `once the plug is off`.
    Moment,
}

/// How a verb is told; none where it is forbidden, only thought of, or told of others. Beside it the condition in front of it.
pub(super) fn mood(talk: &Talk<'_>, at: usize, form: Form, start: usize) -> Option<(Mood, Option<Range<usize>>)> {
    let mut mood = Mood::Told;
    let mut condition = None;
    let from = at.saturating_sub(14).max(talk.sentence_start(at));
    let mut near = true;
    let mut verbs = 0;
    for back in (from..at).rev() {
        let word = talk.word(back);
        let comma = talk.end(back) >= End::Comma;
        if comma {
            near = false;
        }
        let next = talk.word(back + 1);
        // `unscrew the cap and ...` ends what stands before for most purposes.
        if back < start && verbs == 0 && matches!(word, "and" | "then" | "but" | "so" | "now" | "okay" | "next") && back + 1 < at {
            near = near && matches!(word, "and" | "or") && !is_subject(talk, back + 1);
        }
        match word {
            "forget" | "remember" | "sure" => return Some((Mood::Told, condition)),
            "don't" | "never" | "cannot" | "can't" | "won't" | "didn't" | "doesn't" | "haven't" | "hasn't" | "isn't" | "wasn't"
            | "aren't" | "weren't" | "without" | "shouldn't" | "wouldn't" | "mustn't" | "couldn't" | "needn't" | "ain't" | "nobody"
            | "dont" | "avoid"
                if near && verbs == 0 =>
            {
                if word == "don't" && matches!(next, "forget" | "worry") {
                    return Some((mood, condition));
                }
                return None;
            }
            "not" if near && verbs == 0 && !matches!(next, "only" | "yet") && !matches!(talk.before(back, 1), "if" | "why") => return None,
            "no" if near && matches!(next, "need" | "point") => return None,
            "than" if near && talk.before(back, 1) == "rather" => return None,
            "of" if near && talk.before(back, 1) == "instead" => return None,
            "would" | "could" | "might" | "supposed" | "meant" | "tempted" | "used" | "tried" | "trying" | "wanting"
                if near
                    && verbs == 0
                    && (word != "used" || next == "to")
                    && (word != "would" || !matches!(talk.before(back, 1), "i" | "we")) =>
            {
                return None;
            }
            "people" | "folk" | "somebody" | "someone" | "folks" | "blokes" | "customer" | "factory" | "anyone" | "apprentice"
                if near && form != Form::Ing && !comma =>
            {
                return None;
            }
            "says" | "said" | "tells" | "told" | "reckons" | "asks" | "wants" | "shows" if near && verbs == 0 => {
                // What the sheet says to do, and the talk may not.
                return None;
            }
            "before" | "after" | "when" | "once" | "until" | "till" | "whenever" | "as" | "while" | "whilst"
                if near && verbs == 0 && back + 7 > at =>
            {
                if word == "as" && !matches!(next, "you" | "i" | "we" | "it" | "they" | "the") || word == "once" && next == "more" {
                    continue;
                }
                mood = Mood::Moment;
            }
            "if" | "unless" if (near && verbs == 0 && !comma) || (word == "if" && back + 12 > at) => {
                let inside = near
                    && (back + 1..at).all(|at| talk.end(at) < End::Comma)
                    && !(back + 2..at).any(|nth| matches!(talk.word(nth), "then" | "just" | "you'll") && nth + 1 < at)
                    && !resumes(talk, back, at);
                if inside {
                    return None;
                }
                condition = Some(back..at);
            }
            "going" | "gonna" if near && verbs == 0 && next_is_to(talk, back) => {
                mood = if mood == Mood::Told { Mood::Announced } else { mood }
            }
            _ => {}
        }
        if back < start
            && !talk.lexicon.forms(word).is_empty()
            && !is_stop(word)
            && talk.lexicon.name(&|nth| if nth == 0 { word } else { "" }).is_none()
            && back + 1 < at
        {
            verbs += 1;
        }
    }
    Some((mood, condition))
}

fn next_is_to(talk: &Talk<'_>, at: usize) -> bool {
    talk.word(at) == "gonna" || talk.word(at + 1) == "to"
}

/// Whether a word begins a clause with its own subject.
fn is_subject(talk: &Talk<'_>, at: usize) -> bool {
    matches!(
        talk.word(at),
        "i" | "you"
            | "we"
            | "they"
            | "i'll"
            | "you'll"
            | "we'll"
            | "i've"
            | "we've"
            | "it"
            | "that"
            | "the"
            | "then"
            | "just"
            | "i'm"
            | "we're"
            | "you're"
    )
}

/// Whether the main clause has begun between an `if` and a verb, in a talk without commas: a second subject, or a verb right behind a thing.
fn resumes(talk: &Talk<'_>, opening: usize, at: usize) -> bool {
    let subjects = (opening + 1..at)
        .filter(|nth| {
            matches!(
                talk.word(*nth),
                "i" | "you" | "we" | "they" | "it" | "you've" | "you'll" | "yours" | "it's" | "there's" | "your" | "we'll" | "i'll"
            )
        })
        .count();
    let base = at - opening > 4
        && !matches!(talk.before(at, 1), "you" | "i" | "we" | "they" | "to" | "and")
        && talk.lexicon.name(&|nth| if nth == 0 { talk.before(at, 1) } else { "" }).is_some();
    base || subjects > 1 && matches!(talk.before(at, 1), "i" | "you" | "we" | "you'll" | "we'll" | "i'll" | "just" | "then")
}

/// Whether a verb only says what the talk is about: `today we are fitting an awning`.
pub(super) fn introduces(talk: &Talk<'_>, at: usize, form: Form, verb: Verb) -> bool {
    if at > 90 || !matches!(verb, Verb::Fit | Verb::Connect | Verb::Apply | Verb::Remove) {
        return false;
    }
    let start = talk.sentence_start(at).max(at.saturating_sub(25));
    let end = (at..talk.len()).find(|at| talk.end(*at) >= End::Stop).unwrap_or(talk.len()).min(at + 25);
    let about = (start..end).any(|at| matches!(talk.word(at), "today" | "video" | "job" | "tonight" | "marlin" | "osprey" | "kestrel"));
    let progressive =
        form == Form::Ing && matches!(talk.before(at, 1), "are" | "am" | "we're" | "i'm" | "is" | "of" | "about" | "be" | "to");
    progressive || about && at < 45
}
