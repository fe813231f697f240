//! `not-raised`: work from below is done on a vehicle that is not raised.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "not-raised",
    family: Family::People,
    severity: Severity::Hold,
    summary: "Work from below is done on a vehicle that is not raised.",
    why: "Who follows the steps in their order lies under a vehicle that stands on nothing but its wheels, or raises it by a jack that no step speaks of.",
    mend: "Raise the vehicle before the work and lower it after it. `from_below = true` says of an item that it is reached from below; undertray, underside and sump are known by their names where the guide raises the vehicle.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the tow bar"
[[item]]
id = "van"
name = "Van on the lift"

[[item]]
id = "bumper-bolts"
name = "Bolts of the rear beam"
from_below = true
+++

## Raise the van

+++
do = [{ raise = "van" }]
+++

Do the work.

## Lower the van

+++
do = [{ lower = "van" }]
+++

Do the work.

## Undo the beam

+++
do = [{ loosen = "bumper-bolts" }, { tighten = "bumper-bolts" }]
+++

Do the work.

"##,
    good: r##"+++
title = "Fit the tow bar"
[[item]]
id = "van"
name = "Van on the lift"

[[item]]
id = "bumper-bolts"
name = "Bolts of the rear beam"
from_below = true
+++

## Raise the van

+++
do = [{ raise = "van" }]
+++

Do the work.

## Undo the beam

+++
do = [{ loosen = "bumper-bolts" }, { tighten = "bumper-bolts" }]
+++

Do the work.

## Lower the van

+++
do = [{ lower = "van" }]
+++

Do the work.

"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::NotRaised) {
        let done = told.what_is_done(subject);
        let message = match told.lapse.other {
            Some(_) => format!("{done} from below after the vehicle was lowered"),
            None => format!("{done} from below and the vehicle is not raised"),
        };
        findings.push(told.finding(subject, &RULE, message, "raise the vehicle before it and lower it after it, for the same vehicles", ""));
    }
}
