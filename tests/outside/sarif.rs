//! The SARIF report against the standard: the schema of OASIS, and an independent reader.
//!
//! `sarif-2.1.0.schema.json` is the JSON schema of OASIS SARIF 2.1.0 (copyright OASIS Open; it may be copied and used
//! with that notice), taken unchanged from the source of the package `serde-sarif` 0.8.0 (MIT), file `src/schema.json`.
//! The reader is `serde-sarif` itself, whose types were generated from the schema by its authors, not by us.

use std::process::Command;

use serde_json::{Value, json};

fn report() -> Value {
    let shop = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/faulty");
    let output = Command::new(env!("CARGO_BIN_EXE_bayleaf")).args(["-C", shop, "review", "--as", "sarif"]).output().unwrap();
    serde_json::from_slice(&output.stdout).unwrap()
}

fn schema() -> jsonschema::Validator {
    // Two patterns of the published schema have a bracket too many, which is no regular expression; without it they say
    // what the text of the standard says (3.14.7): a language, and perhaps a country.
    let text = include_str!("sarif-2.1.0.schema.json");
    let stray = "^[a-zA-Z]{2}|^[a-zA-Z]{2}-[a-zA-Z]{2}]?$";
    assert_eq!(text.matches(stray).count(), 2);
    let text = text.replace(stray, "^[a-zA-Z]{2}(-[a-zA-Z]{2})?$");
    jsonschema::validator_for(&serde_json::from_str(&text).unwrap()).unwrap()
}

#[test]
fn the_report_is_valid_and_a_broken_one_is_not() {
    let schema = schema();
    let report = report();
    let faults: Vec<String> = schema.iter_errors(&report).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(report["runs"][0]["results"].as_array().unwrap().len() >= 10);
    let breaks: [(&str, Value); 7] = [
        ("/runs/0/results/0/level", json!("fatal")),
        ("/runs/0/results/0/locations/0/physicalLocation/region/startLine", json!(0)),
        ("/runs/0/results/0/message", json!({})),
        ("/runs/0/columnKind", json!("bytes")),
        ("/runs/0/tool/driver/rules/0", json!({ "name": "without an id" })),
        ("/runs/0/invocations/0", json!({})),
        ("/version", json!("2.2")),
    ];
    for (at, value) in breaks {
        let mut broken = report.clone();
        *broken.pointer_mut(at).unwrap_or_else(|| panic!("nothing stands at {at}")) = value;
        assert!(!schema.is_valid(&broken), "{at}");
    }
}

#[test]
fn another_reader_reads_the_same() {
    let report = report();
    let log: serde_sarif::sarif::Sarif = serde_json::from_value(report.clone()).unwrap();
    let run = &log.runs[0];
    let rules = run.tool.driver.rules.as_ref().unwrap();
    let artifacts = run.artifacts.as_ref().unwrap();
    assert!(run.invocations.as_ref().unwrap()[0].execution_successful);
    assert!(run.original_uri_base_ids.as_ref().unwrap().values().all(|base| base.uri.is_none()), "no path of a machine");
    let (mut fixes, mut suppressed, mut related) = (0, 0, 0);
    for result in run.results.as_ref().unwrap() {
        let rule = &rules[result.rule_index.unwrap() as usize];
        assert_eq!(Some(&rule.id), result.rule_id.as_ref());
        let place = result.locations.as_ref().unwrap()[0].physical_location.as_ref().unwrap();
        let file = place.artifact_location.as_ref().unwrap();
        let artifact = artifacts[file.index.unwrap() as usize].location.as_ref().unwrap();
        assert_eq!((&artifact.uri, &artifact.uri_base_id), (&file.uri, &file.uri_base_id));
        assert!(file.uri.as_ref().unwrap().starts_with("guides/"), "{:?}", file.uri);
        let words = result.message.text.as_ref().unwrap();
        assert!(words.ends_with(['.', '?', '!']) && !words.starts_with(|c: char| c.is_lowercase()), "{words}");
        fixes += result.fixes.as_ref().map_or(0, Vec::len);
        suppressed += result.suppressions.as_ref().map_or(0, Vec::len);
        related += result.related_locations.as_ref().map_or(0, Vec::len);
    }
    assert!(fixes >= 5 && suppressed == 2, "{fixes} fixes, {suppressed} suppressed, {related} related");
    // What the reader writes again is what we wrote: it lost and added nothing.
    assert_eq!(serde_json::to_value(&log).unwrap(), report);
}
