//! Operations that sentences tell: read from the links whose scheme is their verb, and given what their sentence names beside them. Whether
//! `4 x bracket` is hardware or a part is settled here too, once every id is known.

use crate::finding::{Finding, RuleName};
use crate::guide::bounds;
use crate::guide::facts::Reader;
use crate::guide::keys::Block;
use crate::guide::lower::operation;
use crate::guide::model::{Guide, Item, Operation, Shop, Step, Text, TorqueRef};
use crate::guide::names::{Names, Thing};
use crate::guide::prose::{Prose, RefKind, ToldIn, is_operation};
use crate::guide::words::{Passage, passages};
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};

/// Reads the operations that the words of a step tell, behind those of its list.
pub(super) fn read(reader: &mut Reader, step: &mut Step<'_>) {
    for told in &step.prose.told {
        if step.operations.len() >= bounds::MOST_IN_STEP {
            let message = format!("this step has more than {} operations, and is read up to here", bounds::MOST_IN_STEP);
            reader.beyond(told.link.part(0..0), message, "part the step");
            break;
        }
        let base = told.address.span.start as usize;
        let parsed = reader.operation((&told.address.value, &told.swaps), base, told.link);
        let fields = parsed.fields(Block::Operation);
        if !fields.is_empty() {
            reader.check_keys(&fields);
        }
        let read = operation(reader, &fields).into_iter();
        let told_here = told.within == ToldIn::Sentence;
        step.operations.extend(read.map(|operation| Operation { told: told_here, short: true, span: told.link, ..operation }));
        let (message, remedy) = match told.within {
            ToldIn::Sentence => continue,
            ToldIn::Heading => ("an operation in a heading has no row to tick", "tell it in a sentence below the heading"),
            ToldIn::Cell => ("an operation in a table has no row to tick", "tell it in a sentence before or behind the table"),
            ToldIn::Note => ("an operation in a note is work that a reader may pass over", "tell it in a sentence of the step"),
        };
        reader.findings.push(Finding::hold(RuleName::OperationMisplaced, reader.place(told.link), message, remedy));
    }
}

/// Operations in the texts of a block, such as a caution or a check: a text is not read as a sentence.
pub(super) fn in_keys(reader: &mut Reader, text: &str, body: Span) {
    let block = &text[body.range()];
    for (at, _) in block.match_indices("](") {
        let behind = &block[at + 2..];
        let (address, close) = match behind.strip_prefix('<') {
            Some(inner) => (inner.split('>').next().unwrap_or_default(), ">)"),
            None => (behind.split(')').next().unwrap_or_default(), ")"),
        };
        let Some(open) = block[..at].rfind('[').filter(|_| !address.contains('\n') && is_operation(address)) else { continue };
        let end = at + 2 + behind.find(close).map_or(address.len(), |end| end + close.len());
        let place = reader.place(body.part(open..end));
        let message = "an operation in the text of a key is not read";
        let remedy = "tell it in a sentence of the step; a caution or a check says what to heed and what to see";
        reader.findings.push(Finding::hold(RuleName::OperationMisplaced, place, message, remedy));
    }
}

/// Settles what could not be known while a step was read: names that stand for things, parts that are counted like hardware, and what a
/// sentence says beside its operation.
pub(super) fn settle(reader: &mut Reader, guide: &mut Guide<'_>, shop: &Shop) {
    outside_steps(reader, guide);
    name_things(reader, guide, shop);
    let mut steps = std::mem::take(&mut guide.steps);
    let names = Names::new(guide, shop);
    for step in &mut steps {
        for operation in step.operations.iter_mut().filter(|operation| operation.short) {
            counted(reader, operation, names);
        }
        if step.operations.iter().any(|operation| operation.told) {
            let passages = passages(&step.prose);
            for passage in passages.iter().filter(|passage| !passage.operations.is_empty()) {
                sentences(reader, step, passage, names);
            }
        }
    }
    guide.steps = steps;
}

/// Waits that name a spec get its time.
pub(super) fn waits(reader: &mut Reader, guide: &mut Guide<'_>, shop: &Shop) {
    let mut steps = std::mem::take(&mut guide.steps);
    let names = Names::new(guide, shop);
    let mut time_of = |id: &Option<Text>| {
        let id = id.as_ref()?;
        let spec = names.spec(&id.value)?;
        let stated =
            spec.value.as_ref().filter(|stated| stated.value.quantity.as_ref().is_none_or(|value| value.dimension == Dimension::Time));
        if stated.is_none() && (spec.value.is_some() || spec.designation.is_some()) {
            let message = format!("`{}` is no time, so nobody can wait for it", id.value);
            let remedy = "name a spec with a `time`, or write the time itself";
            reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(id.span), message, remedy));
        }
        stated.map(|stated| Spanned::new(stated.value.clone(), id.span))
    };
    for step in &mut steps {
        if step.wait_spec.is_some() {
            step.wait = time_of(&step.wait_spec);
        }
        for operation in step.operations.iter_mut().filter(|operation| operation.wait_spec.is_some()) {
            operation.wait = time_of(&operation.wait_spec);
        }
    }
    guide.steps = steps;
}

/// Operations in words that belong to no step.
fn outside_steps(reader: &mut Reader, guide: &Guide<'_>) {
    let proses = std::iter::once(&guide.intro).chain(guide.phases.iter().map(|phase| &phase.prose));
    for told in proses.flat_map(|prose: &Prose<'_>| &prose.told) {
        let place = reader.place(told.link);
        let message = "an operation outside the steps is never done";
        reader.findings.push(Finding::hold(RuleName::OperationMisplaced, place, message, "tell it in a sentence of the step that does it"));
    }
}

/// A thing told by its name where it is used becomes an item of that name; used again, it is the same one.
fn name_things(reader: &mut Reader, guide: &mut Guide<'_>, shop: &Shop) {
    for (id, name) in std::mem::take(&mut reader.named) {
        let other = Names::new(guide, shop).thing(&id).map(|thing| thing.name().to_owned());
        match other {
            Some(other) if other.to_lowercase() == name.value.to_lowercase() => {}
            Some(other) => {
                let message = format!("`{}` would get the id `{id}`, and that is `{other}`", name.value);
                let remedy = format!("write the id `{id}` if it is the same thing, or define this one with an id of its own");
                reader.findings.push(Finding::hold(RuleName::IdTwice, reader.place(name.span), message, remedy));
            }
            None if guide.own.items.rows.len() >= bounds::MOST_ROWS => {}
            None => {
                let item = Item::named(Spanned::new(id.clone(), name.span), name);
                guide.own.items.insert(&id, item);
            }
        }
    }
}

/// In the short form `2 x bracket` may count a part: then it is what the operation acts on, and hardware stands beside it.
fn counted(reader: &mut Reader, operation: &mut Operation, names: Names<'_>) {
    let is_hardware = |id: &Text| names.hardware(&id.value).is_some() || names.thing(&id.value).is_none();
    let (fasteners, things): (Vec<_>, Vec<_>) =
        std::mem::take(&mut operation.hardware).into_iter().partition(|count| is_hardware(&count.id));
    // Without a thing of its own the operation acts on what it counts.
    let implied = operation.targets.iter().all(|target| fasteners.iter().chain(&things).any(|count| count.id.span == target.span));
    operation.hardware = fasteners;
    if things.is_empty() {
        return;
    }
    if implied {
        operation.targets = things.iter().map(|count| count.id.clone()).collect();
    } else {
        operation.targets.extend(things.iter().map(|count| count.id.clone()));
    }
    let first = things[0].count;
    let same = things.iter().all(|count| count.count == first) && (first == 1 || things.len() == operation.targets.len());
    if !same {
        let span = things.iter().find(|count| count.count != first).unwrap_or(&things[0]).span;
        let message = "one operation does the same number of each thing it names";
        reader.findings.push(Finding::hold(
            RuleName::TypeWrong,
            reader.place(span),
            message,
            "write an operation of its own for each number",
        ));
    }
    operation.count = Some(Spanned::new(first, things[0].span)).filter(|_| first != 1);
}

/// What stands in one sentence with an operation.
fn sentences(reader: &mut Reader, step: &mut Step<'_>, passage: &Passage, names: Names<'_>) {
    let ranges = passage.sentences();
    let within = |at: usize| ranges.iter().position(|range| at < range.end).unwrap_or(ranges.len());
    let mut told: Vec<(usize, Span)> = passage.operations.iter().map(|(link, words)| (within(words.start), *link)).collect();
    told.dedup_by(|next, before| {
        let again = next.0 == before.0;
        if again {
            let message = "this sentence tells a second operation, so that neither can be ticked by itself";
            let remedy = "give each operation a sentence of its own, or name both things in one link";
            reader.findings.push(
                Finding::query(RuleName::OperationMisplaced, reader.place(next.1), message, remedy)
                    .with_related(reader.place(before.1), "the first one"),
            );
            // What the sentence names beside them may belong to either.
            before.1 = Span::default();
        }
        again
    });
    for (sentence, link) in told {
        let beside = passage.references.iter().filter(|reference| within(reference.range.start) == sentence);
        let beside: Vec<(RefKind, Text)> = beside
            .map(|reference| {
                (reference.kind, Spanned::new(reference.id.clone(), passage.place(reference.range.start, reference.range.end)))
            })
            .collect();
        // Done in several places it is one link and several operations.
        for operation in step.operations.iter_mut().filter(|operation| operation.told && operation.span == link) {
            take(operation, &beside, names);
        }
    }
}

/// Gives an operation what its sentence names beside it: the tools, the torque of what is done up, the values that are read off.
fn take(operation: &mut Operation, beside: &[(RefKind, Text)], names: Names<'_>) {
    let mut torques = Vec::new();
    for (kind, id) in beside {
        match kind {
            RefKind::Tool if operation.with.iter().all(|tool| tool.value != id.value) => operation.with.push(id.clone()),
            RefKind::Spec => {
                let Some(spec) = names.spec(&id.value) else { continue };
                let torque = spec.hand_then || spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque);
                let own = spec.of.as_ref().is_none_or(|of| {
                    let hardware = operation.hardware.iter().map(|count| &count.id);
                    hardware.chain(&operation.targets).any(|thing| thing.value == of.value)
                });
                if torque && own {
                    torques.push(id);
                } else if !torque && operation.verb.reads_off() && operation.specs.iter().all(|known| known.value != id.value) {
                    operation.specs.push(id.clone());
                }
            }
            _ => {}
        }
    }
    let acts_on_hardware =
        !operation.hardware.is_empty() || operation.targets.iter().any(|id| matches!(names.thing(&id.value), Some(Thing::Hardware(_))));
    if let [torque] = torques.as_slice()
        && operation.torque.is_none()
        && operation.verb.does_up()
        && !operation.by_hand
        && acts_on_hardware
    {
        operation.torque = Some(TorqueRef::Spec((*torque).clone()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide;
    use crate::source::{FileId, SourceFile};

    const HEAD: &str = "+++\ntitle = \"T\"\nsources = { manual = \"M\" }\n\n[part]\nbracket = \"2 x Bracket\"\nplate = \"Plate\"\n\n[hardware]\nbolt = \"4 x Bolt; M8; 8.8; 13 mm hex\"\n\n[spec]\nbolt = \"20 N·m; manual\"\ngap = \"Gap; 2 mm\"\n\n[tool]\nlever = \"Lever\"\n+++\n\n";

    fn read(step: &str) -> (Vec<String>, Vec<String>) {
        let text = format!("{HEAD}{step}");
        let source = SourceFile::new("guides/t.md", &*text);
        let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
        let (guide, findings) = guide::read(&source, FileId(1), "t", &shop);
        let words = |ids: &[Text]| ids.iter().map(|id| id.value.as_str()).collect::<Vec<_>>().join("+");
        let operations = guide.operations().map(|(_, operation)| {
            let hardware: String = operation.hardware.iter().map(|count| format!(" {}x{}", count.count, count.id.value)).collect();
            let count = operation.count.map_or_else(String::new, |count| format!(" count {}", count.value));
            let torque = match &operation.torque {
                Some(TorqueRef::Spec(id)) => format!(" torque {}", id.value),
                Some(TorqueRef::InPlace(value)) => format!(" torque {}", value.value.text),
                None => String::new(),
            };
            let specs = if operation.specs.is_empty() { String::new() } else { format!(" specs {}", words(&operation.specs)) };
            let with = if operation.with.is_empty() { String::new() } else { format!(" with {}", words(&operation.with)) };
            format!("{} {}{count}{hardware}{torque}{specs}{with}", operation.verb.key(), words(&operation.targets))
        });
        let findings = findings.into_iter().map(|finding| format!("{}: {}", finding.rule, &text[finding.place.span.range()]));
        (operations.collect(), findings.collect())
    }

    #[test]
    fn sentences_tell_operations_in_the_order_of_the_words() {
        let step = "## Fit it\n\n+++\ndo = [\"clean: plate\"]\n+++\n\n[Fit both brackets](<fit: 2 x bracket, 4 x bolt, by hand>).\nPress with [the lever](tool:lever).\n\n- [Tighten the bolts](<tighten: 4 x bolt>) to [](spec:bolt) with [the lever](tool:lever).\n- [Measure it](<measure: \"Front gap\">): [](spec:gap).\n";
        let (operations, findings) = read(step);
        assert_eq!(findings, Vec::<String>::new());
        assert_eq!(
            operations,
            ["clean plate", "fit bracket count 2 4xbolt", "tighten bolt 4xbolt torque bolt with lever", "measure front-gap specs gap"]
        );
    }

    #[test]
    fn what_is_told_in_the_wrong_place_is_told_there_and_read() {
        for (step, operations, finding) in [
            ("## [Fit](fit:plate)\n\nWords.\n", "fit plate", "operation-misplaced: [Fit](fit:plate)"),
            ("## A\n\n### [Fit](fit:plate)\n\nWords.\n", "fit plate", "operation-misplaced: [Fit](fit:plate)"),
            ("## A\n\n| a |\n|---|\n| [Fit](fit:plate) |\n", "fit plate", "operation-misplaced: [Fit](fit:plate)"),
            ("## A\n\n> [Fit](fit:plate).\n", "fit plate", "operation-misplaced: [Fit](fit:plate)"),
            ("# [Fit](fit:plate)\n\n## A\n\nWords.\n", "", "operation-misplaced: [Fit](fit:plate)"),
            ("# P\n\n[Fit](fit:plate).\n\n## A\n\nWords.\n", "", "operation-misplaced: [Fit](fit:plate)"),
            (
                "## A\n\n[Fit](fit:plate) and [clean](clean:plate) it.\n",
                "fit plate/clean plate",
                "operation-misplaced: [clean](clean:plate)",
            ),
            ("## A\n\n[Fit](fit:plaet) it.\n", "fit plaet", "id-unknown: plaet"),
            ("## A\n\n[Fit](<fit: 0 x bolt>) it.\n", "fit bolt", "type-wrong: 0 x bolt"),
            ("## A\n\n[Fit](<fit: 2 x bracket, 3 x plate>) it.\n", "fit bracket+plate count 2", "type-wrong: 3 x plate"),
            ("## A\n\n[Fit](<ift: plate>) it.\n", "fit plate", "key-unknown: ift"),
            ("## A\n\n[Fit](<fit: plate, wiht lever>) it.\n", "fit plate", "key-unknown: wiht"),
            ("## A\n\n[Fit](<fit: plate bolt>) it.\n", "", "type-wrong: plate bolt"),
            ("## A\n\n[Fit](fit:) it.\n", "fit ", "key-missing: fit"),
        ] {
            let (found, findings) = read(step);
            assert_eq!(findings, [finding], "{step}");
            assert_eq!(found.join("/"), operations, "{step}");
        }
    }

    #[test]
    fn what_belongs_to_something_else_is_not_taken() {
        for (sentence, expected) in [
            ("[Start the bolts](<fit: plate, 4 x bolt, by hand>), they get [](spec:bolt) later.", "fit plate 4xbolt"),
            ("[Lift the plate](<remove: plate>), the gap is [](spec:gap).", "remove plate"),
            ("[Fit the plate](<fit: plate>). Then use [the lever](tool:lever).", "fit plate"),
            ("[Tighten](<tighten: 4 x bolt, 9 N·m>) beyond [](spec:bolt).", "tighten bolt 4xbolt torque 9 N·m"),
        ] {
            assert_eq!(read(&format!("## A\n\n{sentence}\n")).0, [expected], "{sentence}");
        }
    }
}
