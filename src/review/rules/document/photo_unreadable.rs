//! `photo-unreadable`: a file that should be a picture is none, or is too large to unpack.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::picture::PictureFault;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PhotoUnreadable, Family::Document, Severity::Hold, Check::Guide(check), include_str!("photo_unreadable.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        let place = subject.guide.place(picture.source.span);
        match subject.pictures.get(&picture.source.value) {
            Some(Err(PictureFault::Unreadable(why))) => findings.push(finding(place, &picture.source.value, why)),
            Some(Err(PictureFault::TooLarge(width, height))) => findings.push(RULE.at(
                place,
                format!("`{}` is too large: {width} by {height} pixels", picture.source.value),
                "save it with at most 12,000 pixels a side and 80 million in all",
            )),
            _ => {}
        }
    }
}

/// The finding for a picture that cannot be read.
pub(crate) fn finding(place: Place, address: &str, why: &str) -> Finding {
    RULE.at(place, format!("`{address}` cannot be read as a picture: {why}"), "save it again as JPEG, PNG, WebP or SVG")
}
