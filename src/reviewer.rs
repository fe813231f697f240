//! The reviewer's page: sources with their findings under the lines, as data for its template. It gets findings and
//! sources only; which rules there are and what became of the guides is left to `cli`.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use sha2::{Digest, Sha256};

use crate::finding::{Edit, Finding, Severity};
use crate::highlight::{self, Mark};
use crate::markup::{base64, escape, with_code};
use crate::source::{FileId, Place, SourceFile, Span};
use crate::theme::data::{
    AcceptedFinding, Findings, FindingsFile, PinnedFinding, RelatedPlace, RuleCount, ShownEdit, SourceLine, SourcePiece, VERSION,
    WeightCount,
};
use crate::theme::{Theme, ThemeError};

/// Lines shown before and behind a line with a finding.
const AROUND: usize = 3;
/// Fewer lines than this are not folded away: the fold would take as much room.
const LEAST_FOLD: usize = 6;
/// How many findings of one rule in one file are pinned. A slip that is made everywhere is seen as well from these.
const MOST: usize = 500;

/// A file that may be on the page.
#[derive(Clone, Debug)]
pub struct InputFile<'i> {
    /// Its text.
    pub source: &'i SourceFile,
    /// Its path as the page shows it.
    pub path: &'i str,
    /// The guide's title.
    pub title: Option<String>,
}

/// What the page is made from.
#[derive(Clone, Debug)]
pub struct Input<'i> {
    /// The version of bayleaf.
    pub program: &'i str,
    /// The shop's name.
    pub shop: &'i str,
    /// The language of the guides.
    pub language: &'i str,
    /// The sentence that puts the vehicle maker's instructions first.
    pub deferral: &'i str,
    /// How many guides were reviewed.
    pub guides: usize,
    /// Every file.
    pub files: BTreeMap<FileId, InputFile<'i>>,
    /// The findings in the order of reports.
    pub findings: Vec<&'i Finding>,
    /// What was accepted, with the reason.
    pub accepted: Vec<(&'i Finding, &'i str)>,
    /// The rules' names with a sentence on each.
    pub rules: Vec<(&'i str, &'i str)>,
}

/// The data of the page, in the style and with the script of `theme`.
pub fn page(input: &Input<'_>, theme: &Theme) -> Findings {
    let mut shown: BTreeSet<FileId> = BTreeSet::new();
    for finding in input.findings.iter().copied().chain(input.accepted.iter().map(|(finding, _)| *finding)) {
        shown.insert(finding.place.file);
        shown.extend(finding.related.iter().map(|related| related.place.file));
    }
    shown.retain(|file| input.files.contains_key(file));
    let maker = Maker { input, shown };
    let mut number = 0;
    let files = maker.shown.iter().map(|&file| maker.file(file, &mut number)).collect();
    let style = ["sheet.css", "code.css", "findings.css"].map(|name| theme.text(name)).join("\n");
    let script = theme.text("findings.js").to_owned();
    Findings {
        version: VERSION,
        language: input.language.to_owned(),
        program: input.program.to_owned(),
        shop: input.shop.to_owned(),
        guides: input.guides,
        weights: [Severity::Hold, Severity::Query, Severity::Remark]
            .map(|weight| WeightCount { weight: weight.word(), title: titles(weight), count: count(&input.findings, weight) })
            .to_vec(),
        total: number,
        rules: rules(input),
        files,
        accepted: input.accepted.iter().map(|(finding, reason)| maker.accepted(finding, reason)).collect(),
        deferral: input.deferral.to_owned(),
        // Style and script stand in the page; the browser runs them because their content has these hashes, and nothing else.
        policy: format!(
            "default-src 'none'; style-src 'sha256-{}'; script-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
            base64(&Sha256::digest(style.as_bytes())),
            base64(&Sha256::digest(script.as_bytes()))
        ),
        style,
        script,
    }
}

fn count(findings: &[&Finding], weight: Severity) -> usize {
    findings.iter().filter(|finding| finding.severity == weight).count()
}

fn word(weight: Severity) -> &'static str {
    match weight {
        Severity::Hold => "Hold",
        Severity::Query => "Query",
        Severity::Remark => "Remark",
    }
}

fn titles(weight: Severity) -> &'static str {
    match weight {
        Severity::Hold => "Holds",
        Severity::Query => "Queries",
        Severity::Remark => "Remarks",
    }
}

/// `2 holds, 1 query`; what there is none of is left out.
fn counts(findings: &[&Finding]) -> String {
    let parts = [(Severity::Hold, "hold", "holds"), (Severity::Query, "query", "queries"), (Severity::Remark, "remark", "remarks")].map(
        |(weight, one, many)| match count(findings, weight) {
            0 => None,
            1 => Some(format!("1 {one}")),
            count => Some(format!("{count} {many}")),
        },
    );
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() { "no findings of its own".to_owned() } else { parts.join(", ") }
}

fn rules(input: &Input<'_>) -> Vec<RuleCount> {
    let mut counts: BTreeMap<(Severity, &str), usize> = BTreeMap::new();
    for finding in &input.findings {
        *counts.entry((finding.severity, finding.rule.name())).or_default() += 1;
    }
    let mut rows: Vec<((Severity, &str), usize)> = counts.into_iter().collect();
    rows.sort_by(|((a, a_name), a_count), ((b, b_name), b_count)| (b, b_count, a_name).cmp(&(a, a_count, b_name)));
    rows.into_iter()
        .map(|((severity, name), count)| RuleCount {
            name: name.to_owned(),
            summary: input.rules.iter().find(|(rule, _)| *rule == name).map_or_else(String::new, |(_, summary)| (*summary).to_owned()),
            weight: severity.word(),
            word: word(severity),
            count,
        })
        .collect()
}

struct Maker<'m, 'i> {
    input: &'m Input<'i>,
    /// The files that are on the page.
    shown: BTreeSet<FileId>,
}

impl Maker<'_, '_> {
    fn file(&self, file: FileId, number: &mut usize) -> FindingsFile {
        let InputFile { source, path, title } = &self.input.files[&file];
        let findings: Vec<&Finding> = self.input.findings.iter().copied().filter(|finding| finding.place.file == file).collect();
        let mut of_rule: BTreeMap<&str, usize> = BTreeMap::new();
        let mut pinned: BTreeMap<usize, Vec<PinnedFinding>> = BTreeMap::new();
        let mut marks: BTreeMap<usize, Vec<Mark>> = BTreeMap::new();
        // Lighter marks first: where two meet, the graver one shows.
        let mut kept: Vec<&Finding> = findings
            .iter()
            .copied()
            .filter(|finding| {
                let count = of_rule.entry(finding.rule.name()).or_default();
                *count += 1;
                *count <= MOST
            })
            .collect();
        for finding in &kept {
            *number += 1;
            let line = source.position(finding.place.span.start).line;
            pinned.entry(line).or_default().push(self.pinned(finding, *number));
        }
        kept.sort_by_key(|finding| finding.severity);
        for finding in kept {
            for (line, range) in by_line(source, source.marked(finding.place.span)) {
                marks.entry(line).or_default().push((range, finding.severity.word()));
            }
        }
        let html = highlight::lines(&source.text, |at| marks.get(&(at + 1)).cloned().unwrap_or_default());
        let wanted = self.lines_to_show(file, source, &pinned);
        let mut counted = counts(&findings);
        for (rule, count) in of_rule.into_iter().filter(|(_, count)| *count > MOST) {
            counted.push_str(&format!("; {} more of {rule} are not shown here", count - MOST));
        }
        FindingsFile {
            id: file_id(file),
            path: (*path).to_owned(),
            title: title.clone(),
            counts: counted,
            pieces: pieces(file, html, &wanted, pinned),
        }
    }

    /// The lines that stay unfolded, from 1.
    fn lines_to_show(&self, file: FileId, source: &SourceFile, pinned: &BTreeMap<usize, Vec<PinnedFinding>>) -> BTreeSet<usize> {
        let related = self.input.findings.iter().flat_map(|finding| finding.related.iter().map(|related| related.place));
        let accepted = self.input.accepted.iter().map(|(finding, _)| finding.place);
        let there = related.chain(accepted).filter(|place| place.file == file).map(|place| source.position(place.span.start).line);
        let lines: BTreeSet<usize> = there.chain(pinned.keys().copied()).collect();
        lines.into_iter().flat_map(|line| line.saturating_sub(AROUND)..=line + AROUND).collect()
    }

    fn pinned(&self, finding: &Finding, number: usize) -> PinnedFinding {
        let source = self.input.files[&finding.place.file].source;
        PinnedFinding {
            number,
            weight: finding.severity.word(),
            word: word(finding.severity),
            rule: finding.rule.to_string(),
            place: self.place(finding.place),
            message_html: with_code(&finding.message),
            remedy_html: with_code(&finding.remedy),
            related: finding
                .related
                .iter()
                .map(|related| RelatedPlace {
                    id: self.anchor(related.place),
                    place: self.place(related.place).rsplit_once(':').map_or_else(String::new, |(line, _)| line.to_owned()),
                    label: related.label.clone(),
                })
                .collect(),
            edit: finding.edit.as_ref().map(|edit| shown_edit(edit, source)),
        }
    }

    fn accepted(&self, finding: &Finding, reason: &str) -> AcceptedFinding {
        AcceptedFinding {
            rule: finding.rule.to_string(),
            place: self.place(finding.place),
            id: self.anchor(finding.place),
            message_html: with_code(&finding.message),
            reason: reason.to_owned(),
        }
    }

    fn place(&self, place: Place) -> String {
        self.input.files.get(&place.file).map_or_else(String::new, |file| {
            let position = file.source.position(place.span.start);
            format!("{}:{}:{}", file.path, position.line, position.column)
        })
    }

    fn anchor(&self, place: Place) -> Option<String> {
        let file = self.input.files.get(&place.file).filter(|_| self.shown.contains(&place.file))?;
        // A file without a line has no line to lead to.
        let id = || line_id(place.file, file.source.position(place.span.start).line);
        (!file.source.text.is_empty()).then(id)
    }
}

fn file_id(file: FileId) -> String {
    format!("f{}", file.0)
}

/// The anchor of a line on the page, by which other pages lead to it.
pub fn line_id(file: FileId, line: usize) -> String {
    format!("f{}-{line}", file.0)
}

/// A range of the text as ranges of its lines, numbered from 1.
fn by_line(source: &SourceFile, range: Range<usize>) -> Vec<(usize, Range<usize>)> {
    let (lines, first) = source.lines_of(Span::new(range.clone()));
    let mut at = lines.start;
    let mut found = Vec::new();
    for (number, line) in (first..).zip(source.text[lines].split_inclusive('\n')) {
        let (start, end) = (range.start.max(at), range.end.min(at + line.trim_end_matches(['\n', '\r']).len()));
        if start < end || range.is_empty() && range.start >= at {
            found.push((number, start - at..end.max(start) - at));
        }
        at += line.len();
    }
    found
}

/// Cuts the lines into those that are shown and those that are folded away.
fn pieces(file: FileId, html: Vec<String>, wanted: &BTreeSet<usize>, mut pinned: BTreeMap<usize, Vec<PinnedFinding>>) -> Vec<SourcePiece> {
    let total = html.len().max(1);
    let mut html = html.into_iter();
    let mut pieces: Vec<SourcePiece> = Vec::new();
    let mut line = 1;
    while line <= total {
        let shows = wanted.contains(&line);
        let end = (line..=total).find(|at| wanted.contains(at) != shows).unwrap_or(total + 1);
        let lines: Vec<SourceLine> = (line..end)
            .map(|number| SourceLine {
                id: line_id(file, number),
                number,
                html: html.next().unwrap_or_default(),
                // What stands behind the last line, such as at the end of the file, is pinned to it.
                findings: if number == total {
                    std::mem::take(&mut pinned).into_values().flatten().collect()
                } else {
                    pinned.remove(&number).unwrap_or_default()
                },
            })
            .collect();
        let fold = !shows && end - line >= LEAST_FOLD;
        match pieces.last_mut() {
            Some(piece) if !fold && piece.folded.is_none() => piece.lines.extend(lines),
            _ => pieces.push(SourcePiece { folded: fold.then(|| format!("Lines {line} to {}", end - 1)), lines }),
        }
        line = end;
    }
    pieces
}

/// The lines before and after a repair, with what goes and what comes set off.
fn shown_edit(edit: &Edit, source: &SourceFile) -> ShownEdit {
    let span = source.clamp(edit.span);
    let (lines, line) = source.lines_of(Span::new(span.clone()));
    let around = |middle: &str, tag: &str| {
        let (before, after) = (&source.text[lines.start..span.start], source.text[span.end..lines.end].trim_end_matches(['\n', '\r']));
        let middle =
            if middle.is_empty() { String::new() } else { format!("<{tag}>{}</{tag}>", escape(middle.trim_end_matches(['\n', '\r']))) };
        let behind = if edit.text.ends_with('\n') && tag == "ins" { "\n" } else { "" };
        format!("{}{middle}{behind}{}", escape(before), escape(after))
    };
    ShownEdit { certain: edit.certain, line, before_html: around(&source.text[span.clone()], "del"), after_html: around(&edit.text, "ins") }
}

/// The reviewer's page: one file that is handed out by itself and never becomes part of a site.
pub fn render(page: &Findings, theme: &Theme) -> Result<Vec<u8>, ThemeError> {
    theme.page("findings.html", "review", page, &page.deferral)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input<'i>(source: &'i SourceFile, findings: &'i [Finding]) -> Input<'i> {
        Input {
            program: "0",
            shop: "s",
            language: "en",
            deferral: "d",
            guides: 1,
            files: BTreeMap::from([(FileId(1), InputFile { source, path: "guides/a.md", title: None })]),
            findings: findings.iter().collect(),
            accepted: Vec::new(),
            rules: Vec::new(),
        }
    }

    fn at(start: u32, end: u32) -> Finding {
        Finding::hold(crate::finding::RuleName::TypeWrong, Place { file: FileId(1), span: Span { start, end } }, "m", "r")
    }

    #[test]
    fn every_line_is_there_once_and_every_finding_at_its_line() {
        let text: String = (1..=60).map(|line| format!("line {line}\n")).collect();
        let source = SourceFile::new("a.md", text.as_str());
        let middle = text.find("line 30").unwrap() as u32;
        let length = text.len() as u32;
        let findings = [at(0, 4), at(middle, middle + 7), at(length, length)];
        let page = page(&input(&source, &findings), &Theme::new(&BTreeMap::new(), crate::guide::language::Language::English).unwrap());
        let lines: Vec<&SourceLine> = page.files[0].pieces.iter().flat_map(|piece| &piece.lines).collect();
        assert!(lines.iter().map(|line| line.number).eq(1..=60));
        let pinned: Vec<(usize, usize)> =
            lines.iter().flat_map(|line| line.findings.iter().map(|finding| (line.number, finding.number))).collect();
        assert_eq!(pinned, [(1, 1), (30, 2), (60, 3)]);
        let folded: Vec<&str> = page.files[0].pieces.iter().filter_map(|piece| piece.folded.as_deref()).collect();
        assert_eq!(folded, ["Lines 5 to 26", "Lines 34 to 57"]);
        assert!(lines[29].html.starts_with("<mark class=\"hold\">line ") && lines[29].html.ends_with("</mark>"), "{}", lines[29].html);
    }

    #[test]
    fn an_empty_file_has_a_line_for_its_finding() {
        let source = SourceFile::new("a.md", "");
        let findings = [at(0, 0)];
        let page = page(&input(&source, &findings), &Theme::new(&BTreeMap::new(), crate::guide::language::Language::English).unwrap());
        assert_eq!(page.files[0].pieces[0].lines[0].findings.len(), 1);
    }

    #[test]
    fn an_edit_shows_what_goes_and_what_comes() {
        let source = SourceFile::new("a.md", "a <torqe> = 1\nnext\n");
        let edit = |start, end, text: &str| shown_edit(&Edit { span: Span { start, end }, text: text.into(), certain: true }, &source);
        let shown = edit(3, 8, "torque");
        assert_eq!(shown.before_html, "a &lt;<del>torqe</del>&gt; = 1");
        assert_eq!(shown.after_html, "a &lt;<ins>torque</ins>&gt; = 1");
        assert_eq!(edit(14, 14, "+++\n").after_html, "<ins>+++</ins>\nnext");
    }
}
