//! Reads the index back as the script does, and asks it for every word of guides that chance wrote.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use serde_json::{Value, json};

#[path = "../../tests/vectors/common.rs"]
mod vectors;

use super::code::{Docs, push_symbol};
use super::fold::fold;
use super::{Entry, Packed, Terms, Weight, index};

/// The index as read back from its files.
struct Reader {
    head: Value,
    files: BTreeMap<String, String>,
}

impl Reader {
    fn new(guides: &[(Entry, Packed)]) -> Self {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("scripts are UTF-8");
        let files: BTreeMap<String, String> = index(guides, &[]).into_iter().map(|(path, bytes)| (path, text(bytes))).collect();
        let head = &files["search/index.js"];
        let head = serde_json::from_str(head.trim_end().strip_prefix("bayleaf.index(").unwrap().strip_suffix(");").unwrap()).unwrap();
        Reader { head, files }
    }

    fn firsts(&self, name: &str) -> Vec<&str> {
        self.head[name].as_array().unwrap().iter().map(|first| first.as_str().unwrap()).collect()
    }

    /// The words of a piece, as the call hands them over.
    fn piece(&self, call: &str, name: &str) -> Vec<String> {
        let text = &self.files[&format!("search/{name}.js")];
        let text = text.trim_end().strip_prefix(&format!("bayleaf.{call}(\"{name}\",")).unwrap().strip_suffix(");").unwrap();
        serde_json::from_str::<String>(text).unwrap().split(' ').map(str::to_owned).collect()
    }

    /// The places of a term, looked up in the one piece that can hold it.
    fn places(&self, kind: &str, term: &str) -> Vec<(u32, u8)> {
        let at = self.firsts(kind).partition_point(|first| *first <= term).saturating_sub(1);
        let mut found = Vec::new();
        for pair in self.piece("terms", &format!("{kind}{at}")).chunks(2) {
            if pair[0] == term {
                Docs::each(&pair[1], |doc, weight| found.push((doc, weight)));
            }
        }
        found
    }
}

fn entry(steps: u16) -> Entry {
    Entry { row: "[]".into(), steps }
}

#[test]
fn a_word_leads_to_its_guides_and_steps() {
    let guide = |texts: &[&str]| {
        let mut terms = Terms::default();
        texts.iter().enumerate().for_each(|(at, text)| terms.words(text, at as u16, Weight::Named));
        (entry(texts.len() as u16 - 1), terms.pack())
    };
    let reader = Reader::new(&[guide(&["Swivel base", "Lift", "Base on"]), guide(&["Tow bar", "SB-40 base"])]);
    assert_eq!(reader.places("t", "base"), [(0, 3), (2, 3), (4, 3)]);
    assert_eq!(reader.places("t", "sb40"), [(4, 3)]);
    assert_eq!(reader.places("t", "bas"), []);
}

#[test]
fn the_head_names_all_pieces_and_says_their_bytes() {
    let mut terms = Terms::default();
    (1..=3_000).for_each(|step| terms.words(&format!("worda{step} often cable{}", "x".repeat(step as usize % 30)), step, Weight::Told));
    let guides = vec![(Entry { row: "9".repeat(8_000).into(), steps: 3_000 }, terms.pack()); 2];
    let reader = Reader::new(&guides);
    let count = |kind: &str| match &reader.head[kind] {
        Value::Array(firsts) => firsts.len() as u64,
        number => number.as_u64().unwrap(),
    };
    let named = ["t", "b", "f", "r", "g"].into_iter().flat_map(|kind| (0..count(kind)).map(move |at| format!("search/{kind}{at}.js")));
    let mut named: Vec<String> = named.chain(["search/index.js".to_owned()]).collect();
    named.sort();
    assert_eq!(named, reader.files.keys().cloned().collect::<Vec<_>>());
    assert!(count("g") == 2 && count("b") > 0);
    let bytes: usize = reader.files.iter().filter(|(path, _)| *path != "search/index.js").map(|(_, text)| text.len()).sum();
    assert_eq!(reader.head["bytes"].as_u64(), Some(bytes as u64));
}

#[test]
fn a_thread_is_one_term_and_its_size_and_pitch_stay_words() {
    let mut terms = Terms::default();
    terms.words("2 × Flange bolt M8 × 1.25 × 30, 8.8; stud M10x1.50", 1, Weight::Done);
    let reader = Reader::new(&[(entry(1), terms.pack())]);
    for term in ["m8x1.25", "m10x1.5", "m8", "1.25", "30", "m10", "1.50"] {
        assert_eq!(reader.places("t", term), [(1, 2)], "{term}");
    }
    assert_eq!(reader.places("t", "m8x30"), []);
}

#[test]
fn a_beginning_that_lies_in_many_pieces_has_a_list_of_its_own() {
    let mut terms = Terms::default();
    // Four thousand words of one beginning do not fit two pieces.
    for step in 1..=400 {
        (0..10).for_each(|at| terms.words(&format!("tor{step}q{at}"), step, Weight::Told));
    }
    let reader = Reader::new(&[(entry(400), terms.pack())]);
    assert!(reader.firsts("t").len() > 3);
    assert!(reader.head["s"].as_str().unwrap().split(' ').any(|beginning| beginning == "tor"));
    assert_eq!(reader.places("b", "tor"), (1..=400).map(|doc| (doc, 1)).collect::<Vec<_>>());
}

#[test]
fn no_piece_is_larger_than_said_unless_it_holds_one_term() {
    let mut terms = Terms::default();
    for step in 1..=2_000 {
        terms.words(&format!("often word{} other{}", step % 700, step % 90), step, Weight::Told);
    }
    let reader = Reader::new(&[(entry(2_000), terms.pack())]);
    for at in 0..reader.firsts("t").len() {
        let words = reader.piece("terms", &format!("t{at}"));
        let size: usize = words.iter().map(|word| word.len() + 1).sum();
        assert!(size <= 6_000 || words.len() == 2, "piece {at} has {size} bytes");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(60) })]

    #[test]
    fn every_word_of_every_guide_is_found_in_its_step(guides in proptest::collection::vec(
        proptest::collection::vec("[a-dA-D0-9äöß×./ ,-]{0,60}|\\PC{0,30}", 1..12), 1..8)
    ) {
        let mut expected: BTreeMap<String, BTreeSet<u32>> = BTreeMap::new();
        let (mut packed, mut base) = (Vec::new(), 0);
        for texts in &guides {
            let mut terms = Terms::default();
            for (at, text) in texts.iter().enumerate() {
                terms.words(text, at as u16, Weight::Told);
                fold(text, |word| { expected.entry(word.to_owned()).or_default().insert(base + at as u32); });
            }
            packed.push((entry(texts.len() as u16 - 1), terms.pack()));
            base += texts.len() as u32;
        }
        let reader = Reader::new(&packed);
        for (word, docs) in expected {
            let found: BTreeSet<u32> = reader.places("t", &word).into_iter().map(|(doc, _)| doc).collect();
            prop_assert_eq!(found, docs, "{}", word);
        }
    }
}

/// Numbers and places in code, for `tests/vectors/replay.mjs`; and places in the code that the scripts read.
#[test]
fn codes_are_read_as_the_script_reads_them() {
    let mut dice = vectors::Dice(12);
    let places = |code: &str| {
        let mut found = Vec::new();
        Docs::each(code, |doc, weight| found.push(json!([doc, weight])));
        Value::from(found)
    };
    let mut lines = Vec::new();
    while lines.len() < 1_000 {
        let far = dice.of(&[3, 70, 4_000, 400_000]);
        if dice.often(30) {
            let numbers: Vec<u32> = (0..1 + dice.below(5)).map(|_| dice.below(far) as u32).collect();
            let mut code = String::new();
            numbers.iter().for_each(|number| push_symbol(&mut code, *number));
            lines.push(json!([code, "numbers", numbers]));
        } else {
            let (mut docs, mut at) = (Docs::default(), 0);
            for _ in 0..1 + dice.below(6) {
                at += dice.below(far) as u32 + 1;
                docs.push(at, 1 + dice.below(Weight::COUNT) as u8);
            }
            let code = docs.text();
            lines.push(json!([code, "places", places(&code)]));
        }
    }
    vectors::hold("codes", &json!({ "seed": 12 }), &lines);
    let made = vectors::of_scripts("codes");
    assert!(made.len() >= 1_000);
    for vector in made {
        assert_eq!(places(vector[0].as_str().unwrap()), vector[1], "{vector}");
    }
}
