//! `steps-missing`: the guide has no steps.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};

pub(crate) const RULE: Rule = Rule {
    name: "steps-missing",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "The guide has no steps.",
    why: "There is nothing to work down: no page, no checklist.",
    mend: "Start each step with a heading of level 2: ## Take the seat out.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

Take the seat out.
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    if subject.guide.steps.is_empty() {
        findings.push(RULE.at(
            subject.guide.place(subject.guide.head),
            "the guide has no steps",
            "start each step with a heading of level 2, such as ## Take the seat out",
        ));
    }
}
