//! `photo-without-words`: a picture has no alternative text.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PhotoWithoutWords, Family::Document, Severity::Query, Check::Guide(check), include_str!("photo_without_words.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        if picture.words.trim().is_empty() {
            findings.push(RULE.at(
                subject.guide.place(picture.span),
                format!("the picture `{}` has no words", picture.source.value),
                "say what it shows between the square brackets: ![Base on the floor, arrow to the front](...)",
            ));
        }
    }
}
