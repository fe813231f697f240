//! `source-missing`: the guide gives tightening values and names no paper that they come from.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::TorqueRef;
use crate::quantity::Dimension;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SourceMissing, Family::Document, Severity::Query, Check::Guide(check), include_str!("source_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let own = guide.own.specs.rows.iter().any(|spec| spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque));
    let in_place = guide.operations().any(|(_, operation)| matches!(operation.torque, Some(TorqueRef::InPlace(_))));
    let named = guide.own.specs.rows.iter().any(|spec| spec.source.is_some())
        || guide.operations().any(|(_, operation)| operation.source.is_some());
    if guide.head_read && (own || in_place) && !named && guide.own.sources.rows.is_empty() {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide gives torques and names no source for any of them",
            "add `sources` with the papers the values come from, and name one in each spec",
        ));
    }
}
