//! `caution-late`: a caution stands behind the work that it belongs to.

use crate::finding::{Finding, Severity};
use crate::review::booked;
use crate::review::covered::uncovered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "caution-late",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A caution stands behind the work that it belongs to.",
    why: "It is read when the hand is already on the part.",
    mend: "Move it into the step with the work, or before it.",
    basis: "ANSI Z535.6 and IEC/IEEE 82079-1: a warning stands before the action (read in secondary sources)",
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
+++

Do the work.

## Look at the seat

+++
minutes = 1

[[caution]]
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Wait 3 minutes after the battery is disconnected, and work to the vehicle maker's instructions."
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

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for one in uncovered(subject) {
        let Some(later) = one.later else { continue };
        let message = format!(
            "{} is {} here and the caution for {} comes later",
            booked::thing(subject, one.thing),
            one.operation.verb.done(),
            one.marks_words()
        );
        let finding = RULE.at(subject.guide.place(one.span), message, "move the caution into this step");
        findings.push(finding.with_related(subject.guide.place(later), "the caution"));
    }
}
