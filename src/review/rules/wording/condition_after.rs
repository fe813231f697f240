//! `condition-after`: the condition stands behind the command.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::phrases::is_verb;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Command, Sentence};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ConditionAfter, Family::Wording, Severity::Remark, Check::Guide(check), include_str!("condition_after.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for sentence in subject.words().all_instructions() {
        let Some(command) = sentence.command() else { continue };
        if let Some((from, to)) = condition(&sentence, command) {
            findings.push(RULE.at(
                subject.guide.place(sentence.place(from, to)),
                format!("the condition `{}` stands behind the command", sentence.words(from, to)),
                "begin with the condition, then a comma, then the command",
            ));
        }
    }
}

/// Verbs that ask: what follows their `if` is the question.
const ASKING: &[&str] = &[
    "ask",
    "check",
    "confirm",
    "determine",
    "examine",
    "feel",
    "find",
    "inspect",
    "listen",
    "look",
    "measure",
    "note",
    "observe",
    "record",
    "report",
    "see",
    "test",
    "try",
    "verify",
    "watch",
    "write",
];

fn condition(sentence: &Sentence<'_>, command: Command) -> Option<(usize, usize)> {
    let end = sentence.body_len();
    for at in command.verb + 1..end {
        // What follows is a clause with a command of its own.
        if sentence.is_mark(at, ";") || sentence.is_mark(at, ":") {
            return None;
        }
        let word = sentence.word(at);
        let opens = match word {
            "if" => !is_question(sentence, command, at) && !is_vague(sentence, at),
            "unless" => !command.negated,
            "in" => sentence.word(at + 1) == "case" && sentence.word(at + 2) != "of",
            "provided" => sentence.word(at + 1) == "that",
            _ => false,
        };
        let before = sentence.word(at - 1);
        let joined = matches!(before, "as" | "even" | "and" | "or" | "but" | "see" | "whether");
        if !opens || joined || sentence.link(at).is_some() {
            continue;
        }
        // `..., if it sticks, press the latch`: the condition of what follows.
        let of_next = (at..end).any(|comma| sentence.is_mark(comma, ",") && is_verb(sentence.word(sentence.behind_lead(comma + 1))));
        let from = if before == "only" { at - 1 } else { at };
        // A condition in brackets ends with them.
        let end = (at..end).find(|&close| sentence.is_mark(close, ")")).unwrap_or(end);
        return (!of_next).then_some((from, end));
    }
    None
}

fn is_question(sentence: &Sentence<'_>, command: Command, at: usize) -> bool {
    let asks = |word: &str| ASKING.contains(&word);
    let comma = (command.verb..at).any(|between| sentence.is_mark(between, ","));
    (asks(sentence.word(command.verb)) && !comma) || asks(sentence.word(at - 1))
}

/// `if necessary` is no condition that can be tested; the words themselves are at fault.
fn is_vague(sentence: &Sentence<'_>, at: usize) -> bool {
    matches!(
        sentence.word(at + 1),
        "necessary" | "required" | "needed" | "possible" | "applicable" | "desired" | "appropriate" | "any" | "so" | "not"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked;

    #[test]
    fn conditions_behind_the_command_are_found() {
        for (prose, mark) in [
            ("Stop the work if the line leaks.", "if the line leaks"),
            ("Tell the foreman if a part is missing.", "if a part is missing"),
            ("Replace the clip, if it is broken.", "if it is broken"),
            ("Use the lever only if the clip sticks.", "only if the clip sticks"),
            ("Do not start the engine if the hose is off.", "if the hose is off"),
            ("Disconnect the heater plug if fitted.", "if fitted"),
            ("Remove the trim (if fitted) from the door.", "if fitted"),
            ("Leave the fuse out unless the electrician says so.", "unless the electrician says so"),
            ("Keep a cloth ready in case fluid runs out.", "in case fluid runs out"),
            ("After the test, tighten the clamp if it drips.", "if it drips"),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
    }

    #[test]
    fn other_uses_are_left_alone() {
        for prose in [
            "If the line leaks, stop the work.",
            "Check if the line leaks.",
            "Check whether the line leaks.",
            "Look at the hose to see if it leaks.",
            "Press the button even if the lamp is on.",
            "Turn it as if it were a screw.",
            "Wait until the lamp goes out.",
            "Clean the face before the paint dries.",
            "Tighten the bolt if necessary.",
            "Measure the gap, and if it is smaller, move the base.",
            "Do not start the engine unless the brake is on.",
            "The line leaks if the ring is old.",
            "> Stop the work if the line leaks.",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
