//! The text report, in the manner of a checked drawing: remarks numbered at the margin, the words in question underlined, the remedy
//! beneath. Whether colour may be used is left to `cli`.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::ops::Range;

use unicode_width::UnicodeWidthStr as _;

use super::Sources;
use crate::finding::{Edit, Finding, Severity};
use crate::source::{FileId, Place, SourceFile, Span};

/// How the report is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// Whether escape sequences for colour are written.
    pub colour: bool,
    /// The width of the terminal in characters.
    pub width: usize,
}

/// How text is set off where colour may be used, as parameters of SGR (ECMA-48, 8.3.117).
const STRONG: &str = "1";
const FAINT: &str = "2";
const UNDERLINED: &str = "4";

/// Below the number of a remark nothing stands: all of its lines begin here.
const MARGIN: &str = "     ";
/// Where lines of a guide are shown.
const EXCERPT: &str = "        ";

impl Style {
    fn set(self, codes: &str, text: &str) -> String {
        if self.colour && !text.is_empty() { format!("\u{1b}[{codes}m{text}\u{1b}[0m") } else { text.to_owned() }
    }
}

/// The colour of a weight.
fn hue(severity: Severity) -> &'static str {
    match severity {
        Severity::Hold => "31",
        Severity::Query => "33",
        Severity::Remark => "36",
    }
}

/// One finding as the remark of this number: what is wrong, where, the words in question, the remedy and what it makes of them.
pub fn finding(number: usize, finding: &Finding, sources: &Sources, style: Style) -> String {
    let mut text = head(number, finding, style);
    let _ = writeln!(text, "{MARGIN}{}", style.set(FAINT, &format!("{}, rule {}", at(finding.place, sources), finding.rule.name())));
    let colour = hue(finding.severity);
    if let Some(source) = sources.get(&finding.place.file) {
        excerpt(&mut text, source, finding.place, colour, style);
    }
    for related in &finding.related {
        if let Some(source) = sources.get(&related.place.file) {
            let _ = writeln!(text, "{MARGIN}{}, {}:", seen(&related.label), at(related.place, sources));
            excerpt(&mut text, source, related.place, "", style);
        }
    }
    let _ = writeln!(text, "{MARGIN}Remedy: {}", seen(&finding.remedy));
    if let (Some(edit), Some(source)) = (&finding.edit, sources.get(&finding.place.file)) {
        mended(&mut text, source, edit, style);
    }
    text
}

/// Number, weight and message.
fn head(number: usize, finding: &Finding, style: Style) -> String {
    let weight = style.set(&format!("{STRONG};{}", hue(finding.severity)), &finding.severity.word().to_uppercase());
    format!("{number:>3}  {weight}  {}\n", style.set(STRONG, &seen(&finding.message)))
}

/// The lines as an edit would leave them.
fn mended(text: &mut String, source: &SourceFile, edit: &Edit, style: Style) {
    let (lines, _) = source.lines_of(edit.span);
    let span = source.clamp(edit.span);
    let after = format!("{}{}{}", &source.text[lines.start..span.start], edit.text, &source.text[span.end..lines.end]);
    let start = span.start - lines.start;
    let _ = writeln!(text, "{MARGIN}{}", if edit.certain { "It then reads:" } else { "Perhaps:" });
    marked_lines(text, &after, start..start + edit.text.len(), "32", style);
    if edit.certain {
        let _ = writeln!(text, "{MARGIN}`bayleaf review --mend` does this.");
    }
}

/// The lines that a place touches, with what is meant underlined.
fn excerpt(text: &mut String, source: &SourceFile, place: Place, colour: &str, style: Style) {
    let shown = source.marked(place.span);
    let (lines, _) = source.lines_of(Span::new(shown.clone()));
    marked_lines(text, &source.text[lines.clone()], shown.start - lines.start..shown.end - lines.start, colour, style);
}

/// Lines with a range of their bytes underlined: by the terminal where it can, else by a line of strokes beneath.
fn marked_lines(text: &mut String, lines: &str, marked: Range<usize>, colour: &str, style: Style) {
    let mut start = 0;
    for line in lines.split_inclusive('\n') {
        let shown = line.trim_end_matches(['\n', '\r']);
        let from = marked.start.clamp(start, start + shown.len()) - start;
        let to = marked.end.clamp(start + from, start + shown.len()) - start;
        let touched = marked.start < start + line.len() && marked.end > start
            || (marked.is_empty() && (start..start + line.len().max(1)).contains(&marked.start));
        let (before, middle, after) =
            window(&shown[..from], &shown[from..to], &shown[to..], style.width.saturating_sub(EXCERPT.len()).max(40));
        let codes = if colour.is_empty() { UNDERLINED.to_owned() } else { format!("{UNDERLINED};{colour}") };
        let _ = writeln!(text, "{EXCERPT}{}", format!("{before}{}{after}", style.set(&codes, &middle)).trim_end());
        // An empty place has no words to underline, so that it is pointed at even where the terminal can.
        if touched && (!style.colour || middle.is_empty()) {
            let strokes = middle.width().max(1);
            let _ = writeln!(text, "{EXCERPT}{}{}", " ".repeat(before.width()), style.set(colour, &"\u{203e}".repeat(strokes)));
        }
        start += line.len();
    }
}

/// A line in no more than `most` columns, the middle of it in any case as far as it fits; what is left out shows as `…`.
fn window(before: &str, middle: &str, after: &str, most: usize) -> (String, String, String) {
    let (before, middle, after) = (plain(before), plain(middle), plain(after));
    if before.width() + middle.width() + after.width() <= most {
        return (before, middle, after);
    }
    let middle = first(&middle, most * 2 / 3);
    let left = most.saturating_sub(middle.width());
    let tail = after.width().min(left / 2).max(left.saturating_sub(before.width()));
    let after = first(&after, tail);
    let before = last(&before, left.saturating_sub(after.width()));
    (before, middle, after)
}

/// Tabulators as spaces, so that what stands beneath stands beneath.
fn plain(text: &str) -> String {
    seen(&text.replace('\t', "    ")).into_owned()
}

/// What a guide says, with each sign that steers a terminal as a picture of it (Unicode, Control Pictures): the sequences that set colours
/// are ours alone, and one in a name or a line of a guide could hide what stands behind it.
fn seen(text: &str) -> Cow<'_, str> {
    if !text.chars().any(char::is_control) {
        return Cow::Borrowed(text);
    }
    let picture = |c: char| match u32::from(c) {
        _ if !c.is_control() || matches!(c, '\n' | '\t') => c,
        c0 @ 0..0x20 => char::from_u32(0x2400 + c0).unwrap_or(char::REPLACEMENT_CHARACTER),
        0x7f => '\u{2421}',
        _ => char::REPLACEMENT_CHARACTER,
    };
    Cow::Owned(text.chars().map(picture).collect())
}

/// The first columns of a text.
fn first(text: &str, most: usize) -> String {
    if text.width() <= most {
        return text.to_owned();
    }
    let mut cut = String::new();
    for c in text.chars() {
        cut.push(c);
        if cut.width() >= most {
            cut.pop();
            break;
        }
    }
    cut + "…"
}

/// The last columns of a text.
fn last(text: &str, most: usize) -> String {
    if text.width() <= most {
        return text.to_owned();
    }
    let turned: String = text.chars().rev().collect();
    first(&turned, most).chars().rev().collect()
}

/// Findings as one text. Of one rule in one file the first are shown with their excerpts, and each of the others has its line: the gravest
/// omission may be the last. Where there are many, a summary by rule and cause stands first.
pub fn findings(findings: &[Finding], sources: &Sources, style: Style) -> String {
    /// How many of one rule in one file are shown with their excerpts.
    const MOST: usize = 30;
    let mut counts: BTreeMap<(FileId, &str), usize> = BTreeMap::new();
    let mut text = if findings.len() > MOST { summary(findings, sources) } else { String::new() };
    let mut in_lines = false;
    for (number, one) in findings.iter().enumerate() {
        let count = counts.entry((one.place.file, one.rule.name())).or_default();
        *count += 1;
        if *count <= MOST {
            text.push_str(if in_lines { "\n" } else { "" });
            text.push_str(&finding(number + 1, one, sources, style));
            text.push('\n');
        } else {
            let _ = writeln!(
                text,
                "{:>3}  {}  {} {}",
                number + 1,
                one.severity.word().to_uppercase(),
                at(one.place, sources),
                seen(&one.message)
            );
        }
        in_lines = *count > MOST;
    }
    text.push_str(if in_lines { "\n" } else { "" });
    text
}

/// Path, line and column.
fn at(place: Place, sources: &Sources) -> String {
    sources.get(&place.file).map_or_else(
        || "?".to_owned(),
        |source| {
            let position = source.position(place.span.start);
            format!("{}:{}:{}", seen(&source.path), position.line, position.column)
        },
    )
}

/// How many findings there are of each rule and cause, the gravest and most frequent first, each with its first place.
fn summary(findings: &[Finding], sources: &Sources) -> String {
    let mut causes: BTreeMap<(Severity, &str, String), (usize, &Finding)> = BTreeMap::new();
    for one in findings {
        causes.entry((one.severity, one.rule.name(), cause(&seen(&one.message)))).or_insert((0, one)).0 += 1;
    }
    let mut rows: Vec<_> = causes.into_iter().collect();
    rows.sort_by_key(|((severity, ..), (count, _))| (std::cmp::Reverse(*severity), std::cmp::Reverse(*count)));
    let mut text = format!("{} findings, by rule and cause:\n", findings.len());
    for ((severity, rule, cause), (count, first)) in rows {
        let _ = writeln!(text, "{count:>6} × {}  {rule}: {cause}, first at {}", severity.word().to_uppercase(), at(first.place, sources));
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

    /// What is underlined stands above its strokes, whatever the widths (Unicode, UAX 11), also where the line is cut.
    #[test]
    fn strokes_stand_under_what_they_mean() {
        let long = format!("{}漢字 25 N·m {}", "word ".repeat(40), "tail ".repeat(40));
        for line in ["\ttighten to 25 N·m now", "漢字 25 N·m", long.as_str()] {
            let from = line.find("25 N·m").unwrap();
            let mut text = String::new();
            marked_lines(&mut text, line, from..from + "25 N·m".len(), "", Style { colour: false, width: 80 });
            let (shown, strokes) = text.trim_end().split_once('\n').unwrap();
            let at = shown[..shown.find("25 N·m").unwrap()].width();
            assert_eq!(strokes, format!("{}{}", " ".repeat(at), "\u{203e}".repeat(6)));
            assert!(shown.width() <= 80, "{shown}");
        }
    }

    /// ECMA-48, 8.3.117: parameter 8 conceals.
    #[test]
    fn no_sequence_of_a_guide_reaches_the_terminal() {
        let hostile = "a\u{1b}[8mhidden\u{9b}31m\u{7}";
        let source = SourceFile::new("a.md", hostile);
        let place = Place { file: FileId(0), span: Span::new(0..hostile.len()) };
        let made = Finding::hold(RuleName::TypeWrong, place, hostile, hostile).with_related(place, hostile).with_edit(place.span, hostile);
        let sources = Sources::from([(FileId(0), source)]);
        for colour in [true, false] {
            let style = Style { colour, width: 100 };
            let many: Vec<Finding> = (0..40).map(|_| made.clone()).collect();
            for shown in [finding(1, &made, &sources, style), findings(&many, &sources, style)] {
                let ours = shown.split('\u{1b}').skip(1).filter(|rest| {
                    ["[1m", "[2m", "[0m", "[1;31m", "[4;31m", "[4;32m", "[4m", "[31m", "[32m"].iter().any(|code| rest.starts_with(code))
                });
                assert_eq!(ours.count(), shown.matches('\u{1b}').count(), "{shown:?}");
                assert!(!shown.contains(['\u{9b}', '\u{7}']) && shown.contains("\u{241b}[8mhidden"), "{shown:?}");
            }
        }
    }

    #[test]
    fn with_colour_the_words_themselves_are_underlined() {
        let mut text = String::new();
        marked_lines(&mut text, "to 25 N·m", 3..10, "31", Style { colour: true, width: 80 });
        assert_eq!(text, "        to \u{1b}[4;31m25 N·m\u{1b}[0m\n");
    }

    proptest! {
        #[test]
        fn any_span_in_any_text_can_be_shown(text in "(\\PC|\n|\r|\t){0,80}", start in 0u32..120, end in 0u32..120) {
            let place = Place { file: FileId(0), span: Span { start, end } };
            let sources = Sources::from([(FileId(0), SourceFile::new("a.md", text))]);
            let plain = Style { colour: false, width: 100 };
            let shown = finding(7, &Finding::hold(RuleName::TypeWrong, place, "m", "r").with_edit(place.span, "t").with_related(place, "l"), &sources, plain);
            prop_assert!(shown.starts_with("  7  HOLD  m\n") && shown.contains(", rule type-wrong\n"));
            prop_assert!(shown.lines().all(|line| line.width() <= 100));
        }
    }
}
