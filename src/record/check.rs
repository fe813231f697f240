//! Whether a record is complete: what was opened is closed, every entry that the guide asks for is there, every torque is the one asked
//! for or has a note, and somebody signed. Whether the record is one of this guide at all is asked first. The bay view lists the same
//! entries in the same words and order.

use std::collections::HashSet;

use super::refusal::{boxes_of, numbered, of_guide};
use super::{Record, RecordTorque, measured, signed_at_stop, torque, wait};
use crate::document::chosen::Chosen;
use crate::document::open::{Account, Moves};
use crate::document::value::Value;
use crate::document::{Bounds, Document, NamedValue, Operation, Torque};
use crate::phrases::Phrases;
use crate::quantity::entry::{self, Field, Printed};
use crate::quantity::{Exact, decimal};

/// Why the record is not one of this guide as it stands; none if it is.
pub fn foreign(record: &Record, guide: &Document) -> Option<String> {
    let name = |revision: &Option<String>, fingerprint: &str| match revision {
        Some(revision) => format!("revision {revision} ({fingerprint})"),
        None => format!("fingerprint {fingerprint}"),
    };
    let now = name(&guide.head.revision, &guide.fingerprint);
    let then = name(&record.guide.revision, &record.guide.fingerprint);
    if let Some(refusal) = of_guide(record, guide) {
        return Some(refusal.why);
    }
    if record.guide.document != guide.head.document {
        let told = |document: &Option<String>| document.clone().unwrap_or_else(|| "no document number".to_owned());
        return Some(format!("it is of {}, and the guide is {} now", told(&record.guide.document), told(&guide.head.document)));
    }
    (record.guide.fingerprint != guide.fingerprint || record.guide.revision != guide.head.revision)
        .then(|| format!("the work was done to {then}, and the guide is {now} now; print it from the guides as they were then"))
}

/// What is open by the ticks, with the step that closes it again where there is one, and what was opened in a step that does not apply.
fn still_open(ticks: &HashSet<&str>, say: &Phrases, whole: &Moves<'_>, applies: &Moves<'_>, thing: &Account) -> Vec<String> {
    let ticked = |operation: &Operation| ticks.contains(operation.id.as_str());
    let told = |count: u32| match count {
        1 => say.still_one(thing.state(), &thing.name),
        _ => say.still_many(thing.state(), count, &thing.name),
    };
    let count = applies.left(&thing.id, ticked);
    let rest = whole.left(&thing.id, ticked).saturating_sub(count);
    let own = || applies.of(&thing.id).iter();
    let mut lines = Vec::new();
    if count > 0 {
        let closing = own().find(|(_, operation, moved)| !moved.opens && !ticked(operation));
        lines.push(match closing {
            Some((step, ..)) => say.open_see_step(told(count), step.number),
            None if own().any(|(.., moved)| !moved.opens) => told(count),
            None => say.open_never(told(count)),
        });
    }
    if rest > 0 {
        lines.push(say.open_stray(told(rest)));
    }
    lines
}

/// What an operation tightens and where, in words.
fn tightened(say: &Phrases, operation: &Operation) -> String {
    let hardware = operation.hardware.iter().map(crate::document::Fasteners::words);
    let parts = std::iter::once(operation.things()).chain(hardware).chain(operation.how_words(say));
    let parts = parts.map(|part| part.split_whitespace().collect::<Vec<_>>().join(" ")).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(", ")
}

/// What is said of a record that lacks nothing: how many values are not as asked for although somebody noted why, and in which steps.
pub fn complete(record: &Record, guide: &Document) -> String {
    let mut steps = Vec::new();
    let mut count = 0;
    for step in guide.steps() {
        for operation in &step.operations {
            let torque = operation.torque.as_ref().and_then(|asked| Some(judge(&torque(record, &operation.id)?.applied, asked)));
            let values = operation.values.iter().enumerate().filter(|(_, value)| value.bounds.is_some());
            let values = values.filter_map(|(at, value)| Some(judge_measured(&measured(record, &operation.id, at + 1)?.measured, value)));
            let off = values.chain(torque).filter(Result::is_err).count();
            count += off;
            if off > 0 && steps.last() != Some(&step.number) {
                steps.push(step.number);
            }
        }
    }
    if count == 0 {
        return guide.say.complete.to_owned();
    }
    let list: Vec<String> = steps.iter().map(ToString::to_string).collect();
    guide.say.complete_but(count, steps.len(), list.join(", "))
}

/// What is missing or still open in a record, one sentence each; nothing if it is complete. `guide` holds what applies to the vehicle,
/// `whole` all of it; that the record is one of the whole guide was asked before.
pub fn check(record: &Record, whole: &Document, guide: &Document) -> Vec<String> {
    let say = whole.say;
    let ticks: HashSet<&str> = record.ticks.iter().map(String::as_str).collect();
    let ticked = |id: &str| ticks.contains(id);
    let (of_whole, of_guide) = (Moves::new(whole), Moves::new(guide));
    let mut missing: Vec<String> = guide.accounts.iter().flat_map(|thing| still_open(&ticks, say, &of_whole, &of_guide, thing)).collect();
    let boxes = |place: &str, ids: Vec<String>, missing: &mut Vec<String>| {
        let open = ids.iter().filter(|id| !ticked(id)).count();
        if open > 0 {
            missing.push(say.at_place(place, say.boxes_not_ticked(open)));
        }
    };
    boxes(say.before_you_start, numbered("before", guide.before.len()).collect(), &mut missing);
    let mut known: HashSet<&str> = HashSet::new();
    for step in guide.steps() {
        let place = say.step_numbered(step.number);
        boxes(&place, boxes_of(step), &mut missing);
        let noted = record
            .notes
            .iter()
            .any(|note| note.step == step.id && !note.text.starts_with("Signed at the stop: ") && !note.text.trim().is_empty());
        if ticked(&format!("{}/wait", step.id)) && wait(record, &step.id).is_none() && !noted {
            missing.push(say.at_place(&place, say.wait_clock_not_run));
        }
        // Times are written so that their order is that of their letters.
        if ticked(&format!("{}/wait", step.id))
            && let Some(wait) = wait(record, &step.id)
            && wait.ticked < wait.ended
        {
            missing.push(say.at_place(&place, say.wait_ticked_early));
        }
        if let Some(who) = &step.hold_point
            && !(ticked(&format!("{}/hold", step.id))
                && record.notes.iter().any(|note| note.step == step.id && signed_at_stop(&note.text).is_some()))
        {
            missing.push(say.at_place(&place, say.stop_not_signed(who)));
        }
        let signs = |note: &super::format::RecordNote| {
            note.step == step.id && signed_at_stop(&note.text).is_some_and(|(name, _)| is_one_person(name, &record.order.technician))
        };
        if let Some(who) = step.hold_point.as_ref().filter(|_| record.notes.iter().any(signs)) {
            missing.push(say.at_place(&place, say.stop_signed_by_technician(who)));
        }
        for operation in &step.operations {
            for (at, value) in operation.values.iter().enumerate().filter(|(_, value)| value.bounds.is_some()) {
                match measured(record, &operation.id, at + 1) {
                    None => missing.push(say.at_place(&place, say.value_not_entered(&value.name))),
                    Some(entry) if entry.note.trim().is_empty() => {
                        if let Err(why) = judge_measured(&entry.measured, value) {
                            missing.push(say.at_place(&place, say.at_place(&value.name, why)));
                        }
                    }
                    Some(_) => {}
                }
            }
            known.insert(&operation.id);
            let Some(asked) = &operation.torque else { continue };
            let what = tightened(say, operation);
            match torque(record, &operation.id) {
                None => missing.push(say.at_place(&place, say.no_torque_entered(what))),
                Some(entry) if entry.note.trim().is_empty() => {
                    if let Err(why) = judge(&entry.applied, asked) {
                        missing.push(say.at_place(&place, say.at_place(&what, why)));
                    }
                    if let Some(why) = misused(record, entry, guide) {
                        missing.push(say.at_place(&place, say.at_place(&what, why)));
                    }
                }
                Some(_) => {}
            }
        }
    }
    boxes(say.final_checks, numbered("final", guide.final_checks.len()).collect(), &mut missing);
    let torques = record.torques.iter().map(|torque| (&torque.applied, &torque.operation));
    let entered = torques.chain(record.measured.iter().map(|entry| (&entry.measured, &entry.operation)));
    for (entry, operation) in entered.filter(|(_, operation)| !known.contains(operation.as_str())) {
        missing.push(say.entry_does_not_apply(entry, operation));
    }
    let chosen = Chosen::new(&whole.choices, &record.options.with, &record.options.without).unwrap_or_default();
    for choice in whole.choices.iter().filter(|choice| choice.one_of) {
        if choice.options.iter().all(|option| chosen.of(&option.id) != Some(true)) {
            missing.push(say.choice_not_chosen(&choice.name));
        }
    }
    if whole.head.fits.len() > 1 && record.order.vehicle.trim().is_empty() {
        missing.push(say.vehicle_missing.to_owned());
    }
    let named = [(say.registration_missing, &record.order.registration), (say.technician_missing, &record.order.technician)];
    missing.extend(named.into_iter().filter(|(_, entry)| entry.trim().is_empty()).map(|(missing, _)| missing.to_owned()));
    if !record.signed.technician {
        missing.push(say.technician_not_signed.to_owned());
    }
    if record.signed.inspector && is_one_person(&record.order.inspector, &record.order.technician) {
        missing.push(say.inspector_is_technician.to_owned());
    }
    missing
}

/// Whether two names are one, however they are spaced and whatever letters are large; none is nobody.
fn is_one_person(one: &str, other: &str) -> bool {
    let plain = |name: &str| name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    !plain(one).is_empty() && plain(one) == plain(other)
}

/// What is the matter with the wrench of an entry: none, an unknown one, one that does not read such a torque, or whose calibration had
/// ended on the day of the work. Nothing is said where neither guide nor shop has a torque wrench.
fn misused(record: &Record, entry: &RecordTorque, guide: &Document) -> Option<String> {
    let (say, wrenches) = (guide.say, &guide.wrenches);
    let given = entry.wrench.trim();
    if wrenches.is_empty() {
        return None;
    }
    if given.is_empty() {
        return Some(say.no_wrench_entered.to_owned());
    }
    let is_meant = |name: &str| name.eq_ignore_ascii_case(given);
    let known =
        wrenches.iter().find(|wrench| wrench.number.as_deref().is_some_and(is_meant) || is_meant(&wrench.id) || is_meant(&wrench.name));
    let Some(wrench) = known else { return Some(say.wrench_of_nobody(given)) };
    let (low, high) = (wrench.low.and_then(decimal), wrench.high.and_then(decimal));
    let asked = wrench.range.clone();
    let field = Field { printed: Vec::new(), torque: Some((low.as_deref(), high.as_deref())), asked: asked.clone() };
    // What cannot be read is told with the torque.
    if entry::read_entry(&entry.applied, &field).is_ok() && entry::judge(&entry.applied, &field).is_err() {
        return Some(say.wrench_out_of_range(&entry.applied, given, asked));
    }
    let day = if record.order.finished.is_empty() { &record.order.started } else { &record.order.finished };
    let ended = wrench.calibrated_until.map(|until| until.to_string()).filter(|until| !day.is_empty() && until < day);
    ended.map(|until| say.calibration_ended(given, until))
}

/// Whether what was applied is what was asked for; the error says what is wrong with it.
pub fn judge(applied: &str, torque: &Torque) -> Result<(), String> {
    let ends = (torque.bounds.low, torque.bounds.high);
    judged(applied, &torque.bounds, Some(ends), &torque.value)
}

/// Whether what was read off is what was asked for; the error says what is wrong with it.
pub fn judge_measured(entry: &str, asked: &NamedValue) -> Result<(), String> {
    judged(entry, asked.bounds.as_ref().unwrap_or(&Bounds::default()), None, &asked.value)
}

/// An entry held against its bounds as the page has them, in decimals.
fn judged(text: &str, bounds: &Bounds, torque: Option<(Option<Exact>, Option<Exact>)>, value: &Value) -> Result<(), String> {
    let shown = |end: &Option<Exact>| end.and_then(decimal);
    let reads: Vec<(&str, Option<String>, Option<String>)> =
        bounds.reads.iter().map(|(unit, low, high)| (unit.symbol, shown(low), shown(high))).collect();
    let printed = reads.iter().map(|(unit, low, high)| Printed { unit, low: low.as_deref(), high: high.as_deref() }).collect();
    let torque = torque.map(|(low, high)| (shown(&low), shown(&high)));
    let torque = torque.as_ref().map(|(low, high)| (low.as_deref(), high.as_deref()));
    entry::judge(text, &Field { printed, torque, asked: value.in_line() })
}
