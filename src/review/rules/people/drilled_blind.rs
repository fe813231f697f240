//! `drilled-blind`: a panel is drilled or cut before anybody looked behind it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::guide::verb::Verb;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DrilledBlind, Family::People, Severity::Hold, Check::Guide(check), include_str!("drilled_blind.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::Blind) {
        let here = (told.lapse.entry.step, told.lapse.entry.operation);
        let all = subject.guide.steps.iter().enumerate();
        let all = all.flat_map(|(step, of)| of.operations.iter().enumerate().map(move |(at, operation)| ((step, at), operation)));
        let later = all
            .filter(|(at, operation)| *at > here && operation.verb == Verb::LookBehind)
            .find(|(_, operation)| operation.targets.iter().any(|target| subject.names.meant(&target.value) == told.lapse.thing));
        let done = told.what_is_done(subject);
        let message = match later {
            Some(_) => format!("{done} and what lies behind it is looked at only later"),
            None => format!("{done} and nobody has looked behind it"),
        };
        let remedy = format!("put {{ look_behind = \"{}\" }} before it, for the same vehicles", told.lapse.thing);
        let mut finding = told.finding(subject, &RULE, message, remedy, "");
        if let Some((_, operation)) = later {
            finding = finding.with_related(subject.guide.place(operation.verb_span), "looked behind here");
        }
        findings.push(finding);
    }
}
