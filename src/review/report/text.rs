//! The text report: each finding with its excerpt, as a compiler shows it. The only user of the excerpt
//! drawer; whether colour may be used is left to `cli`.

use annotate_snippets::{AnnotationKind, Group, Level, Patch, Renderer, Snippet};

use super::Sources;
use crate::finding::{Finding, Severity};
use crate::source::{Place, SourceFile};

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
    let mut group: Group<'_> = level.with_name(finding.severity.word()).primary_title(&finding.message).id(finding.rule).element(
        match sources.get(&finding.place.file) {
            Some(source) => excerpt(source).annotation(AnnotationKind::Primary.span(shown(source, finding.place))),
            None => Snippet::source("").path("?"),
        },
    );
    for related in &finding.related {
        if let Some(source) = sources.get(&related.place.file) {
            let label = AnnotationKind::Context.span(shown(source, related.place)).label(related.label.as_str());
            group = group.element(excerpt(source).annotation(label));
        }
    }
    let help = Level::HELP.with_name("to do");
    let report = match (&finding.edit, sources.get(&finding.place.file)) {
        (Some(edit), Some(source)) => {
            let span = source.clamp(edit.span);
            let patch = Snippet::source(source.text.as_str()).path(source.path.as_str()).patch(Patch::new(span, edit.text.as_str()));
            vec![group, help.secondary_title(&finding.remedy).element(patch)]
        }
        _ => vec![group.element(help.message(&finding.remedy))],
    };
    let renderer = if style.colour { Renderer::styled() } else { Renderer::plain() };
    renderer.term_width(style.width).render(&report)
}

fn excerpt(source: &SourceFile) -> Snippet<'_, annotate_snippets::Annotation<'_>> {
    Snippet::source(source.text.as_str()).path(source.path.as_str())
}

/// A span that the drawer can show: inside the file, at character boundaries, no longer than a few lines.
fn shown(source: &SourceFile, place: Place) -> std::ops::Range<usize> {
    let range = source.clamp(place.span);
    let text = &source.text[range.clone()];
    // A finding about a whole block points at its first line; the rest would push the message off the screen.
    let end = text.match_indices('\n').nth(3).map_or(range.end, |_| range.start + text.find('\n').unwrap_or(text.len()));
    range.start..end
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
    use crate::source::{FileId, Span};
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
            let sources = Sources::from([(FileId(0), SourceFile { path: "a.md".into(), text })]);
            let plain = Style { colour: false, width: 100 };
            let shown = finding(&Finding::hold("x", place, "m", "r").with_edit(place.span, "t").with_related(place, "l"), &sources, plain);
            prop_assert!(shown.contains("hold[x]: m"));
        }
    }
}
