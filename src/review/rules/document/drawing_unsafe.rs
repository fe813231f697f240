//! `drawing-unsafe`: a drawing fetches something from elsewhere, or moves.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::picture::PictureFault;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DrawingUnsafe, Family::Document, Severity::Hold, Check::Guide(check), include_str!("drawing_unsafe.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        if let Some(Err(PictureFault::Unsafe(what))) = subject.pictures.get(&picture.source.value) {
            findings.push(RULE.at(
                subject.guide.place(picture.source.span),
                format!("the drawing `{}` holds {what}", picture.source.value),
                "save it as plain SVG, without animation, outside addresses and embedded pages",
            ));
        }
    }
}
