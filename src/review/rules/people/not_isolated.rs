//! `not-isolated`: a restraint system, a battery circuit or a fuse is worked on while the battery is connected, before the wait is over, or from the wrong pole.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::NotIsolated, Family::People, Severity::Hold, Check::Guide(check), include_str!("not_isolated.md"));

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
            Danger::NoWait => (
                format!("{done} and no step waits between it and the disconnecting of the battery"),
                "give the step that disconnects the battery a `wait`, as long as the vehicle maker asks for".to_owned(),
            ),
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
