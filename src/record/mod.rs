//! The as-built record: what was done on one vehicle, saved by the bay view and read here. Its fields are declared with the handbook's
//! chapter in `publish`. Whether the work is complete is asked in `check`; how it is printed is left to `print`.

mod check;
pub mod format;
pub mod listing;

use sha2::{Digest, Sha256};

pub use check::{check, complete, foreign, judge, judge_measured};
pub use format::{Record, RecordMeasured, RecordOrder, RecordTorque, RecordWait};

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-record";
/// The version that is read.
pub const VERSION: u32 = 1;
/// What stands between the sealed text and the seal.
const BEFORE_SEAL: &str = ",\n  \"seal\": \"";
/// What is said of a record whose seal does not hold; the bay view says the same.
const NOT_AS_SAVED: &str = "its text is not as it was saved, so its seal cannot be checked: an entry was changed, or another program laid it out anew; \
                            save the record in the bay view again";

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
    let signed = note.strip_prefix("Signed at the stop:").map(str::trim)?;
    let (name, time) = match signed.rsplit_once(", ") {
        Some((name, time)) if is_minute(time) => (name.trim(), Some(time)),
        _ => (signed, None),
    };
    (!name.is_empty()).then_some((name, time))
}

/// Whether a text is a time as it stands in a record: `2026-11-26 14:05`.
fn is_minute(text: &str) -> bool {
    const FORM: &str = "0000-00-00 00:00";
    text.len() == FORM.len() && text.bytes().zip(FORM.bytes()).all(|(c, form)| if form == b'0' { c.is_ascii_digit() } else { c == form })
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

/// Reads a record; the error says why it is not taken.
pub fn read(bytes: &[u8]) -> Result<Record, String> {
    let text = std::str::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned())?;
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let mut loose: serde_json::Value = serde_json::from_str(&text).map_err(|error| format!("it is not JSON: {error}"))?;
    if loose.get("format").and_then(serde_json::Value::as_str) != Some(FORMAT) {
        return Err(format!("it is no record of work done: its field `format` does not say `{FORMAT}`"));
    }
    match loose.get("version").and_then(serde_json::Value::as_u64) {
        Some(version) if version == u64::from(VERSION) => {}
        Some(version) => return Err(format!("it is of version {version}, and this bayleaf reads version {VERSION}; use a newer bayleaf")),
        None => return Err("it does not say its version".to_owned()),
    }
    let seal = loose.get("seal").and_then(serde_json::Value::as_str).unwrap_or_default();
    if seal.is_empty() {
        return Err("it has no seal; save the record in the bay view again".to_owned());
    }
    if text.rfind(BEFORE_SEAL).is_none_or(|at| self::seal(&text[..at]) != seal) {
        return Err(NOT_AS_SAVED.to_owned());
    }
    if let Some(fields) = loose.as_object_mut() {
        // Records were saved before these stood in them.
        for list in ["measured", "waits"] {
            fields.entry(list).or_insert_with(|| serde_json::Value::Array(Vec::new()));
        }
        if let Some(order) = fields.get_mut("order").and_then(serde_json::Value::as_object_mut) {
            for text in ["order", "vehicle"] {
                order.entry(text).or_insert_with(|| serde_json::Value::String(String::new()));
            }
        }
    }
    serde_json::from_value(loose).map_err(|error| format!("it does not hold what a record of version {VERSION} holds: {error}"))
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
        let told = |text: &str| read(text.as_bytes()).unwrap_err();
        assert!(told(&text.replace("\"technician\": true", "\"technician\": false")).contains("not as it was saved"));
        // Every field is there, in another layout.
        let anew = serde_json::to_string(&serde_json::from_str::<serde_json::Value>(&text).unwrap()).unwrap();
        assert_eq!(told(&anew), NOT_AS_SAVED);
        assert!(told(&format!("{BODY}\n}}\n")).contains("has no seal"));
        assert!(told(&text.replace("bayleaf-record", "other")).contains("no record"));
        assert!(told(&text.replace("\"version\": 1", "\"version\": 7")).contains("version 7"));
        assert!(told("{").contains("not JSON"));
        // Fields may be added at any time.
        assert!(read(sealed(&BODY.replace("\"ticks\": [],", "\"ticks\": [], \"more\": 1,")).as_bytes()).is_ok());
        assert!(told(&sealed(&BODY.replace("\"ticks\": [], ", ""))).contains("ticks"));
        assert!(read(&[0xff, 0xfe]).unwrap_err().contains("UTF-8"));
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
