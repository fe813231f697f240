//! Sentences of a guide's words with their places, for rules that read prose: what kind of text they stand
//! in, what is in bold, and which references stand in them. A reference without words of its own stands as a
//! placeholder, so that a rule can see that a value is referred to. What the words mean is left to `review`.

use std::ops::Range;

use pulldown_cmark::{Event, Tag, TagEnd};
use unicode_segmentation::UnicodeSegmentation;

use crate::guide::model::Text;
use crate::guide::prose::{Prose, RefKind, is_operation};
use crate::source::Span;

/// Stands for a reference without words of its own.
pub const REFERENCE: char = '\u{fffc}';

/// What kind of text a passage is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PassageKind {
    /// A paragraph of its own.
    #[default]
    Paragraph,
    /// Words in a list.
    Item,
    /// A cell of a table.
    Cell,
    /// A heading below the level of steps.
    Heading,
    /// Words in a block quote or a footnote: a note beside the work.
    Note,
    /// The text of a key in a block.
    Key,
}

/// A reference by one of our link schemes, where it stands in a passage.
#[derive(Clone, Debug)]
pub struct PassageRef {
    /// What it refers to.
    pub kind: RefKind,
    /// The id.
    pub id: String,
    /// Its words, or its placeholder, in the passage's text.
    pub range: Range<usize>,
}

/// A run of words as written in one paragraph, list item, table cell or key.
#[derive(Debug, Default)]
pub struct Passage {
    /// The words, line breaks as spaces.
    pub text: String,
    /// What kind of text it is.
    pub kind: PassageKind,
    /// The references in it, in order.
    pub references: Vec<PassageRef>,
    /// The operations told in it: the link's place, and its words in the passage's text.
    pub operations: Vec<(Span, Range<usize>)>,
    /// The ranges of `text` in bold, in order.
    pub bold: Vec<Range<usize>>,
    /// Offsets in `text` and the source places they come from, in order.
    pieces: Vec<(usize, Span)>,
    /// The source place of everything, where the text is written otherwise there than it reads.
    whole: Option<Span>,
}

impl Passage {
    /// The text of a key as a passage.
    pub fn of_key(text: &Text) -> Self {
        let exact = (text.span.end - text.span.start) as usize == text.value.len();
        Passage {
            text: text.value.clone(),
            kind: PassageKind::Key,
            pieces: vec![(0, text.span)],
            whole: (!exact).then_some(text.span),
            ..Passage::default()
        }
    }

    /// The place in the source of a range of `text`.
    pub fn place(&self, start: usize, end: usize) -> Span {
        if let Some(whole) = self.whole {
            return whole;
        }
        let of = |offset: usize| {
            let at = self.pieces.partition_point(|(from, _)| *from <= offset).saturating_sub(1);
            let (from, span) = self.pieces.get(at).copied().unwrap_or_default();
            let to = self.pieces.get(at + 1).map_or(self.text.len(), |(next, _)| *next);
            // A placeholder or a character reference reads otherwise than it is written, and is one whole.
            let exact = to - from == (span.end - span.start) as usize;
            (span, exact.then(|| (span.start + (offset - from.min(offset)) as u32).min(span.end)))
        };
        let empty = end <= start;
        let (first, start_inside) = of(start);
        // The end is found from the last byte inside, so that it does not slip into the next piece.
        let (last, end_inside) = of(end.saturating_sub(1).max(start));
        let start = start_inside.unwrap_or(first.start);
        let end = end_inside.map_or(last.end, |inside| (inside + u32::from(!empty)).min(last.end));
        Span { start, end: end.max(start) }
    }

    /// The ranges of the sentences in `text`, without the spaces around them.
    pub fn sentences(&self) -> Vec<Range<usize>> {
        sentences(&self.text)
    }

    fn push(&mut self, text: &str, span: Span) {
        self.pieces.push((self.text.len(), span));
        self.text.push_str(text);
    }
}

/// Shortened words whose full stop ends no sentence.
const SHORTENED: &[&str] =
    &["approx.", "e.g.", "i.e.", "fig.", "max.", "min.", "incl.", "no.", "nos.", "pos.", "p.", "pp.", "cf.", "vs.", "qty."];

/// The ranges of the sentences of a text, without the spaces around them.
pub fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut ranges: Vec<Range<usize>> = Vec::new();
    for (offset, sentence) in text.split_sentence_bound_indices().filter(|(_, sentence)| !sentence.trim().is_empty()) {
        let start = offset + (sentence.len() - sentence.trim_start().len());
        let range = start..start + sentence.trim().len();
        match ranges.last_mut() {
            Some(last) if ends_shortened(&text[last.clone()], &text[range.clone()]) => last.end = range.end,
            _ => ranges.push(range),
        }
    }
    ranges
}

fn ends_shortened(sentence: &str, next: &str) -> bool {
    // The longest of them has seven letters, and the one before tells whether it is a word of its own.
    let tail = sentence.char_indices().rev().nth(7).map_or(0, |(at, _)| at);
    let folded = sentence[tail..].to_ascii_lowercase();
    // `min. 5 mm` goes on; `for 15 min. If ...` does not.
    let goes_on = !folded.ends_with("min.") || next.starts_with(|c: char| c.is_ascii_digit());
    folded.ends_with('.')
        && goes_on
        && SHORTENED
            .iter()
            .any(|short| folded.strip_suffix(short).is_some_and(|before| before.chars().next_back().is_none_or(|c| !c.is_alphanumeric())))
}

/// The passages of some prose. Pictures and code blocks are left out.
pub fn passages(prose: &Prose<'_>) -> Vec<Passage> {
    let mut taker = Taker::default();
    for (event, span) in &prose.events {
        taker.take(event, *span);
    }
    taker.end_passage();
    taker.passages
}

/// A link that is open.
struct Link {
    /// Where its words start.
    start: usize,
    /// What it refers to, if it has one of our schemes.
    target: Option<(RefKind, String)>,
    /// Whether it tells an operation.
    told: bool,
}

/// Takes in the events of some prose and keeps what is open.
#[derive(Default)]
struct Taker {
    passages: Vec<Passage>,
    now: Passage,
    /// Pictures and code blocks that are open.
    skip: u32,
    /// Quotes and footnotes that are open.
    notes: u32,
    /// List items that are open.
    items: u32,
    in_cell: bool,
    in_heading: bool,
    link: Option<Link>,
    bold: Option<usize>,
}

impl Taker {
    fn take(&mut self, event: &Event<'_>, span: Span) {
        match event {
            Event::Start(Tag::Image { .. } | Tag::CodeBlock(_)) => self.skip += 1,
            Event::End(TagEnd::Image | TagEnd::CodeBlock) => self.skip -= 1,
            _ if self.skip > 0 => {}
            Event::Start(Tag::Link { dest_url, .. }) => {
                let target = RefKind::parse(dest_url).map(|(kind, id)| (kind, id.to_owned()));
                self.link = Some(Link { start: self.now.text.len(), target, told: is_operation(dest_url) });
            }
            Event::End(TagEnd::Link) => self.end_link(span),
            Event::Start(Tag::Strong) => self.bold = Some(self.now.text.len()),
            Event::End(TagEnd::Strong) => {
                let end = self.now.text.len();
                self.now.bold.extend(self.bold.take().map(|start| start..end));
            }
            Event::Text(text) | Event::Code(text) => self.now.push(text, span),
            Event::SoftBreak | Event::HardBreak => self.now.push(" ", span),
            Event::Start(tag) => self.start_block(tag),
            Event::End(tag) => self.end_block(*tag),
            _ => {}
        }
    }

    fn end_link(&mut self, span: Span) {
        let Some(Link { start, target, told }) = self.link.take() else { return };
        if start == self.now.text.len() {
            self.now.push(REFERENCE.encode_utf8(&mut [0; 4]), span);
        }
        let range = start..self.now.text.len();
        if told {
            self.now.operations.push((span, range.clone()));
        }
        self.now.references.extend(target.map(|(kind, id)| PassageRef { kind, id, range }));
    }

    fn start_block(&mut self, tag: &Tag<'_>) {
        if !matches!(tag, Tag::Emphasis | Tag::Strikethrough | Tag::Superscript | Tag::Subscript) {
            self.end_passage();
        }
        match tag {
            Tag::BlockQuote(_) | Tag::FootnoteDefinition(_) => self.notes += 1,
            Tag::Item => self.items += 1,
            Tag::TableCell => self.in_cell = true,
            Tag::Heading { .. } => self.in_heading = true,
            _ => {}
        }
    }

    fn end_block(&mut self, tag: TagEnd) {
        if !matches!(tag, TagEnd::Emphasis | TagEnd::Strikethrough | TagEnd::Superscript | TagEnd::Subscript) {
            self.end_passage();
        }
        match tag {
            TagEnd::BlockQuote(_) | TagEnd::FootnoteDefinition => self.notes -= 1,
            TagEnd::Item => self.items -= 1,
            TagEnd::TableCell => self.in_cell = false,
            TagEnd::Heading(_) => self.in_heading = false,
            _ => {}
        }
    }

    fn end_passage(&mut self) {
        let mut passage = std::mem::take(&mut self.now);
        if passage.text.trim().is_empty() {
            return;
        }
        passage.kind = match () {
            () if self.in_heading => PassageKind::Heading,
            () if self.in_cell => PassageKind::Cell,
            () if self.notes > 0 => PassageKind::Note,
            () if self.items > 0 => PassageKind::Item,
            () => PassageKind::Paragraph,
        };
        self.passages.push(passage);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{self, model::Shop};
    use crate::source::{FileId, SourceFile};

    fn taken(prose: &str) -> (String, Vec<Passage>) {
        let text = format!("+++\ntitle = \"T\"\n+++\n\n## Step\n\n{prose}\n");
        let source = SourceFile::new("guides/t.md", &*text);
        let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
        let shop: Shop = shop;
        let (guide, _) = guide::read(&source, FileId(1), "t", &shop);
        let passages = passages(&guide.steps[0].prose);
        (text, passages)
    }

    #[test]
    fn passages_know_what_they_are() {
        let (_, passages) = taken(
            "One *soft* two\nthree.\n\n- item\n  - inner\n\n> quoted\n\n| a | b |\n|---|---|\n| c | d |\n\n### below\n\n1. first\n\n   second\n",
        );
        let told: Vec<(PassageKind, &str)> = passages.iter().map(|passage| (passage.kind, passage.text.as_str())).collect();
        use PassageKind::*;
        let expected = [
            (Paragraph, "One soft two three."),
            (Item, "item"),
            (Item, "inner"),
            (Note, "quoted"),
            (Cell, "a"),
            (Cell, "b"),
            (Cell, "c"),
            (Cell, "d"),
            (Heading, "below"),
            (Item, "first"),
            (Item, "second"),
        ];
        assert_eq!(told, expected);
    }

    #[test]
    fn references_and_bold_words_know_their_ranges() {
        let (text, passages) = taken("**Tighten** [the *four* bolts](hardware:b-1) to [](spec:s-1), see [this](https://example.org).");
        let passage = &passages[0];
        let references: Vec<(RefKind, &str, &str)> =
            passage.references.iter().map(|at| (at.kind, at.id.as_str(), &passage.text[at.range.clone()])).collect();
        assert_eq!(references, [(RefKind::Hardware, "b-1", "the four bolts"), (RefKind::Spec, "s-1", "\u{fffc}")]);
        assert_eq!(passage.bold.iter().map(|range| &passage.text[range.clone()]).collect::<Vec<_>>(), ["Tighten"]);
        let at = passage.text.find("four").unwrap();
        assert_eq!(&text[passage.place(at, at + 4).range()], "four");
        let reference = &passage.references[1].range;
        assert_eq!(&text[passage.place(reference.start, reference.end).range()], "[](spec:s-1)");
    }
}
