//! `photo-missing`: a picture that the guide shows is not in its folder.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::picture::PictureFault;

pub(crate) const RULE: Rule = Rule {
    name: "photo-missing",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A picture that the guide shows is not in its folder.",
    why: "The page would have a hole where the picture explains the step.",
    mend: "Put the file into the guide's folder, or correct its name.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

![Base on the floor](nowhere.svg)
"##,
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
