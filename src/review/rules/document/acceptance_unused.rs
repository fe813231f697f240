//! `acceptance-unused`: an acceptance matches no finding.

use crate::finding::{Finding, Former, Known, RuleName, Severity};
use crate::guide::model::{Acceptance, Guide};
use crate::near::{did_you_mean, nearest};
use crate::review;
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::AcceptanceUnused, Family::Document, Severity::Query, Check::WholeShop, include_str!("acceptance_unused.md"));

/// The finding for an acceptance that nothing answered to.
pub(crate) fn finding(guide: &Guide<'_>, acceptance: &Acceptance) -> Finding {
    let name = acceptance.rule.value.as_str();
    let place = guide.place(acceptance.rule.span);
    match RuleName::known(name) {
        Known::Current(rule) | Known::Former(Former::Renamed(rule)) if review::rule(rule).can_be_accepted() => {
            RULE.at(place, format!("nothing here breaks `{rule}`"), "take the acceptance out")
        }
        Known::Current(_) | Known::Former(Former::Renamed(_)) => {
            let remedy = "mend what the finding names, and take the acceptance out";
            RULE.at(place, format!("findings of `{name}` cannot be accepted"), remedy)
        }
        Known::Former(Former::Retired(why)) => {
            RULE.at(place, format!("there is no rule `{name}` any more: {why}"), "take the acceptance out")
        }
        Known::Never => {
            let near = nearest(name, RuleName::ALL.iter().map(|rule| rule.name()));
            let remedy = format!("use the name from a finding, or take the acceptance out{}", did_you_mean(near));
            let finding = RULE.at(place, format!("there is no rule `{name}`"), remedy);
            match near {
                Some(near) => finding.with_suggestion(acceptance.rule.span, near),
                None => finding,
            }
        }
    }
}
