//! A chapter of the author's handbook in plain words: whoever knows the content writes it, and the writer of pages lays it out.

use crate::described::{self, Object};

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
    pub keys: Vec<PlainKey>,
    /// Rows of a table of fields.
    pub fields: Vec<PlainField>,
    /// The text of an example guide.
    pub example: Option<String>,
}

impl PlainSection {
    /// A section for each object of a declared file, with its fields.
    pub fn of_objects(objects: &[Object]) -> impl Iterator<Item = PlainSection> {
        described::rows(objects).into_iter().map(|(title, rows)| PlainSection {
            title: title.to_owned(),
            fields: rows
                .into_iter()
                .map(|row| PlainField { name: row.name.to_owned(), holds: row.holds, meaning: row.meaning.to_owned() })
                .collect(),
            ..PlainSection::default()
        })
    }
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

/// A key of a block in plain words.
#[derive(Clone, Debug)]
pub struct PlainKey {
    /// The key.
    pub name: String,
    /// Whether it must be there.
    pub required: bool,
    /// What it takes.
    pub takes: String,
    /// What it means.
    pub meaning: String,
    /// An example.
    pub example: String,
}
