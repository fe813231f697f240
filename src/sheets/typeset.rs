//! Words to lines of glyphs: the only user of the text layout, and the home of the fonts. What the fonts do not have, and writing from
//! right to left, is noted for whoever asked; where lines go on the sheet is left to the pieces.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::hash::{BuildHasher, Hash, Hasher};
use std::rc::Rc;
use std::sync::Arc;

use foldhash::HashMap;
use parley::fontique::{Blob, Collection, CollectionOptions, SourceCache};
use parley::style::{FontFamily, FontFamilyName, FontWeight, FontWidth, LineHeight, OverflowWrap, StyleProperty};
use parley::{FontContext, Layout, LayoutContext};
use unicode_normalization::char::is_combining_mark;

use super::words::{Run, Words};
use crate::quantity::units;

/// The family that every sheet is set in. It has large small letters, figures of one width and the signs of the trade; its licence is
/// that of Bitstream Vera, which allows embedding.
const FAMILY: &str = "DejaVu Sans";
/// From one line to the next, as a share of the size.
const LEADING: f32 = 1.2;

/// So many signs make up one. The longest that are in use, of Tibetan and of families of pictures, have about ten.
const MOST_JOINED: usize = 30;

/// A face of the family.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// For words.
    Regular,
    /// For values, headings and signal words.
    Bold,
}

impl Face {
    /// Both faces.
    pub const ALL: [Face; 2] = [Face::Regular, Face::Bold];

    /// The font file.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Face::Regular => dejavu::sans_condensed::regular(),
            Face::Bold => dejavu::sans_condensed::bold(),
        }
    }
}

/// A glyph at its place in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font.
    pub id: u32,
    /// How far the next one is, as a share of the size.
    pub advance: f32,
    /// Where it is moved to, as shares of the size.
    pub offset: (f32, f32),
    /// The bytes of the text that it stands for.
    pub text: std::ops::Range<usize>,
}

/// Glyphs of one face and size, side by side.
#[derive(Clone, Debug)]
pub struct GlyphRun {
    /// The face.
    pub face: Face,
    /// The size in points.
    pub size: f32,
    /// Where it starts, from the left edge of the text.
    pub x: f32,
    /// Its glyphs.
    pub glyphs: Vec<Glyph>,
}

/// A line.
#[derive(Clone, Debug)]
pub struct Line {
    /// From the upper edge of the text to the line it stands on.
    pub baseline: f32,
    /// From the upper edge of the text to its own upper edge.
    pub top: f32,
    /// How high it is.
    pub height: f32,
    /// How wide its letters are.
    pub width: f32,
    /// Its runs.
    pub runs: Vec<GlyphRun>,
}

/// Text in lines.
#[derive(Clone, Debug, Default)]
pub struct Laid {
    /// The text.
    pub text: Rc<str>,
    /// Its lines; a text that stands in many places is laid once.
    pub lines: Rc<[Line]>,
}

impl Laid {
    /// How high all lines are.
    pub fn height(&self) -> f32 {
        self.lines.iter().map(|line| line.height).sum()
    }

    /// How wide the widest line is.
    pub fn width(&self) -> f32 {
        self.lines.iter().map(|line| line.width).fold(0.0, f32::max)
    }

    /// The same text cut into parts that are no higher than `most`, each at least a line.
    pub fn parts(&self, most: f32) -> Vec<Laid> {
        if self.height() <= most && !self.lines.is_empty() {
            return vec![self.clone()];
        }
        let mut parts: Vec<Vec<Line>> = Vec::new();
        let mut height = f32::INFINITY;
        for line in self.lines.iter() {
            if height + line.height > most {
                parts.push(Vec::new());
                height = 0.0;
            }
            let moved = height - line.top;
            height += line.height;
            if let Some(part) = parts.last_mut() {
                part.push(Line { baseline: line.baseline + moved, top: line.top + moved, ..line.clone() });
            }
        }
        parts.into_iter().map(|lines| Laid { text: Rc::clone(&self.text), lines: lines.into() }).collect()
    }
}

/// What stands in the way of setting a text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Faults {
    /// Characters that the fonts do not have, each with some words round it.
    pub missing: BTreeMap<char, String>,
    /// Words that are written from right to left, which the sheets cannot do.
    pub right_to_left: Option<String>,
    /// Words with a sign that is put together of more signs than any letter is.
    pub joined: Option<String>,
}

/// The layout with its fonts.
pub struct Typesetter {
    fonts: FontContext,
    layouts: LayoutContext<[u8; 4]>,
    /// The blobs of the faces, by which a run's face is told.
    blobs: Vec<(u64, Face)>,
    /// Texts that were set before, by a hash of words and size: the same words stand on both papers and on several sheets.
    set: HashMap<u64, Vec<Set>>,
    /// How many there are.
    many: usize,
    /// What was found wrong so far.
    pub faults: Faults,
}

impl Default for Typesetter {
    fn default() -> Self {
        // The system's fonts stay out: a sheet is the same on every machine.
        let mut collection = Collection::new(CollectionOptions { shared: false, system_fonts: false });
        let mut blobs = Vec::new();
        for face in Face::ALL {
            let blob = Blob::new(Arc::new(face.bytes()));
            blobs.push((blob.id(), face));
            collection.register_fonts(blob, None);
        }
        let fonts = FontContext { collection, source_cache: SourceCache::default() };
        Typesetter { fonts, layouts: LayoutContext::new(), blobs, set: HashMap::default(), many: 0, faults: Faults::default() }
    }
}

/// A text with its glyphs, and as it was laid in one width and another.
struct Set {
    words: Words,
    size: f32,
    text: Rc<str>,
    layout: Layout<[u8; 4]>,
    laid: Vec<(f32, Laid)>,
}

/// So many texts are kept: those of a long guide with both papers and all its sheets, in a few megabytes.
const MOST_SET: usize = 1_000;
/// In no more widths than these is a text kept.
const MOST_WIDTHS: usize = 6;

thread_local! {
    /// The typesetter of a thread that nobody uses at the moment, with its fonts read.
    static FREE: RefCell<Option<Typesetter>> = const { RefCell::new(None) };
}

impl Typesetter {
    /// The typesetter of this thread, with nothing found wrong: reading the fonts takes longer than setting a short sheet.
    pub fn of_thread() -> Self {
        let mut free = FREE.with_borrow_mut(Option::take).unwrap_or_default();
        free.faults = Faults::default();
        free
    }

    /// Gives the typesetter back for the next sheet, and its faults to who asked for this one.
    pub fn give_back(mut self) -> Faults {
        let faults = std::mem::take(&mut self.faults);
        FREE.set(Some(self));
        faults
    }

    /// Lays words in lines no wider than `width`.
    pub fn lay(&mut self, words: &Words, size: f32, width: f32) -> Laid {
        let width = width.max(size);
        let mut hasher = self.set.hasher().build_hasher();
        for Run { text, strong } in &words.0 {
            (text, strong).hash(&mut hasher);
        }
        size.to_bits().hash(&mut hasher);
        let key = hasher.finish();
        let known = |set: &Set| set.size == size && set.words == *words;
        let found = self.set.get_mut(&key).and_then(|sets| sets.iter_mut().find(|set| known(set)));
        if let Some(set) = found {
            if let Some((_, laid)) = set.laid.iter().find(|(known, _)| *known == width) {
                return laid.clone();
            }
            set.layout.break_all_lines(Some(width));
            let laid = laid_out(&set.layout, &set.text, &self.blobs, &mut self.faults);
            if set.laid.len() < MOST_WIDTHS {
                set.laid.push((width, laid.clone()));
            }
            return laid;
        }
        let (text, bold) = glued(words);
        self.look_for_right_to_left(&text);
        if let Some(at) = joined(&text) {
            // Laying it out takes time without end, and there will be no sheet.
            self.faults.joined.get_or_insert_with(|| excerpt(&text, at));
            return Laid::default();
        }
        let mut builder = self.layouts.ranged_builder(&mut self.fonts, &text, 1.0, false);
        builder.push_default(StyleProperty::FontFamily(FontFamily::Single(FontFamilyName::Named(FAMILY.into()))));
        builder.push_default(StyleProperty::FontWidth(FontWidth::SEMI_CONDENSED));
        builder.push_default(StyleProperty::FontSize(size));
        builder.push_default(StyleProperty::LineHeight(LineHeight::FontSizeRelative(LEADING)));
        // A word that is wider than its place is broken anywhere rather than run off the sheet.
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::Anywhere));
        for range in bold {
            builder.push(StyleProperty::FontWeight(FontWeight::BOLD), range);
        }
        let mut layout: Layout<[u8; 4]> = builder.build(&text);
        layout.break_all_lines(Some(width));
        let text: Rc<str> = text.into();
        let before = self.faults.clone();
        let laid = laid_out(&layout, &text, &self.blobs, &mut self.faults);
        // What cannot be set is told of every sheet, so it is not kept.
        if self.faults == before && !text.chars().any(is_right_to_left) && self.faults == Faults::default() {
            if self.many >= MOST_SET {
                self.set.clear();
                self.many = 0;
            }
            self.many += 1;
            let set = Set { words: words.clone(), size, text, layout, laid: vec![(width, laid.clone())] };
            self.set.entry(key).or_default().push(set);
        }
        laid
    }

    fn look_for_right_to_left(&mut self, text: &str) {
        if self.faults.right_to_left.is_none() && text.chars().any(is_right_to_left) {
            self.faults.right_to_left = Some(excerpt(text, text.find(is_right_to_left).unwrap_or(0)));
        }
    }
}

/// The lines of a layout whose lines are broken, with what the fonts do not have.
fn laid_out(layout: &Layout<[u8; 4]>, text: &Rc<str>, blobs: &[(u64, Face)], faults: &mut Faults) -> Laid {
    let mut lines = Vec::with_capacity(layout.len());
    let mut top = 0.0;
    for line in layout.lines() {
        let metrics = line.metrics();
        let baseline = top + metrics.baseline - metrics.block_min_coord;
        let mut made =
            Line { baseline, top, height: metrics.line_height, width: metrics.advance - metrics.hanging_advance, runs: Vec::new() };
        top += metrics.line_height;
        let mut x = 0.0;
        for run in line.runs() {
            let id = run.font().data.id();
            let face = blobs.iter().find(|(blob, _)| *blob == id).map_or(Face::Regular, |(_, face)| *face);
            let size = run.font_size();
            let start = x;
            let mut glyphs: Vec<Glyph> = Vec::new();
            for cluster in run.visual_clusters() {
                if cluster.is_ligature_continuation() {
                    if let Some(last) = glyphs.last_mut() {
                        last.text.end = cluster.text_range().end;
                    }
                    continue;
                }
                let range = cluster.text_range();
                for glyph in cluster.glyphs() {
                    if glyph.id == 0 {
                        note_missing(faults, text, range.clone());
                    }
                    let offset = (glyph.x / size, glyph.y / size);
                    glyphs.push(Glyph { id: glyph.id, advance: glyph.advance / size, offset, text: range.clone() });
                    x += glyph.advance;
                }
            }
            if !glyphs.is_empty() {
                made.runs.push(GlyphRun { face, size, x: start, glyphs });
            }
        }
        lines.push(made);
    }
    Laid { text: Rc::clone(text), lines: lines.into() }
}

/// The text of words with what is bold in it, and with spaces that no line ends at between a number and its unit, and round the `×`, `±`
/// and `+` of a thread, a count or a value.
fn glued(words: &Words) -> (String, Vec<std::ops::Range<usize>>) {
    let mut signs: Vec<(char, bool)> = Vec::new();
    for Run { text, strong } in &words.0 {
        let shown = text.chars().filter(|c| !is_selector(*c)).map(|c| if c.is_control() && c != '\n' { ' ' } else { c });
        signs.extend(shown.map(|c| (c, *strong)));
    }
    for at in 1..signs.len().saturating_sub(1) {
        let (before, after) = (signs[at - 1].0, signs[at + 1].0);
        if signs[at].0 == ' ' && holds_together(before, after, &signs[at + 1..]) {
            signs[at].0 = '\u{a0}';
        }
    }
    let mut text = String::new();
    let mut bold: Vec<std::ops::Range<usize>> = Vec::new();
    for (sign, strong) in signs {
        let start = text.len();
        text.push(sign);
        match bold.last_mut() {
            Some(range) if strong && range.end == start => range.end = text.len(),
            _ if strong => bold.push(start..text.len()),
            _ => {}
        }
    }
    (text, bold)
}

fn holds_together(before: char, after: char, rest: &[(char, bool)]) -> bool {
    let number = |c: char| c.is_ascii_digit();
    // A torque and its turn may stand on two lines.
    if matches!(after, '×' | '±') {
        return before.is_alphanumeric();
    }
    if matches!(before, '×' | '±' | '+') {
        return number(after);
    }
    if !number(before) {
        return false;
    }
    let word: String = rest.iter().map(|(c, _)| *c).take_while(|c| !c.is_whitespace() && !matches!(c, ')' | ',' | ';' | ':')).collect();
    let word = word.trim_end_matches('.');
    units().iter().any(|unit| unit.symbol == word)
}

/// Where a sign begins that more than `MOST_JOINED` signs make up: marks over a letter, or pictures with joiners between them.
fn joined(text: &str) -> Option<usize> {
    let (mut start, mut many, mut joins) = (0, 0, false);
    for (at, c) in text.char_indices() {
        let joiner = c == '\u{200d}';
        if joins || joiner || is_combining_mark(c) {
            many += 1;
            if many > MOST_JOINED {
                return Some(start);
            }
        } else {
            (start, many) = (at, 0);
        }
        joins = joiner;
    }
    None
}

fn note_missing(faults: &mut Faults, text: &str, range: std::ops::Range<usize>) {
    for c in text[range.clone()].chars().filter(|c| !c.is_whitespace() && !c.is_control()) {
        faults.missing.entry(c).or_insert_with(|| excerpt(text, range.start));
    }
}

/// Some words round a place of a text.
fn excerpt(text: &str, at: usize) -> String {
    const ROUND: usize = 24;
    let before: Vec<char> = text[..at].chars().rev().take(ROUND).collect();
    let words: String = before.into_iter().rev().chain(text[at..].chars().take(ROUND)).collect();
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Marks that ask for another form of the sign before them, and show nothing themselves.
fn is_selector(c: char) -> bool {
    matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{200b}' | '\u{feff}' | '\u{2060}')
}

/// Letters of scripts that run from right to left, and the marks that turn text round (Unicode, bidirectional classes R, AL, RLE, RLO, RLI).
fn is_right_to_left(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{200f}' | '\u{202b}' | '\u{202e}' | '\u{2067}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}'
        | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lay(text: &str, width: f32) -> (Laid, Faults) {
        let mut typesetter = Typesetter::default();
        let laid = typesetter.lay(&Words::plain(text), 11.0, width);
        (laid, typesetter.faults)
    }

    #[test]
    fn the_faces_are_the_condensed_ones() {
        let mut typesetter = Typesetter::default();
        let laid = typesetter.lay(&Words(vec![Run::plain("plain "), Run::strong("strong")]), 11.0, 500.0);
        let faces: Vec<Face> = laid.lines[0].runs.iter().map(|run| run.face).collect();
        assert_eq!(faces, [Face::Regular, Face::Bold]);
        // "n" of the condensed face is 1168 of 2048 units wide, that of the wide one 1298.
        let (laid, _) = lay("n", 100.0);
        assert!((laid.lines[0].width / 11.0 - 1168.0 / 2048.0).abs() < 0.01, "{}", laid.lines[0].width / 11.0);
    }

    #[test]
    fn a_word_wider_than_its_place_is_broken() {
        let (laid, _) = lay(&"W".repeat(200), 100.0);
        assert!(laid.lines.len() > 10);
        assert!(laid.width() <= 100.0);
        let parts = laid.parts(40.0);
        assert_eq!(parts.iter().map(|part| part.lines.len()).sum::<usize>(), laid.lines.len());
        assert!(parts.iter().all(|part| part.height() <= 40.0 && part.lines[0].top == 0.0));
    }

    #[test]
    fn no_line_ends_between_a_number_and_its_unit() {
        let words = Words(vec![Run::plain("to 16 "), Run::strong("N·m (12 lb·ft), 4 × bolt M8 × 1.25, 6 ± 1 mm. 3 men")]);
        let (text, bold) = glued(&words);
        assert_eq!(text, "to 16\u{a0}N·m (12\u{a0}lb·ft), 4\u{a0}× bolt M8\u{a0}×\u{a0}1.25, 6\u{a0}±\u{a0}1\u{a0}mm. 3 men");
        assert_eq!((bold.len(), bold[0].clone()), (1, text.find("N·m").unwrap()..text.len()));
        let mut typesetter = Typesetter::default();
        let laid = typesetter.lay(&Words::plain("Tighten it to 16 N·m"), 11.0, 95.0);
        let last = laid.lines.last().unwrap().runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.text.start).min().unwrap();
        assert_eq!(&laid.text[last..], "16\u{a0}N·m");
    }

    #[test]
    fn what_cannot_be_set_is_told() {
        assert_eq!(lay("45 N·m ± 3, ½ in, 90°, ≤ 5 Ω, Überstand, Łódź, Ελλάδα, → ⚠ ☐ ×", 500.0).1, Faults::default());
        let faults = lay("Tighten the bolt 作 well", 500.0).1;
        assert_eq!(faults.missing.into_iter().collect::<Vec<_>>(), [('作', "Tighten the bolt 作 well".to_owned())]);
        let joined = lay(&format!("bolt {}", "\u{1f468}\u{200d}".repeat(5_000)), 500.0).1.joined.unwrap();
        assert!(joined.starts_with("bolt"), "{joined}");
        assert!(lay(&format!("a{}", "\u{301}".repeat(100_000)), 500.0).1.joined.is_some());
        assert_eq!(lay("a\u{301}\u{323}", 500.0).1.joined, None);
        assert_eq!(lay("press שלום twice", 500.0).1.right_to_left.as_deref(), Some("press שלום twice"));
    }
}
