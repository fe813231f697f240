//! Records of work done to a revision that is no longer the newest: printed against their own text, and read in a folder.

use std::fs;
use std::path::Path;
use std::time::Instant;

use bayleaf::issued::Issued;
use bayleaf::record;
use serde_json::{Value, json};

use super::issue::{A, B, guide, two_issues};
use super::{bayleaf, put, told};

/// A complete record of the bracket guide.
fn complete(fingerprint: &str, revision: &str, torque: &str, registration: &str) -> Value {
    json!({
        "format": "bayleaf-record", "version": 1,
        "guide": { "slug": "bracket", "title": "Fit the bracket", "document": "TH-1", "revision": revision, "fingerprint": fingerprint },
        "options": { "with": [], "without": [] },
        "order": { "order": "4711", "vehicle": "Marlin 3500", "registration": registration, "vin": "", "odometer": "", "technician": "R. Invented", "inspector": "", "started": "2026-02-03", "finished": "2026-02-03" },
        "ticks": ["bolt-it/1", "final/1"],
        "torques": [{ "operation": "bolt-it/1", "applied": torque, "wrench": "TW-03", "note": "" }],
        "measured": [], "waits": [], "notes": [],
        "signed": { "technician": true, "inspector": false },
    })
}

fn sealed(record: &Value) -> String {
    let text = serde_json::to_string_pretty(record).unwrap();
    let body = text.strip_suffix("\n}").unwrap();
    format!("{body},\n  \"seal\": \"{}\"\n}}\n", record::seal(body))
}

fn fingerprint(home: &Path, revision: &str) -> String {
    let file = home.join(format!("guides/bracket/issued/{revision}.issue"));
    Issued::read(&fs::read(file).unwrap()).unwrap().fingerprint
}

fn write(home: &Path, name: &str, text: &str) {
    let path = home.join("done").join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}

#[test]
fn a_record_is_printed_against_the_revision_that_it_names() {
    let home = two_issues();
    let (a, b) = (fingerprint(home.path(), "A"), fingerprint(home.path(), "B"));
    let print = |record: &Value| {
        write(home.path(), "one.json", &sealed(record));
        bayleaf(home.path(), &["print", "--record", "done/one.json", "--to", "out"])
    };
    let output = print(&complete(&a, "A", "22.5 N·m", "TH 1"));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(told(&output).contains("printed against revision A, issued 2 Jan 2026"), "{}", told(&output));
    // What was right for A is not right for B.
    let output = print(&complete(&b, "B", "22.5 N·m", "TH 1"));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert!(told(&output).contains("24 N·m"), "{}", told(&output));
    for (record, reason) in [
        (complete("0000 0000", "A", "22.5 N·m", "TH 1"), "what was issued as revision A on 2 Jan 2026 is"),
        (complete("0000 0000", "Q", "22.5 N·m", "TH 1"), "issued were A, B"),
        (complete(&a, "B", "22.5 N·m", "TH 1"), "what was issued as revision B"),
    ] {
        let output = print(&record);
        assert_eq!(output.status.code(), Some(2), "{}", told(&output));
        assert!(told(&output).contains(reason), "{reason}: {}", told(&output));
    }
    // Under another name and with a newer text, both are still found.
    fs::rename(home.path().join("guides/bracket"), home.path().join("guides/rail-bracket")).unwrap();
    put(
        home.path(),
        "rail-bracket/guide.md",
        &guide("C", "2026-05-04", "26 N·m", &[A, B]).replace("document =", "was = [\"bracket\"]\ndocument ="),
    );
    let output = print(&complete(&a, "A", "22.5 N·m", "TH 1"));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let made: Vec<String> =
        fs::read_dir(home.path().join("out")).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    assert!(made.iter().any(|name| name.starts_with("rail-bracket-record-")), "{made:?}");
}

#[test]
fn a_folder_of_records_is_read_whatever_lies_in_it() {
    let home = two_issues();
    let (a, b) = (fingerprint(home.path(), "A"), fingerprint(home.path(), "B"));
    write(home.path(), "2026/a.json", &sealed(&complete(&a, "A", "22.5 N·m", "TH 1")));
    let mut off = complete(&b, "B", "27 N·m", "TH 2, \"blue\"");
    off["torques"][0]["wrench"] = json!("TW-9");
    write(home.path(), "b.json", &sealed(&off));
    write(home.path(), "c.json", &sealed(&complete("0000 0000", "A", "22.5 N·m", "TH 3")));
    let mut stranger = complete(&a, "A", "22.5 N·m", "TH 4");
    stranger["guide"]["slug"] = json!("another-shop");
    write(home.path(), "d.json", &sealed(&stranger));
    write(home.path(), "edited.json", &sealed(&complete(&a, "A", "22.5 N·m", "TH 5")).replace("R. Invented", "Q. Invented"));
    write(home.path(), "half.json", &sealed(&complete(&a, "A", "22.5 N·m", "TH 5"))[..300]);
    write(home.path(), "other.json", "[]");
    write(home.path(), "notes.txt", "no record");
    let output = bayleaf(home.path(), &["records", "done", "--as", "json"]);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let list: Value = serde_json::from_slice(&output.stdout).unwrap();
    let rows = list["records"].as_array().unwrap();
    let row = |file: &str| rows.iter().find(|row| row["file"] == file).unwrap();
    assert_eq!(rows.len(), 4);
    assert_eq!((row("2026/a.json")["text"].as_str(), row("2026/a.json")["proven"].as_bool()), (Some("as issued"), Some(true)));
    assert!(row("2026/a.json")["missing"].as_array().unwrap().is_empty());
    assert!(row("b.json")["missing"][0].as_str().unwrap().contains("24 N·m"), "{}", row("b.json"));
    assert!(row("c.json")["text"].as_str().unwrap().contains("what was issued as revision A"));
    assert!(row("d.json")["text"].as_str().unwrap().contains("which is not here"));
    let unread: Vec<&str> = list["unread"].as_array().unwrap().iter().map(|one| one["file"].as_str().unwrap()).collect();
    assert_eq!(unread, ["edited.json", "half.json", "other.json"]);

    let text = told(&bayleaf(home.path(), &["records", "done", "--since", "A"]));
    assert!(text.contains("TH 1") && text.contains("22.5 N·m") && text.contains("→ 24 N·m") && !text.contains("TH 2"), "{text}");
    let text = told(&bayleaf(home.path(), &["records", "done", "--wrench", "tw-9"]));
    assert!(text.contains("TH 2") && !text.contains("TH 1"), "{text}");
    let output = bayleaf(home.path(), &["records", "done", "--as", "csv"]);
    let csv = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(csv.starts_with("file,guide,") && csv.contains("\"TH 2, \"\"blue\"\"\"") && csv.lines().count() == 5, "{csv}");
    assert!(told(&output).contains("not read: half.json"), "{}", told(&output));
    let output = bayleaf(home.path(), &["records", "done", "--since", "Q"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("revision Q was never issued"), "{}", told(&output));
    assert_eq!(bayleaf(home.path(), &["records", "nowhere"]).status.code(), Some(2));
}

/// 10,000 records in at most 5 s: the measure holds for an optimised build; a build for tests reads a tenth of them in that time.
#[test]
fn many_records_are_read_quickly() {
    let count: usize = std::env::var("BAYLEAF_RECORDS").ok().and_then(|count| count.parse().ok()).unwrap_or(1_000);
    let home = two_issues();
    let (a, b) = (fingerprint(home.path(), "A"), fingerprint(home.path(), "B"));
    for at in 0..count {
        let (print, revision, torque) = if at % 2 == 0 { (&a, "A", "22.5 N·m") } else { (&b, "B", "24 N·m") };
        write(home.path(), &format!("{}/{at}.json", at % 20), &sealed(&complete(print, revision, torque, &format!("TH {at}"))));
    }
    let start = Instant::now();
    let output = bayleaf(home.path(), &["records", "done", "--since", "A", "--as", "csv", "--to", "list.csv"]);
    let took = start.elapsed();
    println!("{count} records: {:.2} s", took.as_secs_f64());
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert_eq!(fs::read_to_string(home.path().join("list.csv")).unwrap().lines().count(), 1 + count / 2);
    assert!(took.as_secs_f64() < 5.0, "{took:?}");
}
