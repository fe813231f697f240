//! `drawing-unsafe`: a drawing fetches something from elsewhere, or moves.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::picture::PictureFault;

pub(crate) const RULE: Rule = Rule {
    name: "drawing-unsafe",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A drawing fetches something from elsewhere, or moves.",
    why: "Without a network a part of it would be missing, and on paper it would stand still at some moment or other.",
    mend: "Save the drawing as plain SVG: shapes, text and nothing else.",
    basis: "common practice; SVG 2, chapter 2.6, secure static mode",
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
        if let Some(Err(PictureFault::Unsafe(what))) = subject.pictures.get(&picture.source.value) {
            findings.push(RULE.at(
                subject.guide.place(picture.source.span),
                format!("the drawing `{}` holds {what}", picture.source.value),
                "save it as plain SVG, without animation, outside addresses and embedded pages",
            ));
        }
    }
}
