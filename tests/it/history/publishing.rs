//! What publishing never loses: an empty folder, a shop file that is gone or broken, and many held guides leave the site as it was.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::{bayleaf, guide, put, shop, told};

/// Every file of a folder.
fn tree(base: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut folders = vec![base.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                files.insert(path.strip_prefix(base).unwrap().to_string_lossy().into_owned(), fs::read(&path).unwrap());
            }
        }
    }
    files
}

const NAMES: [&str; 5] = ["one", "two", "three", "four", "five"];

#[test]
fn what_is_no_shop_leaves_the_site_as_it_was() {
    let home = shop(&NAMES);
    let publish = |more: &[&str]| bayleaf(home.path(), &[&["publish", "--no-sheets"], more].concat());
    assert_eq!(publish(&[]).status.code(), Some(0), "{}", told(&publish(&[])));
    let before = tree(&home.path().join("site"));
    let file = home.path().join("guides/shop.toml");
    let text = fs::read(&file).unwrap();
    fs::remove_file(&file).unwrap();
    for more in [&[][..], &["--unreleased"]] {
        let output = publish(more);
        assert_eq!(output.status.code(), Some(2));
        assert!(told(&output).contains("shop.toml") && told(&output).contains("not there"), "{}", told(&output));
    }
    for broken in [&b"name = \"Shop\nunits"[..], b"name = \"\xff\xfe\""] {
        fs::write(&file, broken).unwrap();
        let output = publish(&["--unreleased"]);
        assert_eq!(output.status.code(), Some(2), "{}", told(&output));
        assert!(told(&output).contains("line 1"), "{}", told(&output));
    }
    fs::write(&file, &text).unwrap();
    fs::rename(home.path().join("guides"), home.path().join("away")).unwrap();
    assert_eq!(publish(&[]).status.code(), Some(2));
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(&file, &text).unwrap();
    let output = publish(&[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("there is no guide in it"), "{}", told(&output));
    assert!(tree(&home.path().join("site")) == before);
}

#[test]
fn a_site_that_would_lose_many_guides_is_refused_and_may_be_insisted_on() {
    let home = shop(&NAMES);
    let publish = |more: &[&str]| bayleaf(home.path(), &[&["publish", "--no-sheets"], more].concat());
    assert_eq!(publish(&[]).status.code(), Some(0));
    let before = tree(&home.path().join("site"));
    let held =
        |name: &str| put(home.path(), &format!("{name}/guide.md"), &guide(name, 9).replace("Do the work.", "[Do it](step:nowhere)."));
    // One of five is less than a quarter, and is told.
    held("one");
    let output = publish(&["--to", "other"]);
    assert!(told(&output).contains("left out: one"), "{}", told(&output));
    held("two");
    let output = publish(&[]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(told(&output).contains("2 of 5 published guides would go") && told(&output).contains("--fewer-guides"), "{}", told(&output));
    assert!(told(&output).contains("id-unknown") || told(&output).contains("  HOLD  "), "the holds are shown: {}", told(&output));
    assert!(tree(&home.path().join("site")) == before);
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 5, "guides, site and other with what is remembered: nothing half-built is left");
    let output = publish(&["--fewer-guides"]);
    assert!(told(&output).contains("no longer on the site: one, two"), "{}", told(&output));
    assert!(!home.path().join("site/guides/one").exists());
}

use super::issue::{A, B, two_issues};

/// A page without its tags, on one line.
fn words(home: &Path, path: &str) -> String {
    let html = fs::read_to_string(home.join("site").join(path)).unwrap_or_else(|_| panic!("{path} is not there"));
    let mut out = String::new();
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_released_guide_stays_on_the_site_whatever_becomes_of_its_text() {
    let home = two_issues();
    put(home.path(), "lamp.md", &guide("lamp", 2));
    let publish = |status| {
        let output = bayleaf(home.path(), &["publish", "--no-sheets"]);
        assert_eq!(output.status.code(), Some(status), "{}", told(&output));
        told(&output)
    };
    publish(0);
    let index = || words(home.path(), "guides/bracket/index.html");
    assert!(index().contains("24 N·m") && !index().contains("LAST ISSUED REVISION"));
    let text = super::issue::guide("B", "2026-03-02", "24 N·m", &[A, B]);
    let file = home.path().join("guides/bracket/guide.md");
    // Held: a torque changed under its letter, a fault in a new revision.
    for (broken, hold) in [
        (super::issue::guide("B", "2026-03-02", "26 N·m", &[A, B]), "revision-not-raised"),
        (
            super::issue::guide("C", "2026-05-04", "26 N·m", &[A, B, ("C", "2026-05-04", "what = \"Torque of the bracket bolts\"")])
                .replace(", torque = \"bracket-bolt\" }", " }"),
            "torque-missing",
        ),
    ] {
        fs::write(&file, broken).unwrap();
        let told = publish(1);
        assert!(told.contains(hold) && told.contains("bracket at revision B (1 hold)"), "{told}");
        assert!(index().contains("LAST ISSUED REVISION") && index().contains("24 N·m") && !index().contains("26 N·m"), "{}", index());
        assert!(words(home.path(), "index.html").contains("Fit the bracket"), "it stays in the lists");
        assert!(words(home.path(), "guides/bracket/rev-a.html").contains("22.5 N·m"));
        assert!(home.path().join("site/guides/bracket/bracket.svg").is_file(), "its pictures too");
    }
    // Not UTF-8, then not readable as a file, then gone.
    fs::write(&file, b"+++\ntitle = \"\xff\"\n").unwrap();
    publish(1);
    assert!(index().contains("LAST ISSUED REVISION"));
    fs::remove_file(&file).unwrap();
    fs::create_dir(&file).unwrap();
    publish(1);
    assert!(index().contains("LAST ISSUED REVISION"));
    fs::remove_dir(&file).unwrap();
    let told_now = publish(1);
    assert!(told_now.contains("its text is gone") && told_now.contains("bracket (revision B)"), "{told_now}");
    assert!(index().contains("LAST ISSUED REVISION"));
    // Only `withdrawn` takes it away.
    fs::write(&file, text.replace("title =", "withdrawn = \"The supplier took it from the market.\"\ntitle =")).unwrap();
    let told_now = publish(0);
    assert!(told_now.contains("withdrawn: bracket"), "{told_now}");
    assert!(
        index().contains("WITHDRAWN") && index().contains("The supplier took it from the market.") && !index().contains("24 N·m"),
        "{}",
        index()
    );
    assert!(words(home.path(), "guides/bracket/torque.html").contains("WITHDRAWN"), "paper leads there too");
    assert!(
        words(home.path(), "guides/bracket/rev-b.html").contains("SUPERSEDED")
            && words(home.path(), "guides/bracket/rev-b.html").contains("24 N·m")
    );
    let front = fs::read_to_string(home.path().join("site/index.html")).unwrap();
    assert!(!front.contains("guides/bracket/") && front.contains("guides/lamp/"));
    let search: String = tree(&home.path().join("site"))
        .iter()
        .filter(|(path, _)| path.starts_with("search/"))
        .map(|(_, bytes)| String::from_utf8_lossy(bytes).into_owned())
        .collect();
    assert!(!search.contains("bracket/"), "it is in no index");
}

#[test]
fn an_older_revision_stays_readable_and_says_what_changed_since() {
    let home = two_issues();
    let c = ("C", "2026-05-04", "what = \"Torque of the bracket bolts\"");
    put(
        home.path(),
        "bracket/bracket.svg",
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 30\"><path d=\"M2 2h19v19z\"/></svg>\n",
    );
    put(home.path(), "bracket/guide.md", &super::issue::guide("C", "2026-05-04", "26 N·m", &[A, B, c]));
    let output = bayleaf(home.path(), &["publish", "--no-sheets"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let page = |path: &str| fs::read_to_string(home.path().join("site").join(path)).unwrap();
    let (a, now) = (words(home.path(), "guides/bracket/rev-a.html"), words(home.path(), "guides/bracket/index.html"));
    assert!(a.contains("SUPERSEDED") && a.contains("Revision C of 4 May 2026 took its place") && a.contains("22.5 N·m"), "{a}");
    assert!(a.contains("What has changed since revision A: 2 differences, 1 to look at again") && a.contains("+3.5 N·m"), "{a}");
    assert!(
        now.contains("What changed since revision B (2 Mar 2026): 2 differences, 1 to look at again") && now.contains("+2 N·m"),
        "{now}"
    );
    assert!(now.contains("changed since B") && page("guides/bracket/index.html").contains("class=\"step changed\""), "{now}");
    assert!(page("guides/bracket/index.html").contains("data-older=\"B rev-b.html|A rev-a.html\""));
    // The picture of then and that of now, each under a name of its own.
    let pictures: Vec<String> = tree(&home.path().join("site/guides/bracket")).into_keys().filter(|name| name.ends_with(".svg")).collect();
    assert_eq!(pictures.len(), 2, "{pictures:?}");
    assert!(pictures.iter().any(|name| name != "bracket.svg" && page("guides/bracket/rev-a.html").contains(name.as_str())), "{pictures:?}");
    let news = words(home.path(), "new.html");
    assert!(news.contains("24 N·m (18 lb·ft) → 26 N·m"), "{news}");
    let json: serde_json::Value = serde_json::from_str(&page("guides/bracket/guide.json")).unwrap();
    assert_eq!(json["since"]["revision"], "B");
    assert_eq!(json["since"]["differences"].as_array().unwrap().iter().filter(|one| one["sort"] == "torque").count(), 1);
}

#[test]
fn old_names_lead_on_and_a_contested_one_leads_nowhere() {
    let home = shop(&NAMES);
    let was = |name: &str, number, was: &str| {
        put(home.path(), &format!("{name}/guide.md"), &guide(name, number).replace("document =", &format!("was = {was}\ndocument =")))
    };
    was("one", 1, "[\"first\", \"very-first\"]");
    was("two", 2, "[\"shared\", \"three\"]");
    was("four", 4, "[\"shared\", \"four\"]");
    let output = bayleaf(home.path(), &["publish", "--no-sheets"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    for old in ["first", "very-first"] {
        for file in ["index.html", "torque.html", "checklist.html"] {
            let page = fs::read_to_string(home.path().join(format!("site/guides/{old}/{file}"))).unwrap();
            assert!(page.contains(&format!("url=../one/{file}")) && page.contains(&format!("data-to=\"../one/{file}\"")), "{page}");
        }
    }
    assert!(!home.path().join("site/guides/shared").exists());
    assert!(words(home.path(), "guides/three/index.html").contains("Fit the bracket three"));
    let told_now = told(&bayleaf(home.path(), &["review"]));
    for message in ["another guide was `shared` too", "there is a guide `three`", "`four` is the name that the guide has now"] {
        assert!(told_now.contains(message), "{message}: {told_now}");
    }
    // A circle of renames: each names the other, and both are there.
    was("one", 1, "[\"two\"]");
    was("two", 2, "[\"one\"]");
    was("four", 4, "[\"earlier\"]");
    let output = bayleaf(home.path(), &["publish", "--no-sheets", "--fewer-guides"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(words(home.path(), "guides/one/index.html").contains("Fit the bracket one"));
    // Names that lead out of the folder are no names.
    was("one", 1, "[\"../../escape\", \"a/b\"]");
    bayleaf(home.path(), &["publish", "--no-sheets", "--fewer-guides"]);
    assert!(!home.path().join("escape").exists() && !home.path().join("site/guides/a").exists());
}
