//! Chapters of the author's handbook as pages. What they say comes in as plain data; here it only becomes HTML.

use crate::publish::highlight;
use crate::publish::html::escape;
use crate::publish::page_data::{Chapter, ChapterSection, FieldRow, KeyRow};

/// A chapter in plain words. Between backticks stands what is typed.
#[derive(Clone, Debug)]
pub struct Plain {
    /// The name of its file, without ending.
    pub file: String,
    /// Its heading.
    pub title: String,
    /// A sentence under the heading.
    pub lead: String,
    /// Where it stands in the list of chapters.
    pub group: String,
    /// Its sections.
    pub sections: Vec<PlainSection>,
}

/// A section in plain words.
#[derive(Clone, Debug, Default)]
pub struct PlainSection {
    /// Its heading.
    pub title: String,
    /// Paragraphs.
    pub paragraphs: Vec<String>,
    /// Rows of a table of keys.
    pub keys: Vec<KeyRow>,
    /// Rows of a table of fields.
    pub fields: Vec<PlainField>,
    /// The text of an example guide.
    pub example: Option<String>,
}

/// A field of a report in plain words.
#[derive(Clone, Debug)]
pub struct PlainField {
    /// Its name.
    pub name: String,
    /// What stands in it.
    pub holds: String,
    /// What it means.
    pub meaning: String,
}

/// The data of a chapter's page.
pub fn chapter(plain: &Plain) -> Chapter {
    Chapter {
        file: plain.file.clone(),
        title: plain.title.clone(),
        lead: plain.lead.clone(),
        group: plain.group.clone(),
        sections: plain
            .sections
            .iter()
            .map(|section| ChapterSection {
                title: section.title.clone(),
                paragraphs_html: section.paragraphs.iter().map(|text| with_code(text)).collect(),
                keys: section.keys.clone(),
                fields: section
                    .fields
                    .iter()
                    .map(|field| FieldRow { name: field.name.clone(), holds: field.holds.clone(), meaning_html: with_code(&field.meaning) })
                    .collect(),
                example_html: section.example.as_deref().map(highlight::guide),
            })
            .collect(),
    }
}

/// Text with what stands between backticks as code.
pub(super) fn with_code(text: &str) -> String {
    let mut html = String::new();
    for (at, part) in text.split('`').enumerate() {
        html.push_str(&if at % 2 == 1 { format!("<code>{}</code>", escape(part)) } else { escape(part) });
    }
    html
}

#[cfg(test)]
mod tests {
    #[test]
    fn what_is_typed_is_code() {
        assert_eq!(super::with_code("Write `a < b`, not c."), "Write <code>a &lt; b</code>, not c.");
    }
}
