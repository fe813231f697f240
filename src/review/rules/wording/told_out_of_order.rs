//! `told-out-of-order`: the words of a step tell its operations in another order than its facts.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Operation, Step};
use crate::review::named::Named;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;
use crate::review::telling::{has_particle, object, told};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToldOutOfOrder, Family::Wording, Severity::Query, Check::Guide(check), include_str!("told_out_of_order.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let mut named: Option<Named<'_>> = None;
    for (at, step) in subject.guide.steps.iter().enumerate().filter(|(_, step)| step.operations.len() > 1) {
        // The operation that each sentence tells, where it can be one only.
        let mut told: Vec<(usize, Place)> = Vec::new();
        for sentence in subject.words().instructions(at) {
            let Some((operation, from, to)) = operation(subject, step, &sentence, &mut named) else { continue };
            let place = subject.guide.place(sentence.place(from, to));
            // The same done to two things stands in any order.
            let same = |other: usize| step.operations[other].verb == step.operations[operation].verb;
            if let Some((later, before)) = told.iter().find(|(earlier, _)| *earlier > operation && !same(*earlier)) {
                let name = |at: usize| {
                    let operation = &step.operations[at];
                    let id = &operation.targets[0].value;
                    format!("`{}` {}", operation.verb.key(), subject.names.thing(id).map_or(id.as_str(), |thing| thing.name()))
                };
                let message = format!("the words tell this after {}; the facts have it before", name(*later));
                let finding = RULE.at(place, message, "put the sentences or the entries of `do` into the order of the work");
                findings.push(finding.with_related(*before, "told before"));
                break;
            }
            told.push((operation, place));
        }
    }
}

/// The operation that a sentence tells, as an index, and the words that tell it.
fn operation<'g>(
    subject: &Subject<'g, '_>,
    step: &Step<'_>,
    sentence: &Sentence<'_>,
    named: &mut Option<Named<'g>>,
) -> Option<(usize, usize, usize)> {
    let command = sentence.command().filter(|command| !command.negated && command.condition.is_none())?;
    // `Tighten it again later`, `before you fit it`: what is told is not what is done here.
    let elsewhere =
        (0..sentence.len()).any(|at| matches!(sentence.word(at), "before" | "after" | "again" | "later" | "until" | "once" | "if"));
    let told = told(sentence, command.verb).filter(|_| !elsewhere)?;
    let (ids, end) = object(sentence, &told, subject.names, named)?;
    if told.needs_particle && !has_particle(sentence, end) || ids.len() != 1 {
        return None;
    }
    let acts = |operation: &Operation| operation.targets.iter().any(|target| target.value == ids[0]);
    let mut acting = step.operations.iter().enumerate().filter(|(_, operation)| acts(operation));
    let (at, operation) = acting.next()?;
    let same =
        operation.verb == told.verb || operation.verb.undoes() && told.verb.undoes() || operation.verb.does_up() && told.verb.does_up();
    (same && acting.next().is_none()).then_some((at, command.verb, end))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{THINGS, finds, leaves_alone};

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }]"#,
                "Unplug [it](connector:heater-plug).\nTake [the cover](item:cover) off.",
                "Take [the cover",
            ),
            (
                r#"do = [{ clean = "cover" }, { inspect = "hose" }, { fit = "base" }]"#,
                "Clean [the cover](item:cover).\nFit [the base](part:base).\nInspect [the hose](item:hose).",
                "Inspect [the hose",
            ),
            (
                r#"do = [{ drain = "hose" }, { disconnect = "feed" }]"#,
                "Disconnect [the feed](item:feed).\nDrain [the hose](item:hose).",
                "Drain [the hose",
            ),
        ];
        finds(&RULE, THINGS, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }]"#,
                "Take [the cover](item:cover) off.\nUnplug [it](connector:heater-plug).",
            ),
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }]"#,
                "Before you take [the cover](item:cover) off, unplug [it](connector:heater-plug).",
            ),
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }, { fit = "cover" }]"#,
                "Unplug [it](connector:heater-plug).\nFit [the cover](item:cover).",
            ),
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }]"#,
                "Do not unplug [it](connector:heater-plug) yet.\nTake [the cover](item:cover) off.",
            ),
            (
                r#"do = [{ remove = "cover" }, { disconnect = "heater-plug" }]"#,
                "If the seat is heated, unplug [it](connector:heater-plug).\nTake [the cover](item:cover) off.",
            ),
        ];
        leaves_alone(&RULE, THINGS, &cases);
    }
}
