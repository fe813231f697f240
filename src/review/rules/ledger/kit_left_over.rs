//! `kit-left-over`: hardware or parts of the kit are left in the bag at the end.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::KitLeftOver, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("kit_left_over.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (count, place, entry) in booked(subject, |what| if let What::LeftInKit(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let are = booked::are(count);
        let message = format!("{count} × {name} {are} left in the kit at the end");
        let remedy = "fit all of them, correct `supplied`, or say how many are to spare in `spare`; \
                      if they come only with an option, add its `when`";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
