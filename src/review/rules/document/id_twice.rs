//! `id-twice`: two things have the same id.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "id-twice",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "Two things have the same id.",
    why: "A reference would show one of the two, and nobody could say which.",
    mend: "Give one of them another id; an own thing that is meant to stand in place of the shop's says `hides = true`.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
[[part]]
id = "base"
name = "Base, left"

[[part]]
id = "base"
name = "Base, right"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[part]]
id = "base-left"
name = "Base, left"

[[part]]
id = "base-right"
name = "Base, right"
+++

## Fit the bracket

+++
do = [{ fit = ["base-left", "base-right"] }]
+++

Do the work.
"##,
    check: Check::WhileReading,
};
