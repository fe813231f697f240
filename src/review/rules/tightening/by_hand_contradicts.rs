//! `by-hand-contradicts`: the words leave fasteners finger-tight that the facts tighten, or tighten those that the facts only start by hand.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::prose::RefKind;
use crate::quantity::Dimension;
use crate::review::phrases::is_about_tightening;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;

pub(crate) const RULE: Rule = Rule::new(
    RuleName::ByHandContradicts,
    Family::Tightening,
    Severity::Query,
    Check::Guide(check),
    include_str!("by_hand_contradicts.md"),
);

const BY_HAND: &[&str] = &["finger-tight", "finger tight", "hand-tight", "hand tight", "by hand only", "loose for now"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let mut tightened = step.operations.iter().filter(|operation| operation.torque.is_some() && !operation.by_hand).peekable();
        let mut by_hand = step.operations.iter().filter(|operation| operation.by_hand).peekable();
        let (some_tight, some_loose) = (tightened.peek().is_some(), by_hand.peek().is_some());
        if some_tight == some_loose {
            continue;
        }
        let words: Vec<Sentence<'_>> = subject.words().instructions(at).collect();
        if some_tight {
            let told = words.iter().any(|sentence| tightens(subject, sentence));
            for sentence in words.iter().filter(|_| !told) {
                let Some((place, hand)) = sentence.find(BY_HAND) else { continue };
                let message = format!("the words leave it {hand}, the facts of the step tighten it to a torque");
                findings.push(RULE.at(
                    subject.guide.place(place),
                    message,
                    "say the torque in the words, or mark the operation by_hand = true and tighten it later",
                ));
            }
        } else if let Some(sentence) = words.iter().find(|sentence| tightens(subject, sentence)) {
            let place = subject.guide.place(sentence.place(0, sentence.body_len()));
            findings.push(RULE.at(
                place,
                "the words tighten to a torque, the facts of the step only start by hand",
                "give the operation its torque, or leave the tightening to the step that has it",
            ));
        }
    }
}

/// Whether a sentence tightens something to a torque.
fn tightens(subject: &Subject<'_, '_>, sentence: &Sentence<'_>) -> bool {
    let command = sentence
        .command()
        .is_some_and(|command| !command.negated && command.condition.is_none() && is_about_tightening(sentence.word(command.verb)));
    command
        && (0..sentence.len()).filter_map(|at| sentence.reference(at)).any(|reference| {
            let spec = (reference.kind == RefKind::Spec).then(|| subject.names.spec(&reference.id)).flatten();
            spec.and_then(|spec| spec.quantity()).is_some_and(|quantity| quantity.dimension == Dimension::Torque)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"
part = [{ id = "base", name = "Swivel base" }]
item = [{ id = "cover", name = "Rail end cover" }]
hardware = [{ id = "bolt", name = "Flange bolt, base" }]
spec = [{ id = "bolt-torque", name = "Base bolts", torque = "20 N·m", pattern = "crosswise", stages = ["50 %", "100 %"], source = "practice" }, { id = "free", name = "Cover", torque = "5 N·m", source = "practice" }]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Leave the bolts finger-tight.", "finger-tight"),
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#,
                "Turn the bolts in, hand-tight for the road.",
                "hand-tight",
            ),
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", by_hand = true }]"#,
                "Tighten [the bolts](hardware:bolt) to [](spec:bolt-torque).",
                "Tighten [the bolts](hardware:bolt) to [](spec:bolt-torque)",
            ),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#,
                "Start the bolts hand-tight.\nTighten them to [](spec:bolt-torque).",
            ),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Tighten them to [](spec:bolt-torque)."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", by_hand = true }]"#, "Leave the bolts finger-tight."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", by_hand = true }]"#, "The bolts are tightened later."),
            ("", "Leave the bolts finger-tight."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
