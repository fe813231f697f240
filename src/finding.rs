//! What the review reports: a rule, a place, what is wrong and what to do. Only the facts; how a
//! finding is drawn is left to `review::report`, whether it stops a guide to `cli`.

pub(crate) mod rule_name;

use crate::source::{Place, Span};
pub use rule_name::{Former, Known, RuleName};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth a look.
    Remark,
    /// The author has to answer it: mend it, or accept it with a reason.
    Query,
    /// Work must not go out like this: the guide is kept out of the site.
    Hold,
}

impl Severity {
    /// The word that reports use.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Remark => "remark",
            Severity::Query => "query",
            Severity::Hold => "hold",
        }
    }
}

/// A change to the text that mends a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced, in the file of the finding.
    pub span: Span,
    /// What stands there afterwards.
    pub text: String,
    /// Whether only this can have been meant and no value changes by it, so that `bayleaf review --mend` may make it.
    /// Otherwise it is a guess for the author to judge.
    pub certain: bool,
}

/// A second place that helps to understand a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// Where.
    pub place: Place,
    /// Why it is shown, in a few words.
    pub label: String,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule.
    pub rule: RuleName,
    /// Its weight.
    pub severity: Severity,
    /// Where it is.
    pub place: Place,
    /// What is wrong, with the values in it: a lower-case phrase without a full stop.
    pub message: String,
    /// What to do about it, in the same form.
    pub remedy: String,
    /// Other places that belong to it.
    pub related: Vec<Related>,
    /// A repair: a certain one, or a guess.
    pub edit: Option<Edit>,
}

impl Finding {
    /// A finding of the given weight.
    pub fn new(rule: RuleName, severity: Severity, place: Place, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Finding { rule, severity, place, message: message.into(), remedy: remedy.into(), related: Vec::new(), edit: None }
    }

    /// A hold.
    pub fn hold(rule: RuleName, place: Place, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(rule, Severity::Hold, place, message, remedy)
    }

    /// A query.
    pub fn query(rule: RuleName, place: Place, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(rule, Severity::Query, place, message, remedy)
    }

    /// A remark.
    pub fn remark(rule: RuleName, place: Place, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::new(rule, Severity::Remark, place, message, remedy)
    }

    /// Adds a second place.
    pub fn with_related(mut self, place: Place, label: impl Into<String>) -> Self {
        self.related.push(Related { place, label: label.into() });
        self
    }

    /// Adds a certain repair: nothing else can have been meant, and no value changes.
    pub fn with_edit(mut self, span: Span, text: impl Into<String>) -> Self {
        self.edit = Some(Edit { span, text: text.into(), certain: true });
        self
    }

    /// Adds what was probably meant, for the author to judge.
    pub fn with_suggestion(mut self, span: Span, text: impl Into<String>) -> Self {
        self.edit = Some(Edit { span, text: text.into(), certain: false });
        self
    }
}

/// Puts findings in the order of reports (file, place, rule) and drops exact repetitions.
pub fn sort(findings: &mut Vec<Finding>) {
    findings.sort_by(|a, b| (a.place, a.rule, &a.message).cmp(&(b.place, b.rule, &b.message)));
    findings.dedup();
}
