//! Colours for examples of guides: a small syntax of our own for the syntax highlighter, which gives
//! classes and leaves their colours to the theme. Only user of the highlighter in pages.

use std::collections::HashMap;
use std::sync::LazyLock;

use syntect::html::{ClassStyle, ClassedHTMLGenerator};
use syntect::parsing::syntax_definition::{Context, MatchOperation, MatchPattern, Pattern};
use syntect::parsing::{Scope, SyntaxDefinition, SyntaxSet, SyntaxSetBuilder};
use syntect::util::LinesWithEndings;

/// The name of the syntax, and the ending by which it is found.
const NAME: &str = "bayleaf guide";

/// What is told apart in a guide: a scope and the expression that finds it, the first match wins.
const PATTERNS: &[(&str, &str)] = &[
    ("punctuation.definition.block", r"^\+\+\+[ \t]*"),
    ("markup.heading", r"^#{1,6} [^\n]*"),
    ("entity.name.section", r"^\s*\[\[?[a-z_.]+\]?\]"),
    ("variable.other.key", r"[A-Za-z_][A-Za-z0-9_-]*(?=\s*=)"),
    ("string.quoted", "\"[^\"\\n]*\""),
    ("constant.numeric", r"\b\d{4}-\d{2}-\d{2}\b|(?<=[=\[, ])\d+(\.\d+)?\b"),
    ("constant.language", r"\b(true|false)\b"),
    ("markup.underline.link", r"!?\[[^\]\n]*\]\([^)\n]*\)"),
];

static SYNTAXES: LazyLock<SyntaxSet> = LazyLock::new(|| {
    let mut context = Context::new(true);
    for (scope, expression) in PATTERNS {
        let scope: Vec<Scope> = Scope::new(scope).into_iter().collect();
        context.patterns.push(Pattern::Match(MatchPattern::new(false, (*expression).to_owned(), scope, None, MatchOperation::None, None)));
    }
    let mut builder = SyntaxSetBuilder::new();
    builder.add(SyntaxDefinition {
        name: NAME.to_owned(),
        file_extensions: vec!["md".to_owned()],
        scope: Scope::new("text.bayleaf").unwrap_or_default(),
        first_line_match: None,
        hidden: false,
        variables: HashMap::new(),
        contexts: HashMap::from([("__start".to_owned(), context.clone()), ("main".to_owned(), context)]),
    });
    builder.build()
});

/// The text of a guide as HTML with a class on everything that is told apart.
pub fn guide(text: &str) -> String {
    let Some(syntax) = SYNTAXES.find_syntax_by_name(NAME) else { return super::html::escape(text) };
    let style = ClassStyle::SpacedPrefixed { prefix: "c-" };
    let mut generator = ClassedHTMLGenerator::new_with_class_style(syntax, &SYNTAXES, style);
    for line in LinesWithEndings::from(text) {
        if generator.parse_html_for_line_which_includes_newline(line).is_err() {
            return super::html::escape(text);
        }
    }
    generator.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn facts_and_words_are_told_apart_and_nothing_is_lost() {
        let text = "+++\ntorque = \"45 N·m\" \nminutes = 5\n+++\n\n## Fit <b>\n\nSee [](spec:a).\n";
        let html = guide(text);
        for class in ["c-block", "c-key", "c-string", "c-numeric", "c-heading", "c-link"] {
            assert!(html.contains(class), "{class}: {html}");
        }
        let mut plain = String::new();
        let mut inside = false;
        for c in html.chars() {
            match c {
                '<' => inside = true,
                '>' => inside = false,
                c if !inside => plain.push(c),
                _ => {}
            }
        }
        assert_eq!(plain.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&"), text);
    }
}
