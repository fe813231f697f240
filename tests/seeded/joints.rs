//! Faults of joints and wiring: threads, classes, drives, wrenches, orders, passes, pins, fuses.

use bayleaf::guide::model::{Guide, Spec, Text};
use bayleaf::guide::tally;
use bayleaf::guide::tightening::count_of;
use bayleaf::quantity::Dimension;

use super::clean::{At, Broken, Clean};

/// Specs of a plain torque for threaded hardware of this guide.
pub(crate) fn torques<'g>(clean: &Clean, guide: &'g Guide<'_>) -> Vec<&'g Spec> {
    let names = clean.names(guide);
    let used = |spec: &Spec| {
        guide.operations().any(|(_, operation)| {
            let same = tally::torque_of(operation, names).and_then(|(_, used)| used).is_some_and(|used| std::ptr::eq(used, spec));
            same && tally::hardware_of(operation, names)
                .iter()
                .any(|(_, row)| row.takes_torque() && row.thread.is_some() && row.class.is_some())
        })
    };
    let torque = |spec: &&Spec| spec.quantity().is_some_and(|value| value.dimension == Dimension::Torque && value.angle.is_none());
    guide.own.specs.rows.iter().filter(torque).filter(|spec| used(spec)).collect()
}

pub(crate) fn newton_metres(spec: &Spec) -> f64 {
    let end = spec.quantity().and_then(|value| value.base_bounds().1).unwrap();
    end.numerator() as f64 / end.denominator() as f64
}

fn with_torque(clean: &Clean, guide: &Guide<'_>, factor: f64) -> Vec<Broken> {
    let mut broken = Vec::new();
    for spec in torques(clean, guide) {
        let text = format!("{:.2} N·m", newton_metres(spec) * factor);
        let end = text.len();
        let value = spec.value.as_ref().unwrap();
        broken.push(Broken::new(vec![(value.span.range(), text)], At::Edit(0, 0..end), &[&spec.id.value]));
    }
    broken
}

pub(crate) fn ten_times(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    with_torque(clean, guide, 12.0)
}

pub(crate) fn a_hundredth(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = with_torque(clean, guide, 0.01);
    // Into rivet nuts, plastic and the like a low torque may be by design.
    broken.retain(|broken| guide.own.specs.get(&broken.about[0]).is_some_and(|spec| spec.into.is_none()));
    broken
}

/// Replaces a fact of the guide's hardware.
fn hardware(
    guide: &Guide<'_>,
    of: impl Fn(&bayleaf::guide::model::Hardware) -> Option<&Text>,
    change: impl Fn(&str) -> Option<String>,
) -> Vec<Broken> {
    let mut broken = Vec::new();
    for row in guide.own.hardware.rows.iter().filter(|row| row.takes_torque()) {
        let Some(text) = of(row) else { continue };
        if let Some(new) = change(&text.value) {
            let end = new.len();
            broken.push(Broken::new(vec![(text.span.range(), new)], At::Edit(0, 0..end), &[&row.id.value]));
        }
    }
    broken
}

pub(crate) fn odd_thread(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    hardware(
        guide,
        |row| row.thread.as_ref(),
        |text| {
            let (size, pitch) = text.split_once('x')?;
            size.starts_with('M').then(|| format!("{size}x{}7", pitch.trim_end_matches('0')))
        },
    )
}

/// A grade of inch bolts on metric ones, and the other way round.
pub(crate) fn class_of_other_system(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let metric = hardware(guide, |row| row.class.as_ref(), |text| matches!(text, "8.8" | "10.9").then(|| "grade 5".to_owned()));
    let inch = hardware(guide, |row| row.class.as_ref(), |text| matches!(text, "grade 5" | "grade 8").then(|| "8.8".to_owned()));
    metric.into_iter().chain(inch).collect()
}

pub(crate) fn no_class(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    hardware(guide, |row| row.class.as_ref(), |text| matches!(text, "8.8" | "10.9" | "8" | "10").then(|| format!("{text}7")))
}

pub(crate) fn odd_drive(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    hardware(
        guide,
        |row| row.drive.as_ref().filter(|_| row.thread.is_some()),
        |text| text.ends_with(" mm hex").then(|| "41 mm hex".to_owned()),
    )
}

pub(crate) fn small_wrench(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let names = clean.names(guide);
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        let Some(torque) = tally::torque_of(operation, names).and_then(|(stated, _)| stated.quantity.as_ref()) else { continue };
        let Some(named) = operation.with.iter().find(|id| names.tool(&id.value).is_some_and(|tool| tool.range.is_some())) else { continue };
        let other = guide.tools.iter().find(|id| names.tool(&id.value).is_some_and(|tool| tool.range.is_some() && !tool.holds(torque)));
        if let Some(other) = other {
            let end = other.value.len();
            let spec = match &operation.torque {
                Some(bayleaf::guide::model::TorqueRef::Spec(id)) => id.as_str(),
                _ => "",
            };
            let edits = vec![(named.span.range(), other.value.clone())];
            broken.push(Broken::new(edits, At::Edit(0, 0..end), &[&named.value, &other.value, spec]));
        }
    }
    broken
}

pub(crate) fn no_angle(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let names = clean.names(guide);
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        let Some(angle) = &operation.adapter_angle else { continue };
        let Some(adapter) = operation.with.iter().find(|id| names.tool(&id.value).is_some_and(|tool| tool.offset.is_some())) else {
            continue;
        };
        let written = format!(", adapter_angle = \"{}\"", angle.value.text);
        let at = operation.span.start as usize + clean.slice(operation.span).find(&written).unwrap();
        broken.push(Broken::new(vec![(at..at + written.len(), String::new())], At::Clean(adapter.span.range()), &[&adapter.value]));
    }
    broken
}

/// Specs with passes that tighten at least four, with how many.
fn many<'g>(clean: &Clean, guide: &'g Guide<'_>) -> Vec<(&'g Spec, u32)> {
    let names = clean.names(guide);
    let mut many = Vec::new();
    for spec in &guide.own.specs.rows {
        let count = guide.operations().find_map(|(_, operation)| {
            let same = tally::torque_of(operation, names).and_then(|(_, used)| used).is_some_and(|used| std::ptr::eq(used, spec));
            same.then(|| count_of(operation, names)).filter(|count| *count >= 4)
        });
        many.extend(count.map(|count| (spec, count)));
    }
    many
}

pub(crate) fn no_pattern(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (spec, _) in many(clean, guide).into_iter().filter(|(spec, _)| !spec.stages.is_empty() && spec.order.is_none()) {
        let Some(pattern) = &spec.pattern else { continue };
        let line = clean.line(pattern.span.start as usize);
        broken.push(Broken::new(vec![(line, String::new())], At::Clean(spec.id.span.range()), &[&spec.id.value]));
    }
    broken
}

pub(crate) fn round_and_round(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (spec, count) in many(clean, guide).into_iter().filter(|(spec, _)| spec.order.is_none()) {
        let Some(pattern) = spec.pattern.as_ref().filter(|pattern| matches!(pattern.as_str(), "crosswise" | "circle")) else { continue };
        let order: Vec<String> = (1..=count).map(|number| number.to_string()).collect();
        let end = clean.line(pattern.span.start as usize).end;
        let text = format!("order = \"{}\"\n", order.join("-"));
        let inside = "order = \"".len().."order = \"".len() + order.join("-").len();
        // On two rows of one pair each, going round is going across.
        if count > 4 || pattern.value == "circle" {
            broken.push(Broken::new(vec![(end..end, text)], At::Edit(0, inside), &[&spec.id.value]));
        }
    }
    broken
}

pub(crate) fn falling_passes(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for spec in guide.own.specs.rows.iter().filter(|spec| spec.stages.len() > 1) {
        let (first, last) = (&spec.stages[0], &spec.stages[spec.stages.len() - 1]);
        let edits = vec![(first.span.range(), last.value.clone()), (last.span.range(), first.value.clone())];
        // It is told where the first pass stands that does not rise, or does not reach the whole.
        broken.push(Broken::new(edits, At::Clean(first.span.start as usize..last.span.end as usize + 8), &[&spec.id.value]));
    }
    broken
}

/// Replaces a fact of a connector's pins.
fn pins(
    guide: &Guide<'_>,
    of: impl Fn(&bayleaf::guide::model::Pin) -> Option<&Text>,
    change: impl Fn(&str) -> Option<String>,
) -> Vec<Broken> {
    let mut broken = Vec::new();
    for pin in guide.own.items.rows.iter().flat_map(|item| &item.pins) {
        let Some(text) = of(pin) else { continue };
        if let Some(new) = change(&text.value).filter(|new| *new != text.value) {
            let end = new.len();
            broken.push(Broken::new(vec![(text.span.range(), new)], At::Edit(0, 0..end), &["pins"]));
        }
    }
    broken
}

pub(crate) fn pin_twice(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    pins(guide, |pin| Some(&pin.at), |_| Some("1".to_owned()))
}

pub(crate) fn pin_left_out(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for item in &guide.own.items.rows {
        for pin in &item.pins {
            let line = clean.line(pin.at.span.start as usize);
            broken.push(Broken::new(vec![(line, String::new())], At::Clean(item.id.span.range()), &["pins"]));
        }
    }
    broken
}

pub(crate) fn makers_colour(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    pins(guide, |pin| pin.colour.as_ref(), |_| Some("B/R".to_owned()))
}

pub(crate) fn bare_section(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    pins(guide, |pin| pin.wire.as_ref(), |text| text.strip_suffix(" mm²").map(str::to_owned))
}

pub(crate) fn large_fuse(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let fuses = guide.own.circuits.rows.iter().filter_map(|circuit| Some((circuit, circuit.fuse.as_ref()?)));
    fuses
        .map(|(circuit, fuse)| Broken::new(vec![(fuse.span.range(), "600 A".to_owned())], At::Edit(0, 0..5), &[&circuit.id.value]))
        .collect()
}

pub(crate) fn no_fuse(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let fuses = guide.own.circuits.rows.iter().filter_map(|circuit| Some((circuit, circuit.fuse.as_ref()?)));
    fuses
        .map(|(circuit, fuse)| {
            let line = clean.line(fuse.span.start as usize);
            Broken::new(vec![(line, String::new())], At::Clean(circuit.id.span.range()), &[&circuit.id.value])
        })
        .collect()
}

pub(crate) fn long_wire(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let lengths = guide.own.circuits.rows.iter().filter_map(|circuit| Some((circuit, circuit.length.as_ref()?)));
    lengths
        .map(|(circuit, length)| {
            let edits = vec![(length.span.range(), "50 m".to_owned())];
            Broken::new(edits, At::Clean(circuit.wire.as_ref().unwrap().span.range()), &[&circuit.id.value])
        })
        .collect()
}

pub(crate) fn no_torque_at_all(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    use bayleaf::guide::model::TorqueRef;
    let other = guide.own.specs.rows.iter().find(|spec| spec.quantity().is_some_and(|value| value.dimension != Dimension::Torque));
    let Some(other) = other else { return Vec::new() };
    let mut broken = Vec::new();
    for (_, operation) in guide.operations() {
        if let Some(TorqueRef::Spec(id)) = &operation.torque {
            let end = other.id.value.len();
            let about: Vec<&str> =
                operation.hardware.iter().map(|count| count.id.as_str()).chain([id.as_str(), other.id.as_str()]).collect();
            broken.push(Broken::new(vec![(id.span.range(), other.id.value.clone())], At::Edit(0, 0..end), &about));
        }
    }
    broken
}

pub(crate) fn other_paper(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for spec in &guide.own.specs.rows {
        let Some(source) = spec.source.as_ref().filter(|source| source.value.contains(" (")) else { continue };
        let end = source.value.find(" (").unwrap();
        let start = source.span.start as usize;
        broken.push(Broken::new(vec![(start..start + end, "paperwork".to_owned())], At::Edit(0, 0.."paperwork".len()), &[&spec.id.value]));
    }
    broken
}

pub(crate) fn never_plugged_in(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for item in guide.own.items.rows.iter().filter(|item| item.open_at_start && item.stays.is_none()) {
        let mut closing = guide.operations().filter(|(_, operation)| operation.targets.iter().any(|id| id.value == item.id.value));
        let (Some((_, operation)), None) = (closing.next(), closing.next()) else { continue };
        if operation.targets.len() == 1 && operation.verb.inverse().is_some() {
            let edits = vec![(clean.operation(operation.span), String::new())];
            broken.push(Broken::new(edits, At::Clean(item.id.span.range()), &[&item.id.value]));
        }
    }
    broken
}

/// The calibration of a tool that the guide defines itself ran out long ago.
pub(crate) fn calibration_over(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let dated = guide.own.tools.rows.iter().filter_map(|tool| Some((tool, tool.calibrated_until?)));
    let listed = dated.filter_map(|(tool, until)| Some((tool, until, guide.tools.iter().find(|id| id.value == tool.id.value)?)));
    listed
        .map(|(tool, until, id)| {
            let edit = (until.span.range(), "2019-01-31".to_owned());
            Broken::new(vec![edit], At::Clean(id.span.range()), &[&tool.id.value])
        })
        .collect()
}
