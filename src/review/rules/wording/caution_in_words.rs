//! `caution-in-words`: a safety message is typed into the words instead of being written as a caution.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::words::PassageKind;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Reading, Sentence};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CautionInWords, Family::Wording, Severity::Query, Check::Guide(check), include_str!("caution_in_words.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for reading in subject.words().all().filter(|reading| reading.passage.kind != PassageKind::Cell) {
        for sentence in reading.sentences() {
            let Some(word) = signal(reading, &sentence) else { continue };
            findings.push(RULE.at(
                subject.guide.place(sentence.place(0, sentence.len())),
                format!("the safety message `{word}` is typed into the words"),
                format!("write it as [[caution]] with signal = \"{}\", hazard, result and avoid", word.to_ascii_lowercase()),
            ));
        }
    }
}

/// The signal word that a sentence begins with, if it is meant as one: with a colon or the like, in bold, or alone.
fn signal<'a>(reading: &'a Reading, sentence: &Sentence<'a>) -> Option<&'a str> {
    if !matches!(sentence.word(0), "danger" | "warning" | "caution" | "notice" | "warnings" | "cautions") {
        return None;
    }
    let (start, end) = (sentence.offset(0), sentence.offset(0) + sentence.words(0, 1).len());
    let next = sentence.folded(1);
    // `Danger of crushing: ...`
    let of = next == "of" && (0..sentence.len()).any(|at| sentence.is_mark(at, ":"));
    let parted = of || matches!(next, ":" | "!" | "\u{2013}" | "\u{2014}" | "-");
    // The word alone in bold, or bold up to a mark: `**Caution tape**` is a thing.
    let bold = reading.passage.bold.iter().any(|range| {
        let rest = reading.folded.get(end..range.end).unwrap_or_default();
        range.start <= start && end <= range.end && !rest.trim_start().starts_with(char::is_alphanumeric)
    });
    let alone = sentence.body_len() == 1 && reading.passage.kind == PassageKind::Heading;
    (parted || bold || alone).then(|| sentence.words(0, 1).trim_end_matches('s'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked;

    #[test]
    fn typed_safety_messages_are_found() {
        for (prose, mark) in [
            ("Warning: The edge is sharp.", "Warning: The edge is sharp."),
            ("DANGER: Hot fluid.", "DANGER: Hot fluid."),
            ("> caution: the lid falls.", "caution: the lid falls."),
            ("**Warning** The edge is sharp.", "Warning** The edge is sharp."),
            ("**Notice: scratches.**", "Notice: scratches."),
            ("Undo the bolt.\nCaution! The lid falls.", "Caution!"),
            ("Danger of crushing: keep off.", "Danger of crushing: keep off."),
            ("### Warning\n\nThe edge is sharp.", "Warning"),
            ("- Danger \u{2013} hot fluid.", "Danger \u{2013} hot fluid."),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
    }

    #[test]
    fn the_words_in_other_use_are_left_alone() {
        for prose in [
            "Notice the arrow on the plate.",
            "Stick the warning label beside the battery.",
            "Warning lamps stay on.",
            "**Caution tape** marks the place.",
            "Caution is needed with the lid.",
            "The lamp shows a warning: wait.",
            "| Danger: hot | x |\n|---|---|\n| a | b |",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
