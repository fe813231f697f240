//! Tries a rule on a few words, for the tests of rules that read prose: what it marks, and what it says.

use crate::finding::RuleName;
use crate::guide::{self, picture::Pictures};
use crate::review::rule::Rule;
use crate::source::{FileId, SourceFile};

/// The texts that `rule` marks in a step with these words.
pub(crate) fn marked(rule: &Rule, prose: &str) -> Vec<String> {
    marked_with(rule, "", "", prose)
}

/// The texts that `rule` marks, with lines for the guide block and for the step's block.
pub(crate) fn marked_with(rule: &Rule, guide_lines: &str, step_lines: &str, prose: &str) -> Vec<String> {
    tried(rule, guide_lines, step_lines, prose).into_iter().map(|(marked, _)| marked).collect()
}

/// What `rule` marks and says.
pub(crate) fn tried(rule: &Rule, guide_lines: &str, step_lines: &str, prose: &str) -> Vec<(String, String)> {
    let block = if step_lines.is_empty() { String::new() } else { format!("+++\n{step_lines}\n+++\n\n") };
    let head = format!("+++\ntitle = \"T\"\n{guide_lines}\n+++\n\nFor a trial.\n\n# Phase\n\n## Step\n\n");
    let text = format!("{head}{block}{prose}\n");
    let source = SourceFile::new("guides/t.md", &*text);
    let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
    let (guide, findings) = guide::read(&source, FileId(1), "t", &shop);
    for finding in &findings {
        assert!(!matches!(finding.rule, RuleName::BlockUnreadable | RuleName::KeyUnknown | RuleName::TypeWrong), "{finding:?}");
    }
    let outcome = crate::review::review(&guide, &shop, &Pictures::default(), &|_| true, Vec::new());
    let of_rule = outcome.findings.into_iter().filter(|finding| finding.rule == rule.name);
    of_rule.map(|finding| (text[finding.place.span.range()].to_owned(), finding.message)).collect()
}

/// Lines for the guide block with one thing of each sort, for the trials of several rules.
pub(crate) const THINGS: &str = r#"
connector = [{ id = "heater-plug", name = "Seat heater connector, grey" }]
item = [
  { id = "cover", name = "Rail end cover" },
  { id = "hose", name = "Return hose" },
  { id = "feed", name = "Supply hose" },
  { id = "lamp-left", name = "Rear lamp, left" },
  { id = "lamp-right", name = "Rear lamp, right" },
  { id = "seat", name = "Seat" },
]
part = [{ id = "base", name = "Swivel base" }, { id = "gasket", name = "Gasket" }]
hardware = [{ id = "bolt", name = "Flange bolt, base" }, { id = "ring-nut", name = "Ring nut", one_use = true, supplied = 2 }, { id = "old-screw", name = "Cover screw", on_vehicle = 4 }]
"#;

/// Holds a rule to what it must mark: lines for the step's block, words, and the one text that is marked.
#[track_caller]
pub(crate) fn finds(rule: &Rule, guide_lines: &str, cases: &[(&str, &str, &str)]) {
    for (step, prose, mark) in cases {
        assert_eq!(marked_with(rule, guide_lines, step, prose), [*mark], "{step} {prose}");
    }
}

/// Holds a rule to what it must leave alone: lines for the step's block, and words.
#[track_caller]
pub(crate) fn leaves_alone(rule: &Rule, guide_lines: &str, cases: &[(&str, &str)]) {
    for (step, prose) in cases {
        assert_eq!(marked_with(rule, guide_lines, step, prose), Vec::<String>::new(), "{step} {prose}");
    }
}
