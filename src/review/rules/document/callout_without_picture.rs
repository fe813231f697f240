//! `callout-without-picture`: a callout belongs to a picture that its step does not show.

use crate::finding::{Finding, RuleName, Severity};
use crate::near::{did_you_mean, nearest};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::CalloutWithoutPicture,
    Family::Document,
    Severity::Hold,
    Check::Guide(check),
    include_str!("callout_without_picture.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for step in &guide.steps {
        for callout in &step.callouts {
            let shown = || step.prose.pictures.iter().map(|picture| picture.source.as_str());
            if shown().any(|picture| picture == callout.picture.value) {
                continue;
            }
            let remedy = match nearest(&callout.picture.value, shown()) {
                Some(near) => format!("write the picture as the step's words name it{}", did_you_mean(Some(near))),
                None => "show the picture in this step, or move the callout to the step that shows it".to_owned(),
            };
            let message = format!("this step does not show `{}`", callout.picture.value);
            findings.push(RULE.at(guide.place(callout.picture.span), message, remedy));
        }
    }
}
