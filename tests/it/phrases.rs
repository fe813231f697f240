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

// Scripts -----------------------------------------------------------------------------------------

/// What scripts hold in words and show nobody: names of keys, of errors, of stores and of a class, the words that the search passes over, the line by which
/// a record's file knows who signed at a stop, names of kinds in the table of what a record holds, and a query that only warms the browser up.
const SHOWN_TO_NOBODY: &[&str] = &[
    "use strict",
    "Arrow",
    "ArrowRight",
    "ArrowLeft",
    "ArrowDown",
    "ArrowUp",
    "Escape",
    "QuotaExceededError",
    "a an and at by do for from how i in is it of on or the to with",
    "changed meanwhile",
    "bayleaf ",
    "entry wrench",
    "Signed at the stop: ",
    "text or nothing",
    "yes or no",
    "day or nothing",
    "minute or nothing",
    "bolt 8 N·m",
    "Bolt: 8 N·m",
];

/// The texts between double quotes in a script, less its comments.
fn quoted(text: &str) -> Vec<String> {
    let mut code = String::new();
    let mut rest = text;
    while let Some((before, comment)) = rest.split_once("/*") {
        code.push_str(before);
        rest = comment.split_once("*/").map_or("", |(_, behind)| behind);
    }
    code.push_str(rest);
    let mut found: Vec<String> = Vec::new();
    for line in code.lines() {
        let (mut inside, mut escaped): (Option<String>, bool) = (None, false);
        for c in line.chars() {
            match (&mut inside, c) {
                (Some(words), '"') if !escaped => {
                    found.push(std::mem::take(words));
                    inside = None;
                }
                (Some(words), _) => words.push(c),
                (None, '"') if !escaped => inside = Some(String::new()),
                (None, _) => {}
            }
            escaped = c == '\\' && !escaped;
        }
    }
    found
}

/// Whether a text in a script is one that somebody reads: words with spaces round or between them, or one that begins with a capital; but no
/// selector, and no names of classes of the styles.
fn reads_as_words(text: &str, styles: &str) -> bool {
    let plain = |c: char| c.is_alphabetic() || " .,:;!?()“”’–\u{a0}".contains(c);
    let words: Vec<&str> = text.split(' ').filter(|word| word.chars().any(char::is_alphabetic)).collect();
    let is_class = |word: &&str| styles.contains(&format!(".{}", word.trim_start_matches('.')));
    // “.step h3” and “in-bay” are none.
    if text.starts_with(['.', '#']) || !text.chars().all(plain) || words.is_empty() {
        return false;
    }
    let capital = text.trim_start_matches(['“', ' ']).chars().take(2).collect::<Vec<_>>();
    let begins = capital.len() == 2 && capital[0].is_uppercase() && capital[1].is_lowercase();
    (begins || text.contains(' ')) && !words.iter().all(is_class)
}

#[test]
fn no_script_says_anything_in_words_of_its_own() {
    let styles: String = BUILT_IN.iter().filter(|(name, _)| name.ends_with(".css")).map(|(_, text)| *text).collect();
    let mut found = Vec::new();
    for (name, text) in BUILT_IN.iter().filter(|(name, _)| name.ends_with(".js")) {
        let own = quoted(text).into_iter().filter(|text| reads_as_words(text, &styles) && !SHOWN_TO_NOBODY.contains(&text.as_str()));
        found.extend(own.map(|text| format!("{name}: {text}")));
    }
    assert_eq!(found, Vec::<String>::new(), "their words belong into src/phrases/");
    for (text, expected) in
        [("Close", true), (" is nowhere", true), ("kept until", true), ("btn", false), (".step h3", false), ("div", false)]
    {
        assert_eq!(reads_as_words(text, ".btn{}"), expected, "{text}");
    }
}

#[test]
fn every_script_asks_for_phrases_that_there_are() {
    let mut checked = 0;
    for (name, text) in BUILT_IN.iter().filter(|(name, _)| name.ends_with(".js")) {
        for (at, _) in text.match_indices("say.") {
            let Some(key) = asked(&text[at..]).next().filter(|key| text[at + "say.".len()..].starts_with(key)) else { continue };
            let places = Phrases::KEYS.iter().find(|(known, _)| *known == key).map(|(_, places)| *places);
            let places = places.unwrap_or_else(|| panic!("{name} asks for say.{key}, and src/phrases/ has no such key"));
            // What is filled in at once names its places; what is chosen first is filled in with all that any of them has.
            if text[..at].ends_with("fill(") {
                let mut depth = 1;
                let end = text[at..].find(|c| {
                    depth += match c {
                        '(' => 1,
                        ')' => -1,
                        _ => 0,
                    };
                    depth == 0
                });
                let given = &text[at + "say.".len() + key.len()..at + end.unwrap()];
                assert!(!places.is_empty(), "{name}: say.{key} has no places");
                let missing: Vec<&&str> = places.iter().filter(|place| !given.contains(**place)).collect();
                assert!(missing.is_empty(), "{name}: say.{key} is filled without {missing:?}");
            }
            checked += 1;
        }
    }
    assert!(checked > 200, "only {checked} were seen");
}

// Sheets ------------------------------------------------------------------------------------------

/// What the code of the sheets says to nobody who reads one: notes to the author at the terminal, and the name of a paper.
const NOT_ON_PAPER: &[&str] = &["a drawing holds ", "a drawing cannot be shown: ", "the picture  is not there", "Letter"];

#[test]
fn no_sheet_says_anything_in_words_of_its_own() {
    let mut found = Vec::new();
    for name in ["checklist", "step", "tables", "frame", "compose", "desk", "passes", "words", "piece", "flow", "paper"] {
        let path = format!("{}/src/sheets/{name}.rs", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        for line in code.lines().filter(|line| !line.trim_start().starts_with("//")) {
            for quoted in line.split('"').skip(1).step_by(2) {
                // What stands in braces is filled in.
                let words: String = quoted
                    .split('{')
                    .enumerate()
                    .map(|(at, part)| if at == 0 { part } else { part.split_once('}').map_or("", |(_, rest)| rest) })
                    .collect();
                let letters = words.chars().filter(|c| c.is_alphabetic()).count();
                if letters > 1
                    && (words.trim().contains(' ') || words.trim_start().starts_with(char::is_uppercase))
                    && !NOT_ON_PAPER.iter().any(|told| words.starts_with(told))
                {
                    found.push(format!("{name}.rs: {quoted}"));
                }
            }
        }
    }
    assert_eq!(found, Vec::<String>::new(), "their words belong into src/phrases/");
}
