//! `run-too-early`: the engine runs, or the vehicle is driven, before it is filled, closed, checked or on its wheels.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::guide::verb::Verb;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::{booked, ordered};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::RunTooEarly, Family::People, Severity::Hold, Check::Guide(check), include_str!("run_too_early.md"));

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
            Danger::RunsOpen => {
                (format!("{runs} and {thing} is open until later"), "close it before the engine runs, for the same vehicles")
            }
            Danger::LevelLate => {
                (format!("{runs} and {thing} is checked only later"), "check the level before the vehicle is driven, for the same vehicles")
            }
            _ => (format!("{runs} and {thing} is still raised"), "lower it first, for the same vehicles"),
        };
        findings.push(told.finding(subject, &RULE, message, remedy, ""));
    }
}
