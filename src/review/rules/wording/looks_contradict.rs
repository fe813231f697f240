//! `looks-contradict`: the words give a thing another colour or number of ways than its name.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::guide::names::Thing;
use crate::guide::prose::RefKind;
use crate::review::named::{colour, singular, words};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;
use crate::wiring::Colour;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LooksContradict, Family::Wording, Severity::Query, Check::Guide(check), include_str!("looks_contradict.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for sentence in subject.words().instructions(at) {
            let mut token = 0;
            while token < sentence.len() {
                if sentence.link(token).is_none() {
                    findings.extend(unlinked(subject, step, &sentence, token));
                    token += 1;
                    continue;
                }
                let end = sentence.link_end(token);
                let from = if token > 0 && colour(sentence.word(token - 1)).is_some() { token - 1 } else { token };
                let thing = sentence.reference(token).and_then(|reference| match reference.kind {
                    RefKind::Item | RefKind::Connector | RefKind::Part | RefKind::Hardware => subject.names.thing(&reference.id),
                    RefKind::Spec | RefKind::Tool | RefKind::Step | RefKind::Caution => None,
                });
                if let Some(thing) = thing {
                    findings.extend(contradiction(subject, &sentence, from, end, thing));
                }
                token = end;
            }
        }
    }
}

/// `Connect the black lead`, where the only lead of the step is red.
fn unlinked(subject: &Subject<'_, '_>, step: &Step<'_>, sentence: &Sentence<'_>, at: usize) -> Option<Finding> {
    colour(sentence.word(at))?;
    let noun = singular(sentence.word(at + 1));
    if noun.len() < 3 || sentence.link(at + 1).is_some() || matches!(noun, "and" | "with" | "wire") {
        return None;
    }
    let mut things = step
        .operations
        .iter()
        .flat_map(|operation| &operation.targets)
        .filter_map(|id| subject.names.thing(&id.value))
        .filter(|thing| words(thing.name()).iter().any(|word| singular(word) == noun));
    let thing = things.next()?;
    things.all(|other| other.id().value == thing.id().value).then(|| contradiction(subject, sentence, at, at + 2, thing)).flatten()
}

fn contradiction(subject: &Subject<'_, '_>, sentence: &Sentence<'_>, from: usize, to: usize, thing: Thing<'_>) -> Option<Finding> {
    let name = words(thing.name());
    let told: Vec<Colour> = (from..to).filter_map(|at| colour(sentence.word(at))).collect();
    let facts: Vec<Colour> = name.iter().filter_map(|word| colour(word)).collect();
    let other = |told: &&Colour| !facts.is_empty() && !facts.contains(*told);
    let ways = |word: &str| word.strip_suffix("-way").or_else(|| word.strip_suffix("-pin")).map(str::to_owned);
    let said = (from..to).find_map(|at| ways(sentence.folded(at)));
    let has = thing.name().to_lowercase().split_whitespace().find_map(|word| ways(word.trim_matches(',')));
    let what = match told.iter().find(other) {
        Some(told) => told.name().to_owned(),
        None => said.zip(has).filter(|(said, has)| said != has).map(|(said, _)| format!("{said}-way"))?,
    };
    let message = format!("the words say {what}, the name is `{}`", thing.name());
    Some(RULE.at(subject.guide.place(sentence.place(from, to)), message, "look at the thing, and mend whichever of the two is wrong"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"
connector = [{ id = "plug", name = "Lamp connector, black, 2-way" }]
part = [{ id = "lead", name = "Stud lead, red" }, { id = "box", name = "Control box" }]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            ("", "Unplug [the yellow connector](connector:plug).", "the yellow connector"),
            ("", "Unplug the grey [connector](connector:plug).", "grey [connector"),
            ("", "Unplug [the 4-way connector](connector:plug).", "the 4-way connector"),
            (r#"do = [{ fit = "lead" }]"#, "Connect the black lead to the stud.", "black lead"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            ("", "Unplug [the black connector](connector:plug)."),
            ("", "Unplug [the 2-way connector](connector:plug)."),
            (r#"do = [{ fit = "lead" }]"#, "Connect the red lead to the stud."),
            (r#"do = [{ fit = "box" }]"#, "Connect the red wire of [the box](part:box)."),
            ("", "Hold [the white box](part:box)."),
            ("", "Look at the red lamp of [the connector](connector:plug)."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
