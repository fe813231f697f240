//! Carries the handbook from the review, which knows its content, to the pages and to the terminal.

use crate::chapter::{Plain, PlainField, PlainKey, PlainSection};
use crate::publish::handbook;
use crate::publish::machine::guide_json;
use crate::publish::page_data::Chapter;
use crate::publish::theme_fields;
use crate::record::format as record;
use crate::review::handbook as content;
use crate::review::rule::Rule;

/// Every chapter as the pages take it.
pub(super) fn chapters() -> Vec<Chapter> {
    let mut chapters: Vec<Plain> = content::chapters().into_iter().map(plain).collect();
    // What pages and their files hold is known to publishing; it stands beside what the review can write.
    let behind = chapters.iter().rposition(|chapter| chapter.file == "reports").map_or(chapters.len(), |at| at + 1);
    let of_pages = [
        guide_json::chapter(),
        record::chapter(),
        #[cfg(feature = "sheets")]
        crate::print::handbook::chapter(),
        theme_fields::chapter(),
    ];
    chapters.splice(behind..behind, of_pages);
    chapters.iter().map(handbook::chapter).collect()
}

fn plain(chapter: content::Chapter) -> Plain {
    let sections = chapter.sections.into_iter().map(|section| PlainSection {
        title: section.title,
        paragraphs: section.paragraphs,
        keys: section
            .keys
            .into_iter()
            .map(|key| PlainKey {
                name: key.name.to_owned(),
                required: key.required,
                takes: key.kind.describe(),
                meaning: key.meaning.to_owned(),
                example: key.example.to_owned(),
            })
            .collect(),
        fields: section
            .fields
            .iter()
            .map(|field| PlainField { name: field.name.to_owned(), holds: field.holds.clone(), meaning: field.meaning.to_owned() })
            .collect(),
        example: section.example,
    });
    Plain { file: chapter.file, title: chapter.title, lead: chapter.lead, group: chapter.group, sections: sections.collect() }
}

/// A rule explained on the terminal.
pub(super) fn explanation(rule: &Rule) -> String {
    let mut text = format!(
        "{}\n\n{}\n\n{}\n\nHow to mend it: {}\n\n{}\nBasis: {}\n",
        rule.name,
        rule.text.summary,
        rule.text.why,
        rule.text.mend,
        content::weight(rule),
        rule.text.basis
    );
    for (title, example) in [("With the fault", rule.text.bad), ("Without it", rule.text.good)] {
        if !example.is_empty() {
            text.push_str(&format!("\n{title}:\n\n"));
            for line in example.lines() {
                text.push_str(if line.is_empty() { "" } else { "    " });
                text.push_str(line);
                text.push('\n');
            }
        }
    }
    text
}
