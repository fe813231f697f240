//! `caution-missing`: work on a marked thing is shown without a caution that covers it.

use crate::finding::{Finding, Severity};
use crate::review::booked;
use crate::review::covered::uncovered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "caution-missing",
    family: Family::People,
    severity: Severity::Hold,
    summary: "Work on a marked thing is shown without a caution that covers it.",
    why: "Who works from one step on a tablet sees that step and no other; a caution at the front of the document was read last week.",
    mend: "Show a caution in the step: `cautions = [...]` with the id of one whose `covers` names the mark, or a `[[caution]]` of the step. For looking, measuring and testing a caution before it is enough.",
    basis: "ANSI Z535.6, embedded safety messages, and IEC/IEEE 82079-1: a warning stands where the hazard arises, directly before the action (read in secondary sources)",
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
    for one in uncovered(subject).into_iter().filter(|one| one.later.is_none()) {
        let known = subject.names.both().into_iter().flat_map(|names| &names.cautions.rows).filter(|caution| one.marks.iter().all(|mark| caution.covers(mark)));
        let known: Vec<&str> = known.filter_map(|caution| caution.id.as_ref()).map(|id| id.as_str()).collect();
        let covers = one.marks.join("\", \"");
        let remedy = match known.first() {
            Some(id) => format!("add cautions = [\"{id}\"] to the step, or a [[caution]] of its own with covers = [\"{covers}\"]"),
            None => format!("add a [[caution]] with hazard, result, avoid and covers = [\"{covers}\"] to the step"),
        };
        let on_which = one.on_which(subject);
        let message = format!(
            "{} is {} here and no caution of this step covers {}{on_which}",
            booked::thing(subject, one.thing),
            one.operation.verb.done(),
            one.marks_words()
        );
        findings.push(RULE.at(subject.guide.place(one.span), message, remedy));
    }
}
