//! `part-never-fitted`: a part of the kit is not fitted by any step.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PartNeverFitted, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("part_never_fitted.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (_, place, entry) in booked(subject, |what| if let What::NeverFitted(count) = what { Some(count) } else { None }) {
        let message = format!("{} of the kit is never fitted", booked::thing(subject, &entry.thing));
        let remedy =
            "add the operation that fits it, take it out of the kit, or say `spare`; if it comes only with an option, add its `when`";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
