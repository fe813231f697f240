//! The words of pages stand in one table: no template holds any of its own, each asks for what there is with what it needs, and no phrase is
//! left over.

use std::collections::BTreeSet;

use bayleaf::phrases::{Phrases, asked};
use bayleaf::theme::BUILT_IN;

/// What is the same in every language: symbols of units, the name of a standard, keys of a keyboard, a command.
const OF_NO_LANGUAGE: &[&str] = &["N·m", "lb·ft", "ISO 273", "n", "p", "f", "Esc", "bayleaf review --mend"];

/// Attributes that a reader sees or hears.
const READ: &[&str] = &["aria-label", "title", "alt", "placeholder", "label", "data-c"];

fn templates() -> impl Iterator<Item = (&'static str, &'static str)> {
    BUILT_IN.iter().copied().filter(|(name, _)| name.ends_with(".html"))
}

/// A template without the engine's tags, each left as one sign, and the tags.
fn parted(text: &str) -> (String, Vec<&str>) {
    let (mut markup, mut tags, mut rest) = (String::new(), Vec::new(), text);
    while let Some(at) = rest.find("{{").into_iter().chain(rest.find("{%")).min() {
        let end = if rest[at..].starts_with("{{") { "}}" } else { "%}" };
        let length = rest[at..].find(end).unwrap() + 2;
        markup.push_str(&rest[..at]);
        markup.push('\u{1}');
        tags.push(&rest[at..at + length]);
        rest = &rest[at + length..];
    }
    (markup + rest, tags)
}

/// What a template says in words of its own.
fn own_words(text: &str) -> Vec<String> {
    // The block with the class of the body is no text.
    let text = match text.split_once("{% block kind %}") {
        Some((before, rest)) => format!("{before}{}", rest.split_once("{% endblock").unwrap().1.split_once("%}").unwrap().1),
        None => text.to_owned(),
    };
    let (markup, tags) = parted(&text);
    let mut found = Vec::new();
    let mut heard = |words: &str| {
        for words in words.split('\u{1}').map(str::trim).filter(|words| words.chars().any(char::is_alphabetic)) {
            if !OF_NO_LANGUAGE.contains(&words) {
                found.push(words.to_owned());
            }
        }
    };
    let mut rest = markup.as_str();
    while let Some((words, behind)) = rest.split_once('<') {
        heard(words);
        let (tag, behind) = behind.split_once('>').unwrap_or((behind, ""));
        for name in READ {
            for value in tag.split(&format!(" {name}=\"")).skip(1) {
                heard(value.split('"').next().unwrap());
            }
        }
        rest = behind;
    }
    heard(rest);
    for tag in tags
        .iter()
        .filter(|tag| !["extends", "include", "if", "elif"].iter().any(|word| tag[2..].trim_start_matches(['-', ' ']).starts_with(word)))
    {
        // A word in quotes that is a path, a kind or an id has neither a capital nor a space.
        for quoted in tag.split('"').skip(1).step_by(2) {
            if quoted.contains(' ') && quoted.chars().any(char::is_alphabetic) || quoted.starts_with(char::is_uppercase) {
                found.push(quoted.to_owned());
            }
        }
    }
    found
}

#[test]
fn no_template_says_anything_in_words_of_its_own() {
    let mut seen = 0;
    for (name, text) in templates() {
        assert_eq!(own_words(text), Vec::<String>::new(), "{name}: its words belong into src/phrases/");
        seen += 1;
    }
    assert!(seen > 30);
}

#[test]
fn words_in_a_template_are_seen() {
    assert_eq!(own_words("<p>{% if a %}Fits{% endif %} {{ b }}</p>"), ["Fits"]);
    assert_eq!(own_words("<td data-c=\"Drive\" data-id=\"no\" title=\"{{ x }}\">{{ y }}</td>"), ["Drive"]);
    assert_eq!(own_words("{% set a = \"Torque sheet\" %}{% set b = \"index.html\" %}{% include \"A b.html\" %}"), ["Torque sheet"]);
    assert_eq!(own_words("<b>N·m</b>"), Vec::<String>::new());
}

/// The names that are filled in behind a key: `| fill(a=…, b=…)`; what stands in inner brackets is another's.
fn given(behind: &str) -> BTreeSet<&str> {
    let Some(inside) = behind.strip_prefix(" | fill(") else { return BTreeSet::new() };
    let (mut depth, mut names, mut start) = (0, BTreeSet::new(), 0);
    for (at, c) in inside.char_indices() {
        match c {
            '(' => depth += 1,
            ')' if depth == 0 => {
                names.extend(inside[start..at].split_once('=').map(|(name, _)| name.trim()));
                break;
            }
            ')' => depth -= 1,
            ',' if depth == 0 => {
                names.extend(inside[start..at].split_once('=').map(|(name, _)| name.trim()));
                start = at + 1;
            }
            _ => {}
        }
    }
    names
}

#[test]
fn every_template_asks_for_phrases_that_there_are_with_what_stands_in_them() {
    let mut checked = 0;
    for (name, text) in templates() {
        for (at, _) in text.match_indices("say.") {
            let Some(key) = asked(&text[at..]).next() else { continue };
            let places = Phrases::KEYS.iter().find(|(known, _)| *known == key).map(|(_, places)| *places);
            let places = places.unwrap_or_else(|| panic!("{name} asks for say.{key}, and src/phrases/ has no such key"));
            assert_eq!(given(&text[at + "say.".len() + key.len()..]), places.iter().copied().collect(), "{name}: say.{key}");
            checked += 1;
        }
    }
    assert!(checked > 300, "only {checked} were seen");
}

#[test]
fn no_phrase_is_left_over() {
    let mut used: BTreeSet<&str> = BUILT_IN.iter().flat_map(|(_, text)| asked(text)).collect();
    let sources: Vec<String> = crate::tidy::rust_files()
        .into_iter()
        .filter(|path| path.components().any(|part| part.as_os_str() == "src"))
        .map(|path| std::fs::read_to_string(path).unwrap())
        .collect();
    // Rust says `say.torque` or, through a path, `say().torque` and `SAY.torque`.
    used.extend(sources.iter().flat_map(|text| asked(text)));
    let left: Vec<&str> = Phrases::KEYS.iter().map(|(key, _)| *key).filter(|key| !used.contains(key)).collect();
    assert_eq!(left, Vec::<&str>::new());
}
