//! `issued-damaged`: a file of an issued revision was changed, or is not whole.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::IssuedDamaged, Family::Document, Severity::Query, Check::WholeShop, include_str!("issued_damaged.md"));

/// The finding for one file.
pub(crate) fn finding(place: Place, file: &str, why: &str) -> Finding {
    RULE.at(
        place,
        format!("{file} cannot be used: {why}"),
        "put the file back as it was issued, from version control or a copy; never edit it",
    )
}
