//! Chapters of the author's handbook as pages. What they say comes in as plain data; here it only becomes HTML.

use crate::chapter::Plain;
use crate::highlight;
use crate::markup::with_code;
use crate::theme::data::{Chapter, ChapterSection, FieldRow, KeyRow};

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
                keys: section
                    .keys
                    .iter()
                    .map(|key| KeyRow {
                        name: key.name.clone(),
                        required: key.required,
                        takes: key.takes.clone(),
                        meaning: key.meaning.clone(),
                        example: key.example.clone(),
                    })
                    .collect(),
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
