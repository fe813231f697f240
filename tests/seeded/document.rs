//! Faults of the document: what its head must hold, ids, keys, pictures, links, options, counts.

use std::ops::Range;

use bayleaf::guide::model::{Guide, Operation, Step};

use super::clean::{At, Broken, Clean, Edit};
use super::ledger::{defining, head_end};
use super::values::added;

fn head(clean: &Clean) -> Range<usize> {
    0..head_end(clean)
}

fn without(clean: &Clean, key: &str) -> Vec<Broken> {
    let line = clean.key(head(clean), key).into_iter();
    line.map(|line| Broken::new(vec![(line, String::new())], At::Clean(0..3), &[key])).collect()
}

pub(crate) fn no_revision(clean: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    let mut broken = without(clean, "revision");
    broken.extend(without(clean, "issued"));
    broken
}

/// A paragraph as the title: letters stand in for its words, so that no rule has anything to say of them.
pub(crate) fn paragraph_as_title(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let titles = guide.title.iter();
    let long = |title: &bayleaf::guide::model::Text| {
        let more = "m".repeat(bayleaf::guide::facts::LONGEST_NAME);
        Broken::new(vec![(title.span.range(), format!("{} {more}", title.value))], At::Edit(0, 0..1), &["title"])
    };
    titles.map(long).collect()
}

pub(crate) fn no_vehicles(clean: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    without(clean, "fits")
}

pub(crate) fn no_final_check(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    if guide.steps.last().is_some_and(|step| !step.checks.is_empty()) { Vec::new() } else { without(clean, "final_check") }
}

pub(crate) fn wrong_hours(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let hours = guide.hours.iter();
    hours
        .map(|hours| {
            Broken::new(
                vec![(hours.span.range(), "30".to_owned())],
                At::Clean(hours.span.start as usize..hours.span.start as usize + 1),
                &["hours"],
            )
        })
        .collect()
}

/// A quoted word out of a list, with the comma behind it.
fn word_in_list(clean: &Clean, span: bayleaf::source::Span) -> Range<usize> {
    let end = span.end as usize + 1;
    let comma = clean.text()[end..].find(|c: char| !c.is_whitespace()).filter(|at| clean.text()[end + at..].starts_with(','));
    span.start as usize - 1..comma.map_or(end, |at| end + at + 1)
}

pub(crate) fn tool_not_listed(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for id in &guide.tools {
        let at_step = |step: &Step| step.tools.iter().find(|used| used.value == id.value).map(|used| (used.span, Vec::new()));
        let at_operation = |operation: &Operation| {
            let used = operation.with.iter().find(|used| used.value == id.value)?;
            Some((used.span, operation.targets.iter().map(|target| target.value.clone()).collect()))
        };
        let first = guide.steps.iter().find_map(|step| at_step(step).or_else(|| step.operations.iter().find_map(at_operation)));
        // Leaving out the very operation that uses the tool first would take this finding along.
        let Some((span, mut about)) = first else { continue };
        about.push(id.value.clone());
        let about: Vec<&str> = about.iter().map(String::as_str).collect();
        broken.push(Broken::new(vec![(word_in_list(clean, id.span), String::new())], At::Clean(span.range()), &about));
    }
    broken
}

pub(crate) fn tool_for_nothing(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let Some(first) = guide.tools.first() else { return Vec::new() };
    let at = first.span.start as usize - 1;
    let tool = defining(clean, "tool", &[("id", "\"seeded-tool\""), ("name", "\"Seeded tool\"")]);
    let edits = vec![(at..at, "\"seeded-tool\", ".to_owned()), tool];
    vec![Broken::new(edits, At::Edit(0, 1.."seeded-tool".len()), &["seeded-tool"])]
}

pub(crate) fn misspelt_id(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    let in_facts = guide.operations().flat_map(|(_, operation)| {
        operation.targets.iter().chain(operation.hardware.iter().map(|count| &count.id)).chain(&operation.specs).chain(&operation.with)
    });
    let in_words = guide.words().flat_map(|prose| &prose.references).map(|reference| &reference.id);
    for id in in_facts.chain(in_words) {
        // A letter twice is the commonest slip of the keyboard.
        let middle = id.span.start as usize + id.value.len() / 2;
        let letter = id.value.as_bytes()[id.value.len() / 2] as char;
        let letter = if letter == '-' { 'e' } else { letter };
        broken.push(Broken::new(vec![(middle..middle, letter.to_string())], At::Clean(id.span.range()), &[&id.value]));
    }
    broken
}

pub(crate) fn id_twice(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let specs = guide.own.specs.rows.iter().map(|row| ("spec", &row.id.value, ("time", "\"5 min\"")));
    let items = guide.own.items.rows.iter().map(|row| ("item", &row.id.value, ("name", "\"Seeded item\"")));
    specs
        .chain(items)
        .map(|(block, id, fact)| {
            let quoted = format!("\"{id}\"");
            let edit = defining(clean, block, &[("id", &quoted), fact]);
            let at = edit.1.find(&quoted).unwrap() + 1;
            // Of two, the later in the text is told; in a list the new one stands first.
            let first = guide.own.specs.get(id).map(|row| row.id.span).filter(|_| block == "spec");
            let first = first.or_else(|| guide.own.items.get(id).map(|row| row.id.span)).unwrap();
            let place = if edit.0.start < first.start as usize { At::Clean(first.range()) } else { At::Edit(0, at..at + id.len()) };
            Broken::new(vec![edit], place, &[id])
        })
        .collect()
}

pub(crate) fn misspelt_key(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for step in guide.steps.iter().step_by(3) {
        let Some(line) = step.block.and_then(|block| clean.key(block.range(), "minutes")) else { continue };
        broken.push(Broken::new(vec![(line.start..line.start + "minutes".len(), "minuets".to_owned())], At::Edit(0, 0..7), &[]));
    }
    broken
}

/// Where a block can be added to the end of a step's own.
fn block_end(clean: &Clean, step: &bayleaf::guide::model::Step<'_>) -> Option<usize> {
    let fence = step.block?;
    Some(fence.start as usize + clean.slice(fence).rfind("+++")?)
}

fn accepting(clean: &Clean, guide: &Guide<'_>, rule: &str) -> Vec<Broken> {
    let mut broken = Vec::new();
    for step in guide.steps.iter().step_by(4) {
        let Some(end) = block_end(clean, step) else { continue };
        let text = format!("\n[[accept]]\nrule = \"{rule}\"\nreason = \"seeded\"\n");
        let at = text.find(rule).unwrap();
        broken.push(Broken::new(vec![(end..end, text)], At::Edit(0, at..at + rule.len()), &[]));
    }
    broken
}

pub(crate) fn acceptance_of_nothing(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    accepting(clean, guide, "torque-missing")
}

pub(crate) fn acceptance_unknown(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    accepting(clean, guide, "torque-forgotten")
}

pub(crate) fn no_words(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for picture in guide.words().flat_map(|prose| &prose.pictures) {
        let start = picture.span.start as usize;
        let end = start + clean.slice(picture.span).rfind("](").unwrap();
        broken.push(Broken::new(vec![(start + 2..end, String::new())], At::Clean(start..start + 2), &[]));
    }
    broken
}

pub(crate) fn no_picture(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let pictures = guide.words().flat_map(|prose| &prose.pictures);
    pictures.map(|picture| Broken::new(vec![(picture.source.span.range(), "gone.svg".to_owned())], At::Edit(0, 0..8), &[])).collect()
}

pub(crate) fn callout_beside(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let callouts = guide.steps.iter().flat_map(|step| &step.callouts);
    let broken = callouts.map(|callout| Broken::new(vec![(callout.at.span.range(), "[42, 31]".to_owned())], At::Edit(0, 0..8), &[]));
    broken.collect()
}

pub(crate) fn callout_of_another_picture(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let callouts = guide.steps.iter().flat_map(|step| &step.callouts);
    callouts.map(|callout| Broken::new(vec![(callout.picture.span.range(), "gone.svg".to_owned())], At::Edit(0, 0..8), &[])).collect()
}

pub(crate) fn callout_copied(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let pairs = guide.steps.iter().flat_map(|step| step.callouts.windows(2));
    let same = pairs.filter(|pair| pair[0].picture.value == pair[1].picture.value);
    same.map(|pair| {
        let (x, y) = pair[0].at.value;
        let copied = format!("[{x:.3}, {y:.3}]");
        let length = copied.len();
        Broken::new(vec![(pair[1].at.span.range(), copied)], At::Edit(0, 0..length), &[])
    })
    .collect()
}

pub(crate) fn link_to_nothing(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    added(clean, guide, "Look at [the seeded step](#no-such-step).", "#no-such-step", 4)
}

pub(crate) fn impossible(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let group = ("one_of", "\"seeded\"");
    let (at, one) = defining(clean, "option", &[("id", "\"seeded-a\""), ("name", "\"Seeded a\""), group]);
    let (_, other) = defining(clean, "option", &[("id", "\"seeded-b\""), ("name", "\"Seeded b\""), group]);
    let options: Edit = (at, format!("{one}{other}"));
    let plain = guide.steps.iter().filter(|step| step.when.is_always());
    plain
        .filter_map(|step| {
            let at = step.block?.start as usize + "+++\n".len();
            let text = "when = [\"seeded-a\", \"seeded-b\"]\n".to_owned();
            let edits: Vec<Edit> = vec![(at..at, text), options.clone()];
            let ids = step.operations.iter().flat_map(|operation| &operation.targets).map(|id| id.as_str());
            let about: Vec<&str> = ids.chain([step.id.as_str()]).collect();
            Some(Broken::new(edits, At::Edit(0, 9..17), &about))
        })
        .step_by(2)
        .collect()
}

pub(crate) fn option_for_nothing(clean: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    let edit = defining(clean, "option", &[("id", "\"seeded\""), ("name", "\"Seeded option\"")]);
    let at = edit.1.find("seeded").unwrap();
    vec![Broken::new(vec![edit], At::Edit(0, at..at + "seeded".len()), &["seeded"])]
}

pub(crate) fn on_nothing(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        if let [target] = operation.targets.as_slice() {
            let quoted = target.span.start as usize - 1..target.span.end as usize + 1;
            broken.push(Broken::new(vec![(quoted, "[]".to_owned())], At::Clean(operation.verb_span.range()), &[&target.value]));
        }
    }
    broken
}

pub(crate) fn negative_count(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let parts = guide.own.parts.rows.iter().filter_map(|row| Some((row.supplied?, &row.id)));
    let counts = parts.chain(guide.own.hardware.rows.iter().filter_map(|row| Some((row.supplied?, &row.id))));
    counts.map(|(count, id)| Broken::new(vec![(count.span.range(), "-4".to_owned())], At::Edit(0, 0..2), &[&id.value])).collect()
}
