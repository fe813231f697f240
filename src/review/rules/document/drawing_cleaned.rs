//! `drawing-cleaned`: a drawing holds scripts, events or links, which are taken out when it is published.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::picture::Pictures;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DrawingCleaned, Family::Document, Severity::Remark, Check::Guide(check), include_str!("drawing_cleaned.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let pictures: &Pictures = subject.pictures;
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        if pictures.get(&picture.source.value).is_some_and(|fact| fact.as_ref().is_ok_and(|fact| fact.cleaned)) {
            findings.push(RULE.at(
                subject.guide.place(picture.source.span),
                format!("`{}` holds scripts, events or links; they are taken out of the published drawing", picture.source.value),
                "save it as plain SVG, if nothing else was meant",
            ));
        }
    }
}
