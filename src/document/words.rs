//! Words with their structure: blocks and inlines, each with its place in the text. References are resolved here: a value, a name, a
//! step, a picture with what points at it. Nothing in it is markup.

use crate::document::value::Value;
use crate::guide::picture::PictureFact;
use crate::guide::prose::RefKind;
use crate::source::{Span, Spanned};

/// Running words.
pub type Words = Vec<Spanned<Inline>>;

/// A line of its own, as before work starts or in a check.
#[derive(Clone, Debug, Hash)]
pub struct Line {
    /// Its words.
    pub words: Words,
    /// Where it is written.
    pub span: Span,
}

impl Line {
    /// The line as plain text, a value's second unit in brackets.
    pub fn text(&self) -> String {
        text(&self.words)
    }
}

/// A part of running words.
#[derive(Clone, Debug, Hash)]
pub enum Inline {
    /// Plain words.
    Text(String),
    /// Words set as they are typed.
    Code(String),
    /// Words with weight.
    Strong(Words),
    /// Words with stress.
    Emphasis(Words),
    /// A value.
    Value(Value),
    /// Words for something that the guide defines.
    Reference {
        /// What sort of thing.
        kind: RefKind,
        /// Its id.
        id: String,
        /// Its value, where it is a value that is told in other words.
        value: Option<Value>,
        /// What is read.
        words: Words,
    },
    /// A way to a step of the guide.
    Step {
        /// Its anchor.
        id: String,
        /// What is read.
        words: Words,
    },
    /// Words of the sentence that tells an operation.
    Operation {
        /// The operation's id.
        id: String,
        /// What is read.
        words: Words,
    },
    /// A way to somewhere else.
    Link {
        /// Where it leads.
        to: Target,
        /// What is read.
        words: Words,
    },
    /// A picture in a line.
    Picture(Picture),
    /// The mark of a footnote.
    Note(String),
    /// The end of a line in the text, which readers see as a space.
    Soft,
    /// The end of a line.
    Break,
}

/// Where a link leads.
#[derive(Clone, Debug, Hash, PartialEq, Eq)]
pub enum Target {
    /// Another guide of the shop, by its slug.
    Guide(String),
    /// An address that is safe to follow.
    Address(String),
    /// Nowhere: its address is not one that a page may hold, or leads to nothing known.
    Nowhere,
}

/// A picture with what points at it.
#[derive(Clone, Debug, Hash)]
pub struct Picture {
    /// The address in the guide's text.
    pub address: String,
    /// What it shows, in words.
    pub words: String,
    /// What it is; none where it cannot be shown.
    pub fact: Option<PictureFact>,
    /// The places on it that are explained, numbered in this order.
    pub callouts: Vec<Callout>,
}

/// A place on a picture.
#[derive(Clone, Debug)]
pub struct Callout {
    /// From the left and from the top, as shares of width and height.
    pub at: (f64, f64),
    /// What is there.
    pub words: Line,
}

impl std::hash::Hash for Callout {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        let Callout { at: (x, y), words } = self;
        (x.to_bits(), y.to_bits(), words).hash(state);
    }
}

/// How a column of a table stands.
#[derive(Clone, Copy, Debug, Hash, PartialEq, Eq)]
pub enum Align {
    /// From the left.
    Left,
    /// In the middle.
    Centre,
    /// At the right.
    Right,
}

/// A part of a text that stands by itself.
#[derive(Clone, Debug, Hash)]
pub enum Block {
    /// A paragraph.
    Paragraph(Words),
    /// A sentence that tells operations: whatever shows it shows them with it, as one row. It stands at the top level of a step's words only.
    Told {
        /// The number or dot of the row of a list that it stood in, at its first sentence.
        label: Option<String>,
        /// The ids of the operations, in the order of the words.
        operations: Vec<String>,
        /// The sentence.
        words: Words,
    },
    /// Words that are no paragraph of their own, as in the rows of a close list.
    Bare(Words),
    /// A heading inside a step.
    Heading {
        /// How deep: 1 is the highest.
        level: u8,
        /// Its words.
        words: Words,
    },
    /// A list.
    List {
        /// The first number; none for dots.
        start: Option<u64>,
        /// Its rows.
        items: Vec<Vec<Spanned<Block>>>,
    },
    /// A table.
    Table {
        /// How its columns stand.
        aligned: Vec<Align>,
        /// Its first row.
        head: Vec<Words>,
        /// The others.
        rows: Vec<Vec<Words>>,
    },
    /// A picture by itself.
    Figure {
        /// The picture.
        picture: Picture,
        /// The line under it.
        caption: String,
        /// Whether the words of its callouts stand with it: of a picture shown twice they stand once.
        explained: bool,
    },
    /// What the callouts of a picture in a line say.
    Callouts(Vec<Callout>),
    /// Lines that keep their breaks.
    Code {
        /// The language that the author names.
        language: String,
        /// The lines.
        text: String,
    },
    /// Words of somebody else.
    Quote(Vec<Spanned<Block>>),
    /// A line across.
    Rule,
    /// A footnote.
    Footnote {
        /// Its mark.
        label: String,
        /// Its words.
        blocks: Vec<Spanned<Block>>,
    },
}

/// Words as plain text: a value's second unit in brackets, line ends as spaces, pictures left out.
pub fn text(words: &Words) -> String {
    let mut plain = String::new();
    write_text(words, ' ', &mut plain);
    plain
}

/// Adds words as plain text; `soft` stands for the end of a line in the guide's text.
fn write_text(words: &Words, soft: char, out: &mut String) {
    for inline in words {
        match &inline.value {
            Inline::Text(text) | Inline::Code(text) => out.push_str(text),
            Inline::Strong(words)
            | Inline::Emphasis(words)
            | Inline::Reference { kind: _, id: _, value: _, words }
            | Inline::Step { id: _, words }
            | Inline::Operation { id: _, words }
            | Inline::Link { to: _, words } => write_text(words, soft, out),
            Inline::Value(value) => out.push_str(&value.in_line()),
            Inline::Picture(_) => {}
            Inline::Note(label) => out.push_str(label),
            Inline::Soft => out.push(soft),
            Inline::Break => out.push('\n'),
        }
    }
}

/// Blocks as plain text, each on a line of its own: rows of lists and tables too, captions for pictures. Lines end where the author ends
/// them, as after each sentence.
pub fn plain(blocks: &[Spanned<Block>]) -> String {
    let mut lines = Vec::new();
    plain_lines(blocks, &mut lines);
    let lines = lines.iter().flat_map(|line| line.lines()).map(str::trim).filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join("\n")
}

fn plain_lines(blocks: &[Spanned<Block>], lines: &mut Vec<String>) {
    for block in blocks {
        match &block.value {
            Block::Paragraph(words)
            | Block::Bare(words)
            | Block::Heading { level: _, words }
            | Block::Told { label: _, operations: _, words } => {
                let mut told = String::new();
                write_text(words, '\n', &mut told);
                lines.push(told);
            }
            Block::List { start: _, items } => items.iter().for_each(|item| plain_lines(item, lines)),
            Block::Table { aligned: _, head, rows } => {
                for row in std::iter::once(head).chain(rows) {
                    lines.push(row.iter().map(text).collect::<Vec<_>>().join(" "));
                }
            }
            Block::Figure { picture: _, caption, explained: _ } => lines.push(caption.clone()),
            // What balloons point to stands with the picture.
            Block::Callouts(_) | Block::Rule => {}
            Block::Code { language: _, text } => lines.push(text.clone()),
            Block::Quote(blocks) => plain_lines(blocks, lines),
            Block::Footnote { label, blocks } => {
                lines.push(label.clone());
                plain_lines(blocks, lines);
            }
        }
    }
}

/// Blocks with what was one paragraph in the text as one again, whichever of its sentences tell operations.
pub fn rejoined(blocks: &[Spanned<Block>]) -> Vec<Spanned<Block>> {
    let mut made: Vec<Spanned<Block>> = Vec::with_capacity(blocks.len());
    for block in blocks {
        let words = match &block.value {
            Block::Paragraph(words) | Block::Told { label: None, operations: _, words } => words,
            _ => {
                made.push(block.clone());
                continue;
            }
        };
        match made.last_mut() {
            Some(Spanned { value: Block::Paragraph(before), span }) if *span == block.span && block.span != Span::default() => {
                before.push(Spanned::new(Inline::Soft, block.span));
                before.extend(words.iter().cloned());
            }
            _ => made.push(Spanned::new(Block::Paragraph(words.clone()), block.span)),
        }
    }
    made
}

/// Every picture of some blocks in order.
pub fn pictures(blocks: &[Spanned<Block>]) -> Vec<&Picture> {
    fn in_words<'w>(words: &'w Words, found: &mut Vec<&'w Picture>) {
        for inline in words {
            match &inline.value {
                Inline::Picture(picture) => found.push(picture),
                Inline::Strong(words)
                | Inline::Emphasis(words)
                | Inline::Reference { words, .. }
                | Inline::Step { words, .. }
                | Inline::Operation { words, .. }
                | Inline::Link { words, .. } => in_words(words, found),
                Inline::Text(_) | Inline::Code(_) | Inline::Value(_) | Inline::Note(_) | Inline::Soft | Inline::Break => {}
            }
        }
    }
    fn in_blocks<'w>(blocks: &'w [Spanned<Block>], found: &mut Vec<&'w Picture>) {
        for block in blocks {
            match &block.value {
                Block::Paragraph(words)
                | Block::Bare(words)
                | Block::Heading { level: _, words }
                | Block::Told { label: _, operations: _, words } => in_words(words, found),
                Block::List { start: _, items } => items.iter().for_each(|item| in_blocks(item, found)),
                Block::Table { aligned: _, head, rows } => {
                    head.iter().chain(rows.iter().flatten()).for_each(|cell| in_words(cell, found));
                }
                Block::Figure { picture, caption: _, explained: _ } => found.push(picture),
                Block::Quote(blocks) | Block::Footnote { label: _, blocks } => in_blocks(blocks, found),
                Block::Callouts(_) | Block::Code { .. } | Block::Rule => {}
            }
        }
    }
    let mut found = Vec::new();
    in_blocks(blocks, &mut found);
    found
}
