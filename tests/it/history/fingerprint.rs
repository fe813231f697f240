//! The fingerprint changes exactly where the guide's page says something else. What a page says is asked of the data that the page is
//! rendered from, which is written by other code than the facts that the fingerprint is made of.

use std::fs;

use bayleaf::document::build::{self, Input};
use bayleaf::document::facts::Hashes;
use bayleaf::guide;
use bayleaf::guide::picture::{PictureFact, PictureKind, Pictures};
use bayleaf::site::guide_page;
use bayleaf::source::{FileId, SourceFile};

use super::{Numbers, root};

/// The fingerprint of a guide, and all that its page says.
fn state(text: &str, shop: &str, hashes: &Hashes) -> (String, String) {
    let shop = guide::read_shop(&SourceFile::new("shop.toml", shop), FileId(0)).0;
    let source = SourceFile::new("guide.md", text);
    let (guide, _) = guide::read(&source, FileId(1), "a-guide", &shop);
    let fact = PictureFact { kind: PictureKind::Raster, width: 1600, height: 1200, cleaned: false };
    let pictures: Pictures = hashes.keys().map(|address| (address.clone(), Ok(fact))).collect();
    let input = |fingerprint| Input { pictures: &pictures, hashes, fingerprint, draft: false };
    let made = build::document(&guide, &shop, &input(None)).fingerprint;
    let mut document = build::document(&guide, &shop, &input(Some(String::new())));
    // The state of the shop's tools is printed with the guide, and is no part of what it says.
    document.wrenches.clear();
    for tool in &mut document.tools {
        (tool.number, tool.calibrated_until) = (None, None);
    }
    for step in document.phases.iter_mut().flat_map(|phase| &mut phase.steps) {
        let of_operations = step.operations.iter_mut().flat_map(|operation| &mut operation.tools);
        step.tools.iter_mut().chain(of_operations).for_each(|tool| tool.number = None);
    }
    let page = guide_page::page(&document);
    (made, format!("{}{hashes:?}", serde_json::to_string(&page).unwrap()))
}

/// Replaces the `at`th character of a sort, if there is one.
fn replaced(text: &str, numbers: &mut Numbers, sort: fn(char) -> bool, with: char) -> String {
    let places: Vec<(usize, char)> = text.char_indices().filter(|(_, c)| sort(*c) && *c != with).collect();
    let (at, c) = places[numbers.below(places.len())];
    format!("{}{with}{}", &text[..at], &text[at + c.len_utf8()..])
}

fn inserted(text: &str, numbers: &mut Numbers, before: fn(&str) -> bool, line: &str) -> String {
    let mut at = 0;
    let starts = text.split_inclusive('\n').map(|line| {
        at += line.len();
        (at - line.len(), line)
    });
    let places: Vec<usize> = starts.filter(|(_, line)| before(line)).map(|(at, _)| at).collect();
    let at = places[numbers.below(places.len())];
    format!("{}{line}{}", &text[..at], &text[at..])
}

#[test]
fn the_fingerprint_changes_exactly_where_the_page_says_something_else() {
    let shop = fs::read_to_string(root().join("guides/shop.toml")).unwrap();
    let mut numbers = Numbers(20_261_128);
    let is_key = |line: &str| line.contains(" = ") && line.starts_with(|c: char| c.is_ascii_lowercase());
    let (mut changed, mut same, mut wrong) = (0, 0, Vec::new());
    let slugs = ["swivel-seat-base", "transmission-cooler", "second-battery-charger"];
    for slug in slugs {
        let text = fs::read_to_string(root().join(format!("guides/{slug}/guide.md"))).unwrap();
        let hashes: Hashes = text
            .match_indices("](")
            .filter_map(|(at, _)| text[at + 2..].split([')', ' ']).next())
            .filter(|a| a.ends_with(".jpg") || a.ends_with(".svg"))
            .map(|address| (address.to_owned(), "00".repeat(32)))
            .collect();
        let before = state(&text, &shop, &hashes);
        for _ in 0..100 {
            let (mut edited, mut of_shop, mut of_pictures) = (text.clone(), shop.clone(), hashes.clone());
            let what = match numbers.below(12) {
                0 => {
                    of_shop = inserted(&shop, &mut numbers, is_key, "# a remark of somebody\n");
                    "comment in the shop file"
                }
                1 => {
                    of_shop = replaced(&shop, &mut numbers, |c| c.is_ascii_digit(), '7');
                    "digit in the shop file"
                }
                2 | 3 => {
                    of_shop = replaced(&shop, &mut numbers, |c| c.is_ascii_lowercase(), 'q');
                    "letter in the shop file"
                }
                4 => {
                    of_shop = inserted(&shop, &mut numbers, |line| line.starts_with("[["), "\n\n");
                    "empty line in the shop file"
                }
                5 => {
                    of_shop =
                        inserted(&shop, &mut numbers, |line| line.starts_with("[["), "[[tool]]\nid = \"new-tool\"\nname = \"New\"\n\n");
                    "new tool in the shop file"
                }
                6 => {
                    edited = inserted(&text, &mut numbers, is_key, "# a remark of somebody\n");
                    "comment in the guide"
                }
                7 => {
                    edited = replaced(&text, &mut numbers, |c| c.is_ascii_digit(), '7');
                    "digit in the guide"
                }
                8 | 9 => {
                    edited = replaced(&text, &mut numbers, |c| c.is_ascii_lowercase(), 'q');
                    "letter in the guide"
                }
                10 => {
                    edited = inserted(&text, &mut numbers, |line| line.starts_with("## "), "\n\n");
                    "empty line in the guide"
                }
                _ => {
                    let at = numbers.below(of_pictures.len());
                    if let Some(hash) = of_pictures.values_mut().nth(at) {
                        *hash = "11".repeat(32);
                    }
                    "another picture"
                }
            };
            let after = state(&edited, &of_shop, &of_pictures);
            let (print, page) = (after.0 != before.0, after.1 != before.1);
            if page {
                changed += 1
            } else {
                same += 1
            }
            if print != page {
                let line = |old: &str, new: &str| {
                    old.lines().zip(new.lines()).find(|(a, b)| a != b).map(|(a, b)| format!("{a} -> {b}")).unwrap_or_default()
                };
                let first = before.1.bytes().zip(after.1.bytes()).position(|(a, b)| a != b).unwrap_or(0);
                let around = |text: &str| {
                    text.chars().skip(text[..first.min(text.len())].chars().count().saturating_sub(80)).take(160).collect::<String>()
                };
                wrong.push(format!(
                    "{slug}, {what}: page changed {page}, fingerprint changed {print}: {}{}\n   {}\n   {}",
                    line(&text, &edited),
                    line(&shop, &of_shop),
                    if page { around(&before.1) } else { String::new() },
                    if page { around(&after.1) } else { String::new() }
                ));
            }
        }
    }
    println!("{} edits: the page changed in {changed}, not in {same}", changed + same);
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(changed >= 100 && same >= 60 && changed + same == 300);
}
