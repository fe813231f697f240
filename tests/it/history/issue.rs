//! `bayleaf issue` from the command line: what may be issued, what is kept, what is noticed afterwards; and states of the version control.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::{SHOP, bayleaf, put, told};

/// A guide with a torque, at a revision, with what its changes say.
pub(crate) fn guide(revision: &str, issued: &str, torque: &str, changes: &[(&str, &str, &str)]) -> String {
    let changes: String =
        changes.iter().map(|(revision, day, what)| format!("\n[[change]]\nrevision = \"{revision}\"\nissued = {day}\n{what}\n")).collect();
    format!(
        "+++\ntitle = \"Fit the bracket\"\ndocument = \"TH-1\"\nrevision = \"{revision}\"\nissued = {issued}\nfits = [\"marlin-3500\"]\nfinal_check = [\"The bracket does not move\"]\n\
         sources = {{ sheet = \"Fitting sheet FS-1, issue 1\" }}\ntools = [\"torque-wrench-60\", \"sockets-small\"]\n\n[[item]]\nid = \"bracket\"\nname = \"Bracket\"\nopen_at_start = true\n\n\
         [[hardware]]\nid = \"bracket-bolt\"\nname = \"Bracket bolt\"\nthread = \"M8 x 1.25\"\nclass = \"8.8\"\ndrive = \"13 mm hex\"\nsupplied = 4\n\n\
         [[spec]]\nid = \"bracket-bolt\"\nfor = \"bracket-bolt\"\ntorque = \"{torque}\"\nsource = \"sheet\"\npattern = \"crosswise\"\n{changes}+++\n\n\
         ![The bracket on its four bolts](bracket.svg)\n\n## Fit the bracket\n\n+++\nid = \"bolt-it\"\ndo = [{{ fit = \"bracket\", hardware = \"4 x bracket-bolt\", torque = \"bracket-bolt\" }}]\n+++\n\nBolt the bracket down.\n"
    )
}

const DRAWING: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 30\"><path d=\"M1 1h9v9z\"/></svg>\n";
pub(crate) const A: (&str, &str, &str) = ("A", "2026-01-02", "what = \"First issue\"");
pub(crate) const B: (&str, &str, &str) = ("B", "2026-03-02", "what = \"Torque of the bracket bolts\"");

pub(crate) fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    // A record names its wrench by the number of the shop.
    let numbered = SHOP.replace("id = \"torque-wrench-60\"\n", "id = \"torque-wrench-60\"\nnumber = \"TW-03\"\n");
    put(home.path(), "shop.toml", &numbered);
    put(home.path(), "bracket/bracket.svg", DRAWING);
    put(home.path(), "bracket/guide.md", &guide("A", "2026-01-02", "22.5 N·m", &[]));
    home
}

/// Issues A with 22.5 N·m and B with 24 N·m.
pub(crate) fn two_issues() -> tempfile::TempDir {
    let home = home();
    let issue = || bayleaf(home.path(), &["issue", "bracket"]);
    assert_eq!(issue().status.code(), Some(0), "{}", told(&issue()));
    put(home.path(), "bracket/guide.md", &guide("B", "2026-03-02", "24 N·m", &[A, B]));
    let output = issue();
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    home
}

fn review(home: &Path) -> String {
    told(&bayleaf(home, &["review"]))
}

#[test]
fn what_is_issued_is_kept_small_and_stays() {
    let home = two_issues();
    let folder = home.path().join("guides/bracket/issued");
    let text = fs::read_to_string(folder.join("A.issue")).unwrap();
    assert!(text.contains("22.5 N·m") && text.contains("torque-wrench-60") && !text.contains("practice sheet 9"), "{text}");
    assert!(text.len() < 3000, "{}", text.len());
    let pictures: Vec<_> = fs::read_dir(folder.join("pictures")).unwrap().flatten().collect();
    assert_eq!(pictures.len(), 1, "a picture of two issues is kept once");
    // Once more: nothing is written, nothing is wrong.
    let output = bayleaf(home.path(), &["issue", "bracket"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(told(&output).contains("is kept already in issued/B.issue"), "{}", told(&output));
    assert!(!review(home.path()).contains(", rule "), "{}", review(home.path()));
    assert_eq!(fs::read_to_string(folder.join("A.issue")).unwrap(), text);
}

#[test]
fn what_may_not_be_issued_is_refused_with_the_reason() {
    let home = two_issues();
    let with = |text: String, reason: &str| {
        put(home.path(), "bracket/guide.md", &text);
        let output = bayleaf(home.path(), &["issue", "bracket"]);
        assert_eq!(output.status.code(), Some(1), "{reason}: {}", told(&output));
        assert!(told(&output).contains(reason), "{reason}: {}", told(&output));
        assert_eq!(fs::read_dir(home.path().join("guides/bracket/issued")).unwrap().count(), 3);
    };
    let c = |what| ("C", "2026-05-04", what);
    with(guide("B", "2026-03-02", "26 N·m", &[A, B]), ", rule revision-not-raised");
    with(guide("C", "2026-05-04", "26 N·m", &[A, B, c("what = \"Pictures redone\"")]), ", rule change-untold");
    with(
        guide("C", "2026-02-04", "26 N·m", &[A, B, ("C", "2026-02-04", "what = \"Torque of the bracket bolts\"")]),
        ", rule revision-contradicts",
    );
    with(
        guide("C", "2026-05-04", "26 N·m", &[A, B, c("what = \"Torque of the bracket bolts\"")])
            .replace(", torque = \"bracket-bolt\" }", " }"),
        ", rule torque-missing",
    );
    with(
        guide("C", "2026-01-01", "26 N·m", &[])
            .replace("[[spec]]", "[[change]]\nrevision = \"C\"\nwhat = \"Torque of the bracket bolts\"\n\n[[spec]]"),
        "lies before that of revision B",
    );
    put(home.path(), "bracket/guide.md", &guide("B", "2026-03-02", "26 N·m", &[A, B]));
    let coloured = bayleaf(home.path(), &["issue", "bracket", "--color", "always"]);
    assert!(told(&coloured).contains("\u{1b}[1;31mHOLD\u{1b}[0m") && !told(&coloured).contains("[U+"), "{}", told(&coloured));
    with(guide("", "2026-05-04", "26 N·m", &[]).replace("revision = \"\"\n", ""), ", rule revision-missing");
    // What is told in other ways is told.
    for what in [
        "what = \"Looked at again\"\nabout = [\"bracket-bolt\"]",
        "what = \"Now 26 N·m\"",
        "what = \"New\"\nanew = true",
        "what = \"More\"\nabout = [\"bolt-it\"]",
    ] {
        put(home.path(), "bracket/guide.md", &guide("C", "2026-05-04", "26 N·m", &[A, B, c(what)]));
        let output = bayleaf(home.path(), &["issue", "bracket", "--check"]);
        assert_eq!(output.status.code(), Some(0), "{what}: {}", told(&output));
    }
    assert!(!home.path().join("guides/bracket/issued/C.issue").exists());
}

#[test]
fn near_misses_of_the_rules_on_revisions_are_silent() {
    let home = two_issues();
    let shop = |text: &str| put(home.path(), "shop.toml", text);
    let silent = |what: &str| assert!(!review(home.path()).contains('['), "{what}: {}", review(home.path()));
    // Calibrated again, a remark in the shop file, a comment in the guide, another line break in its words: the same text.
    shop(&SHOP.replace("id = \"torque-wrench-60\"\n", "id = \"torque-wrench-60\"\nnumber = \"TW-9\"\ncalibrated_until = 2029-01-01\n"));
    silent("a tool's state");
    shop(&format!("# A remark.\n{SHOP}"));
    silent("a remark in the shop file");
    shop(SHOP);
    let text = guide("B", "2026-03-02", "24 N·m", &[A, B]);
    put(home.path(), "bracket/guide.md", &text.replace("[[spec]]", "# looked up twice\n[[spec]]"));
    silent("a comment");
    put(home.path(), "bracket/guide.md", &text.replace("supplied = 4", "supplied  =  4"));
    silent("spaces");
    // A new revision with new words and pictures needs no entry about them.
    let c = ("C", "2026-05-04", "what = \"Words made clearer\"");
    put(
        home.path(),
        "bracket/guide.md",
        &guide("C", "2026-05-04", "24 N·m", &[A, B, c]).replace("Bolt the bracket down.", "Bolt the bracket to the rail."),
    );
    silent("words");
}

#[test]
fn faults_in_what_was_issued_are_told_and_lose_nothing() {
    let home = two_issues();
    let file = home.path().join("guides/bracket/issued/A.issue");
    let text = fs::read_to_string(&file).unwrap();
    for (broken, reason) in [
        (text.replace("22.5", "23.5"), "its seal does not hold"),
        (text[..text.len() / 2].to_owned(), "its seal does not hold"),
        (String::new(), "no issued revision"),
        (text.replace("bayleaf issue 1", "bayleaf issue 7"), "use a newer bayleaf"),
    ] {
        fs::write(&file, broken).unwrap();
        let told = review(home.path());
        assert!(
            crate::remarks(&told, "QUERY", "issued-damaged") == 1 && told.contains("  QUERY  issued/A.issue") && told.contains(reason),
            "{told}"
        );
        let output = bayleaf(home.path(), &["compare", "bracket@A"]);
        assert_eq!(output.status.code(), Some(2));
        assert!(super::told(&output).contains("A.issue cannot be used"), "{}", super::told(&output));
    }
    // With line ends of another system it is the same file.
    fs::write(&file, text.replace('\n', "\r\n")).unwrap();
    assert!(!review(home.path()).contains('['), "{}", review(home.path()));
    let pictures = home.path().join("guides/bracket/issued/pictures");
    fs::rename(&pictures, home.path().join("away")).unwrap();
    assert!(review(home.path()).contains("its pictures are not in issued/pictures: bracket.svg"), "{}", review(home.path()));
}

#[test]
fn two_revisions_are_compared_in_three_forms() {
    let home = two_issues();
    let output = bayleaf(home.path(), &["compare", "bracket@A", "bracket@B"]);
    assert_eq!(output.status.code(), Some(1));
    let text = told(&output);
    for words in ["22.5 N·m", "24 N·m", "(+1.5 N·m)", "Step 1, Fit the bracket", "its torque sheet", "should be looked at again"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert_eq!(bayleaf(home.path(), &["compare", "bracket@B"]).status.code(), Some(0));
    let json: serde_json::Value = serde_json::from_slice(&bayleaf(home.path(), &["compare", "bracket@A", "--as", "json"]).stdout).unwrap();
    let torque = json["guides"][0]["differences"].as_array().unwrap().iter().find(|one| one["sort"] == "torque").unwrap();
    assert_eq!(
        (torque["step"].as_str(), torque["by"].as_str(), torque["look_again"].as_bool()),
        (Some("bolt-it"), Some("+1.5 N·m"), Some(true))
    );
    let output = bayleaf(home.path(), &["compare", "bracket@A", "--as", "page", "--to", "compared.html"]);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let page = fs::read_to_string(home.path().join("compared.html")).unwrap();
    assert!(page.contains("<del>22.5 N·m") && page.contains("<ins>24 N·m") && page.contains("default-src 'none'"), "{page}");
    for (state, reason) in
        [("bracket@Q", "there is no revision `Q` of bracket (issued were A, B)"), ("brackt@A", "did you mean `bracket`?")]
    {
        let output = bayleaf(home.path(), &["compare", state]);
        assert_eq!(output.status.code(), Some(2));
        assert!(told(&output).contains(reason), "{}", told(&output));
    }
}

#[test]
fn states_of_the_version_control_are_compared_and_missing_ones_told() {
    let home = home();
    let git = |folder: &Path, arguments: &[&str]| {
        let name =
            ["-c", "user.name=Test", "-c", "user.email=test@shop.example", "-c", "init.defaultBranch=main", "-c", "commit.gpgsign=false"];
        let output = Command::new("git").arg("-C").arg(folder).args(name).args(arguments).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    };
    let output = bayleaf(home.path(), &["compare", "bracket@HEAD"]);
    assert!(told(&output).contains("under no version control"), "{}", told(&output));
    let output = bayleaf(home.path(), &["compare", "bracket"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("nothing was issued of bracket yet"), "{}", told(&output));
    git(home.path(), &["init", "-q"]);
    git(home.path(), &["add", "."]);
    git(home.path(), &["commit", "-qm", "first"]);
    put(home.path(), "bracket/guide.md", &guide("B", "2026-03-02", "24 N·m", &[A, B]));
    let output = bayleaf(home.path(), &["compare", "bracket@HEAD"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(told(&output).contains("(+1.5 N·m)") && !told(&output).contains("picture"), "{}", told(&output));
    git(home.path(), &["commit", "-qam", "second"]);
    assert_eq!(bayleaf(home.path(), &["compare", "bracket@HEAD~1"]).status.code(), Some(1));
    assert!(told(&bayleaf(home.path(), &["compare", "bracket@HEAD~5"])).contains("does not know `HEAD~5`"));
    assert!(told(&bayleaf(home.path(), &["compare", "bracket@--help"])).contains("does not know"));
    let shallow = tempfile::tempdir().unwrap();
    let from = format!("file://{}", home.path().display());
    git(shallow.path(), &["clone", "-q", "--depth", "1", &from, "copy"]);
    let output = bayleaf(&shallow.path().join("copy"), &["compare", "bracket@HEAD~1"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("shallow"), "{}", told(&output));
    // Two folders, guide by guide.
    put(home.path(), "lamp.md", &super::guide("lamp", 2));
    let output = bayleaf(home.path(), &["compare", shallow.path().join("copy").to_str().unwrap(), "."]);
    assert_eq!(output.status.code(), Some(1));
    assert!(told(&output).contains("new: lamp"), "{}", told(&output));
}
