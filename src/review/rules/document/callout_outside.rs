//! `callout-outside`: a callout points beside its picture.

use crate::finding::{Finding, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "callout-outside",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "A callout points beside its picture.",
    why: "Its balloon would hang over the edge or not be seen at all, and the reader looks for a thing that is not shown.",
    mend: "Write both numbers between 0 and 1: the share of the width from the left edge, then the share of the height from the top.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
[[callout]]
picture = "base.svg"
at = [42, 31]
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
