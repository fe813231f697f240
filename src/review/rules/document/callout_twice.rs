//! `callout-twice`: two callouts of a picture point to the same spot.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Callout;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CalloutTwice, Family::Document, Severity::Query, Check::Guide(check), include_str!("callout_twice.md"));

/// Closer than this, as a share of the picture, two points are one for the eye.
const SAME: f64 = 0.01;

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for step in &guide.steps {
        for (number, callout) in step.callouts.iter().enumerate() {
            let (x, y) = callout.at.value;
            let same = |other: &&Callout| {
                let (other_x, other_y) = other.at.value;
                other.picture.value == callout.picture.value && (x - other_x).abs() < SAME && (y - other_y).abs() < SAME
            };
            if let Some(earlier) = step.callouts[..number].iter().find(same) {
                let message = format!("two callouts of `{}` point to the same spot", callout.picture.value);
                let finding = RULE.at(guide.place(callout.at.span), message, "move one of the two, or say both in one");
                findings.push(finding.with_related(guide.place(earlier.at.span), "the other one"));
            }
        }
    }
}
