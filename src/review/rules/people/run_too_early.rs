//! `run-too-early`: the engine runs, or the vehicle is driven, before it is filled, closed, checked or on its wheels.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::guide::verb::Verb;
use crate::review::{booked, ordered};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "run-too-early",
    family: Family::People,
    severity: Severity::Hold,
    summary: "The engine runs, or the vehicle is driven, before it is filled, closed, checked or on its wheels.",
    why: "An engine without oil is scrap in a minute, an open fuel line is a fire, and a road test without brake fluid ends at the first bend.",
    mend: "Fill what was drained and close what carries fuel, pressure or a fluid before the engine runs; check every level and lower the vehicle before the road test. `start` and `road_test` say that the engine runs and the vehicle is driven; so does a heading or sentence such as: Start the engine.",
    basis: "common practice",
    bad: r##"+++
title = "Change the oil"
[[item]]
id = "oil"
name = "Engine oil"

[[item]]
id = "engine"
name = "Engine"
+++

## Drain the oil

+++
do = [{ drain = "oil" }]
+++

Do the work.

## Run the engine

+++
do = [{ start = "engine" }, { stop = "engine" }]
+++

Do the work.

## Fill the oil

+++
do = [{ fill = "oil" }]
+++

Do the work.

"##,
    good: r##"+++
title = "Change the oil"
[[item]]
id = "oil"
name = "Engine oil"

[[item]]
id = "engine"
name = "Engine"
+++

## Drain the oil

+++
do = [{ drain = "oil" }]
+++

Do the work.

## Fill the oil

+++
do = [{ fill = "oil" }]
+++

Do the work.

## Run the engine

+++
do = [{ start = "engine" }, { stop = "engine" }]
+++

Do the work.

"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let dangers = |danger| matches!(danger, Danger::Dry | Danger::RunsOpen | Danger::LevelLate | Danger::DrivenRaised);
    for lapse in subject.ledger.lapses.iter().filter(|lapse| dangers(lapse.danger)) {
        let told = ordered::Told { lapse, others: Vec::new() };
        let thing = booked::thing(subject, &lapse.thing);
        let drives = match subject.guide.steps[lapse.entry.step].operations.get(lapse.entry.operation) {
            Some(operation) => operation.verb == Verb::RoadTest,
            None => matches!(lapse.danger, Danger::LevelLate | Danger::DrivenRaised),
        };
        let runs = if drives { "the vehicle is driven here" } else { "the engine runs here" };
        let (message, remedy) = match lapse.danger {
            Danger::Dry => (format!("{runs} and {thing} is filled only later"), "fill it before the engine runs, for the same vehicles"),
            Danger::RunsOpen => (format!("{runs} and {thing} is open until later"), "close it before the engine runs, for the same vehicles"),
            Danger::LevelLate => (format!("{runs} and {thing} is checked only later"), "check the level before the vehicle is driven, for the same vehicles"),
            _ => (format!("{runs} and {thing} is still raised"), "lower it first, for the same vehicles"),
        };
        findings.push(told.finding(subject, &RULE, message, remedy, ""));
    }
}
