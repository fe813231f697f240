//! `torque-for-other`: an operation tightens hardware to a torque that is written for something else.

use crate::finding::{Finding, Severity};
use crate::guide::names::Thing;
use crate::guide::tally;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule = Rule {
    name: "torque-for-other",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "An operation tightens hardware to a torque that is written for something else.",
    why: "The value of the neighbouring row is the commonest wrong torque: it looks right and belongs to another bolt.",
    mend: "Name the spec of this hardware, or take `for` out of a spec that is meant for both.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the side table"

[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "long-bolt"
name = "Long bolt"
supplied = 2

[[hardware]]
id = "short-bolt"
name = "Short bolt"
on_vehicle = 2

[[spec]]
id = "short-bolt"
for = "short-bolt"
torque = "9 N·m"
source = "practice"
+++

## Fit the bracket

+++
do = [{ fit = "bracket", hardware = "2 x long-bolt", torque = "short-bolt" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"

[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "long-bolt"
name = "Long bolt"
supplied = 2

[[spec]]
id = "long-bolt"
for = "long-bolt"
torque = "9 N·m"
source = "practice"
+++

## Fit the bracket

+++
do = [{ fit = "bracket", hardware = "2 x long-bolt", torque = "long-bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    for (_, operation) in guide.operations() {
        let Some((_, Some(spec))) = tally::torque_of(operation, names) else { continue };
        let Some(Thing::Hardware(meant)) = spec.of.as_ref().and_then(|of| names.thing(&of.value)) else { continue };
        let tightened: Vec<_> = tally::hardware_of(operation, names).into_iter().filter(|(_, hardware)| hardware.takes_torque()).collect();
        let Some((_, first)) = tightened.first().filter(|_| !tightened.iter().any(|(_, hardware)| std::ptr::eq(*hardware, meant))) else {
            continue;
        };
        let named = operation.hardware.iter().find(|count| count.id.value == first.id.value).map(|count| count.span);
        let span = named.or_else(|| operation.targets.first().map(|id| id.span)).unwrap_or(operation.span);
        let message = format!("hardware `{}` is tightened to the torque of `{}`", first.name.value, meant.name.value);
        let remedy = "name the spec of this hardware, or take `for` out of the spec if it is meant for both";
        let place = Place { file: names.file_of_spec(spec), span: spec.id.span };
        findings.push(RULE.at(guide.place(span), message, remedy).with_related(place, "the spec"));
    }
}
