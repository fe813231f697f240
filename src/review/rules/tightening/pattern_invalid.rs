//! `pattern-invalid`: a tightening order does not fit the fasteners it is for.

use crate::finding::{Finding, Severity};
use crate::guide::tally;
use crate::guide::tightening::{count_of, order_of};
use crate::source::Place;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "pattern-invalid",
    family: Family::Tightening,
    severity: Severity::Hold,
    summary: "A tightening order does not fit the fasteners it is for.",
    why: "An order that leaves one out, or does not go across, tilts the part.",
    mend: "Correct `pattern`, `rows` or `order`, or the count of the operation.",
    basis: "common practice: on a circle opposite pairs, on a cover from the middle outward",
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
torque = "20 N·m"
source = "practice"
pattern = "circle"
order = "1-2-3-4"
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
pattern = "circle"
order = "1-3-2-4"
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
    let (guide, names) = (subject.guide, subject.names);
    let mut told = Vec::new();
    for (_, operation) in guide.operations() {
        let undone = operation.loosen_as.as_ref().and_then(|id| names.spec(&id.value));
        let Some(spec) = tally::torque_of(operation, names).and_then(|(_, spec)| spec).or(undone) else { continue };
        let count = count_of(operation, names);
        let key = (std::ptr::from_ref(spec), count);
        if count == 0 || told.contains(&key) {
            continue;
        }
        told.push(key);
        let Some(Err(objections)) = order_of(spec, count) else { continue };
        let span = spec.order.as_ref().or(spec.pattern.as_ref()).map_or(spec.id.span, |text| text.span);
        let place = Place { file: names.file_of_spec(spec), span };
        for objection in objections {
            let finding = RULE.at(place, objection.message, objection.remedy);
            findings.push(finding.with_related(guide.place(operation.span), format!("{count} fasteners are tightened here")));
        }
    }
}
