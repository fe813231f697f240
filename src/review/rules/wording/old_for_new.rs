//! `old-for-new`: the words fit the old one where the facts have a new one, or a new one that nobody supplies.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::guide::prose::RefKind;
use crate::guide::words::PassageRef;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::telling::{is_rework, told};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OldForNew, Family::Wording, Severity::Query, Check::Guide(check), include_str!("old_for_new.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for sentence in subject.words().instructions(at) {
            let Some(command) = sentence.command().filter(|command| !command.negated && !is_rework(&sentence, *command)) else { continue };
            let putting = told(&sentence, command.verb).is_some_and(|told| told.verb.does_up())
                || matches!(sentence.word(command.verb), "put" | "set" | "push" | "screw" | "start" | "use" | "reuse");
            if !putting {
                continue;
            }
            let mut from = command.verb + 1;
            while from < sentence.len() {
                if sentence.link(from).is_none() {
                    from += 1;
                    continue;
                }
                let end = sentence.link_end(from);
                let first = if is_state(sentence.word(from.saturating_sub(1))) { from - 1 } else { from };
                if let Some((word, reference)) =
                    (first..end).map(|at| sentence.word(at)).find(|word| is_state(word)).zip(sentence.reference(from))
                {
                    let place = subject.guide.place(sentence.place(first, end));
                    findings.extend(
                        contradiction(subject, step, reference, word).map(|message| {
                            RULE.at(place, message, "mend the words, or the facts of what is supplied, kept and thrown away")
                        }),
                    );
                }
                from = end;
            }
        }
    }
}

fn is_state(word: &str) -> bool {
    matches!(word, "old" | "used" | "original" | "same" | "new")
}

/// Why what is put on cannot be what the word says.
fn contradiction(subject: &Subject<'_, '_>, step: &Step<'_>, reference: &PassageRef, word: &str) -> Option<String> {
    let new = word == "new";
    match reference.kind {
        RefKind::Part if !new => {
            let part = subject.names.part(&reference.id)?;
            (word != "same").then(|| format!("the words put the {word} one on, and `{}` comes with the kit", part.name.value))
        }
        RefKind::Hardware => {
            let hardware = subject.names.hardware(&reference.id)?;
            let supplied = hardware.supplied.as_ref().is_some_and(|count| count.value > 0);
            let on_vehicle = hardware.on_vehicle.is_some() || step_of_vehicle(subject, step, &reference.id);
            if new && !supplied && !hardware.one_use && on_vehicle && !hardware.uncounted {
                Some(format!("the words put new ones on, and no `{}` is supplied", hardware.name.value))
            } else if !new && hardware.one_use {
                Some(format!("the words put the {word} ones on, and `{}` is used once only", hardware.name.value))
            } else {
                None
            }
        }
        RefKind::Item | RefKind::Connector if new => {
            let item = subject.names.item(&reference.id)?;
            let kept = subject
                .guide
                .operations()
                .any(|(_, operation)| operation.keep && operation.targets.iter().any(|target| target.value == reference.id));
            kept.then(|| format!("the words put a new one on, and `{}` was kept to go back", item.name.value))
        }
        _ => None,
    }
}

/// Whether the hardware came off the vehicle before this step.
fn step_of_vehicle(subject: &Subject<'_, '_>, step: &Step<'_>, id: &str) -> bool {
    let earlier = subject.guide.steps.iter().take_while(|other| other.span != step.span);
    earlier
        .flat_map(|step| &step.operations)
        .any(|operation| operation.verb.undoes() && operation.hardware.iter().any(|named| named.id.value == id))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{THINGS, finds, leaves_alone};

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ fit = "gasket" }]"#, "Fit [the old gasket](part:gasket).", "the old gasket"),
            (
                r#"do = [{ fit = "base", hardware = "2 x ring-nut" }]"#,
                "Tighten [the old ring nuts](hardware:ring-nut).",
                "the old ring nuts",
            ),
            (r#"do = [{ fit = "cover", hardware = "4 x old-screw" }]"#, "Fit [the new screws](hardware:old-screw).", "the new screws"),
            (r#"do = [{ fit = "gasket" }]"#, "Push the used [gasket](part:gasket) on.", "used [gasket"),
        ];
        finds(&RULE, THINGS, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ fit = "gasket" }]"#, "Fit [the new gasket](part:gasket)."),
            (r#"do = [{ fit = "gasket" }]"#, "Take the old [gasket](part:gasket) off."),
            (r#"do = [{ fit = "base", hardware = "2 x ring-nut" }]"#, "Tighten [the new ring nuts](hardware:ring-nut)."),
            (r#"do = [{ fit = "cover", hardware = "4 x old-screw" }]"#, "Fit [the old screws](hardware:old-screw)."),
            (r#"do = [{ fit = "gasket" }]"#, "Do not fit [the old gasket](part:gasket)."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt" }]"#, "Fit [the new bolts](hardware:bolt)."),
        ];
        leaves_alone(&RULE, THINGS, &cases);
    }
}
