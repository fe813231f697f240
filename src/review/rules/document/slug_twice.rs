//! `slug-twice`: two guides would be published under one address.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::SlugTwice, Family::Document, Severity::Hold, Check::WholeShop, include_str!("slug_twice.md"));

/// The finding for one of two guides with one slug.
pub(crate) fn finding(slug: &str, one: Place, other: Place) -> Finding {
    RULE.at(one, format!("another guide would be published as `{slug}` too"), "rename the file or the folder of one of the two guides")
        .with_related(other, "the other guide")
}
