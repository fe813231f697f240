//! `out-of-order`: a step comes before one that it needs, or a thing is worked on while something in front of it is still fitted.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::guide::names::{Thing, step};
use crate::review::booked::{self, booked};
use crate::source::Place;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "out-of-order",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "A step comes before one that it needs, or a thing is worked on while something in front of it is still fitted.",
    why: "The technician gets there and has to take apart what he has just put together.",
    mend: "Move the step, or add the operation that clears the way.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the side table"
[[item]]
id = "panel"
name = "Side panel"

[[connector]]
id = "lamp"
name = "Lamp connector"
behind = ["panel"]
+++

## Unplug the lamp

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[item]]
id = "panel"
name = "Side panel"

[[connector]]
id = "lamp"
name = "Lamp connector"
behind = ["panel"]
+++

## Take the panel off

+++
do = [{ remove = "panel" }]
+++

Do the work.

## Unplug the lamp

+++
do = [{ disconnect = "lamp" }, { connect = "lamp" }]
+++

Do the work.

## Put the panel back

+++
do = [{ fit = "panel" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (front, place, entry) in booked(subject, |what| if let What::Behind(front) = what { Some(front) } else { None }) {
        let Some(Thing::Item(item)) = subject.names.thing(&entry.thing) else { continue };
        let front = &item.behind[front];
        let verb = entry.entry.map_or("worked on", |entry| booked::operation(subject, entry).verb.done());
        let message = format!(
            "{} is {verb} here while {} in front of it is still fitted",
            booked::thing(subject, &entry.thing),
            booked::thing(subject, &front.value)
        );
        let remedy = format!("remove `{}` first, for the same vehicles, or move the step", front.value);
        let file = subject.names.file_of_thing(&entry.thing);
        let finding = booked::finding(subject, &RULE, place, entry, message, remedy);
        findings.push(finding.with_related(Place { file, span: front.span }, "what stands in front of it"));
    }
    let early = subject.ledger.discrepancies.iter().filter_map(|entry| match entry.what {
        What::TooEarly(number) => Some((number, entry)),
        _ => None,
    });
    for (number, entry) in early {
        let Some((at, later)) = step(subject.guide, &entry.thing) else { continue };
        let Some((needed_at, needed)) = later.needs.get(number).and_then(|id| step(subject.guide, &id.value)) else { continue };
        let place = subject.guide.place(later.needs[number].span);
        let message = if at == needed_at {
            "this step needs itself".to_owned()
        } else if needed.needs.iter().any(|id| id.value == later.id.value) {
            format!("this step and step {}, `{}`, need each other", needed_at + 1, needed.title.value)
        } else {
            format!("this step, number {}, needs step {}, `{}`, which comes later", at + 1, needed_at + 1, needed.title.value)
        };
        let message = format!("{message}{}", booked::on_which(subject, entry));
        let finding = RULE.at(place, message, "move one of the two steps, or take the id out of `needs`");
        findings.push(finding.with_related(subject.guide.place(needed.title.span), "the step it needs"));
    }
}
