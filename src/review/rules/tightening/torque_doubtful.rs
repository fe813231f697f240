//! `torque-doubtful`: a torque is hard to believe for its fastener.

use crate::fastener::limit::Why;
use crate::finding::{Finding, RuleName, Severity};
use crate::review::believed::doubts;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TorqueDoubtful, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("torque_doubtful.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for doubt in doubts(subject).iter().filter(|doubt| doubt.why != Why::OverProof) {
        let how = if doubt.why == Why::High { "much" } else { "little" };
        let message = format!("{} is {how} for {}: {}", doubt.value, doubt.fastener, doubt.sentence);
        let remedy = "look the value up again with the vehicle maker or the supplier, or accept it with the reason";
        findings.push(RULE.at(doubt.place, message, remedy).with_related(doubt.hardware, "the fastener"));
    }
}
