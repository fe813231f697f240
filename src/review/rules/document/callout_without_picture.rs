//! `callout-without-picture`: a callout belongs to a picture that its step does not show.

use crate::finding::{Finding, Severity};
use crate::near::{did_you_mean, nearest};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "callout-without-picture",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A callout belongs to a picture that its step does not show.",
    why: "The balloon has nothing to stand on, so what it explains is lost.",
    mend: "Name a picture as the step's words name it, or show the picture in this step.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
[[callout]]
picture = "bse.svg"
at = [0.42, 0.31]
words = "Front edge of the base"
+++

![The base on the floor](base.svg)
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
[[callout]]
picture = "base.svg"
at = [0.42, 0.31]
words = "Front edge of the base"
+++

![The base on the floor](base.svg)
"##,
    check: Check::Guide(check),
};

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
