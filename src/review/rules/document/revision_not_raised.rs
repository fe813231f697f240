//! `revision-not-raised`: the text differs from what was issued under its letter.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::RevisionNotRaised, Family::Document, Severity::Hold, Check::WholeShop, include_str!("revision_not_raised.md"));

/// The finding; `differences` are told in words.
pub(crate) fn finding(place: Place, revision: &str, file: &str, differences: &str) -> Finding {
    RULE.at(
        place,
        format!("the text is not what was issued as revision {revision}: {differences}"),
        format!("raise the revision, or put the text back as it was issued; `bayleaf compare GUIDE@{revision}` tells all differences from {file}"),
    )
}
