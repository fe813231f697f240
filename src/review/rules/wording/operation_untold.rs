//! `operation-untold`: the words tell an operation that the step's facts do not.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::review::named::Named;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;
use crate::review::telling::{Told, has_particle, is_opposite, is_rework, object, told};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OperationUntold, Family::Wording, Severity::Query, Check::Guide(check), include_str!("operation_untold.md"));

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
    let (key, id) = (told.verb.key(), ids[0]);
    let remedy =
        format!("tell it as an operation, [{}]({key}:{id}), or add it to the step's `do`, or mend the words", sentence.words(verb, end));
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
