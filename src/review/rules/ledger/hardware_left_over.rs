//! `hardware-left-over`: hardware or a part that came off neither goes back on nor is thrown away.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::HardwareLeftOver, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("hardware_left_over.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (count, place, entry) in booked(subject, |what| if let What::LeftOver(count) = what { Some(count) } else { None }) {
        let name = booked::name(subject, &entry.thing);
        let come = if count == 1 { "comes off and does" } else { "come off and do" };
        let message = format!("{count} × {name} {come} not go back on");
        let remedy = "put all of them back on, for the same vehicles, or say discard_hardware = true where they come off";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
