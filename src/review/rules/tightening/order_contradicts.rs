//! `order-contradicts`: the words tighten in another order, or in another number of passes, than the value that they name.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Spec, Text, TorqueRef};
use crate::guide::prose::RefKind;
use crate::review::phrases::is_about_tightening;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Sentence;
use crate::source::Span;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OrderContradicts, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("order_contradicts.md"));

/// Words for an order around or along, which a cross pattern is there to avoid.
const IN_A_ROW: &[&str] = &[
    "one after the other",
    "one after another",
    "one by one",
    "in a row",
    "in a circle",
    "round the",
    "around the",
    "clockwise",
    "in turn",
    "from left to right",
    "from one end to the other",
    "in any order",
    "in no special order",
    "side by side",
];
const PASSES: &[(&str, usize)] = &[
    ("one pass", 1),
    ("a single pass", 1),
    ("one go", 1),
    ("two passes", 2),
    ("three passes", 3),
    ("four passes", 4),
    ("2 passes", 2),
    ("3 passes", 3),
    ("4 passes", 4),
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let used: Vec<&Spec> = step
            .operations
            .iter()
            .filter_map(|operation| match &operation.torque {
                Some(TorqueRef::Spec(id)) => subject.names.spec(&id.value),
                _ => None,
            })
            .collect();
        for sentence in subject.words().instructions(at) {
            let Some(spec) = spec_of(subject, &sentence, &used) else { continue };
            let folded = sentence.folded_text();
            let mut told = |place: Span, message: String, remedy: &str| findings.push(RULE.at(subject.guide.place(place), message, remedy));
            let name = spec.name.as_ref().map_or(spec.id.as_str(), Text::as_str);
            let crosswise =
                spec.pattern.as_ref().is_some_and(|pattern| matches!(pattern.value.as_str(), "crosswise" | "rectangle" | "circle"))
                    && !folded.contains("crosswise")
                    && !folded.contains("star");
            if let Some((place, words)) = sentence.find(IN_A_ROW).filter(|_| crosswise) {
                told(
                    place,
                    format!("the words tighten \"{words}\", `{name}` has an order of its own"),
                    "tighten in the order of the value, and say so in the words, or mend the value",
                );
            }
            // Behind the passes one may follow that only checks.
            let stages = spec.stages.len();
            let checks = spec.stages.iter().filter(|stage| stage.value.contains("check")).count();
            let told_passes = PASSES.iter().find_map(|(words, passes)| Some((sentence.find(&[words])?.0, passes)));
            if let Some((place, passes)) = told_passes.filter(|(_, passes)| stages > 0 && **passes != stages && *passes + checks != stages)
            {
                told(
                    place,
                    format!(
                        "the words say {}, `{name}` has {stages}",
                        if *passes == 1 { "one pass".to_owned() } else { format!("{passes} passes") }
                    ),
                    "find out which is right, and mend the other",
                );
            }
        }
    }
}

/// The torque that a sentence about tightening is of: by its reference, else the only one of the step.
fn spec_of<'g>(subject: &Subject<'g, '_>, sentence: &Sentence<'_>, used: &[&'g Spec]) -> Option<&'g Spec> {
    if !is_about_tightening(sentence.folded_text()) {
        return None;
    }
    let named = (0..sentence.len()).filter_map(|at| sentence.reference(at)).find(|reference| reference.kind == RefKind::Spec);
    if let Some(reference) = named {
        return subject.names.spec(&reference.id);
    }
    match used {
        [only] => Some(only),
        _ => None,
    }
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
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#,
                "Tighten them one after the other to [](spec:bolt-torque).",
                "one after the other",
            ),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Tighten the bolts clockwise.", "clockwise"),
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#,
                "Tighten the bolts crosswise in three passes to [](spec:bolt-torque).",
                "three passes",
            ),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Tighten them in one pass.", "one pass"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (
                r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#,
                "Tighten them crosswise to [](spec:bolt-torque).",
            ),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Tighten them crosswise, one after the other."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Tighten them in two passes."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "free" }]"#, "Tighten them one after the other."),
            (r#"do = [{ fit = "base", hardware = "4 x bolt", torque = "bolt-torque" }]"#, "Turn the base clockwise."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
