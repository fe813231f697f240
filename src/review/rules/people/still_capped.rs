//! `still-capped`: a line or port is connected while its cap or plug is still in.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::StillCapped, Family::People, Severity::Hold, Check::Guide(check), include_str!("still_capped.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::Capped) {
        let message = format!("{} with its cap or plug still in", told.what_is_done(subject));
        findings.push(told.finding(
            subject,
            &RULE,
            message,
            format!("put {{ uncap = \"{}\" }} before it, for the same vehicles", told.lapse.thing),
            "",
        ));
    }
}
