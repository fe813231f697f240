//! Reports of findings. Each form has a file of its own; all get the same findings and the sources they
//! point into.

pub mod json;
pub mod questions;
pub mod sarif;
pub mod text;

use std::collections::BTreeMap;

use crate::finding::{Finding, Severity};
use crate::guide::model::Weight;
use crate::source::{FileId, SourceFile};

/// The files that findings point into.
pub type Sources = BTreeMap<FileId, SourceFile>;

/// The version of the program that writes the reports.
pub const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// A guide that was reviewed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reviewed {
    /// Its file.
    pub file: FileId,
    /// Its name in addresses.
    pub slug: String,
}

/// All that a review came to, for reports that other programs or people read later.
#[derive(Clone, Debug)]
pub struct Results<'r> {
    /// The guides.
    pub guides: Vec<Reviewed>,
    /// What stands, in the order of reports.
    pub findings: Vec<&'r Finding>,
    /// What authors accepted, with the reason.
    pub accepted: Vec<(&'r Finding, &'r str)>,
    /// Rules that the shop weighs in its own way.
    pub weights: &'r [Weight],
    /// The files.
    pub sources: &'r Sources,
    /// What stands before every path as shown on the terminal and says only where the program was started.
    pub folder: &'r str,
    /// Whether every guide could be read.
    pub complete: bool,
}

impl<'r> Results<'r> {
    /// How many findings have this weight.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }

    /// The path of a file from the folder that holds `guides/`, so that a report says the same on every machine.
    pub fn path(&self, source: &'r SourceFile) -> &'r str {
        source.path.strip_prefix(self.folder).unwrap_or(&source.path)
    }
}

/// The lines that a finding's mark touches, without their ends; each no longer than is worth reading.
fn excerpt(source: &SourceFile, span: crate::source::Span) -> Vec<String> {
    /// A line longer than this is no line that anybody looks at.
    const LONGEST: usize = 1000;
    let marked = source.marked(span);
    let (lines, _) = source.lines_of(crate::source::Span::new(marked));
    // A mark touches a few lines; what stands behind all that is shown of them need not be looked through for their ends.
    let end = source.text.floor_char_boundary(lines.end.min(lines.start + 16 * LONGEST));
    source.text[lines.start..end].lines().map(|line| line.chars().take(LONGEST).collect()).collect()
}
