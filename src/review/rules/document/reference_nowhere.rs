//! `reference-nowhere`: the words name a step or a balloon by a number that there is not.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ReferenceNowhere, Family::Document, Severity::Query, Check::Guide(check), include_str!("reference_nowhere.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let steps = subject.guide.steps.len();
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for reading in subject.words().step(at) {
            for sentence in reading.sentences() {
                for token in 0..sentence.len() {
                    let Some(number) = number_behind(&sentence, token) else { continue };
                    let place = || subject.guide.place(sentence.place(token, token + 2));
                    match sentence.word(token) {
                        "step" | "steps" if number > steps => {
                            let message = format!("there is no step {number}: the guide has {steps}");
                            findings.push(RULE.at(
                                place(),
                                message,
                                "refer to the step by a link, [words](step:id): numbers move when a step goes in",
                            ));
                        }
                        "step" if number == at + 1 => {
                            let message = format!("step {number} is this step itself");
                            findings.push(RULE.at(place(), message, "refer to the step that is meant by a link, [words](step:id)"));
                        }
                        "balloon" | "callout" | "item" | "number"
                            if !step.callouts.is_empty()
                                && number > step.callouts.len()
                                && sentence.word(token) != "item"
                                && sentence.word(token) != "number" =>
                        {
                            let message = format!("no picture of this step has a balloon {number}: there are {}", step.callouts.len());
                            findings.push(RULE.at(place(), message, "look at the picture, and mend the number"));
                        }
                        _ => {}
                    }
                }
            }
        }
    }
}

/// The whole number behind a word.
fn number_behind(sentence: &Sentence<'_>, at: usize) -> Option<usize> {
    (sentence.sort(at + 1) == Some(Sort::Number)).then(|| sentence.folded(at + 1).parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"item = [{ id = "cover", name = "Rail end cover" }]"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [("", "Do as in step 7.", "step 7"), ("", "Go back to step 1.", "step 1"), ("", "Leave out steps 3 and 4.", "steps 3")];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            ("", "Turn it one step further."),
            ("", "Read the level at step-up speed."),
            ("", "Raise it in steps of 5 mm."),
            ("", "Look at item 12 of the sheet."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
