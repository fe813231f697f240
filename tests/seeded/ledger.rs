//! Faults of what is opened and closed, of counts, reach and order.

use std::ops::Range;

use bayleaf::guide::model::{Guide, Hardware, HardwareCount, Operation, Text};
use bayleaf::guide::names::Thing;
use bayleaf::guide::verb::{Effect, Moves, Verb};

use super::clean::{At, Broken, Clean, Edit};

/// One operation on one thing.
struct Use<'g> {
    step: usize,
    operation: &'g Operation,
    target: &'g Text,
}

/// The operations on a thing that belong to one pair of verbs, in order.
fn uses<'g>(guide: &'g Guide<'_>, id: &str, opening: Verb) -> Vec<Use<'g>> {
    let mut uses = Vec::new();
    for (step, operation) in guide.operations() {
        let verb = operation.verb;
        if verb == opening || verb.inverse() == Some(opening) && matches!(verb.effect(), Effect::Closes(_)) {
            uses.extend(operation.targets.iter().filter(|target| target.value == id).map(|target| Use { step, operation, target }));
        }
    }
    uses
}

/// Pairs of an opening and the closing that follows it on one item of the vehicle, with whether the pair is the last.
fn pairs<'g>(clean: &'g Clean, guide: &'g Guide<'_>) -> Vec<(Use<'g>, Use<'g>, bool)> {
    let names = clean.names(guide);
    let mut pairs = Vec::new();
    let mut seen: Vec<(&str, Verb)> = Vec::new();
    for (_, operation) in guide.operations() {
        let Effect::Opens(_) = operation.verb.effect() else { continue };
        for target in &operation.targets {
            let Some(Thing::Item(item)) = names.thing(&target.value) else { continue };
            if seen.contains(&(target.as_str(), operation.verb)) || item.stays.is_some() || item.open_at_start {
                continue;
            }
            seen.push((target.as_str(), operation.verb));
            let uses = uses(guide, &target.value, operation.verb);
            let count = uses.len();
            let mut uses = uses.into_iter().enumerate().peekable();
            while let Some((_, first)) = uses.next() {
                let follows = uses.peek().is_some_and(|(_, next)| {
                    let same = conditions(guide, next) == conditions(guide, &first);
                    first.operation.verb == operation.verb && next.operation.verb != operation.verb && same
                });
                if follows && let Some((at, second)) = uses.next() {
                    pairs.push((first, second, at + 1 == count));
                }
            }
        }
    }
    pairs
}

/// The conditions of an operation and its step, to compare.
fn conditions(guide: &Guide<'_>, one: &Use<'_>) -> Vec<(String, bool)> {
    let terms = guide.steps[one.step].when.0.iter().chain(&one.operation.when.0);
    let mut terms: Vec<(String, bool)> = terms.map(|term| (term.option.value.clone(), term.absent)).collect();
    terms.sort();
    terms
}

fn gone(clean: &Clean, operation: &Operation) -> Edit {
    (clean.operation(operation.span), String::new())
}

/// Adds a definition to the guide block, as a block or into the list that the author uses instead.
pub(crate) fn defining(clean: &Clean, block: &str, facts: &[(&str, &str)]) -> Edit {
    let list = format!("\n{block} = [\n");
    let facts = facts.iter().map(|(key, value)| format!("{key} = {value}"));
    match clean.text()[..head_end(clean)].find(&list) {
        Some(at) => {
            let at = at + list.len();
            (at..at, format!("  {{ {} }},\n", facts.collect::<Vec<_>>().join(", ")))
        }
        None => {
            let end = head_end(clean);
            (end..end, format!("\n[[{block}]]\n{}\n", facts.collect::<Vec<_>>().join("\n")))
        }
    }
}

/// Adds a fact to a definition, on a line of its own or inside its small table.
pub(crate) fn adding(clean: &Clean, id: &Text, fact: &str) -> Edit {
    let line = clean.line(id.span.start as usize);
    if clean.text()[line.clone()].trim_start().starts_with('{') {
        let at = id.span.end as usize + 1;
        (at..at, format!(", {fact}"))
    } else {
        (line.end..line.end, format!("{fact}\n"))
    }
}

/// Where the guide block ends.
pub(crate) fn head_end(clean: &Clean) -> usize {
    clean.text().find("\n+++").expect("the guide block ends") + 1
}

fn about(operation: &Operation) -> Vec<&str> {
    let hardware = operation.hardware.iter().map(|count| count.id.as_str());
    operation.targets.iter().map(|target| target.as_str()).chain(hardware).collect()
}

pub(crate) fn not_closed(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let last = pairs(clean, guide).into_iter().filter(|(_, second, last)| *last && second.operation.targets.len() == 1);
    last.map(|(first, second, _)| {
        Broken::new(vec![gone(clean, second.operation)], At::Clean(first.target.span.range()), &about(second.operation))
    })
    .collect()
}

pub(crate) fn not_opened(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (first, second, _) in pairs(clean, guide) {
        let strict = !matches!(first.operation.verb, Verb::Cap | Verb::Cover | Verb::SwitchOff | Verb::Loosen);
        if strict && first.operation.targets.len() == 1 {
            let edits = vec![gone(clean, first.operation)];
            broken.push(Broken::new(edits, At::Clean(second.target.span.range()), &about(first.operation)));
        }
    }
    broken
}

pub(crate) fn opened_twice(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (first, _, _) in pairs(clean, guide) {
        let end = first.operation.span.end as usize;
        let when = written_when(clean, first.operation).map_or("", |range| &clean.text()[range]);
        let text = format!(", {{ {} = \"{}\"{when} }}", first.operation.verb.key(), first.target.value);
        let at = text.find('"').unwrap() + 1;
        let id = at..at + first.target.value.len();
        broken.push(Broken::new(vec![(end..end, text)], At::Edit(0, id), &about(first.operation)));
    }
    broken
}

/// `, when = "..."` as it stands in an operation, where it is a single text.
fn written_when(clean: &Clean, operation: &Operation) -> Option<Range<usize>> {
    let text = clean.slice(operation.span);
    let at = text.find(", when = \"")?;
    let end = at + ", when = \"".len() + text[at + ", when = \"".len()..].find('"')? + 1;
    Some(operation.span.start as usize + at..operation.span.start as usize + end)
}

/// Makes an operation depend on an option that nothing else depends on.
fn with_option(clean: &Clean, operation: &Operation) -> Vec<Edit> {
    let brace = operation.span.end as usize - 1;
    let before = clean.text()[..brace].trim_end().len();
    vec![
        (before..before, ", when = \"seeded\"".to_owned()),
        defining(clean, "option", &[("id", "\"seeded\""), ("name", "\"Seeded option\"")]),
    ]
}

pub(crate) fn closed_with_option(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (first, second, last) in pairs(clean, guide) {
        if last && second.operation.when.is_always() && second.operation.targets.len() == 1 {
            let edits = with_option(clean, second.operation);
            let one = Broken::new(edits, At::Clean(first.target.span.range()), &about(second.operation));
            broken.push(one.saying("without `Seeded option`"));
        }
    }
    broken
}

pub(crate) fn opened_with_option(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (first, second, _) in pairs(clean, guide) {
        let strict = !matches!(first.operation.verb, Verb::Cap | Verb::Cover | Verb::SwitchOff | Verb::Loosen);
        if strict && first.operation.when.is_always() && first.operation.targets.len() == 1 {
            let edits = with_option(clean, first.operation);
            let one = Broken::new(edits, At::Clean(second.target.span.range()), &about(first.operation));
            broken.push(one.saying("without `Seeded option`"));
        }
    }
    broken
}

/// A sort of hardware of this guide with every operation that names a count of it.
fn counted<'g>(guide: &'g Guide<'_>) -> Vec<(&'g Hardware, Vec<(&'g Operation, &'g HardwareCount)>)> {
    let rows = guide.own.hardware.rows.iter().filter(|row| row.when.is_always() && row.spare.is_none() && !row.one_use);
    rows.map(|row| {
        let named = guide.operations().flat_map(|(step, operation)| {
            let always = operation.when.is_always() && guide.steps[step].when.is_always();
            operation.hardware.iter().filter(move |count| count.id.value == row.id.value).map(move |count| (always, operation, count))
        });
        let named: Vec<_> = named.collect();
        // Where options decide how many are used, one more or fewer may be right for some vehicle.
        let all = named.iter().all(|(always, ..)| *always);
        let as_target = guide.operations().any(|(_, operation)| {
            operation.targets.iter().any(|id| id.value == row.id.value)
                && !operation.hardware.iter().any(|count| count.id.value == row.id.value)
        });
        let uses = if all && !as_target { named.into_iter().map(|(_, operation, count)| (operation, count)).collect() } else { Vec::new() };
        (row, uses)
    })
    .filter(|(_, uses)| !uses.is_empty())
    .collect()
}

/// Another number in front of ` x id`.
fn recount(count: &HardwareCount, number: u32) -> Edit {
    let start = count.span.start as usize;
    (start..start + count.count.to_string().len(), number.to_string())
}

fn only_on_vehicle(row: &Hardware) -> bool {
    row.on_vehicle.is_some() && row.supplied.is_none()
}

fn only_in_kit(row: &Hardware) -> bool {
    row.on_vehicle.is_none() && row.supplied.is_some_and(|count| count.value > 1)
}

pub(crate) fn one_off_too_many(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_on_vehicle(row)) {
        let off: Vec<_> = uses.iter().filter(|(operation, _)| operation.verb.moves() == Moves::Off).collect();
        if let [(_, count)] = off.as_slice()
            && row.on_vehicle.is_some_and(|on| on.value == count.count)
        {
            let edits = vec![recount(count, count.count + 1)];
            broken.push(Broken::new(edits, At::Clean(count.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn one_back_too_few(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_on_vehicle(row)) {
        let off = uses.iter().rfind(|(operation, _)| operation.verb.moves() == Moves::Off && !operation.discard_hardware);
        let on = uses.iter().rfind(|(operation, count)| operation.verb.moves() == Moves::On && count.count > 1);
        if let (Some((_, off)), Some((_, on))) = (off, on) {
            let edits = vec![recount(on, on.count - 1)];
            broken.push(Broken::new(edits, At::Clean(off.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn one_kit_too_few(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_in_kit(row)) {
        if let Some((_, on)) = uses.iter().rfind(|(operation, count)| operation.verb.moves() == Moves::On && count.count > 1) {
            let edits = vec![recount(on, on.count - 1)];
            broken.push(Broken::new(edits, At::Clean(row.id.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn one_kit_too_many(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_in_kit(row)) {
        if let Some((_, on)) = uses.iter().rfind(|(operation, _)| operation.verb.moves() == Moves::On) {
            let edits = vec![recount(on, on.count + 1)];
            broken.push(Broken::new(edits, At::Clean(on.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn one_more_supplied(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, _) in counted(guide).into_iter().filter(|(row, _)| only_in_kit(row)) {
        let supplied = row.supplied.unwrap();
        let edits = vec![(supplied.span.range(), (supplied.value + 1).to_string())];
        broken.push(Broken::new(edits, At::Clean(row.id.span.range()), &[&row.id.value]));
    }
    for part in guide.own.parts.rows.iter().filter(|part| part.spare.is_none()) {
        let fitted = guide.operations().filter(|(_, operation)| operation.targets.iter().any(|id| id.value == part.id.value));
        let verbs: Vec<Verb> = fitted.map(|(_, operation)| operation.verb).collect();
        // A part that is laid or applied counts as used up.
        let only_fitted = verbs.contains(&Verb::Fit) && verbs.iter().all(|verb| *verb == Verb::Fit || verb.moves() != Moves::On);
        if let Some(supplied) = part.supplied.filter(|_| only_fitted) {
            let edits = vec![(supplied.span.range(), (supplied.value + 1).to_string())];
            broken.push(Broken::new(edits, At::Clean(part.id.span.range()), &[&part.id.value]));
        }
    }
    broken
}

pub(crate) fn one_fewer_supplied(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_in_kit(row)) {
        let supplied = row.supplied.unwrap();
        if let Some((_, on)) = uses.iter().rfind(|(operation, _)| operation.verb.moves() == Moves::On) {
            let edits = vec![(supplied.span.range(), (supplied.value - 1).to_string())];
            broken.push(Broken::new(edits, At::Clean(on.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn one_fewer_on_vehicle(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_on_vehicle(row)) {
        let on_vehicle = row.on_vehicle.unwrap();
        let first = uses.first().filter(|(_, count)| count.count == on_vehicle.value && count.count > 1);
        if let Some((_, first)) = first {
            let edits = vec![(on_vehicle.span.range(), (on_vehicle.value - 1).to_string())];
            broken.push(Broken::new(edits, At::Clean(first.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn part_forgotten(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for part in guide.own.parts.rows.iter().filter(|part| part.spare.is_none()) {
        let uses: Vec<_> =
            guide.operations().filter(|(_, operation)| operation.targets.iter().any(|id| id.value == part.id.value)).collect();
        let putting: Vec<_> = uses.iter().filter(|(_, operation)| operation.verb.moves() == Moves::On).collect();
        if let [(_, operation)] = putting.as_slice()
            && operation.verb == Verb::Fit
            && operation.targets.len() == 1
        {
            broken.push(Broken::new(vec![gone(clean, operation)], At::Clean(part.id.span.range()), &about(operation)));
        }
    }
    broken
}

pub(crate) fn thrown_away(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (first, second, _) in pairs(clean, guide).into_iter().filter(|(first, ..)| first.operation.verb == Verb::Remove) {
        // Another pair of verbs on the same thing after this point would be told first.
        let end = first.operation.span.end as usize;
        let when = written_when(clean, first.operation).map_or("", |range| &clean.text()[range]);
        let text = format!(", {{ discard = \"{}\"{when} }}", first.target.value);
        broken.push(Broken::new(vec![(end..end, text)], At::Clean(second.target.span.range()), &about(first.operation)));
    }
    broken
}

pub(crate) fn needs_later(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let plain: Vec<_> = guide.steps.iter().filter(|step| step.when.is_always() && step.block.is_some()).collect();
    let Some(last) = plain.last() else { return Vec::new() };
    let early = plain[..plain.len() - 1].iter().filter(|step| step.needs.is_empty());
    early
        .map(|step| {
            let at = step.block.unwrap().start as usize + "+++\n".len();
            let text = format!("needs = [\"{}\"]\n", last.id.value);
            let id = "needs = [\"".len().."needs = [\"".len() + last.id.value.len();
            Broken::new(vec![(at..at, text)], At::Edit(0, id), &[&step.id.value, &last.id.value])
        })
        .collect()
}

pub(crate) fn in_the_way(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for item in guide.own.items.rows.iter().filter(|item| item.behind.is_empty()) {
        let first = guide.operations().find_map(|(_, operation)| {
            let target = operation.targets.iter().find(|id| id.value == item.id.value)?;
            operation.verb.needs_access().then_some(target)
        });
        let Some(target) = first else { continue };
        let cover = defining(clean, "item", &[("id", "\"seeded-cover\""), ("name", "\"Seeded cover\"")]);
        let edits = vec![adding(clean, &item.id, "behind = [\"seeded-cover\"]"), cover];
        broken.push(Broken::new(edits, At::Clean(target.span.range()), &[&item.id.value]));
    }
    broken
}

pub(crate) fn one_left_loose(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide) {
        let tight: Vec<_> = uses.iter().filter(|(operation, _)| operation.verb == Verb::Tighten).collect();
        let [(_, tighten)] = tight.as_slice() else { continue };
        let before = uses.iter().take_while(|(_, count)| count.span != tighten.span);
        let loose = before.filter(|(operation, _)| operation.verb == Verb::Loosen || operation.by_hand).last();
        if let Some((_, loose)) = loose.filter(|_| tighten.count > 1) {
            let edits = vec![recount(tighten, tighten.count - 1)];
            broken.push(Broken::new(edits, At::Clean(loose.span.range()), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn without_its_option(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let names = clean.names(guide);
    let mut broken = Vec::new();
    for (step, operation) in guide.operations() {
        let Some(when) = written_when(clean, operation).filter(|_| guide.steps[step].when.is_always()) else { continue };
        let conditional = operation.targets.iter().find(|id| match names.thing(&id.value) {
            Some(Thing::Item(item)) => !item.when.is_always(),
            Some(Thing::Part(part)) => !part.when.is_always(),
            _ => false,
        });
        let pairs_up = operation.verb.inverse().is_some() || operation.verb.moves() != Moves::Nothing;
        if let Some(target) = conditional.filter(|_| pairs_up) {
            broken.push(Broken::new(vec![(when, String::new())], At::Clean(target.span.range()), &about(operation)));
        }
    }
    broken
}

pub(crate) fn one_use(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (row, uses) in counted(guide).into_iter().filter(|(row, _)| only_on_vehicle(row)) {
        let comes_off = uses.iter().any(|(operation, _)| operation.verb.moves() == Moves::Off && !operation.discard_hardware);
        let on = uses.iter().find(|(operation, _)| operation.verb.moves() == Moves::On);
        if let Some((_, on)) = on.filter(|_| comes_off) {
            let edits = vec![adding(clean, &row.id, "one_use = true")];
            broken.push(Broken::new(edits, At::Clean(on.span.range()), &[&row.id.value]));
        }
    }
    broken
}
