//! `photo-unreadable`: a file that should be a picture is none, or is too large to unpack.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;
use crate::finding::{Finding, Severity};
use crate::guide::picture::PictureFault;

pub(crate) const RULE: Rule = Rule {
    name: "photo-unreadable",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A file that should be a picture is none, or is too large to unpack.",
    why: "The page would show a broken picture.",
    mend: "Save it as JPEG, PNG, WebP or SVG with at most 12,000 pixels a side.",
    basis: "common practice",
    bad: "",
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

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
