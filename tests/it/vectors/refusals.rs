//! Which records are taken and which are refused, by a table that was written by hand: the command's answers are held against the table
//! here, and the page's in `replay.mjs` against both, word by word.

use std::fs;

use bayleaf::document::Document;
use bayleaf::document::build::{self, Input};
use bayleaf::guide;
use bayleaf::guide::picture::Pictures;
use bayleaf::record;
use bayleaf::site::guide_page;
use bayleaf::source::{FileId, SourceFile};

use super::work::{Both, Pages, sheet_json};
use super::*;

const SHOP: &str = include_str!("../../vectors/shop.toml");

const GUIDE: &str = include_str!("../../vectors/guide.md");

fn pages() -> Pages {
    let both = || {
        let (shop, _) = guide::read_shop(&SourceFile::new("shop.toml", SHOP.to_owned()), FileId(0));
        let source = SourceFile::new("guide.md", GUIDE.to_owned());
        let (guide, _) = guide::read(&source, FileId(1), "demonstration", &shop);
        let document = build::document(
            &guide,
            &shop,
            &Input { pictures: &Pictures::new(), hashes: &Default::default(), fingerprint: Some("ab12 cd34".to_owned()), draft: false },
        );
        Both { page: guide_page::page(&document), document }
    };
    Pages { metric: both(), imperial: both() }
}

/// The file of a case.
fn file(record: &Value, case: &Value) -> String {
    let mut record = record.clone();
    for (place, value) in case["set"].as_object().into_iter().flatten() {
        let (parent, key) = place.rsplit_once('/').unwrap();
        match record.pointer_mut(parent).unwrap() {
            Value::Object(fields) => drop(fields.insert(key.to_owned(), value.clone())),
            Value::Array(list) if key == "-" => list.push(value.clone()),
            Value::Array(list) => list[key.parse::<usize>().unwrap()] = value.clone(),
            other => panic!("{place} of {other}"),
        }
    }
    for place in case["drop"].as_array().into_iter().flatten() {
        let (parent, key) = place.as_str().unwrap().rsplit_once('/').unwrap();
        assert!(record.pointer_mut(parent).unwrap().as_object_mut().unwrap().remove(key).is_some(), "{place}");
    }
    let treated = |mut text: String, how: &str| {
        for pair in case[how].as_array().into_iter().flatten() {
            let (from, to) = (pair[0].as_str().unwrap(), pair[1].as_str().unwrap());
            let to = match to {
                "100000 deep" => format!("{}{}", "[".repeat(100_000), "]".repeat(100_000)),
                "3 MB" => "x".repeat(3 << 20),
                other => other.to_owned(),
            };
            assert!(from == "*" || text.contains(from), "{case}");
            text = if from == "*" { to } else { text.replace(from, &to) };
        }
        text
    };
    let body = serde_json::to_string_pretty(&record).unwrap();
    let body = treated(body.strip_suffix("\n}").unwrap().to_owned(), "inside");
    treated(format!("{body},\n  \"seal\": \"{}\"\n}}\n", seal(&body)), "after")
}

/// Why the command does not take a file: the name of the refusal, and its words.
fn refused(text: &str, guide: &Document) -> Option<String> {
    match record::read(text.as_bytes()) {
        Err(refusal) => Some(refusal.why),
        Ok(record) => record::refusal::of_guide(&record, guide).map(|refusal| refusal.why),
    }
}

#[test]
fn the_table_of_refusals() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors/records.json");
    let table: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    let pages = pages();
    let mut vectors = Vec::new();
    let mut met = std::collections::BTreeSet::new();
    for case in table["cases"].as_array().unwrap() {
        let text = file(&table["record"], case);
        let words = refused(&text, &pages.metric.document);
        let expected = case["refused"].as_str();
        let name = match record::read(text.as_bytes()) {
            Err(refusal) => Some(refusal.name),
            Ok(record) => record::refusal::of_guide(&record, &pages.metric.document).map(|refusal| refusal.name),
        };
        assert_eq!(name, expected, "{case}: {words:?}");
        met.extend(name);
        // What is made of one letter by the table is written again by the script.
        let long = text.len() > 20_000;
        vectors.push(json!([case["case"], if long { json!([text.len(), &text[..1]]) } else { json!(text) }, words]));
    }
    for (name, _) in record::refusal::WORDS {
        // Bytes that are no text do not stand in a table of texts.
        assert!(met.contains(name) || *name == "text", "no case is refused as {name}");
    }
    hold("refusals", &json!({ "sheet": sheet_json(&pages) }), &vectors);
}
