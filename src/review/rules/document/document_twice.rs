//! `document-twice`: two guides carry one document number.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DocumentTwice, Family::Document, Severity::Query, Check::WholeShop, include_str!("document_twice.md"));

/// The finding for one of two guides with one number.
pub(crate) fn finding(number: &str, one: Place, other: Place) -> Finding {
    RULE.at(one, format!("another guide is document {number} too"), "give one of the two guides a number of its own")
        .with_related(other, "the other guide")
}
