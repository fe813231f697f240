//! `photo-too-small`: a photo is too small to print clearly.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::picture::PictureKind;

pub(crate) const RULE: Rule = Rule {
    name: "photo-too-small",
    family: Family::Document,
    severity: Severity::Query,
    summary: "A photo is too small to print clearly.",
    why: "At less than 800 pixels a photo is a blur on paper and cannot be enlarged on a tablet.",
    mend: "Use the photo as the camera made it.",
    basis: "common practice: 800 pixels are 150 a inch over the width of a printed column",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

![Base on the floor](small.png)
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

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
