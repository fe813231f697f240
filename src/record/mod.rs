//! The as-built record: what was done on one vehicle, saved by the bay view and read here. The types below are declared once, and the
//! handbook's chapter is made from the same lines. Whether the work is complete is asked in `check`; how it is printed is left to `print`.

mod check;

use serde::Deserialize;
use sha2::{Digest, Sha256};

pub use check::{check, foreign, judge};

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-record";
/// The version that is read.
pub const VERSION: u32 = 1;
/// What stands between the sealed text and the seal.
const BEFORE_SEAL: &str = ",\n  \"seal\": \"";

/// A field of the record, for the handbook.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// Its type in the program.
    of: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

impl Field {
    /// What stands in the field, in words.
    pub fn describe(&self) -> String {
        let of = self.of.replace(' ', "");
        let inner = |start: &str| of.strip_prefix(start).and_then(|rest| rest.strip_suffix('>')).map(str::to_owned);
        let object = |of: &str| objects().into_iter().find(|(name, ..)| *name == of).map(|(_, title, _)| title.to_lowercase());
        if let Some(rest) = inner("Vec<") {
            return object(&rest).map_or_else(|| "a list of texts".to_owned(), |title| format!("a list of objects: {title}"));
        }
        if inner("Option<").is_some() {
            return "text, or null".to_owned();
        }
        match of.as_str() {
            "String" => "text".to_owned(),
            "u32" => "a whole number".to_owned(),
            "bool" => "true or false".to_owned(),
            other => object(other).map_or_else(|| other.to_owned(), |title| format!("an object: {title}")),
        }
    }
}

/// Declares the types of the record once, with the words that the handbook prints.
macro_rules! objects {
    ($($(#[doc = $about:literal])+ $name:ident $title:literal { $(#[doc = $meaning:literal] $field:ident: $of:ty,)+ })+) => {
        $(
            $(#[doc = $about])+
            #[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
            #[serde(deny_unknown_fields)]
            pub struct $name { $(#[doc = $meaning] pub $field: $of,)+ }
        )+

        /// Every object of the record: the type's name, its heading and its fields.
        pub fn objects() -> Vec<(&'static str, &'static str, Vec<Field>)> {
            vec![$((
                stringify!($name),
                $title,
                vec![$(Field { name: stringify!($field), of: stringify!($of), meaning: $meaning.trim_ascii() }),+],
            )),+]
        }
    };
}

objects! {
    /// The whole record.
    Record "The record" {
        /// Always `bayleaf-record`.
        format: String,
        /// Which version of this description holds: 1.
        version: u32,
        /// The guide that was worked to.
        guide: GuideRow,
        /// The options of the vehicle.
        options: Options,
        /// The order and the vehicle.
        order: Order,
        /// What was ticked, each by its id: `STEP/N` for an operation, `STEP/check/N` for a check at the end of a step, `STEP/hold` for a stop that was signed, `before/N`, `final/N` and `follow-up/N`; N counts from 1 in the guide, whatever options are chosen.
        ticks: Vec<String>,
        /// The torques that were applied.
        torques: Vec<Torque>,
        /// What was noted.
        notes: Vec<Note>,
        /// Who signed.
        signed: Signed,
        /// The SHA-256, in hexadecimal, of the file's bytes from the first up to the comma before this field, line ends counted as one character each. It catches a slip or a change by hand; it is no proof against forgery.
        seal: String,
    }

    /// The guide that was worked to.
    GuideRow "Guide" {
        /// Its name in addresses of the site.
        slug: String,
        /// Its title.
        title: String,
        /// Its document number.
        document: Option<String>,
        /// Its revision.
        revision: Option<String>,
        /// Its fingerprint: eight characters that change with every change of the guide, the shop file or a picture.
        fingerprint: String,
    }

    /// The options of the vehicle.
    Options "Options" {
        /// Options that are there, by their ids.
        with: Vec<String>,
        /// Options that are not there.
        without: Vec<String>,
    }

    /// The order and the vehicle.
    Order "Order" {
        /// The registration of the vehicle.
        registration: String,
        /// Its identification number.
        vin: String,
        /// Its odometer.
        odometer: String,
        /// The name of who did the work.
        technician: String,
        /// The name of who looked at it.
        inspector: String,
        /// The day of the first entry, as ISO 8601 writes it.
        started: String,
        /// The day the record was saved.
        finished: String,
    }

    /// A torque that was applied.
    Torque "Torque" {
        /// The operation, by its id.
        operation: String,
        /// What was applied, with its unit.
        applied: String,
        /// The wrench.
        wrench: String,
        /// Why it is not the value asked for.
        note: String,
    }

    /// A note.
    Note "Note" {
        /// The step, by its id.
        step: String,
        /// What was noted. A stop that was signed is noted with the words `Signed at the stop:` and the name.
        text: String,
    }

    /// Who signed.
    Signed "Signatures" {
        /// Whether the technician did.
        technician: bool,
        /// Whether the inspector did.
        inspector: bool,
    }
}

/// The lead of the handbook's chapter.
pub const LEAD: &str = "The file that the bay view saves when a job is done: what was ticked, which torques were applied, who signed.";

/// What the chapter says before the list of fields: a heading, and paragraphs in which what is typed stands between backticks.
pub fn chapter() -> Vec<(&'static str, Vec<&'static str>)> {
    vec![
        (
            "What becomes of a record",
            vec![
                "The bay view keeps the work on the device and saves it as one JSON file in UTF-8, sealed at the end. Nothing is sent anywhere: the file goes where the shop puts it.",
                "`bayleaf print --record FILE` prints it on the checklist of its guide, with ticks, torques, notes and signatures filled in. It asks first whether the record can be taken: the seal fits, the guide is here, and its revision and fingerprint are those that were worked to. A record that was changed, or that belongs to another guide or to an earlier text of it, is refused with the reason.",
                "Then it says what is missing: boxes that are not ticked, torques that are not entered or are not the ones asked for and have no note, stops and the sheet without a signature, the registration, the technician's name. The list stands on the terminal and at the head of the sheet; the exit status is then 1.",
            ],
        ),
        (
            "When a torque counts as the one asked for",
            vec![
                "A plain value is met within half a unit of the last digit of either printed statement: `45 N·m (33 lb·ft)` by 44.06 to 45.5 N·m. A range or a tolerance is met inside it, in either unit. A value that is given as a maximum is met by everything up to it, and of a torque with an angle the torque counts. Everything else needs a note that says why it stays.",
            ],
        ),
    ]
}

impl Record {
    /// The torque of an operation.
    pub fn torque(&self, operation: &str) -> Option<&Torque> {
        self.torques.iter().find(|torque| torque.operation == operation)
    }
}

/// Reads a record; the error says why it is not taken.
pub fn read(bytes: &[u8]) -> Result<Record, String> {
    let text = std::str::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned())?;
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let loose: serde_json::Value = serde_json::from_str(&text).map_err(|error| format!("it is not JSON: {error}"))?;
    if loose.get("format").and_then(serde_json::Value::as_str) != Some(FORMAT) {
        return Err(format!("it is no record of work done: its field `format` does not say `{FORMAT}`"));
    }
    match loose.get("version").and_then(serde_json::Value::as_u64) {
        Some(version) if version == u64::from(VERSION) => {}
        Some(version) => return Err(format!("it is of version {version}, and this bayleaf reads version {VERSION}; use a newer bayleaf")),
        None => return Err("it does not say its version".to_owned()),
    }
    let sealed = text.rfind(BEFORE_SEAL).map(|at| &text[..at]);
    let seal = loose.get("seal").and_then(serde_json::Value::as_str).unwrap_or_default();
    let (Some(sealed), false) = (sealed, seal.is_empty()) else {
        return Err("it has no seal; save the record in the bay view again".to_owned());
    };
    if self::seal(sealed) != seal {
        return Err("it was changed after it was saved: its seal does not fit; save the record in the bay view again".to_owned());
    }
    serde_json::from_str(&text).map_err(|error| format!("it does not hold what a record of version {VERSION} holds: {error}"))
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
        assert!(told(&text.replace("\"technician\": true", "\"technician\": false")).contains("changed after"));
        assert!(told(&text.replace("bayleaf-record", "other")).contains("no record"));
        assert!(told(&text.replace("\"version\": 1", "\"version\": 7")).contains("version 7"));
        assert!(told("{").contains("not JSON"));
        assert!(told(&sealed(&BODY.replace("\"ticks\": [],", "\"ticks\": [], \"more\": 1,"))).contains("more"));
        assert!(told(&sealed(&BODY.replace("\"ticks\": [], ", ""))).contains("ticks"));
        assert!(read(&[0xff, 0xfe]).unwrap_err().contains("UTF-8"));
    }

    #[test]
    fn the_seal_is_the_published_hash() {
        // FIPS 180-4, example for SHA-256 of "abc" (NIST, cryptographic standards and guidelines, examples with intermediate values).
        assert_eq!(seal("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn every_field_has_words() {
        for (_, _, fields) in objects() {
            for field in fields {
                assert!(field.meaning.ends_with('.') && !field.describe().contains('<'), "{field:?}: {}", field.describe());
            }
        }
    }
}
