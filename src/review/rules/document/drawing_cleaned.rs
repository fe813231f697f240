//! `drawing-cleaned`: a drawing holds scripts, events or links, which are taken out when it is published.

use crate::finding::{Finding, Severity};
use crate::guide::picture::Pictures;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "drawing-cleaned",
    family: Family::Document,
    severity: Severity::Remark,
    summary: "A drawing holds scripts, events or links, which are taken out when it is published.",
    why: "They would travel with the site into every reader's browser. The drawing looks the same without them, but what it did when clicked is gone.",
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
