//! What stands where in one guide: gathered word by word while its pages are made, then packed into a few kilobytes
//! that wait for the index. Which texts are gathered is decided in `gather`.

use foldhash::HashMap;

use super::designation::designations;
use super::fold::fold;
use super::values::value_terms;
use crate::quantity::Quantity;

/// How much a place says about a word: the more, the higher it ranks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Words of a sentence, a caution, a picture.
    Told,
    /// What is done, with what.
    Done,
    /// The heading, the number of the part, the torque.
    Named,
}

impl Weight {
    /// How many there are.
    pub(super) const COUNT: usize = 3;

    /// The number by which codes and the script name it, from 1.
    pub(super) fn code(self) -> u8 {
        match self {
            Self::Told => 1,
            Self::Done => 2,
            Self::Named => 3,
        }
    }
}

/// The terms of one guide.
#[derive(Debug, Default)]
pub struct Terms {
    numbers: HashMap<String, u32>,
    /// For each term the place of its last posting, so that a word that stands in a step twice is kept once.
    last: Vec<u32>,
    postings: Vec<Posting>,
}

#[derive(Clone, Copy, Debug)]
struct Posting {
    term: u32,
    step: u16,
    weight: u8,
}

impl Terms {
    /// Adds the words of `text` for a step, counted from 1, or for the guide itself as 0. Steps come in their order.
    pub fn words(&mut self, text: &str, step: u16, weight: Weight) {
        fold(text, |word| self.term(word, step, weight));
        self.threads(text, step, weight);
    }

    /// Adds the threads of `text` that have their pitch.
    pub fn threads(&mut self, text: &str, step: u16, weight: Weight) {
        designations(text, |term| self.term(term, step, weight));
    }

    /// Adds a value: everything under which a reader may ask for it.
    pub fn value(&mut self, quantity: &Quantity, step: u16, weight: Weight) {
        value_terms(quantity, |term| self.term(term, step, weight));
    }

    fn term(&mut self, term: &str, step: u16, weight: Weight) {
        let weight = weight.code();
        let number = match self.numbers.get(term) {
            Some(number) => *number,
            None => {
                let number = self.last.len() as u32;
                self.numbers.insert(term.to_owned(), number);
                self.last.push(u32::MAX);
                number
            }
        };
        let last = &mut self.last[number as usize];
        match self.postings.get_mut(*last as usize) {
            Some(posting) if posting.step == step => posting.weight = posting.weight.max(weight),
            _ => {
                *last = self.postings.len() as u32;
                self.postings.push(Posting { term: number, step, weight });
            }
        }
    }

    /// Packs the terms: a large shop keeps a few kilobytes a guide instead of a table.
    pub fn pack(self) -> Packed {
        let mut words: Vec<(String, u32)> = self.numbers.into_iter().collect();
        words.sort_unstable();
        // Postings are in the order of the steps already, so they need only be dealt out to their terms.
        let mut starts = vec![0u32; self.last.len() + 1];
        for posting in &self.postings {
            starts[posting.term as usize + 1] += 1;
        }
        for at in 1..starts.len() {
            starts[at] += starts[at - 1];
        }
        let mut dealt = vec![(0u16, 0u8); self.postings.len()];
        let mut next = starts.clone();
        for posting in &self.postings {
            let place = &mut next[posting.term as usize];
            dealt[*place as usize] = (posting.step, posting.weight);
            *place += 1;
        }
        let mut bytes = Vec::with_capacity(words.len() * 8 + dealt.len());
        let mut before = "";
        for (word, number) in &words {
            let shared = word.bytes().zip(before.bytes()).take_while(|(a, b)| a == b).count();
            let own = &dealt[starts[*number as usize] as usize..starts[*number as usize + 1] as usize];
            // No term is longer than a byte can tell: `fold` cuts words, and values are short.
            bytes.extend([shared as u8, (word.len() - shared) as u8]);
            bytes.extend_from_slice(&word.as_bytes()[shared..]);
            push_number(&mut bytes, own.len());
            let mut at = 0;
            for (step, weight) in own {
                push_number(&mut bytes, usize::from(*step - at) * Weight::COUNT + usize::from(*weight) - 1);
                at = *step;
            }
            before = word;
        }
        Packed(bytes.into_boxed_slice())
    }
}

/// The terms of a guide in order, each with its postings, in as few bytes as is easily done.
#[derive(Clone, Debug, Default, serde::Deserialize, serde::Serialize)]
pub struct Packed(Box<[u8]>);

impl Packed {
    /// Calls `found` with each term in order and its postings: step and weight, steps in order.
    pub fn each(&self, mut found: impl FnMut(&str, &[(u16, u8)])) {
        let mut bytes = &self.0[..];
        let mut term: Vec<u8> = Vec::new();
        let mut postings = Vec::new();
        while let [shared, own, rest @ ..] = bytes {
            let (suffix, rest) = rest.split_at(usize::from(*own));
            term.truncate(usize::from(*shared));
            term.extend_from_slice(suffix);
            bytes = rest;
            postings.clear();
            let mut step = 0;
            for _ in 0..take_number(&mut bytes) {
                let number = take_number(&mut bytes);
                step += (number / Weight::COUNT) as u16;
                postings.push((step, (number % Weight::COUNT) as u8 + 1));
            }
            if let Ok(term) = std::str::from_utf8(&term) {
                found(term, &postings);
            }
        }
    }
}

/// Seven bits a byte, the lowest first.
fn push_number(bytes: &mut Vec<u8>, mut number: usize) {
    while number >= 0x80 {
        bytes.push(number as u8 | 0x80);
        number >>= 7;
    }
    bytes.push(number as u8);
}

fn take_number(bytes: &mut &[u8]) -> usize {
    let (mut number, mut shift) = (0, 0);
    while let [byte, rest @ ..] = bytes {
        *bytes = rest;
        number |= usize::from(byte & 0x7f) << shift;
        if *byte < 0x80 {
            break;
        }
        shift += 7;
    }
    number
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_packed_comes_out_in_order_with_the_greater_weight() {
        let mut terms = Terms::default();
        terms.words("Swivel base", 0, Weight::Named);
        terms.words("bolt the base down", 300, Weight::Told);
        terms.words("Base bolts", 300, Weight::Named);
        let mut found = Vec::new();
        terms.pack().each(|term, postings| found.push((term.to_owned(), postings.to_vec())));
        let expected: Vec<(String, Vec<(u16, u8)>)> = [
            ("base", vec![(0, 3), (300, 3)]),
            ("bolt", vec![(300, 1)]),
            ("bolts", vec![(300, 3)]),
            ("down", vec![(300, 1)]),
            ("swivel", vec![(0, 3)]),
            ("the", vec![(300, 1)]),
        ]
        .map(|(term, postings)| (term.to_owned(), postings))
        .into();
        assert_eq!(found, expected);
    }

    #[test]
    fn numbers_come_back() {
        for number in [0, 1, 127, 128, 300, 65_535 * 3] {
            let mut bytes = Vec::new();
            push_number(&mut bytes, number);
            assert_eq!(take_number(&mut &bytes[..]), number);
        }
    }
}
