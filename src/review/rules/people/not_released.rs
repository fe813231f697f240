//! `not-released`: a hot or pressurised circuit is opened before it has cooled or its pressure was let out.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "not-released",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A hot or pressurised circuit is opened before it has cooled or its pressure was let out.",
    why: "Coolant at operating pressure boils out of an opened hose, and fuel under pressure sprays over a hot engine.",
    mend: "Before a thing marked `hot`: a step with a `wait` of ten minutes or more, or `measure` with a temperature. Before one marked `pressure`, `gas` or `refrigerant`: `release`, `drain`, a measured pressure, or a `wait` in a step that works on the circuit or names it; what is hot as well has lost its pressure when it is cold. After the engine ran it counts anew. `before` may say that the engine is cold.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the heater"
[[item]]
id = "hose"
name = "Coolant hose"
marks = ["hot", "pressure"]

[[caution]]
id = "hot"
signal = "warning"
hazard = "Hot coolant sprays out of an opened hose."
result = "Burns and eye injury."
avoid = "Let the engine cool, and open the cap slowly."
covers = ["hot", "pressure"]
+++

## Take the hose off

+++
do = [{ disconnect = "hose" }, { connect = "hose" }]
cautions = ["hot"]
+++

Do the work.

## Let the engine cool

+++
minutes = 1
wait = "30 min"
+++

Do the work.

"##,
    good: r##"+++
title = "Fit the heater"
[[item]]
id = "hose"
name = "Coolant hose"
marks = ["hot", "pressure"]

[[caution]]
id = "hot"
signal = "warning"
hazard = "Hot coolant sprays out of an opened hose."
result = "Burns and eye injury."
avoid = "Let the engine cool, and open the cap slowly."
covers = ["hot", "pressure"]
+++

## Let the engine cool

+++
minutes = 1
wait = "30 min"
+++

Do the work.

## Take the hose off

+++
do = [{ disconnect = "hose" }, { connect = "hose" }]
cautions = ["hot"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| matches!(danger, Danger::Hot | Danger::Pressed)) {
        let done = told.what_is_done(subject);
        let since = if told.lapse.other.is_some() { " since the engine ran" } else { "" };
        let (message, remedy) = if told.lapse.danger == Danger::Hot {
            (format!("{done} and nothing let it cool{since}"), "before it, let it cool with a `wait` of ten minutes or more, or `measure` its temperature against a limit")
        } else {
            (format!("{done} and nothing let its pressure out{since}"), "before it, `release` the pressure, `drain` the circuit, or `measure` the pressure against a limit")
        };
        findings.push(told.finding(subject, &RULE, message, remedy, "the engine runs here"));
    }
}
