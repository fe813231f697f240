//! `bayleaf start`: an empty folder becomes a shop whose guide reviews clean, a list becomes the skeleton of a guide, and whoever has no
//! guides is told what to do.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn told(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[test]
fn an_empty_folder_becomes_a_shop_that_reviews_clean_and_publishes() {
    let home = tempfile::tempdir().unwrap();
    let started = bayleaf(home.path(), &["start"]);
    assert_eq!(started.status.code(), Some(0), "{}", told(&started));
    assert!(told(&started).contains("next: bayleaf review"), "{}", told(&started));
    let reviewed = bayleaf(home.path(), &["review", "--strict"]);
    assert_eq!(reviewed.status.code(), Some(0), "{}", told(&reviewed));
    assert!(told(&reviewed).contains("1 guide: 0 holds, 0 queries, 0 remarks"), "{}", told(&reviewed));
    assert_eq!(bayleaf(home.path(), &["publish", "--no-sheets"]).status.code(), Some(0));
    // Each fact of the files has a line of explanation in its block.
    let guide = fs::read_to_string(home.path().join("guides/first-aid-box/guide.md")).unwrap();
    assert!(guide.lines().filter(|line| line.starts_with('#')).count() > 12);
    // Nothing is written over.
    fs::write(home.path().join("guides/shop.toml"), "name = \"Mine\"\n").unwrap();
    let again = bayleaf(home.path(), &["start"]);
    assert_eq!(again.status.code(), Some(2), "{}", told(&again));
    assert!(told(&again).contains("start guide NAME"));
    assert_eq!(fs::read_to_string(home.path().join("guides/shop.toml")).unwrap(), "name = \"Mine\"\n");
}

#[test]
fn a_list_becomes_a_skeleton_with_what_it_says_and_questions_for_the_rest() {
    let home = tempfile::tempdir().unwrap();
    bayleaf(home.path(), &["start"]);
    let list = "Qty;Description;Part no.\n1;Side step \"long\";S-1\n4;Hex bolt M8x25 8.8;S-2\n4;Washer M8;S-3\n;Lock nut M8;S-4\n1;;S-5\n";
    fs::write(home.path().join("kit.csv"), list).unwrap();
    let file = home.path().join("kit.csv");
    let made = bayleaf(home.path(), &["start", "guide", "side-step", "--title", "Fit the side step", "--list", file.to_str().unwrap()]);
    assert_eq!(made.status.code(), Some(1), "a line was left out: {}", told(&made));
    assert!(
        told(&made).contains("line 6 of the list was left out") && told(&made).contains("1 part and 3 sorts of hardware"),
        "{}",
        told(&made)
    );
    let text = fs::read_to_string(home.path().join("guides/side-step/guide.md")).unwrap();
    for part in [
        "name = \"Side step \\\"long\\\"\"",
        "number = \"S-1\"",
        "thread = \"M8\"",
        "length = \"25 mm\"",
        "class = \"8.8\"",
        "supplied = 4",
        "supplied = \"untold: supplier\"",
        "fits = [\"my-van\"]",
    ] {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
    assert!(!text.contains("N·m"), "a torque is never made up");
    let reviewed = told(&bayleaf(home.path(), &["review", "side-step"]));
    for wrong in [
        "block-unreadable",
        "key-unknown",
        "type-wrong",
        "id-unknown",
        "id-twice",
        "kit-left-over",
        "part-never-fitted",
        "torque-missing",
        "hardware-short",
    ] {
        assert!(!reviewed.contains(wrong), "{wrong}: {reviewed}");
    }
    let questions = told(&bayleaf(home.path(), &["review", "side-step", "--as", "questions"]));
    assert!(
        questions.contains("How many of “Lock nut M8” are supplied") && questions.contains("torque of “Hex bolt M8x25 8.8”"),
        "{questions}"
    );
    // A guide that is there stays as it is.
    let again = bayleaf(home.path(), &["start", "guide", "side-step"]);
    assert_eq!(again.status.code(), Some(2), "{}", told(&again));
    assert_eq!(fs::read_to_string(home.path().join("guides/side-step/guide.md")).unwrap(), text);
}

#[test]
fn a_pasted_list_comes_in_by_standard_input_and_a_bad_name_is_refused() {
    let home = tempfile::tempdir().unwrap();
    bayleaf(home.path(), &["start"]);
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(home.path())
        .args(["start", "guide", "lamp", "--list", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all("2 x Roof lamp\n4x Screw M5x16\nCable\n".as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let text = fs::read_to_string(home.path().join("guides/lamp/guide.md")).unwrap();
    assert!(text.contains("title = \"Fit: lamp\"") && text.contains("name = \"Cable\"\nsupplied = \"untold: supplier\""), "{text}");
    for name in ["Roof Lamp", "../lamp", "", "ä"] {
        let output = bayleaf(home.path(), &["start", "guide", name]);
        assert_eq!(output.status.code(), Some(2), "{name}: {}", told(&output));
    }
    fs::write(home.path().join("kit.bin"), [0xff, 0xfe, 0x00]).unwrap();
    let output = bayleaf(home.path(), &["start", "guide", "bin", "--list", home.path().join("kit.bin").to_str().unwrap()]);
    assert!(output.status.code() == Some(2) && !home.path().join("guides/bin").exists(), "{}", told(&output));
}

#[test]
fn whoever_has_no_guides_is_told_what_to_do() {
    let home = tempfile::tempdir().unwrap();
    for arguments in [&["review"][..], &["publish"], &["print", "x"], &["start", "guide", "x"]] {
        let output = bayleaf(home.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(told(&output).contains("bayleaf start"), "{arguments:?}: {}", told(&output));
    }
    assert!(fs::read_dir(home.path()).unwrap().next().is_none(), "and nothing is written");
    let mut preview = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(home.path())
        .args(["preview", "--port", "0"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let start = Instant::now();
    while preview.try_wait().unwrap().is_none() && start.elapsed() < Duration::from_secs(20) {
        std::thread::sleep(Duration::from_millis(50));
    }
    let _ = preview.kill();
    let output = preview.wait_with_output().unwrap();
    assert!(
        output.status.code() == Some(2) && told(&output).contains("bayleaf start") && !told(&output).contains("ready"),
        "{}",
        told(&output)
    );
    fs::create_dir(home.path().join("guides")).unwrap();
    assert!(told(&bayleaf(home.path(), &["review"])).contains("bayleaf start guide NAME"));
}
