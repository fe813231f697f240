//! The text report: each finding with its excerpt, as a compiler shows it. The only user of the excerpt
//! drawer; whether colour may be used is left to `cli`.

use std::collections::BTreeMap;
use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Patch, Renderer, Snippet};

use super::Sources;
use crate::finding::{Finding, Severity};
use crate::source::{FileId, Place, SourceFile, Span};

/// How the report is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// Whether escape sequences for colour are written.
    pub colour: bool,
    /// The width of the terminal in characters.
    pub width: usize,
}

/// One finding with its excerpt, remedy and edit.
pub fn finding(finding: &Finding, sources: &Sources, style: Style) -> String {
    let level = match finding.severity {
        Severity::Hold => Level::ERROR,
        Severity::Query => Level::WARNING,
        Severity::Remark => Level::INFO,
    };
    let title = level.with_name(finding.severity.word()).primary_title(&finding.message).id(finding.rule.name());
    let mut group: Group<'_> = title.element(match sources.get(&finding.place.file) {
        Some(source) => excerpt(source, finding.place, AnnotationKind::Primary, None),
        None => Snippet::source("").path("?"),
    });
    for related in &finding.related {
        if let Some(source) = sources.get(&related.place.file) {
            group = group.element(excerpt(source, related.place, AnnotationKind::Context, Some(&related.label)));
        }
    }
    let help = Level::HELP.with_name("to do");
    let report = match (&finding.edit, sources.get(&finding.place.file)) {
        (Some(edit), Some(source)) => {
            let (lines, first) = source.lines_of(edit.span);
            let span = within(source.clamp(edit.span), &lines);
            let patch = Snippet::source(&source.text[lines]).path(source.path.as_str()).line_start(first);
            let mended = help.secondary_title(&finding.remedy).element(patch.patch(Patch::new(span, edit.text.as_str())));
            let note = edit.certain.then(|| Level::NOTE.message("`bayleaf review --mend` does this"));
            vec![group, mended.elements(note)]
        }
        _ => vec![group.element(help.message(&finding.remedy))],
    };
    let renderer = if style.colour { Renderer::styled() } else { Renderer::plain() };
    renderer.term_width(style.width).render(&report)
}

/// The lines a place touches, marked. The drawer gets these lines only: it looks at every line it is given,
/// and a long file may have thousands of findings.
fn excerpt<'s>(source: &'s SourceFile, place: Place, kind: AnnotationKind, label: Option<&'s str>) -> Snippet<'s, Annotation<'s>> {
    let shown = source.marked(place.span);
    let (lines, first) = source.lines_of(Span::new(shown.clone()));
    let mut mark = kind.span(within(shown, &lines));
    if let Some(label) = label {
        mark = mark.label(label);
    }
    Snippet::source(&source.text[lines]).path(source.path.as_str()).line_start(first).annotation(mark)
}

fn within(range: Range<usize>, lines: &Range<usize>) -> Range<usize> {
    range.start - lines.start..range.end - lines.start
}

/// Findings as one text. Of one rule in one file the first are shown with their excerpts, and each of the others has its line: the gravest
/// omission may be the last. Where there are many, a summary by rule and cause stands first.
pub fn findings(findings: &[Finding], sources: &Sources, style: Style) -> String {
    /// How many of one rule in one file are shown with their excerpts.
    const MOST: usize = 30;
    let mut counts: BTreeMap<(FileId, &str), usize> = BTreeMap::new();
    let mut text = if findings.len() > MOST { summary(findings, sources) } else { String::new() };
    let mut in_lines = false;
    for one in findings {
        let count = counts.entry((one.place.file, one.rule.name())).or_default();
        *count += 1;
        if *count <= MOST {
            text.push_str(if in_lines { "\n" } else { "" });
            text.push_str(&finding(one, sources, style));
            text.push_str("\n\n");
        } else {
            text.push_str(&format!("{}[{}] {}: {}\n", one.severity.word(), one.rule, at(one, sources), one.message));
        }
        in_lines = *count > MOST;
    }
    text.push_str(if in_lines { "\n" } else { "" });
    text
}

/// Path, line and column.
fn at(finding: &Finding, sources: &Sources) -> String {
    sources.get(&finding.place.file).map_or_else(
        || "?".to_owned(),
        |source| {
            let position = source.position(finding.place.span.start);
            format!("{}:{}:{}", source.path, position.line, position.column)
        },
    )
}

/// How many findings there are of each rule and cause, the gravest and most frequent first, each with its first place.
fn summary(findings: &[Finding], sources: &Sources) -> String {
    let mut causes: BTreeMap<(Severity, &str, String), (usize, &Finding)> = BTreeMap::new();
    for one in findings {
        causes.entry((one.severity, one.rule.name(), cause(&one.message))).or_insert((0, one)).0 += 1;
    }
    let mut rows: Vec<_> = causes.into_iter().collect();
    rows.sort_by_key(|((severity, ..), (count, _))| (std::cmp::Reverse(*severity), std::cmp::Reverse(*count)));
    let mut text = format!("{} findings, by rule and cause:\n", findings.len());
    for ((severity, rule, cause), (count, first)) in rows {
        text.push_str(&format!("{count:>6} {}[{rule}] {cause}, first at {}\n", severity.word(), at(first, sources)));
    }
    text.push('\n');
    text
}

/// What a message says, less what it says it of: names, values and counts.
fn cause(message: &str) -> String {
    let mut cause = String::new();
    let mut quoted: Option<char> = None;
    for c in message.chars() {
        match quoted {
            Some(end) if c == end => quoted = None,
            Some(_) => {}
            None if matches!(c, '`' | '"') => {
                cause.push('…');
                quoted = Some(c);
            }
            None if c.is_ascii_digit() => {
                if !cause.ends_with('#') {
                    cause.push('#');
                }
            }
            None => cause.push(c),
        }
    }
    // A counted thing is a name too: `4 × Seat bolt are done up`.
    match cause.split_once("# × ") {
        Some((before, rest)) => {
            let verb = [" are ", " is "].iter().filter_map(|verb| rest.find(verb)).min().unwrap_or(0);
            format!("{before}# × …{}", &rest[verb..])
        }
        None => cause,
    }
}

/// The line that closes a report: how many of each weight, and what was accepted.
pub fn totals(holds: usize, queries: usize, remarks: usize, accepted: usize) -> String {
    let part = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let mut line =
        format!("{}, {}, {}", part(holds, "hold", "holds"), part(queries, "query", "queries"), part(remarks, "remark", "remarks"));
    if accepted > 0 {
        line.push_str(&format!("; {}", part(accepted, "finding accepted with a reason", "findings accepted with reasons")));
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::RuleName;
    use proptest::prelude::*;

    #[test]
    fn totals_are_words() {
        assert_eq!(totals(1, 0, 2, 0), "1 hold, 0 queries, 2 remarks");
        assert!(totals(0, 1, 0, 1).ends_with("; 1 finding accepted with a reason"));
    }

    #[test]
    fn a_cause_is_what_is_left_when_names_and_numbers_are_gone() {
        assert_eq!(cause("no step has the id `a-1`"), cause("no step has the id `b`"));
        assert_eq!(cause("4 × Seat bolt are done up with no torque"), cause("12 × Rail nut are done up with no torque"));
        assert_ne!(cause("`a` is removed here and never fitted again"), cause("`a` is loosened here and never tightened again"));
    }

    proptest! {
        #[test]
        fn any_span_in_any_text_can_be_shown(text in "(\\PC|\n|\r|\t){0,80}", start in 0u32..120, end in 0u32..120) {
            let place = Place { file: FileId(0), span: Span { start, end } };
            let sources = Sources::from([(FileId(0), SourceFile::new("a.md", text))]);
            let plain = Style { colour: false, width: 100 };
            let shown = finding(&Finding::hold(RuleName::TypeWrong, place, "m", "r").with_edit(place.span, "t").with_related(place, "l"), &sources, plain);
            prop_assert!(shown.contains("hold[type-wrong]: m"));
        }
    }
}
