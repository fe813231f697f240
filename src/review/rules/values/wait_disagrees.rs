//! `wait-disagrees`: the words of a step wait for another time than its facts, or for a time that the facts do not have.

use crate::finding::{Finding, RuleName, Severity};
use crate::quantity::{Dimension, Quantity, scan};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WaitDisagrees, Family::Values, Severity::Query, Check::Guide(check), include_str!("wait_disagrees.md"));

/// What is said of a time that the work stands still for.
const WAITING: &[&str] = &["wait", "leave", "let", "allow", "cure", "rest", "cool"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let options = subject.shop.language.reading();
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let wait = step.wait.as_ref().and_then(|wait| Some((wait, wait.value.quantity.as_ref()?)));
        for sentence in subject.words().instructions(at) {
            let Some(command) = sentence.command().filter(|command| WAITING.contains(&sentence.word(command.verb))) else { continue };
            for found in scan(sentence.text(), &options) {
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
    use crate::review::trial::marked_with;

    const GUIDE: &str = r#"item = [{ id = "cover", name = "Rail end cover" }]"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        for (step, prose, mark) in [
            (r#"wait = "10 min""#, "Wait 15 minutes.", "15 minutes"),
            (r#"wait = "10 min""#, "Let the glue set for 10 hours.", "10 hours"),
            (r#"wait = "3 min""#, "Wait 3 s before you touch it.", "3 s"),
            ("", "Wait 5 minutes.", "5 minutes"),
        ] {
            assert_eq!(marked_with(&RULE, GUIDE, step, prose), [mark], "{step} {prose}");
        }
    }

    #[test]
    fn what_is_right_is_left_alone() {
        for (step, prose) in [
            (r#"wait = "10 min""#, "Wait 10 minutes."),
            (r#"wait = "600 s""#, "Wait 10 minutes."),
            (r#"wait = "1 h""#, "Wait an hour."),
            (r#"wait = "10 min""#, "Do not wait 15 minutes."),
            (r#"wait = "10 min""#, "Press it down for 5 s."),
            ("", "If it is hot, wait 5 minutes."),
            ("", "Wait until it is cold."),
        ] {
            assert_eq!(marked_with(&RULE, GUIDE, step, prose), Vec::<String>::new(), "{step} {prose}");
        }
    }
}
