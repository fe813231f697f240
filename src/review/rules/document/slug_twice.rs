//! `slug-twice`: two guides would be published under one address.

use crate::review::rule::{Check, Family, Rule};
use crate::finding::{Finding, Severity};
use crate::source::Place;

pub(crate) const RULE: Rule = Rule {
    name: "slug-twice",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "Two guides would be published under one address.",
    why: "One would overwrite the other, and nobody would notice.",
    mend: "Rename the file or the folder of one of them.",
    basis: "common practice",
    bad: "",
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WholeShop,
};

/// The finding for the second of two guides with one slug.
pub(crate) fn finding(slug: &str, second: Place, first: Place) -> Finding {
    RULE.at(second, format!("another guide is published as `{slug}` already"), "rename the file or the folder of one of the two guides")
        .with_related(first, "the other guide")
}
