//! Source text and positions in it: files, byte spans, and the way from a byte offset to a line and
//! column. What the text means is left to `guide`; how a place is shown is left to `review::report`.

use std::ops::Range;
use std::sync::OnceLock;

/// Names a source file within one run; files are numbered in the order of their paths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct FileId(pub u32);

/// A range of bytes in one source file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default, serde::Deserialize, serde::Serialize)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The span of `range`; files beyond 4 GiB are refused before they are read.
    pub fn new(range: Range<usize>) -> Self {
        Span { start: range.start as u32, end: range.end as u32 }
    }

    /// The empty span at `offset`.
    pub fn at(offset: usize) -> Self {
        Span { start: offset as u32, end: offset as u32 }
    }

    /// The bytes as a range to slice with.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The part `range` of this span, kept inside it.
    pub fn part(self, range: Range<usize>) -> Self {
        let end = self.end.min(self.start.saturating_add(range.end as u32));
        Span { start: self.start.saturating_add(range.start as u32).min(end), end }
    }

    /// Whether `other` lies wholly within this span.
    pub fn contains(self, other: Span) -> bool {
        self.start <= other.start && other.end <= self.end
    }
}

/// A span in a named file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file.
    pub file: FileId,
    /// The bytes in it.
    pub span: Span,
}

/// A value together with where it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Deserialize, serde::Serialize)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Joins a value and its place.
    pub fn new(value: T, span: Span) -> Self {
        Spanned { value, span }
    }
}

impl Spanned<String> {
    /// The text itself.
    pub fn as_str(&self) -> &str {
        &self.value
    }
}

/// A line and a column, both counted from 1; columns count characters, as an editor shows them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// The line.
    pub line: usize,
    /// The column in characters.
    pub column: usize,
}

/// One file as read: its path as shown to people, and its text.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// The path from where the program was started, with `/` between the parts.
    pub path: String,
    /// The whole text, without a byte-order mark.
    pub text: String,
    /// How many bytes of the file stand in front of the text: those of a byte-order mark, or none.
    pub before: u32,
    /// Where each line starts; made when the first position is asked for.
    lines: OnceLock<Vec<u32>>,
    /// How many characters stand before each stretch of bytes; made when the first position is asked for.
    chars: OnceLock<Vec<u32>>,
}

/// So many bytes have to be counted through for a column, however long its line is.
const STRETCH: usize = 1_024;

impl SourceFile {
    /// A source file from its text.
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Self {
        SourceFile { path: path.into(), text: text.into(), before: 0, lines: OnceLock::new(), chars: OnceLock::new() }
    }

    /// Makes a source file from bytes. A byte-order mark is dropped; bytes that are not UTF-8 become
    /// replacement characters, and the place of the first of them is given back.
    pub fn from_bytes(path: String, bytes: Vec<u8>) -> (Self, Option<Span>) {
        let (text, broken) = match String::from_utf8(bytes) {
            Ok(text) => (text, None),
            Err(error) => {
                let at = error.utf8_error().valid_up_to();
                let lossy = String::from_utf8_lossy(error.as_bytes()).into_owned();
                (lossy, Some(Span::new(at..at + char::REPLACEMENT_CHARACTER.len_utf8())))
            }
        };
        match text.strip_prefix('\u{feff}') {
            Some(rest) => (
                SourceFile { before: 3, ..SourceFile::new(path, rest) },
                broken.map(|span| Span { start: span.start - 3, end: span.end - 3 }),
            ),
            None => (SourceFile::new(path, text), broken),
        }
    }

    /// The text in `span`, kept inside the file and at character boundaries.
    pub fn slice(&self, span: Span) -> &str {
        &self.text[self.clamp(span)]
    }

    /// `span` as a range that is safe to slice with, whatever it was made from.
    pub fn clamp(&self, span: Span) -> Range<usize> {
        let floor = |offset: usize| self.text.floor_char_boundary(offset.min(self.text.len()));
        let start = floor(span.start as usize);
        start..floor(span.end as usize).max(start)
    }

    /// The line and column of a byte offset. A carriage return before a line feed belongs to the line it ends.
    pub fn position(&self, offset: u32) -> Position {
        let offset = self.text.floor_char_boundary((offset as usize).min(self.text.len()));
        let line = self.line_of(offset);
        let start = self.line_start(line);
        Position { line: line + 1, column: self.chars_before(offset) - self.chars_before(start) + 1 }
    }

    /// How many characters stand before a character.
    fn chars_before(&self, offset: usize) -> usize {
        let before = self.chars.get_or_init(|| {
            let mut counts = vec![0];
            let mut start = 0;
            while start + STRETCH <= self.text.len() {
                let end = self.text.floor_char_boundary(counts.len() * STRETCH);
                counts.push(counts[counts.len() - 1] + self.text[start..end].chars().count() as u32);
                start = end;
            }
            counts
        });
        let stretch = (offset / STRETCH).min(before.len() - 1);
        let start = self.text.floor_char_boundary(stretch * STRETCH).min(offset);
        before[stretch] as usize + self.text[start..offset].chars().count()
    }

    /// The whole lines that `span` touches, as a range of bytes, and the number of the first, from 1.
    pub fn lines_of(&self, span: Span) -> (Range<usize>, usize) {
        let range = self.clamp(span);
        let (first, last) = (self.line_of(range.start), self.line_of(range.end.max(range.start + 1).saturating_sub(1)));
        let end = if last + 1 < self.lines().len() { self.line_start(last + 1) } else { self.text.len() };
        (self.line_start(first)..end.max(range.end), first + 1)
    }

    /// The part of `span` that is worth marking, as a range that is safe to slice with: the whole of it, or its first
    /// line where it goes on for more than a few, since a mark on a whole block says nothing.
    pub fn marked(&self, span: Span) -> Range<usize> {
        let range = self.clamp(span);
        let text = &self.text[range.clone()];
        let end = text.match_indices('\n').nth(3).map_or(range.end, |_| range.start + text.find('\n').unwrap_or(text.len()));
        range.start..end
    }

    fn lines(&self) -> &[u32] {
        self.lines.get_or_init(|| std::iter::once(0).chain(self.text.match_indices('\n').map(|(at, _)| at as u32 + 1)).collect())
    }

    /// The line that holds the byte at `offset`, from 0.
    fn line_of(&self, offset: usize) -> usize {
        self.lines().partition_point(|&start| start as usize <= offset).saturating_sub(1)
    }

    fn line_start(&self, line: usize) -> usize {
        self.lines()[line] as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn columns_count_characters_and_lines_survive_crlf() {
        let (file, broken) = SourceFile::from_bytes("a.md".into(), "½ x\r\n  y".as_bytes().to_vec());
        assert!(broken.is_none());
        let at = |needle: &str| file.position(file.text.find(needle).unwrap() as u32);
        assert_eq!(at("x"), Position { line: 1, column: 3 });
        assert_eq!(at("y"), Position { line: 2, column: 3 });
    }

    #[test]
    fn a_byte_order_mark_is_dropped_and_bad_bytes_are_placed() {
        let (file, broken) = SourceFile::from_bytes("a.md".into(), b"\xef\xbb\xbfab\xffc".to_vec());
        assert_eq!(file.text, "ab\u{fffd}c");
        assert_eq!(file.slice(broken.unwrap()), "\u{fffd}");
    }

    #[test]
    fn columns_of_a_long_line_are_counted_right() {
        let text = format!("{}\n{}", "½".repeat(3_000), "a½€😀".repeat(2_000));
        let file = SourceFile::new("a.md", text.clone());
        for (offset, _) in text.char_indices().step_by(7).chain([(text.len(), ' ')]) {
            let start = text[..offset].rfind('\n').map_or(0, |at| at + 1);
            assert_eq!(file.position(offset as u32).column, text[start..offset].chars().count() + 1, "{offset}");
        }
    }

    proptest! {
        #[test]
        fn every_offset_has_a_position_and_every_span_a_slice(text in "\\PC{0,40}\r?\n?\\PC{0,20}", a in 0u32..200, b in 0u32..200) {
            let file = SourceFile::new("", text);
            let position = file.position(a);
            prop_assert!(position.line >= 1 && position.column >= 1);
            file.slice(Span { start: a, end: b });
            let (lines, first) = file.lines_of(Span { start: a, end: b });
            let clamped = file.clamp(Span { start: a, end: b });
            let fits = first == position.line && lines.start <= clamped.start && clamped.end <= lines.end && file.text.get(lines).is_some();
            prop_assert!(fits);
        }
    }
}
