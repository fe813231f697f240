//! The search index: which word stands in which step. Built from the words of each guide as it is
//! published, and written as plain scripts in pieces, because a page opened from a file can load scripts
//! and nothing else. Looking up is left to the theme's script.

mod fold;

use std::collections::BTreeMap;

use foldhash::HashMap;
use serde_json::json;

pub use fold::fold;

/// How many guides one piece of the list of guides holds.
const CHUNK: usize = 32;

/// The words of one guide: each with the steps it stands in, 0 for the guide itself.
#[derive(Clone, Debug, Default)]
pub struct Terms {
    words: HashMap<String, Vec<u16>>,
}

impl Terms {
    /// Adds the words of `text` for a step, counted from 1, or for the guide itself as 0.
    pub fn add(&mut self, text: &str, step: usize) {
        let step = u16::try_from(step).unwrap_or(u16::MAX);
        fold(text, |word| match self.words.get_mut(word) {
            Some(steps) if steps.last() == Some(&step) => {}
            Some(steps) => steps.push(step),
            None => {
                self.words.insert(word.to_owned(), vec![step]);
            }
        });
    }
}

/// The words of a guide packed into one text, a line a word in order: what is kept until the index is made.
#[derive(Debug, Default)]
pub struct Packed(String);

impl Terms {
    /// Packs the words; a large shop keeps a few kilobytes a guide instead of a table.
    pub fn pack(self) -> Packed {
        let mut words: Vec<(String, Vec<u16>)> = self.words.into_iter().collect();
        words.sort_unstable();
        let mut text = String::with_capacity(words.len() * 12);
        for (word, mut steps) in words {
            steps.sort_unstable();
            steps.dedup();
            text.push_str(&word);
            text.push(' ');
            for (at, step) in steps.iter().enumerate() {
                if at > 0 {
                    text.push(',');
                }
                push_base36(&mut text, usize::from(*step));
            }
            text.push('\n');
        }
        Packed(text)
    }
}

/// What a result shows of a guide.
#[derive(Clone, Debug, Default)]
pub struct Entry {
    /// Its folder.
    pub slug: String,
    /// Its title.
    pub title: String,
    /// Its number.
    pub document: String,
    /// Anchor and heading of each step.
    pub steps: Vec<(String, String)>,
}

/// The files of the index; guides are numbered in the order given.
pub fn index(guides: &[(Entry, Packed)]) -> Vec<(String, Vec<u8>)> {
    let mut files = Vec::new();
    let mut words: HashMap<&str, String> = HashMap::default();
    for (number, (_, packed)) in guides.iter().enumerate() {
        for (word, steps) in packed.0.lines().filter_map(|line| line.split_once(' ')) {
            let postings = words.entry(word).or_default();
            if !postings.is_empty() {
                postings.push(';');
            }
            push_base36(postings, number);
            postings.push(':');
            postings.push_str(steps);
        }
    }
    let mut shards: BTreeMap<String, BTreeMap<&str, String>> = BTreeMap::new();
    for (word, postings) in words {
        shards.entry(shard_of(word)).or_default().insert(word, postings);
    }
    let keys: Vec<&String> = shards.keys().collect();
    files.push(("search/index.js".to_owned(), call("index", &json!({ "chunk": CHUNK, "shards": keys }), None)));
    for (number, chunk) in guides.chunks(CHUNK).enumerate() {
        let rows: Vec<_> = chunk.iter().map(|(entry, _)| json!([entry.slug, entry.title, entry.document, entry.steps])).collect();
        files.push((format!("search/g-{number}.js"), call("guides", &json!(rows), Some(json!(number)))));
    }
    for (key, words) in &shards {
        files.push((format!("search/w-{key}.js"), call("words", &json!(words), Some(json!(key)))));
    }
    files
}

fn call(name: &str, value: &serde_json::Value, first: Option<serde_json::Value>) -> Vec<u8> {
    let first = first.map_or_else(String::new, |first| format!("{first},"));
    format!("bayleaf.{name}({first}{value});\n").into_bytes()
}

/// The piece of the index a word stands in: its first two characters, written so that they can name a file.
fn shard_of(word: &str) -> String {
    let mut key = String::new();
    for c in word.chars().take(2) {
        if c.is_ascii_alphanumeric() {
            key.push(c);
        } else {
            key.push_str(&format!("u{:x}-", u32::from(c)));
        }
    }
    key
}

fn push_base36(out: &mut String, mut number: usize) {
    const DIGITS: &[u8; 36] = b"0123456789abcdefghijklmnopqrstuvwxyz";
    let mut reversed = [0u8; 13];
    let mut length = 0;
    loop {
        reversed[length] = DIGITS[number % 36];
        length += 1;
        number /= 36;
        if number == 0 {
            break;
        }
    }
    out.extend(reversed[..length].iter().rev().map(|&digit| char::from(digit)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_leads_to_its_guide_and_steps() {
        let mut terms = Terms::default();
        terms.add("Swivel base", 0);
        terms.add("Bolt the base down; base first", 40);
        let entry = Entry { slug: "s".into(), title: "Swivel base".into(), document: "TH-1".into(), steps: vec![("a".into(), "A".into())] };
        let files: BTreeMap<String, String> =
            index(&[(entry, terms.pack())]).into_iter().map(|(path, bytes)| (path, String::from_utf8(bytes).unwrap())).collect();
        assert_eq!(files["search/w-ba.js"], "bayleaf.words(\"ba\",{\"base\":\"0:0,14\"});\n");
        assert_eq!(files["search/g-0.js"], "bayleaf.guides(0,[[\"s\",\"Swivel base\",\"TH-1\",[[\"a\",\"A\"]]]]);\n");
        assert!(files["search/index.js"].starts_with("bayleaf.index({\"chunk\":32,\"shards\":[\"ba\","));
    }

    #[test]
    fn numbers_are_written_in_base_36() {
        for number in [0, 35, 36, 999, usize::MAX] {
            let mut written = String::new();
            push_base36(&mut written, number);
            assert_eq!(u64::from_str_radix(&written, 36).unwrap() as usize, number);
        }
    }

    #[test]
    fn any_letter_can_name_a_piece() {
        assert_eq!(shard_of("øl"), "uf8-l");
        assert_eq!(shard_of("n"), "n");
    }
}
