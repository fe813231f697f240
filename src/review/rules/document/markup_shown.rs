//! `markup-shown`: raw markup stands in a guide.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::MarkupShown, Family::Document, Severity::Query, Check::Guide(check), include_str!("markup_shown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for &span in subject.guide.words().flat_map(|prose| &prose.markup) {
        findings.push(RULE.at(
            subject.guide.place(span),
            "raw markup is shown as text on the page",
            "take it out, or use Markdown: **strong**, *emphasis*, lists and tables",
        ));
    }
}
