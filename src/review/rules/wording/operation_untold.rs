//! `operation-untold`: the words tell an operation that the step's facts do not.

use foldhash::{HashMap, HashMapExt};

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::guide::names::Names;
use crate::guide::prose::RefKind;
use crate::guide::verb::Verb;
use crate::review::phrases::{is_determiner, is_particle, is_preposition, number_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Command, Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OperationUntold, Family::Wording, Severity::Query, Check::Guide(check), include_str!("operation_untold.md"));

/// What the main verb of a sentence tells.
struct Told {
    /// The operation.
    verb: Verb,
    /// The first token of the object.
    object: usize,
    /// Whether a particle has to stand behind the object: `take ... off`.
    needs_particle: bool,
}

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let mut named: Option<Named<'_>> = None;
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for sentence in subject.words().instructions(at) {
            let Some(command) = sentence.command().filter(|command| !command.negated && !is_rework(&sentence, *command)) else { continue };
            let Some(told) = told(&sentence, command.verb) else { continue };
            let Some((ids, end)) = object(&sentence, &told, subject.names, &mut named) else { continue };
            if told.needs_particle && !has_particle(&sentence, end) {
                continue;
            }
            findings.extend(finding(subject, step, &sentence, command.verb, &told, &ids, end));
        }
    }
}

/// The finding, if no operation of the step does to one of these things what the words tell.
fn finding(
    subject: &Subject<'_, '_>,
    step: &Step<'_>,
    sentence: &Sentence<'_>,
    verb: usize,
    told: &Told,
    ids: &[&str],
    end: usize,
) -> Option<Finding> {
    let acting: Vec<_> = step
        .operations
        .iter()
        .filter(|operation| {
            let things = operation.targets.iter().chain(operation.hardware.iter().map(|count| &count.id));
            things.into_iter().any(|thing| ids.contains(&thing.value.as_str()))
        })
        .collect();
    let opposite = !acting.is_empty() && acting.iter().all(|operation| is_opposite(told.verb, operation.verb));
    if !acting.is_empty() && !opposite {
        return None;
    }
    let name = subject.names.thing(ids[0]).map_or(ids[0], |thing| thing.name());
    let place = subject.guide.place(sentence.place(verb, end));
    let remedy = format!("add {{ {} = \"{}\" }} to the step's `do`, or mend the words", told.verb.key(), ids[0]);
    let mut word = sentence.words(verb, told.object.min(verb + 2)).to_lowercase();
    if told.needs_particle {
        word = format!("{word} {}", sentence.word(end));
    }
    Some(match acting.first() {
        Some(operation) => {
            let message = format!("the words say `{word}`, the facts of the step only `{}`: {name}", operation.verb.key());
            RULE.at(place, message, remedy).with_related(subject.guide.place(operation.verb_span), "the only operation on it in this step")
        }
        None => RULE.at(place, format!("the words say `{word}`, the facts of the step do not: {name}"), remedy),
    })
}

/// Whether an operation does the opposite of what is told.
fn is_opposite(told: Verb, fact: Verb) -> bool {
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
        Verb::Start => fact == Verb::Stop,
        Verb::Stop => fact == Verb::Start,
        Verb::Raise => fact == Verb::Lower,
        Verb::Lower => fact == Verb::Raise,
        _ => false,
    }
}

/// The operation that a verb clearly tells. Verbs of moving and holding tell none.
fn told(sentence: &Sentence<'_>, at: usize) -> Option<Told> {
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
fn is_rework(sentence: &Sentence<'_>, command: Command) -> bool {
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
fn object<'g>(sentence: &Sentence<'_>, told: &Told, names: Names<'g>, named: &mut Option<Named<'g>>) -> Option<(Vec<&'g str>, usize)> {
    let mut at = told.object;
    while sentence.link(at).is_none() && (is_determiner(sentence.word(at)) || is_describing(sentence, at)) {
        at += 1;
    }
    if let Some(link) = sentence.link(at) {
        let reference = sentence.reference(at)?;
        let id = match reference.kind {
            RefKind::Item | RefKind::Connector => names.item(&reference.id).map(|item| item.id.as_str()),
            RefKind::Part => names.part(&reference.id).map(|part| part.id.as_str()),
            RefKind::Hardware => names.hardware(&reference.id).map(|hardware| hardware.id.as_str()),
            RefKind::Spec | RefKind::Tool | RefKind::Step | RefKind::Caution => None,
        };
        let end = (at..sentence.len()).find(|&next| sentence.link(next) != Some(link)).unwrap_or(sentence.len());
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
fn has_particle(sentence: &Sentence<'_>, end: usize) -> bool {
    matches!(sentence.word(end), "off" | "out" | "apart")
}

/// A name of one word counts from this length on.
const LONG_WORD: usize = 6;

/// The words of a name, and the ids of the things that bear it.
type Alike<'g> = (Vec<String>, Vec<&'g str>);

/// The names of two words or more that are in sight of a guide, in lower case up to the comma, by their first word.
struct Named<'g> {
    by_first: HashMap<String, Vec<Alike<'g>>>,
}

impl<'g> Named<'g> {
    fn new(names: Names<'g>) -> Self {
        let mut by_first: HashMap<String, Vec<Alike<'g>>> = HashMap::new();
        for definitions in names.both() {
            let items = definitions.items.rows.iter().map(|item| (&item.id, &item.name));
            let parts = definitions.parts.rows.iter().map(|part| (&part.id, &part.name));
            let hardware = definitions.hardware.rows.iter().map(|hardware| (&hardware.id, &hardware.name));
            for (id, name) in items.chain(parts).chain(hardware) {
                let name = name.value.split(',').next().unwrap_or_default().to_lowercase();
                let words: Vec<String> = name.split_whitespace().map(str::to_owned).collect();
                // A lone word such as `cover` is often another thing of that name; a long one is hardly.
                if words.len() < 2 && words.first().is_none_or(|word| word.len() < LONG_WORD) {
                    continue;
                }
                let alike = by_first.entry(words[0].clone()).or_default();
                match alike.iter_mut().find(|(known, _)| *known == words) {
                    Some((_, ids)) => ids.push(id.as_str()),
                    None => alike.push((words, vec![id.as_str()])),
                }
            }
        }
        // The longest name first: `rear lamp loom` before `rear lamp`.
        by_first.values_mut().for_each(|alike| alike.sort_by_key(|(words, _)| std::cmp::Reverse(words.len())));
        Named { by_first }
    }

    /// The things whose name stands at a token, and the token behind it.
    fn at(&self, sentence: &Sentence<'_>, at: usize) -> Option<(&[&'g str], usize)> {
        let alike = self.by_first.get(sentence.word(at))?;
        alike.iter().find_map(|(words, ids)| {
            let last = words.len() - 1;
            let same = words.iter().enumerate().all(|(nth, word)| {
                let told = sentence.word(at + nth);
                told == word || (nth == last && told.strip_suffix('s') == Some(word))
            });
            same.then_some((ids.as_slice(), at + words.len()))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{marked_with, tried};

    const GUIDE: &str = r#"
connector = [{ id = "heater-plug", name = "Seat heater connector, grey" }]
item = [
  { id = "cover", name = "Rail end cover" },
  { id = "hose", name = "Return hose" },
  { id = "lamp-left", name = "Rear lamp, left" },
  { id = "lamp-right", name = "Rear lamp, right" },
  { id = "seat", name = "Seat" },
]
part = [{ id = "base", name = "Swivel base" }]
hardware = [{ id = "bolt", name = "Flange bolt, base" }]
"#;

    fn marks(step: &str, prose: &str) -> Vec<String> {
        marked_with(&RULE, GUIDE, step, prose)
    }

    #[test]
    fn what_only_the_words_tell_is_found() {
        for (step, prose, mark) in [
            ("", "Unplug [the grey connector](connector:heater-plug).", "Unplug [the grey connector"),
            ("", "Disconnect the seat heater connector.", "Disconnect the seat heater connector"),
            ("", "Take off the rail end cover.", "Take off the rail end cover"),
            ("", "Take [the cover](item:cover) off carefully.", "Take [the cover"),
            ("", "Remove the old return hose from the van.", "Remove the old return hose"),
            ("do = [{ remove = \"cover\" }]", "Drain [the hose](item:hose).", "Drain [the hose"),
            ("do = [{ disconnect = \"heater-plug\" }]", "Reconnect [it all](connector:heater-plug).", "Reconnect [it all"),
            ("do = [{ fit = \"base\" }]", "Remove the swivel base.", "Remove the swivel base"),
            ("do = [{ inspect = \"cover\" }]", "Tighten the four flange bolts.", "Tighten the four flange bolts"),
            ("", "Before the test, plug in [the connector](connector:heater-plug).", "plug in [the connector"),
            ("", "If the van has a heater, unplug the seat heater connector.", "unplug the seat heater connector"),
            ("", "- Throw away [the bolts](hardware:bolt).", "Throw away [the bolts"),
            ("", "Cut [the hose](item:hose) at the mark.", "Cut [the hose"),
            ("do = [{ remove = \"seat\" }]", "Take the rear lamps out.", "Take the rear lamps"),
        ] {
            assert_eq!(marks(step, prose), [mark], "{prose}");
        }
        let said = |step: &str, prose: &str| tried(&RULE, GUIDE, step, prose)[0].1.clone();
        assert_eq!(said("", "Take [it](part:base) off."), "the words say `take off`, the facts of the step do not: Swivel base");
        assert_eq!(said("", "Take off [it](part:base)."), "the words say `take off`, the facts of the step do not: Swivel base");
        assert_eq!(said("", "Fit [it](part:base)."), "the words say `fit`, the facts of the step do not: Swivel base");
        let opposite = said("do = [{ disconnect = \"heater-plug\" }]", "Reconnect [it](connector:heater-plug).");
        assert_eq!(opposite, "the words say `reconnect`, the facts of the step only `disconnect`: Seat heater connector, grey");
    }

    #[test]
    fn what_the_facts_tell_and_what_is_no_operation_is_left_alone() {
        for (step, prose) in [
            ("do = [{ disconnect = \"heater-plug\" }]", "Unplug [the grey connector](connector:heater-plug)."),
            ("do = [{ remove = \"heater-plug\" }]", "Unplug the seat heater connector."),
            ("do = [{ remove = \"cover\", hardware = \"4 x bolt\" }]", "Undo [the four bolts](hardware:bolt)."),
            ("do = [{ remove = \"lamp-left\" }, { disconnect = \"hose\" }]", "Take the rear lamp out."),
            ("do = [{ disconnect = \"hose\" }, { connect = \"hose\" }]", "Connect [the hose](item:hose)."),
            ("", "Do not unplug [the connector](connector:heater-plug)."),
            ("", "Never remove the rail end cover."),
            ("", "If the hose leaks, remove [the hose](item:hose)."),
            ("", "Undo the screws of [the cover](item:cover)."),
            ("do = [{ fit = \"hose\", hardware = \"2 x bolt\" }]", "Loosen [the bolts](hardware:bolt) by a turn."),
            ("", "Remove the rail end cover clip."),
            ("", "Take the rail end cover to the bench."),
            ("", "Push [the hose](item:hose) aside."),
            ("", "The rail end cover is removed."),
            ("", "Remove the seat."),
            ("", "Remove it with [the lever](tool:lever)."),
            ("", "> Remove [the cover](item:cover)."),
            ("", "Drill [the hole](spec:drill) first."),
            ("", "Lift [the seat](item:seat) a little."),
        ] {
            assert_eq!(marks(step, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
