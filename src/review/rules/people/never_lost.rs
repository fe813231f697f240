//! `never-lost`: what a caution tells to avoid is told as if it were to be done.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Reading;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::NeverLost, Family::People, Severity::Query, Check::Guide(check), include_str!("never_lost.md"));

/// What nobody is told to do to avoid a hazard, as the first words of a sentence.
const DEEDS: &[&[&str]] = &[
    &["touch"],
    &["smoke"],
    &["stand", "under"],
    &["stand", "below"],
    &["stand", "behind"],
    &["stand", "in"],
    &["walk", "under"],
    &["walk", "behind"],
    &["work", "under"],
    &["work", "below"],
    &["lie", "under"],
    &["lie", "below"],
    &["reach", "into"],
    &["reach", "under"],
    &["reach", "between"],
    &["lean", "over"],
    &["look", "into"],
    &["breathe"],
    &["inhale"],
    &["swallow"],
    &["bridge"],
    &["short"],
    &["probe"],
    &["put", "a", "meter"],
    &["measure", "the", "resistance"],
    &["open", "the", "hot"],
    &["open", "a", "hot"],
    &["spark"],
    &["weld"],
    &["grind", "near"],
    &["exceed"],
    &["overtighten"],
    &["force"],
    &["kink"],
    &["run", "the", "engine", "in"],
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let own = subject.guide.own.cautions.rows.iter().chain(subject.guide.steps.iter().flat_map(|step| &step.cautions));
    for avoid in own.filter_map(|caution| caution.avoid.as_ref()) {
        let reading = Reading::of_key(avoid);
        for sentence in reading.sentences() {
            let starts = |deed: &&[&str]| deed.iter().enumerate().all(|(at, word)| sentence.word(at) == *word);
            // `Touch it only with gloves on`, `Open it when it is cold`: told with what makes it safe.
            let bounded = (0..sentence.len()).any(|at| {
                matches!(
                    sentence.word(at),
                    "only"
                        | "no"
                        | "not"
                        | "nothing"
                        | "never"
                        | "nobody"
                        | "after"
                        | "when"
                        | "once"
                        | "while"
                        | "until"
                        | "before"
                        | "with"
                        | "without"
                        | "if"
                        | "unless"
                        | "from"
                        | "at"
                        | "neither"
                )
            });
            if DEEDS.iter().any(starts) && !bounded {
                let message = format!("\"{}\" tells to do what the caution is there to prevent", sentence.text());
                findings.push(RULE.at(
                    subject.guide.place(avoid.span),
                    message,
                    "put the \"never\" or \"do not\" back, or say what makes it safe",
                ));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked_with;

    fn told(avoid: &str) -> Vec<String> {
        let guide = format!("caution = [{{ id = \"c\", signal = \"warning\", hazard = \"H.\", result = \"R.\", avoid = \"{avoid}\" }}]");
        marked_with(&RULE, &guide, "", "Look at it.")
    }

    #[test]
    fn a_lost_never_is_found() {
        for avoid in ["Reach into the fan.", "Touch the terminals.", "Disconnect the battery. Stand under the van.", "Smoke."] {
            assert_eq!(told(avoid), [avoid], "{avoid}");
        }
    }

    #[test]
    fn what_makes_it_safe_is_left_alone() {
        for avoid in [
            "Never reach into the fan.",
            "Touch no terminal.",
            "Touch the terminals only with insulated tools.",
            "Stand beside the van, and let nobody stand under it.",
            "Reach into the fan after the battery is off.",
            "Let the engine cool.",
        ] {
            assert_eq!(told(avoid), Vec::<String>::new(), "{avoid}");
        }
    }
}
