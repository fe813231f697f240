//! `type-wrong`: a key has a value of the wrong sort, or one that cannot be.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "type-wrong",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A key has a value of the wrong sort, or one that cannot be.",
    why: "Text where a number belongs, a negative count or a word outside the list cannot be used in any sum or check.",
    mend: "Write the value as the handbook shows it for that key.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
minutes = "ten"
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
minutes = 10
+++

Do the work.
"##,
    check: Check::WhileReading,
};
