//! `fuse-too-small`: a fuse is no larger than the load of its circuit.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::circuits::amperes;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseTooSmall, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("fuse_too_small.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let (Some(fuse), Some(stated)) = (&circuit.fuse, &circuit.current) else { continue };
        let (Some(rating), Some(current)) = (amperes(Some(fuse)), amperes(Some(stated))) else { continue };
        if current < rating {
            continue;
        }
        let (name, load) = (&circuit.name.value, &stated.value.text);
        let message = if current == rating {
            format!("the fuse of `{name}` is no larger than its load of {load}: it runs hot and opens in the end")
        } else {
            format!("the fuse of `{name}` opens in service: it carries up to {load}")
        };
        let finding = RULE.at(guide.place(fuse.span), message, "look both values up again in the supplier's sheet");
        findings.push(finding.with_related(Place { file: guide.file, span: stated.span }, "the load"));
    }
}
