//! `not-isolated`: a restraint system, a battery circuit or a fuse is worked on while the battery is connected, before the wait is over, or from the wrong pole.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "not-isolated",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A restraint system, a battery circuit or a fuse is worked on while the battery is connected, before the wait is over, or from the wrong pole.",
    why: "An airbag that is plugged in live can fire at the person who bends over it, and a spanner on a live post makes an arc.",
    mend: "Disconnect the battery before the work, give the step a `wait` if a restraint system follows, and connect the battery when all of it is closed. The negative lead goes off first and on last.",
    basis: "common practice; makers' instructions for restraint systems ask for the battery off and a wait, for unplugging and plugging in alike",
    bad: r##"+++
title = "Fit the side table"
[[item]]
id = "battery-negative"
name = "Battery negative lead"

[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]

[[caution]]
id = "restraint"
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Disconnect the battery, wait 3 minutes, and work to the vehicle maker's instructions."
covers = ["restraint"]
+++

## Disconnect the battery

+++
do = [{ disconnect = "battery-negative" }]
wait = "3 min"
+++

Do the work.

## Unplug the seat

+++
do = [{ disconnect = "airbag" }]
cautions = ["restraint"]
+++

Do the work.

## Connect the battery

+++
do = [{ connect = "battery-negative" }]
+++

Do the work.

## Plug the seat in

+++
do = [{ connect = "airbag" }]
cautions = ["restraint"]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[item]]
id = "battery-negative"
name = "Battery negative lead"

[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]

[[caution]]
id = "restraint"
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Disconnect the battery, wait 3 minutes, and work to the vehicle maker's instructions."
covers = ["restraint"]
+++

## Disconnect the battery

+++
do = [{ disconnect = "battery-negative" }]
wait = "3 min"
+++

Do the work.

## Unplug the seat

+++
do = [{ disconnect = "airbag" }]
cautions = ["restraint"]
+++

Do the work.

## Plug the seat in

+++
do = [{ connect = "airbag" }]
cautions = ["restraint"]
+++

Do the work.

## Connect the battery

+++
do = [{ connect = "battery-negative" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let dangers = |danger| {
        use Danger::{BatteryLive, CircuitLive, NeverIsolated, NoWait, PositiveFirst, RestraintLive, ShortWait};
        matches!(danger, RestraintLive | BatteryLive | NeverIsolated | CircuitLive | NoWait | ShortWait(_) | PositiveFirst)
    };
    let all = ordered::told(subject, dangers);
    for (at, told) in all.iter().enumerate() {
        // Where the whole guide lacks it, or one wait that all of them need, the first place stands for all.
        let same = |other: &ordered::Told<'_>| {
            let whole = matches!(told.lapse.danger, Danger::NeverIsolated | Danger::NoWait | Danger::ShortWait(_));
            whole && other.lapse.danger == told.lapse.danger && other.lapse.other == told.lapse.other && other.lapse.when == told.lapse.when
        };
        if all[..at].iter().any(same) {
            continue;
        }
        let done = told.what_is_done(subject);
        let again = told.lapse.other.is_some();
        let (message, remedy) = match told.lapse.danger {
            Danger::NoWait => {
                let later = subject.guide.steps[told.lapse.entry.step..].iter().any(|step| step.wait.is_some());
                let wait = if later { "the wait after the battery is disconnected comes later" } else { "no step waits after the battery is disconnected" };
                (format!("{done} and {wait}"), "give the step that disconnects the battery a `wait`, as long as the vehicle maker asks for".to_owned())
            }
            Danger::ShortWait(seconds) => (
                format!("{done} after a wait that is shorter than the {} that the guide gives for restraint systems", span(seconds)),
                "make the `wait` of the step that disconnects the battery as long as the value says".to_owned(),
            ),
            Danger::NeverIsolated => {
                let later = match all[at + 1..].iter().filter(|other| same(other)).count() {
                    0 => String::new(),
                    1 => "; so is such work in 1 later step".to_owned(),
                    more => format!("; so is such work in {more} later steps"),
                };
                (
                    format!("{done} and no step disconnects the battery{later}"),
                    "disconnect the battery first, for the same vehicles: its negative lead, or an item with isolates = [\"battery\"]; one that is off before work starts has `open_at_start`".to_owned(),
                )
            }
            Danger::PositiveFirst => (
                format!("{done} while the negative pole of the same battery is connected"),
                "the negative pole comes off first and goes on last: move one of the two".to_owned(),
            ),
            Danger::CircuitLive => (
                format!("{done} while nothing isolates its circuit"),
                "disconnect or switch off what isolates it first, for the same vehicles, and put it back when this is done".to_owned(),
            ),
            _ if again => (
                format!("{done} after the battery was connected again"),
                "do this before the battery is connected, for the same vehicles".to_owned(),
            ),
            _ => (
                format!("{done} while the battery is connected"),
                "do this after the battery is disconnected and before it is connected, for the same vehicles".to_owned(),
            ),
        };
        findings.push(told.finding(subject, &RULE, message, remedy, ""));
    }
}

/// A time in words, in whole minutes where it is some.
fn span(seconds: u32) -> String {
    if seconds.is_multiple_of(60) { format!("{} min", seconds / 60) } else { format!("{seconds} s") }
}
