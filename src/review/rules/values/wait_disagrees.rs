//! `wait-disagrees`: the words of a step wait for another time than its facts, or for a time that the facts do not have.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::quantity::{Dimension, Options, Quantity, Scanned, scan};
use crate::review::phrases::number_of;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WaitDisagrees, Family::Values, Severity::Query, Check::Guide(check), include_str!("wait_disagrees.md"));

/// What is said of a time that the work stands still for.
const WAITING: &[&str] = &["wait", "leave", "let", "allow", "cure", "rest", "cool"];

/// What tells to go on without any wait.
const AT_ONCE: &[&str] = &["at once", "immediately", "straight away", "right away", "without waiting", "no need to wait"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let options = subject.shop.language.reading();
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let wait = step.wait.as_ref().and_then(|wait| Some((wait, wait.value.quantity.as_ref()?)));
        for sentence in subject.words().instructions(at) {
            findings.extend(skipped(subject, step, &sentence));
            findings.extend(no_wait_before(subject, at, &sentence));
            let Some(command) = sentence.command().filter(|command| WAITING.contains(&sentence.word(command.verb))) else { continue };
            let number_words = in_number_words(&sentence, &options);
            for found in scan(sentence.text(), &options).into_iter().chain(number_words) {
                let told = &found.quantity;
                // `Wait until the engine has idled for 5 minutes`: the time of something else.
                if told.dimension != Dimension::Time || command.negated {
                    continue;
                }
                let start = sentence.start() + found.range.start;
                let place = subject.guide.place(sentence.reading.passage.place(start, sentence.start() + found.range.end));
                let text = &sentence.text()[found.range.clone()];
                match wait {
                    Some((_, wait)) if same(told, wait) => {}
                    Some((written, _)) => {
                        let message = format!("the words wait {text}, the facts of the step {}", written.value.text);
                        let finding = RULE.at(place, message, "find out which is right, and say it once");
                        findings.push(finding.with_related(subject.guide.place(written.span), "the wait of the step"));
                    }
                    None if sentence.word(command.verb) == "wait" && command.condition.is_none() => {
                        let remedy =
                            format!("add wait = \"{text}\" to the step, so that the checklist has it and the bay view runs a clock");
                        findings.push(RULE.at(place, format!("the words wait {text}, the facts of the step do not"), remedy));
                    }
                    None => {}
                }
            }
        }
    }
}

/// `ten seconds`, `one minute`: a time with its number in words.
fn in_number_words(sentence: &Sentence<'_>, options: &Options) -> Option<Scanned> {
    (0..sentence.len()).find_map(|at| {
        let number = number_of(sentence.word(at)).filter(|_| sentence.sort(at) == Some(Sort::Word))?;
        let unit = sentence.word(at + 1);
        matches!(unit, "second" | "seconds" | "minute" | "minutes" | "hour" | "hours").then_some(())?;
        let mut found = scan(&format!("{number} {unit}"), options).pop()?;
        let start = sentence.offset(at) - sentence.start();
        found.range = start..start + sentence.words(at, at + 2).len();
        Some(found)
    })
}

/// Words that go on at once in a step that waits.
fn skipped(subject: &Subject<'_, '_>, step: &Step<'_>, sentence: &Sentence<'_>) -> Option<Finding> {
    let wait = step.wait.as_ref()?;
    // `If it leaks, stop at once` is no hurry of the work.
    let command = sentence.command().filter(|command| command.condition.is_none())?;
    let stops = command.negated
        || matches!(sentence.word(command.verb), "stop" | "wipe" | "rinse" | "wash" | "close" | "switch" | "leave" | "call");
    let (place, words) = sentence.find(AT_ONCE).filter(|_| !stops)?;
    let place = subject.guide.place(place);
    let finding = RULE.at(
        place,
        format!("the words go on {words}, the facts of the step wait {}", wait.value.text),
        "find out which is right, and mend the other",
    );
    Some(finding.with_related(subject.guide.place(wait.span), "the wait of the step"))
}

/// `after the wait`, where neither this step nor the one before waits.
fn no_wait_before(subject: &Subject<'_, '_>, at: usize, sentence: &Sentence<'_>) -> Option<Finding> {
    let (place, _) = sentence.find(&["after the wait"])?;
    let waits = |step: &Step<'_>| {
        step.wait.is_some()
            || step.operations.iter().flat_map(|operation| &operation.specs).chain(&step.specs).any(|id| {
                subject.names.spec(&id.value).and_then(|spec| spec.quantity()).is_some_and(|value| value.dimension == Dimension::Time)
            })
    };
    let steps = &subject.guide.steps[at.saturating_sub(1)..=at];
    let place = subject.guide.place(place);
    (!steps.iter().any(waits)).then(|| RULE.at(place, "neither this step nor the one before it waits", "give the step that waits a `wait`"))
}

/// Whether two times are one, in whatever unit.
fn same(one: &Quantity, other: &Quantity) -> bool {
    let bounds = |quantity: &Quantity| {
        let (low, high) = quantity.base_bounds();
        (low.or(high), high.or(low))
    };
    let (one, other) = (bounds(one), bounds(other));
    one.0 == other.0 || one.1 == other.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"item = [{ id = "cover", name = "Rail end cover" }]"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"wait = "10 min""#, "Wait 15 minutes.", "15 minutes"),
            (r#"wait = "10 min""#, "Let the glue set for 10 hours.", "10 hours"),
            (r#"wait = "3 min""#, "Wait ten seconds for the clock to go dark.", "ten seconds"),
            (r#"wait = "3 min""#, "Go on at once.", "at once"),
            ("", "Read both gauges again after the wait.", "after the wait"),
            (r#"wait = "3 min""#, "Wait 3 s before you touch it.", "3 s"),
            ("", "Wait 5 minutes.", "5 minutes"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"wait = "10 min""#, "Wait 10 minutes."),
            (r#"wait = "600 s""#, "Wait 10 minutes."),
            (r#"wait = "1 h""#, "Wait an hour."),
            (r#"wait = "10 min""#, "Do not wait 15 minutes."),
            (r#"wait = "10 min""#, "Press it down for 5 s."),
            ("", "If it is hot, wait 5 minutes."),
            ("", "Wait until it is cold."),
            (r#"wait = "3 min""#, "Wait three minutes."),
            (r#"wait = "3 min""#, "If it leaks, switch the pump off at once."),
            (r#"wait = "3 min""#, "Read both gauges again after the wait."),
            ("", "Go on at once."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
