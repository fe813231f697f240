//! `not-released`: a hot or pressurised circuit is opened before it has cooled or its pressure was let out.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::NotReleased, Family::People, Severity::Hold, Check::Guide(check), include_str!("not_released.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| matches!(danger, Danger::Hot | Danger::Pressed)) {
        let done = told.what_is_done(subject);
        let since = if told.lapse.other.is_some() { " since the engine ran" } else { "" };
        let (message, remedy) = if told.lapse.danger == Danger::Hot {
            (
                format!("{done} and nothing let it cool{since}"),
                "before it, let it cool with a `wait` of ten minutes or more, or `measure` its temperature against a limit",
            )
        } else {
            (
                format!("{done} and nothing let its pressure out{since}"),
                "before it, `release` the pressure, `drain` the circuit, or `measure` the pressure against a limit",
            )
        };
        findings.push(told.finding(subject, &RULE, message, remedy, "the engine runs here"));
    }
}
