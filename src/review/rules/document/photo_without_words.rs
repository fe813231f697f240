//! `photo-without-words`: a picture has no alternative text.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "photo-without-words",
    family: Family::Document,
    severity: Severity::Query,
    summary: "A picture has no alternative text.",
    why: "Who cannot see it, and who prints the short form, gets nothing.",
    mend: "Say between the square brackets what the picture shows.",
    basis: "WCAG 2.2, success criterion 1.1.1",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

![](base.svg)
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

![Base on the floor, arrow to the front](base.svg)
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for picture in subject.guide.words().flat_map(|prose| &prose.pictures) {
        if picture.words.trim().is_empty() {
            findings.push(RULE.at(
                subject.guide.place(picture.span),
                format!("the picture `{}` has no words", picture.source.value),
                "say what it shows between the square brackets: ![Base on the floor, arrow to the front](...)",
            ));
        }
    }
}
