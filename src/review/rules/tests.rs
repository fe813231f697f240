//! The registry tests itself: names, explanations, and every example run through the review.

use super::ALL;
use crate::finding::{Known, RuleName};
use crate::guide::picture::{PictureFact, PictureFault, PictureKind, Pictures};
use crate::guide::{self, model::Shop};
use crate::review::explained::Explained;
use crate::review::rule::{Check, Family};
use crate::source::{FileId, SourceFile};

/// The shop that the examples of all rules stand in.
const SHOP: &str = include_str!("example_shop.toml");

fn shop() -> Shop {
    let source = SourceFile::new("guides/shop.toml", SHOP);
    let (shop, findings) = guide::read_shop(&source, FileId(0));
    assert_eq!(findings, vec![]);
    shop
}

fn rules_found(text: &str) -> Vec<RuleName> {
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
        assert!(finding.place.span.end as usize <= text.len(), "{finding:?}");
    }
    outcome.findings.into_iter().map(|finding| finding.rule).collect()
}

/// That the faulty guide has its fault, and the mended one none at all, is tried by `tests/it/literate.rs`.
#[test]
fn only_faults_that_no_text_shows_have_no_example() {
    let without: Vec<&str> = ALL.iter().filter(|rule| rule.text.bad.is_empty()).map(|rule| rule.name.name()).collect();
    assert_eq!(
        without,
        ["revision-not-raised", "change-untold", "issued-damaged", "document-twice", "old-name-taken", "photo-unreadable", "slug-twice"]
    );
}

#[test]
fn every_rule_explains_itself() {
    for rule in ALL {
        let Explained { name, summary, why, mend, .. } = rule.text;
        for text in [summary, why, mend] {
            assert!(text.len() > 8 && text.ends_with('.') && text.starts_with(|c: char| c.is_uppercase() || c == '`'), "{name}: {text}");
        }
        assert_eq!(rule.text.bad.is_empty(), rule.text.good.is_empty(), "{name}");
    }
}

#[test]
fn a_rule_is_found_by_its_name() {
    assert_eq!(ALL.iter().map(|rule| rule.name).collect::<Vec<_>>(), RuleName::ALL);
    for &name in RuleName::ALL {
        assert_eq!(crate::review::rule(name).name, name);
    }
}

#[test]
fn a_rule_s_files_bear_its_name() {
    let rules = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/review/rules");
    for rule in ALL {
        let path = rules.join(rule.family.folder()).join(format!("{}.rs", rule.name.name().replace('-', "_")));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        assert!(text.starts_with(&format!("//! `{}`: ", rule.name)), "{}", path.display());
        assert!(path.with_extension("md").is_file(), "{}", path.display());
    }
    let on_disk: usize = Family::ALL.iter().map(|family| std::fs::read_dir(rules.join(family.folder())).map_or(0, Iterator::count)).sum();
    assert_eq!(2 * ALL.len(), on_disk, "a rule's file is not registered");
}

#[test]
fn what_cannot_be_read_cannot_be_accepted() {
    for rule in ALL {
        assert_eq!(rule.can_be_accepted(), !matches!(rule.check, Check::WhileReading), "{}", rule.name);
    }
}

#[test]
fn the_handbook_s_whole_guide_is_clean() {
    assert_eq!(rules_found(crate::review::handbook::EXAMPLE), vec![]);
}

/// The names are a promise: they stand in acceptances of shops' guides. What was published once must stay understood,
/// so this list never gets shorter; a rule that is renamed or dropped goes into `FORMER`.
const NAMES_OF_0_2_0: &str = "
    unit-unknown unit-ambiguous value-unreadable range-reversed dual-disagree unit-mixed value-in-prose value-stray
    torque-missing torque-unsourced torque-vague torque-for-other torque-over-proof torque-doubtful thread-unknown
    class-unknown drive-doubtful wrench-out-of-range calibration-ended adapter-uncorrected pattern-missing pattern-invalid
    stages-not-rising one-use-refitted left-open closed-not-open opened-twice fitted-but-absent out-of-order hardware-short
    hardware-left-over kit-left-over kit-overdrawn part-never-fitted combinations-untried caution-missing caution-late
    caution-incomplete signal-misused licensed-work two-actions long-sentence not-imperative condition-after vague-wording
    instruction-in-note caution-in-words count-disagrees operation-untold pin-twice pin-gap side-untold wire-colour-unknown
    wire-unknown fuse-over-wire fuse-unknown drop-too-large circuit-impossible wire-limit-wrong source-missing
    revision-missing fits-missing steps-missing hours-disagree final-check-missing tool-missing tool-unused photo-missing
    photo-unreadable photo-without-words photo-too-small callout-outside callout-without-picture callout-twice
    drawing-unsafe drawing-cleaned link-broken address-refused markup-shown rule-unknown option-impossible option-unused
    id-unknown id-twice slug-twice key-unknown key-missing type-wrong block-unreadable text-unreadable acceptance-unused
";

#[test]
fn every_name_that_was_published_is_understood() {
    for name in NAMES_OF_0_2_0.split_whitespace() {
        assert_ne!(RuleName::known(name), Known::Never, "{name}");
    }
}

proptest::proptest! {
    /// Whatever stands in the words, rules neither panic nor point outside the text.
    #[test]
    fn words_of_any_kind_are_read(prose in "(Undo|undo|and|then|if|the|two|4|screws|bolts|Note|Warning|is|must|be|removed|take|off|about|25|N·m|ä|\\p{Lu}|[ .,:;()>*#|\\[\\]\\-\n]){0,30}") {
        let text = format!("+++\ntitle = \"T\"\n[[hardware]]\nid = \"b\"\nname = \"Bolt\"\n+++\n\n## Step\n\n+++\ndo = [{{ tighten = \"b\", hardware = \"4 x b\" }}]\n+++\n\n{prose} [two bolts](hardware:b) [](spec:x)\n");
        rules_found(&text);
    }
}
