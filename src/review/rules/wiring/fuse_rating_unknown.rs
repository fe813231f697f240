//! `fuse-rating-unknown`: no blade fuse is made in the rating that a circuit gives.

use crate::finding::{Finding, RuleName, Severity};
use crate::quantity::Exact;
use crate::review::circuits::amperes;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::wiring::no_blade_rating;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseRatingUnknown, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("fuse_rating_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let (Some(fuse), Some(rating)) = (&circuit.fuse, amperes(circuit.fuse.as_ref())) else { continue };
        // What is nought or below is told as impossible, and mains circuits have breakers in ratings of their own.
        let low = circuit.volts().is_none_or(|volts| volts <= Exact::whole(58));
        if rating <= Exact::ZERO || !(low || circuit.fuse_type().is_some()) {
            continue;
        }
        let Some(near) = no_blade_rating(rating, circuit.fuse_type()) else { continue };
        let message = format!("no blade fuse is made for {}: {near}", fuse.value.text);
        let remedy = "write the rating of the supplier's sheet, or say in fuse_type that it is no blade fuse";
        findings.push(RULE.at(guide.place(fuse.span), message, remedy));
    }
}
