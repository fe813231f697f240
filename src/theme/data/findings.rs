//! The data of the reviewer's page, which is one file of its own and no part of the site.

use serde::Serialize;

/// The reviewer's page, as `review`. It is one file of its own and no part of the site.
#[derive(Clone, Debug, Serialize)]
pub struct Findings {
    /// The version of this data.
    pub version: u32,
    /// The language of the guides, such as `en`.
    pub language: String,
    /// The version of bayleaf.
    pub program: String,
    /// The shop's name.
    pub shop: String,
    /// How many guides were reviewed.
    pub guides: usize,
    /// How many findings of each weight, the gravest first.
    pub weights: Vec<WeightCount>,
    /// How many findings stand.
    pub total: usize,
    /// How many findings of each rule, the gravest first.
    pub rules: Vec<RuleCount>,
    /// Files with findings, and those that findings lead to.
    pub files: Vec<FindingsFile>,
    /// What authors accepted.
    pub accepted: Vec<AcceptedFinding>,
    /// The sentence that puts the vehicle maker's instructions and local rules first.
    pub deferral: String,
    /// The content-security policy for the page's head.
    pub policy: String,
    /// The style, which stands in the page itself.
    pub style: String,
    /// The script, which stands in the page itself.
    pub script: String,
}

/// A weight and how many findings have it.
#[derive(Clone, Debug, Serialize)]
pub struct WeightCount {
    /// `hold`, `query` or `remark`.
    pub weight: &'static str,
    /// The word as a heading, such as `Holds`.
    pub title: &'static str,
    /// How many.
    pub count: usize,
}

/// A rule and how many findings it has.
#[derive(Clone, Debug, Serialize)]
pub struct RuleCount {
    /// Its name.
    pub name: String,
    /// What is wrong, in a sentence.
    pub summary: String,
    /// The weight of these findings.
    pub weight: &'static str,
    /// The weight as a word of its own, such as `Hold`.
    pub word: &'static str,
    /// How many.
    pub count: usize,
}

/// A source file with its findings.
#[derive(Clone, Debug, Serialize)]
pub struct FindingsFile {
    /// Its anchor.
    pub id: String,
    /// Its path.
    pub path: String,
    /// The guide's title.
    pub title: Option<String>,
    /// How many findings of each weight it has, in words.
    pub counts: String,
    /// Its text in pieces: with findings, and folded away.
    pub pieces: Vec<SourcePiece>,
}

/// Some lines of a source file.
#[derive(Clone, Debug, Serialize)]
pub struct SourcePiece {
    /// For lines without a finding near them: which these are, in words.
    pub folded: Option<String>,
    /// The lines.
    pub lines: Vec<SourceLine>,
}

/// A line of a source file.
#[derive(Clone, Debug, Serialize)]
pub struct SourceLine {
    /// Its anchor.
    pub id: String,
    /// Its number.
    pub number: usize,
    /// Its text, with colours and marks.
    pub html: String,
    /// What is wrong in it.
    pub findings: Vec<PinnedFinding>,
}

/// A finding below its line.
#[derive(Clone, Debug, Serialize)]
pub struct PinnedFinding {
    /// Its number on the page, from 1.
    pub number: usize,
    /// `hold`, `query` or `remark`.
    pub weight: &'static str,
    /// The weight as a word of its own, such as `Hold`.
    pub word: &'static str,
    /// The rule.
    pub rule: String,
    /// Where, as `path:line:column`.
    pub place: String,
    /// What is wrong.
    pub message_html: String,
    /// What to do.
    pub remedy_html: String,
    /// Places that belong to it.
    pub related: Vec<RelatedPlace>,
    /// A repair.
    pub edit: Option<ShownEdit>,
}

/// A place that belongs to a finding.
#[derive(Clone, Debug, Serialize)]
pub struct RelatedPlace {
    /// The anchor of its line, where the line is on the page.
    pub id: Option<String>,
    /// Where, as `path:line`.
    pub place: String,
    /// Why it is shown.
    pub label: String,
}

/// A repair as lines before and after it.
#[derive(Clone, Debug, Serialize)]
pub struct ShownEdit {
    /// Whether `bayleaf review --mend` makes it.
    pub certain: bool,
    /// The number of its first line.
    pub line: usize,
    /// The lines as they are.
    pub before_html: String,
    /// The lines as they would be.
    pub after_html: String,
}

/// A finding that an author accepted.
#[derive(Clone, Debug, Serialize)]
pub struct AcceptedFinding {
    /// The rule.
    pub rule: String,
    /// Where, as `path:line:column`.
    pub place: String,
    /// The anchor of its line, where the line is on the page.
    pub id: Option<String>,
    /// What was found.
    pub message_html: String,
    /// The author's reason.
    pub reason: String,
}
