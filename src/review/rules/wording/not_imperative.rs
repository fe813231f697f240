//! `not-imperative`: an action is told in the passive or as a duty, not as a command.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::phrases::{is_participle, opens_clause, opens_condition};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::NotImperative, Family::Wording, Severity::Remark, Check::Guide(check), include_str!("not_imperative.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for sentence in subject.words().all_instructions() {
        if sentence.command().is_some() {
            continue;
        }
        if let Some((from, to, how)) = told_otherwise(&sentence) {
            findings.push(RULE.at(
                subject.guide.place(sentence.place(from, to)),
                format!("`{}` tells an action {how}", sentence.words(from, to)),
                "tell it as a command: begin with the verb",
            ));
        }
    }
}

/// Participles of work that is done step by step: after `is` or `are` they tell an action.
const DEEDS: &[&str] = &[
    "cleaned",
    "degreased",
    "discarded",
    "disconnected",
    "drained",
    "drilled",
    "filled",
    "fitted",
    "greased",
    "inserted",
    "inspected",
    "installed",
    "lifted",
    "loosened",
    "lowered",
    "measured",
    "mounted",
    "poured",
    "pulled",
    "pushed",
    "raised",
    "reconnected",
    "refilled",
    "refitted",
    "removed",
    "replaced",
    "slackened",
    "tested",
    "tightened",
    "torqued",
    "unbolted",
    "unplugged",
    "unscrewed",
];
/// Participles that tell a state as often: only where nothing else follows are they read as work.
const DEEDS_OR_STATES: &[&str] = &[
    "applied",
    "attached",
    "bolted",
    "capped",
    "checked",
    "clamped",
    "connected",
    "crimped",
    "cut",
    "fitted",
    "fixed",
    "installed",
    "laid",
    "marked",
    "mounted",
    "placed",
    "plugged",
    "pressed",
    "put",
    "riveted",
    "routed",
    "screwed",
    "switched",
    "taped",
    "tied",
    "turned",
    "undone",
];

/// Words of a duty or the passive in the main clause, and how they tell the action.
fn told_otherwise(sentence: &Sentence<'_>) -> Option<(usize, usize, &'static str)> {
    let start = main_clause(sentence)?;
    // What was or is done elsewhere is no work of this step.
    if (start..sentence.len()).any(|at| matches!(sentence.word(at), "factory" | "supplier" | "already" | "step" | "what")) {
        return None;
    }
    let is_person = |word: &str| {
        matches!(
            word,
            "you" | "fitter" | "technician" | "mechanic" | "installer" | "operator" | "worker" | "electrician" | "inspector" | "we" | "one"
        )
    };
    for at in start..sentence.len() {
        let word = sentence.word(at);
        if opens_clause(word) || sentence.is_mark(at, ";") || sentence.is_mark(at, ":") {
            return None;
        }
        if let Some(behind) = behind_duty(sentence, at) {
            let not = behind + usize::from(matches!(sentence.word(behind), "not" | "never" | "always" | "also"));
            if is_person(sentence.word(at.wrapping_sub(1))) {
                return Some((at - 1, behind, "as a duty"));
            }
            let participle = behind_adverbs(sentence, not + 1);
            if sentence.word(not) == "be" && is_participle(sentence.word(participle)) {
                return Some((at, participle + 1, "as a duty"));
            }
        }
        if matches!(word, "is" | "are" | "gets" | "get") {
            let participle = behind_adverbs(sentence, at + 1);
            if is_deed(sentence, participle) {
                return Some((at, participle + 1, "in the passive"));
            }
        }
    }
    None
}

/// Where the main clause begins: behind a condition and its comma. A condition without a comma hides it.
fn main_clause(sentence: &Sentence<'_>) -> Option<usize> {
    let start = sentence.behind_lead(0);
    if !opens_condition(sentence.word(start)) && !opens_clause(sentence.word(start)) {
        return Some(start);
    }
    (start..sentence.len()).rev().find(|&at| sentence.is_mark(at, ",")).map(|comma| comma + 1)
}

/// The token behind words that say a duty: `must`, `has to`.
fn behind_duty(sentence: &Sentence<'_>, at: usize) -> Option<usize> {
    match (sentence.word(at), sentence.word(at + 1)) {
        ("must" | "should" | "shall", _) => Some(at + 1),
        ("has" | "have" | "needs" | "need" | "ought" | "is" | "are", "to") => Some(at + 2),
        _ => None,
    }
}

fn behind_adverbs(sentence: &Sentence<'_>, mut at: usize) -> usize {
    while matches!(sentence.word(at), "then" | "now" | "first" | "again" | "next" | "finally" | "also")
        || (sentence.word(at).len() > 4 && sentence.word(at).ends_with("ly"))
    {
        at += 1;
    }
    at
}

fn is_deed(sentence: &Sentence<'_>, participle: usize) -> bool {
    let (word, next) = (sentence.word(participle), sentence.word(participle + 1));
    // `is opened by the lever` tells what does it.
    let by_something = next == "by" && sentence.word(participle + 2) != "hand";
    // What may follow where the work is meant; any other word makes it a place or a kind: `bolted together`, `mounted behind`.
    let told_as_work = matches!(
        next,
        "" | "again" | "back" | "first" | "last" | "now" | "next" | "crosswise" | "by" | "before" | "after" | "and" | "then" | "off"
    );
    let state = DEEDS_OR_STATES.contains(&word);
    (DEEDS.contains(&word) || state) && !by_something && (!state || told_as_work)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked;

    #[test]
    fn passives_and_duties_are_found() {
        for (prose, mark) in [
            ("The bolts are tightened.", "are tightened"),
            ("The bolts are then tightened to [](spec:s).", "are then tightened"),
            ("The cover is now carefully removed.", "is now carefully removed"),
            ("The seal must be fitted before the cover.", "must be fitted"),
            ("The ring must not be reused.", "must not be reused"),
            ("The hose has to be secured with a tie.", "has to be secured"),
            ("You should check the level.", "You should"),
            ("You must hold the connector by its housing.", "You must"),
            ("The fitter has to wear gloves.", "fitter has to"),
            ("If the clip is broken, it must be replaced.", "must be replaced"),
            ("After the test, the hose is disconnected.", "is disconnected"),
            ("- The fluid is drained into a tray.", "is drained"),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
    }

    #[test]
    fn commands_states_and_conditions_are_left_alone() {
        for prose in [
            "Tighten the bolts.",
            "If the clip is broken, replace it.",
            "When the bolts are tightened, paint a line across each head.",
            "Check that the bolts are tightened.",
            "The module is mounted behind the panel.",
            "The cover is fitted with two clips.",
            "The lock is opened by the lever.",
            "The paint is dry.",
            "The battery is disconnected in step 3.",
            "What is removed lies on the bench.",
            "The two plates are bolted together.",
            "The holes are drilled at the factory.",
            "The two plates are fixed with rivets.",
            "Wait until the fluid is drained.",
            "The lamp that must be tested is on the left.",
            "The restraint wiring is never cut.",
            "The arrow must point to the front.",
            "> The bolts are tightened at the end.",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
