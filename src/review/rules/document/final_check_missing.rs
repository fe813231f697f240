//! `final-check-missing`: the guide has no checks when the job is done.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "final-check-missing",
    family: Family::Document,
    severity: Severity::Query,
    summary: "The guide has no checks when the job is done.",
    why: "The last chance to see what was left undone is before the vehicle leaves the bay.",
    mend: "Add `final_check` to the guide block, or checks to the last step.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
revision = "B"
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
final_check = ["The seat locks in both positions"]
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let last_step_checks = guide.steps.last().is_some_and(|step| !step.checks.is_empty());
    if guide.head_read && !guide.steps.is_empty() && guide.final_checks.is_empty() && !last_step_checks {
        findings.push(RULE.at(
            guide.place(guide.head),
            "the guide has no checks for when the job is done",
            "add `final_check` with what is tried and looked at before the vehicle leaves",
        ));
    }
}
