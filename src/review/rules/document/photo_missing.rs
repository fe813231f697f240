//! `photo-missing`: a picture that the guide shows is not in its folder.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::picture::PictureFault;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PhotoMissing, Family::Document, Severity::Hold, Check::Guide(check), include_str!("photo_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        let place = subject.guide.place(picture.source.span);
        match subject.pictures.get(&picture.source.value) {
            Some(Err(PictureFault::Missing)) => findings.push(RULE.at(
                place,
                format!("there is no picture `{}` in the guide's folder", picture.source.value),
                "put the file beside the guide, or correct the name (capitals count)",
            )),
            Some(Err(PictureFault::Outside)) => findings.push(RULE.at(
                place,
                format!("the picture `{}` is not in the guide's folder", picture.source.value),
                "copy the picture into the guide's folder and write its bare name; pictures are never fetched from elsewhere",
            )),
            _ => {}
        }
    }
}
