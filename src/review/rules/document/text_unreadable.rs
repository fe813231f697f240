//! `text-unreadable`: the file holds bytes that are not UTF-8 text.

use crate::finding::Severity;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "text-unreadable",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "The file holds bytes that are not UTF-8 text.",
    why: "A degree sign or a middle dot saved in an old encoding turns into something else, often inside a value.",
    mend: "Save the file as UTF-8.",
    basis: "RFC 3629",
    bad: "",
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::WhileReading,
};
