//! Faults of turns, of weaker threads, of windows and of what wires, fuses and mains circuits are given.

use bayleaf::guide::model::{Guide, Hardware, Spec};
use bayleaf::guide::tally;
use bayleaf::guide::tightening::window_of;

use super::clean::{At, Broken, Clean};
use super::joints::{newton_metres, torques};
use super::ledger::{adding, defining};
use super::values::added;

/// The first hardware of this guide that a spec tightens.
fn tightens<'g>(clean: &'g Clean, guide: &'g Guide<'_>, spec: &Spec) -> Option<&'g Hardware> {
    let names = clean.names(guide);
    let rows = guide.operations().filter_map(|(_, operation)| {
        let same = tally::torque_of(operation, names).and_then(|(_, used)| used).is_some_and(|used| std::ptr::eq(used, spec));
        same.then(|| tally::hardware_of(operation, names))
    });
    let own = |row: &Hardware| guide.own.hardware.rows.iter().any(|own| std::ptr::eq(own, row));
    rows.flatten().map(|(_, row)| row).find(|row| row.takes_torque() && own(row))
}

/// Writes another torque into every spec of a plain torque that `value` gives one for.
fn retorqued(clean: &Clean, guide: &Guide<'_>, value: impl Fn(usize, &Spec, &Hardware) -> Option<String>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (at, spec) in torques(clean, guide).into_iter().enumerate() {
        let Some(hardware) = tightens(clean, guide, spec) else { continue };
        let Some(text) = value(at, spec, hardware) else { continue };
        let end = text.len();
        let range = spec.value.as_ref().unwrap().span.range();
        broken.push(Broken::new(vec![(range, text)], At::Edit(0, 0..end), &[&spec.id.value, &hardware.id.value]));
    }
    broken
}

pub(crate) fn turns_too_many(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let turns = ["720°", "2 turns", "10 turns"];
    retorqued(clean, guide, |at, spec, _| Some(format!("{:.1} N·m + {}", newton_metres(spec) * 0.5, turns[at % turns.len()])))
}

pub(crate) fn turn_at_proof(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let turn = |_: usize, spec: &Spec, hardware: &Hardware| {
        let proof = window_of(hardware, Some(spec))?.beyond_proof.torque;
        Some(format!("{:.2} N·m + 90°", proof * 0.95))
    };
    let broken = retorqued(clean, guide, turn);
    // One that is used on several sorts may be told for another.
    broken.into_iter().map(|broken| broken.saying("already is a whole tightening")).collect()
}

pub(crate) fn angle_without_reuse(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = retorqued(clean, guide, |_, spec, hardware| {
        let told = hardware.one_use || hardware.note.is_some() || spec.note.is_some();
        (!told).then(|| format!("{:.1} N·m + 90°", newton_metres(spec) * 0.5))
    });
    for broken in &mut broken {
        let hardware = guide.own.hardware.get(&broken.about[1]).unwrap();
        broken.at = At::Clean(hardware.id.span.range());
    }
    broken
}

pub(crate) fn strong_torque_into_plastic(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for spec in torques(clean, guide).into_iter().filter(|spec| spec.into.is_none()) {
        let Some(hardware) = tightens(clean, guide, spec) else { continue };
        let Some(window) = window_of(hardware, Some(spec)) else { continue };
        let share = newton_metres(spec) / window.beyond_proof.torque;
        // A rivet nut and an insert bear most of what a nut does, plastic hardly any of it.
        let into = ["plastic", "rivet-nut", "insert"].into_iter().rev().find(|into| share > if *into == "plastic" { 0.3 } else { 0.8 });
        let Some(into) = into else { continue };
        let edit = adding(clean, &spec.id, &format!("into = \"{into}\""));
        let place = spec.value.as_ref().unwrap().span.range();
        broken.push(Broken::new(vec![edit], At::Clean(place), &[&spec.id.value, &hardware.id.value]));
    }
    broken
}

/// The words `dry` beside a torque that is doubted without them.
pub(crate) fn dry_is_no_excuse(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = retorqued(clean, guide, |_, spec, hardware| {
        let plain = spec.condition.is_none() && spec.locker.is_none() && spec.lubricant.is_none();
        let proof = window_of(hardware, Some(spec)).filter(|_| plain)?.beyond_proof.torque;
        Some(format!("{:.2} N·m", proof * 1.15))
    });
    for broken in &mut broken {
        let spec = guide.own.specs.get(&broken.about[0]).unwrap();
        broken.edits.push(adding(clean, &spec.id, "condition = \"dry\""));
    }
    broken
}

/// The row of the next class or size: the message has to say so.
pub(crate) fn row_of_a_neighbour(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let next = |_: usize, spec: &Spec, hardware: &Hardware| {
        let proof = window_of(hardware, Some(spec))?.beyond_proof.torque;
        let stronger = matches!(hardware.class.as_ref()?.as_str(), "8.8" | "8" | "grade 5");
        stronger.then(|| format!("{:.2} N·m", proof * 1.2))
    };
    retorqued(clean, guide, next).into_iter().map(|broken| broken.saying("the figure would fit")).collect()
}

pub(crate) fn no_pipe_thread(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let threads = ["G 5/16", "1/8-28 NPT", "ST4.5", "PG12", "Tr8x2"];
    let mut broken = Vec::new();
    for (at, row) in guide.own.hardware.rows.iter().filter(|row| row.takes_torque()).enumerate() {
        let Some(thread) = &row.thread else { continue };
        let new = threads[at % threads.len()].to_owned();
        let end = new.len();
        broken.push(Broken::new(vec![(thread.span.range(), new)], At::Edit(0, 0..end), &[&row.id.value]));
    }
    let _ = clean;
    broken
}

/// A new circuit of these values; the finding is expected at the one of the key.
fn circuit(clean: &Clean, facts: &[(&str, &str)], key: &str) -> Broken {
    let quoted: Vec<(&str, String)> = facts.iter().map(|(key, value)| (*key, format!("\"{value}\""))).collect();
    let mut all = vec![("id", "\"seeded-circuit\""), ("name", "\"Seeded circuit\"")];
    all.extend(quoted.iter().map(|(key, value)| (*key, value.as_str())));
    let edit = defining(clean, "circuit", &all);
    let value = quoted.iter().find(|(other, _)| *other == key).unwrap().1.clone();
    let at = edit.1.find(&format!("{key} = {value}")).unwrap() + key.len() + 4;
    let end = at + value.len() - 2;
    Broken::new(vec![edit], At::Edit(0, at..end), &["seeded-circuit"])
}

/// The guide's own circuits with another value in one key.
fn changed<'g>(
    guide: &'g Guide<'_>,
    of: impl Fn(&'g bayleaf::guide::model::Circuit) -> Option<bayleaf::source::Span>,
    values: &[&str],
) -> Vec<Broken> {
    let mut broken = Vec::new();
    for circuit in &guide.own.circuits.rows {
        let Some(span) = of(circuit) else { continue };
        for value in values {
            broken.push(Broken::new(vec![(span.range(), (*value).to_owned())], At::Edit(0, 0..value.len()), &[&circuit.id.value]));
        }
    }
    broken
}

pub(crate) fn overloaded_wire(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = changed(guide, |circuit| circuit.current.as_ref().map(|current| current.span), &["300 A", "500 A"]);
    // Without a fuse it is told all the same.
    for circuit in guide.own.circuits.rows.iter().filter(|circuit| circuit.fuse.is_some()) {
        let line = clean.line(circuit.fuse.as_ref().unwrap().span.start as usize);
        let edits = vec![(circuit.current.as_ref().unwrap().span.range(), "120 A".to_owned()), (line, String::new())];
        broken.push(Broken::new(edits, At::Edit(0, 0..5), &[&circuit.id.value]));
    }
    broken
}

pub(crate) fn fuse_no_larger_than_its_load(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    // Ratings of blade fuses (ISO 8820-3) and of larger ones that are common.
    const RATINGS: [f64; 15] = [1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 60.0, 80.0, 100.0];
    let mut broken = Vec::new();
    for circuit in &guide.own.circuits.rows {
        let Some(fuse) = &circuit.fuse else { continue };
        let load = circuit.current.as_ref().unwrap().value.text.clone();
        let amperes: f64 = load.trim_end_matches('A').trim().parse().unwrap_or_default();
        let smaller = RATINGS.into_iter().rev().filter(|rating| *rating <= amperes).take(2).map(|rating| format!("{rating} A"));
        for value in smaller.chain([load]) {
            let end = value.len();
            broken.push(Broken::new(vec![(fuse.span.range(), value)], At::Edit(0, 0..end), &[&circuit.id.value]));
        }
    }
    broken
}

pub(crate) fn fuse_of_no_rating(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    // Only of blade fuses the ratings are known.
    let blade = |circuit: &bayleaf::guide::model::Circuit| circuit.fuse_type.as_ref().is_none_or(|kind| kind.value == "blade");
    changed(guide, |circuit| Some(circuit.fuse.as_ref()?.span).filter(|_| blade(circuit)), &["32 A", "37 A", "38.5 A"])
}

pub(crate) fn mains_without_a_caution(clean: &Clean, _: &Guide<'_>) -> Vec<Broken> {
    let facts = |voltage| {
        [("wire", "1.5 mm²"), ("current", "2 A"), ("length", "1 m"), ("voltage", voltage), ("fuse", "10 A"), ("fuse_type", "breaker")]
    };
    ["230 V AC", "120 V", "400 V DC"].iter().map(|voltage| circuit(clean, &facts(voltage), "voltage")).collect()
}

pub(crate) fn wrong_fuse_colour(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (words, mark) in [
        ("Push the red 15 A fuse into its holder.", "red 15 A"),
        ("Push the 20 A blue fuse into its holder.", "20 A blue"),
        ("Push the blade fuse (10 A, green) into its holder.", "10 A, green"),
    ] {
        broken.extend(added(clean, guide, words, mark, 7));
    }
    broken
}
