//! `dual-disagree`: two units given for one value differ by more than rounding allows.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "dual-disagree",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "Two units given for one value differ by more than rounding allows.",
    why: "One of the two is wrong, and each technician works to the unit on his own wrench. A figure in lb·in printed as lb·ft is wrong by twelve.",
    mend: "Look the value up at its source and correct the wrong one; or give one unit only, and the other is computed.",
    basis: "NIST SP 811, appendix B.8 for the factors; rounding by NIST SP 811, appendix B.7",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "25 N·m (18 lb·in)"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
torque = "25 N·m (18 lb·ft)"
source = "practice"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
