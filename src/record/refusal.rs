//! Why a record is not taken: one list of refusals and one description of what a record holds, for the command that prints it and for the
//! page that opens it, which gets both with its units. What is missing in a record that is taken is left to `check`.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use serde_json::{Map, Value, json};

use super::{Record, signed_at_stop};
use crate::document::chosen::Chosen;
use crate::document::{Document, Step};

/// A file larger than this is no record; the demo guides' records have 20 kB.
pub const LARGEST: usize = 2 << 20;
/// Objects and lists stand in one another in a record three deep.
const DEEPEST: usize = 16;
/// How much of what stands in a file is told of it.
const TOLD: usize = 60;

/// The refusals by name, in the order in which they are asked; `{what}` is what is wrong.
pub const WORDS: &[(&str, &str)] = &[
    ("large", "it is larger than 2 MB, which no record is"),
    ("text", "it is not UTF-8 text"),
    ("deep", "it is nested deeper than a record"),
    ("json", "it is not JSON"),
    ("key-twice", "the key `{what}` stands in it twice"),
    ("number", "the number {what} in it is no whole count"),
    ("format", "it is no record of work done: its field `format` does not say `bayleaf-record`"),
    ("no-version", "it does not say its version"),
    ("version", "it is of version {what}, and version 1 is read here; use a newer bayleaf"),
    ("no-seal", "it has no seal; save the record in the bay view again"),
    ("behind", "more stands behind its seal, which covers only what stands before it; save the record in the bay view again"),
    (
        "changed",
        "its text is not as it was saved, so its seal cannot be checked: an entry was changed, or another program laid it out anew; save the \
         record in the bay view again",
    ),
    ("field", "it does not hold what a record of version 1 holds: `{what}` is missing or is not what stands there"),
    ("wait", "its wait at `{what}` ends before it began"),
    ("twice", "it has two entries for `{what}`"),
    ("both", "it has the option `{what}` both with and without"),
    ("guide", "it is of another guide, `{what}`"),
    ("option", "the guide has no option `{what}`"),
    ("together", "its options cannot be on one vehicle together"),
    ("vehicle", "the guide does not fit the vehicle `{what}`"),
    ("stranger", "it has an entry for `{what}`, which the guide does not have"),
];

/// What a record holds. A record was saved before what has a question mark stood in it.
const SHAPE: &str = r#"{
  "guide": { "slug": "id", "title": "text", "document": "text or nothing", "revision": "text or nothing", "fingerprint": "text" },
  "options": { "with": ["id"], "without": ["id"] },
  "order": { "order?": "text", "registration": "text", "vehicle?": "text", "vin": "text", "odometer": "text", "technician": "text",
             "inspector": "text", "started": "day or nothing", "finished": "day or nothing" },
  "ticks": ["id"],
  "torques": [{ "operation": "id", "applied": "text", "wrench": "text", "note": "text" }],
  "measured?": [{ "operation": "id", "value": "count", "measured": "text", "note": "text" }],
  "waits?": [{ "step": "id", "started": "minute", "ended": "minute", "ticked": "minute or nothing" }],
  "notes": [{ "step": "id", "text": "text" }],
  "signed": { "technician": "yes or no", "inspector": "yes or no" }
}"#;

fn shape() -> &'static Value {
    static SHAPED: OnceLock<Value> = OnceLock::new();
    SHAPED.get_or_init(|| serde_json::from_str(SHAPE).unwrap_or_default())
}

/// The list and the description as the page's script reads them.
pub fn table() -> Value {
    let words: Map<String, Value> = WORDS.iter().map(|(name, text)| ((*name).to_owned(), Value::from(*text))).collect();
    json!({ "words": words, "shape": shape(), "largest": LARGEST, "deepest": DEEPEST, "told": TOLD })
}

/// Why a record is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Its name in the list.
    pub name: &'static str,
    /// The sentence, without a capital and a full stop.
    pub why: String,
}

/// A refusal of the list, with what is wrong.
pub(super) fn refusal(name: &'static str, what: &str) -> Refusal {
    let mut told: String = what.chars().take(TOLD).collect();
    if what.chars().nth(TOLD).is_some() {
        told.push('…');
    }
    let words = WORDS.iter().find(|(known, _)| *known == name).map_or("", |(_, words)| words);
    Refusal { name, why: words.replace("{what}", &told) }
}

/// How deep lists and objects stand in one another; no parser is asked, since one may refuse what another takes.
pub(super) fn is_deep(text: &str) -> bool {
    let (mut depth, mut inside, mut escaped) = (0_usize, false, false);
    for byte in text.bytes() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if inside => escaped = true,
            b'"' => inside = !inside,
            b'{' | b'[' if !inside => depth += 1,
            b'}' | b']' if !inside => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            return true;
        }
    }
    false
}

/// Keys that stand twice in one object, of which a parser keeps one, and numbers that parsers read differently. The text is JSON.
pub(super) fn loose(text: &str) -> Result<(), Refusal> {
    // For an object its keys so far; for a list none.
    let mut around: Vec<Option<BTreeSet<String>>> = Vec::new();
    let mut key_follows = false;
    let mut at = 0;
    while let Some(byte) = text.as_bytes().get(at) {
        match byte {
            b'"' => {
                let end = end_of_text(text, at);
                if let (true, Some(Some(keys))) = (key_follows, around.last_mut()) {
                    let key: String = serde_json::from_str(&text[at..end]).unwrap_or_default();
                    if keys.contains(&key) {
                        return Err(refusal("key-twice", &key));
                    }
                    keys.insert(key);
                }
                at = end;
                continue;
            }
            b'{' | b'[' => {
                key_follows = *byte == b'{';
                around.push(key_follows.then(BTreeSet::new));
            }
            b'}' | b']' => {
                around.pop();
                key_follows = false;
            }
            b',' => key_follows = matches!(around.last(), Some(Some(_))),
            b':' => key_follows = false,
            b'-' | b'0'..=b'9' => {
                let number = text[at..].split(|c: char| !matches!(c, '0'..='9' | '-' | '+' | '.' | 'e' | 'E')).next().unwrap_or_default();
                if number.len() > 10 || !number.bytes().all(|digit| digit.is_ascii_digit()) {
                    return Err(refusal("number", number));
                }
                at += number.len();
                continue;
            }
            _ => {}
        }
        at += 1;
    }
    Ok(())
}

/// Where the text that begins at a quotation mark ends.
fn end_of_text(text: &str, start: usize) -> usize {
    let mut at = start + 1;
    while let Some(byte) = text.as_bytes().get(at) {
        match byte {
            b'"' => return at + 1,
            b'\\' => at += 2,
            _ => at += 1,
        }
    }
    text.len()
}

/// Whether the fields are those of a record: the place of the first that is not.
pub(super) fn misshapen(record: &Value) -> Option<String> {
    misfit(Some(record), shape(), "")
}

fn misfit(given: Option<&Value>, shape: &Value, place: &str) -> Option<String> {
    let below = |key: &str| if place.is_empty() { key.to_owned() } else { format!("{place}/{key}") };
    match (shape, given) {
        (Value::String(kind), _) => (!is_of(given, kind)).then(|| place.to_owned()),
        (Value::Array(kinds), Some(Value::Array(list))) => {
            list.iter().enumerate().find_map(|(at, one)| misfit(Some(one), &kinds[0], &below(&at.to_string())))
        }
        (Value::Object(kinds), Some(Value::Object(fields))) => kinds.iter().find_map(|(key, kind)| {
            let name = key.trim_end_matches('?');
            let field = fields.get(name);
            if field.is_none() && name != key { None } else { misfit(field, kind, &below(name)) }
        }),
        _ => Some(place.to_owned()),
    }
}

fn is_of(given: Option<&Value>, kind: &str) -> bool {
    match (kind, given) {
        ("text or nothing", None | Some(Value::Null)) => true,
        ("text" | "text or nothing", Some(Value::String(_))) => true,
        ("id", Some(Value::String(text))) => !text.is_empty() && !text.starts_with("__"),
        ("yes or no", Some(Value::Bool(_))) => true,
        ("count", Some(Value::Number(count))) => count.as_u64().is_some_and(|count| (1..1 << 32).contains(&count)),
        ("day or nothing", Some(Value::String(text))) => text.is_empty() || is_day(text),
        ("minute or nothing", Some(Value::String(text))) => text.is_empty() || is_minute(text),
        ("minute", Some(Value::String(text))) => is_minute(text),
        _ => false,
    }
}

fn has_form(text: &str, form: &str) -> bool {
    text.len() == form.len() && text.bytes().zip(form.bytes()).all(|(c, form)| if form == b'0' { c.is_ascii_digit() } else { c == form })
}

/// A day of the calendar, as ISO 8601.
fn is_day(text: &str) -> bool {
    if !has_form(text, "0000-00-00") {
        return false;
    }
    let number = |at: std::ops::Range<usize>| text[at].parse::<u32>().unwrap_or_default();
    let (year, month, day) = (number(0..4), number(5..7), number(8..10));
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let last = match month {
        2 => 28 + u32::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    year > 0 && (1..=last).contains(&day)
}

/// Whether a text is a time as it stands in a record: `2026-11-26 14:05`.
pub(super) fn is_minute(text: &str) -> bool {
    has_form(text, "0000-00-00 00:00") && is_day(&text[..10]) && &text[11..13] < "24" && &text[14..] < "60"
}

/// What contradicts itself in a record, whatever its guide: two entries for one thing, a wait that ends before it began.
pub(super) fn contradiction(record: &Record) -> Option<Refusal> {
    if let Some(wait) = record.waits.iter().find(|wait| wait.started > wait.ended) {
        return Some(refusal("wait", &wait.step));
    }
    let mut seen = BTreeSet::new();
    let options = [("with", &record.options.with), ("without", &record.options.without)];
    let options = options.into_iter().flat_map(|(list, ids)| ids.iter().map(move |id| (list, id.clone())));
    let ticks = record.ticks.iter().map(|tick| ("tick", tick.clone()));
    let torques = record.torques.iter().map(|torque| ("torque", torque.operation.clone()));
    let measured = record.measured.iter().map(|entry| ("measured", format!("{}, value {}", entry.operation, entry.value)));
    let waits = record.waits.iter().map(|wait| ("wait", wait.step.clone()));
    // A step has a note and a name at its stop.
    let notes = record.notes.iter().map(|note| (if signed_at_stop(&note.text).is_some() { "stop" } else { "note" }, note.step.clone()));
    let mut entries = options.chain(ticks).chain(torques).chain(measured).chain(waits).chain(notes);
    if let Some((_, what)) = entries.find(|entry| !seen.insert(entry.clone())) {
        return Some(refusal("twice", &what));
    }
    let both = record.options.with.iter().find(|id| record.options.without.contains(id));
    both.map(|id| refusal("both", id))
}

/// The ids of boxes that are numbered from 1.
pub(super) fn numbered(id: &str, count: usize) -> impl Iterator<Item = String> {
    (1..=count).map(move |at| format!("{id}/{at}"))
}

/// The boxes of a step, less that of its stop.
pub(super) fn boxes_of(step: &Step) -> Vec<String> {
    let mut boxes: Vec<String> = step.operations.iter().map(|operation| operation.id.clone()).collect();
    for operation in &step.operations {
        boxes.extend(numbered(&format!("{}/pass", operation.id), operation.passes().count()));
    }
    boxes.extend(numbered(&format!("{}/check", step.id), step.checks.len()));
    boxes.extend(step.wait.iter().map(|_| format!("{}/wait", step.id)));
    boxes
}

/// Why a record that was read is none of a guide; one of another text of the guide is not held against this one. The page asks the same.
pub fn of_guide(record: &Record, guide: &Document) -> Option<Refusal> {
    if record.guide.slug != guide.head.slug {
        return Some(refusal("guide", &record.guide.slug));
    }
    (record.guide.fingerprint == guide.fingerprint).then(|| stranger(record, guide)).flatten()
}

/// What a record has that the guide it was made with does not have.
fn stranger(record: &Record, guide: &Document) -> Option<Refusal> {
    let known: BTreeSet<&str> = guide.choices.iter().flat_map(|choice| &choice.options).map(|option| option.id.as_str()).collect();
    if let Some(id) = record.options.with.iter().chain(&record.options.without).find(|id| !known.contains(id.as_str())) {
        return Some(refusal("option", id));
    }
    if Chosen::new(&guide.choices, &record.options.with, &record.options.without).is_err() {
        return Some(refusal("together", ""));
    }
    let vehicle = &record.order.vehicle;
    if !vehicle.is_empty() && guide.head.fits.iter().all(|fits| fits.name != *vehicle) {
        return Some(refusal("vehicle", vehicle));
    }
    let mut boxes: BTreeSet<String> = numbered("before", guide.before.len()).collect();
    boxes.extend(numbered("final", guide.final_checks.len()));
    boxes.extend(numbered("follow-up", guide.follow_up.len()));
    boxes.extend(guide.steps().flat_map(boxes_of));
    boxes.extend(guide.steps().filter(|step| step.hold_point.is_some()).map(|step| format!("{}/hold", step.id)));
    let operation = |id: &str| guide.steps().flat_map(|step| &step.operations).find(|operation| operation.id == id);
    let step = |id: &str| guide.steps().find(|step| step.id == id);
    let ticks = record.ticks.iter().filter(|tick| !boxes.contains(*tick)).cloned();
    let torques = record.torques.iter().filter(|entry| operation(&entry.operation).is_none_or(|operation| operation.torque.is_none()));
    let measured = record.measured.iter().filter(|entry| {
        let asked = operation(&entry.operation).and_then(|operation| operation.values.get(entry.value as usize - 1));
        asked.is_none_or(|value| value.bounds.is_none())
    });
    let waits = record.waits.iter().filter(|wait| step(&wait.step).is_none_or(|step| step.wait.is_none()));
    let notes = record
        .notes
        .iter()
        .filter(|note| step(&note.step).is_none_or(|step| signed_at_stop(&note.text).is_some() && step.hold_point.is_none()));
    let torques = torques.map(|entry| entry.operation.clone());
    let measured = measured.map(|entry| format!("{}, value {}", entry.operation, entry.value));
    let waits = waits.map(|wait| wait.step.clone());
    let notes = notes.map(|note| note.step.clone());
    ticks.chain(torques).chain(measured).chain(waits).chain(notes).next().map(|what| refusal("stranger", &what))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_minutes_are_those_of_the_calendar() {
        for day in ["2024-02-29", "2000-02-29", "2026-12-31"] {
            assert!(is_day(day), "{day}");
        }
        for day in ["2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-4-3", "0000-01-01", "2026-01-0\u{663}"] {
            assert!(!is_day(day), "{day}");
        }
        assert!(is_minute("2026-11-26 23:59") && !is_minute("2026-11-26 24:00") && !is_minute("2026-11-26 12:60"));
        assert!(!is_minute("2026-11-26T12:00") && !is_minute("soon"));
    }

    #[test]
    fn every_refusal_has_its_words_once() {
        let names: BTreeSet<&str> = WORDS.iter().map(|(name, _)| *name).collect();
        assert_eq!(names.len(), WORDS.len());
        assert!(shape().is_object());
    }

    #[test]
    fn what_is_told_of_a_file_is_short() {
        let told = refusal("key-twice", &"x".repeat(5_000));
        assert!(told.why.chars().count() < 120 && told.why.contains('…'), "{told:?}");
    }
}
