//! What other programs read: the feed of revisions, the map of the site, the description of its search, the
//! app's manifest with its icon, and each guide as JSON. Absolute addresses stand only where the shop file gives
//! the site's address.

pub mod chapter;
pub mod feed;
pub mod guide_json;
pub mod icon;
pub mod manifest;
mod number;
pub mod opensearch;
pub mod sitemap;

use sha2::{Digest, Sha256};

use std::sync::OnceLock;

use rayon::prelude::*;

use crate::document::fingerprint::fingerprint;
use crate::document::summary::Summary;
use crate::guide::model::Shop;
use crate::markup;

/// A file of the site: its path and content.
type File = (String, Vec<u8>);

/// The app's icons. They are the same for every shop, and drawing them takes as long as several guides: a preview draws them once.
fn icons() -> &'static [File] {
    static ICONS: OnceLock<Vec<File>> = OnceLock::new();
    let draw = |(file, size, purpose): &(&str, u32, &str)| ((*file).to_owned(), icon::png(*size, *purpose == "maskable"));
    ICONS.get_or_init(|| manifest::ICONS.par_iter().map(draw).collect())
}

/// Every file for other programs that is made from several guides; `lists` are the pages over several guides.
pub fn files<'l>(summaries: &[&Summary], shop: &Shop, lists: impl Iterator<Item = &'l str>) -> serde_json::Result<Vec<File>> {
    let state = fingerprint(summaries.iter().map(|summary| summary.fingerprint.as_bytes()));
    let mut files: Vec<File> = vec![
        ("guides/index.json".to_owned(), guide_json::list(summaries, shop, state)?),
        ("manifest.webmanifest".to_owned(), manifest::manifest(shop)?),
    ];
    files.extend(icons().iter().cloned());
    files.extend(feed::feed(summaries, shop).map(|text| ("feed.xml".to_owned(), text.into_bytes())));
    if let Some(address) = &shop.address {
        files.push(("opensearch.xml".to_owned(), opensearch::description(address, shop).into_bytes()));
        // A held guide is no page to find.
        let released = summaries.iter().filter(|summary| !summary.head.draft);
        let guides = released.map(|summary| (format!("guides/{}/index.html", summary.head.slug), summary.head.issued));
        // The list of what a device keeps is another on each.
        let pages: Vec<sitemap::Page> =
            lists.filter(|path| *path != "kept.html").map(|path| (path.to_owned(), None)).chain(guides).collect();
        files.extend(sitemap::files(address, &pages).into_iter().map(|(path, text)| (path, text.into_bytes())));
    }
    Ok(files)
}

/// Text safe in XML, between tags and in attributes; characters that XML 1.0 cannot hold are left out.
fn xml(text: &str) -> String {
    let holds = |c: &char| matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{D7FF}' | '\u{E000}'..='\u{FFFD}' | '\u{10000}'..);
    markup::escape(&text.chars().filter(holds).collect::<String>())
}

/// A name that stays the same as long as its parts do, on every machine: a UUID of version 8 (RFC 9562, 5.8) made from their SHA-256.
fn stable_id(parts: &[&str]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_le_bytes());
        hash.update(part.as_bytes());
    }
    let mut bytes: Vec<u8> = hash.finalize().iter().take(16).copied().collect();
    bytes[6] = bytes[6] & 0x0f | 0x80;
    bytes[8] = bytes[8] & 0x3f | 0x80;
    let digits: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("urn:uuid:{}-{}-{}-{}-{}", &digits[..8], &digits[8..12], &digits[12..16], &digits[16..20], &digits[20..])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_stable_and_of_the_form_of_the_standard() {
        let id = stable_id(&["a", "b"]);
        assert_eq!(id, stable_id(&["a", "b"]));
        assert_ne!(id, stable_id(&["ab", ""]));
        // RFC 9562: the version stands in the 13th digit, the variant 10 in the highest bits of the 17th.
        let digits: Vec<char> = id.trim_start_matches("urn:uuid:").chars().filter(|c| *c != '-').collect();
        assert_eq!((digits.len(), digits[12]), (32, '8'));
        assert!("89ab".contains(digits[16]), "{id}");
    }

    #[test]
    fn what_xml_cannot_hold_is_left_out() {
        assert_eq!(xml("a\u{0}\u{8}<&\"\u{FFFF}b\u{1F600}"), "a&lt;&amp;&quot;b\u{1F600}");
        let text = format!("<a b=\"{0}\">{0}</a>", xml("\u{1}<'\"&>\u{B}\u{FFFE}"));
        assert!(roxmltree::Document::parse(&text).is_ok());
    }
}
