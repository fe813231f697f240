//! `torque-over-proof`: a torque is more than the fastener can carry at any friction.

use crate::fastener::limit::Why;
use crate::finding::{Finding, RuleName, Severity};
use crate::review::believed::doubts;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueOverProof, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("torque_over_proof.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for doubt in doubts(subject).iter().filter(|doubt| doubt.why == Why::OverProof) {
        let message = format!("{} is more than {} can carry: {}", doubt.value, doubt.fastener, doubt.sentence);
        let remedy = "look the value up again with the vehicle maker or the supplier; check the unit, the digits and the row of the table";
        findings.push(RULE.at(doubt.place, message, remedy).with_related(doubt.hardware, "the fastener"));
    }
}
