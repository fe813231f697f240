//! `torque-vague`: the words tell how tight by feel.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::words;
use crate::review::phrases::{self, find_word};

pub(crate) const RULE: Rule = Rule {
    name: "torque-vague",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "The words tell how tight by feel.",
    why: r##"Tight by feel scatters by a third either way; every hand has its own "good and tight"."##,
    mend: "Give the torque, or say by hand where that is meant.",
    basis: "scatter by feel ±35 %: Machinery's Handbook, table of tightening methods; wording: common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Tighten the bolts securely.
"##,
    good: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual" }

[[hardware]]
id = "seat-bolt"
name = "Seat rail bolt"

[[spec]]
id = "seat-bolt"
for = "seat-bolt"
torque = "45 N·m"
source = "manual"
+++

## Fit the bracket

+++
do = [{ tighten = "seat-bolt", torque = "seat-bolt" }]
+++

Tighten the bolts to [](spec:seat-bolt).
"##,
    check: Check::Guide(check),
};

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
