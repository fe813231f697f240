//! The committed site is what `publish` makes of the demo guides, byte for byte; all its links lead
//! somewhere; and publishing keeps its promises about holds, drafts and strangers' files.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn tree(base: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut folders = vec![base.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                files.insert(path.strip_prefix(base).unwrap().to_string_lossy().replace('\\', "/"), fs::read(&path).unwrap());
            }
        }
    }
    files
}

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

#[test]
fn the_committed_site_is_what_publish_makes() {
    let home = tempfile::tempdir().unwrap();
    let to = home.path().join("site");
    let output = bayleaf(&root(), &["publish", "--to", to.to_str().unwrap()]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let (made, committed) = (tree(&to), tree(&root().join("site")));
    assert_eq!(made.keys().collect::<Vec<_>>(), committed.keys().collect::<Vec<_>>(), "run: cargo run --release -- publish");
    for (path, bytes) in &made {
        assert!(*bytes == committed[path], "site/{path} is stale; run: cargo run --release -- publish");
    }
    let again = home.path().join("again");
    bayleaf(&root(), &["publish", "--to", again.to_str().unwrap()]);
    assert!(tree(&again) == made, "publishing twice gives different bytes");
}

fn attributes<'p>(page: &'p str, name: &str) -> impl Iterator<Item = &'p str> {
    let needle = format!(" {name}=\"");
    page.match_indices(&needle)
        .map(|(at, _)| at + needle.len())
        .map(|at| page[at..].split('"').next().unwrap())
        .collect::<Vec<_>>()
        .into_iter()
}

#[test]
fn every_link_of_the_site_leads_somewhere_inside_it() {
    let checked = follow_links(&tree(&root().join("site")));
    assert!(checked > 1000, "only {checked} links were checked");
}

/// Follows every link of a tree of pages, and counts them.
fn follow_links(files: &BTreeMap<String, Vec<u8>>) -> usize {
    let text = |path: &str| String::from_utf8(files[path].clone()).unwrap();
    let pages: Vec<&String> = files.keys().filter(|path| path.ends_with(".html")).collect();
    let ids: BTreeMap<&str, BTreeSet<String>> =
        pages.iter().map(|path| (path.as_str(), attributes(&text(path), "id").map(str::to_owned).collect())).collect();
    let mut checked = 0;
    for page in &pages {
        let html = text(page);
        let all: Vec<&str> = attributes(&html, "id").collect();
        let unique: BTreeSet<&str> = all.iter().copied().collect();
        assert_eq!(all.len(), unique.len(), "{page} has an id twice");
        let sets = attributes(&html, "srcset").flat_map(|set| set.split(", ").map(|part| part.split(' ').next().unwrap()));
        for link in attributes(&html, "href").chain(attributes(&html, "src")).chain(sets) {
            assert!(!link.starts_with('/') && !link.starts_with("file:") && !link.is_empty(), "{page}: {link}");
            if link.starts_with("https://") || link.starts_with("mailto:") {
                continue;
            }
            let (path, anchor) = link.split_once('#').unwrap_or((link, ""));
            let mut parts: Vec<&str> = page.split('/').collect();
            if path.is_empty() {
                parts = vec![page];
            } else {
                parts.pop();
                for part in path.split('/') {
                    match part {
                        ".." => assert!(parts.pop().is_some(), "{page}: {link} leads out of the site"),
                        "." => {}
                        part => parts.push(part),
                    }
                }
            }
            let target = parts.join("/");
            assert!(files.contains_key(&target), "{page}: {link} leads to nothing");
            assert!(anchor.is_empty() || ids[target.as_str()].contains(anchor), "{page}: {link} leads to no place in {target}");
            checked += 1;
        }
    }
    checked
}

#[test]
fn no_page_holds_script_style_or_an_outside_address() {
    for (path, bytes) in tree(&root().join("site")).iter().filter(|(path, _)| path.ends_with(".html")) {
        let html = String::from_utf8(bytes.clone()).unwrap();
        assert!(html.contains("Content-Security-Policy") && html.contains("default-src 'none'"), "{path}");
        assert!(!html.contains("<style") && attributes(&html, "style").next().is_none(), "{path} has inline style");
        for script in html.split("<script").skip(1) {
            let tag = script.split('>').next().unwrap();
            assert!(tag.contains(" src=") && script[tag.len()..].starts_with("></script>"), "{path} has inline script");
        }
        for address in attributes(&html, "src") {
            assert!(!address.contains("//"), "{path} fetches {address}");
        }
    }
}

#[test]
fn every_page_says_that_the_demo_is_invented_and_who_comes_first() {
    for (path, bytes) in tree(&root().join("site")).iter().filter(|(path, _)| path.ends_with(".html")) {
        let html = String::from_utf8(bytes.clone()).unwrap();
        assert!(html.to_lowercase().contains("invented"), "{path}");
        assert!(html.contains("vehicle maker"), "{path}");
    }
}

fn shop_with(guides: &[(&str, &str)]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), include_str!("../../src/review/rules/example_shop.toml")).unwrap();
    for (name, text) in guides {
        fs::write(home.path().join("guides").join(name), text).unwrap();
    }
    home
}

const CLEAN: &str = "+++\ntitle = \"Try the lamp\"\nrevision = \"A\"\nissued = 2026-01-02\nfits = [\"marlin-3500\"]\nfinal_check = [\"The lamp is on\"]\n+++\n\n## Try the lamp\n\nTurn the switch.\n";

#[test]
fn a_held_guide_is_left_out_and_named_and_a_draft_is_marked_on_every_page() {
    let held = CLEAN.replace("Try the lamp", "Fit the lamp").replace("revision = \"A\"", "revison = \"A\"");
    let home = shop_with(&[("clean.md", CLEAN), ("held.md", &held)]);
    let output = bayleaf(home.path(), &["publish"]);
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(told.contains("left out: held (1 hold)") && told.contains("key-unknown"), "{told}");
    let site = tree(&home.path().join("site"));
    assert!(site.contains_key("guides/clean/index.html") && !site.keys().any(|path| path.starts_with("guides/held")));
    assert!(!site.values().any(|bytes| String::from_utf8_lossy(bytes).contains("Fit the lamp")), "lists and search do not know it either");

    let output = bayleaf(home.path(), &["publish", "--unreleased"]);
    assert_eq!(output.status.code(), Some(1));
    for (path, bytes) in tree(&home.path().join("site")) {
        if path.ends_with(".html") && path.starts_with("guides/") {
            assert_eq!(String::from_utf8_lossy(&bytes).contains("NOT RELEASED"), path.starts_with("guides/held"), "{path}");
        }
    }
}

#[test]
fn markup_and_script_addresses_of_a_guide_come_out_harmless() {
    let hostile = CLEAN.replace(
        "Turn the switch.",
        "<script>alert(1)</script>\n\n<b onclick=\"x()\">Turn</b> [it](javascript:alert(1)) ![x](data:text/html,x) [y](JaVaScRiPt&colon;x)\n\n<img src=x onerror=alert(2)>\n",
    );
    let hostile = hostile
        .replace("## Try the lamp", "## Try the lamp {onclick=alert(3) .x}")
        .replace("title = \"Try the lamp\"", "title = \"<script>alert(4)</script>\"");
    let home = shop_with(&[("hostile.md", &hostile)]);
    let output = bayleaf(home.path(), &["publish", "--unreleased"]);
    let review = bayleaf(home.path(), &["review"]);
    let told = String::from_utf8_lossy(&review.stdout).into_owned();
    assert!(told.contains("markup-shown") && told.contains("address-refused"), "{told}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("photo-missing"));
    for (path, bytes) in tree(&home.path().join("site")).iter().filter(|(path, _)| path.ends_with(".html")) {
        let html = String::from_utf8_lossy(bytes).into_owned();
        // What an author typed may stand in the text; nothing of it may stand inside a tag.
        for tag in html.split('<').skip(1).map(|rest| rest.split('>').next().unwrap()) {
            let name = tag.trim_start_matches('/').split([' ', '\n']).next().unwrap();
            assert!(name != "script" || tag.starts_with('/') || tag.contains(" src=\""), "{path} holds <{tag}>");
            for bad in [" onclick=", " onerror=", "javascript:", "src=\"data:", "src=\"x\""] {
                assert!(!tag.contains(bad), "{path} holds <{tag}>");
            }
        }
        if path == "guides/hostile/index.html" {
            assert!(html.contains("&lt;script&gt;alert(1)"), "the words are shown as typed");
        }
    }
}

#[test]
fn a_folder_that_is_not_ours_is_refused_and_left_alone() {
    let home = shop_with(&[("clean.md", CLEAN)]);
    fs::create_dir(home.path().join("site")).unwrap();
    fs::write(home.path().join("site/letter.txt"), "mine").unwrap();
    let output = bayleaf(home.path(), &["publish"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("letter.txt"));
    assert_eq!(tree(&home.path().join("site")).len(), 1);
}

#[test]
fn a_shop_s_own_theme_file_takes_the_place_of_the_built_in_one_and_its_faults_are_placed() {
    let home = shop_with(&[("clean.md", CLEAN)]);
    fs::create_dir(home.path().join("themes")).unwrap();
    fs::write(home.path().join("themes/tools.html"), "<p>{{ site.shop }} tools. {{ site.deferral }}</p>").unwrap();
    assert_eq!(bayleaf(home.path(), &["publish"]).status.code(), Some(0));
    assert!(tree(&home.path().join("site"))["tools.html"].starts_with(b"<p>Example shop tools. "));
    let before = tree(&home.path().join("site"));
    fs::write(home.path().join("themes/tools.html"), "<p>\n{{ site.shoop }}</p>").unwrap();
    let output = bayleaf(home.path(), &["publish"]);
    assert_eq!(output.status.code(), Some(2));
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(told.contains("tools.html") && told.contains("shoop") && told.contains('2'), "{told}");
    assert!(tree(&home.path().join("site")) == before, "the old site still stands");
}

#[test]
fn a_broken_picture_holds_its_guide_and_no_other() {
    let with = |name: &str| CLEAN.replace("Turn the switch.", &format!("![The lamp]({name})"));
    let home = shop_with(&[("clean.md", CLEAN), ("cut.md", &with("cut.jpg")), ("body.md", &with("body.png"))]);
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_fn(900, 600, |x, y| image::Rgb([(x * y) as u8, y as u8, x as u8]))
        .write_to(&mut png, image::ImageFormat::Png)
        .unwrap();
    let mut png = png.into_inner();
    // The head and the end are whole; what is between is not a picture any more.
    let middle = png.len() / 2;
    png[middle..middle + 400].fill(0x5a);
    fs::write(home.path().join("guides/body.png"), png).unwrap();
    let jpeg = fs::read(root().join("guides/swivel-seat-base/seat-out.jpg")).unwrap();
    fs::write(home.path().join("guides/cut.jpg"), &jpeg[..jpeg.len() / 2]).unwrap();
    let output = bayleaf(home.path(), &["publish"]);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("cut off") && told.contains("left out: body (1 hold), cut (1 hold)"), "{told}");
    let site = tree(&home.path().join("site"));
    assert!(
        site.contains_key("guides/clean/index.html")
            && !site.keys().any(|path| path.contains("guides/body") || path.contains("guides/cut"))
    );
}

/// The example shop with keys of its own and the clean guide, in a folder with templates of its own.
fn shop_saying(keys: &str, templates: &[(&str, String)]) -> tempfile::TempDir {
    let home = shop_with(&[("clean.md", CLEAN)]);
    let path = home.path().join("guides/shop.toml");
    let shop = fs::read_to_string(&path).unwrap();
    fs::write(&path, format!("{keys}\n{shop}")).unwrap();
    fs::create_dir(home.path().join("themes")).unwrap();
    for (name, text) in templates {
        fs::write(home.path().join("themes").join(name), text).unwrap();
    }
    home
}

fn built_in(template: &str) -> &'static str {
    bayleaf::theme::BUILT_IN.iter().find(|(name, _)| *name == template).unwrap().1
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// A second, plain reading of what a page shows: scripts and comments cut out, tags dropped.
fn shown(html: &str) -> String {
    let body = html.split_once("<body").map_or("", |(_, body)| body);
    let (mut text, mut inside) = (String::new(), false);
    for c in body.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(c),
            _ => {}
        }
    }
    text.replace("&#x27;", "'").replace("&#39;", "'").replace("&quot;", "\"").replace("&amp;", "&")
}

#[test]
fn every_page_and_every_sheet_says_who_comes_first_whatever_the_shop_says() {
    // What the issue of such a sentence is: common practice of the trade.
    let said = ["vehicle maker's current instructions", "local rules", "trained and licensed people"];
    for (own, keys) in [
        (None, "handbook = true"),
        // It drops licensed people and local rules; it denies them; it says them all.
        (Some("Ask the foreman first."), "handbook = true\ndeferral = \"Ask the foreman first.\""),
        (
            Some("No vehicle maker, no local rules and no licensed people are needed."),
            "handbook = true\ndeferral = \"No vehicle maker, no local rules and no licensed people are needed.\"",
        ),
    ] {
        let home = shop_saying(keys, &[]);
        let output = bayleaf(home.path(), &["publish"]);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let out = home.path().join("out");
        for sheet in ["checklist", "torque", "packing"] {
            bayleaf(home.path(), &["print", "clean", "--sheet", sheet, "--to", out.to_str().unwrap()]);
        }
        bayleaf(home.path(), &["print", "clean", "--form", "short", "--paper", "letter", "--to", out.to_str().unwrap()]);
        bayleaf(home.path(), &["print", "--sheet", "values", "--to", out.to_str().unwrap()]);
        let (mut pages, mut sheets) = (0, 0);
        for (path, bytes) in tree(&home.path().join("site")).into_iter().chain(tree(&out)) {
            let texts = match path.rsplit_once('.').map(|(_, ending)| ending) {
                Some("html") => vec![shown(&String::from_utf8(bytes).unwrap())],
                Some("pdf") => {
                    let file = home.path().join("one.pdf");
                    fs::write(&file, &bytes).unwrap();
                    let read = Command::new("pdftotext").arg("-raw").arg(&file).arg("-").output().expect("poppler-utils is installed");
                    let text = String::from_utf8(read.stdout).unwrap();
                    text.trim_end_matches('\u{c}').split('\u{c}').map(str::to_owned).collect()
                }
                _ => continue,
            };
            if path.ends_with("pdf") {
                sheets += 1
            } else {
                pages += 1
            }
            for (at, text) in texts.iter().enumerate() {
                for said in said.iter().copied().chain(own) {
                    assert!(squeezed(text).contains(&squeezed(said)), "{path}, sheet {}: `{said}` is not there", at + 1);
                }
            }
        }
        assert!(pages > 100 && sheets >= 7, "{pages} pages, {sheets} sheets");
    }
    let own = "The instructions of the vehicle maker and local law come first; licensed people do what is theirs.";
    let home = shop_saying(&format!("deferral = \"{own}\""), &[]);
    bayleaf(home.path(), &["publish"]);
    let front = shown(&String::from_utf8(tree(&home.path().join("site"))["index.html"].clone()).unwrap());
    assert!(front.contains(own) && !front.contains("Work on brakes"), "a sentence that names all three stands alone");
}

#[test]
fn a_theme_that_leaves_out_who_comes_first_publishes_nothing() {
    let cut = |name: &str, with: &str| (built_in(name)).replace("{{ site.deferral }}", with);
    for (name, text, told_of) in [
        ("base.html", cut("base.html", ""), "template `"),
        ("base.html", cut("base.html", "<!-- {{ site.deferral }} -->"), "template `"),
        ("checklist-sheet.html", cut("checklist-sheet.html", "ask"), "`checklist.html`"),
        ("values.html", "<p>{{ site.shop }}</p>".to_owned(), "`values.html`"),
        ("chapter.html", "<p hidden>{{ site.deferral }}</p>".to_owned(), "`chapter.html`"),
    ] {
        assert!(text != built_in(name), "{name} was not changed");
        let home = shop_saying("handbook = true", &[(name, text)]);
        let output = bayleaf(home.path(), &["publish"]);
        let told = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{name}: {told}");
        assert!(told.contains(told_of) && told.contains("who comes first") && told.contains("nothing was published"), "{name}: {told}");
        assert!(!home.path().join("site").exists(), "{name}: something was published");
    }
}

#[test]
fn the_handbook_is_on_a_site_only_where_the_shop_asks_for_it() {
    let home = shop_saying("", &[]);
    assert!(bayleaf(home.path(), &["publish"]).status.success());
    for (path, bytes) in tree(&home.path().join("site")) {
        assert!(!path.starts_with("handbook/"), "{path}");
        let text = String::from_utf8_lossy(&bytes);
        assert!(!path.ends_with(".html") || !text.contains("handbook/"), "{path} leads to a handbook");
    }
    assert!(follow_links(&tree(&home.path().join("site"))) > 50);

    let home = shop_saying("handbook = true", &[]);
    assert!(bayleaf(home.path(), &["publish"]).status.success());
    let files = tree(&home.path().join("site"));
    assert!(files.contains_key("handbook/index.html") && files.contains_key("handbook/torque-missing.html"));
    assert!(String::from_utf8_lossy(&files["index.html"]).contains("href=\"handbook/index.html\""));
    assert!(follow_links(&files) > 50);
}

#[test]
fn the_handbook_can_be_read_on_the_own_machine_without_any_guides() {
    let home = tempfile::tempdir().unwrap();
    let output = bayleaf(home.path(), &["handbook", "--to", "read"]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let told = String::from_utf8(output.stdout).unwrap();
    assert!(Path::new(told.trim()).is_file() && told.trim().ends_with("index.html"), "{told}");
    let files = tree(&home.path().join("read"));
    assert!(files.contains_key("handbook/keys.html") && files.contains_key("handbook/torque-missing.html"));
    assert!(follow_links(&files) > 100);
    for (path, bytes) in files.iter().filter(|(path, _)| path.ends_with(".html")) {
        assert!(shown(&String::from_utf8_lossy(bytes)).contains("licensed people"), "{path}");
    }
    // A second run takes the place of the first; a folder of somebody else is left alone.
    assert_eq!(bayleaf(home.path(), &["handbook", "--to", "read"]).status.code(), Some(0));
    fs::create_dir(home.path().join("mine")).unwrap();
    fs::write(home.path().join("mine/letter.txt"), "x").unwrap();
    assert_eq!(bayleaf(home.path(), &["handbook", "--to", "mine"]).status.code(), Some(2));
    assert_eq!(tree(&home.path().join("mine")).len(), 1);
    fs::create_dir(home.path().join("guides")).unwrap();
    assert_eq!(bayleaf(home.path(), &["handbook", "--to", "guides/read"]).status.code(), Some(2));
}
