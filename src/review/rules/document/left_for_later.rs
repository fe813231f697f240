//! `left-for-later`: a note of the author to himself stands in the guide.

use crate::finding::{Finding, RuleName, Severity};
use std::ops::Range;

use crate::guide::model::{Guide, Text};
use crate::review::phrases::find_word;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LeftForLater, Family::Document, Severity::Hold, Check::Guide(check), include_str!("left_for_later.md"));

/// What authors write where something is still to be done; looked for as whole words in lower case.
const NOTES: &[&str] = &[
    "todo",
    "to do:",
    "fixme",
    "tbd",
    "tbc",
    "tba",
    "xxx",
    "wip",
    "need to ask",
    "must ask",
    "not sure",
    "i think",
    "i guess",
    "insert here",
    "insert picture",
    "picture missing",
    "photo missing",
    "placeholder",
    "lorem ipsum",
    "draft text",
    "fill in later",
    "add later",
    "look up later",
];

/// The same, which are notes only where they stand by themselves: in brackets, behind a colon, or at the start.
const APART: &[&str] = &[
    "to be confirmed",
    "to be checked",
    "to be determined",
    "to be decided",
    "to be added",
    "to be measured",
    "to be written",
    "check this",
    "rewrite",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let mut told = |place, text: &str| {
        let message = format!("\"{text}\" is a note to whoever writes, not to whoever works");
        findings.push(RULE.at(place, message, "settle it, and take the note out"));
    };
    for reading in subject.words().all() {
        if let Some(range) = note(&reading.folded) {
            told(guide.place(reading.passage.place(range.start, range.end)), &reading.passage.text[range]);
        }
    }
    for text in keys(guide) {
        if let Some(range) = note(&text.value.to_ascii_lowercase()) {
            told(guide.place(text.span), &text.value[range]);
        }
    }
}

/// Where a note stands in a text in lower case.
fn note(folded: &str) -> Option<Range<usize>> {
    let marks = ["???", "[...]", "[…]", "{{", "<<"].iter().find_map(|mark| folded.find(mark).map(|at| at..at + mark.len()));
    let found = |words: &&str| find_word(folded, words).map(|at| at..at + words.len());
    let by_itself = |range: &Range<usize>| {
        let (before, behind) = (folded[..range.start].trim_end(), folded[range.end..].trim_start());
        (before.is_empty() || before.ends_with(['(', '[', ':', '–', '-']))
            && (behind.is_empty() || behind.starts_with([')', ']', '.', '!', '?', ',']))
    };
    marks.or_else(|| NOTES.iter().find_map(found)).or_else(|| APART.iter().filter_map(found).find(by_itself))
}

/// The texts of keys that readers see.
fn keys<'g>(guide: &'g Guide<'_>) -> impl Iterator<Item = &'g Text> {
    let steps = guide.steps.iter().flat_map(|step| {
        let cautions = step.cautions.iter().flat_map(|caution| [Some(&caution.hazard), caution.avoid.as_ref()]).flatten();
        let notes = step.operations.iter().filter_map(|operation| operation.note.as_ref());
        [&step.title].into_iter().chain(&step.checks).chain(cautions).chain(notes)
    });
    let rows = &guide.own;
    let names = rows
        .items
        .rows
        .iter()
        .map(|row| &row.name)
        .chain(rows.parts.rows.iter().map(|row| &row.name))
        .chain(rows.hardware.rows.iter().map(|row| &row.name));
    let notes =
        rows.hardware.rows.iter().filter_map(|row| row.note.as_ref()).chain(rows.specs.rows.iter().filter_map(|row| row.note.as_ref()));
    guide.before.iter().chain(&guide.final_checks).chain(&guide.follow_up).chain(steps).chain(names).chain(notes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"item = [{ id = "cover", name = "Rail end cover" }]"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            ("", "TODO: how many clips?", "TODO"),
            ("", "Tighten it to ??? N·m.", "???"),
            ("", "Use the long bolts (to be confirmed).", "to be confirmed"),
            (r#"check = ["TBD"]"#, "Look at it.", "TBD"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            ("", "Write down what is still to be measured later."),
            ("", "Ask the customer to sign."),
            ("", "Look at the wires of the tbcx module."),
            ("", "Check the side that faces you first."),
            (r#"check = ["Nothing is left to be done"]"#, "Look at it."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
