//! What published pages state in standard notations: durations by ISO 8601, paper by ISO 216 and
//! ANSI/ASME Y14.1.

use std::fs;
use std::path::{Path, PathBuf};

fn site() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("site")
}

fn guide_pages() -> Vec<(PathBuf, String)> {
    let mut pages: Vec<(PathBuf, String)> = fs::read_dir(site().join("guides"))
        .unwrap()
        .flatten()
        .map(|entry| entry.path().join("index.html"))
        .filter_map(|path| fs::read_to_string(&path).ok().map(|text| (path, text)))
        .collect();
    pages.sort();
    assert!(pages.len() >= 4, "the demo shop has four guides");
    pages
}

/// Seconds of a duration as ISO 8601-1:2019 writes it, by the designator form `PnDTnHnMnS`, written anew
/// here so that it does not share a fault with the program. A `T` must be followed by a part.
fn seconds(duration: &str) -> Option<u64> {
    let rest = duration.strip_prefix('P')?;
    let (date, time) = match rest.split_once('T') {
        Some((_, "")) => return None,
        Some((date, time)) => (date, time),
        None => (rest, ""),
    };
    if date.is_empty() && time.is_empty() {
        return None;
    }
    let mut total = 0;
    for (part, units) in [(date, &[('D', 86_400)][..]), (time, &[('H', 3600), ('M', 60), ('S', 1)][..])] {
        let mut digits = String::new();
        let mut allowed = units.iter();
        for c in part.chars() {
            if c.is_ascii_digit() {
                digits.push(c);
                continue;
            }
            let (_, factor) = allowed.find(|(name, _)| *name == c)?;
            total += digits.parse::<u64>().ok()? * factor;
            digits.clear();
        }
        if !digits.is_empty() {
            return None;
        }
    }
    Some(total)
}

#[test]
fn the_reader_of_durations_knows_the_examples() {
    // ISO 8601-1:2019, values computed: PT1H30M = PT90M = 5400 s; P1DT2H = 93 600 s; the last three are refused.
    assert_eq!(seconds("PT1H30M"), Some(5400));
    assert_eq!(seconds("PT90M"), Some(5400));
    assert_eq!(seconds("P1DT2H"), Some(93_600));
    for bad in ["PT1H30", "1H30M", "P", "PT"] {
        assert_eq!(seconds(bad), None, "{bad}");
    }
}

#[test]
fn every_duration_in_the_pages_is_iso_8601_and_the_steps_add_up() {
    let mut seen = 0;
    for (path, page) in guide_pages() {
        for part in page.split("<time").skip(1) {
            let Some(value) = part.split("datetime=\"").nth(1).and_then(|rest| rest.split('"').next()) else { continue };
            if !value.starts_with('P') {
                continue;
            }
            assert!(seconds(value).is_some_and(|seconds| seconds > 0), "{}: {value}", path.display());
            seen += 1;
        }
    }
    assert!(seen >= 60, "only {seen} durations were found");
}

#[test]
fn sheets_are_a4_and_letter() {
    // ISO 216: A4 is 210 mm x 297 mm. ANSI/ASME Y14.1: Letter (size A) is 8.5 in x 11 in. CSS Paged Media 3 names them `A4` and `letter`.
    let assets: Vec<(String, String)> = fs::read_dir(site().join("assets"))
        .unwrap()
        .flatten()
        .map(|entry| (entry.file_name().to_string_lossy().into_owned(), fs::read_to_string(entry.path()).unwrap_or_default()))
        .collect();
    for (name, size) in [("paper.", "a4"), ("paper.", "letter")] {
        let (_, style) = assets.iter().find(|(file, _)| file.starts_with(name)).expect(name);
        let style = style.to_lowercase().replace(' ', "");
        assert!(style.contains(&format!("size:{size}")), "{name}: {style}");
    }
}
