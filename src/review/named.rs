//! Things by their names in running words: which thing a name of a few words means, on which side things are, and what the words of a
//! reference say beside the name of what it leads to. What is wrong with it is left to the rules.

use foldhash::{HashMap, HashMapExt};

use crate::guide::names::Names;
use crate::review::phrases::{is_determiner, is_preposition, number_of};
use crate::review::sentences::Sentence;
use crate::wiring::{Colour, colour_in};

/// A name of one word counts from this length on.
const LONG_WORD: usize = 6;

/// The words of a name, and the ids of the things that bear it.
type Alike<'g> = (Vec<String>, Vec<&'g str>);

/// The names of two words or more that are in sight of a guide, in lower case up to the comma, by their first word.
pub(crate) struct Named<'g> {
    by_first: HashMap<String, Vec<Alike<'g>>>,
}

impl<'g> Named<'g> {
    /// The names of items, parts and hardware.
    pub(crate) fn new(names: Names<'g>) -> Self {
        let mut by_first: HashMap<String, Vec<Alike<'g>>> = HashMap::new();
        for definitions in names.both() {
            let items = definitions.items.rows.iter().map(|item| (&item.id, &item.name));
            let parts = definitions.parts.rows.iter().map(|part| (&part.id, &part.name));
            let hardware = definitions.hardware.rows.iter().map(|hardware| (&hardware.id, &hardware.name));
            for (id, name) in items.chain(parts).chain(hardware) {
                let name = name.value.split(',').next().unwrap_or_default().to_lowercase();
                let words: Vec<String> = name.split_whitespace().map(str::to_owned).collect();
                // A lone word such as `cover` is often another thing of that name; a long one is hardly.
                if words.len() < 2 && words.first().is_none_or(|word| word.len() < LONG_WORD) {
                    continue;
                }
                let alike = by_first.entry(words[0].clone()).or_default();
                match alike.iter_mut().find(|(known, _)| *known == words) {
                    Some((_, ids)) => ids.push(id.as_str()),
                    None => alike.push((words, vec![id.as_str()])),
                }
            }
        }
        // The longest name first: `rear lamp loom` before `rear lamp`.
        by_first.values_mut().for_each(|alike| alike.sort_by_key(|(words, _)| std::cmp::Reverse(words.len())));
        Named { by_first }
    }

    /// The things whose name stands at a token, and the token behind it.
    pub(crate) fn at(&self, sentence: &Sentence<'_>, at: usize) -> Option<(&[&'g str], usize)> {
        let alike = self.by_first.get(sentence.word(at))?;
        alike.iter().find_map(|(words, ids)| {
            let last = words.len() - 1;
            let same = words.iter().enumerate().all(|(nth, word)| {
                let told = sentence.word(at + nth);
                told == word || (nth == last && told.strip_suffix('s') == Some(word))
            });
            same.then_some((ids.as_slice(), at + words.len()))
        })
    }
}

/// Sides that exclude each other, in pairs.
const SIDES: &[(&[&str], &[&str])] = &[
    (&["left"], &["right"]),
    (&["front"], &["rear"]),
    (&["upper", "top"], &["lower", "bottom"]),
    (&["inner"], &["outer"]),
    (&["driver", "driver's", "driver\u{2019}s"], &["passenger", "passenger's", "passenger\u{2019}s"]),
    (&["plus", "positive"], &["minus", "negative"]),
    (&["inlet"], &["outlet"]),
    (&["supply", "feed"], &["return"]),
    (&["intake"], &["exhaust"]),
];

/// A side: which pair, and which of the two.
pub(crate) type Side = (usize, bool);

/// The side that a word says; `next` is the word behind it, since a right angle and a left-hand thread are on no side.
pub(crate) fn side(word: &str, next: &str) -> Option<Side> {
    if matches!(next, "hand" | "handed" | "angle" | "angles" | "way" | "over" | "away") {
        return None;
    }
    let of = |which: bool| SIDES.iter().position(|pair| (if which { pair.1 } else { pair.0 }).contains(&word)).map(|at| (at, which));
    of(false).or_else(|| of(true))
}

/// The words of a name, in lower case, without marks; a hyphen parts words.
pub(crate) fn words(name: &str) -> Vec<String> {
    let cut = name.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '\u{2019}');
    cut.filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// The sides that a name says.
pub(crate) fn sides(words: &[String]) -> Vec<Side> {
    let next = |at: usize| words.get(at + 1).map_or("", String::as_str);
    words.iter().enumerate().filter_map(|(at, word)| side(word, next(at))).collect()
}

/// The side that one text says and the other contradicts: it says the other of the pair, and not this one too.
pub(crate) fn against(told: &[Side], facts: &[Side]) -> Option<Side> {
    let other = |(pair, which): &Side| facts.contains(&(*pair, !which)) && !facts.contains(&(*pair, *which));
    told.iter().copied().find(|side| other(side) && !told.contains(&(side.0, !side.1)))
}

/// A plain colour by its word; the letters of a code are none.
pub(crate) fn colour(word: &str) -> Option<Colour> {
    let read = (word.len() > 2).then(|| colour_in(word)).flatten()?;
    read.stripe().is_none().then(|| read.base())
}

/// The word for a side.
pub(crate) fn side_word((pair, which): Side) -> &'static str {
    if which { SIDES[pair].1[0] } else { SIDES[pair].0[0] }
}

/// A word without the ending of its plural.
pub(crate) fn singular(word: &str) -> &str {
    match word.strip_suffix('s') {
        Some(stem) if !stem.ends_with('s') && stem.len() > 2 => stem,
        _ => word,
    }
}

/// Whether a word names something, and not how many, which or of what sort.
pub(crate) fn is_content(word: &str) -> bool {
    let sort = matches!(
        word,
        "old"
            | "new"
            | "both"
            | "other"
            | "same"
            | "two"
            | "first"
            | "last"
            | "next"
            | "remaining"
            | "whole"
            | "here"
            | "it"
            | "them"
            | "one"
            | "and"
            | "or"
            | "own"
            | "its"
    );
    !sort && !is_determiner(word) && !is_preposition(word) && number_of(word).is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_side_is_contradicted_by_the_other_alone() {
        let of = |text: &str| sides(&words(text));
        for (told, facts, found) in [
            ("the left bracket", "Bracket, right", Some("left")),
            ("the left bracket", "Bracket, left", None),
            ("both brackets, left and right", "Bracket, right", None),
            ("the left bracket", "Brackets, left and right", None),
            ("the bracket", "Bracket, right", None),
            ("left-hand thread", "Nut, right", None),
            ("at a right angle", "Nut, left", None),
            ("the return line", "Supply line", Some("return")),
            ("the driver's seat", "Seat, passenger side", Some("driver")),
        ] {
            assert_eq!(against(&of(told), &of(facts)).map(side_word), found, "{told}, {facts}");
        }
    }
}
