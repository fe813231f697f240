//! The reports of `bayleaf review` for programs and for reviewers, and the repairs it makes: the whole program on a
//! small shop with faults, which the browser tests use too.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

/// The shop with faults.
fn faulty() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faulty"), home.path());
    home
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap().flatten() {
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).current_dir(folder).args(arguments).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

const SHOP_ONLY: &str = "name = \"S\"\n";

fn small(guides: &[(&str, &str)]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), SHOP_ONLY).unwrap();
    for (name, text) in guides {
        fs::write(home.path().join("guides").join(name), text).unwrap();
    }
    home
}

#[test]
fn every_form_tells_the_same_findings_and_the_same_status() {
    let home = faulty();
    let text = bayleaf(home.path(), &["review", "--color", "never"]);
    let all: Vec<Output> = ["json", "sarif", "page"].iter().map(|form| bayleaf(home.path(), &["review", "--as", form])).collect();
    for output in &all {
        assert_eq!(output.status.code(), Some(1));
        assert_eq!(told(output), told(&text), "totals go to standard error in every form");
    }
    let report = json(&out(&all[0]));
    let findings = report["findings"].as_array().unwrap();
    assert!(findings.len() >= 10 && !report["accepted"].as_array().unwrap().is_empty());
    let log = json(&out(&all[1]));
    let run = &log["runs"][0];
    let results = run["results"].as_array().unwrap();
    assert_eq!(results.len(), findings.len() + report["accepted"].as_array().unwrap().len());
    let page = out(&all[2]);
    assert_eq!(page.matches("<article class=\"finding ").count(), findings.len());
    for (finding, result) in findings.iter().zip(results) {
        let (rule, place) = (finding["rule"].as_str().unwrap(), &finding["place"]);
        let at = format!("{}:{}:{}", place["path"].as_str().unwrap(), place["line"], place["column"]);
        assert!(out(&text).contains(&format!("  {}\n", finding["message"].as_str().unwrap())), "{finding}");
        assert!(out(&text).contains(&at), "{at}");
        assert!(page.contains(&format!("<span>{rule}</span> <span>{at}</span>")), "{at}");
        let region = &result["locations"][0]["physicalLocation"]["region"];
        assert_eq!(result["ruleId"], rule);
        for (here, there) in [
            ("line", "startLine"),
            ("column", "startColumn"),
            ("end_line", "endLine"),
            ("end_column", "endColumn"),
            ("offset", "byteOffset"),
            ("length", "byteLength"),
        ] {
            assert_eq!(place[here], region[there], "{here} of {finding}");
        }
        // The bytes that the report names are the ones between line and column.
        let bytes = fs::read(home.path().join(place["path"].as_str().unwrap())).unwrap();
        let offset = place["offset"].as_u64().unwrap() as usize;
        let before = String::from_utf8(bytes[..offset].to_vec()).unwrap();
        assert_eq!(before.matches('\n').count() as u64 + 1, place["line"].as_u64().unwrap());
        assert_eq!(before.rsplit('\n').next().unwrap().chars().count() as u64 + 1, place["column"].as_u64().unwrap());
        let file = String::from_utf8(bytes).unwrap();
        let line = file.lines().nth(place["line"].as_u64().unwrap() as usize - 1).unwrap();
        assert_eq!(finding["excerpt"][0], line);
        let level = match finding["severity"].as_str().unwrap() {
            "hold" => "error",
            "query" => "warning",
            _ => "note",
        };
        assert_eq!(result["level"], level);
        assert_eq!(run["tool"]["driver"]["rules"][result["ruleIndex"].as_u64().unwrap() as usize]["id"], rule);
    }
    for accepted in &results[findings.len()..] {
        let suppression = &accepted["suppressions"][0];
        assert_eq!(suppression["kind"], "inSource");
        assert!(suppression["justification"].as_str().unwrap().contains("printed like this"));
    }
}

#[test]
fn written_reports_name_no_machine_and_are_the_same_from_everywhere() {
    let home = faulty();
    let inside: Vec<String> = ["json", "sarif", "page"].iter().map(|form| out(&bayleaf(home.path(), &["review", "--as", form]))).collect();
    let elsewhere = tempfile::tempdir().unwrap();
    let folder = home.path().to_str().unwrap();
    for (form, text) in ["json", "sarif", "page"].iter().zip(&inside) {
        let to = elsewhere.path().join("report");
        let output = bayleaf(elsewhere.path(), &["-C", folder, "review", "--as", form, "--to", to.to_str().unwrap()]);
        assert_eq!((output.status.code(), out(&output).as_str()), (Some(1), ""));
        let written = fs::read_to_string(&to).unwrap();
        assert_eq!(&written, text, "{form}");
        assert!(!written.contains(folder), "{form} names the folder of this machine");
    }
    let plain = elsewhere.path().join("report.txt");
    bayleaf(home.path(), &["review", "--color", "always", "--to", plain.to_str().unwrap()]);
    let plain = fs::read_to_string(plain).unwrap();
    assert!(plain.contains("  HOLD  ") && !plain.contains('\u{1b}'), "a file gets no colours");
}

#[test]
fn a_report_is_written_whole_or_not_at_all_and_never_over_a_guide() {
    let home = faulty();
    let guide = home.path().join("guides/lamp/guide.md");
    let before = fs::read(&guide).unwrap();
    for to in ["guides/lamp/guide.md", "./guides/../guides/shop.toml", "guides", "nowhere/report.json"] {
        let output = bayleaf(home.path(), &["review", "--as", "json", "--to", to]);
        assert_eq!(output.status.code(), Some(2), "{to}: {}", told(&output));
        assert!(told(&output).contains("cannot write"), "{to}: {}", told(&output));
    }
    assert_eq!(fs::read(&guide).unwrap(), before);
    fs::write(home.path().join("report.json"), "old").unwrap();
    assert_eq!(bayleaf(home.path(), &["review", "--as", "json", "--to", "report.json"]).status.code(), Some(1));
    assert_eq!(json(&fs::read_to_string(home.path().join("report.json")).unwrap())["format"], "bayleaf-review");
    let names: BTreeSet<String> =
        fs::read_dir(home.path()).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    assert_eq!(names, BTreeSet::from(["guides".to_owned(), "report.json".to_owned()]), "nothing half-written is left");
    assert_eq!(bayleaf(home.path(), &["review", "--as", "xml"]).status.code(), Some(2));
}

#[test]
fn a_shop_without_findings_gets_reports_too() {
    let home = small(&[]);
    for form in ["json", "sarif", "page"] {
        assert_eq!(bayleaf(home.path(), &["review", "--as", form]).status.code(), Some(0), "{form}");
    }
    assert_eq!(json(&out(&bayleaf(home.path(), &["review", "--as", "json"])))["totals"]["guides"], 0);
    assert!(out(&bayleaf(home.path(), &["review", "--as", "page"])).contains("Nothing was found"));
}

#[test]
fn nothing_that_a_guide_says_runs_on_the_page() {
    let hostile = "+++\ntitle = \"</h2><script>alert(1)</script>\"\n\"</code><img src=x onerror=alert(2)>\" = 1\n[[part]]\nid = \"p\"\nname = \"<b>\"\n[[part]]\nid = \"p\"\nname = \"&amp;<i onclick='x()'>\"\n+++\n\n## S\n\n</script><style>*{color:red}</style> [x](spec:\"><svg/onload=alert(3)>)\n<!-- [](spec:`<u>`)\n";
    let home = small(&[("hostile.md", hostile)]);
    fs::write(home.path().join("guides/shop.toml"), "name = \"<script>alert(4)</script>\"\n").unwrap();
    let page = out(&bayleaf(home.path(), &["review", "--as", "page"]));
    let theme = |name: &str| bayleaf::theme::BUILT_IN.iter().find(|(file, _)| *file == name).unwrap().1;
    // Style and script are ours, byte for byte, and once each; without them no tag is left that an author wrote.
    let style = ["sheet.css", "code.css", "findings.css"].map(theme).join("\n");
    let parts: Vec<&str> = page.split(&format!("<style>{style}</style>")).collect();
    assert_eq!(parts.len(), 2);
    let rest = parts.concat();
    // Its phrases stand before it.
    let (before, script) = rest.split_once("<script>").unwrap();
    let (script, after) = script.split_once("</script>").unwrap();
    let phrases = script.strip_suffix(theme("findings.js")).expect("the script is the theme's");
    assert!(phrases.contains("window.bayleafPhrases = ") && !phrases.contains("alert("), "{phrases}");
    let parts = [before, after];
    let known = BTreeSet::from([
        "!doctype", "html", "head", "meta", "title", "body", "svg", "symbol", "path", "circle", "use", "a", "main", "header", "div", "p",
        "h1", "h2", "h3", "dl", "dt", "dd", "form", "fieldset", "legend", "label", "input", "span", "select", "option", "button",
        "section", "table", "thead", "tbody", "tr", "th", "td", "ul", "li", "article", "code", "pre", "b", "del", "ins", "mark", "details",
        "summary", "footer", "strong", "dialog", "kbd",
    ]);
    for tag in parts.concat().split('<').skip(1).map(|rest| rest.split('>').next().unwrap()) {
        let name = tag.trim_start_matches('/').split([' ', '\n', '/']).next().unwrap();
        assert!(known.contains(name), "<{tag}>");
        assert!(![" on", "javascript:", "src="].iter().any(|bad| tag.contains(bad)), "<{tag}>");
    }
    for shown in ["&lt;&#x2F;h2&gt;&lt;script&gt;", "&lt;script&gt;alert(4)", "onerror=alert(2)"] {
        let spelt = shown.replace("&#x2F;", "/");
        assert!(page.contains(shown) || page.contains(&spelt), "{shown} is shown as typed");
    }
    for text in [theme("findings.js"), &style] {
        assert!(!text.contains("</"), "what stands in the page may not close its own tag");
    }
}

#[test]
fn publishing_never_writes_the_page() {
    let home = faulty();
    assert_eq!(bayleaf(home.path(), &["publish", "--unreleased"]).status.code(), Some(1));
    let mut folders = vec![home.path().join("site")];
    let mut seen = 0;
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            seen += 1;
            let name = entry.file_name().to_string_lossy().into_owned();
            let text = String::from_utf8_lossy(&fs::read(&path).unwrap()).into_owned();
            assert!(!name.contains("findings"), "{}", path.display());
            assert!(!text.contains("on-findings") && !text.contains("class=\"finding "), "{}", path.display());
            // The reason of an acceptance is for reviewers.
            assert!(!text.contains("printed like this on the cable"), "{}", path.display());
        }
    }
    assert!(seen > 50, "only {seen} files were published");
}

#[test]
fn a_guide_of_many_lines_and_findings_is_written_quickly_and_folded() {
    let mut text = String::from("+++\ntitle = \"Long\"\n+++\n\n## Step\n\n");
    for line in 0..5000 {
        text.push_str(if line % 10 == 0 { "Turn <b>it.\n" } else { "Turn the switch.\n" });
    }
    let home = small(&[("long.md", &text)]);
    let start = std::time::Instant::now();
    let page = out(&bayleaf(home.path(), &["review", "--as", "page"]));
    assert!(page.matches("<article").count() >= 500);
    assert!(page.len() < 4 << 20, "{} bytes", page.len());
    assert!(start.elapsed().as_secs() < 30, "even unoptimised");
}

fn mended(home: &Path) -> Output {
    bayleaf(home, &["review", "--mend", "--color", "never"])
}

#[test]
fn certain_repairs_are_made_told_and_the_rest_is_left() {
    let home = faulty();
    let read = |path: &str| fs::read_to_string(home.path().join("guides").join(path)).unwrap();
    let (seat, lamp, shop) = (read("swivel-seat/guide.md"), read("lamp/guide.md"), read("shop.toml"));
    let output = mended(home.path());
    assert_eq!(output.status.code(), Some(1), "holds are left");
    assert!(told(&output).contains("mended guides/lamp/guide.md: 1 repair\n"), "{}", told(&output));
    assert!(told(&output).contains("mended guides/swivel-seat/guide.md: 3 repairs\n"), "{}", told(&output));
    let wanted = seat
        .replace("revison ", "revision ")
        .replace("minuts ", "minutes ")
        .replace("tighten the bolts to 45 N·m", "tighten the bolts to [](spec:rail-bolt)");
    assert_eq!(read("swivel-seat/guide.md"), wanted);
    assert_eq!(read("lamp/guide.md"), lamp.replace("on the panel\"\n", "on the panel\"\n+++\n"));
    assert_eq!(read("shop.toml"), shop, "only guides are mended");
    assert!(!out(&output).contains("--mend") && out(&output).contains("base-onn"), "{}", out(&output));
    assert!(told(&mended(home.path())).contains("nothing to mend"));
    assert_eq!(read("swivel-seat/guide.md"), wanted);
}

#[test]
fn only_the_guides_that_are_named_are_mended() {
    let home = faulty();
    let lamp = fs::read(home.path().join("guides/lamp/guide.md")).unwrap();
    bayleaf(home.path(), &["review", "--mend", "swivel-seat"]);
    assert_eq!(fs::read(home.path().join("guides/lamp/guide.md")).unwrap(), lamp);
    assert!(!fs::read_to_string(home.path().join("guides/swivel-seat/guide.md")).unwrap().contains("revison"));
}

const SLIP: &str = "+++\ntitle = \"x\"\nrevison = \"A\"\n+++\n\n## Step\n\n+++\nminuts = 5\n+++\n\nWords.\n";

#[test]
fn mark_line_ends_and_permissions_stay_and_accepted_findings_too() {
    let crlf = format!("\u{feff}{}", SLIP.replace('\n', "\r\n"));
    let value = "+++\ntitle = \"x\"\n[[spec]]\nid = \"a\"\ntorque = \"45 N·m\"\n[[accept]]\nrule = \"value-in-prose\"\nreason = \"quoted\"\n+++\n\n## Step\n\n+++\nspecs = [\"a\"]\n+++\n\nTo 45 N·m.\n";
    let home = small(&[("crlf.md", &crlf), ("accepted.md", value)]);
    let path = home.path().join("guides/crlf.md");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    }
    let output = mended(home.path());
    assert_eq!(fs::read_to_string(&path).unwrap(), crlf.replace("revison", "revision").replace("minuts", "minutes"));
    assert_eq!(fs::read_to_string(home.path().join("guides/accepted.md")).unwrap(), value, "{}", told(&output));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
    }
}

#[cfg(unix)]
#[test]
fn a_read_only_guide_is_told_and_the_others_are_mended() {
    use std::os::unix::fs::PermissionsExt;
    let home = small(&[("a.md", SLIP), ("b.md", SLIP)]);
    let locked = home.path().join("guides/a.md");
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o444)).unwrap();
    let output = mended(home.path());
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(told(&output).contains("cannot mend") && told(&output).contains("it is read-only"), "{}", told(&output));
    assert_eq!(fs::read_to_string(&locked).unwrap(), SLIP);
    assert!(fs::read_to_string(home.path().join("guides/b.md")).unwrap().contains("minutes"));
    assert!(out(&output).contains("guides/a.md:3:1"), "what is left is still reported");
    let names: Vec<PathBuf> = fs::read_dir(home.path().join("guides")).unwrap().flatten().map(|entry| entry.path()).collect();
    assert_eq!(names.len(), 3, "{names:?}");
}

#[test]
fn a_file_that_is_not_text_is_not_touched() {
    let home = small(&[]);
    let bytes = [SLIP.as_bytes(), b"Gr\xf6\xdfe\n"].concat();
    fs::write(home.path().join("guides/latin.md"), &bytes).unwrap();
    let output = mended(home.path());
    assert_eq!(fs::read(home.path().join("guides/latin.md")).unwrap(), bytes);
    assert!(out(&output).contains("text-unreadable"));
}

#[test]
fn fingerprints_stay_when_lines_move_and_tell_equals_apart() {
    let prints = |text: &str| {
        let home = small(&[("a.md", text)]);
        let log = json(&out(&bayleaf(home.path(), &["review", "--as", "sarif"])));
        let of = |result: &Value| result["partialFingerprints"]["bayleafFinding/v1"].as_str().unwrap().to_owned();
        log["runs"][0]["results"].as_array().unwrap().iter().map(of).collect::<Vec<_>>()
    };
    let text = "+++\ntitle = \"x\"\n+++\n\n## Step\n\nTurn <b>it.\n\nTurn <b>it.\n";
    let before = prints(text);
    assert_eq!(before.iter().collect::<BTreeSet<_>>().len(), before.len());
    assert_eq!(prints(&text.replace("## Step", "Some words.\n\n## Step")), before);
    assert_ne!(prints(&text.replacen("Turn <b>it", "Lift <b>it", 1)), before);
}
