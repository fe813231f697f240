//! A second text beside the talk, such as the supplier's sheet: what differs becomes a question of the draft.

use std::ops::Range;

use super::Heard;
use super::values::{Kind, Value};
use crate::guide::verb::Verb;
use crate::narration::Narration;

/// Notes what the talk and the sheet tell differently.
pub fn against(heard: &mut Heard, narration: &Narration, sheet: &Heard, text: &Narration) {
    let mut found: Vec<(Range<usize>, String)> = Vec::new();
    values(heard, sheet, &mut found);
    parts(heard, sheet, narration, &mut found);
    order(heard, sheet, &mut found);
    let said = |place: &Range<usize>| {
        let end = place.end.min(text.words.len());
        text.words[place.start.min(end)..end].iter().map(|word| word.written.as_str()).collect::<Vec<_>>().join(" ")
    };
    // Work that the sheet tells and the talk does not.
    for operation in sheet.operations.iter().filter(|operation| weighty(operation.verb)) {
        let thing = &sheet.things[operation.thing];
        let told = heard.operations.iter().any(|other| other.verb == operation.verb && heard.things[other.thing].head() == thing.head());
        if !told {
            found.push((0..0, format!("only the sheet tells “{}”: was it left out, and why?", said(&operation.place))));
        }
    }
    for operation in heard.operations.iter().filter(|operation| weighty(operation.verb)) {
        let thing = &heard.things[operation.thing];
        let told = sheet.operations.iter().any(|other| other.verb == operation.verb && sheet.things[other.thing].head() == thing.head());
        if !told {
            found.push((
                operation.place.clone(),
                format!("the sheet does not tell that the {} is {}: why is it done?", thing.name, operation.verb.done()),
            ));
        }
    }
    found.dedup_by(|one, other| one.1 == other.1);
    heard.differences = found;
}

/// Work whose lack or surplus matters.
fn weighty(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Remove
            | Verb::Fit
            | Verb::Disconnect
            | Verb::Connect
            | Verb::Tighten
            | Verb::Drain
            | Verb::Fill
            | Verb::Cut
            | Verb::Drill
            | Verb::Apply
            | Verb::Discard
            | Verb::Release
    )
}

fn spelt(value: &Value) -> String {
    let to = value.to.as_ref().map_or(String::new(), |to| format!(" to {to}"));
    format!("{}{to} {}", value.value, value.unit.unwrap_or_default())
}

/// Torques by their fastener.
fn values(heard: &Heard, sheet: &Heard, found: &mut Vec<(Range<usize>, String)>) {
    let torques = |of: &Heard| -> Vec<(String, usize)> {
        of.operations.iter().filter_map(|operation| Some((of.things[operation.thing].name.clone(), operation.torque?))).collect()
    };
    let of_sheet = torques(sheet);
    for (name, value) in torques(heard) {
        let told = &heard.values[value];
        // The fullest name that both share is the same fastener.
        let alike = |other: &str| other == name || other.ends_with(&format!(" {name}")) || name.ends_with(&format!(" {other}"));
        let same: Vec<&Value> = of_sheet.iter().filter(|(other, _)| alike(other)).map(|(_, value)| &sheet.values[*value]).collect();
        let agrees = |other: &&Value| other.unit != told.unit || other.value == told.value && other.to == told.to;
        if !same.is_empty() && !same.iter().any(agrees) {
            found.push((
                told.place.clone(),
                format!("the {name} gets {} here and {} on the sheet: which holds, and why?", spelt(told), spelt(same[0])),
            ));
        }
    }
    // Other values by what they measure: of one sort that stands once on each side.
    for kind in [Kind::Pressure, Kind::Voltage, Kind::Current, Kind::Temperature, Kind::Volume, Kind::Area] {
        let of = |of: &Heard| -> Vec<Value> { of.values.iter().filter(|value| value.kind == kind).cloned().collect() };
        if let ([one], [other]) = (of(heard).as_slice(), of(sheet).as_slice())
            && one.unit == other.unit
            && (one.value != other.value || one.to != other.to)
        {
            found.push((one.place.clone(), format!("{} here and {} on the sheet: which holds, and why?", spelt(one), spelt(other))));
        }
    }
}

/// What the kit holds by one text and not by the other.
fn parts(heard: &Heard, sheet: &Heard, narration: &Narration, found: &mut Vec<(Range<usize>, String)>) {
    let said = |word: &str| narration.words.iter().any(|said| crate::wording::lexicon::singular(&said.text) == word);
    for thing in sheet.facts.from_kit.iter().map(|at| &sheet.things[*at]) {
        if !said(thing.head()) {
            found.push((0..0, format!("the sheet has the {} in the kit and the talk does not name it", thing.name)));
        }
    }
    let _ = heard;
}

/// Neighbours in the talk that stand the other way round on the sheet.
fn order(heard: &Heard, sheet: &Heard, found: &mut Vec<(Range<usize>, String)>) {
    let position = |verb: Verb, head: &str| {
        let mut places =
            sheet.operations.iter().enumerate().filter(|(_, other)| other.verb == verb && sheet.things[other.thing].head() == head);
        let first = places.next()?.0;
        // Of a thing that is told twice the order is not certain.
        places.next().is_none().then_some(first)
    };
    let mut last: Option<(usize, usize)> = None;
    for (at, operation) in heard.operations.iter().enumerate().filter(|(_, operation)| weighty(operation.verb)) {
        let Some(on_sheet) = position(operation.verb, heard.things[operation.thing].head()) else { continue };
        if let Some((before, earlier)) = last.filter(|(_, earlier)| *earlier > on_sheet) {
            let first = &heard.operations[before];
            let (one, other) = (&heard.things[first.thing].name, &heard.things[operation.thing].name);
            found.push((
                operation.place.clone(),
                format!(
                    "here the {one} is {} before the {other} is {}, on the sheet behind it: why?",
                    first.verb.done(),
                    operation.verb.done()
                ),
            ));
            last = Some((at, earlier));
            continue;
        }
        last = Some((at, on_sheet));
    }
}
