//! The words of a talk ready to be read: what a recogniser misheard is put right where the words around it bear it out, and noted.

use crate::narration::{End, Narration};
use crate::wording::lexicon::Lexicon;
use crate::wording::number;

/// A word as it is read.
#[derive(Clone, Debug)]
pub(super) struct Spoken {
    /// The word, in lower case.
    pub(super) text: String,
    /// The words of the narration that it is read from.
    pub(super) from: usize,
    /// Behind the last of them.
    pub(super) to: usize,
    /// What stands behind it.
    pub(super) end: End,
    /// Whether it stands in a heading.
    pub(super) heading: bool,
}

/// Words that were probably misheard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misheard {
    /// As heard.
    pub heard: String,
    /// As probably meant.
    pub likely: String,
    /// Its words in the narration.
    pub from: usize,
}

/// The talk.
pub(super) struct Talk<'n> {
    pub(super) words: Vec<Spoken>,
    pub(super) misheard: Vec<Misheard>,
    pub(super) narration: &'n Narration,
    pub(super) lexicon: &'n Lexicon,
}

/// `m eight`, `em eights`, `t thirty`: a size said letter by letter, and how many words it takes.
fn designation(said: &[crate::narration::Word], at: usize) -> Option<(String, usize)> {
    let letter = match said[at].text.as_str() {
        "m" | "em" => 'm',
        "t" | "tea" => 't',
        _ => return None,
    };
    if said[at].end > End::None {
        return None;
    }
    let next = said.get(at + 1)?;
    let plural = next.text.ends_with('s') && next.text != "six";
    let first = number::whole(next.text.trim_end_matches('s').trim_end_matches("ie"))
        .or_else(|| number::whole(&next.text))
        .or_else(|| if next.text == "sixes" { Some(6) } else { next.text.parse().ok() })?;
    let (figure, taken) = match said
        .get(at + 2)
        .filter(|_| letter == 't' && first >= 20 && first % 10 == 0 && next.end == End::None)
        .and_then(|word| number::whole(&word.text))
    {
        Some(one @ 1..10) => (first + one, 3),
        _ => (first, 2),
    };
    let known = match letter {
        'm' => matches!(figure, 3..=6 | 8 | 10 | 12 | 14 | 16 | 18 | 20 | 22 | 24),
        _ => figure % 5 == 0 && (10..=60).contains(&figure) || matches!(figure, 6..=9 | 27),
    };
    known.then(|| (format!("{letter}{figure}{}", if plural { "s" } else { "" }), taken))
}

impl<'n> Talk<'n> {
    pub(super) fn new(narration: &'n Narration, lexicon: &'n Lexicon) -> Self {
        let said = &narration.words;
        let (mut words, mut misheard): (Vec<Spoken>, Vec<Misheard>) = (Vec::with_capacity(said.len()), Vec::new());
        let mut at = 0;
        while at < said.len() {
            if let Some((text, taken)) = designation(said, at) {
                words.push(Spoken { text, from: at, to: at + taken, end: said[at + taken - 1].end, heading: said[at].heading });
                at += taken;
                continue;
            }
            let found = lexicon.misheard(&said[at].text).iter().find(|entry| {
                let len = entry.heard.len();
                let same = entry.heard.iter().enumerate().all(|(nth, word)| {
                    said.get(at + nth).is_some_and(|said| said.text == *word && (nth + 1 == len || said.end < End::Stop))
                });
                same && (entry.near.is_empty() || {
                    let around = at.saturating_sub(5)..(at + len + 5).min(said.len());
                    around.filter(|near| !(at..at + len).contains(near)).any(|near| {
                        let word = said[near].text.as_str();
                        let figure = word.starts_with(|c: char| c.is_ascii_digit()) || number::is_number_word(word) && word != "one";
                        entry.near.iter().any(|wanted| wanted == word || wanted == "number" && figure)
                    })
                })
            });
            let Some(entry) = found else {
                let word = &said[at];
                words.push(Spoken { text: word.text.clone(), from: at, to: at + 1, end: word.end, heading: word.heading });
                at += 1;
                continue;
            };
            let to = at + entry.heard.len();
            // Letters and figures said one by one are no error.
            let spelt = entry.meant.len() == 1 && entry.meant[0].ends_with(|c: char| c.is_ascii_digit()) && entry.heard[0].len() <= 4;
            if !spelt && entry.meant != ["mil"] {
                misheard.push(Misheard { heard: entry.heard.join(" "), likely: entry.meant.join(" "), from: at });
            }
            for (nth, meant) in entry.meant.iter().enumerate() {
                let last = nth + 1 == entry.meant.len();
                let end = if last { said[to - 1].end } else { End::None };
                words.push(Spoken { text: meant.clone(), from: at, to, end, heading: said[at].heading });
            }
            at = to;
        }
        Talk { words, misheard, narration, lexicon }
    }

    /// The word at a place; empty behind the end.
    pub(super) fn word(&self, at: usize) -> &str {
        self.words.get(at).map_or("", |word| word.text.as_str())
    }

    /// The word so many places before another.
    pub(super) fn before(&self, at: usize, back: usize) -> &str {
        at.checked_sub(back).map_or("", |at| self.word(at))
    }

    /// What stands behind a word.
    pub(super) fn end(&self, at: usize) -> End {
        self.words.get(at).map_or(End::Block, |word| word.end)
    }

    pub(super) fn len(&self) -> usize {
        self.words.len()
    }

    /// The words of the narration that words of the talk were read from.
    pub(super) fn place(&self, from: usize, to: usize) -> std::ops::Range<usize> {
        let start = self.words.get(from).map_or(0, |word| word.from);
        let end = to.checked_sub(1).and_then(|last| self.words.get(last)).map_or(start, |word| word.to);
        start..end.max(start)
    }

    /// The beginning of the sentence that a word stands in.
    pub(super) fn sentence_start(&self, at: usize) -> usize {
        (0..at).rev().find(|before| self.end(*before) >= End::Stop).map_or(0, |before| before + 1)
    }
}
