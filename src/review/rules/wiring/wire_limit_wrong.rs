//! `wire-limit-wrong`: the shop's limits for wires contradict each other.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Shop;
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WireLimitWrong, Family::Wiring, Severity::Hold, Check::Shop(check), include_str!("wire_limit_wrong.md"));

fn check(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    for (row, other, why) in circuits::clashes(shop) {
        let finding = RULE.at(Place { file, span: row.wire.span }, why, "correct the conductor or the current of one of the two blocks");
        findings.push(match other {
            Some(other) => finding.with_related(Place { file, span: other.wire.span }, "the other block"),
            None => finding,
        });
    }
}
