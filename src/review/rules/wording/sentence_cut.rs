//! `sentence-cut`: a sentence stops before its end.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::words::PassageKind;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SentenceCut, Family::Wording, Severity::Query, Check::Guide(check), include_str!("sentence_cut.md"));

/// Words that no sentence ends with.
const OPEN: &[&str] = &[
    "the", "a", "an", "and", "or", "than", "until", "if", "when", "because", "while", "your", "its", "their", "every", "between",
    "against", "of",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for step in 0..subject.guide.steps.len() {
        let readings =
            subject.words().step(step).iter().filter(|reading| matches!(reading.passage.kind, PassageKind::Paragraph | PassageKind::Item));
        for reading in readings {
            let sentences: Vec<Sentence<'_>> = reading.sentences().collect();
            for (at, sentence) in sentences.iter().enumerate() {
                let body = sentence.body_len();
                let Some(last) = body.checked_sub(1) else { continue };
                // `60 A`, `terminal A`: a capital is no article.
                let unit = sentence.words(last, last + 1) == "A";
                let open = !unit && OPEN.contains(&sentence.word(last)) || sentence.is_mark(last, ",");
                // A paragraph of instructions ends with a full stop; rows of lists need none.
                let whole = body < sentence.len() || sentence.reference(last).is_some() || sentence.sort(last) == Some(Sort::Mark);
                let unfinished = reading.passage.kind == PassageKind::Paragraph
                    && at + 1 == sentences.len()
                    && !whole
                    && body > 2
                    && sentences.len() > 1;
                // Behind a colon a list or a picture follows.
                if open && !particle(sentence, last) || unfinished {
                    let message = format!("the sentence stops at \"{}\"", sentence.words(last, last + 1));
                    findings.push(RULE.at(
                        subject.guide.place(sentence.place(last, last + 1)),
                        message,
                        "write its end, or put a full stop",
                    ));
                }
            }
        }
    }
}

/// `where it comes from`, `the bolt that it belongs to`: a word that closes what was asked.
fn particle(sentence: &Sentence<'_>, last: usize) -> bool {
    matches!(sentence.word(last), "from" | "to" | "for" | "with" | "without" | "at" | "of" | "onto" | "into" | "against")
        && (0..last).any(|at| matches!(sentence.word(at), "that" | "which" | "what" | "where" | "whatever" | "it" | "they" | "whom"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#""#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            ("", "Hold the cover.\nPull it off to the rear of the.", "the"),
            ("", "Hold the cover. Pull it off to the rear of the", "the"),
            ("", "Hold the cover.\nTurn it until.", "until"),
            ("", "- Hold the cover and", "and"),
            ("", "Hold the cover. Pull it off to the rear", "rear"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            ("", "Hold the cover.\nPull it off."),
            ("", "- Hold the cover\n- Pull it off"),
            ("", "Hold the cover by its ends"),
            ("", "Put in a fuse of 60 A."),
            ("", "Look for the side that it came from."),
            ("", "Write down what the label speaks of."),
            ("", "Have these at hand:\n\n- rags"),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
