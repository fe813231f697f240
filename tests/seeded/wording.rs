//! Faults of the words.

use bayleaf::guide::model::Guide;
use bayleaf::guide::prose::RefKind;

use super::clean::{At, Broken, Clean};
use super::values::added;

/// Adds one sentence to every second step; the finding must stand in it.
fn sentence(clean: &Clean, guide: &Guide<'_>, words: &str) -> Vec<Broken> {
    added(clean, guide, words, words, 2)
}

pub(crate) fn two_actions(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "Undo the clamp, then lift the hose off.")
}

pub(crate) fn long_sentence(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let words = "Look along the whole length of the loom from the left end of the van to the right end with a bright lamp.";
    sentence(clean, guide, words)
}

pub(crate) fn passive(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "The two hoses are removed.")
}

pub(crate) fn condition_last(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "Stop the work if the panel is bent.")
}

pub(crate) fn vague(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "Adjust the panel as required.")
}

pub(crate) fn in_a_note(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "> Note: Press the panel down by hand.")
}

pub(crate) fn caution_in_words(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    sentence(clean, guide, "Warning: The edge of the panel is sharp.")
}

const NUMBERS: &[&str] = &["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve"];

pub(crate) fn other_count(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for step in &guide.steps {
        for reference in step.prose.references.iter().filter(|reference| reference.kind == RefKind::Hardware && !reference.wordless) {
            let end = reference.id.span.start as usize - "](hardware:".len();
            let Some(open) = clean.text()[..end].rfind('[') else { continue };
            let words = &clean.text()[open + 1..end];
            let named = NUMBERS
                .iter()
                .find_map(|number| words.split(' ').any(|word| word == *number).then(|| (number, words.find(number).unwrap())));
            if let Some((number, at)) = named {
                let start = open + 1 + at;
                let edits = vec![(start..start + number.len(), "nineteen".to_owned())];
                broken.push(Broken::new(edits, At::Edit(0, 0.."nineteen".len()), &[&reference.id.value]));
            }
        }
    }
    broken
}

pub(crate) fn untold(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let Some(connector) = guide.own.items.rows.iter().find(|item| item.connector) else { return Vec::new() };
    let id = connector.id.as_str();
    let words = format!("Unplug [the connector](connector:{id}).");
    let mut broken = Vec::new();
    for step in
        guide.steps.iter().filter(|step| !step.operations.iter().any(|operation| operation.targets.iter().any(|target| target.value == id)))
    {
        let at = step.span.start as usize + clean.slice(step.span).trim_end().len();
        let new = format!("\n\n{words}");
        broken.push(Broken::new(vec![(at..at, new)], At::Edit(0, 2..2 + words.len()), &[id]));
    }
    broken
}
