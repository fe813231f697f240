//! `key-unknown`: a block has a key that the format does not know.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "key-unknown",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A block has a key that the format does not know.",
    why: "A misspelt key is a fact that silently goes missing from the page and from every check.",
    mend: "Correct the spelling, or take the line out.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
revison = "B"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
revision = "B"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
