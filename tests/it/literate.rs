//! Literate cases of the rules, `tests/rules/<rule>.md`: the shortest guide that shows the fault, why, and
//! the whole report. With `BAYLEAF_UPDATE=1` the reports are written anew; look at the difference.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A fenced block of a case: what stands behind the fence, and the text.
struct Fence {
    info: String,
    text: String,
}

fn cases() -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rules");
    let mut cases: Vec<(PathBuf, String)> =
        fs::read_dir(folder).unwrap().flatten().map(|entry| (entry.path(), fs::read_to_string(entry.path()).unwrap())).collect();
    cases.sort();
    cases
}

/// The blocks between lines of four backticks.
fn fences(case: &str) -> Vec<Fence> {
    let mut fences = Vec::new();
    let mut open: Option<Fence> = None;
    for line in case.lines() {
        match (&mut open, line.strip_prefix("````")) {
            (None, Some(info)) => open = Some(Fence { info: info.trim().to_owned(), text: String::new() }),
            (Some(_), Some(_)) => fences.extend(open.take()),
            (Some(fence), None) => {
                fence.text.push_str(line);
                fence.text.push('\n');
            }
            (None, None) => {}
        }
    }
    fences
}

fn report(fences: &[Fence]) -> String {
    let home = tempfile::tempdir().unwrap();
    let guides = home.path().join("guides");
    fs::create_dir(&guides).unwrap();
    for Fence { info, text } in fences {
        let mut words = info.split_whitespace();
        let (kind, name) = (words.next().unwrap_or_default(), words.next());
        match kind {
            "guide" => write(&guides.join(name.unwrap_or("example/guide.md")), text.as_bytes()),
            // A byte that is no UTF-8 cannot stand in a case; `\xFF` stands for it.
            "guide-bytes" => {
                let bytes: Vec<u8> = text.split("\\xFF").map(str::as_bytes).collect::<Vec<_>>().join(&0xff);
                write(&guides.join(name.unwrap_or("example/guide.md")), &bytes);
            }
            "shop" => write(&guides.join("shop.toml"), text.as_bytes()),
            "file" => write(&guides.join(name.unwrap()), text.as_bytes()),
            "picture" => {
                let (width, height) = text.trim().split_once(" x ").unwrap();
                let path = guides.join(name.unwrap());
                fs::create_dir_all(path.parent().unwrap()).unwrap();
                image::RgbImage::new(width.parse().unwrap(), height.parse().unwrap()).save(path).unwrap();
            }
            "report" => {}
            other => panic!("a fence is called `{other}`"),
        }
    }
    if !guides.join("shop.toml").exists() {
        write(&guides.join("shop.toml"), include_bytes!("../../src/review/rules/example_shop.toml"));
    }
    let output =
        Command::new(env!("CARGO_BIN_EXE_bayleaf")).args(["review", "--color", "never"]).current_dir(home.path()).output().unwrap();
    let status = output.status.code().unwrap();
    format!("{}{}exit status {status}\n", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

fn write(path: &Path, bytes: &[u8]) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// What the report marks under the finding of `rule`: the text above its carets.
fn marked(report: &str, rule: &str) -> Option<String> {
    let start = report.find(&format!("[{rule}]:"))?;
    let lines: Vec<&str> = report[start..].lines().collect();
    let at = lines.iter().position(|line| line.trim_start().starts_with('|') && line.contains('^'))?;
    let (first, last) =
        (lines[at].chars().position(|c| c == '^')?, lines[at].chars().count() - lines[at].chars().rev().position(|c| c == '^')?);
    Some(lines[at - 1].chars().skip(first).take(last - first).collect())
}

#[test]
fn every_case_gives_its_report() {
    let update = std::env::var_os("BAYLEAF_UPDATE").is_some();
    let mut wrong = Vec::new();
    for (path, case) in cases() {
        let got = report(&fences(&case));
        let told = fences(&case).into_iter().find(|fence| fence.info == "report").map(|fence| fence.text).unwrap_or_default();
        if got == told {
            continue;
        }
        if update {
            let head = case.split("````report").next().unwrap();
            fs::write(&path, format!("{head}````report\n{got}````\n")).unwrap();
        } else {
            wrong.push(format!("{}\n--- expected\n{told}\n--- got\n{got}", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_rule_has_a_case_that_finds_it_at_the_right_place() {
    let cases = cases();
    let mut wrong = Vec::new();
    for rule in bayleaf::review::rules::ALL {
        let name = rule.name;
        let (_, case) = cases
            .iter()
            .find(|(path, _)| path.file_stem().is_some_and(|stem| stem == name))
            .unwrap_or_else(|| panic!("no case for {name}"));
        let report = fences(case).into_iter().find(|fence| fence.info == "report").unwrap().text;
        let place = case.lines().find_map(|line| line.strip_prefix("Marked: ")).unwrap_or_else(|| panic!("{name}: no line `Marked:`"));
        let place = place.trim_matches('`');
        if place == "(the start)" {
            assert!(report.contains(&format!("[{name}]:")) && report.contains(":1:1\n"), "{name}");
        } else if marked(&report, name).as_deref() != Some(place) {
            wrong.push(format!("{name}: {:?} is marked, not {place:?}", marked(&report, name)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn messages_are_phrases_and_name_no_types() {
    let shouted = ["i64", "u32", "String", "Option", "None", "DeTable", "expected one of", "E0"];
    for (path, case) in cases() {
        let report = fences(&case).into_iter().find(|fence| fence.info == "report").unwrap().text;
        for line in report.lines() {
            let message =
                ["hold[", "query[", "remark["].iter().find_map(|word| line.strip_prefix(word)).and_then(|rest| rest.split_once("]: "));
            let Some((_, message)) = message else { continue };
            let first = message.chars().next().unwrap();
            assert!(!first.is_uppercase() || message.starts_with("N·m"), "{}: {message}", path.display());
            assert!(!message.ends_with('.'), "{}: {message}", path.display());
            assert!(!shouted.iter().any(|word| message.contains(word)), "{}: {message}", path.display());
        }
    }
}
