//! `torque-over-proof`: a torque is more than the fastener can carry at any friction.

use crate::finding::{Finding, Severity};
use crate::fastener::limit::Why;
use crate::review::believed::doubts;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "torque-over-proof",
    family: Family::Tightening,
    severity: Severity::Hold,
    summary: "A torque is more than the fastener can carry at any friction.",
    why: "The shank stretches for good or breaks, at once or on the road.",
    mend: "Look the value up again: a wrong unit, a digit too many and the row of another bolt are the usual slips. The value to use is the maker's.",
    basis: "VDI 2230, combined tension and torsion at yield with the highest friction that is met; ISO 898-1, ISO 898-2, SAE J429, ISO 3506-1",
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
torque = "95 N·m"
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
    for doubt in doubts(subject).iter().filter(|doubt| doubt.why == Why::OverProof) {
        let message = format!("{} is more than {} can carry: {}", doubt.value, doubt.fastener, doubt.sentence);
        let remedy = "look the value up again with the vehicle maker or the supplier; check the unit, the digits and the row of the table";
        findings.push(RULE.at(doubt.place, message, remedy).with_related(doubt.hardware, "the fastener"));
    }
}
