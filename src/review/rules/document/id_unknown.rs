//! `id-unknown`: something is referred to by an id that nothing has.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "id-unknown",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "Something is referred to by an id that nothing has.",
    why: "The page would have a gap where the value or the name should stand.",
    mend: "Correct the id, or define what is missing.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45 N·m"
source = "practice"
for = "seat-bolt"

[[hardware]]
id = "seat-bolt"
name = "Seat rail bolt"
+++

## Fit the bracket

+++
do = [{ tighten = "seat-bolt", torque = "seat-bolt" }]
+++

Tighten to [](spec:seat-blot).
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45 N·m"
source = "practice"
for = "seat-bolt"

[[hardware]]
id = "seat-bolt"
name = "Seat rail bolt"
+++

## Fit the bracket

+++
do = [{ tighten = "seat-bolt", torque = "seat-bolt" }]
+++

Tighten to [](spec:seat-bolt).
"##,
    check: Check::WhileReading,
};
