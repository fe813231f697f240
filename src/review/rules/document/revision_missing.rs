//! `revision-missing`: the guide does not say which revision it is, when that was issued, or what it changed.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "revision-missing",
    family: Family::Document,
    severity: Severity::Query,
    summary: "The guide does not say which revision it is, when that was issued, or what it changed.",
    why: "A printed sheet outlives the page; without revision and date nobody can tell whether it is the current one.",
    mend: "Add `revision` and `issued` to the guide block.",
    basis: "ISO 7200, title block: revision index and date of issue",
    bad: r##"+++
title = "Fit the bracket"
revision = "B"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
revision = "B"
issued = 2026-09-14
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    if let (Some(revision), false) = (&guide.revision, guide.changes.is_empty())
        && !guide.changes.iter().any(|change| change.revision.value == revision.value)
    {
        let message = format!("no [[change]] says what revision {} changed", revision.value);
        findings.push(RULE.at(guide.place(revision.span), message, "add a [[change]] with this revision, its day and what changed"));
    }
    let missing = match (guide.states("revision"), guide.states("issued")) {
        _ if !guide.head_read => return,
        (true, true) => return,
        (false, true) => "`revision`",
        (true, false) => "`issued`",
        (false, false) => "`revision` and `issued`",
    };
    findings.push(RULE.at(
        guide.place(guide.head),
        format!("the guide has no {missing}"),
        "add the letter of the revision and the day it was issued, for instance revision = \"B\" and issued = 2026-09-14",
    ));
}
