//! `out-of-order`: a step comes before one that it needs, or a thing is worked on while something in front of it is still fitted.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::guide::names::{Thing, step};
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OutOfOrder, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("out_of_order.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (front, place, entry) in booked(subject, |what| if let What::Behind(front) = what { Some(front) } else { None }) {
        let Some(Thing::Item(item)) = subject.names.thing(&entry.thing) else { continue };
        let mutual = match subject.names.thing(&item.behind[front].value) {
            Some(Thing::Item(other)) => other.behind.iter().any(|id| id.value == item.id.value),
            _ => false,
        };
        let front = &item.behind[front];
        let verb = entry.entry.map_or("worked on", |entry| booked::operation(subject, entry).verb.done());
        let message = format!(
            "{} is {verb} here while {} in front of it is still fitted",
            booked::thing(subject, &entry.thing),
            booked::thing(subject, &front.value)
        );
        let remedy = if mutual {
            format!("`{}` and `{}` stand in front of each other: take one of the two out of `behind`", front.value, item.id.value)
        } else {
            format!("remove `{}` first, for the same vehicles, or move the step", front.value)
        };
        let file = subject.names.file_of_thing(&entry.thing);
        let finding = booked::finding(subject, &RULE, place, entry, message, remedy);
        findings.push(finding.with_related(Place { file, span: front.span }, "what stands in front of it"));
    }
    let steps = subject.ledger.discrepancies.iter().filter_map(|entry| match entry.what {
        What::TooEarly(number) => Some((number, entry, true)),
        What::Apart(number) => Some((number, entry, false)),
        _ => None,
    });
    for (number, entry, early) in steps {
        let Some((at, later)) = step(subject.guide, &entry.thing) else { continue };
        let Some((needed_at, needed)) = later.needs.get(number).and_then(|id| step(subject.guide, &id.value)) else { continue };
        let place = subject.guide.place(later.needs[number].span);
        let title = &needed.title.value;
        let message = if !early {
            format!("this step needs step {}, `{title}`, and no vehicle has both", needed_at + 1)
        } else if at == needed_at {
            "this step needs itself".to_owned()
        } else if let Some(ring) = ring(subject, at, needed_at) {
            format!("these steps need each other in a ring: {ring}")
        } else {
            format!("this step, number {}, needs step {}, `{title}`, which comes later", at + 1, needed_at + 1)
        };
        let finding = RULE.at(
            place,
            format!("{message}{}", booked::on_which(subject, entry)),
            "move one of the steps, or take the id out of `needs`",
        );
        findings.push(finding.with_related(subject.guide.place(needed.title.span), "the step it needs"));
    }
}

/// The numbers of the steps on the way from `needed` back to `at` by what they need; none if there is no way.
fn ring(subject: &Subject<'_, '_>, at: usize, needed: usize) -> Option<String> {
    let mut ways = vec![vec![needed]];
    let mut seen = vec![needed];
    while let Some(way) = ways.pop() {
        let last = *way.last()?;
        if last == at {
            let numbers: Vec<String> = std::iter::once(at).chain(way).map(|step| (step + 1).to_string()).collect();
            return Some(numbers.join(", "));
        }
        for id in &subject.guide.steps[last].needs {
            let Some((next, _)) = step(subject.guide, &id.value) else { continue };
            if !seen.contains(&next) {
                seen.push(next);
                ways.push(way.iter().copied().chain([next]).collect());
            }
        }
    }
    None
}
