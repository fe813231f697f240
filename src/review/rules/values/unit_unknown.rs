//! `unit-unknown`: a unit is not one that this value can have.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "unit-unknown",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "A unit is not one that this value can have.",
    why: "A value with a unit nobody can read is no value: the technician guesses.",
    mend: "Write the unit as the trade does; the handbook lists the spellings.",
    basis: "NIST SP 811, chapter 6",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45 Nmm"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "45 Nm"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
