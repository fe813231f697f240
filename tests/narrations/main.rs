//! How well talks are read: narrations with what a careful listener gets out of them, written by others before the reader was tuned.
//!
//! `cargo test --test narrations -- --nocapture` prints the table of the open set and holds its floors. The variable BAYLEAF_NARRATIONS
//! names another folder of the same form, which is then scored and printed, with every miss if BAYLEAF_MISSES is set too.

mod outside;

use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use bayleaf::draft::{self, Heard};
use bayleaf::narration::{self, Narration, tokens};
use bayleaf::wording::lexicon::{built_in, singular};
use serde_json::Value as Json;

/// How far from the words that an expectation cites a fact may be heard, in words.
const NEAR: usize = 10;

#[derive(Default, Clone)]
struct Score {
    name: String,
    sentences: usize,
    values: (usize, usize),
    values_said: (usize, usize),
    operations: (usize, usize),
    operations_said: (usize, usize),
    open: (usize, usize),
    open_false: usize,
    untorqued: (usize, usize),
    untorqued_false: usize,
    invented: usize,
    milliseconds: f64,
    misses: Vec<String>,
}

fn share((found, of): (usize, usize)) -> String {
    if of == 0 { "-".to_owned() } else { format!("{found}/{of} {:.1} %", 100.0 * found as f64 / of as f64) }
}

/// Heads that say little beside the word before them.
const EMPTY_HEADS: &[&str] = &[
    "panel",
    "cover",
    "unit",
    "assembly",
    "lead",
    "cable",
    "connector",
    "plug",
    "loom",
    "pack",
    "box",
    "kit",
    "piece",
    "strip",
    "lining",
    "card",
    "skin",
    "terminal",
    "pipe",
    "hose",
    "valve",
    "lock",
    "tape",
    "sealant",
    "clip",
    "wire",
    "body",
    "set",
    "motor",
    "arm",
];

/// Words for the same thing.
const ALIKE: &[&[&str]] = &[
    &["plug", "connector", "multiplug", "multi-plug", "terminal"],
    &["cable", "wire", "lead", "loom", "harness", "wiring", "tail", "feed"],
    &["van", "vehicle"],
    &["sealant", "sealer", "bead", "mastic"],
    &["threadlock", "threadlocker", "thread-lock", "thread-locker", "loctite"],
    &["clip", "scrivet", "fastener"],
    &["nut", "nyloc"],
    &["screw", "tapper", "self-tapper"],
    &["hose", "pipe", "tube", "line"],
    &["negative", "earth", "ground", "battery"],
    &["headlining", "headliner", "lining"],
    &["swarf", "burr"],
];

const PORTIONS: &[&str] =
    &["rear", "side", "front", "inside", "outside", "top", "length", "piece", "end", "bottle", "pair", "bit", "end", "edge"];
const PLACES: &[&str] = &[
    " to ",
    " through ",
    " behind ",
    " at ",
    " in ",
    " on ",
    " under ",
    " with ",
    " by ",
    " above ",
    " around ",
    " between ",
    " from ",
    " over ",
];

fn content(item: &str) -> Vec<String> {
    let item = item.split([',', '(']).next().unwrap_or_default();
    // `rear of the van`, `edge of the hole`: the place is the van's; `pair of bolts` are bolts.
    let item = match item.split_once(" of ") {
        Some((portion, whole)) if portion.split(' ').next_back().is_some_and(|last| PORTIONS.contains(&last)) => whole,
        Some((thing, _)) => thing,
        None => item,
    };
    let cut = PLACES.iter().filter_map(|word| item.find(word)).min().unwrap_or(item.len());
    let item = &item[..cut];
    tokens(item)
        .into_iter()
        .map(|word| singular(&word.text))
        .flat_map(|word| word.split('-').map(str::to_owned).collect::<Vec<_>>())
        .filter(|word| !matches!(word.as_str(), "the" | "a" | "an" | "old" | "new" | "all" | "both" | "two" | "four"))
        .collect()
}

fn alike(one: &str, other: &str) -> bool {
    one == other || ALIKE.iter().any(|words| words.contains(&one) && words.contains(&other))
}

/// Whether two names have the same head, or one is the other without a head that says little.
fn same_item(expected: &str, found: &str) -> bool {
    let (expected, found) = (content(expected), content(found));
    let (Some(one), Some(other)) = (expected.last(), found.last()) else { return false };
    if alike(one, other) {
        return true;
    }
    let short = |words: &[String], head: &String| EMPTY_HEADS.contains(&head.as_str()) && words.len() > 1;
    short(&expected, one) && alike(&expected[expected.len() - 2], other) || short(&found, other) && alike(&found[found.len() - 2], one)
}

/// Where words are said, as ranges of the narration's words.
fn places(narration: &Narration, say: &str) -> Vec<std::ops::Range<usize>> {
    let wanted: Vec<String> = tokens(say).into_iter().map(|word| word.text).collect();
    let said = &narration.words;
    if wanted.is_empty() {
        return Vec::new();
    }
    (0..said.len().saturating_sub(wanted.len() - 1))
        .filter(|at| wanted.iter().enumerate().all(|(nth, word)| said[at + nth].text == *word))
        .map(|at| at..at + wanted.len())
        .collect()
}

fn near(places: &[std::ops::Range<usize>], found: &std::ops::Range<usize>) -> bool {
    places.iter().any(|place| found.start < place.end + NEAR && place.start < found.end + NEAR)
}

fn figure(text: &str) -> Option<f64> {
    let text = text.trim();
    if let Some(whole) = text.strip_prefix(['M', 'T', 'm', 't']) {
        return figure(whole.split(['x', '×']).next()?);
    }
    if let Some((whole, rest)) = text.split_once(' ') {
        return Some(figure(whole)? + figure(rest)?);
    }
    match text.split_once('/') {
        Some((above, below)) => Some(above.trim().parse::<f64>().ok()? / below.trim().parse::<f64>().ok()?),
        None => text.replace(',', ".").parse().ok(),
    }
}

fn same_figure(one: Option<&str>, other: Option<&str>) -> bool {
    match (one.map(figure), other.map(figure)) {
        (None, None) => true,
        (Some(Some(one)), Some(Some(other))) => (one - other).abs() < 1e-4 * one.abs().max(1.0),
        _ => one == other,
    }
}

fn unit(text: Option<&str>) -> String {
    let text = text.unwrap_or_default().trim();
    match text {
        "Nm" | "N.m" => "N·m".into(),
        "qt" | "quart" => "US qt".into(),
        "ml" => "mL".into(),
        "l" => "L".into(),
        "mm2" => "mm²".into(),
        "mile" | "miles" => "mi".into(),
        "days" | "day" => "d".into(),
        other => other.into(),
    }
}

/// Half an hour and thirty minutes are the same.
fn same_value(value: Option<&str>, to: Option<&str>, of: &str, found: &draft::Value) -> bool {
    let said = found.unit.unwrap_or_default();
    if of == said {
        return same_figure(value, Some(&found.value)) && same_figure(to, found.to.as_deref());
    }
    let seconds = |unit: &str| match unit {
        "s" => Some(1.0),
        "min" => Some(60.0),
        "h" => Some(3600.0),
        _ => None,
    };
    match (seconds(of), seconds(said), value.and_then(figure), figure(&found.value)) {
        (Some(of), Some(said), Some(value), Some(found)) => (value * of - found * said).abs() < 1.0,
        _ => false,
    }
}

const UNITS: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Whether a figure stands in the talk: as digits, or as the words that say it. An own reading, so that it does not repeat a fault.
fn stands_in(narration: &Narration, value: &str) -> bool {
    let value = value.trim_start_matches(['M', 'T', '-']);
    let words: HashSet<&str> = narration.words.iter().map(|word| word.text.as_str()).collect();
    let digits = narration.words.iter().any(|word| {
        let word = word.text.trim_start_matches(['m', 't', '-']).replace(',', ".");
        word == value
            || word.trim_end_matches(['"', '\u{201d}']) == value
            || word.split(['x', '×', '/']).any(|part| part == value)
            || word.strip_suffix(".0") == Some(value)
    });
    if digits {
        return true;
    }
    let said = |word: &str| words.contains(word);
    let whole = |number: u32| -> bool {
        match number {
            0..20 => said(UNITS[number as usize]) || number == 0,
            20..100 => said(TENS[(number / 10) as usize]) && (number.is_multiple_of(10) || said(UNITS[(number % 10) as usize])),
            100..1000 => {
                let (above, below) = (number / 100, number % 100);
                let hundred = said("hundred") || said(UNITS[above as usize]);
                let rest = match below {
                    0 => true,
                    1..20 => said(UNITS[below as usize]),
                    _ => said(TENS[(below / 10) as usize]) && (below % 10 == 0 || said(UNITS[(below % 10) as usize])),
                };
                hundred && rest
            }
            _ => said("thousand") || said("hundred"),
        }
    };
    if let Some((whole_part, fraction)) = value.split_once(' ') {
        return stands_in(narration, whole_part) && stands_in(narration, fraction);
    }
    if let Some((above, below)) = value.split_once('/') {
        let names = match below {
            "2" => ["half", "halves"],
            "3" => ["third", "thirds"],
            "4" => ["quarter", "quarters"],
            "8" => ["eighth", "eighths"],
            "16" => ["sixteenth", "sixteenths"],
            "32" => ["second", "seconds"],
            _ => ["tenth", "tenths"],
        };
        return above.parse().is_ok_and(|above: u32| above == 1 || whole(above)) && names.iter().any(|name| said(name));
    }
    if let Some((before, after)) = value.split_once('.') {
        let point = said("point")
            && after.chars().all(|c| c.to_digit(10).is_some_and(|digit| said(UNITS[digit as usize]) || digit == 0) || after.len() > 1);
        let half = matches!(after, "5" | "25" | "75") && (said("half") || said("quarter") || said("quarters"));
        return (point || half)
            && before.parse().is_ok_and(|before: u32| before == 0 || whole(before) || stands_in(narration, &before.to_string()));
    }
    value.parse().is_ok_and(whole)
}

fn texts<'j>(json: &'j Json, key: &str) -> &'j [Json] {
    json[key].as_array().map_or(&[], Vec::as_slice)
}

fn score(file: &Path) -> Score {
    let bytes = fs::read(file).unwrap();
    let narration = narration::read(&bytes).unwrap();
    let begun = Instant::now();
    let heard = draft::read(&narration, built_in());
    let milliseconds = begun.elapsed().as_secs_f64() * 1000.0;
    let json: Json = serde_json::from_slice(&fs::read(file.with_extension("json")).unwrap()).unwrap();
    let mut score = Score { name: file.file_name().unwrap().to_string_lossy().into_owned(), milliseconds, ..Score::default() };
    score.sentences = narration.words.iter().filter(|word| word.end >= narration::End::Stop).count();
    values(&narration, &heard, &json, &mut score);
    operations(&narration, &heard, &json, &mut score);
    let mut lists = |key: &str, found: Vec<String>| -> ((usize, usize), usize) {
        let expected: Vec<&str> = texts(&json, key).iter().filter_map(|row| row["item"].as_str()).collect();
        let mut hits = 0;
        for item in &expected {
            if found.iter().any(|name| same_item(item, name)) {
                hits += 1;
            } else {
                score.misses.push(format!("{key} missed: {item}"));
            }
        }
        let wrong: Vec<&String> = found.iter().filter(|name| !expected.iter().any(|item| same_item(item, name))).collect();
        wrong.iter().for_each(|name| score.misses.push(format!("{key} too many: {name}")));
        ((hits, expected.len()), wrong.len())
    };
    let name = |thing: usize| heard.things[thing].name.clone();
    let (open, open_false) = lists("left_open", heard.open.iter().map(|open| name(open.thing)).collect());
    let (untorqued, untorqued_false) = lists("missing_torque", heard.untorqued.iter().map(|row| name(row.thing)).collect());
    (score.open, score.open_false, score.untorqued, score.untorqued_false) = (open, open_false, untorqued, untorqued_false);
    score
}

fn values(narration: &Narration, heard: &Heard, json: &Json, score: &mut Score) {
    let mut used = vec![false; heard.values.len()];
    for row in texts(json, "values") {
        let text = |key: &str| row[key].as_str().map(str::to_owned).or_else(|| row[key].as_f64().map(|number| number.to_string()));
        let (value, to, say) = (text("value"), text("to"), row["say"].as_str().unwrap_or_default());
        let of = unit(row["unit"].as_str());
        let places = places(narration, say);
        let hit = heard
            .values
            .iter()
            .enumerate()
            .position(|(_, found)| same_value(value.as_deref(), to.as_deref(), &of, found) && near(&places, &found.place));
        score.values.1 += 1;
        match hit {
            Some(at) => {
                score.values.0 += 1;
                used[at] = true;
                // The same words can be cited for it twice.
                for (other, found) in heard.values.iter().enumerate() {
                    used[other] |= same_value(value.as_deref(), to.as_deref(), &of, found) && near(&places, &found.place);
                }
            }
            None => score.misses.push(format!(
                "value missed: {} {}{of}  «{say}»{}",
                value.unwrap_or_default(),
                to.map_or(String::new(), |to| format!("..{to} ")),
                if places.is_empty() { " (words not found)" } else { "" }
            )),
        }
    }
    // Sizes of threads belong to their fasteners: they count where the listener wrote them down, and not against the draft elsewhere.
    let counted = |at: usize| used[at] || heard.values[at].unit.is_some();
    score.values_said = (used.iter().filter(|used| **used).count(), (0..used.len()).filter(|at| counted(*at)).count());
    for (found, used) in heard.values.iter().zip(&used) {
        let words = |around: usize| {
            narration.words[found.place.start.saturating_sub(around)..(found.place.end + around).min(narration.words.len())]
                .iter()
                .map(|word| word.text.as_str())
                .collect::<Vec<_>>()
                .join(" ")
        };
        if !used && found.unit.is_some() {
            score.misses.push(format!("value too many: {} {}  «{}»", found.value, found.unit.unwrap_or_default(), words(4)));
        }
        if !stands_in(narration, &found.value) || found.to.as_ref().is_some_and(|to| !stands_in(narration, to)) {
            score.invented += 1;
            score.misses.push(format!("INVENTED: {} {:?} {}  «{}»", found.value, found.to, found.unit.unwrap_or_default(), words(4)));
        }
    }
}

/// What a listener wrote of an operation: its words, verb and item, where the words stand, and whether it was found.
type Row<'t> = (&'t str, &'t str, &'t str, Vec<std::ops::Range<usize>>, bool);

fn operations(narration: &Narration, heard: &Heard, json: &Json, score: &mut Score) {
    let mut used = vec![false; heard.operations.len()];
    let mut rows: Vec<Row<'_>> = texts(json, "operations")
        .iter()
        .map(|row| {
            let text = |key: &str| row[key].as_str().unwrap_or_default();
            (text("verb"), text("item"), text("say"), places(narration, text("say")), false)
        })
        .collect();
    // The nearest first, so that each is used for its own.
    for row in &mut rows {
        let fits = |at: usize| {
            let found = &heard.operations[at];
            found.verb.key() == row.0 && same_item(row.1, &heard.things[found.thing].name) && near(&row.3, &found.place)
        };
        let distance =
            |at: &usize| row.3.iter().map(|place| place.start.abs_diff(heard.operations[*at].place.start)).min().unwrap_or(usize::MAX);
        if let Some(at) = (0..used.len()).filter(|at| !used[*at] && fits(*at)).min_by_key(distance) {
            used[at] = true;
            row.4 = true;
        }
    }
    score.operations = (rows.iter().filter(|row| row.4).count(), rows.len());
    score.operations_said = (used.iter().filter(|used| **used).count(), used.len());
    for (verb, item, say, places, _) in rows.iter().filter(|row| !row.4) {
        let instead: Vec<String> = heard
            .operations
            .iter()
            .filter(|found| near(places, &found.place))
            .map(|found| format!("{} {}", found.verb.key(), heard.things[found.thing].name))
            .collect();
        let lost = if places.is_empty() { " (words not found)" } else { "" };
        score.misses.push(format!("operation missed: {verb} {item}  «{say}»{lost}  near it: {}", instead.join(", ")));
    }
    for (found, _) in heard.operations.iter().zip(&used).filter(|(_, used)| !**used) {
        let place = found.place.start.saturating_sub(5)..(found.place.end + 4).min(narration.words.len());
        let words: Vec<&str> = narration.words[place].iter().map(|word| word.text.as_str()).collect();
        score.misses.push(format!("operation too many: {} {}  «{}»", found.verb.key(), heard.things[found.thing].name, words.join(" ")));
    }
}

fn add(total: &mut (usize, usize), more: (usize, usize)) {
    *total = (total.0 + more.0, total.1 + more.1);
}

fn all(folder: &Path) -> Score {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end != "json") && path.with_extension("json").is_file())
        .collect();
    files.sort();
    let mut total = Score { name: "all".to_owned(), ..Score::default() };
    println!(
        "{:<14} {:>5} | {:>15} {:>15} | {:>15} {:>15} | {:>13} {:>4} | {:>13} {:>4} | {:>8} | {:>7}",
        "talk", "sent.", "values found", "right", "operations", "right", "left open", "+", "no torque", "+", "invented", "ms"
    );
    let print = |score: &Score| {
        println!(
            "{:<14} {:>5} | {:>15} {:>15} | {:>15} {:>15} | {:>13} {:>4} | {:>13} {:>4} | {:>8} | {:>7.1}",
            score.name,
            score.sentences,
            share(score.values),
            share(score.values_said),
            share(score.operations),
            share(score.operations_said),
            share(score.open),
            score.open_false,
            share(score.untorqued),
            score.untorqued_false,
            score.invented,
            score.milliseconds
        );
    };
    for file in &files {
        let score = score(file);
        print(&score);
        if std::env::var_os("BAYLEAF_MISSES").is_some() {
            score.misses.iter().for_each(|miss| println!("    {miss}"));
        }
        add(&mut total.values, score.values);
        add(&mut total.values_said, score.values_said);
        add(&mut total.operations, score.operations);
        add(&mut total.operations_said, score.operations_said);
        add(&mut total.open, score.open);
        add(&mut total.untorqued, score.untorqued);
        total.sentences += score.sentences;
        total.open_false += score.open_false;
        total.untorqued_false += score.untorqued_false;
        total.invented += score.invented;
        total.milliseconds += score.milliseconds;
    }
    print(&total);
    total
}

#[test]
fn talks_are_read_as_a_careful_listener_does() {
    let open = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/narrations/open");
    let folder = std::env::var_os("BAYLEAF_NARRATIONS").map(PathBuf::from);
    let total = all(folder.as_deref().unwrap_or(&open));
    if folder.is_none() {
        // Floors: what is read now may not get worse. Every figure comes from the talk, whatever else is missed.
        assert_eq!(total.invented, 0);
        let least =
            |(found, of): (usize, usize), percent: usize, what: &str| assert!(found * 100 >= of * percent, "{what}: {found} of {of}");
        least(total.values, 94, "values found");
        least(total.values_said, 96, "values right");
        least(total.operations, 52, "operations found");
        least(total.operations_said, 64, "operations right");
        least(total.untorqued, 60, "missing torques found");
    }
}
