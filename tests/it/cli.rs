//! The command line as a user meets it: help, exit status, and bad input that loses nothing.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn shop(guides: &[(&str, &[u8])]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    for (name, bytes) in guides {
        let path = home.path().join("guides").join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    home
}

fn told(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[test]
fn every_command_has_help_with_an_example() {
    let home = shop(&[]);
    for arguments in [&["--help"][..], &["review", "--help"], &["publish", "--help"], &["handbook", "--help"]] {
        let output = bayleaf(home.path(), arguments);
        assert_eq!(output.status.code(), Some(0));
        assert!(
            ["review", "publish", "handbook"].iter().any(|command| told(&output).contains(&format!("bayleaf {command}"))),
            "{arguments:?}"
        );
        assert!(told(&output).contains("Example"), "{arguments:?}");
    }
    assert_eq!(bayleaf(home.path(), &["revew"]).status.code(), Some(2));
}

#[test]
fn a_rule_is_explained_and_a_misspelt_one_is_guessed() {
    let home = shop(&[]);
    let output = bayleaf(home.path(), &["review", "--rule", "torque-missing"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(told(&output).contains("never proposes a torque"));
    let output = bayleaf(home.path(), &["review", "--rule", "torque-mising"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("did you mean `torque-missing`?"));
}

#[test]
fn exit_status_tells_clean_findings_and_failure() {
    let clean = "+++\ntitle = \"Try it\"\nrevision = \"A\"\nissued = 2026-01-02\nfinal_check = [\"It works\"]\n+++\n\n## Try it\n\nTurn the switch.\n";
    let home = shop(&[("a.md", clean.as_bytes())]);
    let output = bayleaf(home.path(), &["review"]);
    assert_eq!(output.status.code(), Some(0), "a query alone does not fail: {}", told(&output));
    assert!(told(&output).contains("1 query"), "{}", told(&output));
    assert_eq!(bayleaf(home.path(), &["review", "--strict"]).status.code(), Some(1));
    assert_eq!(bayleaf(home.path(), &["review", "b"]).status.code(), Some(2));
    assert_eq!(bayleaf(&home.path().join("nowhere"), &["review"]).status.code(), Some(2));
}

#[test]
fn bad_files_are_findings_and_the_rest_is_still_read() {
    let large = format!("+++\ntitle = \"Large\"\n+++\n\n## Step\n\n{}\n", "Turn the switch. ".repeat(10_000_000 / 17));
    let many = format!("+++\ntitle = \"Many\"\n+++\n\n## Step\n\n{}", "Turn <b>it</b> and [see](spec:none).\n".repeat(20_000));
    let home = shop(&[
        ("bom.md", b"\xef\xbb\xbf+++\ntitle = \"With a mark\"\n+++\n\n## Step\n\nWords.\n"),
        ("crlf.md", b"+++\r\ntitle = \"x\"\r\ntorqe = 5\r\n+++\r\n\r\n## Step\r\n\r\nWords.\r\n"),
        ("empty.md", b""),
        ("latin.md", b"+++\ntitle = \"Gr\xf6\xdfe\"\n+++\n\n## Step\n\nWords.\n"),
        ("large.md", large.as_bytes()),
        ("nosteps.md", b"+++\ntitle = \"x\"\n+++\n\nWords.\n"),
        ("several.md", b"+++\ntitle = \"x\"\na = \nb = 5 5\n[[part]]\nid = \"p\"\n+++\n\n## Step\n\n+++\nminuts = 5\n+++\n\nWords.\n"),
        ("many.md", many.as_bytes()),
        ("two/guide.md", b"+++\ntitle = \"x\"\n+++\n\n## Step\n\nWords.\n"),
        ("two.md", b"+++\ntitle = \"x\"\n+++\n\n## Step\n\nWords.\n"),
    ]);
    let output = bayleaf(home.path(), &["review"]);
    let told = told(&output);
    // A guide that is too large is not read, which is told; the others are.
    assert_eq!(output.status.code(), Some(2), "{told}");
    for part in [
        "large.md: it is larger than 1 MB",
        "guides/crlf.md:3:1",
        "guides/empty.md:1:1",
        "the file is empty",
        "guides/latin.md:2:12",
        "guides/several.md:4:",
        "has no `name`",
        "guides/several.md:12:1",
        "another guide would be published as `two` too",
        "guides/nosteps.md",
        "the guide has no steps",
        " 40000 × QUERY  markup-shown: ",
        " 20000 × HOLD  id-unknown: ",
    ] {
        assert!(told.contains(part), "{part} is not told:\n{told}");
    }
    assert!(!told.contains("guides/bom.md:1:1: ") && !told.contains("panicked"), "{told}");
    // The mark in front does not hide the block behind it.
    assert!(!told.split("\n\n").any(|finding| finding.contains("guides/bom.md") && finding.contains("no block of facts")), "{told}");
}

#[cfg(unix)]
#[test]
fn what_cannot_be_written_is_told_and_nothing_is_half_written() {
    let home = shop(&[("a.md", b"+++\ntitle = \"x\"\n+++\n\n## Step\n\nWords.\n")]);
    fs::write(home.path().join("file"), "mine").unwrap();
    fs::write(home.path().join("guides/shop.toml"), "name = \"Shop\"\n").unwrap();
    for to in ["file", "file/below", "/proc/bayleaf"] {
        let output = bayleaf(home.path(), &["publish", "--to", to]);
        assert_eq!(output.status.code(), Some(2), "{to}: {}", told(&output));
        assert!(told(&output).contains("cannot"), "{to}: {}", told(&output));
    }
    assert_eq!(fs::read_to_string(home.path().join("file")).unwrap(), "mine");
    let mut names: Vec<String> =
        fs::read_dir(home.path()).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    assert_eq!(names, ["file", "guides"]);
}

#[test]
fn a_closed_pipe_is_no_failure() {
    let home = shop(&[("a.md", b"")]);
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(home.path())
        .arg("review")
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"));
}
