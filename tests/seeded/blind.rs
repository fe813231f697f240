//! Faults that were written blind: guides, single faults and near misses by somebody who had only the handbook, before any of it was
//! run. What is found is a floor and no aim: it rises when a rule is added, and a near miss that is told is a false alarm.
//! `cargo test --test it seeded::blind -- --nocapture` prints the table by class.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use bayleaf::finding::{Finding, Severity};
use bayleaf::guide;
use bayleaf::guide::picture::Pictures;
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};
use serde_json::Value;

/// The sets by folder, with how many of their faults are told as a hold or a query that the guide has not without them, and how many near
/// misses are (of the first set one, whose writer's wrench does not reach the first pass).
const SETS: &[(&str, usize, usize)] =
    &[("round1", 179, 1), ("round2a", 120, 0), ("round2b", 126, 0), ("round3c", 111, 0), ("round3d", 86, 1)];

fn read(set: &str, file: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/seeded/blind").join(set).join(file)).unwrap()
}

/// The holds and queries of a guide's text, each by its rule and message without figures.
fn told(set: &str, slug: &str, text: String) -> Vec<(String, String)> {
    let (shop, _) = guide::read_shop(&SourceFile::new("shop.toml", read(set, "guides/shop.toml")), FileId(0));
    let source = SourceFile::new("guide.md", text);
    let (read, findings) = guide::read(&source, FileId(1), slug, &shop);
    let outcome = review::review(&read, &shop, &Pictures::new(), &|_| true, findings);
    let plain = |finding: &Finding| finding.message.chars().map(|c| if c.is_ascii_digit() { '#' } else { c }).collect();
    let counts = outcome.findings.iter().filter(|finding| matches!(finding.severity, Severity::Hold | Severity::Query));
    counts.map(|finding| (finding.rule.name().to_owned(), plain(finding))).collect()
}

/// The text of a guide with the edits of one entry.
fn edited(text: &str, entry: &Value) -> String {
    let one = std::slice::from_ref(entry);
    let edits = entry["edits"].as_array().map_or(one, Vec::as_slice);
    edits.iter().fold(text.to_owned(), |text, edit| {
        let find = edit["find"].as_str().unwrap();
        assert_eq!(text.matches(find).count(), 1, "{}: {find}", entry["id"]);
        text.replace(find, edit["replace"].as_str().unwrap())
    })
}

/// By class, how many entries of a file there are, and how many are told; with the ids of the latter.
fn run(set: &str, file: &str) -> (BTreeMap<String, (usize, usize)>, BTreeSet<String>) {
    let mut table: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    let mut ids = BTreeSet::new();
    let mut known: BTreeMap<String, (String, Vec<(String, String)>)> = BTreeMap::new();
    for line in read(set, file).lines().filter(|line| !line.trim().is_empty()) {
        let entry: Value = serde_json::from_str(line).unwrap();
        let slug = entry["guide"].as_str().unwrap();
        let (text, clean) = known.entry(slug.to_owned()).or_insert_with(|| {
            let text = read(set, &format!("guides/{slug}/guide.md"));
            (text.clone(), told(set, slug, text))
        });
        let mut before = clean.clone();
        let new =
            told(set, slug, edited(text, &entry)).into_iter().any(|finding| match before.iter().position(|known| *known == finding) {
                Some(at) => {
                    before.swap_remove(at);
                    false
                }
                None => true,
            });
        let row = table.entry(entry["class"].as_str().unwrap().to_owned()).or_default();
        row.0 += 1;
        if new {
            row.1 += 1;
            ids.insert(entry["id"].as_str().unwrap().to_owned());
        }
    }
    (table, ids)
}

#[test]
fn what_was_written_blind_is_found_as_far_as_the_rules_see() {
    for (set, floor, _) in SETS {
        let (table, ids) = run(set, "faults.jsonl");
        println!("{set:<28} {:>5} {:>5}", "tried", "found");
        for (class, (tried, found)) in &table {
            println!("{class:<28} {tried:>5} {found:>5}");
        }
        println!("{:<28} {:>5} {:>5}", "all", table.values().map(|row| row.0).sum::<usize>(), ids.len());
        assert!(ids.len() >= *floor, "{set}: {} of the faults are found, {floor} were", ids.len());
    }
}

#[test]
fn near_misses_written_blind_stay_silent() {
    for (set, _, false_alarms) in SETS {
        let (_, ids) = run(set, "nearmisses.jsonl");
        assert!(ids.len() <= *false_alarms, "{set}: {ids:?}");
    }
}
