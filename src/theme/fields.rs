//! The handbook's chapter on themes: every template with what it gets, and every field with what it holds. The fields are read from the
//! declarations of `data` and their words, so that the chapter cannot fall behind them.

use crate::chapter::{Plain, PlainField, PlainSection};
use crate::theme::BUILT_IN;
use crate::theme::built_in::TEMPLATES;
use crate::theme::data::VERSION;

/// The declarations of what templates get.
const SOURCES: [&str; 7] = [
    include_str!("data.rs"),
    include_str!("data/stated.rs"),
    include_str!("data/values.rs"),
    include_str!("data/asked.rs"),
    include_str!("data/comparison.rs"),
    include_str!("data/lists.rs"),
    include_str!("data/findings.rs"),
];

/// A declared type with its fields.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Declared {
    name: String,
    about: String,
    fields: Vec<PlainFieldOf>,
}

/// A field as declared.
#[derive(Clone, Debug, PartialEq, Eq)]
struct PlainFieldOf {
    name: String,
    of: String,
    about: String,
}

/// The chapter.
pub fn chapter() -> Plain {
    let mut sections = vec![
        PlainSection {
            title: "A theme of the shop's own".to_owned(),
            paragraphs: vec![
                "The pages come from templates, styles and scripts. A file in the folder `themes/` beside `guides/` takes the place of the built-in one of the same name; all others stay as they are, so that one changed line is one changed file. Templates are written in the language of the library Tera, version 2.".to_owned(),
                "A file of another name is the shop's own: a template that others include, or a picture, font or style, which is published unchanged as `assets/own/NAME`. A name that is nearly a built-in one is told, since it is rather a slip.".to_owned(),
                "What cannot be used is told with file, line and column, and nothing is published: the last site stays.".to_owned(),
                "Fields whose names end in `html` hold finished markup and are written with `safe`; all others are text, and what an author wrote in them can never run.".to_owned(),
                "Styles for the screen follow `prefers-color-scheme`, light and dark, and `@media print`; the attribute `data-first` of the page's root says which units lead.".to_owned(),
            ],
            ..PlainSection::default()
        },
        PlainSection {
            title: "Words".to_owned(),
            paragraphs: vec![
                "The built-in templates hold no words of their own: each phrase stands under a key in one table by language, and a template writes it as `say.KEY`, as in `{{ say.torque_sheet }}`. Where something stands in a phrase, the filter `fill` puts it in and chooses the form of a word by its count: `{{ say.count_steps | fill(count=g.steps) }}`.".to_owned(),
                "A template of the shop's own may use these phrases or words of its own. A key that is not there is told like any other field. There is a table for English so far; a shop whose language is another gets the same words.".to_owned(),
            ],
            ..PlainSection::default()
        },
        PlainSection {
            title: "Version of the data".to_owned(),
            paragraphs: vec![format!(
                "What templates get has the version {VERSION}, which stands in `site.version`. It rises when a field changes its meaning or goes; a new field does not raise it. A theme that needs a certain version can look at it."
            )],
            ..PlainSection::default()
        },
        PlainSection {
            title: "Templates".to_owned(),
            paragraphs: vec!["Every page gets `site` (Site), `say` (the phrases), `root`, which leads from the page to the top of the site, and `page`, which says what kind it is.".to_owned()],
            fields: TEMPLATES
                .iter()
                .map(|(name, gets)| PlainField { name: (*name).to_owned(), holds: "template".to_owned(), meaning: (*gets).to_owned() })
                .collect(),
            ..PlainSection::default()
        },
    ];
    let others: Vec<&str> = BUILT_IN.iter().map(|(name, _)| *name).filter(|name| !name.ends_with(".html")).collect();
    sections.push(PlainSection {
        title: "Styles and scripts".to_owned(),
        paragraphs: vec![format!("Built in are {}.", others.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", "))],
        ..PlainSection::default()
    });
    let declared = declared();
    sections.extend(declared.iter().map(|of| {
        PlainSection {
            title: of.name.clone(),
            paragraphs: vec![of.about.clone()],
            fields: of
                .fields
                .iter()
                .map(|field| PlainField { name: field.name.clone(), holds: holds(&field.of), meaning: field.about.clone() })
                .collect(),
            ..PlainSection::default()
        }
    }));
    Plain {
        file: "themes".to_owned(),
        title: "Themes".to_owned(),
        lead: "How a shop changes the look of its pages, and what a template gets.".to_owned(),
        group: "Reports".to_owned(),
        sections,
    }
}

fn declared() -> Vec<Declared> {
    SOURCES.iter().flat_map(|source| read(source)).collect()
}

/// The public types of a source with their public fields and the comments before them.
fn read(source: &str) -> Vec<Declared> {
    let mut found: Vec<Declared> = Vec::new();
    let (mut about, mut inside) = (String::new(), false);
    for line in source.lines() {
        let line = line.trim();
        if let Some(words) = line.strip_prefix("///") {
            if !about.is_empty() {
                about.push(' ');
            }
            about.push_str(words.trim());
        } else if let Some(rest) = line.strip_prefix("pub struct ") {
            let name: String = rest.chars().take_while(|c| c.is_alphanumeric()).collect();
            found.push(Declared { name, about: plain(&std::mem::take(&mut about)), fields: Vec::new() });
            inside = true;
        } else if line == "}" {
            inside = false;
        } else if let Some((name, of)) = line.strip_prefix("pub ").and_then(|rest| rest.split_once(": ")).filter(|_| inside) {
            let field =
                PlainFieldOf { name: name.to_owned(), of: of.trim_end_matches(',').to_owned(), about: plain(&std::mem::take(&mut about)) };
            if let Some(last) = found.last_mut() {
                last.fields.push(field);
            }
        } else if !line.starts_with("#[") {
            about.clear();
        }
    }
    found
}

/// A comment as a reader of the handbook takes it: links to other declarations become their names.
fn plain(about: &str) -> String {
    about.replace("[`", "`").replace("`]", "`")
}

/// What stands in a field, in words.
fn holds(of: &str) -> String {
    let inner = |start: &str| of.strip_prefix(start).and_then(|rest| rest.strip_suffix('>'));
    if let Some(rest) = inner("Option<") {
        return format!("{}, or nothing", holds(rest));
    }
    // How long something lasts is no matter of a template's.
    let bare = of.trim_start_matches('&');
    let bare = if bare.starts_with('\'') { bare.split_once(' ').map_or(bare, |(_, rest)| rest) } else { bare };
    let bare = bare.split_once("<'").map_or(bare, |(name, _)| name);
    if let Some(rest) = inner("Vec<").or_else(|| bare.strip_prefix('[').and_then(|rest| rest.strip_suffix(']'))) {
        return format!("a list: {}", holds(rest));
    }
    match bare {
        "String" | "str" => "text".to_owned(),
        "bool" => "true or false".to_owned(),
        "usize" | "u32" | "u64" => "a whole number".to_owned(),
        other => format!("`{other}`"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_has_its_words_and_every_type_is_known() {
        let declared = declared();
        assert!(declared.len() > 30, "{} types", declared.len());
        for of in &declared {
            assert!(!of.about.is_empty(), "{} has no words", of.name);
            assert!(!of.fields.is_empty(), "{} has no fields", of.name);
            for field in &of.fields {
                assert!(!field.about.is_empty(), "{}.{} has no words", of.name, field.name);
                let holds = holds(&field.of);
                if let Some(named) = holds.split('`').nth(1) {
                    assert!(
                        declared.iter().any(|other| other.name == named),
                        "{}.{} holds {named}, which is not declared",
                        of.name,
                        field.name
                    );
                }
            }
        }
    }

    #[test]
    fn every_template_is_listed() {
        let listed: Vec<&str> = TEMPLATES.iter().map(|(name, _)| *name).collect();
        let built_in: Vec<&str> = BUILT_IN.iter().map(|(name, _)| *name).filter(|name| name.ends_with(".html")).collect();
        for name in &built_in {
            assert!(listed.contains(name), "{name} is not listed");
        }
        assert_eq!(listed.len(), built_in.len(), "a template is listed that is not there");
    }
}
