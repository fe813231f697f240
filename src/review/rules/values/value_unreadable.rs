//! `value-unreadable`: a value cannot be read as a number, range, tolerance or limit with a unit.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "value-unreadable",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "A value cannot be read as a number, range, tolerance or limit with a unit.",
    why: "What the program cannot read it cannot check, convert or print in the reader's units, and a technician may read it wrongly too.",
    mend: "Write a number and a unit: 45 N·m, 8..12 N·m, 24 ±3 N·m, max 5 mm, 30 N·m + 90°.",
    basis: "NIST SP 811, chapter 7; decimal marks by common practice",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45,5 N·m"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45.5 N·m"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
