//! The questions of a guide: what is told to be untold or unsure, and what it leaves open in silence, each in words that somebody outside
//! can answer. Pages, sheets and the review all ask from this one list.

use crate::finding::{Finding, RuleName};
use crate::guide::keys::{Block, Kind, find};
use crate::guide::model::{Guide, Item, Shop, Text, TorqueRef};
use crate::guide::names::Names;
use crate::guide::prose::RefKind;
use crate::guide::tally;
use crate::guide::untold::{Answer, Untold, Who};
use crate::source::{Place, Span};

/// One question.
#[derive(Clone, Debug)]
pub struct Question {
    /// The words.
    pub text: String,
    /// Who can answer and where, as far as the guide says it.
    pub answer: Answer,
    /// What somebody heard.
    pub heard: Option<String>,
    /// The step it comes up in, as an index.
    pub step: Option<usize>,
    /// Where it stands in the guide.
    pub span: Span,
    /// Whether the author asks it; otherwise the guide is silent.
    pub told: bool,
}

/// All questions of a guide, those that the author asks first.
pub fn questions(guide: &Guide<'_>, shop: &Shop) -> Vec<Question> {
    let names = Names::new(guide, shop);
    let mut all: Vec<Question> = guide.untold.iter().map(|untold| asked(guide, names, untold, untold.span)).collect();
    all.extend(of_shop(guide, shop).into_iter().map(|(untold, span)| asked(guide, names, untold, span)));
    let silent = |text: String, who: Option<Who>, step: Option<usize>, span: Span| Question {
        text,
        answer: Answer { who, place: None },
        heard: None,
        step,
        span,
        told: false,
    };
    all.extend(guide.unsure.iter().map(|unsure| Question {
        text: unsure.value.clone(),
        answer: Answer { who: Some(Who::Shop), place: None },
        heard: None,
        step: guide.steps.iter().position(|step| step.span.contains(unsure.span)),
        span: unsure.span,
        told: true,
    }));
    for (step, operation, owed) in tally::untorqued(guide, names) {
        if crate::guide::untold::at(guide, operation.span, "torque").is_some() {
            continue;
        }
        for (count, hardware) in owed {
            let who = if hardware.supplied.is_some() { Who::Supplier } else { Who::Vehicle };
            let text = format!("To which torque {} tightened", counted(count, &hardware.name.value));
            all.push(silent(text, Some(who), Some(step), operation.span));
        }
    }
    for part in guide.own.parts.rows.iter().filter(|part| part.supplied.is_none() && !part.uncounted) {
        all.push(silent(format!("How many of “{}” are supplied", part.name.value), Some(Who::Supplier), None, part.id.span));
    }
    let moved = tally::Moved::new(guide, names);
    for hardware in guide.own.hardware.rows.iter().filter(|row| row.supplied.is_none() && row.on_vehicle.is_none() && !row.uncounted) {
        if moved.needed(hardware.id.as_str()) > 0 {
            all.push(silent(format!("How many of “{}” are supplied", hardware.name.value), Some(Who::Supplier), None, hardware.id.span));
        }
    }
    for item in guide.own.items.rows.iter().filter(|item| !item.pins.is_empty()) {
        let asked = |key: &str| crate::guide::untold::of(guide, shop, Block::Connector, &item.id.value, key).is_some();
        if item.layout.is_empty() && !asked("layout") {
            let text = format!("How the cavities of “{}” stand on its housing", item.name.value);
            all.push(silent(text, Some(Who::Vehicle), None, item.id.span));
        }
        if item.seen_from.is_none() && !asked("seen_from") {
            let text = format!("From which side the layout of “{}” is seen", item.name.value);
            all.push(silent(text, Some(Who::Vehicle), None, item.id.span));
        }
    }
    all
}

/// What nobody knows yet, as findings: such a guide is held, and nobody can accept it away.
pub fn findings(guide: &Guide<'_>, shop: &Shop) -> Vec<Finding> {
    let names = Names::new(guide, shop);
    let finding = |place: Place, untold: &Untold, more: &str| {
        let message = format!("nobody knows yet {}{more}", what(guide, names, untold));
        Finding::hold(RuleName::FactUntold, place, message, format!("{}, and write it in the place of `untold`", untold.answer.remedy()))
    };
    let own = guide.untold.iter().filter(|untold| untold.heard.is_none());
    let mut all: Vec<Finding> = own.map(|untold| finding(guide.place(untold.span), untold, "")).collect();
    all.extend(of_shop(guide, shop).into_iter().filter(|(untold, _)| untold.heard.is_none()).map(|(untold, span)| {
        let found = finding(guide.place(span), untold, ", which the shop file defines");
        match shop.file {
            Some(file) => found.with_related(Place { file, span: untold.span }, "asked for here"),
            None => found,
        }
    }));
    all
}

/// What nobody knows of things of the shop that this guide uses, each with its first use.
fn of_shop<'g>(guide: &Guide<'_>, shop: &'g Shop) -> Vec<(&'g Untold, Span)> {
    if shop.untold.is_empty() {
        return Vec::new();
    }
    let mut used: Vec<(Block, &Text)> = Vec::new();
    for (_, operation) in guide.operations() {
        let things = operation.targets.iter().chain(operation.hardware.iter().map(|counted| &counted.id));
        used.extend(things.flat_map(|id| [Block::Hardware, Block::Item, Block::Connector, Block::Part].map(|block| (block, id))));
        if let Some(TorqueRef::Spec(id)) = &operation.torque {
            used.push((Block::Spec, id));
        }
        used.extend(operation.specs.iter().map(|id| (Block::Spec, id)));
        used.extend(operation.with.iter().map(|id| (Block::Tool, id)));
    }
    used.extend(guide.steps.iter().flat_map(|step| &step.specs).map(|id| (Block::Spec, id)));
    let told = guide.words().flat_map(|prose| &prose.references).filter(|reference| reference.kind == RefKind::Spec);
    used.extend(told.map(|reference| (Block::Spec, &reference.id)));
    let hidden = |block: Block, id: &str| match block {
        Block::Spec => guide.own.specs.get(id).is_some(),
        Block::Hardware => guide.own.hardware.get(id).is_some(),
        Block::Tool => guide.own.tools.get(id).is_some(),
        _ => guide.own.items.get(id).is_some(),
    };
    let untold = shop.untold.iter().filter_map(|untold| {
        let id = untold.of.as_deref()?;
        let (_, first) = used.iter().find(|(block, used)| *block == untold.block && used.value == id && !hidden(*block, id))?;
        Some((untold, first.span))
    });
    untold.collect()
}

/// `4 × “Seat bolt” are`: with the verb that fits the count.
fn counted(count: u32, name: &str) -> String {
    match count {
        0 => format!("“{name}” are"),
        1 => format!("“{name}” is"),
        _ => format!("{count} × “{name}” are"),
    }
}

/// The name of what is untold; of a cavity with its connector.
fn named(guide: &Guide<'_>, untold: &Untold) -> String {
    let of = |item: &&Item| item.pins.iter().any(|pin| untold.table.contains(pin.at.span));
    match guide.own.items.rows.iter().filter(|_| untold.block == Block::Pin).find(of) {
        Some(item) => format!("{} of “{}”", untold.name, item.name.value),
        None => untold.name.clone(),
    }
}

/// The fasteners of the operation that has an untold torque, with their verb; none where it names none.
fn tightened(guide: &Guide<'_>, names: Names<'_>, untold: &Untold) -> Option<String> {
    let (_, operation) = guide.operations().find(|(_, operation)| operation.span == untold.table)?;
    let owed: Vec<_> = tally::hardware_of(operation, names).into_iter().filter(|(_, hardware)| hardware.takes_torque()).collect();
    match owed.as_slice() {
        [] => None,
        [(count, hardware)] => Some(counted(*count, &hardware.name.value)),
        several => {
            let each = several.iter().map(|(count, hardware)| format!("{count} × “{}”", hardware.name.value));
            Some(format!("{} are", each.collect::<Vec<_>>().join(" and ")))
        }
    }
}

/// The words for something untold, less the question: `how many “Lamp screw” are supplied`.
pub fn what(guide: &Guide<'_>, names: Names<'_>, untold: &Untold) -> String {
    let name = &named(guide, untold);
    if let (Block::Operation, "torque", Some(tightened)) = (untold.block, untold.key, tightened(guide, names, untold)) {
        return format!("to which torque {tightened} tightened");
    }
    let thing = |ids: &str| {
        let named = ids.split(", ").map(|id| names.thing(id).map_or(id.to_owned(), |thing| thing.name().to_owned()));
        named.map(|name| format!("“{name}”")).collect::<Vec<_>>().join(", ")
    };
    // What a value belongs to has a better name than its id.
    let of = names.thing(name).map_or(name.clone(), |thing| thing.name().to_owned());
    let of = format!("“{of}”");
    match (untold.block, untold.key) {
        (_, "supplied") => format!("how many of {of} are supplied"),
        (_, "on_vehicle") => format!("how many of {of} are on the vehicle"),
        (_, "spare") => format!("how many of {of} are spares"),
        (_, "amount") => format!("how much of {of} is used up"),
        (_, "number") => format!("which number {of} has"),
        (Block::Hardware, "length") => format!("how long {of} is under the head"),
        (_, "class") => format!("which strength class {of} has"),
        (_, "drive") => format!("which tool fits {of}"),
        (_, "thread") => format!("which thread {of} has"),
        (_, "drill") => format!("which drill is used for {of}"),
        (Block::Spec, "pattern" | "order" | "rows") => format!("in which order {of} are tightened"),
        (Block::Spec, "stages") => format!("in which passes {of} are tightened"),
        (_, "condition") => format!("in which state the thread of {of} is tightened"),
        (_, "into") => format!("what the thread of {of} is driven into"),
        (_, "locker") => format!("which thread-locker goes on {of}"),
        (_, "lubricant") => format!("which lubricant goes on {of}"),
        (_, "retorque") => format!("when the torque of {of} is checked again"),
        (Block::Operation, "torque") => format!("to which torque {} is tightened", thing(name)),
        (Block::Operation, "count" | "hardware") => format!("how many {} there are here", thing(name)),
        (Block::Operation, "source") => format!("where the torque of {} comes from", thing(name)),
        (Block::Operation, "adapter_angle") => format!("at which angle the adapter stands on {}", thing(name)),
        (Block::Operation, "loosen_stages") => format!("in which passes {} is undone", thing(name)),
        (_, "source") => format!("where the value of {of} comes from"),
        (_, "layout") => format!("how the cavities of {of} stand on its housing"),
        (_, "seen_from") => format!("from which side the layout of {of} is seen"),
        (Block::Pin, "colour") => format!("which colour the wire of {name} has"),
        (Block::Pin, "wire") => format!("which conductor goes to {name}"),
        (Block::Pin, "what") => format!("what {name} carries"),
        (Block::Circuit, "wire") => format!("which conductor {of} has"),
        (Block::Circuit, "length") => format!("how long {of} is one way"),
        (Block::Circuit, "fuse") => format!("which fuse protects {of}"),
        (Block::Circuit, "fuse_type") => format!("how the fuse of {of} is built"),
        (Block::Step, "minutes") => "how long the step takes".to_owned(),
        (Block::Step, "wait") => "how long to wait at the end of the step".to_owned(),
        (Block::Guide, "hours") => "how long the whole job takes".to_owned(),
        (block, key) => {
            let measured = find(block, key).map(|key| match key.kind {
                Kind::Value(dimension) => dimension.name().to_owned(),
                _ => key.name.replace('_', " "),
            });
            format!("what the {} of {of} is", measured.unwrap_or_default())
        }
    }
}

fn asked(guide: &Guide<'_>, names: Names<'_>, untold: &Untold, span: Span) -> Question {
    let step = guide.steps.iter().position(|step| step.span.contains(span));
    let mut text = what(guide, names, untold);
    if let Some(first) = text.get(..1) {
        let first = first.to_uppercase();
        text.replace_range(..1, &first);
    }
    Question { text, answer: untold.answer.clone(), heard: untold.heard.clone(), step, span, told: true }
}
