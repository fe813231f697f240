//! `torque-vague`: the words tell how tight by feel.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::words;

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

/// Words for tightening, as they start.
const TIGHTENING: &[&str] = &["tighten", "torque", "do up", "nip up", "screw down", "screw in", "bolt down", "bolt up"];
/// Words that say how tight without a value.
const VAGUE: &[&str] = &[
    "securely", "firmly", "good and tight", "nice and tight", "well", "fully", "properly", "snug", "snugly", "as tight as", "until tight", "sufficiently",
    "adequately", "hard", "as required", "a good pull", "good pull",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for passage in subject.guide.words().flat_map(words::passages) {
        // A quick look first: taking sentences apart is dear, and few passages hold both kinds of words.
        let folded = passage.text.to_ascii_lowercase();
        let has = |words: &[&str]| words.iter().any(|word| folded.contains(word));
        if !(has(TIGHTENING) && has(VAGUE)) {
            continue;
        }
        for (offset, sentence) in passage.sentences() {
            let folded = &folded[offset..offset + sentence.len()];
            if sentence.contains(words::REFERENCE) || !TIGHTENING.iter().any(|word| find_word(folded, word).is_some()) {
                continue;
            }
            if let Some((word, at)) = VAGUE.iter().find_map(|word| find_word(folded, word).map(|at| (word, at))) {
                let start = offset + at;
                findings.push(RULE.at(
                    subject.guide.place(passage.place(start, start + word.len())),
                    format!("`{word}` does not say how tight"),
                    "refer to the torque, or say by hand where that is meant",
                ));
            }
        }
    }
}

/// Where `word` stands in `text` as a whole word, or as the start of one for verbs that take an ending.
fn find_word(text: &str, word: &str) -> Option<usize> {
    text.match_indices(word).map(|(at, _)| at).find(|&at| {
        let before = text[..at].chars().next_back().is_none_or(|c| !c.is_alphanumeric());
        let after = text[at + word.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric());
        before && after
    })
}
