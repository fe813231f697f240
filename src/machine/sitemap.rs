//! The map of the site by the protocol of sitemaps.org: the pages worth finding, with the day of the last issue where
//! a guide gives one. The protocol asks for whole addresses, so there is none without the site's address.

use std::fmt::Write;

use super::xml;
use crate::guide::model::Date;

/// The most addresses that the protocol allows in one file.
const MOST: usize = 50_000;

/// A page of the site, with the day of its last change where that is known.
pub type Page = (String, Option<Date>);

/// The files: one map, or an index and several where one may not hold all.
pub fn files(address: &str, pages: &[Page]) -> Vec<(String, String)> {
    in_pieces(address, pages, MOST)
}

fn in_pieces(address: &str, pages: &[Page], most: usize) -> Vec<(String, String)> {
    if pages.len() <= most {
        return vec![("sitemap.xml".to_owned(), document("urlset", "url", address, pages))];
    }
    let mut files: Vec<(String, String)> = Vec::new();
    let mut index: Vec<Page> = Vec::new();
    for (at, piece) in pages.chunks(most).enumerate() {
        let path = format!("sitemap-{}.xml", at + 1);
        index.push((path.clone(), piece.iter().filter_map(|(_, day)| *day).max()));
        files.push((path, document("urlset", "url", address, piece)));
    }
    files.push(("sitemap.xml".to_owned(), document("sitemapindex", "sitemap", address, &index)));
    files
}

fn document(root: &str, row: &str, address: &str, pages: &[Page]) -> String {
    let mut out = format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<{root} xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\">\n");
    for (path, day) in pages {
        let _ = write!(out, "<{row}><loc>{}{}</loc>", xml(address), xml(path));
        if let Some(day) = day {
            let _ = write!(out, "<lastmod>{day}</lastmod>");
        }
        let _ = writeln!(out, "</{row}>");
    }
    let _ = writeln!(out, "</{root}>");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_pages_than_a_map_may_hold_come_in_several_with_an_index() {
        let day = Date { year: 2026, month: 3, day: 9 };
        let pages: Vec<Page> = (0..5).map(|at| (format!("{at}.html"), (at == 3).then_some(day))).collect();
        let files = in_pieces("https://a.example/", &pages, 2);
        let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["sitemap-1.xml", "sitemap-2.xml", "sitemap-3.xml", "sitemap.xml"]);
        assert!(files[3].1.contains("<sitemap><loc>https://a.example/sitemap-2.xml</loc><lastmod>2026-03-09</lastmod></sitemap>"));
        assert_eq!(files.iter().map(|(_, text)| text.matches("<url>").count()).sum::<usize>(), 5);
    }
}
