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
    for more in [&[][..], &["--draft"]] {
        let output = publish(more);
        assert_eq!(output.status.code(), Some(2));
        assert!(told(&output).contains("shop.toml") && told(&output).contains("not there"), "{}", told(&output));
    }
    for broken in [&b"name = \"Shop\nunits"[..], b"name = \"\xff\xfe\""] {
        fs::write(&file, broken).unwrap();
        let output = publish(&["--draft"]);
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
    let held = |name: &str| put(home.path(), &format!("{name}/guide.md"), &guide(name, 9).replace("Do the work.", "[Do it](step:nowhere)."));
    // One of five is less than a quarter, and is told.
    held("one");
    let output = publish(&["--to", "other"]);
    assert!(told(&output).contains("left out: one"), "{}", told(&output));
    held("two");
    let output = publish(&[]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(told(&output).contains("2 of 5 published guides would go") && told(&output).contains("--fewer-guides"), "{}", told(&output));
    assert!(told(&output).contains("id-unknown") || told(&output).contains("hold["), "the holds are shown: {}", told(&output));
    assert!(tree(&home.path().join("site")) == before);
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 3, "guides, site, other: nothing half-built is left");
    let output = publish(&["--fewer-guides"]);
    assert!(told(&output).contains("no longer on the site: one, two"), "{}", told(&output));
    assert!(!home.path().join("site/guides/one").exists());
}
