//! `block-unreadable`: a block of facts cannot be read, or stands where it cannot be seen as one.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "block-unreadable",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A block of facts cannot be read, or stands where it cannot be seen as one.",
    why: "Everything in it would be missing from the checks, and its text would show up as words on the page.",
    mend: "Put the block directly under its heading with an empty line around it, fenced by lines of +++.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
minutes = 10 10
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
