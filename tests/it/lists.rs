//! Pages and files over several guides, with shops made for the purpose: with and without an address, with drafts, with names
//! that come down to one, and with hostile words in places that end in XML, JSON or SVG.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

const SHOP: &str = include_str!("../../src/review/rules/example_shop.toml");

fn guide(title: &str, revision: &str, system: &str, more: &str) -> String {
    format!(
        "+++\ntitle = {title:?}\nrevision = \"{revision}\"\nissued = 2026-03-09\nsystem = {system:?}\nfits = [\"marlin-3500\"]\n\
         final_check = [\"The lamp is on\"]\n{more}+++\n\n## Try the lamp\n\nTurn the switch.\n"
    )
}

/// Publishes a shop with these guides and gives back what came out.
fn published(address: Option<&str>, guides: &[(&str, String)], arguments: &[&str]) -> BTreeMap<String, String> {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    let address = address.map_or(String::new(), |address| format!("address = \"{address}\"\n"));
    fs::write(home.path().join("guides/shop.toml"), format!("{address}{SHOP}")).unwrap();
    for (name, text) in guides {
        let path = home.path().join("guides").join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    let output = Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(home.path()).arg("publish").args(arguments).output().unwrap();
    assert!(output.status.code() != Some(2), "{}", String::from_utf8_lossy(&output.stderr));
    let mut files = BTreeMap::new();
    gather(&home.path().join("site"), "", &mut files);
    files
}

fn gather(folder: &Path, path: &str, files: &mut BTreeMap<String, String>) {
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let name = format!("{path}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            gather(&entry.path(), &format!("{name}/"), files);
        } else {
            files.insert(name, String::from_utf8_lossy(&fs::read(entry.path()).unwrap()).into_owned());
        }
    }
}

fn ids(feed: &str) -> Vec<&str> {
    feed.split("<id>").skip(1).map(|rest| rest.split("</id>").next().unwrap()).collect()
}

#[test]
fn without_an_address_nothing_claims_to_have_one() {
    let site = published(None, &[("lamp.md", guide("Try the lamp", "A", "Lamps", ""))], &[]);
    assert!(!site.contains_key("sitemap.xml") && !site.contains_key("opensearch.xml"), "both need whole addresses");
    for (path, text) in site.iter().filter(|(path, _)| path.ends_with(".html")) {
        assert!(!text.contains("rel=\"canonical\"") && !text.contains("property=\"og:"), "{path}");
    }
    // A feed may have relative links (RFC 4287, 4.2.7.1), and its ids need no address.
    let feed = &site["feed.xml"];
    assert!(feed.contains("href=\"guides/lamp/index.html\"") && !feed.contains("rel=\"self\""), "{feed}");
    assert!(ids(feed).iter().all(|id| id.starts_with("urn:uuid:")));
    assert!(site["guides/lamp/guide.json"].contains("\"address\":null"));
}

#[test]
fn ids_of_the_feed_outlive_a_move_and_change_with_the_revision_only() {
    let text = guide("Try the lamp", "A", "Lamps", "");
    let before = published(Some("https://a.example/"), &[("lamp.md", text.clone())], &[]);
    let moved = published(Some("http://b.example/sub"), &[("lamp.md", text.replace("Turn the switch.", "Turn the switch on."))], &[]);
    let revised = published(Some("https://a.example/"), &[("lamp.md", text.replace("revision = \"A\"", "revision = \"B\""))], &[]);
    assert_eq!(ids(&before["feed.xml"]), ids(&moved["feed.xml"]));
    assert!(moved["feed.xml"].contains("http://b.example/sub/guides/lamp/index.html"));
    assert!(moved["index.html"].contains("<link rel=\"canonical\" href=\"http://b.example/sub/index.html\">"));
    assert_eq!(ids(&before["feed.xml"])[0], ids(&revised["feed.xml"])[0], "the feed is the same");
    assert_ne!(ids(&before["feed.xml"])[1], ids(&revised["feed.xml"])[1]);
}

#[test]
fn revisions_are_listed_once_with_what_they_changed() {
    let changes = "change = [\n  { revision = \"A\", issued = 2026-01-02, what = \"First issue\" },\n  { revision = \"B\", issued = 2026-03-09, what = \"Bulb <b>changed</b>\" },\n  { revision = \"B\", what = \"Socket changed\" },\n  { revision = \"0\", what = \"Trial\" },\n]\n";
    let title = "Try <lamp> & \"socket\"";
    let site = published(Some("https://a.example/"), &[("lamp.md", guide(title, "B", "Lamps & <more>", changes))], &[]);
    let read = roxmltree::Document::parse(&site["feed.xml"]).unwrap();
    let titles: Vec<&str> = read
        .descendants()
        .filter(|node| node.has_tag_name(("http://www.w3.org/2005/Atom", "title")))
        .filter_map(|node| node.text())
        .collect();
    assert_eq!(titles[1], format!("{title}, revision B"));
    let feed = &site["feed.xml"];
    assert_eq!(ids(feed).len(), 3, "the feed, B and A; a revision without a day was not issued");
    assert!(feed.contains("<updated>2026-03-09T00:00:00Z</updated>") && feed.contains("<updated>2026-01-02T00:00:00Z</updated>"));
    assert!(feed.contains("Bulb &lt;b&gt;changed&lt;/b&gt;; Socket changed"), "{feed}");
    let page = &site["new.html"];
    assert!(page.contains("since replaced by rev. B") && page.matches("<li>").count() == 2, "{page}");
}

#[test]
fn a_held_guide_is_in_no_feed_and_in_no_map() {
    let held = guide("Fit the lamp", "A", "Lamps", "revison = \"A\"\n");
    let site = published(
        Some("https://a.example/"),
        &[("lamp.md", guide("Try the lamp", "A", "Lamps", "")), ("held.md", held)],
        &["--unreleased"],
    );
    assert!(site.contains_key("guides/held/index.html"));
    for file in ["feed.xml", "sitemap.xml", "new.html"] {
        assert!(!site[file].contains("held") && site[file].contains("guides/lamp/index.html"), "{file}");
    }
    assert!(site["guides/held/guide.json"].contains("\"released\":false") && site["guides/lamp/guide.json"].contains("\"released\":true"));
    assert!(site["guides/held/index.html"].contains("noindex") && !site["guides/lamp/index.html"].contains("noindex"));
    assert!(site["parts.html"].contains("No procedure brings parts"));
}

#[test]
fn a_shop_that_issued_nothing_has_no_feed_and_says_so() {
    let text = guide("Try the lamp", "A", "Lamps", "").replace("issued = 2026-03-09\n", "");
    let site = published(Some("https://a.example/"), &[("lamp.md", text)], &["--unreleased"]);
    assert!(!site.contains_key("feed.xml"));
    assert!(site["new.html"].contains("No revision has a day of issue yet") && !site["index.html"].contains("feed.xml"));
}

#[test]
fn systems_whose_names_come_down_to_one_have_a_page_each() {
    let guides = [
        ("a.md", guide("Try lamp one", "A", "Lamps", "")),
        ("b.md", guide("Try lamp two", "A", "LAMPS!", "")),
        ("c.md", guide("Try lamp three", "A", "灯", "")),
    ];
    let site = published(None, &guides, &[]);
    let pages: Vec<&String> = site.keys().filter(|path| path.starts_with("systems/")).collect();
    assert_eq!(pages, ["systems/lamps-2.html", "systems/lamps.html", "systems/unnamed.html"]);
    assert!(site["systems/lamps.html"].contains("lamp two") && site["systems/lamps-2.html"].contains("lamp one"));
}

#[test]
fn one_part_number_is_one_row_however_it_is_written() {
    let part = |number: &str| format!("[[part]]\nid = \"bulb\"\nname = \"Bulb\"\nnumber = \"{number}\"\nsupplied = 1\n");
    let fitted = |number: &str| {
        guide("Try the lamp", "A", "Lamps", &part(number))
            .replace("\n## Try the lamp\n", "\n## Try the lamp\n\n+++\ndo = [{ fit = \"bulb\" }]\n+++\n")
    };
    let site = published(None, &[("a.md", fitted("SB-40-012")), ("b.md", fitted("sb40 012"))], &["--unreleased"]);
    let page = &site["parts.html"];
    assert!(page.contains("<tr id=\"n-sb40012\"><th scope=\"row\">SB-40-012, sb40 012<small>SB40012</small></th>"), "{page}");
    assert!(page.contains("guides/a/index.html#try-the-lamp") && page.contains("guides/b/index.html#try-the-lamp"));
}

#[test]
fn hostile_words_stay_words_in_xml_json_and_svg() {
    let bad = "]]></title><script>x()</script>\" onload=\"y()";
    let callout = format!("[[callout]]\npicture = \"lamp.svg\"\nat = [0.5, 0.5]\nwords = {bad:?}\n");
    let text = guide(bad, "A", bad, "")
        .replace("\n## Try the lamp\n\nTurn the switch.", &format!("\n## Try the lamp\n\n+++\n{callout}+++\n\n![{{x](lamp.svg)"));
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:e=\"urn:editor\" viewBox=\"0 0 640 360\" e:path=\"C:\\Users\\person\"><!-- person --><rect width=\"640\" height=\"360\"/></svg>";
    let guides = [("lamp/guide.md", text), ("lamp/lamp.svg", svg.to_owned())];
    let site = published(Some("https://a.example/?a=1&b={x}/"), &guides, &["--unreleased"]);
    for file in ["sitemap.xml", "opensearch.xml"] {
        roxmltree::Document::parse(&site[file]).unwrap_or_else(|error| panic!("{file}: {error}"));
    }
    assert!(!site["opensearch.xml"].contains("{x}"), "braces in an address are no parameter");
    let json: serde_json::Value = serde_json::from_str(&site["guides/lamp/guide.json"]).unwrap();
    assert_eq!(json["title"], bad);
    assert_eq!(json["phases"][0]["steps"][0]["pictures"][0]["callouts"][0]["words"], bad);
    let page = &site["guides/lamp/index.html"];
    assert!(!page.contains("<script>x()") && !page.contains("\" onload=\""), "words came out as markup");
    assert!(page.contains("class=\"pins\"") && site["guides/lamp/checklist.html"].contains("class=\"pins\""));
    assert!(!site["guides/lamp/lamp.svg"].contains("person"), "{}", site["guides/lamp/lamp.svg"]);
}

#[test]
fn a_front_page_of_many_guides_shows_a_choice_and_no_endless_list() {
    let guides: Vec<(String, String)> =
        (0..260).map(|at| (format!("g{at}.md"), guide(&format!("Try lamp {at}"), "A", &format!("System {}", at % 9), ""))).collect();
    let guides: Vec<(&str, String)> = guides.iter().map(|(name, text)| (name.as_str(), text.clone())).collect();
    let site = published(None, &guides, &[]);
    let front = &site["index.html"];
    assert!(front.contains("All 9 systems") && !front.contains("class=\"register\""));
    assert_eq!(site["systems/system-1.html"].matches("<li><span class=\"doc\">").count(), 29);
    assert!(site["new.html"].contains("60 older revisions are listed"));
}
