//! What templates get of the questions of a guide.

use serde::Serialize;

use super::StepLink;

/// Questions that one of those asked can answer.
#[derive(Clone, Debug, Serialize)]
pub struct Asked {
    /// Whom to ask, as a heading.
    pub who: &'static str,
    /// The questions.
    pub questions: Vec<Question>,
}

/// What nobody knows yet.
#[derive(Clone, Debug, Serialize)]
pub struct Question {
    /// What is not known, with what somebody heard of it.
    pub words: String,
    /// Where the answer would be found.
    pub place: Option<String>,
    /// The step it comes up in.
    pub step: Option<StepLink>,
}
