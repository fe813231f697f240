//! A step, or all steps of a phase, written once for several sides: `sides=left,right` in the heading makes a step for each, and `{side}` in
//! heading, words and facts is the side. Done with the text, before anything is read, so that each is a step like any other; the places
//! of what is read stay those of the text as it is written.

use crate::finding::{Finding, RuleName};
use crate::guide::block::Section;
use crate::guide::facts::{Reader, slug_of};
use crate::guide::model::{Side, Text};
use crate::guide::prose::Prose;
use crate::source::Spanned;

/// What stands for the side.
const MARK: &str = "{side}";
/// The same at the start of a sentence.
const CAPITAL: &str = "{Side}";

/// Where pieces of a text stood before others took their places.
#[derive(Clone, Debug, Default)]
pub struct Swaps(Vec<(std::ops::Range<usize>, std::ops::Range<usize>)>);

impl Swaps {
    /// No piece was swapped.
    pub const NONE: &'static Swaps = &Swaps(Vec::new());

    /// A position of the new text in the text as it was written; inside a piece, where the piece began, or ended for an end.
    pub fn back(&self, at: usize, end: bool) -> usize {
        let mut shift = 0isize;
        for (new, old) in &self.0 {
            if at < new.start || at == new.start && !end {
                break;
            }
            if at < new.end || at == new.end && end {
                return if end { old.end } else { old.start };
            }
            shift = old.end as isize - new.end as isize;
        }
        (at as isize + shift) as usize
    }
}

/// The text with the side put in: `lamp-{side}` as in ids, `the {side} lamp` in words.
pub(super) fn put(text: &str, side: &str) -> (String, Swaps) {
    let mut new = String::with_capacity(text.len());
    let mut swaps = Vec::new();
    let mut at = 0;
    while let Some(found) = [MARK, CAPITAL].iter().filter_map(|mark| text[at..].find(mark)).min() {
        let (start, end) = (at + found, at + found + MARK.len());
        new.push_str(&text[at..start]);
        let of_id = |c: Option<char>| c.is_some_and(|c| c == '-' || c.is_ascii_alphanumeric());
        let word = match (of_id(text[..start].chars().next_back()) || of_id(text[end..].chars().next()), text[start..].starts_with(CAPITAL))
        {
            (true, _) => slug_of(side),
            (false, true) => side.chars().take(1).flat_map(char::to_uppercase).chain(side.chars().skip(1)).collect(),
            (false, false) => side.to_owned(),
        };
        swaps.push((new.len()..new.len() + word.len(), start..end));
        new.push_str(&word);
        at = end;
    }
    new.push_str(&text[at..]);
    (new, Swaps(swaps))
}

/// Whether a text has a place for the side.
pub(super) fn asks(text: &str) -> bool {
    text.contains(MARK) || text.contains(CAPITAL)
}

fn put_in(text: &mut Text, side: &str) {
    if asks(&text.value) {
        text.value = put(&text.value, side).0;
    }
}

/// The sections with those that are written for several sides once for each, in the order in which they are done.
pub(super) fn expand<'s>(reader: &mut Reader, sections: Vec<Section<'s>>) -> Vec<(Section<'s>, Option<Side>)> {
    let mut made = Vec::with_capacity(sections.len());
    let mut sections = sections.into_iter().peekable();
    while let Some(mut section) = sections.next() {
        let sides = sides_of(reader, &mut section);
        if sides.is_empty() {
            made.push((section, None));
            continue;
        }
        // The sides of a phase are those of all its steps: one side is done to its end before the next begins.
        let mut run = vec![section];
        if run[0].level == 1 {
            while let Some(next) = sections.next_if(|next| next.level != 1) {
                run.push(next);
            }
            for step in &mut run[1..] {
                let inner = sides_of(reader, step);
                if let Some(first) = inner.first() {
                    let message = "this step has sides, and so has its phase";
                    let remedy = "keep the sides of one of the two";
                    reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(first.span), message, remedy));
                }
            }
        }
        for (number, side) in sides.iter().enumerate() {
            for section in &run {
                made.push(one(section, side, number == 0));
            }
        }
    }
    made
}

/// The sides in a section's heading, taken out of its facts.
fn sides_of(reader: &mut Reader, section: &mut Section<'_>) -> Vec<Text> {
    let Some(at) = section.facts.iter().position(|(key, _)| key.value == "sides") else { return Vec::new() };
    let (_, written) = section.facts.remove(at);
    let exact = (written.span.end - written.span.start) as usize == written.value.len();
    let mut sides: Vec<Text> = Vec::new();
    let mut from = 0;
    for part in written.value.split(',') {
        let span = if exact { written.span.part(from..from + part.len()) } else { written.span };
        from += part.len() + 1;
        let word = part.trim().replace('-', " ");
        if word.is_empty() {
            continue;
        }
        if let Some(known) = sides.iter().find(|known| known.value == word) {
            let (place, first) = (reader.place(span), reader.place(known.span));
            let message = format!("the side `{word}` is named twice");
            let finding = Finding::hold(RuleName::TypeWrong, place, message, "name each side once");
            reader.findings.push(finding.with_related(first, "the first time"));
            continue;
        }
        sides.push(Spanned::new(word, span));
    }
    if sides.len() < 2 {
        let message = "one side is no choice of sides";
        let remedy = "name the sides for which the step is done, as in `sides=left,right`, or leave `sides` out";
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(written.span), message, remedy));
    }
    sides
}

/// One section for one side.
fn one<'s>(section: &Section<'s>, side: &Text, first: bool) -> (Section<'s>, Option<Side>) {
    let mut section = section.clone();
    let word = side.value.as_str();
    let of =
        section.id.as_ref().map_or_else(|| slug_of(&section.title.value.replace(MARK, "").replace(CAPITAL, "")), |id| id.value.clone());
    if asks(&section.title.value) {
        put_in(&mut section.title, word);
    } else {
        section.title.value = format!("{} ({word})", section.title.value);
    }
    // A written id is the id of all sides together; each gets its own behind it.
    if let Some(id) = &mut section.id {
        id.value = format!("{}-{}", id.value, slug_of(word));
    }
    put_into(&mut section.prose, word);
    (section, Some(Side { name: side.clone(), of, first }))
}

fn put_into(prose: &mut Prose<'_>, side: &str) {
    prose.rewrite(|text| asks(text).then(|| put(text, side).0));
    for told in &mut prose.told {
        let (address, swaps) = put(&told.address.value, side);
        told.address.value = address;
        told.swaps = swaps;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_side_stands_as_a_word_or_in_an_id() {
        let (text, swaps) = put("{Side} lamp-{side}, the {side}.", "front left");
        assert_eq!(text, "Front left lamp-front-left, the front left.");
        assert_eq!(swaps.back(0, false), 0);
        assert_eq!(swaps.back(10, true), 6, "behind the first word stands what stood behind its mark");
        let comma = text.find(',').unwrap();
        assert_eq!((swaps.back(comma, false), swaps.back(text.len(), true)), (18, 31));
        let id = text.find("lamp").unwrap();
        assert_eq!((swaps.back(id, false), swaps.back(comma, true)), (7, 18));
    }
}
