//! `range-reversed`: the lower end of a range is above its upper end.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "range-reversed",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "The lower end of a range is above its upper end.",
    why: "One of the two numbers is a slip, and nobody can tell which.",
    mend: "Put the smaller value first, after looking both up at their source.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "12..8 N·m"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "8..12 N·m"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
