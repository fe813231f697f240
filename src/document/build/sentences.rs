//! From paragraphs and lists to sentences: one that tells operations becomes a row of its own, what stands between such sentences stays
//! together as it was.

use crate::document::words::{Block, Inline, Words, text};
use crate::guide::words::sentences;
use crate::source::{Span, Spanned};

/// Blocks of a step's words, each sentence that tells operations by itself. Lists that tell operations are taken apart into their rows.
pub(super) fn rows(blocks: Vec<Spanned<Block>>) -> Vec<Spanned<Block>> {
    let mut made = Vec::with_capacity(blocks.len());
    blocks.into_iter().for_each(|block| add(block, None, &mut made));
    made
}

fn add(block: Spanned<Block>, label: Option<&mut Option<String>>, made: &mut Vec<Spanned<Block>>) {
    let span = block.span;
    match block.value {
        Block::Paragraph(words) if tells(&words) => sentence_rows(words, span, label, made),
        Block::Bare(words) if tells(&words) => sentence_rows(words, span, label, made),
        Block::List { start, items } if items.iter().any(|item| blocks_tell(item)) => {
            for (at, item) in items.into_iter().enumerate() {
                let number = start.map(|start| start + at as u64);
                if !blocks_tell(&item) {
                    made.push(Spanned::new(Block::List { start: number, items: vec![item] }, span));
                    continue;
                }
                let mut label = Some(number.map_or_else(|| "•".to_owned(), |number| format!("{number}.")));
                item.into_iter().for_each(|block| add(block, Some(&mut label), made));
            }
        }
        value => made.push(Spanned::new(value, span)),
    }
}

/// A sentence for each row, and what stands between them as paragraphs.
fn sentence_rows(words: Words, span: Span, mut label: Option<&mut Option<String>>, made: &mut Vec<Spanned<Block>>) {
    let mut between = Words::new();
    for sentence in cut(words) {
        let mut operations = Vec::new();
        ids(&sentence, &mut operations);
        if operations.is_empty() {
            between.extend(sentence);
            continue;
        }
        paragraph(std::mem::take(&mut between), span, made);
        let label = label.as_mut().and_then(|label| label.take());
        made.push(Spanned::new(Block::Told { label, operations, words: trimmed(sentence) }, span));
    }
    paragraph(between, span, made);
}

fn paragraph(words: Words, span: Span, made: &mut Vec<Spanned<Block>>) {
    let words = trimmed(words);
    if !words.is_empty() {
        made.push(Spanned::new(Block::Paragraph(words), span));
    }
}

/// Words cut where a sentence begins. What is one thing, such as words in bold, belongs whole to the sentence that it begins in.
fn cut(words: Words) -> Vec<Words> {
    let whole = text(&words);
    let starts: Vec<usize> = sentences(&whole).into_iter().map(|range| range.start).skip(1).collect();
    let mut made = vec![Words::new()];
    let (mut at, mut next) = (0, 0);
    for inline in words {
        let Spanned { value, span } = inline;
        let Inline::Text(text) = value else {
            let one: Words = vec![Spanned::new(value, span)];
            let length = self::text(&one).len();
            // A sentence that begins at this very thing begins with it.
            if starts.get(next).is_some_and(|start| *start <= at) {
                made.push(Words::new());
            }
            while starts.get(next).is_some_and(|start| *start <= at || *start < at + length) {
                next += 1;
            }
            if let Some(last) = made.last_mut() {
                last.extend(one);
            }
            at += length;
            continue;
        };
        let mut from = 0;
        while let Some(start) = starts.get(next).copied().filter(|start| *start < at + text.len()) {
            let to = start.saturating_sub(at).max(from);
            push(&mut made, &text[from..to], span);
            made.push(Words::new());
            from = to;
            next += 1;
        }
        push(&mut made, &text[from..], span);
        at += text.len();
    }
    made
}

fn push(made: &mut [Words], text: &str, span: Span) {
    if let Some(last) = made.last_mut().filter(|_| !text.is_empty()) {
        last.push(Spanned::new(Inline::Text(text.to_owned()), span));
    }
}

/// Words without line ends and spaces at either end.
fn trimmed(mut words: Words) -> Words {
    let blank = |inline: &Spanned<Inline>| match &inline.value {
        Inline::Soft | Inline::Break => true,
        Inline::Text(text) => text.trim().is_empty(),
        _ => false,
    };
    let lead = words.iter().take_while(|inline| blank(inline)).count();
    words.drain(..lead);
    while words.last().is_some_and(blank) {
        words.pop();
    }
    if let Some(Inline::Text(text)) = words.last_mut().map(|inline| &mut inline.value) {
        text.truncate(text.trim_end().len());
    }
    if let Some(Inline::Text(text)) = words.first_mut().map(|inline| &mut inline.value) {
        *text = text.trim_start().to_owned();
    }
    words
}

fn tells(words: &Words) -> bool {
    let mut found = Vec::new();
    ids(words, &mut found);
    !found.is_empty()
}

fn blocks_tell(blocks: &[Spanned<Block>]) -> bool {
    blocks.iter().any(|block| match &block.value {
        Block::Paragraph(words) | Block::Bare(words) => tells(words),
        Block::List { start: _, items } => items.iter().any(|item| blocks_tell(item)),
        _ => false,
    })
}

/// The operations that words tell, in order.
fn ids(words: &Words, found: &mut Vec<String>) {
    for inline in words {
        match &inline.value {
            Inline::Operation { id, words: _ } => found.push(id.clone()),
            Inline::Strong(words) | Inline::Emphasis(words) | Inline::Link { to: _, words } => ids(words, found),
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(inlines: &[&str]) -> String {
        // A word in brackets is one that tells an operation, one in stars is bold, a stroke is a line end.
        let words = inlines.iter().map(|text| {
            let value = match *text {
                "/" => Inline::Soft,
                text if text.starts_with('[') => {
                    let inner = vec![Spanned::new(Inline::Text(text[1..text.len() - 1].to_owned()), Span::default())];
                    Inline::Operation { id: text.to_owned(), words: inner }
                }
                text if text.starts_with('*') => {
                    Inline::Strong(vec![Spanned::new(Inline::Text(text[1..text.len() - 1].to_owned()), Span::default())])
                }
                text => Inline::Text(text.to_owned()),
            };
            Spanned::new(value, Span::default())
        });
        let block = Spanned::new(Block::Paragraph(words.collect()), Span::default());
        let shown = rows(vec![block]).into_iter().map(|block| match block.value {
            Block::Paragraph(words) => text(&words),
            Block::Told { label, operations, words } => format!("{}{}={}", label.unwrap_or_default(), operations.len(), text(&words)),
            other => format!("{other:?}"),
        });
        shown.collect::<Vec<_>>().join("|")
    }

    #[test]
    fn each_sentence_that_tells_an_operation_is_a_row() {
        for (words, expected) in [
            (&["Slide the seat. ", "[Undo it]", ". Lift it."][..], "Slide the seat.|1=Undo it.|Lift it."),
            (&["One.", "/", "Two.", "/", "[Do it]", ".", "/", "Three.", "/", "[Again]", "."], "One. Two.|1=Do it.|Three.|1=Again."),
            (&["If it is cold, ", "[warm it]", " first."], "1=If it is cold, warm it first."),
            (&["[Do this]", " and ", "[that]", "."], "2=Do this and that."),
            (&["Words. ", "*Bold. And more.*", " ", "[Do it]", "."], "Words. Bold. And more.|1=Do it."),
            (&["Nothing is told. Here."], "Nothing is told. Here."),
        ] {
            assert_eq!(told(words), expected, "{words:?}");
        }
    }

    #[test]
    fn rows_of_a_list_keep_their_numbers() {
        let text_of = |text: &str| Spanned::new(Inline::Text(text.to_owned()), Span::default());
        let bare = |words: Words| vec![Spanned::new(Block::Bare(words), Span::default())];
        let operation = Spanned::new(Inline::Operation { id: "s/1".to_owned(), words: vec![text_of("Undo it")] }, Span::default());
        let items = vec![bare(vec![text_of("First.")]), bare(vec![operation, text_of(". Then wait.")])];
        let made = rows(vec![Spanned::new(Block::List { start: Some(3), items }, Span::default())]);
        assert!(matches!(&made[0].value, Block::List { start: Some(3), items } if items.len() == 1));
        assert!(
            matches!(&made[1].value, Block::Told { label: Some(label), operations, words } if label == "4." && operations == &["s/1"] && text(words) == "Undo it.")
        );
        assert!(matches!(&made[2].value, Block::Paragraph(words) if text(words) == "Then wait."));
    }
}
