//! Seeded faults: guides that review clean are broken in every known way, wherever it can be done, and the
//! review has to find each fault by the right rule at the right place, and nothing else. Two faults in one
//! guide must both be found. `cargo test --test it seeded -- --nocapture` prints the table.

mod blind;
mod clean;
mod document;
mod engineering;
mod faults;
mod happens;
mod joints;
mod ledger;
mod near;
mod orders;
mod people;
mod told;
mod untold;
mod values;
mod wording;

use std::collections::BTreeMap;
use std::ops::Range;

use bayleaf::finding::{Finding, Known, RuleName};

use clean::{Broken, Clean, Edit};
use faults::{FAULTS, Fault};

fn hits(finding: &Finding, fault: &Fault, place: &Range<usize>, broken: &Broken) -> bool {
    let start = finding.place.span.start as usize;
    finding.rule.name() == fault.rule
        && finding.place.file.0 == 1
        && (place.contains(&start) || start == place.start)
        && broken.says.as_ref().is_none_or(|words| finding.message.contains(words.as_str()))
}

#[derive(Default)]
struct Row {
    tried: usize,
    found: usize,
    right_place: usize,
    false_alarms: usize,
}

/// Every fault in one guide with every way it was put in.
fn broken_ways(clean: &Clean) -> Vec<(&'static Fault, Broken)> {
    let guide = clean.guide();
    FAULTS.iter().flat_map(|fault| (fault.apply)(clean, &guide).into_iter().map(move |broken| (fault, broken))).collect()
}

#[test]
fn the_clean_guides_are_clean() {
    let clean = clean::all();
    assert!(clean.len() >= 10, "{}", clean.len());
    for clean in clean {
        assert_eq!(clean.review(clean.text()), vec![], "{}", clean.slug);
    }
}

#[test]
fn the_table_names_rules_that_exist() {
    for fault in FAULTS {
        for name in fault.also.iter().chain([&fault.rule]) {
            assert!(matches!(RuleName::known(name), Known::Current(_)), "{}: `{name}`", fault.name);
        }
    }
}

#[test]
fn every_seeded_fault_is_found_at_its_place_and_nothing_else() {
    let mut rows: BTreeMap<&str, Row> = BTreeMap::new();
    let mut wrong = Vec::new();
    for clean in clean::all() {
        for (fault, broken) in broken_ways(&clean) {
            let edits: Vec<&Edit> = broken.edits.iter().collect();
            let text = clean.with(&edits).expect("the edits of one fault do not meet");
            let place = clean.place(&broken, &edits);
            let findings = clean.review(&text);
            let row = rows.entry(fault.name).or_default();
            row.tried += 1;
            let by_rule = findings.iter().any(|finding| finding.rule.name() == fault.rule);
            let hit = findings.iter().position(|finding| hits(finding, fault, &place, &broken));
            row.found += usize::from(by_rule);
            row.right_place += usize::from(hit.is_some());
            let others: Vec<&Finding> = findings
                .iter()
                .enumerate()
                .filter(|(at, finding)| Some(*at) != hit && !fault.also.contains(&finding.rule.name()))
                .map(|(_, finding)| finding)
                .collect();
            row.false_alarms += others.len();
            if hit.is_none() || !others.is_empty() {
                let line = text[..place.start.min(text.len())].lines().count();
                let told: Vec<String> = findings
                    .iter()
                    .map(|one| format!("{}@{}: {}", one.rule, text[..one.place.span.start as usize].lines().count(), one.message))
                    .collect();
                wrong.push(format!(
                    "{} in {}, line {line} ({}): {}",
                    fault.name,
                    clean.slug,
                    &text[place.start..place.end.min(text.len())],
                    told.join("; ")
                ));
            }
        }
    }
    let mut sum = Row::default();
    println!("{:45} {:>6} {:>6} {:>12} {:>12}", "fault", "tried", "found", "right place", "false alarms");
    for fault in FAULTS {
        let row = rows.remove(fault.name).unwrap_or_default();
        println!("{:45} {:6} {:6} {:12} {:12}", fault.name, row.tried, row.found, row.right_place, row.false_alarms);

        assert!(row.tried > 0, "`{}` could be put into no guide", fault.name);
        sum = Row {
            tried: sum.tried + row.tried,
            found: sum.found + row.found,
            right_place: sum.right_place + row.right_place,
            false_alarms: sum.false_alarms + row.false_alarms,
        };
    }
    println!("{:45} {:6} {:6} {:12} {:12}", "all", sum.tried, sum.found, sum.right_place, sum.false_alarms);
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), sum.tried, wrong[..wrong.len().min(60)].join("\n"));
    assert!(FAULTS.len() >= 30 && sum.tried >= 1000);
}

/// A fixed sequence of numbers: the same pairs in every run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }
}

#[test]
fn of_two_faults_in_one_guide_neither_hides_the_other() {
    const PAIRS: usize = 300;
    let mut numbers = Numbers(20_261_125);
    let (mut tried, mut wrong) = (0, Vec::new());
    for clean in clean::all() {
        let ways = broken_ways(&clean);
        let mut left = PAIRS;
        for _ in 0..PAIRS * 10 {
            let (one, other) = (&ways[numbers.below(ways.len())], &ways[numbers.below(ways.len())]);
            // Two slips about one thing may rightly cancel, and one fault twice may be told once.
            let related = one.1.about.iter().any(|id| other.1.about.contains(id)) || one.0.name == other.0.name;
            let edits: Vec<&Edit> = one.1.edits.iter().chain(&other.1.edits).collect();
            let Some(text) = clean.with(&edits).filter(|_| !related) else { continue };
            let findings = clean.review(&text);
            for (fault, broken) in [one, other] {
                let place = clean.place(broken, &edits);
                if !findings.iter().any(|finding| hits(finding, fault, &place, broken)) {
                    let told: Vec<String> = findings
                        .iter()
                        .map(|one| format!("{}@{}", one.rule, text[..one.place.span.start as usize].lines().count()))
                        .collect();
                    let line = text[..place.start].lines().count();
                    wrong.push(format!(
                        "{}: `{}` beside `{}` at line {line}: {}",
                        clean.slug,
                        fault.name,
                        if fault.name == one.0.name { other.0.name } else { one.0.name },
                        told.join(", ")
                    ));
                }
            }
            tried += 1;
            left -= 1;
            if left == 0 {
                break;
            }
        }
    }
    println!("{tried} guides with two faults");
    assert!(wrong.is_empty(), "{} of {tried}:\n{}", wrong.len(), wrong[..wrong.len().min(40)].join("\n"));
    assert!(tried >= 1000);
}
