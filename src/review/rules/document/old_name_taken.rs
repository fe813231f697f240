//! `old-name-taken`: a name that a guide had before is another guide's, now or before.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::OldName;
use crate::review::rule::{Check, Family, Rule};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OldNameTaken, Family::Document, Severity::Query, Check::WholeShop, include_str!("old_name_taken.md"));

/// The finding for one old name.
pub(crate) fn finding(name: &str, place: Place, other: OldName) -> Finding {
    match other {
        OldName::Own => RULE.at(place, format!("`{name}` is the name that the guide has now"), "take it out of `was`"),
        OldName::Present(guide) => RULE
            .at(
                place,
                format!("there is a guide `{name}`, so its address cannot lead on to this one"),
                "take the name out of `was`, or rename the other guide",
            )
            .with_related(guide, "the guide of this name"),
        OldName::Claimed(claim) => RULE
            .at(
                place,
                format!("another guide was `{name}` too, so nobody can say where its address leads"),
                "leave the name with the guide that had it last",
            )
            .with_related(claim, "the other claim"),
    }
}
