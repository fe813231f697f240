//! `bayleaf draft`: a talk becomes a guide that can be read and says what it lacks; what is no talk is told and nothing is written.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn told(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

const TALK: &str = "WEBVTT\n\n00:00:05.000 --> 00:00:09.000\nFirst I unplug the two speaker plugs,\n\n00:00:09.000 --> 00:00:15.000\nthen take the four trim clips out and keep them, and the\npanel comes off.\n\n\
00:00:20.000 --> 00:00:26.000\nNow fit the bracket with four M6 bolts and torque them to nine newton metres.\n\n00:00:30.000 --> 00:00:36.000\nThe top rail goes on with two M8 bolts, good and snug.\n\n\
00:00:40.000 --> 00:00:44.000\nThen the panel goes back on.\n";

fn written(talk: &str, name: &str, more: &[&str]) -> (tempfile::TempDir, Output) {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join(name);
    fs::write(&file, talk).unwrap();
    let mut arguments = vec!["draft", file.to_str().unwrap(), "--to", "guides/job/guide.md"];
    arguments.extend(more);
    let output = bayleaf(home.path(), &arguments);
    (home, output)
}

#[test]
fn a_talk_becomes_a_guide_whose_review_tells_what_was_not_said() {
    let (home, output) = written(TALK, "talk.vtt", &["--title", "Fit the rail"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let said = told(&output);
    for part in ["no torque was said:\n  00:3", "bolt", "speaker plug disconnected", "so one was written", "review of the draft has"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let guide = fs::read_to_string(home.path().join("guides/job/guide.md")).unwrap();
    for part in [
        "title = \"Fit the rail\"",
        "at = \"00:05\"",
        "00:06 First I unplug",
        "; torque 9 N·m; for ",
        "[Disconnect the two speaker plugs](",
        "keep",
    ] {
        assert!(guide.contains(part), "{part}: {guide}");
    }
    // What was written can be read: no finding is about the form.
    let review = told(&bayleaf(home.path(), &["review", "--color", "never"]));
    for rule in [
        "type-wrong",
        "id-twice",
        "id-unknown",
        "key-unknown",
        "block-unreadable",
        "value-unreadable",
        "markup-shown",
        "heading-twice",
        "key-missing",
    ] {
        assert!(!review.contains(rule), "{rule}: {review}");
    }
    assert!(review.contains("torque-missing") && review.contains("left-open") && review.contains("heard-unsure"), "{review}");
    // A guide that is there is left alone.
    let again = bayleaf(home.path(), &["draft", home.path().join("talk.vtt").to_str().unwrap(), "--to", "guides/job/guide.md"]);
    assert_eq!(again.status.code(), Some(2));
    assert!(told(&again).contains("never takes the place of a guide"), "{}", told(&again));
    assert_eq!(fs::read_to_string(home.path().join("guides/job/guide.md")).unwrap(), guide);
}

#[test]
fn every_draft_of_the_open_set_can_be_read() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/narrations/open");
    let home = tempfile::tempdir().unwrap();
    let talks: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end != "json"))
        .collect();
    assert!(talks.len() >= 8);
    for talk in &talks {
        let output = bayleaf(home.path(), &["draft", talk.to_str().unwrap()]);
        assert_eq!(output.status.code(), Some(0), "{}: {}", talk.display(), told(&output));
    }
    let review = told(&bayleaf(home.path(), &["review", "--color", "never", "--as", "json"]));
    for rule in [
        "\"type-wrong\"",
        "\"id-twice\"",
        "\"id-unknown\"",
        "\"key-unknown\"",
        "\"block-unreadable\"",
        "\"value-unreadable\"",
        "\"markup-shown\"",
        "\"heading-twice\"",
        "\"key-missing\"",
        "\"unit-unknown\"",
    ] {
        assert!(!review.contains(&format!("\"rule\": {rule}")) && !review.contains(&format!("\"rule\":{rule}")), "{rule}");
    }
}

#[test]
fn what_is_no_talk_about_work_is_told_and_nothing_is_written() {
    let german = "Zuerst nehmen wir die Verkleidung ab und dann ziehen wir den Stecker ab. Danach kommt die neue Halterung an die Decke und wird mit vier Schrauben festgezogen, und am Ende wird alles wieder angesteckt.";
    let story = "The weather was fine that day and the children were happy. We walked along the river for a long time and talked about the year that had been, and about the one that was to come, until it was dark and we were hungry and cold and wanted to be at home again with a fire.";
    for (talk, why) in [
        ("", "it is empty"),
        (" \n\n", "it is empty"),
        ("WEBVTT\n\n00:01.000 --> 00:02.000\n\n", "its cues have no words"),
        (german, "does not read as English"),
        (story, "is no procedure"),
        ("zero\0byte", "zero bytes"),
    ] {
        let (home, output) = written(talk, "talk.txt", &[]);
        assert_eq!(output.status.code(), Some(2), "{why}: {}", told(&output));
        assert!(told(&output).contains(why), "{why}: {}", told(&output));
        assert!(!home.path().join("guides").exists(), "{why}");
    }
    let long = "take the four bolts out and keep them ".repeat(140_000);
    let (home, output) = written(&long, "talk.txt", &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("no talk about one job has more than 1024 kB"), "{}", told(&output));
    assert!(!home.path().join("guides").exists());
}

#[test]
fn odd_talks_are_read_and_what_is_odd_is_told() {
    let backwards = "WEBVTT\n\n00:10.000 --> 00:12.000\nTake the panel off.\n\n00:05.000 --> 00:07.000\nUnplug the connector.\n\n00:06.000 --> 00:08.000\n<v Ann><b>Take</b> the bracket out.\n";
    let (_home, output) = written(backwards, "talk.vtt", &[]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(
        told(&output).contains("the times run backwards at 00:05") && told(&output).contains("begin before the one before them ends"),
        "{}",
        told(&output)
    );
    // One endless sentence without any stop.
    let endless = "so first we take the panel off and then unplug the connector and undo the four bolts and ".repeat(30);
    let (_home, output) = written(&endless, "talk.txt", &[]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    // Two jobs in one talk.
    let two = "Take the panel off. Unplug the lamp. Fit the bracket with two screws. Plug the lamp in. The panel goes back on. Right, next job, the rear step. Unbolt the old step. Fit the new step with four bolts.";
    let (_home, output) = written(two, "talk.txt", &[]);
    assert!(told(&output).contains("another job seems to begin"), "{}", told(&output));
    // A place that is none of a guide, and a shop's words with a slip.
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("talk.txt"), "Take the panel off. Fit it.").unwrap();
    let talk = home.path().join("talk.txt");
    let output = bayleaf(home.path(), &["draft", talk.to_str().unwrap(), "--to", "guides/a/b/c.md"]);
    assert!(output.status.code() == Some(2) && told(&output).contains("is no place of a guide"), "{}", told(&output));
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/words.txt"), "[verb fly]\nfly ~\n").unwrap();
    let output = bayleaf(home.path(), &["draft", talk.to_str().unwrap()]);
    assert!(output.status.code() == Some(2) && told(&output).contains("line 1: `fly` is no verb"), "{}", told(&output));
}

#[test]
fn a_talk_comes_from_standard_input_a_sheet_stands_against_it_and_its_questions_are_printed() {
    let home = tempfile::tempdir().unwrap();
    let sheet =
        "1. Remove the panel.\n2. Fit the bracket with four M6 bolts. Tighten the bolts to 12 N·m.\n3. Apply sealant round the hole.\n";
    fs::write(home.path().join("sheet.md"), sheet).unwrap();
    let ask = home.path().join("ask.pdf");
    let sheet = home.path().join("sheet.md");
    let mut child = Command::new(env!("CARGO_BIN_EXE_bayleaf"))
        .arg("-C")
        .arg(home.path())
        .args(["draft", "-", "--to", "guides/job/guide.md", "--against", sheet.to_str().unwrap(), "--ask", ask.to_str().unwrap()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(TALK.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let guide = fs::read_to_string(home.path().join("guides/job/guide.md")).unwrap();
    assert!(guide.contains("gets 9 N·m here and 12 N·m on the sheet: which holds, and why?"), "{guide}");
    assert!(guide.contains("only the sheet tells “Apply sealant"), "{guide}");
    assert!(fs::read(&ask).unwrap().starts_with(b"%PDF"));
}

const WATCHED: &str = r#"+++
title = "Hang the lamp"
revision = "A"
video = "VIDEO"
final_check = ["It lights"]
+++

## Hang it & up

+++
at = "00:20"
minutes = 5
do = ["fit: \"Lamp\""]
+++

Hang the lamp.

## Try it

+++
at = "1:02:05"
minutes = 5
do = ["test: lamp"]
+++

Try the lamp.
"#;

fn published(video: &str, file: Option<&[u8]>) -> (tempfile::TempDir, Output) {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("guides/lamp");
    fs::create_dir_all(&folder).unwrap();
    fs::write(home.path().join("guides/shop.toml"), "name = \"Shop\"\n").unwrap();
    fs::write(folder.join("guide.md"), WATCHED.replace("VIDEO", video)).unwrap();
    if let Some(bytes) = file {
        fs::write(folder.join(video), bytes).unwrap();
    }
    let output = bayleaf(home.path(), &["publish", "--unreleased"]);
    (home, output)
}

#[test]
fn steps_lead_to_their_moment_in_the_video_and_its_chapters_are_written() {
    let (home, output) = published("https://videos.example/lamp?v=1", None);
    let read = |file: &str| {
        fs::read_to_string(home.path().join("site/guides/lamp").join(file)).unwrap_or_else(|_| panic!("{file}: {}", told(&output)))
    };
    let page = read("index.html");
    assert!(page.contains("href=\"https://videos.example/lamp?v=1#t=20\"") && page.contains("#t=3725"), "{page}");
    // A link and nothing that is loaded.
    assert!(!page.contains("<video") && !page.contains("<iframe") && !page.contains("src=\"https"), "{page}");
    assert!(read("checklist.html").contains("#t=20"));
    // The form of the file by WebVTT (W3C), chapters as cues; the list as lines that begin with their moment.
    let chapters = read("chapters.vtt");
    assert_eq!(chapters, "WEBVTT\n\n00:00:20.000 --> 01:02:05.000\n1. Hang it &amp; up\n\n01:02:05.000 --> 02:02:05.000\n2. Try it\n");
    let (_, cues) = bayleaf::narration::cues(&chapters).unwrap();
    assert_eq!(
        cues.iter().map(|cue| (cue.start, cue.text.as_str())).collect::<Vec<_>>(),
        [(20_000, "1. Hang it & up"), (3_725_000, "2. Try it")]
    );
    assert_eq!(read("chapters.txt"), "00:00 Before the first step\n00:20 1. Hang it & up\n1:02:05 2. Try it\n");
}

#[test]
fn a_video_beside_the_guide_plays_on_its_page_with_its_chapters() {
    let (home, _) = published("lamp.mp4", Some(b"no real video"));
    let folder = home.path().join("site/guides/lamp");
    let page = fs::read_to_string(folder.join("index.html")).unwrap();
    assert!(
        page.contains("<video controls preload=\"none\" src=\"lamp.mp4\"") && page.contains("kind=\"chapters\" src=\"chapters.vtt\""),
        "{page}"
    );
    assert_eq!(fs::read(folder.join("lamp.mp4")).unwrap(), b"no real video");
    let (home, output) = published("gone.mp4", None);
    assert!(told(&output).contains("the video cannot be shown"), "{}", told(&output));
    assert!(!fs::read_to_string(home.path().join("site/guides/lamp/index.html")).unwrap().contains("<video"));
}

#[test]
fn what_is_no_video_and_no_moment_is_held() {
    for video in ["javascript:alert(1)", "../lamp.mp4", "notes.txt", "https://x y", "data:video/mp4;base64,AAAA"] {
        let (home, _) = published(video, None);
        let review = told(&bayleaf(home.path(), &["review", "--color", "never"]));
        assert!(review.contains("type-wrong"), "{video}: {review}");
    }
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join("guides/lamp")).unwrap();
    fs::write(home.path().join("guides/lamp/guide.md"), WATCHED.replace("VIDEO", "https://videos.example/lamp").replace("00:20", "20"))
        .unwrap();
    let review = told(&bayleaf(home.path(), &["review", "--color", "never"]));
    assert!(review.contains("`20` is no moment"), "{review}");
}
