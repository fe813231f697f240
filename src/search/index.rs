//! From the packed terms of all guides to the files of the index: terms in order in pieces of a few kilobytes, rows of
//! guides in pieces, the words once more for slips of the pen, and one small file that says which piece holds what.
//! Every file is a plain script that hands its text over, because a page opened from a file can load nothing else.

use foldhash::HashMap;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::code::{Docs, push_symbol};
use super::gather::Entry;
use super::terms::Packed;
use super::trade;
use super::values::unit_table;

/// Bytes of a piece of terms: a query loads one or two for each of its words.
const PIECE: usize = 6_000;
/// Bytes of a piece of rows.
const ROWS: usize = 9_000;
/// Bytes of a piece of the words for slips.
const WORDS: usize = 12_000;
/// A beginning that lies in more pieces than this gets a list of its own.
const SPREAD: usize = 2;
/// No longer beginning gets one.
const LONGEST_BEGINNING: usize = 5;

/// The files of the index; guides are numbered in the order given.
/// `also` are the shop's own groups of words that mean the same.
pub fn index(guides: &[(Entry, Packed)], also: &[&str]) -> Vec<(String, Vec<u8>)> {
    let terms = invert(guides);
    let pieces = cut(&terms, PIECE, |(term, docs)| term.len() + docs.len() + 2);
    let (sizes, chunks) = rows(guides);
    let mut files = Vec::new();
    let texts = pieces.iter().map(|piece| terms[piece.clone()].iter().map(|(term, docs)| [term.as_ref(), " ", docs].concat()).collect());
    hand_over("terms", "t", texts.collect(), &mut files);

    let beginnings = beginnings(&terms, &pieces);
    let cut_beginnings = cut(&beginnings, PIECE, |(term, docs)| term.len() + docs.len() + 2);
    let texts = cut_beginnings.iter().map(|piece| beginnings[piece.clone()].iter().map(|(term, docs)| format!("{term} {docs}")).collect());
    hand_over("terms", "b", texts.collect(), &mut files);

    // Only letters: a slip in a part number is another part.
    let mut words: Vec<&str> = terms.iter().map(|(term, _)| term.as_ref()).filter(|term| term.chars().all(char::is_alphabetic)).collect();
    let forward = cut(&words, WORDS, |word| word.len() + 1);
    let forward_firsts = firsts(&words, &forward, |word| (*word).to_owned());
    hand_over(
        "words",
        "f",
        forward.iter().map(|piece| words[piece.clone()].iter().map(|word| (*word).to_owned()).collect()).collect(),
        &mut files,
    );
    // A word with one slip has its first half whole or its second; for the second half the words stand by their ends.
    let mut backward_firsts = Vec::new();
    if forward.len() > 1 {
        words.sort_by_cached_key(|word| reversed(word));
        let backward = cut(&words, WORDS, |word| word.len() + 1);
        backward_firsts = firsts(&words, &backward, |word| reversed(word));
        hand_over(
            "words",
            "r",
            backward.iter().map(|piece| words[piece.clone()].iter().map(|word| (*word).to_owned()).collect()).collect(),
            &mut files,
        );
    }

    for (number, chunk) in chunks.iter().enumerate() {
        let rows: Vec<&str> = guides[chunk.clone()].iter().map(|(entry, _)| entry.row.as_ref()).collect();
        files.push((format!("search/g{number}.js"), format!("bayleaf.rows({number},[{}]);\n", rows.join(",\n")).into_bytes()));
    }

    // A browser may keep pieces of an older index; asked for by this mark, it does not mix them.
    let mut hash = Sha256::new();
    files.iter().for_each(|(_, bytes)| hash.update(bytes));
    let mark: String = hash.finalize().iter().take(5).map(|byte| format!("{byte:02x}")).collect();
    let bytes: usize = files.iter().map(|(_, bytes)| bytes.len()).sum();
    let head = json!({
        "mark": mark,
        "bytes": bytes,
        "steps": sizes,
        "chunks": symbols(chunks.iter().map(|chunk| chunk.len() as u32)),
        "t": firsts(&terms, &pieces, |(term, _)| term.to_string()),
        "s": beginnings.iter().map(|(beginning, _)| beginning.as_str()).collect::<Vec<_>>().join(" "),
        "b": firsts(&beginnings, &cut_beginnings, |(term, _)| term.clone()),
        "f": forward_firsts,
        "r": backward_firsts,
        "g": chunks.len(),
        "units": unit_table(),
        "same": same(&terms, also),
    });
    files.push(("search/index.js".to_owned(), format!("bayleaf.index({head});\n").into_bytes()));
    files
}

/// The groups of words that mean the same, as far as any member can be found: what nobody writes helps nobody who asks for it. Members are
/// parted by `=`, groups by `;`.
fn same(terms: &[(Box<str>, String)], also: &[&str]) -> String {
    let known = |word: &String| {
        let at = terms.partition_point(|(term, _)| term.as_ref() < word.as_str());
        terms.get(at).is_some_and(|(term, _)| term.starts_with(word.as_str()))
    };
    let groups = trade::groups(also).into_iter().filter(|group| group.iter().any(|member| member.iter().all(known)));
    groups.map(|group| group.iter().map(|member| member.join(" ")).collect::<Vec<_>>().join("=")).collect::<Vec<_>>().join(";")
}

/// Every term in order with its places.
fn invert(guides: &[(Entry, Packed)]) -> Vec<(Box<str>, String)> {
    let mut numbers: HashMap<Box<str>, u32> = HashMap::default();
    let mut docs: Vec<Docs> = Vec::new();
    let mut base = 0;
    for (entry, packed) in guides {
        packed.each(|term, postings| {
            let number = match numbers.get(term) {
                Some(number) => *number,
                None => {
                    numbers.insert(term.into(), docs.len() as u32);
                    docs.push(Docs::default());
                    docs.len() as u32 - 1
                }
            };
            let docs = &mut docs[number as usize];
            postings.iter().for_each(|(step, weight)| docs.push(base + u32::from(*step), *weight));
        });
        base += u32::from(entry.steps) + 1;
    }
    let mut terms: Vec<(Box<str>, String)> =
        numbers.into_iter().map(|(term, number)| (term, std::mem::take(&mut docs[number as usize]).text())).collect();
    terms.sort_unstable_by(|a, b| a.0.cmp(&b.0));
    terms
}

/// Cuts a list into pieces of about so many bytes; what is larger by itself is a piece by itself.
fn cut<T>(list: &[T], bytes: usize, size: impl Fn(&T) -> usize) -> Vec<std::ops::Range<usize>> {
    let (mut pieces, mut start, mut held) = (Vec::new(), 0, 0);
    for (at, one) in list.iter().enumerate() {
        let size = size(one);
        if held > 0 && held + size > bytes {
            pieces.push(start..at);
            (start, held) = (at, 0);
        }
        held += size;
    }
    if start < list.len() {
        pieces.push(start..list.len());
    }
    pieces
}

fn firsts<T>(list: &[T], pieces: &[std::ops::Range<usize>], name: impl Fn(&T) -> String) -> Vec<String> {
    pieces.iter().map(|piece| name(&list[piece.start])).collect()
}

/// For each beginning that lies in many pieces, the places of all words that begin so.
fn beginnings(terms: &[(Box<str>, String)], pieces: &[std::ops::Range<usize>]) -> Vec<(String, String)> {
    let piece_of = |at: usize| pieces.partition_point(|piece| piece.end <= at);
    let mut found = Vec::new();
    let mut weights: HashMap<u32, u8> = HashMap::default();
    for length in 1..=LONGEST_BEGINNING {
        let mut at = terms.partition_point(|(term, _)| term.as_ref() < "0");
        while at < terms.len() {
            let Some((end, _)) = terms[at].0.char_indices().nth(length) else {
                at += 1;
                continue;
            };
            let beginning = &terms[at].0[..end];
            let after = at + terms[at..].partition_point(|(term, _)| term.starts_with(beginning));
            // Values stand among the words, after the digits, and no word begins as they do.
            if !beginning.starts_with('=') && piece_of(after - 1) - piece_of(at) >= SPREAD {
                weights.clear();
                for (_, docs) in &terms[at..after] {
                    Docs::each(docs, |doc, weight| {
                        let known = weights.entry(doc).or_default();
                        *known = weight.max(*known);
                    });
                }
                let mut all: Vec<(u32, u8)> = weights.iter().map(|(doc, weight)| (*doc, *weight)).collect();
                all.sort_unstable();
                let mut docs = Docs::default();
                all.into_iter().for_each(|(doc, weight)| docs.push(doc, weight));
                found.push((beginning.to_owned(), docs.text()));
            }
            at = after;
        }
    }
    found.sort_unstable();
    found
}

/// The number of steps of each guide, and which guides stand in which piece of rows.
fn rows(guides: &[(Entry, Packed)]) -> (String, Vec<std::ops::Range<usize>>) {
    (symbols(guides.iter().map(|(entry, _)| u32::from(entry.steps))), cut(guides, ROWS, |(entry, _)| entry.row.len() + 2))
}

fn symbols(numbers: impl Iterator<Item = u32>) -> String {
    let mut text = String::new();
    numbers.for_each(|number| push_symbol(&mut text, number));
    text
}

fn reversed(word: &str) -> String {
    word.chars().rev().collect()
}

fn hand_over(call: &str, name: &str, pieces: Vec<Vec<String>>, files: &mut Vec<(String, Vec<u8>)>) {
    for (number, lines) in pieces.into_iter().enumerate() {
        let text = Value::from(lines.join(" "));
        files.push((format!("search/{name}{number}.js"), format!("bayleaf.{call}(\"{name}{number}\",{text});\n").into_bytes()));
    }
}
