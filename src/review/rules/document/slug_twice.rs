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

/// The finding for one of two guides with one slug.
pub(crate) fn finding(slug: &str, one: Place, other: Place) -> Finding {
    RULE.at(one, format!("another guide would be published as `{slug}` too"), "rename the file or the folder of one of the two guides")
        .with_related(other, "the other guide")
}
