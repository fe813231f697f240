//! The feed of issued revisions (Atom, RFC 4287). Days come from the guides, so a feed changes only when a guide does.

use std::fmt::Write;

use super::{stable_id, xml};
use crate::document::summary::{self, Summary};
use crate::guide::model::Shop;

/// The most entries; who reads less often than these come in reads the page of what is new.
const MOST: usize = 100;

/// The feed; none where no revision has a day, since a feed must say when it was updated.
///
/// Ids are made from the shop's name, the guide's folder and the revision, not from an address, so that they outlive a move
/// (RFC 4287, 4.2.6). Without an address, links are relative to the feed itself, as the standard allows.
pub fn feed(summaries: &[&Summary], shop: &Shop) -> Option<String> {
    let all = summary::sorted(summaries, |summary| summary);
    let newest = all.first()?.1.issued;
    let base = shop.address.as_deref().unwrap_or("");
    let name = xml(&shop.name);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"{}\">\n<id>{}</id>\n\
         <title>{name}: issued revisions</title>\n<updated>{newest}T00:00:00Z</updated>\n<author><name>{name}</name></author>\n",
        xml(shop.language.code()),
        stable_id(&["feed", &shop.name]),
    );
    if shop.address.is_some() {
        let _ = writeln!(out, "<link rel=\"self\" type=\"application/atom+xml\" href=\"{}feed.xml\"/>", xml(base));
    }
    let _ = writeln!(out, "<link rel=\"alternate\" type=\"text/html\" href=\"{}new.html\"/>", xml(base));
    for (summary, issue) in all.into_iter().take(MOST) {
        let line = &summary.head;
        let revision = issue.revision.as_deref().unwrap_or_default();
        let title = if revision.is_empty() { line.title.clone() } else { format!("{}, revision {revision}", line.title) };
        let told: Vec<&str> = issue.what.iter().chain(&issue.facts).map(String::as_str).collect();
        let what = if told.is_empty() { line.summary.clone().unwrap_or_default() } else { told.join("; ") };
        let _ = write!(
            out,
            "<entry>\n<id>{}</id>\n<title>{}</title>\n<updated>{}T00:00:00Z</updated>\n\
             <link rel=\"alternate\" type=\"text/html\" href=\"{}guides/{}/index.html\"/>\n<category term=\"{}\"/>\n",
            stable_id(&["revision", &shop.name, &line.slug, revision]),
            xml(&title),
            issue.issued,
            xml(base),
            xml(&line.slug),
            xml(&line.system),
        );
        // An entry without content must say something in its place, or have a link; the words help those who only skim.
        let _ = writeln!(out, "<summary>{}</summary>\n</entry>", xml(if what.is_empty() { &title } else { &what }));
    }
    out.push_str("</feed>\n");
    Some(out)
}
