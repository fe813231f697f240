//! Subtitles and number words as other libraries read them: `tests/outside/talks_reference.json`, written by the script beside it from
//! webvtt-py, srt and num2words.

use bayleaf::narration;
use bayleaf::wording::number;
use serde_json::Value as Json;

fn reference() -> Json {
    serde_json::from_str(include_str!("../outside/talks_reference.json")).unwrap()
}

/// A text less what stands in angle brackets, and the dash that a voice begins with.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for c in text.chars() {
        match c {
            '<' => inside = true,
            '>' if inside => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    out.trim_start_matches("- ").trim_end().to_owned()
}

#[test]
fn subtitles_are_read_as_other_libraries_read_them() {
    let reference = reference();
    let mut cues = 0;
    for case in reference["vtt"].as_array().unwrap().iter().chain(reference["srt"].as_array().unwrap()) {
        let text = case["text"].as_str().unwrap();
        let (_, read) = narration::cues(text).unwrap_or_else(|| panic!("{text}"));
        let expected: Vec<(u64, u64, String)> = case["cues"]
            .as_array()
            .unwrap()
            .iter()
            .map(|cue| (cue[0].as_u64().unwrap(), cue[1].as_u64().unwrap(), plain(cue[2].as_str().unwrap())))
            .collect();
        let found: Vec<(u64, u64, String)> = read.iter().map(|cue| (cue.start, cue.end, plain(&cue.text))).collect();
        assert_eq!(found, expected, "{text}");
        cues += found.len();
    }
    assert!(cues >= 18, "{cues}");
}

#[test]
fn number_words_are_read_as_another_library_spells_them() {
    let reference = reference();
    for row in reference["numbers"].as_array().unwrap() {
        let (figure, words) = (row[0].as_u64().unwrap(), row[1].as_str().unwrap());
        let split: Vec<&str> = words.split(' ').collect();
        let (number, taken) = number::read(&split).unwrap_or_else(|| panic!("{words}"));
        assert_eq!((number.text.as_str(), taken), (figure.to_string().as_str(), split.len()), "{words}");
    }
    for row in reference["decimals"].as_array().unwrap() {
        let (figure, words) = (row[0].as_str().unwrap(), row[1].as_str().unwrap());
        let split: Vec<&str> = words.split(' ').collect();
        let (number, taken) = number::read(&split).unwrap_or_else(|| panic!("{words}"));
        assert_eq!((number.text.as_str(), taken), (figure, split.len()), "{words}");
    }
}
