//! `revision-missing`: the guide does not say which revision it is, when that was issued, or what it changed.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::RevisionMissing, Family::Document, Severity::Query, Check::Guide(check), include_str!("revision_missing.md"));

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
