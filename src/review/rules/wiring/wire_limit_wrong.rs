//! `wire-limit-wrong`: the shop's limits for wires contradict each other.

use crate::finding::{Finding, Severity};
use crate::guide::model::Shop;
use crate::review::circuits;
use crate::source::{FileId, Place};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule = Rule {
    name: "wire-limit-wrong",
    family: Family::Wiring,
    severity: Severity::Hold,
    summary: "The shop's limits for wires contradict each other.",
    why: "No fuse can be held against them until they are right.",
    mend: "Give each conductor once, with a current above nought, and a thicker one no less than a thinner one.",
    basis: "common practice",
    bad: r##""##,
    good: r##"+++
title = "Wire the side lamp"
[[connector]]
id = "lamp"
name = "Lamp connector"

[[circuit]]
id = "lamps"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "5 A"
length = "2 m"
fuse = "10 A"
+++

## Plug the lamp in

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    check: Check::Shop(check),
};

fn check(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    for (row, other, why) in circuits::clashes(shop) {
        let finding = RULE.at(Place { file, span: row.wire.span }, why, "correct the conductor or the current of one of the two blocks");
        findings.push(match other {
            Some(other) => finding.with_related(Place { file, span: other.wire.span }, "the other block"),
            None => finding,
        });
    }
}
