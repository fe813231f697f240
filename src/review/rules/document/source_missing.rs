//! `source-missing`: the guide gives tightening values and names no paper that they come from.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::model::TorqueRef;
use crate::quantity::Dimension;

pub(crate) const RULE: Rule = Rule {
    name: "source-missing",
    family: Family::Document,
    severity: Severity::Query,
    summary: "The guide gives tightening values and names no paper that they come from.",
    why: "A value without a source cannot be checked when the maker changes it, and cannot be defended when a bolt comes loose.",
    mend: "Add `sources` to the guide block and name one in each spec.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45 N·m"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual, group 74" }

[[spec]]
id = "seat-bolt"
torque = "45 N·m"
source = "manual"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let own = guide.own.specs.rows.iter().any(|spec| spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque));
    let in_place = guide.operations().any(|(_, operation)| matches!(operation.torque, Some(TorqueRef::InPlace(_))));
    let named = guide.own.specs.rows.iter().any(|spec| spec.source.is_some()) || guide.operations().any(|(_, operation)| operation.source.is_some());
    if guide.head_read && (own || in_place) && !named && guide.own.sources.rows.is_empty() {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide gives torques and names no source for any of them",
            "add `sources` with the papers the values come from, and name one in each spec",
        ));
    }
}
