//! Faults and near misses of the rules on a guide's head that no single text shows, or that need several guides: each fault is told at its
//! place, and nothing else is. Those of the rules on issued revisions stand in `issue`.

use std::fs;

use super::{SHOP, bayleaf, guide, put, shop, told};

/// What the review tells: rule, file and line.
fn findings(home: &std::path::Path) -> Vec<(String, String, usize)> {
    let output = bayleaf(home, &["review", "--as", "json"]);
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", told(&output)));
    let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    let row = |one: &serde_json::Value| (text(&one["rule"]), text(&one["place"]["path"]), one["place"]["line"].as_u64().unwrap() as usize);
    report["findings"].as_array().unwrap().iter().map(row).collect()
}

/// A guide with a revision, a day and changes in its head.
fn with(revision: &str, issued: &str, changes: &[(&str, &str)]) -> String {
    let changes: String = changes
        .iter()
        .map(|(revision, day)| format!("\n[[change]]\nrevision = \"{revision}\"\nissued = {day}\nwhat = \"Words\"\n"))
        .collect();
    guide("one", 1)
        .replace("revision = \"A\"", &format!("revision = \"{revision}\""))
        .replace("2026-01-02", issued)
        .replace("+++\n\n## ", &format!("{changes}+++\n\n## "))
}

#[test]
fn revisions_that_contradict_are_told_and_others_are_not() {
    let home = shop(&["one"]);
    let rules = |text: &str| {
        put(home.path(), "one/guide.md", text);
        findings(home.path())
    };
    let (a, b, c) = (("A", "2026-01-02"), ("B", "2026-03-02"), ("C", "2026-05-04"));
    for (what, text, line) in [
        ("a change after the head's revision", with("A", "2026-01-02", &[a, b]), 4),
        ("numbers too", with("9", "2026-01-02", &[("9", "2026-01-02"), ("10", "2026-03-02")]), 4),
        ("another day in the head", with("B", "2026-03-09", &[a, b]), 5),
        ("a day before the revision before", with("B", "2026-01-01", &[a, ("B", "2026-01-01")]), 5),
        ("two days for one revision", with("B", "2026-03-02", &[a, b, ("B", "2026-03-03")]), 21),
        ("days that run back", with("C", "2026-05-04", &[("A", "2026-04-02"), b, c]), 16),
    ] {
        let told = rules(&text);
        assert!(told.iter().all(|(rule, ..)| rule == "revision-contradicts") && !told.is_empty(), "{what}: {told:?}");
        assert!(told.iter().any(|(.., at)| *at == line), "{what}: {told:?}");
    }
    for (what, text) in [
        ("in order", with("C", "2026-05-04", &[a, b, c])),
        ("newest first", with("C", "2026-05-04", &[c, b, a])),
        ("two entries of one revision", with("B", "2026-03-02", &[a, b, b])),
        ("two on one day", with("B", "2026-01-02", &[a, ("B", "2026-01-02")])),
        ("after Z", with("AA", "2026-05-04", &[("Z", "2026-03-02"), ("AA", "2026-05-04")])),
        ("names that nobody can put in order", with("pilot", "2026-05-04", &[("first", "2026-03-02"), ("pilot", "2026-05-04")])),
        ("no changes", with("B", "2026-05-04", &[])),
    ] {
        assert_eq!(rules(&text), [], "{what}");
    }
}

#[test]
fn approval_is_asked_for_only_where_the_shop_asks() {
    let home = shop(&["one"]);
    let rules = |shop: &str, text: &str| {
        put(home.path(), "shop.toml", shop);
        put(home.path(), "one/guide.md", text);
        findings(home.path()).into_iter().map(|(rule, ..)| rule).collect::<Vec<_>>()
    };
    let asks = format!("approval = true\n{SHOP}");
    let text = guide("one", 1);
    let approved = |role: &str| text.replace("revision =", &format!("approved = \"{role}\"\nrevision ="));
    for faulty in [text.clone(), text.replace("TH-1", "TH-9"), text.replace("\"A\"", "\"B\"")] {
        assert_eq!(rules(&asks, &faulty), ["approval-missing"], "{faulty}");
    }
    // An empty role is told, as an empty text or as no approval.
    assert!(!rules(&asks, &approved("")).is_empty() && !rules(&asks, &approved("  ")).is_empty());
    assert_eq!(rules(&asks, &approved("Shop foreman")), [""; 0]);
    assert_eq!(rules(SHOP, &text), [""; 0]);
    assert_eq!(rules(&format!("approval = false\n{SHOP}"), &text), [""; 0]);
    // A role that cannot be read is told once.
    assert_eq!(rules(&asks, &text.replace("revision =", "approved = 5\nrevision =")), ["type-wrong"]);
}

#[test]
fn numbers_and_old_names_are_held_against_all_guides() {
    let home = shop(&["one", "two", "three"]);
    let told = || findings(home.path()).into_iter().map(|(rule, path, _)| format!("{rule} {path}")).collect::<Vec<_>>();
    assert_eq!(told(), [""; 0]);
    let number = |name: &str, number: &str| put(home.path(), &format!("{name}/guide.md"), &guide(name, 1).replace("TH-1", number));
    number("one", "TH-2");
    assert_eq!(told(), ["document-twice guides/one/guide.md", "document-twice guides/two/guide.md"]);
    number("three", "TH-2");
    assert_eq!(told().len(), 3);
    // Another case of letters is another number, and none is none.
    number("one", "th-2");
    number("three", "TH-02");
    assert_eq!(told(), [""; 0]);
    for name in ["one", "three"] {
        put(home.path(), &format!("{name}/guide.md"), &guide(name, 1).replace("document = \"TH-1\"\n", ""));
    }
    assert_eq!(told(), [""; 0]);
    let was = |name: &str, at: usize, was: &str| {
        put(home.path(), &format!("{name}/guide.md"), &guide(name, at).replace("document =", &format!("was = {was}\ndocument =")))
    };
    was("one", 1, "[\"earlier\", \"first\"]");
    assert_eq!(told(), [""; 0]);
    was("one", 1, "[\"two\"]");
    assert_eq!(told(), ["old-name-taken guides/one/guide.md"]);
    was("one", 1, "[\"one\"]");
    assert_eq!(told(), ["old-name-taken guides/one/guide.md"]);
    was("one", 1, "[\"earlier\"]");
    was("three", 3, "[\"earlier\"]");
    assert_eq!(told(), ["old-name-taken guides/one/guide.md", "old-name-taken guides/three/guide.md"]);
    was("three", 3, "\"earliest\"");
    assert_eq!(told(), [""; 0]);
    fs::remove_dir_all(home.path().join("guides/two")).unwrap();
    was("one", 1, "[\"two\"]");
    assert_eq!(told(), [""; 0]);
}
