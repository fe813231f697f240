//! `fits-missing`: the guide does not say which vehicles it fits.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FitsMissing, Family::Document, Severity::Query, Check::Guide(check), include_str!("fits_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    if guide.head_read && guide.fits.is_empty() && (!guide.states("fits") || guide.fits_nothing) {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide does not say which vehicles it fits",
            "add `fits` with the ids of vehicles from shop.toml, for instance fits = [\"marlin-3500\"]",
        ));
    }
}
