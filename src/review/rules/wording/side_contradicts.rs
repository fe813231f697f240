//! `side-contradicts`: words and facts name opposite sides of the vehicle, of a pair or of a circuit.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Item, Operation, Step, Text};
use crate::guide::prose::RefKind;
use crate::guide::verb::Verb;
use crate::guide::words::PassageRef;
use crate::review::named::{Named, Side, against, is_content, side, side_word, sides, singular, words};
use crate::review::phrases::is_determiner;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;
use crate::review::telling::told;
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SideContradicts, Family::Wording, Severity::Query, Check::Guide(check), include_str!("side_contradicts.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let mut named: Option<Named<'_>> = None;
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for reading in subject.words().step(at) {
            for sentence in reading.sentences() {
                in_links(subject, &sentence, findings);
            }
        }
        for sentence in subject.words().instructions(at) {
            findings.extend(in_object(subject, step, &sentence, &mut named));
        }
        for sentence in subject.words().instructions(at) {
            findings.extend(against_title(subject, step, &sentence));
        }
        findings.extend(in_title(subject, step));
        for operation in &step.operations {
            findings.extend(in_note(subject, operation));
        }
    }
    findings.extend(note_twice(subject));
    for item in &subject.guide.own.items.rows {
        findings.extend(in_id(subject, &item.id, &item.name));
        findings.extend(behind(subject, item));
    }
    for part in &subject.guide.own.parts.rows {
        findings.extend(in_id(subject, &part.id, &part.name));
    }
}

/// The name of what a reference leads to, where it is a thing.
fn name_of<'g>(subject: &Subject<'g, '_>, reference: &PassageRef) -> Option<&'g str> {
    match reference.kind {
        RefKind::Item | RefKind::Connector | RefKind::Part | RefKind::Hardware => {
            subject.names.thing(&reference.id).map(|thing| thing.name())
        }
        RefKind::Spec => subject.names.spec(&reference.id)?.name.as_ref().map(Text::as_str),
        RefKind::Tool | RefKind::Step | RefKind::Caution => None,
    }
}

/// `the left [bracket](item:bracket-right)`.
fn in_links(subject: &Subject<'_, '_>, sentence: &Sentence<'_>, findings: &mut Vec<Finding>) {
    let mut at = 0;
    while at < sentence.len() {
        if sentence.link(at).is_none() {
            at += 1;
            continue;
        }
        let end = sentence.link_end(at);
        let from = if at > 0 && side(sentence.word(at - 1), "").is_some() { at - 1 } else { at };
        let told: Vec<Side> = (from..end).filter_map(|token| side(sentence.word(token), sentence.word(token + 1))).collect();
        if let Some(name) = sentence.reference(at).and_then(|reference| name_of(subject, reference))
            && let Some(wrong) = against(&told, &sides(&words(name)))
        {
            findings.push(told_of(subject.guide.place(sentence.place(from, end)), wrong, name));
        }
        at = end;
    }
}

/// `Undo the left lamp`, where the step undoes only the right one, as the object of a command without a reference.
fn in_object<'g>(subject: &Subject<'g, '_>, step: &Step<'_>, sentence: &Sentence<'_>, named: &mut Option<Named<'g>>) -> Option<Finding> {
    let command = sentence.command().filter(|command| !command.negated)?;
    let told = told(sentence, command.verb)?;
    let from = (told.object..sentence.len()).find(|&token| !is_determiner(sentence.word(token)))?;
    let wrong = side(sentence.word(from), sentence.word(from + 1))?;
    if sentence.link(from + 1).is_some() {
        return None;
    }
    let named = named.get_or_insert_with(|| Named::new(subject.names));
    // The name stands behind the side, or is the word behind it.
    let (ids, end) = named.at(sentence, from + 1).map_or((&[][..], from + 2), |(ids, end)| (ids, end));
    let noun = singular(sentence.word(end - 1));
    let mut right: Option<&str> = None;
    for id in step.operations.iter().flat_map(|operation| &operation.targets) {
        let thing = subject.names.thing(&id.value)?;
        let name = words(thing.name());
        let is = ids.contains(&id.value.as_str()) || name.iter().any(|word| singular(word) == noun);
        if !is {
            continue;
        }
        let facts = sides(&name);
        if facts.contains(&wrong) || !facts.contains(&(wrong.0, !wrong.1)) {
            return None;
        }
        right.get_or_insert(thing.name());
    }
    right.map(|name| told_of(subject.guide.place(sentence.place(from, end)), wrong, name))
}

/// `Set it into the right side`, under a heading that says left and nothing of right.
fn against_title(subject: &Subject<'_, '_>, step: &Step<'_>, sentence: &Sentence<'_>) -> Option<Finding> {
    let title = sides(&words(step.title.as_str()));
    let at =
        (1..sentence.len()).find(|&at| sentence.word(at) == "side" && side(sentence.word(at - 1), "").is_some_and(|side| side.0 == 0))?;
    let told = side(sentence.word(at - 1), "")?;
    let command = sentence.command().is_some_and(|command| !command.negated);
    let from = (0..at).any(|token| matches!(sentence.word(token), "from" | "as" | "like" | "other" | "opposite"));
    let wrong = against(&[told], &title).filter(|_| command && !from && sentence.link(at).is_none())?;
    Some(told_of(subject.guide.place(sentence.place(at - 1, at + 1)), wrong, step.title.as_str()))
}

/// The same side told of two operations on one sort of thing, and the other side of none.
fn note_twice(subject: &Subject<'_, '_>) -> Option<Finding> {
    let mut seen: Vec<(&str, Verb, Side, Place)> = Vec::new();
    let mut twice: Vec<(&str, Verb, Side, Place)> = Vec::new();
    let mut other: Vec<(&str, Verb, Side)> = Vec::new();
    for (_, operation) in subject.guide.operations() {
        let (Some(note), [target]) = (&operation.note, operation.targets.as_slice()) else { continue };
        let told = sides(&words(note.as_str()));
        let ([side], true) = (told.as_slice(), words(note.as_str()).len() <= 3) else { continue };
        let (id, place) = (target.value.as_str(), subject.guide.place(note.span));
        if seen.iter().any(|(known, verb, same, _)| *known == id && *verb == operation.verb && same == side) {
            twice.push((id, operation.verb, *side, place));
        }
        other.push((id, operation.verb, *side));
        seen.push((id, operation.verb, *side, place));
    }
    let lone = twice.into_iter().find(|(id, verb, side, _)| !other.contains(&(id, *verb, (side.0, !side.1))))?;
    let (id, _, side, place) = lone;
    let name = subject.names.thing(id).map_or(id, |thing| thing.name());
    let message = format!("`{name}` is worked on twice at the {} and never at the {}", side_word(side), side_word((side.0, !side.1)));
    Some(RULE.at(place, message, "look at the vehicle, and mend one of the two notes"))
}

/// A heading that names a side which nothing in the step is on.
fn in_title(subject: &Subject<'_, '_>, step: &Step<'_>) -> Option<Finding> {
    let title = sides(&words(step.title.as_str()));
    let names: Vec<&str> = step
        .operations
        .iter()
        .flat_map(|operation| &operation.targets)
        .filter_map(|id| Some(subject.names.thing(&id.value)?.name()))
        .collect();
    let facts: Vec<Side> = names.iter().flat_map(|name| sides(&words(name))).collect();
    let wrong = against(&title, &facts)?;
    let name = names.iter().find(|name| sides(&words(name)).contains(&(wrong.0, !wrong.1)))?;
    // The heading and the thing speak of the same: `Front lamps` beside a connector behind them does not.
    let same = words(step.title.as_str())
        .iter()
        .any(|word| is_content(word) && side(word, "").is_none() && words(name).iter().any(|other| singular(other) == singular(word)));
    same.then(|| told_of(subject.guide.place(step.title.span), wrong, name))
}

fn in_note(subject: &Subject<'_, '_>, operation: &Operation) -> Option<Finding> {
    let note = operation.note.as_ref()?;
    let told = sides(&words(note.as_str()));
    let [target] = operation.targets.as_slice() else { return None };
    let name = subject.names.thing(&target.value)?.name();
    let wrong = against(&told, &sides(&words(name)))?;
    // `from the left` says where one stands, `left side first` in which order.
    let short = words(note.as_str()).len() <= 3;
    short.then(|| told_of(subject.guide.place(note.span), wrong, name))
}

/// An id that says another side than its name.
fn in_id(subject: &Subject<'_, '_>, id: &Text, name: &Text) -> Option<Finding> {
    let wrong = against(&sides(&words(id.as_str())), &sides(&words(name.as_str())))?;
    Some(told_of(subject.guide.place(name.span), (wrong.0, !wrong.1), id.as_str()))
}

/// What lies behind a thing of the other side.
fn behind(subject: &Subject<'_, '_>, item: &Item) -> Option<Finding> {
    let own = sides(&words(item.name.as_str()));
    item.behind.iter().find_map(|front| {
        let name = subject.names.thing(&front.value)?.name();
        let wrong = against(&sides(&words(name)), &own).filter(|wrong| wrong.0 == 0)?;
        Some(told_of(subject.guide.place(front.span), wrong, item.name.as_str()))
    })
}

fn told_of(place: Place, wrong: Side, name: &str) -> Finding {
    RULE.at(
        place,
        format!("`{}` stands beside `{name}`, which is on the other side", side_word(wrong)),
        "look at the vehicle, and mend whichever of the two is wrong",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{THINGS, finds, leaves_alone};

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ remove = "lamp-right" }]"#, "Pull [the left lamp](item:lamp-right) out.", "the left lamp"),
            (r#"do = [{ remove = "lamp-right" }]"#, "Pull the left [lamp](item:lamp-right) out.", "left [lamp"),
            (r#"do = [{ remove = "lamp-right" }]"#, "Take the left rear lamp out.", "left rear lamp"),
            (r#"do = [{ remove = "lamp-right", note = "left side" }]"#, "Pull the lamp out.", "left side"),
            (r#"do = [{ fit = "base", note = "left side" }, { fit = "base", note = "left" }]"#, "Fit them.", "left"),
            (r#"do = [{ disconnect = "hose" }]"#, "Pull [the supply hose](item:hose) off.", "the supply hose"),
        ];
        finds(&RULE, THINGS, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ remove = "lamp-right" }]"#, "Pull [the right lamp](item:lamp-right) out."),
            (r#"do = [{ remove = ["lamp-left", "lamp-right"] }]"#, "Pull [the left and right lamps](item:lamp-right) out."),
            (r#"do = [{ remove = "lamp-right" }]"#, "Turn [the lamp](item:lamp-right) left."),
            (r#"do = [{ remove = "lamp-right" }]"#, "Stand on the left side and take [the lamp](item:lamp-right) out."),
            (r#"do = [{ remove = "lamp-right" }]"#, "Leave [the lamp](item:lamp-left) in."),
            (r#"do = [{ remove = "lamp-right" }]"#, "Hold [the lamp](item:lamp-right) at a right angle."),
            (r#"do = [{ remove = ["lamp-left", "lamp-right"] }]"#, "Take the left rear lamp out."),
        ];
        leaves_alone(&RULE, THINGS, &cases);
    }
}
