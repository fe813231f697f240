//! Sentences of a guide's words with their places, for rules that read prose. A reference without words
//! of its own stands as a placeholder, so that a rule can see that a value is referred to.

use pulldown_cmark::{Event, Tag, TagEnd};
use unicode_segmentation::UnicodeSegmentation;

use crate::guide::prose::Prose;
use crate::source::Span;

/// Stands for a reference without words of its own.
pub const REFERENCE: char = '\u{fffc}';

/// A run of words as written in one paragraph, list item or table cell.
#[derive(Debug, Default)]
pub struct Passage {
    /// The words, line breaks as spaces.
    pub text: String,
    /// Offsets in `text` and the source places they come from, in order.
    pieces: Vec<(usize, Span)>,
}

impl Passage {
    /// The place in the source of a range of `text`.
    pub fn place(&self, start: usize, end: usize) -> Span {
        let of = |offset: usize| {
            let at = self.pieces.partition_point(|(from, _)| *from <= offset).saturating_sub(1);
            let (from, span) = self.pieces.get(at).copied().unwrap_or_default();
            (span.start + (offset - from.min(offset)) as u32).min(span.end)
        };
        let first = of(start);
        // The end is found from the last byte inside, so that it does not slip into the next piece.
        let last = of(end.saturating_sub(1).max(start)) + u32::from(end > start);
        Span { start: first, end: last.max(first) }
    }

    /// The sentences with their offsets in `text`.
    pub fn sentences(&self) -> impl Iterator<Item = (usize, &str)> {
        self.text.split_sentence_bound_indices().filter(|(_, sentence)| !sentence.trim().is_empty())
    }

    fn push(&mut self, text: &str, span: Span) {
        self.pieces.push((self.text.len(), span));
        self.text.push_str(text);
    }
}

/// The passages of some prose. Pictures and code blocks are left out.
pub fn passages(prose: &Prose<'_>) -> Vec<Passage> {
    let mut passages = vec![Passage::default()];
    let (mut skip, mut link_words) = (0u32, None::<usize>);
    for (event, span) in &prose.events {
        let last = passages.len() - 1;
        let passage = &mut passages[last];
        match event {
            Event::Start(Tag::Image { .. } | Tag::CodeBlock(_)) => skip += 1,
            Event::End(TagEnd::Image | TagEnd::CodeBlock) => skip -= 1,
            _ if skip > 0 => {}
            Event::Start(Tag::Link { .. }) => link_words = Some(passage.text.len()),
            Event::End(TagEnd::Link) if link_words.take() == Some(passage.text.len()) => {
                passage.push(REFERENCE.encode_utf8(&mut [0; 4]), *span);
            }
            Event::Text(text) | Event::Code(text) => passage.push(text, *span),
            Event::SoftBreak | Event::HardBreak => passage.push(" ", *span),
            Event::End(TagEnd::Paragraph | TagEnd::Item | TagEnd::TableCell | TagEnd::Heading(_)) if !passage.text.is_empty() => {
                passages.push(Passage::default());
            }
            _ => {}
        }
    }
    passages.retain(|passage| !passage.text.trim().is_empty());
    passages
}
