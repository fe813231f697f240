//! `licensed-work`: work on a system that the law or the maker keeps for trained people does not say so.

use crate::finding::{Finding, Severity};
use crate::guide::keys::LICENSED_MARKS;
use crate::review::booked;
use crate::review::covered::{marked, only_looks, shown};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "licensed-work",
    family: Family::People,
    severity: Severity::Query,
    summary: "Work on a system that the law or the maker keeps for trained people does not say so.",
    why: "Brakes, restraint systems, fuel, gas, refrigerant, mains and high voltage: local rules say who may touch them, and the maker says how.",
    mend: "Say in a caution that covers the mark who may do the work, and that the vehicle maker's current instructions come first.",
    basis: "common practice; local rules differ",
    bad: r##"+++
title = "Fit the side table"
[[item]]
id = "battery-negative"
name = "Battery negative lead"
open_at_start = true
stays = "the last guide of the job connects it"

[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]
+++

## Unplug the seat

+++
do = [{ disconnect = "airbag" }, { connect = "airbag" }]

[[caution]]
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Wait 3 minutes after the battery is disconnected."
covers = ["restraint"]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[item]]
id = "battery-negative"
name = "Battery negative lead"
open_at_start = true
stays = "the last guide of the job connects it"

[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]
+++

## Unplug the seat

+++
do = [{ disconnect = "airbag" }, { connect = "airbag" }]

[[caution]]
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Wait 3 minutes after the battery is disconnected, and work to the vehicle maker's instructions."
covers = ["restraint"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

/// Words that say who may do the work, or whose instructions come first.
const DEFERS: &[&str] = &["licen", "trained", "qualified", "certified", "authoris", "authoriz", "competent", "maker's", "manufacturer's", "maker’s"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let head = guide.caution_refs.iter().filter_map(|id| subject.names.caution(&id.value));
    let cautions: Vec<_> = head.chain(guide.steps.iter().flat_map(|step| shown(subject, step))).collect();
    for &mark in LICENSED_MARKS {
        let mut work = guide.steps.iter().flat_map(|step| marked(subject, step));
        let Some((operation, thing, span, _)) = work.find(|(operation, .., other)| *other == mark && !only_looks(operation.verb)) else {
            continue;
        };
        let mut covering = cautions.iter().filter(|caution| caution.covers(mark)).peekable();
        // Where no caution covers the mark at all, that is another finding.
        let defers = covering.peek().is_none()
            || covering.any(|caution| {
                let texts = [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()];
                texts.into_iter().flatten().any(|text| DEFERS.iter().any(|word| text.value.to_lowercase().contains(word)))
            });
        if !defers {
            let name = booked::thing(subject, thing);
            let message = format!("{name} is {} here, and no caution for `{mark}` says who may do that work", operation.verb.done());
            let remedy = "say in the caution's `avoid` that the work is for trained or licensed people, to the vehicle maker's instructions";
            findings.push(RULE.at(guide.place(span), message, remedy));
        }
    }
}
