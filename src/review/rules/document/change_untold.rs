//! `change-untold`: no entry of this revision tells of something that changed since the last one.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ChangeUntold, Family::Document, Severity::Query, Check::WholeShop, include_str!("change_untold.md"));

/// The finding; `differences` are told in words.
pub(crate) fn finding(place: Place, before: &str, revision: &str, differences: &str) -> Finding {
    RULE.at(
        place,
        format!("no [[change]] of revision {revision} tells what changed since {before}: {differences}"),
        "name it in a [[change]] of this revision, or list its id in `about`; a guide that was written anew says anew = true",
    )
}
