//! The as-built record: what was done on one vehicle, saved by the bay view and read here. Its fields are declared with the handbook's
//! chapter in `publish`. Whether the work is complete is asked in `check`; how it is printed is left to `print`.

mod check;
pub mod format;
pub mod listing;
pub mod refusal;

use serde_json::Value;
use sha2::{Digest, Sha256};

use refusal::{Refusal, contradiction, is_deep, is_minute, loose, misshapen};

pub use check::{check, complete, foreign, judge, judge_measured};
pub use format::{Record, RecordMeasured, RecordOrder, RecordTorque, RecordWait};

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-record";
/// The version that is read.
pub const VERSION: u32 = 1;
/// What stands between the sealed text and the seal.
const BEFORE_SEAL: &str = ",\n  \"seal\": \"";
/// The torque of an operation.
pub fn torque<'r>(record: &'r Record, operation: &str) -> Option<&'r RecordTorque> {
    record.torques.iter().find(|torque| torque.operation == operation)
}

/// What was measured for a value of an operation, which is counted from 1.
pub fn measured<'r>(record: &'r Record, operation: &str, value: usize) -> Option<&'r RecordMeasured> {
    record.measured.iter().find(|entry| entry.operation == operation && entry.value as usize == value)
}

/// Who signed at a stop and when, where a note says it; older notes do not say when.
pub fn signed_at_stop(note: &str) -> Option<(&str, Option<&str>)> {
    let signed = note.strip_prefix("Signed at the stop: ").map(str::trim)?;
    let (name, time) = match signed.rsplit_once(", ") {
        Some((name, time)) if is_minute(time) => (name.trim(), Some(time)),
        _ => (signed, None),
    };
    (!name.is_empty()).then_some((name, time))
}

/// The wait of a step that was clocked.
pub fn wait<'r>(record: &'r Record, step: &str) -> Option<&'r RecordWait> {
    record.waits.iter().find(|wait| wait.step == step)
}

/// A text in which some characters stand by their number.
pub fn in_numbers(text: &str, lacking: &[char]) -> String {
    text.chars().map(|c| if lacking.contains(&c) { format!("[U+{:04X}]", u32::from(c)) } else { c.to_string() }).collect()
}

/// A record as it can be printed: characters that the fonts lack stand by their number.
pub fn spelt_out(record: &Record, lacking: &[char]) -> Record {
    let spell = |text: &mut String| *text = in_numbers(text, lacking);
    let mut record = record.clone();
    let order = &mut record.order;
    for text in [
        &mut order.order,
        &mut order.vehicle,
        &mut order.registration,
        &mut order.vin,
        &mut order.odometer,
        &mut order.technician,
        &mut order.inspector,
    ] {
        spell(text);
    }
    [&mut order.started, &mut order.finished].into_iter().for_each(spell);
    for torque in &mut record.torques {
        [&mut torque.applied, &mut torque.wrench, &mut torque.note].into_iter().for_each(spell);
    }
    for entry in &mut record.measured {
        [&mut entry.measured, &mut entry.note].into_iter().for_each(spell);
    }
    record.waits.iter_mut().flat_map(|wait| [&mut wait.started, &mut wait.ended, &mut wait.ticked]).for_each(spell);
    record.notes.iter_mut().for_each(|note| spell(&mut note.text));
    record
}

/// Reads a record; the error says why it is not taken. The page refuses the same files in the same words.
pub fn read(bytes: &[u8]) -> Result<Record, Refusal> {
    let refuse = |name, what: &str| Err(refusal::refusal(name, what));
    if bytes.len() > refusal::LARGEST {
        return refuse("large", "");
    }
    let Ok(text) = std::str::from_utf8(bytes) else { return refuse("text", "") };
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    if is_deep(&text) {
        return refuse("deep", "");
    }
    let mut fields = match serde_json::from_str::<Value>(&text) {
        Ok(fields) => fields,
        // JSON bounds no number, and the page's parser takes it.
        Err(error) if error.to_string().starts_with("number out of range") => return loose(&text).and(refuse("json", "")),
        Err(_) => return refuse("json", ""),
    };
    loose(&text)?;
    if fields.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return refuse("format", "");
    }
    match fields.get("version").and_then(Value::as_u64) {
        Some(version) if version == u64::from(VERSION) => {}
        Some(version) => return refuse("version", &version.to_string()),
        None => return refuse("no-version", ""),
    }
    let seal = fields.get("seal").and_then(Value::as_str).unwrap_or_default();
    if seal.is_empty() {
        return refuse("no-seal", "");
    }
    let Some(at) = text.rfind(BEFORE_SEAL) else { return refuse("changed", "") };
    let behind = &text[at + BEFORE_SEAL.len()..];
    if self::seal(&text[..at]) != seal || !behind.starts_with(seal) {
        return refuse("changed", "");
    }
    // The file ends at the seal, so nothing stands in it that the seal does not cover.
    if behind.trim_end_matches([' ', '\t', '\r', '\n']).strip_prefix(seal) != Some("\"\n}") {
        return refuse("behind", "");
    }
    if let Some(place) = misshapen(&fields) {
        return refuse("field", &place);
    }
    if let Some(fields) = fields.as_object_mut() {
        // Records were saved before these stood in them.
        for list in ["measured", "waits"] {
            fields.entry(list).or_insert_with(|| Value::Array(Vec::new()));
        }
        if let Some(order) = fields.get_mut("order").and_then(Value::as_object_mut) {
            for text in ["order", "vehicle"] {
                order.entry(text).or_insert_with(|| Value::String(String::new()));
            }
        }
    }
    let Ok(record) = serde_json::from_value(fields) else { return refuse("field", "") };
    contradiction(&record).map_or(Ok(record), Err)
}

/// The seal of a text.
pub fn seal(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sealed(body: &str) -> String {
        format!("{body}{BEFORE_SEAL}{}\"\n}}\n", seal(body))
    }

    const BODY: &str = "{\n  \"format\": \"bayleaf-record\",\n  \"version\": 1,\n  \"guide\": { \"slug\": \"a\", \"title\": \"A\", \"document\": null, \"revision\": \"B\", \"fingerprint\": \"ab12 cd34\" },\n  \
                        \"options\": { \"with\": [], \"without\": [] },\n  \"order\": { \"registration\": \"\", \"vin\": \"\", \"odometer\": \"\", \"technician\": \"\", \"inspector\": \"\", \"started\": \"\", \"finished\": \"\" },\n  \
                        \"ticks\": [], \"torques\": [], \"notes\": [],\n  \"signed\": { \"technician\": true, \"inspector\": false }";

    #[test]
    fn a_sealed_record_is_read_with_any_line_ends() {
        let text = sealed(BODY);
        assert!(read(text.as_bytes()).unwrap().signed.technician);
        assert!(read(text.replace('\n', "\r\n").as_bytes()).is_ok());
    }

    #[test]
    fn what_is_no_record_is_refused_with_a_reason() {
        let text = sealed(BODY);
        let told = |text: &str| read(text.as_bytes()).unwrap_err().why;
        assert!(told(&text.replace("\"technician\": true", "\"technician\": false")).contains("not as it was saved"));
        // Every field is there, in another layout.
        let anew = serde_json::to_string(&serde_json::from_str::<serde_json::Value>(&text).unwrap()).unwrap();
        assert_eq!(read(anew.as_bytes()).unwrap_err().name, "changed");
        assert!(told(&format!("{BODY}\n}}\n")).contains("has no seal"));
        assert!(told(&text.replace("bayleaf-record", "other")).contains("no record"));
        assert!(told(&text.replace("\"version\": 1", "\"version\": 7")).contains("version 7"));
        assert!(told("{").contains("not JSON"));
        // Fields may be added at any time.
        assert!(read(sealed(&BODY.replace("\"ticks\": [],", "\"ticks\": [], \"more\": 1,")).as_bytes()).is_ok());
        assert!(told(&sealed(&BODY.replace("\"ticks\": [], ", ""))).contains("ticks"));
        assert!(read(&[0xff, 0xfe]).unwrap_err().why.contains("UTF-8"));
    }

    #[test]
    fn a_name_at_a_stop_has_its_time_where_it_was_kept() {
        assert_eq!(signed_at_stop("Signed at the stop: S. Invented, 2026-11-26 14:05"), Some(("S. Invented", Some("2026-11-26 14:05"))));
        assert_eq!(signed_at_stop("Signed at the stop: Invented, S."), Some(("Invented, S.", None)));
        assert_eq!(signed_at_stop("Signed at the stop: S. Invented, 26 November at 5"), Some(("S. Invented, 26 November at 5", None)));
        assert_eq!(signed_at_stop("Signed at the stop: , 2026-11-26 14:05"), None);
        assert_eq!(signed_at_stop("Signed at the stop: "), None);
        assert_eq!(signed_at_stop("thread cleaned"), None);
    }

    #[test]
    fn what_older_records_do_not_have_is_empty() {
        let record = read(sealed(BODY).as_bytes()).unwrap();
        assert_eq!((record.order.order.as_str(), record.order.vehicle.as_str(), record.waits.len(), record.measured.len()), ("", "", 0, 0));
        let newer = BODY.replace(
            "\"ticks\": [],",
            "\"ticks\": [], \"waits\": [{ \"step\": \"a\", \"started\": \"2026-11-26 14:05\", \"ended\": \"2026-11-26 14:25\", \"ticked\": \"2026-11-26 14:26\" }],",
        );
        assert_eq!(wait(&read(sealed(&newer).as_bytes()).unwrap(), "a").map(|wait| wait.ended.as_str()), Some("2026-11-26 14:25"));
    }

    #[test]
    fn the_seal_is_the_published_hash() {
        // FIPS 180-4, example for SHA-256 of "abc" (NIST, cryptographic standards and guidelines, examples with intermediate values).
        assert_eq!(seal("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
