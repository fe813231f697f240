//! `markup-shown`: raw markup stands in a guide.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "markup-shown",
    family: Family::Document,
    severity: Severity::Query,
    summary: "Raw markup stands in a guide.",
    why: "Pages show it as the characters it is made of and never run it, so it looks like a mistake to the reader.",
    mend: "Take it out, or write it in Markdown.",
    basis: "CommonMark 0.31.2, section 6.6, for what raw markup is; that it is not passed on is common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Press <b onclick="x()">here</b>.
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Press **here**.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for &span in subject.guide.words().flat_map(|prose| &prose.markup) {
        findings.push(RULE.at(
            subject.guide.place(span),
            "raw markup is shown as text on the page",
            "take it out, or use Markdown: **strong**, *emphasis*, lists and tables",
        ));
    }
}
