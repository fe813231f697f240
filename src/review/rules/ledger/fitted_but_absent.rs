//! `fitted-but-absent`: something is worked on that is not there: thrown away before, or not on vehicles of this kind.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FittedButAbsent, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("fitted_but_absent.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (verb, place, entry) in booked(subject, |what| if let What::Gone(verb) = what { Some(verb) } else { None }) {
        let message = format!("{} is {} here after it was thrown away", booked::thing(subject, &entry.thing), verb.done());
        let remedy = "name the new one that takes its place, or take one of the two operations out";
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
    for (verb, place, entry) in booked(subject, |what| if let What::NotThere(verb) = what { Some(verb) } else { None }) {
        let name = booked::thing(subject, &entry.thing);
        let message = format!("{name} is {} here although it is not there", verb.done());
        let remedy = "give the operation the `when` that the thing has, or correct the `when` of the thing";
        let file = subject.names.file_of_thing(&entry.thing);
        let mut finding = booked::finding(subject, &RULE, place, entry, message, remedy);
        if let Some(thing) = subject.names.thing(&entry.thing) {
            finding = finding.with_related(crate::source::Place { file, span: thing.id().span }, "it has a `when`");
        }
        findings.push(finding);
    }
    let thrown = booked(subject, |what| if let What::ThrownAway { wanted, there } = what { Some((wanted, there)) } else { None });
    for ((wanted, there), place, entry) in thrown {
        let name = booked::name(subject, &entry.thing);
        let are = booked::are(wanted);
        let message = format!("{wanted} × {name} {are} put on here and {there} are there: the others were thrown away");
        findings.push(booked::finding(subject, &RULE, place, entry, message, "name the new hardware, or keep the old"));
    }
}
