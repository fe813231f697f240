//! The words of a guide between its blocks: the Markdown parser's events with their places, and what
//! the rest of the program needs to know of them (references by our link schemes, pictures,
//! addresses, raw markup). Writing them as HTML is left to `site::html`.

use std::ops::Range;

use pulldown_cmark::{CowStr, Event, Tag, TagEnd};

use crate::guide::model::Text;
use crate::guide::short;
use crate::guide::sides::Swaps;
use crate::guide::verb::Verb;
use crate::near::nearest;
use crate::source::{Span, Spanned};

/// What a link with one of our schemes refers to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RefKind {
    /// `spec:`
    Spec,
    /// `hardware:`
    Hardware,
    /// `part:`
    Part,
    /// `item:`
    Item,
    /// `connector:`
    Connector,
    /// `tool:`
    Tool,
    /// `step:`
    Step,
    /// `caution:`
    Caution,
}

impl RefKind {
    /// Every scheme, without the colon.
    pub const ALL: [(RefKind, &'static str); 8] = [
        (RefKind::Spec, "spec"),
        (RefKind::Hardware, "hardware"),
        (RefKind::Part, "part"),
        (RefKind::Item, "item"),
        (RefKind::Connector, "connector"),
        (RefKind::Tool, "tool"),
        (RefKind::Step, "step"),
        (RefKind::Caution, "caution"),
    ];

    /// The scheme's word.
    pub fn word(self) -> &'static str {
        RefKind::ALL[self as usize].1
    }

    /// Splits `spec:seat-bolt` into its kind and id.
    pub fn parse(address: &str) -> Option<(RefKind, &str)> {
        let (scheme, id) = address.split_once(':')?;
        RefKind::ALL.iter().find(|(_, word)| *word == scheme).map(|(kind, _)| (*kind, id))
    }
}

/// A reference by link scheme.
#[derive(Clone, Debug)]
pub struct Reference {
    /// What it refers to.
    pub kind: RefKind,
    /// The id, at its place where the link is written in line.
    pub id: Text,
    /// Whether the link has no words of its own, so that the value or name is shown.
    pub wordless: bool,
}

/// In what an operation is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToldIn {
    /// A paragraph or a row of a list.
    Sentence,
    /// A heading.
    Heading,
    /// A cell of a table.
    Cell,
    /// A note: a quotation or a footnote.
    Note,
}

/// An operation that a sentence tells: a link whose scheme is the verb.
#[derive(Clone, Debug)]
pub struct Told {
    /// The address, an operation in the short form.
    pub address: Text,
    /// The whole link.
    pub link: Span,
    /// Where it stands.
    pub within: ToldIn,
    /// Where pieces of the address stood, where a side was put into it.
    pub swaps: Swaps,
}

/// Whether an address is an operation in the short form; so is one with a slip in the verb.
pub fn is_operation(address: &str) -> bool {
    // Most links are references: they are known at once.
    if RefKind::parse(address).is_some() {
        return false;
    }
    let Some((verb, _)) = short::verb_of(address) else { return false };
    let known = || Verb::ALL.iter().map(|verb| verb.key());
    Verb::from_key(&verb).is_some()
        || !is_safe_address(address)
            && RefKind::ALL.iter().all(|(_, word)| nearest(&verb, [*word]).is_none())
            && nearest(&verb, known()).is_some()
}

/// A picture.
#[derive(Clone, Debug)]
pub struct Picture {
    /// The address as written.
    pub source: Text,
    /// The alternative text.
    pub words: String,
    /// The whole image.
    pub span: Span,
}

/// Any other link.
#[derive(Clone, Debug)]
pub struct Address {
    /// The address as written, character references resolved.
    pub address: Text,
    /// Whether it is safe to follow: web, mail, telephone or within the site.
    pub safe: bool,
}

/// Words with their Markdown structure.
#[derive(Clone, Debug, Default)]
pub struct Prose<'s> {
    /// The parser's events in order.
    pub events: Vec<(Event<'s>, Span)>,
    /// References by our schemes.
    pub references: Vec<Reference>,
    /// Pictures.
    pub pictures: Vec<Picture>,
    /// Other links.
    pub addresses: Vec<Address>,
    /// Raw markup, which pages show as text.
    pub markup: Vec<Span>,
    /// Operations that its sentences tell.
    pub told: Vec<Told>,
    /// Headings, cells and notes that are open.
    within: [u32; 3],
    /// How many elements are open.
    open: usize,
    open_picture: Option<Picture>,
    open_reference: Option<usize>,
}

impl<'s> Prose<'s> {
    /// Puts other texts in the place of its words, ids and addresses; `new` gives none where a text stays. Operations are left alone.
    pub fn rewrite(&mut self, new: impl Fn(&str) -> Option<String>) {
        for (event, _) in &mut self.events {
            let swap = |text: &mut CowStr<'_>| {
                if let Some(new) = new(text) {
                    *text = CowStr::from(new);
                }
            };
            match event {
                Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => swap(text),
                Event::Start(Tag::Link { dest_url, title, .. } | Tag::Image { dest_url, title, .. }) => {
                    swap(dest_url);
                    swap(title);
                }
                _ => {}
            }
        }
        let put = |text: &mut String| {
            if let Some(new) = new(text) {
                *text = new;
            }
        };
        self.references.iter_mut().for_each(|reference| put(&mut reference.id.value));
        for picture in &mut self.pictures {
            put(&mut picture.source.value);
            put(&mut picture.words);
        }
        self.addresses.iter_mut().for_each(|address| put(&mut address.address.value));
    }

    /// Whether there is nothing to show.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// Where the words begin.
    pub fn start(&self) -> Option<u32> {
        self.events.first().map(|(_, span)| span.start)
    }

    /// Every run of plain words with its place. Words in code and in pictures do not count.
    pub fn runs(&self) -> impl Iterator<Item = (&str, Span)> {
        let mut in_picture = 0u32;
        let mut in_code = 0u32;
        self.events.iter().filter_map(move |(event, span)| {
            match event {
                Event::Start(Tag::Image { .. }) => in_picture += 1,
                Event::End(TagEnd::Image) => in_picture -= 1,
                Event::Start(Tag::CodeBlock(_)) => in_code += 1,
                Event::End(TagEnd::CodeBlock) => in_code -= 1,
                Event::Text(text) if in_picture == 0 && in_code == 0 => return Some((text.as_ref(), *span)),
                _ => {}
            }
            None
        })
    }

    /// Every run of words that the page shows, code and raw markup with it; only the words of pictures do not count.
    pub fn shown(&self) -> impl Iterator<Item = &str> {
        let mut in_picture = 0u32;
        self.events.iter().filter_map(move |(event, _)| {
            match event {
                Event::Start(Tag::Image { .. }) => in_picture += 1,
                Event::End(TagEnd::Image) => in_picture -= 1,
                Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) if in_picture == 0 => {
                    return Some(text.as_ref());
                }
                _ => {}
            }
            None
        })
    }

    /// The words that tell what to do, as one text with a point behind each paragraph: no quoted notes, pictures or code blocks.
    pub(crate) fn commands(&self) -> String {
        let (mut quote, mut hidden, mut text) = (0u32, 0u32, String::new());
        for (event, _) in &self.events {
            match event {
                Event::Start(Tag::BlockQuote(_)) => quote += 1,
                Event::End(TagEnd::BlockQuote(_)) => quote -= 1,
                Event::Start(Tag::Image { .. } | Tag::CodeBlock(_)) => hidden += 1,
                Event::End(TagEnd::Image | TagEnd::CodeBlock) => hidden -= 1,
                Event::Text(words) | Event::Code(words) if quote == 0 && hidden == 0 => text.push_str(words),
                Event::SoftBreak | Event::HardBreak => text.push(' '),
                Event::End(TagEnd::Paragraph | TagEnd::Item | TagEnd::TableCell | TagEnd::Heading(_)) => text.push_str(". "),
                _ => {}
            }
        }
        text
    }

    /// Whether `span` stands in the words of a link.
    pub fn is_in_link(&self, span: Span) -> bool {
        self.events.iter().any(|(event, link)| matches!(event, Event::Start(Tag::Link { .. })) && link.contains(span))
    }

    /// Takes in the next event of the parser.
    pub(crate) fn push(&mut self, event: Event<'s>, range: Range<usize>, source: &str) {
        let span = Span::new(range);
        // A heading inside of a quote begins another step, and the quote then ends in words that it did not begin in.
        match &event {
            Event::Start(_) => self.open += 1,
            Event::End(_) if self.open == 0 => return,
            Event::End(_) => self.open -= 1,
            _ => {}
        }
        match &event {
            Event::Start(Tag::Link { dest_url, .. }) => self.open_link(dest_url, span, source),
            Event::End(TagEnd::Link) => self.open_reference = None,
            Event::Start(Tag::Image { dest_url, .. }) => {
                let place = find_in(source, span, dest_url);
                self.open_picture = Some(Picture { source: Spanned::new(dest_url.to_string(), place), words: String::new(), span });
            }
            Event::End(TagEnd::Image) => self.pictures.extend(self.open_picture.take()),
            Event::Text(text) | Event::Code(text) => {
                if let Some(picture) = &mut self.open_picture {
                    picture.words.push_str(text);
                }
                if let Some(at) = self.open_reference {
                    self.references[at].wordless = false;
                }
            }
            Event::Start(Tag::Heading { .. }) => self.within[0] += 1,
            Event::End(TagEnd::Heading(_)) => self.leave(0),
            Event::Start(Tag::TableCell) => self.within[1] += 1,
            Event::End(TagEnd::TableCell) => self.leave(1),
            Event::Start(Tag::BlockQuote(_) | Tag::FootnoteDefinition(_)) => self.within[2] += 1,
            Event::End(TagEnd::BlockQuote(_) | TagEnd::FootnoteDefinition) => self.leave(2),
            Event::Html(_) | Event::InlineHtml(_) => match self.markup.last_mut() {
                Some(last) if last.end == span.start => last.end = span.end,
                _ => self.markup.push(span),
            },
            _ => {}
        }
        self.events.push((event, span));
    }

    /// A heading inside of a quote begins another step, and the quote then ends in words that it did not begin in.
    fn leave(&mut self, what: usize) {
        self.within[what] = self.within[what].saturating_sub(1);
    }

    fn open_link(&mut self, address: &str, span: Span, source: &str) {
        let place = find_in(source, span, address);
        match RefKind::parse(address) {
            Some((kind, id)) => {
                let start = if place == span { place.start } else { place.end - id.len() as u32 };
                let id = Spanned::new(id.to_owned(), Span { start, end: place.end });
                self.open_reference = Some(self.references.len());
                self.references.push(Reference { kind, id, wordless: true });
            }
            None if is_operation(address) => {
                let within = match self.within {
                    [0, 0, 0] => ToldIn::Sentence,
                    [0, 0, _] => ToldIn::Note,
                    [0, ..] => ToldIn::Cell,
                    _ => ToldIn::Heading,
                };
                self.told.push(Told { address: Spanned::new(address.to_owned(), place), link: span, within, swaps: Swaps::default() });
            }
            None => {
                let address = Spanned::new(address.to_owned(), place);
                let safe = is_safe_address(&address.value);
                self.addresses.push(Address { address, safe });
            }
        }
    }
}

/// The place of `needle` in the text of `span`; the whole span where it is written otherwise there.
pub(super) fn find_in(source: &str, span: Span, needle: &str) -> Span {
    let text = &source[span.range()];
    match text.rfind(needle) {
        Some(at) if !needle.is_empty() => span.part(at..at + needle.len()),
        _ => span,
    }
}

/// Whether an address may stand in a page: only web, mail and telephone schemes, or none at all.
pub fn is_safe_address(address: &str) -> bool {
    // Browsers drop control characters and spaces in front of and inside a scheme.
    let cleaned: String = address.chars().filter(|c| !c.is_control() && !c.is_whitespace()).collect();
    match cleaned.find([':', '/', '?', '#']) {
        Some(at) if cleaned.as_bytes()[at] == b':' => {
            ["http", "https", "mailto", "tel"].iter().any(|scheme| cleaned[..at].eq_ignore_ascii_case(scheme))
        }
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn schemes_are_told_apart() {
        for (at, (kind, word)) in RefKind::ALL.into_iter().enumerate() {
            assert_eq!(kind as usize, at);
            assert_eq!(RefKind::parse(&format!("{word}:x-1")), Some((kind, "x-1")));
        }
        assert_eq!(RefKind::parse("https://example.org"), None);
    }

    #[test]
    fn script_addresses_are_not_safe_however_they_are_written() {
        for bad in ["javascript:alert(1)", " JaVa\tScRiPt:x", "data:text/html,x", "vbscript:x", "file:///etc", "\u{1}javascript:x"] {
            assert!(!is_safe_address(bad), "{bad}");
        }
        for good in ["https://example.org", "MAILTO:a@example.org", "#step", "other.md", "a/b:c", "tel:1"] {
            assert!(is_safe_address(good), "{good}");
        }
    }
}
