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

/// Findings as one text. Of one rule in one file the first are shown and the rest counted: nobody reads a thousand
/// of a kind, and a slip that is made everywhere is seen as well from thirty places.
pub fn findings(findings: &[Finding], sources: &Sources, style: Style) -> String {
    /// How many of one rule in one file are shown.
    const MOST: usize = 30;
    let mut counts: BTreeMap<(FileId, &str), usize> = BTreeMap::new();
    let mut text = String::new();
    for one in findings {
        let count = counts.entry((one.place.file, one.rule.name())).or_default();
        *count += 1;
        if *count <= MOST {
            text.push_str(&finding(one, sources, style));
            text.push_str("\n\n");
        }
    }
    for ((file, rule), count) in counts.into_iter().filter(|(_, count)| *count > MOST) {
        let path = sources.get(&file).map_or("?", |source| source.path.as_str());
        text.push_str(&format!("and {} more of {rule} in {path}\n\n", count - MOST));
    }
    text
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
