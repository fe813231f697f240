//! `unit-ambiguous`: a unit can be read in more than one way.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "unit-ambiguous",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "A unit can be read in more than one way.",
    why: "`gal` is 3.8 or 4.5 litres, `lb` beside a bolt is a mass, and `nm` is a nanometre. Whoever reads the sheet picks one.",
    mend: "Write which unit is meant: US gal or Imp gal, lb·ft or lb·in, N·m.",
    basis: "NIST SP 811, appendix B.8: US and Imperial gallon differ by a fifth",
    bad: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
volume = "5 gal"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
[[spec]]
id = "seat-bolt"
volume = "5 US gal"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
