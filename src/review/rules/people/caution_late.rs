//! `caution-late`: a caution stands behind the work that it belongs to.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::booked;
use crate::review::covered::{Uncovered, uncovered};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Span;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CautionLate, Family::People, Severity::Hold, Check::Guide(check), include_str!("caution_late.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    // One caution that slipped down is one finding, however many places it leaves uncovered.
    let mut slipped: Vec<(Vec<Uncovered<'_>>, Span)> = Vec::new();
    for one in uncovered(subject) {
        let Some(later) = one.later else { continue };
        match slipped.iter_mut().find(|(places, caution)| *caution == later && places[0].marks == one.marks) {
            Some((places, _)) => places.push(one),
            None => slipped.push((vec![one], later)),
        }
    }
    for (places, later) in slipped {
        let done = |one: &Uncovered<'_>| format!("{} is {} here", booked::thing(subject, one.thing), one.operation.verb.done());
        let message = format!("{} and the caution for {} comes later", done(&places[0]), places[0].marks_words());
        let mut finding = RULE.at(guide.place(places[0].span), message, "move the caution into this step");
        finding = finding.with_related(guide.place(later), "the caution");
        for one in &places[1..] {
            finding = finding.with_related(guide.place(one.span), format!("{} too", done(one)));
        }
        findings.push(finding);
    }
}
