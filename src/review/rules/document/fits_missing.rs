//! `fits-missing`: the guide does not say which vehicles it fits.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "fits-missing",
    family: Family::Document,
    severity: Severity::Query,
    summary: "The guide does not say which vehicles it fits.",
    why: "It would be found, and followed, for a vehicle whose values are others.",
    mend: "Add `fits` with the ids of vehicles from the shop file.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
revision = "B"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
fits = ["marlin-3500"]
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    if guide.head_read && guide.fits.is_empty() && (!guide.states("fits") || guide.fits_nothing) {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide does not say which vehicles it fits",
            "add `fits` with the ids of vehicles from shop.toml, for instance fits = [\"marlin-3500\"]",
        ));
    }
}
