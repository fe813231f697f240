//! The registry tests itself: names, explanations, and every example run through the review.

use super::ALL;
use crate::guide::picture::{PictureFact, PictureFault, PictureKind, Pictures};
use crate::guide::{self, model::Shop};
use crate::review::rule::{Check, Family, Rule};
use crate::source::{FileId, SourceFile};

/// The shop that the examples of all rules stand in.
const SHOP: &str = include_str!("example_shop.toml");

fn shop() -> Shop {
    let source = SourceFile::new("guides/shop.toml", SHOP);
    let (shop, findings) = guide::read_shop(&source, FileId(0));
    assert_eq!(findings, vec![]);
    shop
}

fn rules_found(text: &str) -> Vec<&'static str> {
    let shop = shop();
    let source = SourceFile::new("guides/example.md", text);
    let (guide, findings) = guide::read(&source, FileId(1), "example", &shop);
    let fact = |kind, width, height| Ok(PictureFact { kind, width, height, cleaned: false });
    let mut pictures = Pictures::from([
        ("base.svg".to_owned(), fact(PictureKind::Drawing, 640, 360)),
        ("small.png".to_owned(), fact(PictureKind::Raster, 300, 200)),
    ]);
    for picture in guide.words().flat_map(|prose| &prose.pictures) {
        pictures.entry(picture.source.value.clone()).or_insert(Err(PictureFault::Missing));
    }
    let outcome = crate::review::review(&guide, &shop, &pictures, &|slug| slug == "example", findings);
    for finding in &outcome.findings {
        assert!(crate::review::rule(finding.rule).is_some(), "`{}` is not registered", finding.rule);
        assert!(finding.place.span.end as usize <= text.len(), "{finding:?}");
    }
    outcome.findings.into_iter().map(|finding| finding.rule).collect()
}

#[test]
fn every_bad_example_has_its_fault_and_every_good_one_has_not() {
    for rule in ALL {
        if !rule.bad.is_empty() {
            assert!(rules_found(rule.bad).contains(&rule.name), "the bad example of {} gives {:?}", rule.name, rules_found(rule.bad));
        }
        assert!(!rules_found(rule.good).contains(&rule.name), "the good example of {} has the fault", rule.name);
    }
}

#[test]
fn only_faults_of_files_have_no_example_in_text() {
    let without: Vec<&str> = ALL.iter().filter(|rule| rule.bad.is_empty()).map(|rule| rule.name).collect();
    assert_eq!(
        without,
        [
            "combinations-untried",
            "wire-limit-wrong",
            "photo-unreadable",
            "drawing-unsafe",
            "drawing-cleaned",
            "rule-unknown",
            "slug-twice",
            "text-unreadable"
        ]
    );
}

#[test]
fn every_rule_explains_itself() {
    for Rule { name, summary, why, mend, basis, .. } in ALL {
        for text in [summary, why, mend] {
            assert!(text.len() > 8 && text.ends_with('.') && text.starts_with(|c: char| c.is_uppercase() || c == '`'), "{name}: {text}");
        }
        assert!(!basis.is_empty(), "{name}");
        let plain = name.chars().all(|c| c.is_ascii_lowercase() || c == '-');
        assert!(plain, "{name}");
    }
}

#[test]
fn a_rule_s_file_bears_its_name() {
    let rules = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/review/rules");
    let mut files = 0;
    for rule in ALL {
        let path = rules.join(rule.family.folder()).join(format!("{}.rs", rule.name.replace('-', "_")));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        assert!(text.starts_with(&format!("//! `{}`: ", rule.name)), "{}", path.display());
        files += 1;
    }
    let on_disk: usize = Family::ALL.iter().map(|family| std::fs::read_dir(rules.join(family.folder())).map_or(0, Iterator::count)).sum();
    assert_eq!(files, on_disk, "a rule's file is not registered");
}

#[test]
fn what_cannot_be_read_cannot_be_accepted() {
    for rule in ALL {
        assert_eq!(rule.can_be_accepted(), !matches!(rule.check, Check::WhileReading), "{}", rule.name);
    }
}

#[test]
fn the_handbook_s_whole_guide_is_clean() {
    assert_eq!(rules_found(crate::review::handbook::EXAMPLE), Vec::<&str>::new());
}

/// The names are a promise: they stand in acceptances of shops' guides. Renaming one must be meant.
#[test]
fn the_names_of_the_rules() {
    let names: Vec<&str> = ALL.iter().map(|rule| rule.name).collect();
    insta::assert_snapshot!(names.join(" "), @"unit-unknown unit-ambiguous value-unreadable range-reversed dual-disagree unit-mixed value-in-prose value-stray torque-missing torque-unsourced torque-vague torque-for-other torque-over-proof torque-doubtful thread-unknown class-unknown drive-doubtful wrench-out-of-range calibration-ended adapter-uncorrected pattern-missing pattern-invalid stages-not-rising one-use-refitted left-open closed-not-open opened-twice fitted-but-absent out-of-order hardware-short hardware-left-over kit-left-over kit-overdrawn part-never-fitted combinations-untried caution-missing caution-late caution-incomplete signal-misused licensed-work not-isolated fuse-early drilled-blind not-released run-too-early not-raised still-capped two-actions long-sentence not-imperative condition-after vague-wording instruction-in-note caution-in-words count-disagrees operation-untold pin-twice pin-gap side-untold wire-colour-unknown wire-unknown fuse-over-wire fuse-unknown drop-too-large circuit-impossible wire-limit-wrong source-missing revision-missing fits-missing steps-missing hours-disagree final-check-missing tool-missing tool-unused photo-missing photo-unreadable photo-without-words photo-too-small callout-outside callout-without-picture callout-twice drawing-unsafe drawing-cleaned link-broken address-refused markup-shown rule-unknown option-impossible option-unused id-unknown id-twice slug-twice key-unknown key-missing type-wrong block-unreadable text-unreadable acceptance-unused");
}

/// What the handbook shows as right must not be wrong in another way.
#[test]
fn a_good_example_balances() {
    let mut wrong = Vec::new();
    for rule in ALL {
        for found in rules_found(rule.good) {
            let family = crate::review::rule(found).unwrap().family;
            if matches!(family, Family::Ledger | Family::People | Family::Tightening) {
                wrong.push(format!("the good example of {}: {found}", rule.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

proptest::proptest! {
    /// Whatever stands in the words, rules neither panic nor point outside the text.
    #[test]
    fn words_of_any_kind_are_read(prose in "(Undo|undo|and|then|if|the|two|4|screws|bolts|Note|Warning|is|must|be|removed|take|off|about|25|N·m|ä|\\p{Lu}|[ .,:;()>*#|\\[\\]\\-\n]){0,30}") {
        let text = format!("+++\ntitle = \"T\"\n[[hardware]]\nid = \"b\"\nname = \"Bolt\"\n+++\n\n## Step\n\n+++\ndo = [{{ tighten = \"b\", hardware = \"4 x b\" }}]\n+++\n\n{prose} [two bolts](hardware:b) [](spec:x)\n");
        rules_found(&text);
    }
}
