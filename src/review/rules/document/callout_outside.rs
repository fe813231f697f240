//! `callout-outside`: a callout points beside its picture.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CalloutOutside, Family::Document, Severity::Hold, Check::Guide(check), include_str!("callout_outside.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for callout in guide.steps.iter().flat_map(|step| &step.callouts) {
        let (x, y) = callout.at.value;
        if (0.0..=1.0).contains(&x) && (0.0..=1.0).contains(&y) {
            continue;
        }
        let percent = (0.0..=100.0).contains(&x) && (0.0..=100.0).contains(&y) && x.max(y) > 1.0;
        let remedy = if percent && x.max(y) > 2.0 {
            format!("write shares, not percent: [{}, {}], if that was meant", x / 100.0, y / 100.0)
        } else {
            "write both numbers between 0 and 1, from the left edge and from the top".to_owned()
        };
        let message = format!("[{x}, {y}] lies beside `{}`", callout.picture.value);
        findings.push(RULE.at(guide.place(callout.at.span), message, remedy));
    }
}
