//! The list of questions: what nobody knows yet in all guides, by who can answer, as text and as JSON.

use super::{PROGRAM, Results};
use crate::described::objects;
use crate::guide::questions::Question;
use crate::guide::untold::Who;
use crate::source::FileId;

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-questions";
/// The version of the list; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// The whole list.
    QuestionList "The list of questions" {
        /// Always `bayleaf-questions`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The version of bayleaf that wrote the list.
        program: &'static str,
        /// The questions, by who can answer, then in the order of the guides.
        questions: Vec<QuestionRow>,
    }

    /// A question.
    QuestionRow "Question" {
        /// Who can answer: `supplier`, `vehicle` or `shop`; null where nobody is named.
        who: Option<&'static str>,
        /// What is not known.
        text: String,
        /// Where the answer would be found, in the author's words.
        place: Option<String>,
        /// What somebody heard.
        heard: Option<String>,
        /// Whether the guide asks it by `untold` or `unsure`; otherwise the guide is silent.
        told: bool,
        /// The guide's name in addresses of the site.
        guide: String,
        /// The number of the step it comes up in.
        step: Option<usize>,
        /// The guide's file, from the folder that holds `guides/`.
        path: String,
        /// The line, from 1.
        line: usize,
        /// The column in characters, from 1.
        column: usize,
    }
}

/// The questions of one guide.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Its file.
    pub file: FileId,
    /// Its name in addresses.
    pub slug: String,
    /// Its questions.
    pub questions: Vec<Question>,
}

/// A question with its guide.
type Of<'a> = (&'a Asked, &'a Question);

/// Every question with its guide, by who can answer.
fn by_who(asked: &[Asked]) -> Vec<(Option<Who>, Vec<Of<'_>>)> {
    let whom = Who::ALL.into_iter().map(Some).chain([None]);
    let of = |who: Option<Who>| {
        let all = asked.iter().flat_map(|guide| guide.questions.iter().map(move |question| (guide, question)));
        (who, all.filter(|(_, question)| question.answer.who == who).collect::<Vec<_>>())
    };
    whom.map(of).filter(|(_, questions)| !questions.is_empty()).collect()
}

fn position(results: &Results<'_>, file: FileId, question: &Question) -> (String, usize, usize) {
    results.sources.get(&file).map_or_else(
        || (String::new(), 1, 1),
        |source| {
            let at = source.position(question.span.start);
            (results.path(source).to_owned(), at.line, at.column)
        },
    )
}

/// The list for people.
pub fn text(asked: &[Asked], results: &Results<'_>) -> String {
    let count: usize = asked.iter().map(|guide| guide.questions.len()).sum();
    if count == 0 {
        return "no questions: the guides say all that was looked for\n".to_owned();
    }
    let mut text = String::new();
    for (who, questions) in by_who(asked) {
        let title = match who {
            Some(Who::Supplier) => "Ask the supplier",
            Some(Who::Vehicle) => "Look at the vehicle, or in its maker’s instructions",
            Some(Who::Shop) => "Decide in the shop",
            None => "Find out who knows",
        };
        text.push_str(&format!("{title} ({}):\n", questions.len()));
        let mut last = None;
        for (guide, question) in questions {
            if last != Some(guide.file) {
                text.push_str(&format!("  {}\n", guide.slug));
                last = Some(guide.file);
            }
            let (path, line, column) = position(results, guide.file, question);
            let step = question.step.map_or_else(String::new, |step| format!(", step {}", step + 1));
            let heard = question.heard.as_ref().map_or_else(String::new, |heard| format!(" (heard: {heard})"));
            text.push_str(&format!("    [ ] {}{heard}{step}\n", question.text));
            if let Some(place) = &question.answer.place {
                text.push_str(&format!("        {place}\n"));
            }
            text.push_str(&format!("        {path}:{line}:{column}\n"));
        }
        text.push('\n');
    }
    text
}

/// The list for programs.
pub fn json(asked: &[Asked], results: &Results<'_>) -> Result<String, serde_json::Error> {
    let row = |(guide, question): (&Asked, &Question)| {
        let (path, line, column) = position(results, guide.file, question);
        QuestionRow {
            who: question.answer.who.map(Who::word),
            text: question.text.clone(),
            place: question.answer.place.clone(),
            heard: question.heard.clone(),
            told: question.told,
            guide: guide.slug.clone(),
            step: question.step.map(|step| step + 1),
            path,
            line,
            column,
        }
    };
    let questions = by_who(asked).into_iter().flat_map(|(_, questions)| questions).map(row).collect();
    let mut text = serde_json::to_string_pretty(&QuestionList { format: FORMAT, version: VERSION, program: PROGRAM, questions })?;
    text.push('\n');
    Ok(text)
}
