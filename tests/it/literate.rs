//! Literate cases: what a rule's own file says (`src/review/rules/<family>/<rule>.md`: a guide with the fault, what of it is
//! marked, the whole report, the guide without the fault) and further cases in `tests/rules`. With `BAYLEAF_UPDATE=1` the
//! reports are written anew; look at the difference.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use bayleaf::review::rule::Rule;
use bayleaf::review::rules;

/// Where the part of a rule's file starts that shows the guide without the fault.
const MENDED: &str = "\n## Without it\n";

/// A fenced block of a case: what stands behind the fence, and the text.
#[derive(Clone)]
struct Fence {
    info: String,
    text: String,
}

impl Fence {
    /// What kind of file it is, such as `guide` or `shop`.
    fn kind(&self) -> &str {
        self.info.split_whitespace().next().unwrap_or_default()
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn file_of(rule: &Rule) -> PathBuf {
    root().join("src/review/rules").join(rule.family.folder()).join(format!("{}.md", rule.name.name().replace('-', "_")))
}

/// The file of every rule, and the further cases.
fn cases() -> Vec<(PathBuf, String)> {
    let further = fs::read_dir(root().join("tests/rules")).unwrap().flatten().map(|entry| entry.path());
    let mut paths: Vec<PathBuf> = rules::ALL.iter().map(|rule| file_of(rule)).chain(further).collect();
    paths.sort();
    paths.into_iter().map(|path| (path.clone(), fs::read_to_string(&path).unwrap())).collect()
}

/// The case with the fault: all but what is shown without it.
fn faulty(case: &str) -> &str {
    case.rfind(MENDED).map_or(case, |at| &case[..at])
}

/// The files of a rule's case when it is mended: those shown mended in place of the faulty ones, and whatever else the fault had.
fn mended(case: &str) -> Vec<Fence> {
    let mended = fences(&case[case.rfind(MENDED).unwrap()..]);
    let guides = |fence: &Fence| fence.kind().starts_with("guide");
    let replaced = |fence: &Fence| match fence.kind() {
        "report" => true,
        "guide" | "guide-bytes" => mended.iter().any(guides),
        "shop" => mended.iter().any(|other| other.kind() == "shop"),
        _ => mended.iter().any(|other| other.info.split_whitespace().nth(1) == fence.info.split_whitespace().nth(1)),
    };
    let kept = fences(faulty(case)).into_iter().filter(|fence| !replaced(fence));
    kept.chain(mended.iter().cloned()).collect()
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
            "file" | "drawing" => write(&guides.join(name.unwrap()), text.as_bytes()),
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

/// What the report underlines in the remark of `rule`: the text above its strokes.
fn marked(report: &str, rule: &str) -> Option<String> {
    let start = report.find(&format!(", rule {rule}\n"))?;
    let lines: Vec<&str> = report[start..].lines().collect();
    let at = lines.iter().position(|line| line.trim_start().starts_with('\u{203e}'))?;
    let (first, last) = (
        lines[at].chars().position(|c| c == '\u{203e}')?,
        lines[at].chars().count() - lines[at].chars().rev().position(|c| c == '\u{203e}')?,
    );
    Some(lines[at - 1].chars().skip(first).take(last - first).collect())
}

#[test]
fn every_case_gives_its_report() {
    let update = std::env::var_os("BAYLEAF_UPDATE").is_some();
    let mut wrong = Vec::new();
    for (path, case) in cases() {
        let got = report(&fences(faulty(&case)));
        let told = fences(&case).into_iter().find(|fence| fence.info == "report").map(|fence| fence.text).unwrap_or_default();
        if got == told {
            continue;
        }
        if update {
            let head = faulty(&case).split("````report").next().unwrap().trim_end();
            let tail = &case[faulty(&case).len()..];
            fs::write(&path, format!("{head}\n\n````report\n{got}````\n{tail}")).unwrap();
        } else {
            wrong.push(format!("{}\n--- expected\n{told}\n--- got\n{got}", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_rule_has_a_case_that_finds_it_at_the_right_place() {
    let mut wrong = Vec::new();
    for rule in rules::ALL {
        let name = rule.name.name();
        let case = fs::read_to_string(file_of(rule)).unwrap();
        let report = fences(&case).into_iter().find(|fence| fence.info == "report").unwrap_or_else(|| panic!("{name}: no report")).text;
        let place = case.lines().find_map(|line| line.strip_prefix("Marked: ")).unwrap_or_else(|| panic!("{name}: no line `Marked:`"));
        let place = place.trim_matches('`');
        if place == "(the start)" {
            assert!(report.contains(&format!(":1:1, rule {name}\n")), "{name}");
        } else if !marked(&report, name)
            .is_some_and(|marked| marked == place || marked.strip_suffix('…').is_some_and(|cut| cut.len() > 40 && place.starts_with(cut)))
        {
            wrong.push(format!("{name}: {:?} is marked, not {place:?}", marked(&report, name)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is shown as right must not be wrong in another way.
#[test]
fn a_mended_guide_has_no_finding_at_all() {
    let mut wrong = Vec::new();
    for rule in rules::ALL {
        let report = report(&mended(&fs::read_to_string(file_of(rule)).unwrap()));
        if !report.ends_with(": 0 holds, 0 queries, 0 remarks\nexit status 0\n") {
            wrong.push(format!("{}\n{report}", rule.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn messages_are_phrases_and_name_no_types() {
    let shouted = ["i64", "u32", "String", "Option", "None", "DeTable", "expected one of", "E0"];
    for (path, case) in cases() {
        let report = fences(&case).into_iter().find(|fence| fence.info == "report").unwrap().text;
        for line in report.lines() {
            let Some(message) = ["  HOLD  ", "  QUERY  ", "  REMARK  "].iter().find_map(|word| line.split_once(word)).map(|(_, rest)| rest)
            else {
                continue;
            };
            let first = message.chars().next().unwrap();
            assert!(!first.is_uppercase() || message.starts_with("N·m"), "{}: {message}", path.display());
            assert!(!message.ends_with('.'), "{}: {message}", path.display());
            assert!(!shouted.iter().any(|word| message.contains(word)), "{}: {message}", path.display());
        }
    }
}
