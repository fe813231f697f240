//! What the sentences of a step tell as operations: verb, object and whether it is clear. What is wrong with it is left to the rules.

use crate::guide::names::Names;
use crate::guide::prose::RefKind;
use crate::guide::verb::Verb;
use crate::review::named::Named;
use crate::review::phrases::{is_determiner, is_particle, is_preposition, number_of};
use crate::review::sentences::{Command, Sentence, Sort};

/// What the main verb of a sentence tells.
pub(crate) struct Told {
    /// The operation.
    pub(crate) verb: Verb,
    /// The first token of the object.
    pub(crate) object: usize,
    /// Whether a particle has to stand behind the object: `take ... off`.
    pub(crate) needs_particle: bool,
}

/// Whether an operation does the opposite of what is told.
pub(crate) fn is_opposite(told: Verb, fact: Verb) -> bool {
    match told {
        // A clamp is loosened and set anew while something is fitted with it.
        Verb::Loosen => matches!(fact, Verb::Tighten | Verb::Connect),
        _ if told.undoes() => fact.does_up(),
        _ if told.does_up() => fact.undoes(),
        Verb::Drain => fact == Verb::Fill,
        Verb::Fill => fact == Verb::Drain,
        Verb::Cap => fact == Verb::Uncap,
        Verb::Uncap => fact == Verb::Cap,
        Verb::Cover => fact == Verb::Uncover,
        Verb::Uncover => fact == Verb::Cover,
        Verb::SwitchOff => fact == Verb::SwitchOn,
        Verb::SwitchOn => fact == Verb::SwitchOff,
        Verb::Hold => fact == Verb::LetGo,
        Verb::Lock => fact == Verb::Unlock,
        Verb::Unlock => fact == Verb::Lock,
        Verb::Start => fact == Verb::Stop,
        Verb::Stop => fact == Verb::Start,
        Verb::Raise => fact == Verb::Lower,
        Verb::Lower => fact == Verb::Raise,
        _ => false,
    }
}

/// The operation that a verb clearly tells. Verbs of moving and holding tell none.
pub(crate) fn told(sentence: &Sentence<'_>, at: usize) -> Option<Told> {
    let next = sentence.word(at + 1);
    let (verb, object, needs_particle) = match sentence.word(at) {
        "unplug" | "disconnect" | "detach" => (Verb::Disconnect, at + 1, false),
        "remove" | "unbolt" | "unscrew" | "unclip" | "dismantle" => (Verb::Remove, at + 1, false),
        "take" if matches!(next, "off" | "out") => (Verb::Remove, at + 2, false),
        "take" => (Verb::Remove, at + 1, true),
        "fit" | "refit" | "install" | "reinstall" => (Verb::Fit, at + 1, false),
        "connect" | "reconnect" => (Verb::Connect, at + 1, false),
        "plug" if next == "in" => (Verb::Connect, at + 2, false),
        "loosen" | "slacken" => (Verb::Loosen, at + 1, false),
        "undo" => (Verb::Loosen, at + 1, false),
        "tighten" | "retighten" => (Verb::Tighten, at + 1, false),
        "drain" => (Verb::Drain, at + 1 + usize::from(next == "off"), false),
        "fill" | "refill" => (Verb::Fill, at + 1 + usize::from(next == "up"), false),
        "lift" | "pull" | "push" | "slide" | "lever" if matches!(next, "off" | "out") => (Verb::Remove, at + 2, false),
        "lift" | "pull" | "lever" => (Verb::Remove, at + 1, true),
        "put" if next == "back" => (Verb::Fit, at + 2, false),
        "attach" | "mount" => (Verb::Fit, at + 1, false),
        "top" if next == "up" => (Verb::Fill, at + 2, false),
        "jack" if next == "up" => (Verb::Raise, at + 2, false),
        "cap" => (Verb::Cap, at + 1, false),
        "uncap" => (Verb::Uncap, at + 1, false),
        "cover" => (Verb::Cover, at + 1, false),
        "uncover" => (Verb::Uncover, at + 1, false),
        "switch" if next == "off" => (Verb::SwitchOff, at + 2, false),
        "switch" if next == "on" => (Verb::SwitchOn, at + 2, false),
        "clean" => (Verb::Clean, at + 1, false),
        "inspect" => (Verb::Inspect, at + 1, false),
        "measure" => (Verb::Measure, at + 1, false),
        "test" => (Verb::Test, at + 1, false),
        "mark" => (Verb::Mark, at + 1, false),
        "raise" => (Verb::Raise, at + 1, false),
        "lower" => (Verb::Lower, at + 1, false),
        "cut" if !is_particle(next) => (Verb::Cut, at + 1, false),
        "drill" if !is_particle(next) => (Verb::Drill, at + 1, false),
        "discard" => (Verb::Discard, at + 1, false),
        "throw" if next == "away" => (Verb::Discard, at + 2, false),
        _ => return None,
    };
    Some(Told { verb, object, needs_particle })
}

/// Whether the command is for a fault only: `if the ring is worn, remove it` is on no checklist.
pub(crate) fn is_rework(sentence: &Sentence<'_>, command: Command) -> bool {
    let Some((from, to)) = command.condition.filter(|(from, _)| matches!(sentence.word(*from), "if" | "should" | "when" | "unless")) else {
        return false;
    };
    (from..to).any(|at| {
        matches!(
            sentence.word(at),
            "broken"
                | "damaged"
                | "worn"
                | "cracked"
                | "bent"
                | "loose"
                | "wet"
                | "leaks"
                | "leak"
                | "leaking"
                | "drips"
                | "fails"
                | "fail"
                | "failed"
                | "turns"
                | "sticks"
                | "stuck"
                | "falls"
                | "too"
                | "larger"
                | "smaller"
                | "higher"
                | "lower"
                | "hotter"
                | "more"
                | "less"
                | "not"
                | "no"
                | "outside"
                | "missing"
                | "wrong"
                | "faulty"
                | "defective"
                | "dirty"
                | "corroded"
                | "fault"
                | "anything"
                | "something"
                | "still"
                | "cannot"
                | "touches"
                | "necessary"
                | "needed"
                | "required"
        )
    })
}

/// The ids of what the words name as the object, and the token behind it: a reference, or a name of two words or more.
pub(crate) fn object<'g>(
    sentence: &Sentence<'_>,
    told: &Told,
    names: Names<'g>,
    named: &mut Option<Named<'g>>,
) -> Option<(Vec<&'g str>, usize)> {
    let mut at = told.object;
    while sentence.link(at).is_none() && (is_determiner(sentence.word(at)) || is_describing(sentence, at)) {
        at += 1;
    }
    if sentence.link(at).is_some() {
        let reference = sentence.reference(at)?;
        let id = match reference.kind {
            RefKind::Item | RefKind::Connector => names.item(&reference.id).map(|item| item.id.as_str()),
            RefKind::Part => names.part(&reference.id).map(|part| part.id.as_str()),
            RefKind::Hardware => names.hardware(&reference.id).map(|hardware| hardware.id.as_str()),
            RefKind::Spec | RefKind::Tool | RefKind::Step | RefKind::Caution => None,
        };
        let end = sentence.link_end(at);
        return id.filter(|_| ends_object(sentence, end)).map(|id| (vec![id], end));
    }
    let named = named.get_or_insert_with(|| Named::new(names));
    named.at(sentence, at).filter(|(_, end)| ends_object(sentence, *end)).map(|(ids, end)| (ids.to_vec(), end))
}

/// Words that may stand between an article and a name.
fn is_describing(sentence: &Sentence<'_>, at: usize) -> bool {
    matches!(sentence.word(at), "old" | "new" | "whole" | "of") || number_of(sentence.folded(at)).is_some()
}

/// Whether the object is complete: no further noun follows, as in `the seat heater connector bracket`.
fn ends_object(sentence: &Sentence<'_>, at: usize) -> bool {
    let word = sentence.word(at);
    match sentence.sort(at) {
        None | Some(Sort::Mark) => true,
        Some(Sort::Number | Sort::Reference) => false,
        Some(Sort::Word) => {
            is_particle(word)
                || is_preposition(word)
                || word.ends_with("ly")
                || matches!(
                    word,
                    "and"
                        | "or"
                        | "then"
                        | "first"
                        | "last"
                        | "again"
                        | "now"
                        | "crosswise"
                        | "so"
                        | "that"
                        | "which"
                        | "where"
                        | "if"
                        | "once"
                        | "when"
                )
        }
    }
}

/// Whether a particle such as `off` closes the verb soon behind its object.
pub(crate) fn has_particle(sentence: &Sentence<'_>, end: usize) -> bool {
    matches!(sentence.word(end), "off" | "out" | "apart")
}
