//! `long-sentence`: a sentence is too long to be kept in mind at the vehicle.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Caution, Text};
use crate::guide::words::{PassageKind, REFERENCE};
use crate::review::phrases::count_words;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Reading, Sentence};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LongSentence, Family::Wording, Severity::Remark, Check::Guide(check), include_str!("long_sentence.md"));

/// The most words of a step's sentence, a caution or a check.
const MOST: usize = 20;
/// The most words of a sentence in a note.
const MOST_IN_NOTE: usize = 25;

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for (at, step) in guide.steps.iter().enumerate() {
        for reading in subject.words().step(at) {
            let most = match reading.passage.kind {
                PassageKind::Cell | PassageKind::Heading | PassageKind::Key => continue,
                _ if reading.is_note() => MOST_IN_NOTE,
                _ => MOST,
            };
            findings.extend(reading.sentences().filter_map(|sentence| finding(subject, &sentence, most)));
        }
        let texts = step.checks.iter().chain(step.cautions.iter().flat_map(texts));
        texts.for_each(|text| in_text(subject, text, findings));
    }
    let texts = guide.final_checks.iter().chain(guide.own.cautions.rows.iter().flat_map(texts));
    texts.for_each(|text| in_text(subject, text, findings));
}

fn texts(caution: &Caution) -> impl Iterator<Item = &Text> {
    std::iter::once(&caution.hazard).chain(&caution.result).chain(&caution.avoid)
}

fn in_text(subject: &Subject<'_, '_>, text: &Text, findings: &mut Vec<Finding>) {
    if may_be_longer(&text.value, MOST) {
        findings.extend(Reading::of_key(text).sentences().filter_map(|sentence| finding(subject, &sentence, MOST)));
    }
}

fn finding(subject: &Subject<'_, '_>, sentence: &Sentence<'_>, most: usize) -> Option<Finding> {
    if !may_be_longer(sentence.text(), most) {
        return None;
    }
    let count = count_words(sentence);
    (count > most).then(|| {
        let place = subject.guide.place(sentence.place(0, sentence.len()));
        RULE.at(
            place,
            format!("the sentence has {count} words, more than {most}"),
            "cut it into shorter sentences, one for each action or fact",
        )
    })
}

/// A quick look: whatever counts as a word has a letter or a digit in it, or is a reference.
fn may_be_longer(text: &str, most: usize) -> bool {
    let pieces = text.split(|c: char| !c.is_alphanumeric()).filter(|piece| !piece.is_empty()).count();
    pieces + text.chars().filter(|c| *c == REFERENCE).count() > most
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{marked, marked_with, tried};

    /// One, two, three and so on: as many words as asked for.
    fn words(count: usize) -> String {
        let mut words = vec!["Turn"];
        words.resize(count, "left");
        words.join(" ")
    }

    #[test]
    fn the_limits_are_20_and_25() {
        assert_eq!(marked(&RULE, &format!("{}.", words(20))), Vec::<String>::new());
        let long = format!("{}.", words(21));
        assert_eq!(tried(&RULE, "", "", &long), [(long.clone(), "the sentence has 21 words, more than 20".to_owned())]);
        assert_eq!(marked(&RULE, &format!("> {}.", words(25))), Vec::<String>::new());
        assert_eq!(marked(&RULE, &format!("> {}.", words(26))), [format!("{}.", words(26))]);
        assert_eq!(marked(&RULE, &format!("Note: {}.", words(24))), Vec::<String>::new());
        assert_eq!(marked(&RULE, &format!("- {}. Stop.", words(21))), [long]);
    }

    #[test]
    fn brackets_units_and_cells_do_not_make_a_sentence_long() {
        for prose in [
            format!("{} (and so many words more that it would be far too long without the brackets).", words(19)),
            format!("{} to 25 N·m by 2 to 3 mm.", words(14)),
            format!("| a | b |\n|---|---|\n| {} | x |", words(30)),
        ] {
            assert_eq!(marked(&RULE, &prose), Vec::<String>::new(), "{prose}");
        }
    }

    #[test]
    fn checks_and_cautions_are_counted_too() {
        let long = words(21);
        let lines = format!(
            "check = [\"{long}\", \"Short\"]\n[[caution]]\nsignal = \"notice\"\nhazard = \"{long}\"\nresult = \"Stop. {long}\"\navoid = \"Stop.\""
        );
        assert_eq!(marked_with(&RULE, "", &lines, "Stop."), [long.as_str(), long.as_str(), long.as_str()]);
        assert_eq!(marked_with(&RULE, &format!("final_check = [\"{long}\"]"), "", "Stop."), [long]);
    }
}
