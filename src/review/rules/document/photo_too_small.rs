//! `photo-too-small`: a photo is too small to print clearly.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::picture::PictureKind;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PhotoTooSmall, Family::Document, Severity::Query, Check::Guide(check), include_str!("photo_too_small.md"));

/// The narrowest photo that still prints clearly.
const NARROWEST: u32 = 800;

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        let Some(Ok(fact)) = subject.pictures.get(&picture.source.value) else { continue };
        if fact.kind == PictureKind::Raster && fact.width.max(fact.height) < NARROWEST {
            findings.push(RULE.at(
                subject.guide.place(picture.source.span),
                format!("`{}` is only {} by {} pixels", picture.source.value, fact.width, fact.height),
                format!("use a photo of at least {NARROWEST} pixels along its longer side, or draw it as SVG"),
            ));
        }
    }
}
