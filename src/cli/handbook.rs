//! `bayleaf handbook`, and the way of the handbook from the review, which knows its content, to the pages and to the terminal.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::chapter::{Plain, PlainField, PlainKey, PlainSection};
use crate::cli::{Status, publish as command, terminal};
use crate::disk::{Building, DiskError, Written};
use crate::guide::model::Shop;
use crate::guide::shop::unnamed;
use crate::handbook;
use crate::machine;
use crate::record::format as record;
use crate::review::handbook as content;
use crate::review::rule::Rule;
use crate::site::{Publisher, SiteError};
use crate::theme::data::Chapter;
use crate::theme::{Theme, fields};

#[derive(Args)]
pub(super) struct Options {
    /// Write it into this folder
    #[arg(long, value_name = "FOLDER", default_value = "handbook")]
    to: PathBuf,
}

/// `bayleaf handbook`: the handbook on the own machine, with the built-in theme; it needs no guides.
pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, DiskError> {
    let target = folder.join(&options.to);
    command::outside_the_guides(folder, &target)?;
    let shop = Shop { name: "bayleaf".to_owned(), ..unnamed() };
    let pages = Theme::new(&BTreeMap::new(), shop.language).map_err(SiteError::Theme);
    let pages = pages.and_then(|theme| Publisher::new(&shop, &theme).handbook_alone(&chapters()));
    let pages = match pages {
        Ok(pages) => pages,
        Err(error) => {
            terminal::note(&format!("bayleaf: {error}"));
            return Ok(Status::Failed);
        }
    };
    let building = Building::start(&target, &Default::default())?;
    let written: Result<Vec<Written>, DiskError> = pages.iter().map(|(path, bytes)| building.write(path, bytes)).collect();
    if let Some(left) = building.finish(written?)?.over {
        terminal::note(&format!("the new handbook stands, and the old one could not be removed: {left}"));
    }
    terminal::note("the handbook for authors: the values of its examples are invented");
    terminal::result(&format!("{}\n", target.join("handbook/index.html").display()));
    Ok(Status::Done)
}

/// Every chapter as the pages take it.
pub(super) fn chapters() -> Vec<Chapter> {
    let mut chapters: Vec<Plain> = content::chapters().into_iter().map(plain).collect();
    // What pages and their files hold is known to publishing; it stands beside what the review can write.
    let behind = chapters.iter().rposition(|chapter| chapter.file == "reports").map_or(chapters.len(), |at| at + 1);
    let of_pages = [
        machine::chapter::chapter(),
        record::chapter(),
        #[cfg(feature = "sheets")]
        crate::sheets::handbook::chapter(),
        crate::compare::handbook::chapter(),
        fields::chapter(),
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
