//! Faults of values, units and torques.

use bayleaf::guide::model::{Guide, TorqueRef};
use bayleaf::guide::prose::RefKind;
use bayleaf::quantity::Dimension;
use bayleaf::source::Span;

use super::clean::{At, Broken, Clean};

/// The values of the guide's own specs: their places and texts.
fn specs<'c>(clean: &'c Clean, guide: &Guide<'_>) -> Vec<(Span, &'c str, String)> {
    let values = guide.own.specs.rows.iter().filter_map(|spec| Some((spec.value.as_ref()?.span, spec.id.value.clone())));
    values.map(|(span, id)| (span, clean.slice(span), id)).collect()
}

/// Replaces the first `from` in each value that `fits`.
fn replaced(clean: &Clean, guide: &Guide<'_>, change: impl Fn(&str) -> Option<String>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (span, text, id) in specs(clean, guide) {
        if let Some(new) = change(text).filter(|new| new != text) {
            let end = new.len();
            broken.push(Broken::new(vec![(span.range(), new)], At::Edit(0, 0..end), &[&id]));
        }
    }
    broken
}

pub(crate) fn foot_for_inch(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    replaced(clean, guide, |text| {
        if !(text.contains('(') && text.contains("lb·")) {
            return None;
        }
        // Only one of a range's units may change, or the two would still agree.
        let at = text.rfind("lb·")?;
        let other = if text[at..].starts_with("lb·ft") { "lb·in" } else { "lb·ft" };
        Some(format!("{}{other}{}", &text[..at], &text[at + "lb·ft".len()..]))
    })
}

pub(crate) fn decimal_place(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    replaced(clean, guide, |text| {
        let open = text.find('(')?;
        let digits = text[open..].find(|c: char| c.is_ascii_digit())? + open;
        let end = text[digits..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |at| digits + at);
        (!text.contains("..") && !text[end..].starts_with('.')).then(|| format!("{}0{}", &text[..end], &text[end..]))
    })
}

pub(crate) fn misspelt_unit(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    replaced(clean, guide, |text| {
        ["N·m", "mm", "kg", "bar"].iter().find(|unit| text.contains(**unit)).map(|unit| text.replacen(unit, "qx", 1))
    })
}

pub(crate) fn bare_pounds(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let torque =
        |id: &str| guide.own.specs.get(id).and_then(|spec| spec.quantity()).is_some_and(|quantity| quantity.dimension == Dimension::Torque);
    let mut broken = replaced(clean, guide, |text| {
        let number = text.split(['.', ' ']).next().filter(|number| number.chars().all(|c| c.is_ascii_digit()))?;
        Some(format!("{number} lb"))
    });
    broken.retain(|broken| torque(&broken.about[0]));
    broken
}

pub(crate) fn reversed(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    replaced(clean, guide, |text| {
        let (low, rest) = text.split_once("..")?;
        let end = rest.find(' ')?;
        (!rest[end..].contains("..") && low.chars().all(|c| c.is_ascii_digit() || c == '.'))
            .then(|| format!("{}..{low}{}", &rest[..end], &rest[end..]))
    })
}

pub(crate) fn unreadable(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    replaced(clean, guide, |text| {
        (text.as_bytes()[0].is_ascii_digit() && text.as_bytes()[1].is_ascii_digit()).then(|| format!("{}o{}", &text[..1], &text[1..]))
    })
}

pub(crate) fn other_system_leads(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let torques = guide.own.specs.rows.iter().filter(|spec| spec.quantity().is_some_and(|value| value.dimension == Dimension::Torque));
    if torques.count() < 2 {
        return Vec::new();
    }
    replaced(clean, guide, |text| {
        let (first, second) = text.split_once(" (")?;
        (first.contains("N·m") || first.contains("lb·")).then(|| format!("{} ({first})", second.trim_end_matches(')')))
    })
}

/// References to a spec in the words of steps, with the value that stands in the spec.
fn references<'g>(clean: &'g Clean, guide: &'g Guide<'_>) -> Vec<(usize, std::ops::Range<usize>, &'g bayleaf::guide::model::Spec)> {
    let names = clean.names(guide);
    let mut found = Vec::new();
    for (at, step) in guide.steps.iter().enumerate() {
        for reference in step.prose.references.iter().filter(|reference| reference.kind == RefKind::Spec && reference.wordless) {
            let link = format!("[](spec:{})", reference.id.value);
            let start = reference.id.span.start as usize - "[](spec:".len();
            let Some(spec) = names.spec(&reference.id.value).filter(|_| clean.text()[start..].starts_with(&link)) else { continue };
            found.push((at, start..start + link.len(), spec));
        }
    }
    found
}

pub(crate) fn typed(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (_, range, spec) in references(clean, guide) {
        let Some(quantity) = spec.quantity().filter(|quantity| quantity.dimension != Dimension::Voltage) else { continue };
        let text = bayleaf::quantity::spell(quantity);
        // What is a range or a limit reads as words in running text; a plain value is the common slip.
        if text.starts_with(|c: char| c.is_ascii_digit()) && !text.contains(['(', '±']) && !text.contains("..") && !text.contains(" + ") {
            let end = text.len();
            broken.push(Broken::new(vec![(range, text)], At::Edit(0, 0..end), &[&spec.id.value]));
        }
    }
    broken
}

pub(crate) fn stray(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (step, range, spec) in references(clean, guide) {
        let named = guide.steps[step]
            .operations
            .iter()
            .any(|operation| matches!(&operation.torque, Some(TorqueRef::Spec(id)) if id.value == spec.id.value));
        if named && spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque) {
            let text = "173 N·m".to_owned();
            let end = text.len();
            broken.push(Broken::new(vec![(range, text)], At::Edit(0, 0..end), &[&spec.id.value]));
        }
    }
    broken
}

pub(crate) fn no_torque(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let names = clean.names(guide);
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        let text = clean.slice(operation.span);
        let (Some(TorqueRef::Spec(id)), Some(at)) = (&operation.torque, text.find(", torque = ")) else { continue };
        let written = format!(", torque = \"{}\"", id.value);
        if !text[at..].starts_with(&written) {
            continue;
        }
        let Some(count) = operation.hardware.iter().find(|count| names.hardware(&count.id.value).is_some_and(|row| row.takes_torque()))
        else {
            continue;
        };
        let start = operation.span.start as usize + at;
        // What is told of a bolt started by hand stands where it was started.
        let by_hand = guide
            .operations()
            .map(|(_, other)| other)
            .find(|other| other.by_hand && other.hardware.iter().any(|other| other.id.value == count.id.value));
        let repeated = guide
            .operations()
            .filter(|(_, other)| other.torque.is_some() && other.hardware.iter().any(|other| other.id.value == count.id.value))
            .count()
            > 1;
        let at = match by_hand {
            Some(_) if repeated => continue,
            Some(other) => other.hardware.iter().find(|other| other.id.value == count.id.value).unwrap().span.range(),
            None => count.span.range(),
        };
        broken.push(Broken::new(vec![(start..start + written.len(), String::new())], At::Clean(at), &[&count.id.value, &id.value]));
    }
    broken
}

pub(crate) fn no_source(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for spec in &guide.own.specs.rows {
        let (Some(value), Some(source)) = (&spec.value, &spec.source) else { continue };
        if spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque) {
            let line = clean.line(source.span.start as usize);
            broken.push(Broken::new(vec![(line, String::new())], At::Clean(value.span.range()), &[&spec.id.value]));
        }
    }
    broken
}

/// The end of a step's text, where another sentence can be added as a paragraph.
pub(crate) fn added(clean: &Clean, guide: &Guide<'_>, sentence: &str, mark: &str, every: usize) -> Vec<Broken> {
    let mut broken = Vec::new();
    for step in guide.steps.iter().step_by(every) {
        let text = clean.slice(step.span);
        let body = text.trim_end().len();
        let at = step.span.start as usize + body;
        let new = format!("\n\n{sentence}");
        let start = new.find(mark).expect("the mark stands in the sentence");
        broken.push(Broken::new(vec![(at..at, new)], At::Edit(0, start..start + mark.len()), &[]));
    }
    broken
}

pub(crate) fn vague(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    added(clean, guide, "Tighten the bolts securely.", "securely", 2)
}

/// Specs of torques for hardware of this guide, each with another one.
fn other_spec<'g>(guide: &'g Guide<'_>, id: &str) -> Option<&'g bayleaf::guide::model::Spec> {
    guide.own.specs.rows.iter().find(|spec| {
        let torque = spec.quantity().is_some_and(|value| value.dimension == Dimension::Torque);
        torque && spec.id.value != id && spec.of.as_ref().is_some_and(|of| guide.own.hardware.get(&of.value).is_some())
    })
}

pub(crate) fn other_torque(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let names = clean.names(guide);
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        let Some(TorqueRef::Spec(id)) = &operation.torque else { continue };
        let Some(count) = operation.hardware.iter().find(|count| names.hardware(&count.id.value).is_some_and(|row| row.takes_torque()))
        else {
            continue;
        };
        let Some(other) = other_spec(guide, &id.value)
            .filter(|spec| spec.of.as_ref().is_some_and(|of| !operation.hardware.iter().any(|count| count.id.value == of.value)))
        else {
            continue;
        };
        let edits = vec![(id.span.range(), other.id.value.clone())];
        broken.push(Broken::new(edits, At::Clean(count.span.range()), &[&id.value, &count.id.value, &other.id.value]));
    }
    broken
}

pub(crate) fn other_reference(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (step, range, spec) in references(clean, guide) {
        let used = |id: &str| {
            guide.steps[step].operations.iter().any(|operation| {
                matches!(&operation.torque, Some(TorqueRef::Spec(torque)) if torque.value == id)
                    || operation.specs.iter().any(|spec| spec.value == id)
            })
        };
        let Some(other) = other_spec(guide, &spec.id.value).filter(|other| !used(&other.id.value)) else { continue };
        if used(&spec.id.value) && spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque) {
            let id = range.start + "[](spec:".len()..range.end - 1;
            let end = other.id.value.len();
            broken.push(Broken::new(vec![(id, other.id.value.clone())], At::Edit(0, 0..end), &[&spec.id.value, &other.id.value]));
        }
    }
    broken
}
