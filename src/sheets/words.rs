//! The words of a document as a sheet sets them: runs of one weight, and blocks that come one under the other.

use crate::document::value::Value;
use crate::document::words::{self, Inline, Line};
use crate::source::Spanned;

/// Words of one weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Whether they are set bold.
    pub strong: bool,
}

impl Run {
    /// Words in the usual weight.
    pub fn plain(text: impl Into<String>) -> Self {
        Run { text: text.into(), strong: false }
    }

    /// Words in bold.
    pub fn strong(text: impl Into<String>) -> Self {
        Run { text: text.into(), strong: true }
    }
}

/// Words in runs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words(pub Vec<Run>);

impl Words {
    /// Words in the usual weight.
    pub fn plain(text: impl Into<String>) -> Self {
        Words(vec![Run::plain(text)])
    }

    /// Words in bold.
    pub fn strong(text: impl Into<String>) -> Self {
        Words(vec![Run::strong(text)])
    }

    /// A line of the document.
    pub fn of(line: &Line) -> Self {
        let mut words = Words::default();
        words.inlines(&line.words, false, &mut Vec::new());
        words
    }

    /// Adds running words; pictures among them are put aside.
    fn inlines<'w>(&mut self, inlines: &'w words::Words, strong: bool, pictures: &mut Vec<&'w words::Picture>) {
        for inline in inlines {
            match &inline.value {
                Inline::Text(text) | Inline::Code(text) => self.add(&text.replace(['\n', '\t'], " "), strong),
                Inline::Strong(words) | Inline::Emphasis(words) => self.inlines(words, true, pictures),
                Inline::Value(value) => self.append(value_words(value)),
                Inline::Reference { kind: _, id: _, value: _, words } | Inline::Step { id: _, words } | Inline::Link { to: _, words } => {
                    self.inlines(words, strong, pictures);
                }
                Inline::Operation { id: _, words } => self.inlines(words, true, pictures),
                Inline::Picture(picture) => pictures.push(picture),
                Inline::Note(label) => self.add(label, strong),
                Inline::Soft => self.add(" ", strong),
                Inline::Break => self.add("\n", strong),
            }
        }
    }

    /// The sentence that tells an operation, with its number or dot; pictures among its words are put aside.
    pub fn told<'w>(label: Option<&str>, sentence: &'w words::Words, pictures: &mut Vec<&'w words::Picture>) -> Self {
        let mut words = Words::default();
        label.iter().for_each(|label| words.push(&format!("{label} ")));
        words.inlines(sentence, false, pictures);
        words.trimmed()
    }

    fn add(&mut self, text: &str, strong: bool) {
        if strong { self.push_strong(text) } else { self.push(text) }
    }

    /// Whether there is nothing to read.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|run| run.text.trim().is_empty())
    }

    /// Adds words in the usual weight.
    pub fn push(&mut self, text: &str) {
        match self.0.last_mut() {
            Some(run) if !run.strong => run.text.push_str(text),
            _ => self.0.push(Run::plain(text)),
        }
    }

    /// Adds words in bold.
    pub fn push_strong(&mut self, text: &str) {
        self.0.push(Run::strong(text));
    }

    /// Adds other words.
    pub fn append(&mut self, other: Words) {
        self.0.extend(other.0);
    }

    /// The text alone.
    pub fn text(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }

    fn trimmed(mut self) -> Self {
        if let Some(first) = self.0.first_mut() {
            first.text = first.text.trim_start().to_owned();
        }
        if let Some(last) = self.0.last_mut() {
            last.text = last.text.trim_end().to_owned();
        }
        self
    }
}

/// A part of a text that stands by itself.
#[derive(Clone, Debug)]
pub enum Block {
    /// A paragraph.
    Paragraph(Words),
    /// A heading inside a step.
    Heading(Words),
    /// A row of a list.
    Item {
        /// How deep it is nested, from 0.
        depth: usize,
        /// Its dot or number.
        label: String,
        /// Its words.
        words: Words,
    },
    /// Lines that keep their breaks.
    Code(String),
    /// A picture.
    Picture {
        /// The picture.
        picture: words::Picture,
        /// The line under it.
        caption: String,
    },
    /// A table.
    Table {
        /// Its first row.
        head: Vec<Words>,
        /// The others.
        rows: Vec<Vec<Words>>,
    },
}

/// A value as words: the one that is worked to in bold, the other in brackets.
pub fn value_words(value: &Value) -> Words {
    let (first, second) = value.pair();
    let mut words = Words::strong(first);
    if let Some(second) = second {
        words.push(&format!(" ({second})"));
    }
    words
}

/// Blocks of the document as they come one under the other on a sheet.
pub fn blocks(document: &[Spanned<words::Block>]) -> Vec<Block> {
    let mut writer = Writer::default();
    writer.blocks(document);
    writer.blocks
}

#[derive(Default)]
struct Writer {
    blocks: Vec<Block>,
    /// How deep the lists are nested.
    depth: usize,
    /// The label of the row that is being written; only its first words have it.
    label: Option<String>,
}

impl Writer {
    fn blocks(&mut self, document: &[Spanned<words::Block>]) {
        document.iter().for_each(|block| self.block(&block.value));
    }

    fn block(&mut self, block: &words::Block) {
        match block {
            words::Block::Paragraph(words) | words::Block::Bare(words) => self.words(words, Block::Paragraph),
            // On a full sheet it is a row with its operation.
            words::Block::Told { label, operations: _, words } => {
                self.label.clone_from(label);
                self.words(words, Block::Paragraph);
                self.label = None;
            }
            words::Block::Heading { level: _, words } => self.words(words, Block::Heading),
            words::Block::List { start, items } => {
                // A row that begins with a list has its number on a line of its own.
                if let Some(label) = self.label.take().filter(|label| !label.is_empty()) {
                    self.blocks.push(Block::Item { depth: self.depth.saturating_sub(1), label, words: Words::default() });
                }
                let inside = self.depth > 0;
                self.depth += 1;
                for (at, item) in items.iter().enumerate() {
                    self.label = Some(match start {
                        Some(start) => format!("{}.", start + at as u64),
                        None => "•".to_owned(),
                    });
                    self.blocks(item);
                }
                // What the outer row says after this list stands under its first words.
                self.label = inside.then(String::new);
                self.depth -= 1;
            }
            words::Block::Table { aligned: _, head, rows } => {
                let cells = |cells: &[words::Words]| cells.iter().map(cell).collect();
                self.blocks.push(Block::Table { head: cells(head), rows: rows.iter().map(|row| cells(row)).collect() });
            }
            words::Block::Figure { picture, caption, explained } => {
                self.blocks.push(Block::Picture { picture: picture.clone(), caption: caption.clone() });
                if *explained {
                    self.callouts(&picture.callouts);
                }
            }
            words::Block::Callouts(callouts) => self.callouts(callouts),
            words::Block::Code { language: _, text } => self.blocks.push(Block::Code(text.clone())),
            words::Block::Quote(blocks) => self.blocks(blocks),
            words::Block::Rule => {}
            words::Block::Footnote { label, blocks } => {
                self.blocks.push(Block::Paragraph(Words::plain(label.as_str())));
                self.blocks(blocks);
            }
        }
    }

    fn words(&mut self, inlines: &words::Words, make: fn(Words) -> Block) {
        let mut words = Words::default();
        let mut pictures = Vec::new();
        words.inlines(inlines, false, &mut pictures);
        let words = words.trimmed();
        if !words.is_empty() {
            // Further words of a row stand under the first, without its dot.
            let block = match &mut self.label {
                Some(label) => Block::Item { depth: self.depth.saturating_sub(1), label: std::mem::take(label), words },
                None => make(words),
            };
            self.blocks.push(block);
        }
        let shown = pictures.into_iter().filter(|picture| picture.fact.is_some());
        self.blocks.extend(shown.map(|picture| Block::Picture { picture: picture.clone(), caption: String::new() }));
    }

    /// What the balloons of a picture point to, numbered as they are.
    fn callouts(&mut self, callouts: &[words::Callout]) {
        for (at, callout) in callouts.iter().enumerate() {
            let words = Words::of(&callout.words).trimmed();
            self.blocks.push(Block::Item { depth: self.depth, label: format!("{}.", at + 1), words });
        }
    }
}

fn cell(inlines: &words::Words) -> Words {
    let mut words = Words::default();
    words.inlines(inlines, false, &mut Vec::new());
    words.trimmed()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Span;

    fn text(text: &str) -> Spanned<Inline> {
        Spanned::new(Inline::Text(text.to_owned()), Span::default())
    }

    fn paragraph(words: words::Words) -> Spanned<words::Block> {
        Spanned::new(words::Block::Paragraph(words), Span::default())
    }

    #[test]
    fn rows_have_their_label_once_and_go_as_deep_as_their_lists() {
        let inner = words::Block::List { start: None, items: vec![vec![paragraph(vec![text("inner")])]] };
        let first = vec![paragraph(vec![text("first")]), paragraph(vec![text("more")]), Spanned::new(inner, Span::default())];
        let list = words::Block::List { start: Some(3), items: vec![first, vec![paragraph(vec![text("second")])]] };
        let rows: Vec<(usize, String, String)> = blocks(&[Spanned::new(list, Span::default())])
            .into_iter()
            .map(|block| match block {
                Block::Item { depth, label, words } => (depth, label, words.text()),
                other => panic!("{other:?}"),
            })
            .collect();
        let row = |depth, label: &str, words: &str| (depth, label.to_owned(), words.to_owned());
        assert_eq!(rows, [row(0, "3.", "first"), row(0, "", "more"), row(1, "•", "inner"), row(0, "4.", "second")]);
    }

    #[test]
    fn a_row_goes_on_after_a_list_inside_it_and_keeps_its_number_before_one() {
        let inner = || Spanned::new(words::Block::List { start: None, items: vec![vec![paragraph(vec![text("inner")])]] }, Span::default());
        let first = vec![paragraph(vec![text("first")]), inner(), paragraph(vec![text("after")])];
        let list = words::Block::List { start: Some(1), items: vec![first, vec![inner()]] };
        let told = blocks(&[Spanned::new(list, Span::default()), paragraph(vec![text("outside")])]);
        let told: Vec<String> = told
            .into_iter()
            .map(|block| match block {
                Block::Item { depth, label, words } => format!("{depth}|{label}|{}", words.text()),
                Block::Paragraph(words) => words.text(),
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(told, ["0|1.|first", "1|•|inner", "0||after", "0|2.|", "1|•|inner", "outside"]);
    }

    #[test]
    fn stress_is_set_bold_and_nothing_that_looks_like_markup_is_lost() {
        let stressed = Spanned::new(Inline::Emphasis(vec![text("d <b>")]), Span::default());
        let Some(Block::Paragraph(words)) = blocks(&[paragraph(vec![text("a & b &amp; "), stressed])]).pop() else { panic!() };
        assert_eq!(words, Words(vec![Run::plain("a & b &amp; "), Run::strong("d <b>")]));
    }
}
