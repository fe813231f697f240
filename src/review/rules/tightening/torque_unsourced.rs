//! `torque-unsourced`: a torque does not say where it comes from.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::model::TorqueRef;
use crate::quantity::Dimension;

pub(crate) const RULE: Rule = Rule {
    name: "torque-unsourced",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A torque does not say where it comes from.",
    why: "It cannot be looked up again when the maker changes it, nor defended when a joint fails.",
    mend: "Name the paper in `source`: an id from `sources`, with the page in brackets.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual" }

[[spec]]
id = "seat-bolt"
torque = "45 N·m"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual" }

[[spec]]
id = "seat-bolt"
torque = "45 N·m"
source = "manual (p. 12)"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for spec in &guide.own.specs.rows {
        let Some(value) = spec.value.as_ref().filter(|_| spec.source.is_none()) else { continue };
        // The key, not the text, says that it is a torque: a torque that cannot be read has a finding of its own.
        if spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque) {
            findings.push(RULE.at(
                guide.place(value.span),
                format!("the torque {} has no source", value.value.text),
                "add `source` with the id of the paper it comes from",
            ));
        }
    }
    for (_, operation) in guide.operations() {
        if let (Some(TorqueRef::InPlace(value)), None) = (&operation.torque, &operation.source) {
            findings.push(RULE.at(
                guide.place(value.span),
                format!("the torque {} has no source", value.value.text),
                "add `source` to the operation, or write the torque in a spec with its source",
            ));
        }
    }
}
