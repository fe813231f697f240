//! `kit-overdrawn`: more is fitted than the kit holds.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::KitOverdrawn, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("kit_overdrawn.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let over = booked(subject, |what| if let What::NotInKit { wanted, there } = what { Some((wanted, there)) } else { None });
    for ((wanted, there), place, entry) in over {
        let name = booked::name(subject, &entry.thing);
        let (are, is) = (booked::are(wanted), booked::are(there));
        let message = format!("{wanted} × {name} {are} fitted here and {there} {is} left in the kit");
        let mut finding = booked::finding(subject, &RULE, place, entry, message, "correct the count here or before, or `supplied`");
        if let Some(thing) = subject.names.thing(&entry.thing) {
            let file = subject.names.file_of_thing(&entry.thing);
            finding = finding.with_related(crate::source::Place { file, span: thing.id().span }, "what the kit holds");
        }
        findings.push(finding);
    }
}
