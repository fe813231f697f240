//! `closed-not-open`: something is fitted, connected, filled, uncapped, uncovered, lowered or switched on that was not open before.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ClosedNotOpen, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("closed_not_open.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (verb, place, entry) in booked(subject, |what| if let What::NotOpen(verb) = what { Some(verb) } else { None }) {
        let Some(opening) = verb.inverse() else { continue };
        let message = format!("{} is {} here and was not {} before", booked::thing(subject, &entry.thing), verb.done(), opening.done());
        let remedy = format!(
            "add the operation `{}` where it belongs, for the same vehicles, or take this one out; if it is so before work starts, add open_at_start = true",
            opening.key()
        );
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
