//! `drilled-blind`: a panel is drilled or cut before anybody looked behind it.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::Danger;
use crate::guide::verb::Verb;
use crate::review::ordered;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "drilled-blind",
    family: Family::People,
    severity: Severity::Hold,
    summary: "A panel is drilled or cut before anybody looked behind it.",
    why: "Fuel lines, brake lines and looms lie behind panels, and the drill finds them first.",
    mend: "Put `look_behind` with the panel before the drilling. An `inspect` counts as well, of the panel itself or of what lies behind it: an item whose name says so (underside, inside, behind, cavity) or whose marks say what a drill must not meet. So does taking off the trim or lining that the panel is `behind`. What is off the vehicle, a part of the kit and a fastener that is drilled out ask for nothing.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the vent"
[[item]]
id = "floor"
name = "Floor panel"
stays = "the hole carries the vent"

[[caution]]
id = "cutting"
signal = "warning"
hazard = "A drill can go through into wiring, lines or tanks."
result = "Eye injury and fire."
avoid = "Set the depth stop, and wear eye protection."
covers = ["cutting"]
+++

## Drill the hole

+++
do = [{ drill = "floor" }]
cautions = ["cutting"]
+++

Do the work.

## Look under the floor

+++
do = [{ look_behind = "floor" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the vent"
[[item]]
id = "floor"
name = "Floor panel"
stays = "the hole carries the vent"

[[caution]]
id = "cutting"
signal = "warning"
hazard = "A drill can go through into wiring, lines or tanks."
result = "Eye injury and fire."
avoid = "Set the depth stop, and wear eye protection."
covers = ["cutting"]
+++

## Look under the floor

+++
do = [{ look_behind = "floor" }]
+++

Do the work.

## Drill the hole

+++
do = [{ drill = "floor" }]
cautions = ["cutting"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| danger == Danger::Blind) {
        let later = subject.guide.operations().find(|(step, operation)| {
            *step >= told.lapse.entry.step
                && operation.verb == Verb::LookBehind
                && operation.targets.iter().any(|target| subject.names.meant(&target.value) == told.lapse.thing)
        });
        let done = told.what_is_done(subject);
        let message = match later {
            Some(_) => format!("{done} and what lies behind it is looked at only later"),
            None => format!("{done} and nobody has looked behind it"),
        };
        let remedy = format!("put {{ look_behind = \"{}\" }} before it, for the same vehicles", told.lapse.thing);
        let mut finding = told.finding(subject, &RULE, message, remedy, "");
        if let Some((_, operation)) = later {
            finding = finding.with_related(subject.guide.place(operation.verb_span), "looked behind here");
        }
        findings.push(finding);
    }
}
