//! The ledger of the review against books kept a second time: random small guides must have the same
//! faults at the same places, for the vehicles that really have them.

use std::collections::{BTreeMap, BTreeSet};

use bayleaf::finding::{Finding, RuleName};
use bayleaf::guide::{self, picture::Pictures};
use bayleaf::source::{FileId, SourceFile};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

use super::ledger_books::{Faults, Vehicle, faults, vehicles};
use super::ledger_guide::{Plan, Spot, Written, option_name, plans};

const RULES: [&str; 11] = [
    "left-open",
    "closed-not-open",
    "opened-twice",
    "fitted-but-absent",
    "out-of-order",
    "hardware-short",
    "hardware-left-over",
    "kit-left-over",
    "kit-overdrawn",
    "part-never-fitted",
    "one-use-refitted",
];

fn review(written: &Written) -> Vec<Finding> {
    let shop_source = SourceFile::new("guides/shop.toml", written.shop.as_str());
    let (shop, shop_findings) = guide::read_shop(&shop_source, FileId(0));
    assert_eq!(shop_findings, vec![]);
    let source = SourceFile::new("guides/example.md", written.guide.as_str());
    let (guide, findings) = guide::read(&source, FileId(1), "example", &shop);
    assert!(
        findings.iter().all(|finding| finding.rule == RuleName::OptionImpossible
            || finding.message.contains("to spare")
            || finding.message.contains("lies behind")),
        "the guide is not legal: {findings:?}\n{}",
        written.guide
    );
    let outcome = bayleaf::review::review(&guide, &shop, &Pictures::default(), &|_| false, findings);
    outcome.findings.into_iter().filter(|finding| RULES.contains(&finding.rule.name())).collect()
}

/// The faults in words, for people.
fn told(faults: &Faults, written: &Written) -> String {
    let mut text = String::new();
    for ((rule, spot), with) in faults {
        let range = written.spots[spot].clone();
        let line = written.guide[..range.start].lines().count();
        text += &format!("{rule} line {line} `{}` on {with:?}\n", &written.guide[range]);
    }
    text
}

/// What the review and the second books disagree about; empty if they agree.
fn differences(plan: &Plan) -> String {
    let written = plan.write();
    let expected = faults(plan);
    let findings = review(&written);
    let mut spots: BTreeMap<(usize, usize), Spot> = BTreeMap::new();
    spots.extend(written.spots.iter().map(|(spot, range)| ((range.start, range.end), *spot)));
    let mut found: BTreeMap<(&'static str, Spot), Vec<&Finding>> = BTreeMap::new();
    let mut wrong = String::new();
    for finding in &findings {
        let range = finding.place.span.range();
        match spots.get(&(range.start, range.end)) {
            Some(spot) => found.entry((finding.rule.name(), *spot)).or_default().push(finding),
            None => wrong += &format!("{} stands at `{}`: {}\n", finding.rule, &written.guide[range], finding.message),
        }
    }
    for (fault, with) in &expected {
        match found.get(fault) {
            None => wrong += &format!("the review misses {} at {:?}, on {with:?}\n", fault.0, fault.1),
            Some(findings) => wrong += &vehicles_named(plan, findings, with),
        }
    }
    for (fault, findings) in found.iter().filter(|(fault, _)| !expected.contains_key(fault)) {
        wrong += &format!("the review alone has {} at {:?}: {}\n", fault.0, fault.1, findings[0].message);
    }
    if wrong.is_empty() {
        return wrong;
    }
    let messages: Vec<String> = findings
        .iter()
        .map(|finding| {
            format!("{} line {}: {}", finding.rule, written.guide[..finding.place.span.range().start].lines().count(), finding.message)
        })
        .collect();
    format!(
        "{wrong}\nsecond books:\n{}\nreview:\n{}\n\n{}\n{}",
        told(&expected, &written),
        messages.join("\n"),
        written.guide,
        written.shop
    )
}

/// The combinations a message names, each as options that must be there or not; none for all vehicles.
fn named(message: &str) -> Vec<Vec<(usize, bool)>> {
    let Some((_, list)) = message.split_once(", on vehicles ") else { return Vec::new() };
    list.split(", or ")
        .map(|combination| {
            let mut terms = Vec::new();
            let mut absent = false;
            for word in combination.split([' ', ',', '`']) {
                match word {
                    "with" => absent = false,
                    "without" => absent = true,
                    word => terms.extend((0..4).filter(|&at| option_name(at) == word).map(|at| (at, absent))),
                }
            }
            assert!(!terms.is_empty(), "no option is named in: {message}");
            terms
        })
        .collect()
}

/// Whether the findings of one fault name vehicles that have it.
fn vehicles_named(plan: &Plan, findings: &[&Finding], with: &BTreeSet<Vehicle>) -> String {
    let all = vehicles(plan);
    let matches = |vehicle: &Vehicle, terms: &[(usize, bool)]| terms.iter().all(|&(option, absent)| vehicle[option] != absent);
    let mut covered: BTreeSet<&Vehicle> = BTreeSet::new();
    let mut complete = true;
    let mut wrong = String::new();
    for finding in findings {
        let combinations = named(&finding.message);
        complete &= combinations.len() <= 2 && !finding.message.contains("more");
        let combinations = if combinations.is_empty() { vec![Vec::new()] } else { combinations };
        for terms in &combinations {
            let these: Vec<&Vehicle> = all.iter().filter(|vehicle| matches(vehicle, terms)).collect();
            if these.is_empty() || !these.iter().all(|vehicle| with.contains(*vehicle)) {
                wrong += &format!("`{}` names vehicles that have no such fault; those that have: {with:?}\n", finding.message);
            }
            covered.extend(these);
        }
    }
    if complete && covered.len() < with.len() {
        wrong += &format!("`{}` does not name all vehicles with the fault: {with:?}\n", findings[0].message);
    }
    wrong
}

/// More cases than usual, for they are quick; `PROPTEST_CASES` may ask for more still.
fn config() -> ProptestConfig {
    let usual = ProptestConfig::default();
    ProptestConfig { cases: usual.cases.max(2048), failure_persistence: None, ..usual }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_review_and_the_second_books_agree(plan in plans()) {
        let wrong = differences(&plan);
        prop_assert!(wrong.is_empty(), "{wrong}");
    }
}

/// The faults of a guide with these blocks and operations, as rule and marked text.
fn found(blocks: &str, operations: &[&str]) -> Vec<String> {
    let guide =
        format!("+++\ntitle = \"Fit the example\"\n{blocks}+++\n\n## Do it\n\n+++\ndo = [\n{}\n]\n+++\n\nDo it.\n", operations.join(",\n"));
    let shop = "name = \"Example shop\"\n".to_owned();
    let written = Written { shop, guide, spots: BTreeMap::new() };
    let findings = review(&written);
    findings.iter().map(|finding| format!("{} {}", finding.rule, &written.guide[finding.place.span.range()])).collect()
}

const SEAT: &str = "[[item]]\nid = \"seat\"\nname = \"Seat\"\n";
const PART: &str = "[[part]]\nid = \"rail\"\nname = \"Rail\"\n";

#[test]
fn a_thing_that_is_not_there_cannot_even_be_looked_at() {
    let blocks = format!("[[option]]\nid = \"heat\"\nname = \"Heat\"\n\n{SEAT}when = \"heat\"\n");
    assert_eq!(found(&blocks, &["{ clean = \"seat\" }"]), ["fitted-but-absent seat"]);
    assert_eq!(found(&blocks, &["{ clean = \"seat\", when = \"heat\" }"]), [""; 0]);
    assert_eq!(found(SEAT, &["{ discard = \"seat\" }", "{ inspect = \"seat\" }"]), ["fitted-but-absent seat"]);
    let bolt =
        "[[option]]\nid = \"heat\"\nname = \"Heat\"\n[[hardware]]\nid = \"bolt\"\nname = \"Bolt\"\non_vehicle = 2\nwhen = \"heat\"\n";
    assert_eq!(found(bolt, &["{ clean = \"bolt\" }"]), ["fitted-but-absent bolt"]);
}

#[test]
fn what_is_off_at_the_start_may_be_raised() {
    let off = format!("{SEAT}open_at_start = true\nstays = \"for the demonstration\"\n");
    assert_eq!(found(&off, &["{ raise = \"seat\" }", "{ lower = \"seat\" }"]), [""; 0]);
    assert_eq!(found(&off, &["{ lower = \"seat\" }"]), ["closed-not-open seat"]);
}

#[test]
fn what_is_open_at_the_start_has_to_be_closed() {
    let plug = "[[connector]]\nid = \"plug\"\nname = \"Plug\"\nopen_at_start = true\n";
    assert_eq!(found(plug, &[]), ["left-open plug"]);
    assert_eq!(found(plug, &["{ connect = \"plug\" }"]), [""; 0]);
    let off = format!("{SEAT}open_at_start = true\n");
    assert_eq!(found(&off, &["{ inspect = \"seat\" }"]), ["left-open seat"]);
    assert_eq!(found(&off, &["{ fit = \"seat\" }"]), [""; 0]);
}

#[test]
fn throwing_the_hardware_away_does_not_throw_the_part_away() {
    let removed = ["{ fit = \"rail\" }", "{ remove = \"rail\", discard_hardware = true }"];
    assert_eq!(found(PART, &removed), ["hardware-left-over rail"]);
}

#[test]
fn hardware_of_no_stated_number_is_tightened_as_often_as_it_was_loosened() {
    let clamp = format!("{SEAT}[[hardware]]\nid = \"clamp\"\nname = \"Clamp\"\nno_torque = \"by feel\"\n");
    let once = ["{ loosen = \"clamp\", count = 2 }", "{ loosen = \"clamp\", count = 2 }", "{ tighten = \"clamp\", count = 2 }"];
    assert_eq!(found(&clamp, &once), ["left-open clamp"]);
    assert_eq!(found(&clamp, &[once[0], once[1], "{ tighten = \"clamp\", count = 4 }"]), [""; 0]);
}

#[test]
fn a_part_comes_as_the_first_operation_of_each_vehicle_finds_it() {
    let blocks = format!("[[option]]\nid = \"heat\"\nname = \"Heat\"\n\n{PART}");
    // Without the option the port is open at first and stays capped.
    assert_eq!(found(&blocks, &["{ uncap = \"rail\", when = \"heat\" }", "{ cap = \"rail\" }"]), ["left-open rail"]);
    assert_eq!(found(PART, &["{ route = \"rail\" }", "{ uncap = \"rail\" }"]), [""; 0]);
}

#[test]
fn nothing_is_out_of_reach_that_is_not_there() {
    let blocks = format!("{SEAT}behind = \"trim\"\n\n[[item]]\nid = \"trim\"\nname = \"Trim\"\n");
    assert_eq!(found(&blocks, &["{ discard = \"seat\" }", "{ clean = \"seat\" }"]), ["fitted-but-absent seat"]);
    assert_eq!(found(&blocks, &["{ clean = \"seat\" }"]), ["out-of-order seat"]);
}

#[test]
fn order_is_told_of_the_vehicles_that_have_both_steps() {
    let step = |id: &str, more: &str| format!("\n## Do {id}\n\n+++\nid = \"{id}\"\n{more}do = [{{ test = \"seat\" }}]\n+++\n\nDo it.\n");
    let options = "[[option]]\nid = \"heat\"\nname = \"Heat\"\n";
    let steps = step("one", "needs = \"two\"\n") + &step("two", "when = \"heat\"\n");
    let guide = format!("+++\ntitle = \"Fit the example\"\n{options}{SEAT}+++\n{steps}");
    let findings = review(&Written { shop: "name = \"Example shop\"\n".to_owned(), guide, spots: BTreeMap::new() });
    assert_eq!(findings.len(), 1);
    assert!(
        findings[0].rule == RuleName::OutOfOrder && findings[0].message.ends_with(", on vehicles with `Heat`"),
        "{}",
        findings[0].message
    );
}

/// The property says little if the drawn guides are all clean or all wrong in one way.
#[test]
fn drawn_guides_have_every_fault_and_many_have_none() {
    let mut runner = TestRunner::deterministic();
    let mut clean = 0;
    let mut rules: BTreeSet<&str> = BTreeSet::new();
    for _ in 0..500 {
        let faults = faults(&plans().new_tree(&mut runner).unwrap().current());
        clean += usize::from(faults.is_empty());
        rules.extend(faults.keys().map(|(rule, _)| rule));
    }
    assert_eq!(rules, BTreeSet::from(RULES));
    assert!((40..250).contains(&clean), "{clean} of 500 are clean");
}
