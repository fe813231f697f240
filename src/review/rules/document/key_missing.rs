//! `key-missing`: a block lacks a key that it cannot do without.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "key-missing",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A block lacks a key that it cannot do without.",
    why: "The page would have a hole, for instance a part without a name.",
    mend: "Add the key that the finding names.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
[[part]]
id = "base"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[part]]
id = "base"
name = "Swivel base"
+++

## Fit the bracket

+++
do = [{ fit = "base" }]
+++

Do the work.
"##,
    check: Check::WhileReading,
};
