//! `one-use-refitted`: hardware that must not be used again goes back on, or is loosened and tightened again.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OneUseRefitted, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("one_use_refitted.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (count, place, entry) in booked(subject, |what| if let What::UsedAgain(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let (go, is) = if count == 1 { ("goes", "is") } else { ("go", "are") };
        let message = format!("{count} × {name} {go} back on or {is} tightened again and must not be used again");
        findings.push(booked::finding(
            subject,
            &RULE,
            place,
            entry,
            message,
            "fit new ones: give them in `supplied`, or name other hardware",
        ));
    }
}
