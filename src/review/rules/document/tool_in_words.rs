//! `tool-in-words`: the words work with a tool that neither the step nor the list of tools has.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Tool;
use crate::review::named::{singular, words};
use crate::review::phrases::is_preposition;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToolInWords, Family::Document, Severity::Query, Check::Guide(check), include_str!("tool_in_words.md"));

/// Tools of the trade, by the last word of what they are called.
const TOOLS: &[&str] = &[
    "jigsaw",
    "hacksaw",
    "saw",
    "grinder",
    "gun",
    "jack",
    "hammer",
    "mallet",
    "chisel",
    "cutter",
    "cutters",
    "multimeter",
    "voltmeter",
    "ohmmeter",
    "thermometer",
    "caliper",
    "micrometer",
    "crowbar",
    "winch",
    "crane",
    "hoist",
    "stands",
    "ramp",
    "ramps",
    "tester",
    "crimper",
    "stripper",
    "torch",
    "rasp",
    "reamer",
    "puller",
    "syringe",
    "endoscope",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let listed: Vec<String> = subject.guide.tools.iter().filter_map(|id| subject.names.tool(&id.value)).flat_map(name_words).collect();
    if listed.is_empty() {
        return;
    }
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let ids = step.tools.iter().chain(step.operations.iter().flat_map(|operation| &operation.with));
        let own: Vec<String> = ids.filter_map(|id| subject.names.tool(&id.value)).flat_map(name_words).collect();
        for sentence in subject.words().instructions(at) {
            if sentence.command().is_none_or(|command| command.negated) {
                continue;
            }
            for token in 0..sentence.len() {
                // `with a jigsaw`, `with the heat gun`.
                let article = matches!(sentence.word(token + 1), "a" | "an" | "the");
                if sentence.word(token) != "with" || !article || sentence.link(token + 2).is_some() {
                    continue;
                }
                let Some(noun) = (token + 2..token + 5)
                    .take_while(|&at| !sentence.word(at).is_empty() && sentence.link(at).is_none())
                    .find(|&at| TOOLS.contains(&sentence.word(at)))
                else {
                    continue;
                };
                let ends = sentence.word(noun + 1);
                let compound = !ends.is_empty()
                    && !is_preposition(ends)
                    && !matches!(ends, "and" | "or" | "until" | "so" | "while" | "that" | "which");
                let word = singular(sentence.word(noun)).to_owned();
                // Things of the van have such names too: the clamp of the hose, the lamp at the rear.
                let thing = subject.names.both().iter().any(|all| {
                    let names = all
                        .items
                        .rows
                        .iter()
                        .map(|row| row.name.as_str())
                        .chain(all.parts.rows.iter().map(|row| row.name.as_str()))
                        .chain(all.hardware.rows.iter().map(|row| row.name.as_str()));
                    names.flat_map(words).any(|other| singular(&other) == word)
                });
                let known = own.contains(&word) || listed.contains(&word) && own.is_empty() || thing;
                if compound || known {
                    continue;
                }
                let text = sentence.words(token + 1, noun + 1);
                let message = if listed.contains(&word) {
                    format!("the words work with {text}, the facts of the step do not")
                } else {
                    format!("the words work with {text}, which is in no list of tools")
                };
                findings.push(RULE.at(
                    subject.guide.place(sentence.place(token + 1, noun + 1)),
                    message,
                    "name the tool in `with` of the operation and in the list, or mend the words",
                ));
            }
        }
    }
}

fn name_words(tool: &Tool) -> Vec<String> {
    let all = words(tool.name.as_str()).into_iter().chain(words(tool.id.as_str()));
    all.map(|word| singular(&word).to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"tools = ["lever"]
tool = [{ id = "lever", name = "Trim lever" }, { id = "stripper", name = "Wire stripper" }]
item = [{ id = "trim", name = "Sill trim" }, { id = "clamp", name = "Hose clamp" }]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ remove = "trim", with = ["lever"] }]"#, "Loosen the trim with a heat gun.", "a heat gun"),
            ("", "Cut it with a jigsaw.", "a jigsaw"),
            (r#"do = [{ remove = "trim", with = ["lever"] }]"#, "Raise it with the trolley jack.", "the trolley jack"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ remove = "trim", with = ["lever"] }]"#, "Lever it off with the lever."),
            (r#"do = [{ remove = "trim" }]"#, "Lever it off with a lever."),
            ("", "Hold it with the clamp."),
            ("", "Do not cut it with a jigsaw."),
            ("", "Pull it off with both hands."),
            ("", "Line it up with the drill hole."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
