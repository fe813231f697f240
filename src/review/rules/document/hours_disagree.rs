//! `hours-disagree`: the time stated for the job and the sum of its steps differ.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::tally;
use crate::quantity::{self, Exact};

pub(crate) const RULE: Rule = Rule {
    name: "hours-disagree",
    family: Family::Document,
    severity: Severity::Query,
    summary: "The time stated for the job and the sum of its steps differ.",
    why: "The customer is quoted one and the bay is booked for the other.",
    mend: "Correct `hours` or the minutes of the steps. A tenth either way is let pass; waiting times may be counted or not.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
hours = "3"
+++

## Fit the bracket

+++
minutes = 30
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
hours = "0.5"
+++

## Fit the bracket

+++
minutes = 30
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let Some(stated) = &guide.hours else { return };
    let (Some(quantity), Some(minutes)) = (&stated.value.quantity, tally::minutes(guide)) else { return };
    // A sum over only some of the steps says nothing about the whole job.
    if guide.steps.iter().any(|step| step.minutes.is_none()) {
        return;
    }
    let mut waits = guide.steps.iter().filter_map(|step| step.wait.as_ref()?.value.quantity.as_ref()?.base_bounds().1);
    let Some(steps) = Exact::fraction(i128::from(minutes) * 60, 1000) else { return };
    let with_waits = waits.try_fold(steps, Exact::plus).unwrap_or(steps);
    let (low, high) = quantity.base_bounds();
    let tenth = |value: Exact, tenths: i128| Exact::fraction(tenths, 10).and_then(|factor| value.times(factor));
    let low_ok = low.and_then(|low| tenth(low, 9)).is_none_or(|low| with_waits >= low);
    let high_ok = high.and_then(|high| tenth(high, 11)).is_none_or(|high| steps <= high);
    if !(low_ok && high_ok) {
        let hours = quantity::duration_words(quantity);
        findings.push(RULE.at(
            guide.place(stated.span),
            format!("the guide says {hours} and its steps add up to {}", tally::minutes_words(minutes)),
            "correct `hours`, or the minutes of the steps",
        ));
    }
}
