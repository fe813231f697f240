//! Colours for examples of guides: a small syntax of our own for the syntax highlighter, which gives
//! classes and leaves their colours to the theme. Only user of the highlighter in pages.

use std::collections::{BTreeSet, HashMap};
use std::ops::Range;
use std::sync::LazyLock;

use syntect::html::{ClassStyle, ClassedHTMLGenerator};
use syntect::parsing::syntax_definition::{Context, MatchOperation, MatchPattern, Pattern};
use syntect::parsing::{ParseState, Scope, ScopeStack, SyntaxDefinition, SyntaxSet, SyntaxSetBuilder};
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
    let Some(syntax) = SYNTAXES.find_syntax_by_name(NAME) else { return crate::markup::escape(text) };
    let style = ClassStyle::SpacedPrefixed { prefix: "c-" };
    let mut generator = ClassedHTMLGenerator::new_with_class_style(syntax, &SYNTAXES, style);
    for line in LinesWithEndings::from(text) {
        if generator.parse_html_for_line_which_includes_newline(line).is_err() {
            return crate::markup::escape(text);
        }
    }
    generator.finalize()
}

/// A stretch of a line that is marked: its bytes in the line, and the class of the mark. Of two marks on the same
/// characters the later one in the list shows.
pub type Mark = (Range<usize>, &'static str);

/// The lines of a guide as HTML, each by itself and without its end; `marks` are those of each line.
pub fn lines(text: &str, marks: impl Fn(usize) -> Vec<Mark>) -> Vec<String> {
    /// A line longer than this is no line that anybody reads for its colours.
    const LONGEST: usize = 4000;
    let mut state = SYNTAXES.find_syntax_by_name(NAME).map(ParseState::new);
    let mut stack = ScopeStack::new();
    let mut html = Vec::new();
    for (at, line) in LinesWithEndings::from(text).enumerate() {
        let mut pieces: Vec<(usize, String)> = Vec::new();
        if let Some(Ok(operations)) = state.as_mut().filter(|_| line.len() <= LONGEST).map(|state| state.parse_line(line, &SYNTAXES)) {
            for (offset, operation) in operations {
                if stack.apply(&operation).is_err() {
                    break;
                }
                pieces.push((offset, class_of(&stack)));
            }
        }
        html.push(line_html(line.trim_end_matches(['\n', '\r']), &pieces, &marks(at)));
    }
    html
}

/// The class of what stands on top of the stack; below it is only the text as a whole.
fn class_of(stack: &ScopeStack) -> String {
    let name = stack.as_slice().last().map(|scope| scope.build_string()).filter(|name| !name.starts_with("text."));
    name.unwrap_or_default().split('.').filter(|part| !part.is_empty()).map(|part| format!("c-{part}")).collect::<Vec<_>>().join(" ")
}

/// One line; `pieces` say from where on which class holds.
fn line_html(line: &str, pieces: &[(usize, String)], marks: &[Mark]) -> String {
    let mut cuts: BTreeSet<usize> = BTreeSet::from([0, line.len()]);
    let places = pieces.iter().map(|(at, _)| *at).chain(marks.iter().flat_map(|(range, _)| [range.start, range.end]));
    cuts.extend(places.map(|at| line.floor_char_boundary(at.min(line.len()))));
    let cuts: Vec<usize> = cuts.into_iter().collect();
    let gap = |at: usize| marks.iter().find(|(range, _)| range.is_empty() && range.start.min(line.len()) == at);
    let mut html = String::with_capacity(line.len() + 32);
    let put_gap = |html: &mut String, at: usize| {
        if let Some((_, class)) = gap(at) {
            html.push_str(&format!("<mark class=\"{class} gap\"></mark>"));
        }
    };
    let mut open: Option<&str> = None;
    for cut in cuts.windows(2) {
        let (start, end) = (cut[0], cut[1]);
        let mark = marks.iter().rev().find(|(range, _)| range.start <= start && end <= range.end).map(|(_, class)| *class);
        if open != mark || gap(start).is_some() {
            html.push_str(if open.is_some() { "</mark>" } else { "" });
            put_gap(&mut html, start);
            html.push_str(&mark.map_or_else(String::new, |class| format!("<mark class=\"{class}\">")));
            open = mark;
        }
        let class = pieces.iter().rev().find(|(at, _)| *at <= start).map_or("", |(_, class)| class);
        let piece = crate::markup::escape(&line[start..end]);
        html.push_str(&if class.is_empty() { piece } else { format!("<span class=\"{class}\">{piece}</span>") });
    }
    html.push_str(if open.is_some() { "</mark>" } else { "" });
    put_gap(&mut html, line.len());
    html
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_the_same_words_with_their_marks() {
        let text = "+++\r\ntorque = \"45 N·m\"\n\n<b>ö";
        let html = lines(text, |at| match at {
            1 => vec![(10..16, "hold")],
            2 => vec![(0..0, "query")],
            3 => vec![(1..99, "remark"), (3..5, "hold")],
            _ => Vec::new(),
        });
        assert_eq!(html[0], "<span class=\"c-punctuation c-definition c-block\">+++</span>");
        assert!(html[1].contains("<mark class=\"hold\"><span class=\"c-string c-quoted\">45 N·"), "{}", html[1]);
        assert_eq!(html[2], "<mark class=\"query gap\"></mark>");
        assert_eq!(html[3], "&lt;<mark class=\"remark\">b&gt;</mark><mark class=\"hold\">ö</mark>");
        assert_eq!(lines("", |_| Vec::new()), Vec::<String>::new());
    }

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
