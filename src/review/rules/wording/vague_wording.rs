//! `vague-wording`: the words leave open what, how many or how much.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::words::PassageKind;
use crate::review::phrases::{TIGHT_BY_FEEL, is_about_tightening, number_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Reading, Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::VagueWording, Family::Wording, Severity::Remark, Check::Guide(check), include_str!("vague_wording.md"));

const WHAT: &str = "say what is required, so that two people do the same";
const WHEN: &str = "say when: write the condition that can be seen or measured";
const HOW: &str = "say what can be seen or measured when it is right";
const COUNT: &str = "say how many";
const REST: &str = "name the others too, or leave the word out";
const WHICH: &str = "say which of the two, or that both";
const TOLERANCE: &str = "give the value with its tolerance, or refer to the spec";

/// Vague words and what to do about them, sorted.
const VAGUE: &[(&str, &str)] = &[
    ("a couple of", COUNT),
    ("a number of", COUNT),
    ("adequate", HOW),
    ("adequately", HOW),
    ("and so forth", REST),
    ("and so on", REST),
    ("and/or", WHICH),
    ("appropriate", WHAT),
    ("appropriately", HOW),
    ("as applicable", WHEN),
    ("as appropriate", WHAT),
    ("as necessary", WHAT),
    ("as needed", WHAT),
    ("as normal", WHAT),
    ("as required", WHAT),
    ("as usual", WHAT),
    ("correctly", HOW),
    ("etc", REST),
    ("from time to time", WHEN),
    ("if applicable", WHEN),
    ("if appropriate", WHEN),
    ("if desired", WHEN),
    ("if necessary", WHEN),
    ("if needed", WHEN),
    ("if possible", WHEN),
    ("if required", WHEN),
    ("in the usual way", WHAT),
    ("or equivalent", WHAT),
    ("or similar", WHAT),
    ("periodically", WHEN),
    ("properly", HOW),
    ("reasonable", HOW),
    ("reasonably", HOW),
    ("regularly", WHEN),
    ("satisfactorily", HOW),
    ("satisfactory", HOW),
    ("several", COUNT),
    ("sufficient", HOW),
    ("sufficiently", HOW),
    ("suitable", WHAT),
    ("suitably", HOW),
    ("various", REST),
    ("when necessary", WHEN),
    ("when required", WHEN),
    ("where applicable", WHEN),
    ("where appropriate", WHEN),
    ("where necessary", WHEN),
    ("where possible", WHEN),
    ("where required", WHEN),
];

/// For each first letter of the phrases the second letters that follow it, one bit each; the last bit where the first word has one
/// letter. Every word of every guide is asked for, and nearly all of them are told apart by it.
const BEGINNINGS: [u32; 26] = {
    let mut table = [0; 26];
    let mut at = 0;
    while at < VAGUE.len() {
        let phrase = VAGUE[at].0.as_bytes();
        table[(phrase[0] - b'a') as usize] |= second(phrase);
        at += 1;
    }
    table
};

const fn second(word: &[u8]) -> u32 {
    if word.len() > 1 && word[1].is_ascii_lowercase() { 1 << (word[1] - b'a') } else { 1 << 31 }
}

fn may_begin(word: &str) -> bool {
    let word = word.as_bytes();
    word.first().is_some_and(|first| first.is_ascii_lowercase() && BEGINNINGS[usize::from(first - b'a')] & second(word) != 0)
}

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for (at, step) in guide.steps.iter().enumerate() {
        let told = subject.words().step(at).iter().filter(|reading| reading.passage.kind != PassageKind::Heading);
        told.for_each(|reading| in_reading(subject, reading, findings));
        step.checks.iter().for_each(|text| in_reading(subject, &Reading::of_key(text), findings));
    }
    guide.final_checks.iter().for_each(|text| in_reading(subject, &Reading::of_key(text), findings));
}

fn in_reading(subject: &Subject<'_, '_>, reading: &Reading, findings: &mut Vec<Finding>) {
    for sentence in reading.sentences() {
        let mut at = 0;
        while at < sentence.len() {
            let Some((to, remedy)) = vague_at(&sentence, at) else {
                at += 1;
                continue;
            };
            let words = sentence.words(at, to);
            // In a sentence about tightening, vague words are a graver fault of their own.
            let by_feel = TIGHT_BY_FEEL.contains(&words.to_ascii_lowercase().as_str()) && is_about_tightening(sentence.folded_text());
            if !by_feel {
                findings.push(RULE.at(
                    subject.guide.place(sentence.place(at, to)),
                    format!("`{words}` leaves it to whoever reads it"),
                    remedy,
                ));
            }
            at = to;
        }
    }
}

/// The end of the vague words that begin at a token, and the remedy.
fn vague_at(sentence: &Sentence<'_>, at: usize) -> Option<(usize, &'static str)> {
    let word = sentence.word(at);
    if word.is_empty() {
        return None;
    }
    // `regularly spaced holes` are a pattern, not a time.
    if word == "regularly" && matches!(sentence.word(at + 1), "spaced" | "placed" | "arranged") {
        return None;
    }
    if is_about(sentence, at) {
        return Some((at + 1, TOLERANCE));
    }
    if !may_begin(word) {
        return None;
    }
    let first = VAGUE.partition_point(|(phrase, _)| *phrase < word);
    let candidates = VAGUE[first..].iter().take_while(|(phrase, _)| phrase.starts_with(word));
    let longest = candidates.filter_map(|(phrase, remedy)| {
        let mut to = at;
        for wanted in phrase.split(' ') {
            if sentence.word(to) != wanted {
                return None;
            }
            to += 1;
        }
        Some((to, *remedy))
    });
    longest.max_by_key(|(to, _)| *to)
}

fn is_turning(verb: &str) -> bool {
    matches!(verb, "turn" | "wrap" | "wind" | "rotate" | "tape" | "tie" | "loop" | "swing" | "coil" | "bend")
}

/// `approximately 5 mm`: a value that is none, unless its tolerance is told.
fn is_about(sentence: &Sentence<'_>, at: usize) -> bool {
    let digits = |at| sentence.sort(at) == Some(Sort::Number);
    let number = match sentence.word(at) {
        "approximately" | "roughly" => digits(at + 1) || number_of(sentence.word(at + 1)).is_some(),
        "approx" | "ca" | "circa" => digits(at + 1) || (sentence.is_mark(at + 1, ".") && digits(at + 2)),
        "about" => digits(at + 1),
        // `turn it around 90°`, `wrap around 2 turns`: a way, not a value.
        "around" => {
            digits(at + 1)
                && !sentence.is_mark(at + 2, "°")
                && !sentence.command().is_some_and(|command| is_turning(sentence.word(command.verb)))
        }
        _ => false,
    };
    number && !sentence.folded_text().contains('±')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{marked, marked_with};

    #[test]
    fn the_list_is_sorted() {
        assert!(VAGUE.is_sorted_by_key(|(phrase, _)| *phrase));
    }

    #[test]
    fn vague_words_are_found() {
        for (prose, mark) in [
            ("Trim the edge as required.", "as required"),
            ("If necessary, trim the edge.", "If necessary"),
            ("Press the clips in properly.", "properly"),
            ("Undo several screws.", "several"),
            ("Clean the lamp, plug, etc.", "etc"),
            ("Cut and/or bend the tab.", "and/or"),
            ("Leave approximately 5 mm of free cable.", "approximately"),
            ("Leave about 5 mm of free cable.", "about"),
            ("Leave approx. 5 mm of free cable.", "approx"),
            ("Turn it roughly two turns.", "roughly"),
            ("| where | how |\n|---|---|\n| edge | as needed |", "as needed"),
            ("Use a suitable drill.", "suitable"),
            ("Tighten several bolts.", "several"),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
        assert_eq!(
            marked_with(&RULE, "final_check = [\"The lamp works correctly\"]", "check = [\"Adequate gap\"]", "Stop."),
            ["correctly", "Adequate"]
        );
    }

    #[test]
    fn plain_words_are_left_alone() {
        for prose in [
            "Tighten the bolts properly.",
            "Do up the bolts as required.",
            "Leave approximately 5 mm, ±1 mm, of free cable.",
            "Turn the plate about its centre.",
            "Lay the cable around the post.",
            "Write the required length on the card.",
            "If the lamp fails, tell the customer.",
            "Use the correct drill of the table.",
            "Several-core cable is red.",
            "Look around 2-core cables.",
            "Turn the wheel around 90°.",
            "Wrap around 2 turns of tape.",
            "Clean the regularly spaced holes.",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
