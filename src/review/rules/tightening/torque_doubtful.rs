//! `torque-doubtful`: a torque is hard to believe for its fastener.

use crate::finding::{Finding, Severity};
use crate::fastener::limit::Why;
use crate::review::believed::doubts;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "torque-doubtful",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A torque is hard to believe for its fastener.",
    why: "It is beyond the load that the fastener carries at usual friction, or so low that it hardly clamps.",
    mend: "Look the value up again. If the source says so, accept the finding with the reason. The value to use is the maker's.",
    basis: "nut factors with their scatter (Shigley, table 8-15; NASA fastener guidance), proof loads of ISO 898-1, ISO 898-2, SAE J429, ISO 3506-1",
    bad: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "45 N·m"
source = "practice"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
source = "practice"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for doubt in doubts(subject).iter().filter(|doubt| doubt.why != Why::OverProof) {
        let how = if doubt.why == Why::High { "much" } else { "little" };
        let message = format!("{} is {how} for {}: {}", doubt.value, doubt.fastener, doubt.sentence);
        let remedy = "look the value up again with the vehicle maker or the supplier, or accept it with the reason";
        findings.push(RULE.at(doubt.place, message, remedy).with_related(doubt.hardware, "the fastener"));
    }
}
