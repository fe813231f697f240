//! `fate-contradicts`: the words keep what the facts throw away, or throw away what goes back on.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Operation, Step};
use crate::guide::names::Thing;
use crate::guide::verb::Verb;
use crate::review::named::{singular, words};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FateContradicts, Family::Wording, Severity::Query, Check::Guide(check), include_str!("fate_contradicts.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for sentence in subject.words().instructions(at) {
            let Some(command) = sentence.command().filter(|command| !command.negated && command.condition.is_none()) else { continue };
            let Some(keeps) = fate(&sentence, command.verb) else { continue };
            for (from, to, thing) in things(subject, step, &sentence, command.verb + 1) {
                let Some(facts) = fate_of(subject, at, thing) else { continue };
                if facts != keeps {
                    let message = if keeps {
                        format!("the words keep `{}`, the facts throw it away", thing.name())
                    } else {
                        format!("the words throw `{}` away, the facts put it back on", thing.name())
                    };
                    findings.push(RULE.at(
                        subject.guide.place(sentence.place(from, to)),
                        message,
                        "find out which is right: what is used once is replaced, what goes back on is kept",
                    ));
                    break;
                }
            }
        }
    }
}

/// Whether a sentence keeps something or throws it away; none if it does neither.
fn fate(sentence: &Sentence<'_>, verb: usize) -> Option<bool> {
    let has = |word: &str| (verb..sentence.len()).any(|at| sentence.word(at) == word);
    match sentence.word(verb) {
        "discard" => Some(false),
        "throw" if has("away") => Some(false),
        // `Keep the area clean`, `keep hands away` keep nothing for later.
        "keep" | "save" | "retain" if sentence.is_object(verb + 1) || sentence.word(verb + 1) == "rooflight" || has("for") => {
            let state = [
                "clean", "dry", "clear", "away", "off", "closed", "open", "free", "upright", "level", "below", "above", "from", "to",
                "within", "at", "on", "out", "under", "between",
            ];
            (!state.iter().any(|word| has(word))).then_some(true)
        }
        "put" | "lay" if has("aside") => Some(true),
        _ => None,
    }
}

/// The things of the step that stand behind the verb: by their references, or by the last word of their names.
fn things<'g>(subject: &Subject<'g, '_>, step: &'g Step<'_>, sentence: &Sentence<'_>, from: usize) -> Vec<(usize, usize, Thing<'g>)> {
    let mut found = Vec::new();
    let here =
        step.operations.iter().flat_map(|operation| operation.targets.iter().chain(operation.hardware.iter().map(|named| &named.id)));
    let here: Vec<Thing<'g>> = here.filter_map(|id| subject.names.thing(&id.value)).collect();
    for token in from..sentence.len() {
        if let Some(reference) = sentence.reference(token) {
            let first = token == 0 || sentence.link(token - 1) != sentence.link(token);
            let end = sentence.link_end(token);
            if let Some(thing) = subject.names.thing(&reference.id).filter(|_| first) {
                found.push((token, end, thing));
            }
            continue;
        }
        let noun = singular(sentence.word(token));
        let mut named = here.iter().filter(|thing| {
            let name = thing.name().split(',').next().unwrap_or_default();
            words(name).last().is_some_and(|last| singular(last) == noun)
        });
        let first = named.next();
        if let Some(thing) = first.filter(|first| named.all(|other| other.id().value == first.id().value)) {
            found.push((token, token + 1, *thing));
        }
    }
    found
}

/// Whether the facts keep a thing that comes off in this step: true if it goes back on, false if it is thrown away, none if they do not say.
fn fate_of(subject: &Subject<'_, '_>, at: usize, thing: Thing<'_>) -> Option<bool> {
    let id = thing.id().as_str();
    let steps = &subject.guide.steps;
    let acts = |operation: &Operation| operation.targets.iter().any(|target| target.value == id);
    let uses = |operation: &Operation| operation.hardware.iter().any(|named| named.id.value == id);
    match thing {
        Thing::Hardware(hardware) => {
            let off = steps[at].operations.iter().find(|operation| operation.verb.undoes() && (acts(operation) || uses(operation)))?;
            let later = steps[at..]
                .iter()
                .flat_map(|step| &step.operations)
                .any(|operation| operation.verb.does_up() && (acts(operation) || uses(operation)));
            if off.discard_hardware || hardware.one_use {
                Some(false)
            } else if off.keep || later && hardware.supplied.as_ref().is_none_or(|count| count.value == 0) {
                Some(true)
            } else {
                None
            }
        }
        _ => {
            let all = || steps.iter().flat_map(|step| &step.operations);
            let off = steps[at]
                .operations
                .iter()
                .any(|operation| acts(operation) && (operation.verb.undoes() || operation.verb == Verb::Discard));
            let gone = all().any(|operation| operation.verb == Verb::Discard && acts(operation));
            let back = all().any(|operation| operation.verb.does_up() && acts(operation));
            (off && (gone != back)).then_some(back)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"
item = [{ id = "trim", name = "Sill trim" }, { id = "stop", name = "Bump stop" }]
hardware = [{ id = "clip", name = "Trim clip", one_use = true, supplied = 6 }, { id = "screw", name = "Cover screw", on_vehicle = 4 }]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ remove = "trim", hardware = "6 x clip", discard_hardware = true }]"#, "Keep the clips for later.", "clips"),
            (
                r#"do = [{ remove = "trim", hardware = "6 x clip", discard_hardware = true }]"#,
                "Keep [the clips](hardware:clip).",
                "the clips",
            ),
            (
                r#"do = [{ remove = "trim", hardware = "4 x screw", keep = true }, { fit = "trim", hardware = "4 x screw" }]"#,
                "Throw [the screws](hardware:screw) away.",
                "the screws",
            ),
            (r#"do = [{ remove = "stop" }, { discard = "stop" }]"#, "Keep the bump stop for refitting.", "stop"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ remove = "trim", hardware = "6 x clip", discard_hardware = true }]"#, "Throw the clips away."),
            (
                r#"do = [{ remove = "trim", hardware = "4 x screw", keep = true }, { fit = "trim", hardware = "4 x screw" }]"#,
                "Keep the screws.",
            ),
            (
                r#"do = [{ remove = "trim", hardware = "4 x screw", keep = true }, { fit = "trim", hardware = "4 x screw" }]"#,
                "Keep the screws clean.",
            ),
            (
                r#"do = [{ remove = "trim", hardware = "4 x screw", keep = true }, { fit = "trim", hardware = "4 x screw" }]"#,
                "Do not throw the screws away.",
            ),
            (r#"do = [{ remove = "stop" }, { discard = "stop" }]"#, "Throw the bump stop away."),
            (
                r#"do = [{ remove = "trim", hardware = "4 x screw", keep = true }, { fit = "trim", hardware = "4 x screw" }]"#,
                "If a screw is damaged, throw it away.",
            ),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
