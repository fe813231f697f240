//! From the Markdown parser's events to blocks and inlines: links become values, names and ways to steps, pictures get what points at
//! them, raw markup becomes plain words.

use pulldown_cmark::{Alignment, CodeBlockKind, Event, HeadingLevel, Tag, TagEnd};

use super::{Maker, sentences};
use crate::document::Operation;
use crate::document::value::Told;
use crate::document::words::{Align, Block, Callout, Inline, Line, Picture, Target, Words};
use crate::guide::model;
use crate::guide::names::{Destination, step};
use crate::guide::prose::{Prose, RefKind, is_operation, is_safe_address};
use crate::guide::untold;
use crate::quantity;
use crate::source::{Span, Spanned};

impl Maker<'_, '_> {
    /// A line of plain text; values in it are told as values.
    pub(super) fn line(&self, text: &model::Text) -> Line {
        Line { words: self.words_of(&text.value, text.span), span: text.span }
    }

    /// The words of a plain text of this place.
    pub(super) fn words_of(&self, text: &str, span: Span) -> Words {
        let options = quantity::Options { decimal_comma: self.ways.decimal_comma, default_unit: None };
        let mut words = Words::new();
        let mut at = 0;
        for found in quantity::scan(text, &options) {
            push_text(&mut words, &text[at..found.range.start], span);
            words.push(Spanned::new(Inline::Value(self.new_value(Told::Quantity(found.quantity))), span));
            at = found.range.end;
        }
        push_text(&mut words, &text[at..], span);
        words
    }

    /// Words with their structure; `callouts` and `operations` are those of the step that they stand in.
    pub(super) fn prose(&self, prose: &Prose<'_>, callouts: &[model::Callout], operations: &[Operation]) -> Vec<Spanned<Block>> {
        let mut reader = Reader { maker: self, events: &prose.events, at: 0, callouts, operations, listed: Vec::new() };
        let mut blocks = sentences::rows(reader.blocks(None));
        // Callouts of a picture that stands in a line of words are listed behind all words.
        let listed = reader.listed;
        let mut left: Vec<&str> = Vec::new();
        for picture in &prose.pictures {
            let source = picture.source.as_str();
            if !listed.iter().any(|known| known == source) && !left.contains(&source) {
                left.push(source);
                let callouts = self.callouts(source, callouts);
                if !callouts.is_empty() {
                    blocks.push(Spanned::new(Block::Callouts(callouts), picture.span));
                }
            }
        }
        blocks
    }

    pub(super) fn callouts(&self, address: &str, all: &[model::Callout]) -> Vec<Callout> {
        let of = all.iter().filter(|callout| callout.picture.value == address);
        of.map(|callout| Callout { at: callout.at.value, words: self.line(&callout.words) }).collect()
    }

    /// A picture by its address, with what points at it.
    pub(super) fn picture(&self, address: &str, words: String, callouts: &[model::Callout]) -> Picture {
        let fact = self.pictures.get(address).and_then(|fact| fact.as_ref().ok()).copied();
        Picture { address: address.to_owned(), words, fact, callouts: self.callouts(address, callouts) }
    }
}

fn push_text(words: &mut Words, text: &str, span: Span) {
    if text.is_empty() {
        return;
    }
    words.push(Spanned::new(Inline::Text(text.to_owned()), span));
}

struct Reader<'r, 'g, 's> {
    maker: &'r Maker<'g, 's>,
    events: &'r [(Event<'s>, Span)],
    at: usize,
    callouts: &'r [model::Callout],
    operations: &'r [Operation],
    /// Pictures whose callouts are told with them.
    listed: Vec<String>,
}

impl Reader<'_, '_, '_> {
    /// Blocks up to the end of `inside`, which is passed over; loose words among them become blocks of their own.
    fn blocks(&mut self, inside: Option<TagEnd>) -> Vec<Spanned<Block>> {
        let mut blocks = Vec::new();
        while let Some((event, span)) = self.events.get(self.at) {
            let span = *span;
            match event {
                Event::End(end) if Some(*end) == inside => {
                    self.at += 1;
                    break;
                }
                Event::Start(Tag::Paragraph) => {
                    self.at += 1;
                    let block = match self.lone_picture() {
                        Some(figure) => figure,
                        None => Block::Paragraph(self.words(TagEnd::Paragraph)),
                    };
                    blocks.push(Spanned::new(block, span));
                }
                Event::Start(Tag::Heading { level, .. }) => {
                    let level = *level;
                    self.at += 1;
                    blocks.push(Spanned::new(Block::Heading { level: depth(level), words: self.words(TagEnd::Heading(level)) }, span));
                }
                Event::Start(Tag::List(start)) => {
                    self.at += 1;
                    let block = Block::List { start: *start, items: self.items(start.is_some()) };
                    blocks.push(Spanned::new(block, span));
                }
                Event::Start(Tag::Table(aligned)) => {
                    self.at += 1;
                    let block = self.table(aligned);
                    blocks.push(Spanned::new(block, span));
                }
                Event::Start(Tag::CodeBlock(kind)) => {
                    self.at += 1;
                    let language = match kind {
                        CodeBlockKind::Fenced(info) => info.split(' ').next().unwrap_or_default().to_owned(),
                        CodeBlockKind::Indented => String::new(),
                    };
                    blocks.push(Spanned::new(Block::Code { language, text: self.plain(TagEnd::CodeBlock) }, span));
                }
                Event::Start(Tag::BlockQuote(kind)) => {
                    let kind = *kind;
                    self.at += 1;
                    let inner = self.blocks(Some(TagEnd::BlockQuote(kind)));
                    blocks.push(Spanned::new(Block::Quote(inner), span));
                }
                Event::Start(Tag::FootnoteDefinition(label)) => {
                    self.at += 1;
                    let blocks_of = self.blocks(Some(TagEnd::FootnoteDefinition));
                    blocks.push(Spanned::new(Block::Footnote { label: label.to_string(), blocks: blocks_of }, span));
                }
                // The block's lines come as text; without a paragraph they would stand loose.
                Event::Start(Tag::HtmlBlock) => {
                    self.at += 1;
                    let text = self.plain(TagEnd::HtmlBlock);
                    blocks.push(Spanned::new(Block::Paragraph(vec![Spanned::new(Inline::Text(text), span)]), span));
                }
                Event::Rule => {
                    self.at += 1;
                    blocks.push(Spanned::new(Block::Rule, span));
                }
                // What has no block of its own here, as the words of a close list.
                Event::End(_) => self.at += 1,
                _ => {
                    let words = self.bare();
                    if words.is_empty() {
                        self.at += 1;
                    } else {
                        blocks.push(Spanned::new(Block::Bare(words), span));
                    }
                }
            }
        }
        blocks
    }

    fn items(&mut self, numbered: bool) -> Vec<Vec<Spanned<Block>>> {
        let mut items = Vec::new();
        while let Some((event, _)) = self.events.get(self.at) {
            self.at += 1;
            match event {
                Event::End(TagEnd::List(of)) if *of == numbered => break,
                Event::Start(Tag::Item) => items.push(self.blocks(Some(TagEnd::Item))),
                _ => {}
            }
        }
        items
    }

    fn table(&mut self, aligned: &[Alignment]) -> Block {
        let aligned = aligned.iter().map(|align| match align {
            Alignment::Right => Align::Right,
            Alignment::Center => Align::Centre,
            Alignment::Left | Alignment::None => Align::Left,
        });
        let aligned = aligned.collect();
        let (mut head, mut rows, mut row) = (Vec::new(), Vec::new(), Vec::new());
        while let Some((event, _)) = self.events.get(self.at) {
            self.at += 1;
            match event {
                Event::End(TagEnd::Table) => break,
                Event::Start(Tag::TableCell) => row.push(self.words(TagEnd::TableCell)),
                Event::End(TagEnd::TableHead) => head = std::mem::take(&mut row),
                Event::End(TagEnd::TableRow) => rows.push(std::mem::take(&mut row)),
                _ => {}
            }
        }
        Block::Table { aligned, head, rows }
    }

    /// The text up to an end, which is passed over, as it stands.
    fn plain(&mut self, end: TagEnd) -> String {
        let mut text = String::new();
        while let Some((event, _)) = self.events.get(self.at) {
            self.at += 1;
            match event {
                Event::End(found) if *found == end => break,
                Event::Text(part) | Event::Code(part) | Event::Html(part) | Event::InlineHtml(part) => text.push_str(part),
                Event::SoftBreak | Event::HardBreak => text.push('\n'),
                _ => {}
            }
        }
        text
    }

    /// Words up to an end, which is passed over.
    fn words(&mut self, end: TagEnd) -> Words {
        let mut words = Words::new();
        while let Some((event, _)) = self.events.get(self.at) {
            if matches!(event, Event::End(found) if *found == end) {
                self.at += 1;
                break;
            }
            if !self.inline(&mut words) {
                self.at += 1;
            }
        }
        words
    }

    /// Loose words up to where a block begins or ends.
    fn bare(&mut self) -> Words {
        let mut words = Words::new();
        while self.at < self.events.len() && self.inline(&mut words) {}
        words
    }

    /// Reads one inline; gives back whether there was one.
    fn inline(&mut self, words: &mut Words) -> bool {
        let (event, span) = &self.events[self.at];
        let span = *span;
        let inline = match event {
            Event::Text(text) | Event::Html(text) | Event::InlineHtml(text) => Inline::Text(text.to_string()),
            Event::Code(text) => Inline::Code(text.to_string()),
            Event::SoftBreak => Inline::Soft,
            Event::HardBreak => Inline::Break,
            Event::FootnoteReference(label) => Inline::Note(label.to_string()),
            Event::Start(Tag::Strong) => {
                self.at += 1;
                let inner = self.words(TagEnd::Strong);
                words.push(Spanned::new(Inline::Strong(inner), span));
                return true;
            }
            Event::Start(Tag::Emphasis) => {
                self.at += 1;
                let inner = self.words(TagEnd::Emphasis);
                words.push(Spanned::new(Inline::Emphasis(inner), span));
                return true;
            }
            Event::Start(Tag::Image { dest_url, .. }) => {
                let address = dest_url.to_string();
                self.at += 1;
                let told = self.picture_words();
                let picture = self.maker.picture(&address, told, self.callouts);
                words.push(Spanned::new(Inline::Picture(picture), span));
                return true;
            }
            Event::Start(Tag::Link { dest_url, .. }) => {
                let address = dest_url.to_string();
                self.at += 1;
                let inner = self.words(TagEnd::Link);
                self.link(&address, inner, span, words);
                return true;
            }
            _ => return false,
        };
        self.at += 1;
        words.push(Spanned::new(inline, span));
        true
    }

    /// The words of a picture; its end is passed over.
    fn picture_words(&mut self) -> String {
        let mut told = String::new();
        while let Some((event, _)) = self.events.get(self.at) {
            self.at += 1;
            match event {
                Event::End(TagEnd::Image) => break,
                Event::Text(text) | Event::Code(text) => told.push_str(text),
                Event::SoftBreak | Event::HardBreak => told.push(' '),
                _ => {}
            }
        }
        told
    }

    /// A paragraph that is nothing but one picture becomes a figure.
    fn lone_picture(&mut self) -> Option<Block> {
        let (Event::Start(Tag::Image { dest_url, title, .. }), _) = self.events.get(self.at)? else { return None };
        let end = self.at + self.events[self.at..].iter().position(|(event, _)| matches!(event, Event::End(TagEnd::Image)))?;
        if !matches!(self.events.get(end + 1)?.0, Event::End(TagEnd::Paragraph)) {
            return None;
        }
        let (address, caption) = (dest_url.to_string(), title.to_string());
        self.at += 1;
        let told = self.picture_words();
        self.at += 1;
        let picture = self.maker.picture(&address, told, self.callouts);
        let explained = !self.listed.contains(&address);
        self.listed.push(address);
        Some(Block::Figure { picture, caption, explained })
    }

    /// A link by its address; `inner` are its words, if it has any.
    fn link(&self, address: &str, inner: Words, span: Span, words: &mut Words) {
        if is_operation(address) {
            // One that is told where no row can be is read as words.
            match self.operations.iter().find(|operation| operation.told && operation.span == span) {
                Some(operation) => {
                    let named = || vec![Spanned::new(Inline::Text(format!("{} {}", operation.verb.word(), operation.things())), span)];
                    let inner = if inner.is_empty() { named() } else { inner };
                    words.push(Spanned::new(Inline::Operation { id: operation.id.clone(), words: inner }, span));
                }
                None => words.extend(inner),
            }
            return;
        }
        let Some((kind, id)) = RefKind::parse(address) else {
            let to = if is_safe_address(address) {
                match Destination::of(address) {
                    Destination::Guide(slug) => Target::Guide(slug.to_owned()),
                    Destination::Unknown => Target::Nowhere,
                    Destination::Step(_) | Destination::Web => Target::Address(address.to_owned()),
                }
            } else {
                Target::Nowhere
            };
            // A link without words would leave a hole in the sentence.
            let inner = if inner.is_empty() { vec![Spanned::new(Inline::Text(address.to_owned()), span)] } else { inner };
            words.push(Spanned::new(Inline::Link { to, words: inner }, span));
            return;
        };
        let wordless = inner.is_empty();
        let named = |name: Option<&str>| {
            if wordless { vec![Spanned::new(Inline::Text(name.unwrap_or(id).to_owned()), span)] } else { inner.clone() }
        };
        let names = self.maker.names;
        let reference = |name: Option<&str>| Inline::Reference { kind, id: id.to_owned(), value: None, words: named(name) };
        let inline = match kind {
            RefKind::Spec => match names.spec(id) {
                Some(spec) if wordless => match (&spec.value, &spec.designation) {
                    (Some(stated), _) if stated.value.quantity.is_some() => Inline::Value(self.maker.value(&stated.value)),
                    (_, Some(designation)) => Inline::Value(self.maker.new_value(Told::Words(designation.value.clone()))),
                    (Some(stated), None) => Inline::Text(stated.value.text.clone()),
                    (None, None) => match untold::of_spec(self.maker.guide, self.maker.shop, &spec.id.value) {
                        Some(untold) => Inline::Value(self.maker.blank(untold)),
                        None => Inline::Text(id.to_owned()),
                    },
                },
                spec => Inline::Reference {
                    kind,
                    id: id.to_owned(),
                    value: spec.and_then(|spec| spec.value.as_ref()).map(|stated| self.maker.value(&stated.value)),
                    words: named(None),
                },
            },
            RefKind::Step => match step(self.maker.guide, id) {
                Some((at, _)) => {
                    let number = format!("step {}", at + 1);
                    Inline::Step { id: id.to_owned(), words: named(Some(&number)) }
                }
                None => {
                    words.extend(named(None));
                    return;
                }
            },
            RefKind::Hardware | RefKind::Part | RefKind::Item | RefKind::Connector => reference(names.thing(id).map(|thing| thing.name())),
            RefKind::Tool => reference(names.tool(id).map(|tool| tool.name.as_str())),
            RefKind::Caution => reference(names.caution(id).map(|caution| caution.hazard.as_str())),
        };
        words.push(Spanned::new(inline, span));
    }
}

fn depth(level: HeadingLevel) -> u8 {
    match level {
        HeadingLevel::H1 => 1,
        HeadingLevel::H2 => 2,
        HeadingLevel::H3 => 3,
        HeadingLevel::H4 => 4,
        HeadingLevel::H5 => 5,
        HeadingLevel::H6 => 6,
    }
}
