//! `fuse-early`: a fuse goes in before the circuit that it protects is complete.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::{booked, ordered};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseEarly, Family::People, Severity::Hold, Check::Guide(check), include_str!("fuse_early.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::FuseEarly) {
        let later = told.lapse.other.and_then(|other| {
            let targets = &subject.guide.steps.get(other.step)?.operations.get(other.operation)?.targets;
            targets.iter().find(|target| target.span == other.span)
        });
        let later = later.map_or_else(String::new, |later| booked::thing(subject, subject.names.meant(&later.value)));
        let message = format!("{} and {later}, which belongs to its circuit, comes later", told.what_is_done(subject));
        findings.push(told.finding(subject, &RULE, message, "put the fuse in when everything else of its circuit is done", ""));
    }
}
