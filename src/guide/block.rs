//! Cuts a guide into its parts in one pass of the Markdown parser: the block at the top, phases,
//! steps with their blocks, and the words of each. The only user of the parser for structure. Blocks
//! that the parser cannot see as blocks are found here too, reported, and read all the same.

use std::ops::Range;

use pulldown_cmark::{CowStr, Event, HeadingLevel, MetadataBlockKind, Options, Parser, Tag, TagEnd};

use crate::finding::{Finding, RuleName};
use crate::guide::bounds::Bounds;
use crate::guide::model::Text;
use crate::guide::prose::{Prose, Told, ToldIn, find_in, is_operation};
use crate::guide::sides::Swaps;
use crate::source::{FileId, Place, Span, Spanned};

/// The fence of a block.
const FENCE: &str = "+++";

/// A block of facts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlockText {
    /// Both fences and what is between them.
    pub fence: Span,
    /// What is between the fences.
    pub body: Span,
}

/// A heading and what follows it.
#[derive(Clone, Debug)]
pub struct Section<'s> {
    /// 1 for a phase, 2 for a step.
    pub level: u8,
    /// The words of the heading.
    pub title: Text,
    /// The id in the heading's attributes, if one stands there.
    pub id: Option<Text>,
    /// Facts in the heading's attributes: key and value.
    pub facts: Vec<(Text, Text)>,
    /// From the heading to the next section.
    pub span: Span,
    /// Its block.
    pub block: Option<BlockText>,
    /// Its words.
    pub prose: Prose<'s>,
}

/// A guide cut into its parts.
#[derive(Debug, Default)]
pub struct Outline<'s> {
    /// The block at the top.
    pub head: Option<BlockText>,
    /// Words before the first heading.
    pub intro: Prose<'s>,
    /// Phases and steps in order.
    pub sections: Vec<Section<'s>>,
}

/// What the parser reads: CommonMark with tables, footnotes, heading attributes and our blocks.
fn options() -> Options {
    Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_HEADING_ATTRIBUTES
        | Options::ENABLE_PLUSES_DELIMITED_METADATA_BLOCKS
}

/// Cuts `source` into its parts.
pub fn outline<'s>(source: &'s str, file: FileId, findings: &mut Vec<Finding>) -> Outline<'s> {
    let fences = fence_lines(source);
    if well_formed(source, &fences) {
        return cut(source, Parser::new_ext(source, options()).into_offset_iter(), Vec::new(), file, findings);
    }
    let unclosed = unclosed_blocks(source, &fences, file, findings);
    if unclosed.is_empty() {
        let lost = lost_blocks(source, source, fences, file, findings);
        return cut(source, Parser::new_ext(source, options()).into_offset_iter(), lost, file, findings);
    }
    // To the parser an unclosed block runs on to the next fence, and all blocks behind it are inside out. With its fence
    // blotted out, in a copy of the same length, everything behind it is what the author meant.
    let mut blotted = source.to_owned();
    for block in &unclosed {
        let fence = block.fence.start as usize..block.fence.start as usize + FENCE.len();
        blotted.replace_range(fence, "...");
    }
    let mut lost = lost_blocks(source, &blotted, fence_lines(&blotted), file, findings);
    lost.extend(unclosed);
    lost.sort_by_key(|block| block.fence.start);
    let events: Vec<_> =
        Parser::new_ext(&blotted, options()).into_offset_iter().map(|(event, range)| (event.into_static(), range)).collect();
    cut(source, events.into_iter(), lost, file, findings)
}

/// Blocks that are not closed before the heading of the next one: the last words in front of the fence that
/// would close them are a heading, and below a heading a block opens.
fn unclosed_blocks(source: &str, fences: &[FenceLine], file: FileId, findings: &mut Vec<Finding>) -> Vec<BlockText> {
    let mut blocks = Vec::new();
    let mut clean = fences.iter().filter(|fence| fence.clean).peekable();
    while let Some(open) = clean.next() {
        let Some(close) = clean.peek() else { break };
        let between = &source[open.end..close.start];
        let heading = between.trim_end().lines().next_back().filter(|line| line.starts_with("# ") || line.starts_with("## "));
        let Some(heading) = heading.filter(|_| between.trim_end().lines().count() > 1) else {
            clean.next();
            continue;
        };
        let finding = Finding::hold(
            RuleName::BlockUnreadable,
            Place { file, span: Span::new(open.start..open.end) },
            format!("the block that starts here is not closed before the heading `{}`", heading.trim()),
            "end the block with a line of +++ behind its last fact",
        );
        // Its facts go on as long as lines look like facts; the words behind them are left as words.
        let body = open.end + source[open.end..].find('\n').map_or(0, |at| at + 1);
        let mut end = body;
        let mut at = body;
        for line in source[body..close.start].split_inclusive('\n') {
            let text = line.trim();
            let fact =
                text.contains('=') || text.starts_with(['[', ']', '{', '}', '"']) || text.starts_with("# ") && !line.starts_with('#');
            if !(text.is_empty() || fact) {
                break;
            }
            at += line.len();
            if fact {
                end = at;
            }
        }
        findings.push(with_closing_fence(finding, source, body..end, close.start));
        blocks.push(BlockText { fence: Span::new(open.start..end), body: Span::new(body..end) });
    }
    blocks
}

/// Adds the missing fence behind the facts in `body`, where it can stand nowhere else: an empty line follows, no bracket
/// or long text is open, and nothing from there to `limit` looks like another fact.
fn with_closing_fence(finding: Finding, source: &str, body: Range<usize>, limit: usize) -> Finding {
    let facts = &source[body.clone()];
    let rest = &source[body.end..limit.max(body.end)];
    let doubtful = facts.trim().is_empty()
        || !are_facts(facts)
        || rest.lines().next().is_some_and(|line| !line.trim().is_empty())
        || rest.lines().any(|line| line.contains('=') || line.starts_with('['));
    if doubtful {
        return finding;
    }
    let line_end = line_end(source);
    let before = if facts.ends_with('\n') { "" } else { line_end };
    finding.with_edit(Span::at(body.end), format!("{before}{FENCE}{line_end}"))
}

/// Whether every line is surely a fact, the head of a table, a comment or empty; what stands in open brackets belongs to its fact.
fn are_facts(text: &str) -> bool {
    let mut depth = 0i64;
    for line in text.lines() {
        let key = line.split_once('=').map(|(key, _)| key.trim());
        let is_key =
            key.is_some_and(|key| !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.')));
        if depth == 0 && !(is_key || line.starts_with('[') || line.starts_with('#') && !line.starts_with("# ") || line.trim().is_empty()) {
            return false;
        }
        depth += line
            .chars()
            .map(|c| {
                if "[{".contains(c) {
                    1
                } else if "]}".contains(c) {
                    -1
                } else {
                    0
                }
            })
            .sum::<i64>();
        if depth < 0 {
            return false;
        }
    }
    depth == 0 && !text.contains("\"\"\"") && !text.contains("'''")
}

/// How the lines of the file end.
fn line_end(source: &str) -> &'static str {
    if source.find('\n').is_some_and(|at| source[..at].ends_with('\r')) { "\r\n" } else { "\n" }
}

/// Cuts the parser's events; `lost` are blocks that it takes for words, in order.
fn cut<'s>(
    source: &'s str,
    events: impl Iterator<Item = (Event<'s>, Range<usize>)>,
    lost: Vec<BlockText>,
    file: FileId,
    findings: &mut Vec<Finding>,
) -> Outline<'s> {
    let mut cutter =
        Cutter { source, file, findings, outline: Outline::default(), heading: None, in_block: false, bounds: Bounds::default() };
    let mut lost = lost.into_iter().peekable();
    for (event, range) in events {
        // A lost block's text comes as ordinary words; it is taken out of them and read as a block.
        while let Some(block) = lost.next_if(|block| (block.fence.end as usize) <= range.start) {
            cutter.block(block);
        }
        let inside = lost.peek().is_some_and(|block| block.fence.contains(Span::new(range.clone())));
        if !inside {
            cutter.event(event, range);
        }
    }
    lost.for_each(|block| cutter.block(block));
    cutter.finish()
}

struct Heading<'s> {
    level: HeadingLevel,
    words: String,
    id: Option<Text>,
    facts: Vec<(Text, Text)>,
    span: Span,
    events: Vec<(Event<'s>, Range<usize>)>,
}

struct Cutter<'s, 'f> {
    source: &'s str,
    file: FileId,
    findings: &'f mut Vec<Finding>,
    outline: Outline<'s>,
    heading: Option<Heading<'s>>,
    in_block: bool,
    bounds: Bounds,
}

impl<'s> Cutter<'s, '_> {
    fn event(&mut self, event: Event<'s>, range: Range<usize>) {
        if !self.bounds.takes(&event, &range, self.file, self.findings) {
            return;
        }
        match event {
            Event::Start(Tag::MetadataBlock(MetadataBlockKind::PlusesStyle)) => {
                self.in_block = true;
                self.block(block_text(self.source, range));
            }
            Event::End(TagEnd::MetadataBlock(_)) => self.in_block = false,
            _ if self.in_block => {}
            Event::Start(Tag::Heading { level, ref id, ref classes, ref attrs }) => {
                let span = Span::new(range.clone());
                let of_step = level == HeadingLevel::H2;
                // A phase has no facts but the sides of its steps.
                let of_phase = level == HeadingLevel::H1 && attrs.iter().all(|(key, _)| key.as_ref() == "sides");
                if !classes.is_empty() || !attrs.is_empty() && !of_step && !of_phase {
                    self.findings.push(Finding::query(
                        RuleName::MarkupShown,
                        Place { file: self.file, span },
                        "the heading carries attributes that say nothing here; they are left out of the page",
                        "keep only the id, as in {#seat-out}, and in the heading of a step keys with their values, as in {minutes=5}",
                    ));
                }
                let id = id.as_ref().map(|id| {
                    let at = self.source[range.clone()].rfind(id.as_ref()).map_or(0..0, |at| at..at + id.len());
                    Spanned::new(id.to_string(), span.part(at))
                });
                let facts = if of_step || of_phase { self.facts(attrs, span) } else { Vec::new() };
                let plain = Event::Start(Tag::Heading { level, id: None, classes: Vec::new(), attrs: Vec::new() });
                self.heading = Some(Heading { level, words: String::new(), id, facts, span, events: vec![(plain, range)] });
            }
            Event::End(TagEnd::Heading(level)) => {
                let Some(mut heading) = self.heading.take() else { return };
                heading.events.push((Event::End(TagEnd::Heading(level)), range));
                self.heading_done(heading);
            }
            _ => match &mut self.heading {
                Some(heading) => {
                    match &event {
                        Event::Text(text) | Event::Code(text) => heading.words.push_str(text),
                        Event::SoftBreak | Event::HardBreak => heading.words.push(' '),
                        _ => {}
                    }
                    heading.events.push((event, range));
                }
                None => {
                    let source = self.source;
                    self.prose().push(event, range, source);
                }
            },
        }
    }

    /// The facts in the attributes of a step's heading, each at its place.
    fn facts(&self, attrs: &[(CowStr<'_>, Option<CowStr<'_>>)], heading: Span) -> Vec<(Text, Text)> {
        let line = &self.source[heading.range()];
        let from = line.rfind('{').unwrap_or(0);
        let place = |word: &str, from: usize| line[from..].find(word).map_or(0..0, |at| from + at..from + at + word.len());
        attrs
            .iter()
            .map(|(key, value)| {
                let value = value.as_deref().unwrap_or_default();
                let written = format!("{key}={value}");
                let at = place(&written, from);
                let at = if at.is_empty() { place(key, from) } else { at };
                let split = at.start + key.len();
                let behind = (split + 1).min(at.end.max(split));
                (
                    Spanned::new(key.to_string(), heading.part(at.start..split)),
                    Spanned::new(value.to_owned(), heading.part(behind..behind + value.len())),
                )
            })
            .collect()
    }

    fn heading_done(&mut self, heading: Heading<'s>) {
        let level = match heading.level {
            HeadingLevel::H1 => 1,
            HeadingLevel::H2 => 2,
            _ => {
                let source = self.source;
                for (event, range) in heading.events {
                    self.prose().push(event, range, source);
                }
                return;
            }
        };
        self.close_section(heading.span.start);
        let mut prose = Prose::default();
        for (event, range) in &heading.events {
            if let Event::Start(Tag::Link { dest_url, .. }) = event
                && is_operation(dest_url)
            {
                let link = Span::new(range.clone());
                prose.told.push(Told {
                    address: Spanned::new(dest_url.to_string(), find_in(self.source, link, dest_url)),
                    link,
                    within: ToldIn::Heading,
                    swaps: Swaps::default(),
                });
            }
        }
        let title = Spanned::new(heading.words.trim().to_owned(), trim_span(self.source, heading.span));
        self.outline.sections.push(Section { level, title, id: heading.id, facts: heading.facts, span: heading.span, block: None, prose });
    }

    fn close_section(&mut self, at: u32) {
        if let Some(section) = self.outline.sections.last_mut() {
            section.span.end = at;
        }
    }

    fn prose(&mut self) -> &mut Prose<'s> {
        match self.outline.sections.last_mut() {
            Some(section) => &mut section.prose,
            None => &mut self.outline.intro,
        }
    }

    fn block(&mut self, block: BlockText) {
        let place = Place { file: self.file, span: Span { start: block.fence.start, end: block.fence.start + FENCE.len() as u32 } };
        let slot = match self.outline.sections.last_mut() {
            None => &mut self.outline.head,
            Some(section) if section.level == 1 => {
                self.findings.push(Finding::hold(
                    RuleName::BlockUnreadable,
                    place,
                    "this block stands under a phase heading, and a phase has no facts",
                    "move the block under the heading of the step it belongs to (a heading with ##)",
                ));
                return;
            }
            Some(section) => &mut section.block,
        };
        if let Some(earlier) = slot {
            let first = Place { file: self.file, span: earlier.fence };
            let finding = Finding::hold(
                RuleName::BlockUnreadable,
                place,
                "this is a second block for the same heading, and it is not read",
                "put all facts of the step into its first block, or move this one directly under the heading it belongs to (a step's heading has two #)",
            );
            self.findings.push(finding.with_related(first, "the first block"));
            return;
        }
        *slot = Some(block);
        if !self.prose().is_empty() {
            self.findings.push(Finding::query(
                RuleName::BlockUnreadable,
                place,
                "this block stands below words that it should stand above",
                "move the block directly under the heading, with one empty line between",
            ));
        }
    }

    fn finish(mut self) -> Outline<'s> {
        self.close_section(self.source.len() as u32);
        self.outline
    }
}

fn trim_span(source: &str, span: Span) -> Span {
    let text = source[span.range()].trim_end();
    Span { start: span.start, end: span.start + text.len() as u32 }
}

/// The body between the fences. The parser's text events drop carriage returns, so the source is sliced instead.
fn block_text(source: &str, range: Range<usize>) -> BlockText {
    let text = &source[range.clone()];
    let start = range.start + text.find('\n').map_or(text.len(), |at| at + 1);
    let end = range.start + text.trim_end().rfind('\n').map_or(0, |at| at + 1);
    BlockText { fence: Span::new(range.start..range.start + text.trim_end().len()), body: Span::new(start..end.max(start)) }
}

/// A line that is a fence, or looks like one.
struct FenceLine {
    start: usize,
    end: usize,
    /// Nothing but the fence stands on the line, from its first column.
    clean: bool,
    /// More than three signs stand there.
    plus: bool,
}

/// Blocks that an author wrote and the parser takes for words: reported, and given back where both fences are there.
fn lost_blocks(source: &str, parsed: &str, fences: Vec<FenceLine>, file: FileId, findings: &mut Vec<Finding>) -> Vec<BlockText> {
    // Something is amiss: ask the parser which fences it saw, and which stand in code.
    let mut seen: Vec<Span> = Vec::new();
    for (event, range) in Parser::new_ext(parsed, options()).into_offset_iter() {
        if let Event::Start(Tag::MetadataBlock(MetadataBlockKind::PlusesStyle) | Tag::CodeBlock(_)) = event {
            seen.push(Span::new(range));
        }
    }
    let mut unseen = fences.into_iter().filter(|fence| !seen.iter().any(|span| span.range().contains(&fence.start))).peekable();
    let mut blocks = Vec::new();
    while let Some(open) = unseen.next() {
        let place = Place { file, span: Span::new(open.start..open.end) };
        let rest = &source[open.end..];
        // A closing fence belongs to this block only if no heading and no block that was seen stands between them.
        let close = unseen.next_if(|close| {
            let between = &source[open.end..close.start];
            close.clean && !between.contains("\n#") && !seen.iter().any(|span| (open.end..close.start).contains(&(span.start as usize)))
        });
        let line_before = source[..open.start].lines().next_back().unwrap_or_default();
        let indented = source[..open.start].ends_with([' ', '\t']);
        let (message, remedy) = if indented {
            (
                "this block is indented, so it is read as part of a list or as words",
                "start the +++ lines in the first column, outside any list",
            )
        } else if open.plus {
            ("this line has more than three + signs, so no block starts or ends here", "write +++")
        } else if !open.clean {
            ("words stand behind the +++, so no block starts here", "leave nothing but +++ on the line")
        } else if close.is_none() {
            ("a block starts here and is never closed", "end the block with a line of +++ before the words begin")
        } else if !line_before.trim().is_empty() {
            ("this block stands directly under a line of words, so it is read as words", "leave an empty line above the +++")
        } else if rest.lines().nth(1).is_some_and(|line| line.trim().is_empty()) {
            ("the first line inside this block is empty, so it is read as words", "take the empty line below the +++ out")
        } else {
            ("this block is read as words where it stands", "put it directly under the title or a step heading, with empty lines around it")
        };
        let mut finding = Finding::hold(RuleName::BlockUnreadable, place, message, remedy);
        // An unclosed block is read up to the next empty line, so that its facts are not missed a second time.
        let (end, body_end) = match &close {
            Some(close) => (close.end, close.start),
            None => {
                let limit = rest.find("\n#").unwrap_or(rest.len());
                let end = open.end + rest[..limit].find("\n\n").or_else(|| rest[..limit].find("\n\r\n")).map_or(limit, |at| at + 1);
                (end, end)
            }
        };
        let body_start = (open.end + rest.find('\n').map_or(rest.len(), |at| at + 1)).min(body_end);
        if !indented && open.clean {
            if close.is_none() {
                let limit = rest.find("\n#").map_or(source.len(), |at| open.end + at);
                finding = with_closing_fence(finding, source, body_start..body_end, limit);
            } else if !line_before.trim().is_empty() && can_end_above(line_before) {
                finding = finding.with_edit(Span::at(open.start), line_end(source));
            }
        }
        findings.push(finding);
        if !indented {
            blocks.push(BlockText { fence: Span::new(open.start..end), body: Span::new(body_start..body_end) });
        }
    }
    blocks
}

/// Whether a block may start behind an empty line below this one: in a list, a quotation or a table it would still be words.
fn can_end_above(line: &str) -> bool {
    line.starts_with(char::is_alphabetic) && !line.contains('|')
}

/// Every line that starts with a fence, spaces in front allowed.
fn fence_lines(source: &str) -> Vec<FenceLine> {
    let mut lines: Vec<FenceLine> = Vec::new();
    for (at, _) in source.match_indices(FENCE) {
        let line_start = source[..at].rfind('\n').map_or(0, |at| at + 1);
        if !source[line_start..at].trim().is_empty() || lines.last().is_some_and(|last| last.start >= line_start) {
            continue;
        }
        let line_end = source[at..].find('\n').map_or(source.len(), |end| at + end);
        let tail = source[at + FENCE.len()..line_end].trim();
        let plus = tail.starts_with('+');
        lines.push(FenceLine { start: at, end: at + FENCE.len(), clean: tail.is_empty() && at == line_start, plus });
    }
    lines
}

/// Whether the fences are surely blocks to the parser: in pairs, an empty line or the start of the file
/// before each opening one, and facts on the next line.
fn well_formed(source: &str, fences: &[FenceLine]) -> bool {
    let opens_well = |open: &FenceLine| {
        let before = source[..open.start].trim_end_matches([' ', '\t', '\r']);
        let above = before.strip_suffix('\n').map(|text| text.trim_end_matches([' ', '\t', '\r']));
        let clear = above.is_none_or(|text| text.is_empty() || text.ends_with('\n'));
        let next = source[open.end..].lines().nth(1).unwrap_or_default();
        clear && !next.trim().is_empty()
    };
    fences.iter().all(|fence| fence.clean)
        && fences.len().is_multiple_of(2)
        && fences.chunks(2).all(|pair| opens_well(&pair[0]) && !source[pair[0].end..pair[1].start].contains("\n\n#"))
        // A fence inside a code block or list needs the slow look.
        && !source.contains("```")
        && !source.contains("~~~")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(source: &str) -> (Outline<'_>, Vec<String>) {
        let mut findings = Vec::new();
        let outline = outline(source, FileId(0), &mut findings);
        (outline, findings.into_iter().map(|finding| finding.message).collect())
    }

    fn body(source: &str, block: Option<BlockText>) -> &str {
        block.map_or("none", |block| &source[block.body.range()])
    }

    #[test]
    fn blocks_and_words_are_cut_apart() {
        let source =
            "+++\ntitle = \"x\"\n+++\n\nIntro.\n\n# Phase\n\n## Step {#one}\n\n+++\nminutes = 1\n+++\n\nWords.\n\n### Aside\n\nMore.\n";
        let (outline, messages) = check(source);
        assert_eq!(messages, Vec::<String>::new());
        assert_eq!(body(source, outline.head), "title = \"x\"\n");
        assert_eq!(outline.sections.len(), 2);
        let step = &outline.sections[1];
        assert_eq!((step.level, step.title.as_str(), step.id.as_ref().unwrap().as_str()), (2, "Step", "one"));
        assert_eq!(body(source, step.block), "minutes = 1\n");
        assert!(step.prose.runs().map(|(text, _)| text).eq(["Words.", "Aside", "More."]));
    }

    #[test]
    fn carriage_returns_do_not_move_anything() {
        let source = "+++\r\ntitle = \"x\"\r\n+++\r\n\r\n## Step\r\n\r\n+++\r\nminutes = 1\r\n+++\r\n\r\nWords.\r\n";
        let (outline, messages) = check(source);
        assert_eq!(messages, Vec::<String>::new());
        assert_eq!(body(source, outline.head), "title = \"x\"\r\n");
        assert_eq!(body(source, outline.sections[0].block), "minutes = 1\r\n");
    }

    #[test]
    fn lost_blocks_are_told_and_read_all_the_same() {
        for (source, told) in [
            ("## Step\n\nWords.\n+++\nminutes = 1\n+++\n", "directly under a line of words"),
            ("## Step\n\n+++\n\nminutes = 1\n+++\n", "first line inside this block is empty"),
            ("## Step\n\n+++ step\nminutes = 1\n+++\n", "words stand behind"),
            ("## Step\n\n+++\nminutes = 1\n\nWords.\n", "never closed"),
        ] {
            let (outline, messages) = check(source);
            assert!(messages.iter().any(|message| message.contains(told)), "{source}: {messages:?}");
            assert!(body(source, outline.sections[0].block).contains("minutes = 1"), "{source}");
            assert!(!outline.sections[0].prose.runs().any(|(text, _)| text.contains("minutes")), "{source}");
        }
        let (outline, messages) = check("## Step\n\n- a\n\n  +++\n  minutes = 1\n  +++\n");
        assert!(messages.iter().any(|message| message.contains("indented")), "{messages:?}");
        assert_eq!(outline.sections.len(), 1);
    }

    #[test]
    fn a_fence_in_code_is_code() {
        let (_, messages) = check("## Step\n\n```\n+++\nminutes = 1\n+++\n```\n");
        assert_eq!(messages, Vec::<String>::new());
    }

    #[test]
    fn an_unclosed_block_does_not_swallow_the_step_behind_it() {
        let head = "+++\ntitle = \"x\"\nfits = [\n  \"a\",\n]\n\nIntro words.\n\n## One\n\n+++\nminutes = 1\n+++\n\nWords.\n";
        let step = "+++\ntitle = \"x\"\n+++\n\n## One\n\n+++\nminutes = 1\n\nWords.\n\n## Two\n\n+++\nminutes = 2\n+++\n\nMore.\n";
        for (source, steps, minutes) in [(head, 1, ["minutes = 1\n"].as_slice()), (step, 2, &["minutes = 1\n", "minutes = 2\n"])] {
            let (outline, messages) = check(source);
            assert_eq!(messages.len(), 1, "{messages:?}");
            assert!(messages[0].contains("not closed before the heading"), "{messages:?}");
            assert!(body(source, outline.head).starts_with("title = \"x\"\n"));
            assert_eq!(outline.sections.len(), steps);
            assert!(outline.sections.iter().map(|section| body(source, section.block)).eq(minutes.iter().copied()));
            let words: Vec<&str> = outline.sections.iter().flat_map(|section| section.prose.runs()).map(|(text, _)| text).collect();
            assert!(words.contains(&"Words."), "{words:?}");
        }
    }

    #[test]
    fn a_step_that_begins_inside_of_a_quote_or_a_list_is_read_to_its_end() {
        for source in [
            "> ## Inside\n> more\n\nWords.\n",
            "- # Inside\n  more\n",
            "> > ## Two deep\n\n> ## Again\n",
            "+++\n+++\n\n> # x {#id onclick=1}\n",
        ] {
            let mut findings = Vec::new();
            let outline = outline(source, FileId(0), &mut findings);
            assert!(!outline.sections.is_empty(), "{source:?}");
            for section in &outline.sections {
                // Whoever goes through the words finds no end of what did not begin.
                section.prose.commands();
                let mut open = 0_i32;
                for (event, _) in &section.prose.events {
                    open += i32::from(matches!(event, Event::Start(_))) - i32::from(matches!(event, Event::End(_)));
                    assert!(open >= 0, "{source:?}");
                }
            }
        }
    }
}
