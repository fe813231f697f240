//! `not-raised`: work from below is done on a vehicle that is not raised.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::NotRaised, Family::People, Severity::Hold, Check::Guide(check), include_str!("not_raised.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::NotRaised) {
        let done = told.what_is_done(subject);
        let message = match told.lapse.other {
            Some(_) => format!("{done} from below after the vehicle was lowered"),
            None => format!("{done} from below and the vehicle is not raised"),
        };
        findings.push(told.finding(
            subject,
            &RULE,
            message,
            "raise the vehicle before it and lower it after it, for the same vehicles",
            "",
        ));
    }
}
