//! `torque-vague`: the words tell how tight by feel.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::words;
use crate::review::phrases::{self, find_word};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueVague, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("torque_vague.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for reading in subject.words().all() {
        // A quick look first: few passages hold both kinds of words.
        let has = |words: &[&str]| words.iter().any(|word| reading.folded.contains(word));
        if !(has(phrases::TIGHTENING) && has(phrases::TIGHT_BY_FEEL)) {
            continue;
        }
        for sentence in reading.sentences() {
            let folded = sentence.folded_text();
            if folded.contains(words::REFERENCE) || !phrases::is_about_tightening(folded) {
                continue;
            }
            if let Some((word, at)) = phrases::TIGHT_BY_FEEL.iter().find_map(|word| find_word(folded, word).map(|at| (word, at))) {
                let start = sentence.start() + at;
                findings.push(RULE.at(
                    subject.guide.place(reading.passage.place(start, start + word.len())),
                    format!("`{word}` does not say how tight"),
                    "refer to the torque, or say by hand where that is meant",
                ));
            }
        }
    }
}
