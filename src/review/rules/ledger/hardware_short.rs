//! `hardware-short`: more hardware or parts are taken off, tightened or put on than there are.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::HardwareShort, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("hardware_short.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let short = booked(subject, |what| match what {
        What::NotOnVehicle { wanted, there } => Some((wanted, there, "on the vehicle")),
        What::NotInStock { wanted, there } => Some((wanted, there, "there")),
        _ => None,
    });
    for ((wanted, there, place_words), place, entry) in short {
        let verb = entry.entry.map_or("used", |entry| booked::operation(subject, entry).verb.done());
        let name = booked::name(subject, &entry.thing);
        let (are, is) = (booked::are(wanted), booked::are(there));
        let message = format!("{wanted} × {name} {are} {verb} here and only {there} {is} {place_words}");
        let remedy = "correct the count here, the counts before it, or `on_vehicle` and `supplied` of the hardware";
        let mut finding = booked::finding(subject, &RULE, place, entry, message, remedy);
        if let Some(thing) = subject.names.thing(&entry.thing) {
            let file = subject.names.file_of_thing(&entry.thing);
            finding = finding.with_related(crate::source::Place { file, span: thing.id().span }, "the hardware");
        }
        findings.push(finding);
    }
}
