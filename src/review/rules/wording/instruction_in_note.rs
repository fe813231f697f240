//! `instruction-in-note`: a note holds an instruction, a limit or a duty.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::prose::RefKind;
use crate::review::phrases::{is_also_noun, unit_tokens};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::InstructionInNote, Family::Wording, Severity::Query, Check::Guide(check), include_str!("instruction_in_note.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for reading in subject.words().all().filter(|reading| reading.is_note()) {
        for sentence in reading.sentences() {
            // A safety message in words is another fault.
            if is_signal(sentence.word(0)) {
                break;
            }
            let start = sentence.note_label();
            let Some((what, remedy)) = held(&sentence, start) else { continue };
            findings.push(RULE.at(subject.guide.place(sentence.place(start, sentence.len())), format!("the note holds {what}"), remedy));
        }
    }
}

fn is_signal(word: &str) -> bool {
    matches!(word, "danger" | "warning" | "caution" | "notice")
}

/// What a sentence of a note holds that does not belong there, and where it belongs.
fn held(sentence: &Sentence<'_>, start: usize) -> Option<(&'static str, &'static str)> {
    if is_command(sentence, start) {
        return Some(("an instruction", "write it as a sentence of the step, at its place in the work"));
    }
    if (start..sentence.len()).any(|at| is_duty(sentence, at)) {
        return Some(("a duty", "write it as an instruction of the step, or as a check"));
    }
    let limit = (start..sentence.len()).any(|at| is_limit(sentence, at));
    limit.then_some(("a limit", "write it in a [[spec]] with its source, and refer to it where the work is done"))
}

/// Whether it gives a command. `See` and the like only lead to another page.
fn is_command(sentence: &Sentence<'_>, start: usize) -> bool {
    let Some(command) = sentence.command_from(start) else { return false };
    let word = sentence.word(command.verb);
    // A bare word that may be a noun, as in `Drain plug: 19 mm`, is not clear enough here.
    let clear = !is_also_noun(word) || sentence.is_object(command.verb + 1) || command.negated;
    clear && !matches!(word, "see" | "note" | "compare" | "read")
}

fn is_duty(sentence: &Sentence<'_>, at: usize) -> bool {
    match sentence.word(at) {
        "must" | "should" | "shall" => true,
        "have" | "has" => sentence.word(at + 1) == "to" && !sentence.word(at + 2).is_empty(),
        "need" => sentence.word(at + 1) == "to" && at > 0 && sentence.word(at - 1) == "you",
        _ => false,
    }
}

/// A bound with a value: `at most 5 mm`, `max. 30 A`, `no more than [](spec:gap)`.
fn is_limit(sentence: &Sentence<'_>, at: usize) -> bool {
    let value = match (sentence.word(at), sentence.word(at + 1), sentence.word(at + 2)) {
        ("at", "most" | "least", _) | ("not", "exceed", _) => at + 2,
        // `lasts for up to 10 s` and `draws more than 5 mA` tell how it is.
        ("up", "to", _) if sentence.word(at.wrapping_sub(1)) != "for" => at + 2,
        ("less" | "more", "than", _) if matches!(sentence.word(at.wrapping_sub(1)), "no" | "not") => at + 2,
        ("maximum" | "minimum", "of", _) => at + 2,
        ("maximum" | "minimum" | "below" | "above" | "within" | "under" | "over", _, _) => at + 1,
        ("max" | "min", _, _) => at + 1 + usize::from(sentence.is_mark(at + 1, ".")),
        ("exceed" | "exceeds", _, _) => at + 1,
        _ => return false,
    };
    match sentence.sort(value) {
        Some(Sort::Number) => unit_tokens(sentence, value) > 0 || sentence.is_mark(value + 1, "°") || sentence.is_mark(value + 1, "%"),
        Some(Sort::Reference) => sentence.reference(value).is_some_and(|reference| reference.kind == RefKind::Spec),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::tried;

    #[test]
    fn what_does_not_belong_into_a_note_is_found() {
        for (prose, mark, what) in [
            ("> Note: Clean the studs first.", "Clean the studs first.", "an instruction"),
            ("> Undo the clamp before the hose is pulled.", "Undo the clamp before the hose is pulled.", "an instruction"),
            ("Note: Do not reuse the ring.", "Do not reuse the ring.", "an instruction"),
            ("Note: if the ring is old, replace it.", "if the ring is old, replace it.", "an instruction"),
            ("> The ring is old. The cap must stay on.", "The cap must stay on.", "a duty"),
            ("> The lamp should go out.", "The lamp should go out.", "a duty"),
            ("> The fitter has to wear gloves.", "The fitter has to wear gloves.", "a duty"),
            ("> The gap is at most 5 mm.", "The gap is at most 5 mm.", "a limit"),
            ("> The cable carries max. 30 A.", "The cable carries max. 30 A.", "a limit"),
            ("> The drop is no more than [](spec:s).", "The drop is no more than [](spec:s).", "a limit"),
        ] {
            assert_eq!(tried(&RULE, "", "", prose), [(mark.to_owned(), format!("the note holds {what}"))], "{prose}");
        }
    }

    #[test]
    fn notes_that_only_tell_something_are_left_alone() {
        for prose in [
            "> Note: The studs come with wax from the factory.",
            "> A regulated alternator lowers its voltage on the move, so the charger needs a signal.",
            "> See [the air test](step:s).",
            "> Drain plugs of older vans are longer.",
            "> The seat weighs 28 kg.",
            "Clean the studs first.",
            "> Warning: Do not touch the fan.",
            "> More than one van has it.",
            "> The lamp stays on for up to 10 s.",
            "> A test lamp draws more than 5 mA.",
            "> Torque values: see the table.",
            "> On vans with a mat the holes lie below it.",
        ] {
            assert_eq!(tried(&RULE, "", "", prose), [], "{prose}");
        }
    }
}
