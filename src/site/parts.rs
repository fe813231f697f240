//! Parts and hardware over all kits: which are used where, by number, with dashes and without.

use std::collections::BTreeMap;

use crate::guide::facts::slug_of;
use crate::site::Listed;
use crate::theme::data::{PartIn, PartRow, PartUse, Parts, PartsRange, PartsSection};

/// The most parts of a kind on one page; a phone shows more only after a wait.
const LONGEST: usize = 300;

/// A part number with nothing but its letters and digits, in capitals: so `sb 40-012` and `SB-40-012` are one.
pub fn bare(number: &str) -> String {
    number.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_uppercase).collect()
}

/// The data of the page of parts, then of those pages that hold what is too long for it.
pub fn pages(summaries: &[Listed]) -> Vec<Parts<'_>> {
    let mut numbered = Sorted::default();
    let mut unnumbered = Sorted::default();
    let mut hardware = Sorted::default();
    for summary in summaries {
        for row in &summary.parts {
            let number = row.part.number.as_deref().map(bare).filter(|number| !number.is_empty());
            match number {
                Some(number) => numbered.add(number, summary, row),
                None => unnumbered.add(row.part.name.to_lowercase(), summary, row),
            }
        }
        for row in &summary.hardware {
            hardware.add(row.part.name.to_lowercase(), summary, row);
        }
    }
    let kinds = [
        ("numbered", numbered.finish("n-", true)),
        ("unnumbered", unnumbered.finish("p-", false)),
        ("hardware", hardware.finish("h-", false)),
    ];
    in_pages(kinds, LONGEST)
}

fn in_pages<'s>(kinds: [(&'static str, Vec<PartUse<'s>>); 3], longest: usize) -> Vec<Parts<'s>> {
    let mut top = Parts { range: None, sections: Vec::new() };
    let mut more = Vec::new();
    for (kind, mut rows) in kinds.into_iter().filter(|(_, rows)| !rows.is_empty()) {
        if rows.len() <= longest {
            top.sections.push(PartsSection { kind, rows, pages: Vec::new() });
            continue;
        }
        let mut pages = Vec::new();
        while !rows.is_empty() {
            let rest = rows.split_off(longest.min(rows.len()));
            let word = |row: Option<&PartUse<'_>>| {
                row.and_then(|row| row.numbers.first().or(row.names.first())).map_or_else(String::new, |word| (*word).to_owned())
            };
            let file = format!("{kind}-{}", pages.len() + 1);
            let range = PartsRange { file, first: word(rows.first()), last: word(rows.last()), rows: rows.len() };
            more.push(Parts { range: Some(range.clone()), sections: vec![PartsSection { kind, rows, pages: Vec::new() }] });
            pages.push(range);
            rows = rest;
        }
        top.sections.push(PartsSection { kind, rows, pages });
    }
    std::iter::once(top).chain(more).collect()
}

/// Rows by what they are sorted by; digits count by their value, so that M10 stands behind M8.
#[derive(Default)]
struct Sorted<'s>(BTreeMap<SortedBy, PartUse<'s>>);

/// The key taken apart, and the key.
type SortedBy = (Vec<(String, u128)>, String);

impl<'s> Sorted<'s> {
    fn add(&mut self, key: String, summary: &'s Listed, row: &'s PartRow) {
        let used = self.0.entry((by_value(&key), key)).or_insert_with(|| PartUse {
            id: String::new(),
            numbers: Vec::new(),
            bare: None,
            names: Vec::new(),
            uses: Vec::new(),
        });
        let part = &row.part;
        if let Some(number) = part.number.as_deref().filter(|number| !used.numbers.contains(number)) {
            used.numbers.push(number);
        }
        if !used.names.contains(&part.name.as_str()) {
            used.names.push(&part.name);
        }
        used.uses.push(PartIn { line: &summary.line, row });
    }

    fn finish(self, prefix: &str, with_bare: bool) -> Vec<PartUse<'s>> {
        let mut taken = std::collections::BTreeSet::new();
        let row = |((_, key), mut used): (SortedBy, PartUse<'s>)| {
            let stem = format!("{prefix}{}", slug_of(&key));
            let free = std::iter::once(stem.clone()).chain((2..).map(|number| format!("{stem}-{number}"))).find(|id| !taken.contains(id));
            used.id = free.unwrap_or(stem);
            taken.insert(used.id.clone());
            used.bare = (with_bare && !used.numbers.contains(&key.as_str())).then_some(key);
            used
        };
        self.0.into_iter().map(row).collect()
    }
}

/// Words, each with the number behind it.
fn by_value(text: &str) -> Vec<(String, u128)> {
    let mut pieces: Vec<(String, u128)> = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let words = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let digits = rest[words..].find(|c: char| !c.is_ascii_digit()).map_or(rest.len(), |end| words + end);
        // A number longer than any part number counts as the largest.
        let number = if digits > words { rest[words..digits].parse().unwrap_or(u128::MAX) } else { 0 };
        pieces.push((rest[..words].to_owned(), number));
        rest = &rest[digits..];
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_one_with_dashes_and_without() {
        assert_eq!(bare("sb-40 / 012"), "SB40012");
        assert_eq!(bare("SB40012"), "SB40012");
        assert_eq!(bare("–"), "");
    }

    #[test]
    fn too_many_parts_go_to_pages_of_their_own() {
        let row =
            |name: &'static str| PartUse { id: name.to_owned(), numbers: Vec::new(), bare: None, names: vec![name], uses: Vec::new() };
        let pages = in_pages(
            [("numbered", Vec::new()), ("unnumbered", ["a", "b", "c", "d", "e"].map(row).to_vec()), ("hardware", vec![row("x")])],
            2,
        );
        let ranges: Vec<(&str, &str, usize)> =
            pages[0].sections[0].pages.iter().map(|page| (page.first.as_str(), page.last.as_str(), page.rows)).collect();
        assert_eq!(ranges, [("a", "b", 2), ("c", "d", 2), ("e", "e", 1)]);
        assert_eq!((pages.len(), pages[0].sections[0].rows.len(), pages[0].sections[1].rows.len()), (4, 0, 1));
        assert_eq!(pages[3].range.as_ref().unwrap().file, "unnumbered-3");
    }

    #[test]
    fn numbers_in_names_count_by_their_value() {
        let mut names = ["bolt M10", "bolt M8", "bolt", "9", "10 a"];
        names.sort_by_key(|name| by_value(name));
        assert_eq!(names, ["9", "10 a", "bolt", "bolt M8", "bolt M10"]);
    }
}
