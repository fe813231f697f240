//! Every phrase of our own that somebody reads on a page, sheet, record or screen, in one table by language. Rust takes a phrase as a field or,
//! where something stands in it, as a function of that; templates as `say.KEY` and `say.KEY | fill(…)`; scripts as `say.KEY` and
//! `fill(say.KEY, …)` from the table that [`script`] makes of the keys they use.
//!
//! A phrase holds places for what stands in it, `{name}`, and where a count decides, its forms: `{count:step|steps}`. Findings of the review
//! and the chapters of the handbook are for authors and stay where they are made.

mod english;

use std::fmt::Display;

pub use english::{ENGLISH, Phrases};

/// Declares the keys once, with their English words: the type with a field for each, and with a function for each that has places.
macro_rules! phrases {
    ($($key:ident $(($($place:ident),+))? : $text:literal,)+) => {
        /// The phrases of one language.
        #[derive(Debug, Hash)]
        pub struct Phrases {
            /// How its forms of a count are chosen.
            pub plural: super::Plural,
            $(#[doc = $text] pub $key: &'static str,)+
        }

        /// The English phrases.
        pub const ENGLISH: Phrases = Phrases { plural: super::Plural::OneOrOther, $($key: $text,)+ };

        impl Phrases {
            /// The keys with the places that each has.
            pub const KEYS: &'static [(&'static str, &'static [&'static str])] =
                &[$((stringify!($key), &[$($(stringify!($place)),+)?]),)+];

            /// All phrases with their keys.
            pub fn all(&self) -> impl Iterator<Item = (&'static str, &'static str)> {
                [$((stringify!($key), self.$key),)+].into_iter()
            }

            $($(
                #[doc = $text]
                pub fn $key(&self, $($place: impl std::fmt::Display),+) -> String {
                    self.filled(self.$key, &[$((stringify!($place), &$place)),+])
                }
            )?)+
        }
    };
}
use phrases;

/// How a language chooses among the forms of a word by a count; named as in the Unicode CLDR.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Plural {
    /// One form for 1, the other for all else: English, German.
    OneOrOther,
}

impl Plural {
    /// How many forms there are.
    pub const fn forms(self) -> usize {
        match self {
            Plural::OneOrOther => 2,
        }
    }

    /// Which form a count takes.
    pub fn form(self, count: &str) -> usize {
        match self {
            Plural::OneOrOther => usize::from(count != "1"),
        }
    }

    /// The same for a script: an expression of `n`, the count as text.
    const fn script(self) -> &'static str {
        match self {
            Plural::OneOrOther => "n === \"1\" ? 0 : 1",
        }
    }
}

/// A piece of a phrase.
enum Piece<'t> {
    Words(&'t str),
    Place(&'t str),
    Forms(&'t str, &'t str),
}

fn pieces(text: &str) -> Vec<Piece<'_>> {
    let (mut found, mut rest) = (Vec::new(), text);
    while let Some((words, (place, behind))) = rest.split_once('{').and_then(|(words, rest)| Some((words, rest.split_once('}')?))) {
        found.push(Piece::Words(words));
        found.push(match place.split_once(':') {
            Some((place, forms)) => Piece::Forms(place, forms),
            None => Piece::Place(place),
        });
        rest = behind;
    }
    found.push(Piece::Words(rest));
    found
}

/// Fills a phrase with what `find` knows of its places; the name of a place that it does not know otherwise.
pub fn fill(text: &str, plural: Plural, find: impl Fn(&str) -> Option<String>) -> Result<String, &str> {
    let mut filled = String::with_capacity(text.len());
    for piece in pieces(text) {
        match piece {
            Piece::Words(words) => filled.push_str(words),
            Piece::Place(place) => filled.push_str(&find(place).ok_or(place)?),
            Piece::Forms(place, forms) => {
                let form = plural.form(&find(place).ok_or(place)?);
                filled.push_str(forms.split('|').nth(form).unwrap_or_default());
            }
        }
    }
    Ok(filled)
}

impl Phrases {
    fn filled(&self, text: &'static str, with: &[(&str, &dyn Display)]) -> String {
        let find = |place: &str| with.iter().find(|(name, _)| *name == place).map(|(_, what)| what.to_string());
        // The tests hold each phrase to the places of its key, so nothing is missing here.
        fill(text, self.plural, find).unwrap_or_else(|_| text.to_owned())
    }
}

/// A script that sets `bayleafPhrases`: the phrases of these keys, and the function that fills them as [`fill`] does. Scripts of one page add
/// theirs to what is there.
pub fn script<'k>(say: &Phrases, keys: impl Iterator<Item = &'k str>) -> String {
    let quoted = |text: &str| serde_json::Value::from(text).to_string();
    let keys: std::collections::BTreeSet<&str> = keys.collect();
    let rows: String = say.all().filter(|(key, _)| keys.contains(key)).map(|(key, text)| format!("{key}: {},\n", quoted(text))).collect();
    format!(
        "/* Made from the table of phrases: those that are shown here. */\n\
         window.bayleafPhrases = (function (before) {{\n\
         const say = Object.assign(before ? before.say : {{}}, {{\n{rows}}});\n\
         const form = (n) => {};\n\
         const fill = (phrase, given) => phrase.replace(/\\{{(\\w+)(?::([^}}]*))?\\}}/g, (_, place, forms) => forms === undefined ? String(given[place]) : forms.split(\"|\")[form(String(given[place]))]);\n\
         return {{ say, fill }};\n\
         }})(window.bayleafPhrases);\n",
        say.plural.script()
    )
}

/// The keys that a text of a theme asks for, as `say.KEY`.
pub fn asked(text: &str) -> impl Iterator<Item = &str> {
    let keys = text.match_indices("say.").filter(|(at, _)| !text[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '_'));
    let keys = keys.map(|(at, _)| {
        let key = &text[at + "say.".len()..];
        &key[..key.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(key.len())]
    });
    // A sentence of a comment may end with the word.
    keys.filter(|key| !key.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phrase_takes_what_stands_in_it_and_the_form_of_its_count() {
        assert_eq!(ENGLISH.revision_of_replaced("C", "14 Sep 2026"), "Revision C of 14 Sep 2026 took its place.");
        assert_eq!(
            (ENGLISH.count_steps(1), ENGLISH.count_steps(0), ENGLISH.count_steps(21)),
            ("1 step".into(), "0 steps".into(), "21 steps".into())
        );
        // What is filled in is not read again.
        assert_eq!(ENGLISH.rev("{revision}"), "rev. {revision}");
        assert_eq!(fill("{a} {b}", Plural::OneOrOther, |place| (place == "a").then(String::new)), Err("b"));
    }

    /// For each table of a language there is: the places of its phrases are those of the key, and forms are as many as the language has.
    #[test]
    fn every_phrase_has_the_places_of_its_key_and_the_forms_of_its_language() {
        for table in [&ENGLISH] {
            for ((key, text), (_, places)) in table.all().zip(Phrases::KEYS) {
                let mut seen: Vec<&str> = Vec::new();
                for piece in pieces(text) {
                    match piece {
                        Piece::Words(words) => assert!(!words.contains(['{', '}', '<', '>']), "{key}: {text}"),
                        Piece::Place(place) => seen.push(place),
                        Piece::Forms(place, forms) => {
                            assert_eq!(forms.split('|').count(), table.plural.forms(), "{key}: {text}");
                            seen.push(place);
                        }
                    }
                }
                assert!(!text.is_empty(), "{key} says nothing");
                assert!(
                    seen.iter().all(|place| places.contains(place)) && places.iter().all(|place| seen.contains(place)),
                    "{key}: {text}"
                );
            }
        }
    }

    #[test]
    fn what_a_text_asks_for_is_seen() {
        assert_eq!(
            asked("{{ say.torque }} say.fits, essay.no, x.say.note, say.rev|").collect::<Vec<_>>(),
            ["torque", "fits", "note", "rev"]
        );
    }
}
