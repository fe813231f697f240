//! The pieces that sheets are put together from: headings, rows with a box, fields to write in, panels, pictures. What stands in them
//! is left to each kind of sheet, how they fill sheets to the flow.

use std::rc::Rc;

use super::drawing::Drawing;
use super::paper::mm;
use super::piece::{BOX, Group, Mark, Node, Piece, Role, Spoken, Whole};
use super::typeset::{Laid, Typesetter};
use super::words::Words;
use crate::phrases::Phrases;

/// Sizes of letters in points: what is read under a lamp is 11, and nothing that is read is below 7.
pub const BODY: f32 = 11.0;
/// Details beside what is done.
pub const SMALL: f32 = 10.0;
/// Words in fields and under the sheet.
pub const LABEL: f32 = 7.5;
/// A value to work to.
pub const VALUE: f32 = 13.0;
/// Headings.
pub const HEADING: f32 = 12.5;
/// No row of text is higher than this in one piece.
const TALLEST: f32 = mm(170.0);

/// A field to write in, or what was written.
#[derive(Clone, Debug, Default)]
pub struct Field {
    /// What belongs in it.
    pub label: String,
    /// What stands in it.
    pub entry: Option<String>,
    /// Whether what stands in it is not as asked for.
    pub off: bool,
}

impl Field {
    /// An empty field.
    pub fn new(label: &str) -> Self {
        Field { label: label.to_owned(), ..Field::default() }
    }

    /// A field with what was entered, if anything was.
    pub fn filled(label: &str, entry: Option<&str>) -> Self {
        Field { label: label.to_owned(), entry: entry.filter(|entry| !entry.trim().is_empty()).map(str::to_owned), off: false }
    }
}

/// What stands at the right of a row.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// A value in two units: the one that is worked to, and the other.
    pub value: Option<(String, Option<String>)>,
    /// A field.
    pub field: Option<Field>,
}

/// A box before a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tick {
    /// None.
    Without,
    /// To be ticked.
    Open,
    /// Ticked.
    Done,
}

/// A picture to place.
#[derive(Clone, Debug)]
pub struct Picture {
    /// What is shown.
    pub shown: Shown,
    /// What it is for who does not see it.
    pub words: String,
    /// The line under it.
    pub caption: String,
    /// A drawing laid over it.
    pub over: Option<Rc<Drawing>>,
    /// The width it should have at most.
    pub widest: f32,
    /// The height it should have at most.
    pub highest: f32,
}

/// What a picture shows.
#[derive(Clone, Debug)]
pub enum Shown {
    /// A photo with width and height in pixels.
    Photo(Rc<Vec<u8>>, (f32, f32)),
    /// A drawing.
    Drawing(Rc<Drawing>),
}

/// Where sheets are put together: the letters, and how wide a sheet is.
pub struct Desk {
    /// The letters.
    pub letters: Typesetter,
    /// The width between the margins.
    pub width: f32,
    /// The words of the sheets.
    pub say: &'static Phrases,
    /// How many operations are done by the piece that is being made.
    pub done: usize,
}

impl Desk {
    /// Words laid in a width.
    pub fn lay(&mut self, words: &Words, size: f32, width: f32) -> Laid {
        self.letters.lay(words, size, width)
    }

    /// A box to tick, with a tick in it where it is done. The tick is a letter and not drawn: whoever takes the text out of a sheet gets the
    /// words that stand for letters, and none that stand for lines alone.
    pub fn tick_box(&mut self, x: f32, y: f32, ticked: bool) -> Node {
        let edge = if ticked { 0.8 } else { 1.0 };
        let mut marks = vec![Mark::Rect { rect: [x, y, BOX, BOX], edge, ground: None }];
        if ticked {
            marks.push(self.centred("✓", 17.0, (x, y, BOX), false));
        }
        let words = if ticked { Spoken::AsText(self.say.ticked.to_owned()) } else { Spoken::Instead(self.say.box_to_tick.to_owned()) };
        Node::Spoken(words, marks)
    }

    /// The sign of what is not as asked for: an exclamation mark in a black box.
    fn off_sign(&mut self, x: f32, y: f32) -> Node {
        let ground = Mark::Rect { rect: [x, y, BOX, BOX], edge: 0.0, ground: Some(0) };
        Node::Spoken(Spoken::AsText(format!("{}: ", self.say.not_as_asked)), vec![ground, self.centred("!", VALUE, (x, y, BOX), true)])
    }

    /// Bold letters in the middle of a square.
    fn centred(&mut self, text: &str, size: f32, (x, y, side): (f32, f32, f32), white: bool) -> Mark {
        let laid = self.lay(&Words::strong(text), size, mm(20.0));
        let at = (x + (side - laid.width()) / 2.0, y + (side - laid.height()) / 2.0);
        Mark::Text { laid, at, white }
    }

    /// A piece from its height and parts.
    pub fn piece(&self, height: f32, nodes: Vec<Node>) -> Piece {
        Piece { height, nodes, done: self.done, ..Piece::default() }
    }

    /// A heading over several groups; it stays with the first.
    pub fn heading(&mut self, text: &str) -> Group {
        let laid = self.lay(&Words::strong(text), HEADING, self.width);
        let height = laid.height() + mm(1.0);
        let mut piece = self.piece(
            height + mm(0.8),
            vec![
                Node::Group(Role::Heading(2), vec![Node::Content(vec![Mark::text(laid, 0.0, 0.0)])]),
                Node::Plain(vec![Mark::rule(0.0, height, self.width, 1.2)]),
            ],
        );
        piece.keep = true;
        piece.bookmark = Some((1, text.to_owned()));
        Group { leads: true, space: mm(4.5), ..Group::loose(vec![piece]) }
    }

    /// A text that is cut off where a line ends.
    pub fn one_line(&mut self, text: &str, strong: bool, size: f32, width: f32) -> Laid {
        let words = |text: &str| if strong { Words::strong(text) } else { Words::plain(text) };
        let laid = self.lay(&words(text), size, width);
        if laid.lines.len() < 2 {
            return laid;
        }
        // The text as laid: spaces that hold together are longer than those that were given.
        let text = Rc::clone(&laid.text);
        let mut end: usize = laid.lines[0].runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.text.end).max().unwrap_or(0);
        loop {
            let cut = format!("{}…", text[..end].trim_end());
            let laid = self.lay(&words(&cut), size, width);
            if laid.lines.len() < 2 || end == 0 {
                return laid;
            }
            end = text[..end].char_indices().next_back().map_or(0, |(at, _)| at);
        }
    }

    /// Fields side by side, each with its words before a rule that is written on, or before what was written; the rule lies at 0.
    pub fn ruled(&mut self, fields: &[(&'static str, String)], width: f32) -> Vec<Node> {
        let share = width / fields.len() as f32;
        let mut nodes = Vec::new();
        for (at, (label, entry)) in fields.iter().enumerate() {
            let x = share * at as f32;
            let label = self.lay(&Words::plain(*label), LABEL, share);
            let from = x + label.width() + mm(1.5);
            let wide = (x + share - mm(4.0) - from).max(mm(5.0));
            let top = -label.height();
            let mut written = vec![Node::Content(vec![Mark::text(label, x, top)])];
            if entry.is_empty() {
                nodes.push(Node::Plain(vec![Mark::rule(from, 0.0, wide, 0.6)]));
            } else {
                let entry = self.one_line(entry, true, SMALL, wide);
                let top = -entry.height();
                written.push(Node::Content(vec![Mark::text(entry, from, top)]));
            }
            nodes.push(Node::Group(Role::Paragraph, written));
        }
        nodes
    }

    /// What stands at the top of a further sheet on which something goes on.
    pub fn continued(&mut self, what: &str) -> Piece {
        let laid = self.lay(&Words::strong(self.say.continued(what)), SMALL, self.width);
        let height = laid.height() + mm(1.5);
        self.piece(height, vec![Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(laid, 0.0, 0.0)])])])
    }

    /// The head of a step: its number in a balloon, its title, and a few words at the right.
    pub fn step_head(&mut self, number: usize, title: &Words, right: &str, indent: f32) -> Piece {
        let radius = mm(3.6);
        let right = self.lay(&Words::plain(right), SMALL, mm(60.0));
        let title_laid = self.lay(title, HEADING, self.width - indent - right.width() - mm(3.0));
        let digits = self.lay(&Words::strong(number.to_string()), if number > 99 { 9.0 } else { BODY }, mm(20.0));
        let height = title_laid.height().max(2.0 * radius) + mm(1.8);
        let middle = mm(1.0) + radius;
        let title_at = middle - title_laid.lines.first().map_or(0.0, |line| line.height) / 2.0;
        let digits_at = (radius + mm(0.4) - digits.width() / 2.0, middle - digits.height() / 2.0);
        let balloon = Mark::Circle { at: (radius + mm(0.4), middle), radius, edge: 1.2 };
        let right_at = (self.width - right.width(), middle - right.height() / 2.0);
        let mut nodes = vec![Node::Group(
            Role::Heading(3),
            vec![
                Node::Content(vec![Mark::text(digits, digits_at.0, digits_at.1)]),
                Node::Plain(vec![balloon]),
                Node::Content(vec![Mark::text(title_laid, indent, title_at)]),
            ],
        )];
        if !right.text.is_empty() {
            nodes.push(Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(right, right_at.0, right_at.1)])]));
        }
        Piece { keep: true, bookmark: Some((2, format!("{number} {}", title.text()))), ..self.piece(height, nodes) }
    }

    /// A row with a box, words, details under them, and what stands beside. A row that is very long comes in several pieces.
    pub fn row(&mut self, indent: f32, tick: Tick, words: &Words, details: &Words, beside: &Beside) -> Vec<Piece> {
        const PAD: f32 = mm(1.3);
        let (value_wide, field_wide) = (mm(34.0), mm(33.0));
        let right = if beside.value.is_some() {
            value_wide + field_wide
        } else if beside.field.is_some() {
            field_wide
        } else {
            0.0
        };
        let text_at = indent + if tick == Tick::Without { 0.0 } else { BOX + mm(3.0) };
        let width = self.width - text_at - right - if right > 0.0 { mm(2.0) } else { 0.0 };
        let laid = self.lay(words, BODY, width);
        let details = if details.is_empty() { None } else { Some(self.lay(details, SMALL, width)) };
        let laid = if words.is_empty() { Vec::new() } else { laid.parts(TALLEST) };
        let mut parts: Vec<(Laid, bool)> = laid.into_iter().map(|part| (part, false)).collect();
        parts.extend(details.into_iter().flat_map(|laid| laid.parts(TALLEST)).map(|part| (part, true)));
        // Words and their details stand in one piece where they are not long.
        let mut pieces: Vec<(f32, Vec<Mark>)> = Vec::new();
        for (part, detail) in parts {
            let height = part.height() + if detail { mm(0.6) } else { 0.0 };
            match pieces.last_mut() {
                Some((top, marks)) if *top + height <= TALLEST => {
                    marks.push(Mark::text(part, text_at, PAD + *top + if detail { mm(0.6) } else { 0.0 }));
                    *top += height;
                }
                _ => pieces.push((height, vec![Mark::text(part, text_at, PAD)])),
            }
        }
        if pieces.is_empty() {
            pieces.push((0.0, Vec::new()));
        }
        let last = pieces.len() - 1;
        let mut made = Vec::new();
        for (at, (height, marks)) in pieces.into_iter().enumerate() {
            let mut height = height + 2.0 * PAD;
            let mut item = Vec::new();
            if at == 0 && tick != Tick::Without {
                let first = mm(0.25);
                item.push(Node::Group(Role::Label, vec![self.tick_box(indent, PAD - first, tick == Tick::Done)]));
                height = height.max(BOX + 2.0 * PAD);
            }
            let mut body: Vec<Node> = marks.into_iter().map(|mark| Node::Content(vec![mark])).collect();
            if at == 0 {
                let (nodes, needed) = self.beside(beside, self.width - right, value_wide, field_wide);
                body.extend(nodes);
                height = height.max(needed);
            }
            item.push(Node::Group(Role::Body, body));
            let mut nodes = vec![Node::Group(Role::Item, item)];
            if at == last {
                nodes.push(Node::Plain(vec![Mark::rule(indent, height, self.width - indent, 0.4)]));
            }
            made.push(self.piece(height, nodes));
        }
        made
    }

    fn beside(&mut self, beside: &Beside, left: f32, value_wide: f32, field_wide: f32) -> (Vec<Node>, f32) {
        let mut nodes = Vec::new();
        let mut height: f32 = 0.0;
        let mut at = left;
        if let Some((first, second)) = &beside.value {
            let first = self.lay(&Words::strong(first.as_str()), VALUE, value_wide - mm(1.0));
            let mut y = mm(0.8);
            let bottom = first.height();
            nodes.push(Node::Content(vec![Mark::text(first, at, y)]));
            y += bottom;
            if let Some(second) = second {
                let second = self.lay(&Words::plain(second.as_str()), SMALL, value_wide - mm(1.0));
                let bottom = second.height();
                nodes.push(Node::Content(vec![Mark::text(second, at, y)]));
                y += bottom;
            }
            height = y + mm(1.0);
            at += value_wide;
        }
        if let Some(field) = &beside.field {
            let (field, needed) = self.field(field, field_wide);
            nodes.extend(field.into_iter().map(|node| node.moved((at, mm(0.8)))));
            height = height.max(needed + mm(0.8));
        }
        (nodes, height)
    }

    /// A field with its words over a ruled line.
    pub fn field(&mut self, field: &Field, width: f32) -> (Vec<Node>, f32) {
        let label = self.lay(&Words::plain(field.label.as_str()), LABEL, width);
        let mut y = label.height();
        let mut nodes = vec![Node::Content(vec![Mark::text(label, 0.0, 0.0)])];
        match &field.entry {
            Some(entry) => {
                // A sign and a heavy frame are seen on a copy in black as well.
                let (left, edge) = if field.off { (mm(7.5), mm(1.2)) } else { (0.0, 0.0) };
                let laid = self.lay(&Words::strong(entry.as_str()), BODY, width - left - edge);
                let height = laid.height();
                if field.off {
                    let frame = Mark::Rect { rect: [0.0, y, width, height.max(BOX) + 2.0 * edge], edge: 2.4, ground: None };
                    nodes.push(Node::Plain(vec![frame]));
                    nodes.push(self.off_sign(edge, y + edge));
                }
                nodes.push(Node::Content(vec![Mark::text(laid, left, y + edge)]));
                y = (y + height.max(if field.off { BOX } else { 0.0 }) + 2.0 * edge).max(mm(8.0));
            }
            None => y = y.max(mm(8.0)),
        }
        nodes.push(Node::Plain(vec![Mark::rule(0.0, y, width, 0.8)]));
        (nodes, y + mm(1.0))
    }

    /// Words without a box.
    pub fn paragraph(&mut self, indent: f32, words: &Words, size: f32, after: f32) -> Vec<Piece> {
        let laid = self.lay(words, size, self.width - indent);
        let parts = laid.parts(TALLEST);
        let last = parts.len().saturating_sub(1);
        let make = |(at, part): (usize, Laid)| {
            let height = part.height() + if at == last { after } else { 0.0 };
            self.piece(height, vec![Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(part, indent, 0.0)])])])
        };
        parts.into_iter().enumerate().map(make).collect()
    }

    /// A row of a list in running words: its dot or number, then its words.
    pub fn item(&mut self, indent: f32, label: &str, words: &Words, size: f32) -> Vec<Piece> {
        let label = self.lay(&Words::plain(label), size, mm(12.0));
        let hang = indent + mm(if label.width() > mm(4.0) { 7.0 } else { 5.0 });
        let laid = self.lay(words, size, self.width - hang);
        let mut pieces = Vec::new();
        for (at, part) in laid.parts(TALLEST).into_iter().enumerate() {
            let height = part.height() + mm(0.8);
            let mut item = Vec::new();
            if at == 0 && !label.text.is_empty() {
                item.push(Node::Group(Role::Label, vec![Node::Content(vec![Mark::text(label.clone(), indent, 0.0)])]));
            }
            item.push(Node::Group(Role::Body, vec![Node::Content(vec![Mark::text(part, hang, 0.0)])]));
            pieces.push(self.piece(height, vec![Node::Group(Role::Item, item)]));
        }
        pieces
    }

    /// Rows with a box side by side in two columns, as a kit is checked.
    pub fn two_columns(&mut self, rows: &[(Tick, Words)]) -> Vec<Piece> {
        const PAD: f32 = mm(1.3);
        let gap = mm(5.0);
        let width = (self.width - gap) / 2.0;
        let text_at = BOX + mm(3.0);
        let mut pieces = Vec::new();
        for pair in rows.chunks(2) {
            let laid: Vec<Laid> = pair.iter().map(|(_, words)| self.lay(words, BODY, width - text_at)).collect();
            // A very long entry stands across and is cut where it must be.
            if laid.iter().any(|laid| laid.height() > TALLEST) {
                for (tick, words) in pair {
                    pieces.extend(self.row(0.0, *tick, words, &Words::default(), &Beside::default()));
                }
                continue;
            }
            let height = laid.iter().map(Laid::height).fold(BOX, f32::max) + 2.0 * PAD;
            let mut nodes = Vec::new();
            let mut rules = Vec::new();
            for (column, (laid, (tick, _))) in laid.into_iter().zip(pair).enumerate() {
                let x = column as f32 * (width + gap);
                let mut item = Vec::new();
                if *tick != Tick::Without {
                    item.push(Node::Group(Role::Label, vec![self.tick_box(x, PAD - mm(0.25), *tick == Tick::Done)]));
                }
                let text_at = if *tick == Tick::Without { 0.0 } else { text_at };
                item.push(Node::Group(Role::Body, vec![Node::Content(vec![Mark::text(laid, x + text_at, PAD)])]));
                nodes.push(Node::Group(Role::Item, item));
                rules.push(Mark::rule(x, height, width, 0.4));
            }
            nodes.push(Node::Plain(rules));
            pieces.push(self.piece(height, nodes));
        }
        pieces
    }

    /// A safety message: the signal word, the hazard, and how to avoid it.
    pub fn caution(&mut self, indent: f32, signal: &str, word: &str, words: &Words) -> Vec<Piece> {
        let word_wide = mm(34.0);
        let width = self.width - indent;
        let laid = self.lay(words, BODY, width - word_wide - mm(5.0));
        let mut pieces = Vec::new();
        for part in laid.parts(TALLEST) {
            let height = (part.height() + mm(3.4)).max(mm(9.0));
            let dark = signal == "danger";
            let ground = match signal {
                "danger" => Some(0),
                "warning" => Some(208),
                _ => None,
            };
            let signal_word = self.lay(&Words::strong(word), VALUE, word_wide);
            let symbol = if signal == "notice" { 0.0 } else { mm(6.0) };
            let x = indent + (word_wide - signal_word.width() - symbol) / 2.0;
            let y = mm(1.6);
            let mut panel = vec![Mark::Rect { rect: [indent, 0.0, word_wide, height], edge: 0.0, ground }];
            if ground.is_none() {
                panel.clear();
            }
            panel.push(Mark::Rect { rect: [indent, 0.0, width, height], edge: 1.2, ground: None });
            panel.push(Mark::Line { from: (indent + word_wide, 0.0), to: (indent + word_wide, height), width: 1.2 });
            let mut nodes = vec![Node::Plain(panel)];
            if symbol > 0.0 {
                nodes.push(Node::Plain(alert(x, y + mm(0.2), mm(4.8), dark)));
            }
            let told = Mark::Text { laid: signal_word, at: (x + symbol, y), white: dark };
            let message = vec![Node::Content(vec![told]), Node::Content(vec![Mark::text(part, indent + word_wide + mm(2.5), mm(1.7))])];
            nodes.push(Node::Group(Role::Paragraph, message));
            pieces.push(Piece { keep: true, ..self.piece(height + mm(1.2), nodes) });
        }
        pieces
    }

    /// A panel to sign in: words, then fields.
    pub fn sign(&mut self, indent: f32, words: &Words, fields: &[Field]) -> Piece {
        let width = self.width - indent;
        let field_wide = mm(38.0);
        let fields_wide = fields.len() as f32 * (field_wide + mm(3.0));
        let laid = self.lay(words, BODY, width - fields_wide - mm(4.0));
        let mut height = (laid.height() + mm(3.4)).max(mm(12.5));
        let mut body = vec![Node::Content(vec![Mark::text(laid, indent + mm(2.5), mm(1.7))])];
        for (at, field) in fields.iter().enumerate() {
            let x = self.width - fields_wide + at as f32 * (field_wide + mm(3.0));
            let (nodes, needed) = self.field(field, field_wide);
            height = height.max(needed + mm(2.6));
            body.extend(nodes.into_iter().map(|node| node.moved((x, mm(1.4)))));
        }
        let frame = Mark::Rect { rect: [indent, 0.0, width, height], edge: 1.6, ground: None };
        self.piece(height + mm(1.6), vec![Node::Plain(vec![frame]), Node::Group(Role::Paragraph, body)])
    }

    /// Pictures side by side, as many as fit, with their lines under them.
    pub fn pictures(&mut self, indent: f32, pictures: &[Picture]) -> Vec<Piece> {
        let gap = mm(5.0);
        let width = self.width - indent;
        let mut pieces = Vec::new();
        let mut row: Vec<(&Picture, f32, f32, f32)> = Vec::new();
        let mut used = 0.0;
        for picture in pictures {
            let (w, h) = match &picture.shown {
                Shown::Photo(_, (w, h)) => (w.max(1.0), h.max(1.0)),
                Shown::Drawing(drawing) => (drawing.width.max(1.0), drawing.height.max(1.0)),
            };
            let scale = (picture.widest.min(width) / w).min(picture.highest / h);
            if used > 0.0 && used + w * scale > width {
                pieces.push(self.picture_row(indent, gap, &row));
                row.clear();
                used = 0.0;
            }
            row.push((picture, w * scale, h * scale, scale));
            used += w * scale + gap;
        }
        if !row.is_empty() {
            pieces.push(self.picture_row(indent, gap, &row));
        }
        pieces
    }

    fn picture_row(&mut self, indent: f32, gap: f32, row: &[(&Picture, f32, f32, f32)]) -> Piece {
        let mut nodes = Vec::new();
        let mut x = indent;
        let mut height: f32 = 0.0;
        for (picture, w, h, scale) in row {
            let mark = match &picture.shown {
                Shown::Photo(jpeg, _) => Mark::Photo { jpeg: Rc::clone(jpeg), rect: [x, mm(1.0), *w, *h] },
                Shown::Drawing(drawing) => Mark::Drawing { drawing: Rc::clone(drawing), at: (x, mm(1.0)), scale: *scale },
            };
            let over = picture.over.as_ref().map(|over| Mark::Drawing {
                drawing: Rc::clone(over),
                at: (x, mm(1.0)),
                scale: w / over.width.max(1.0),
            });
            let marks = std::iter::once(mark).chain(over).collect();
            nodes.push(Node::Group(Role::Figure(picture.words.clone(), [x, mm(1.0), *w, *h]), vec![Node::Content(marks)]));
            let mut bottom = h + mm(1.0);
            if !picture.caption.is_empty() {
                let laid = self.lay(&Words::plain(picture.caption.as_str()), SMALL, w.max(mm(40.0)));
                let high = laid.height();
                nodes.push(Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(laid, x, bottom + mm(0.8))])]));
                bottom += high + mm(0.8);
            }
            height = height.max(bottom);
            x += w.max(if picture.caption.is_empty() { 0.0 } else { mm(40.0) }) + gap;
        }
        self.piece(height + mm(2.0), nodes)
    }

    /// A group of a step or another part that stays together where it can.
    pub fn section(&self, pieces: Vec<Piece>, again: Option<Piece>) -> Group {
        Group { whole: Whole::Section, together: true, again, space: mm(1.5), ..Group::loose(pieces) }
    }
}

/// The safety alert symbol of ANSI Z535.4: an exclamation mark in a triangle.
fn alert(x: f32, y: f32, side: f32, dark: bool) -> Vec<Mark> {
    let (ink, ground) = if dark { (0, 255) } else { (255, 0) };
    let at = |dx: f32, dy: f32| (x + side * dx, y + side * dy);
    vec![
        Mark::Shape { corners: vec![at(0.5, 0.0), at(1.0, 0.9), at(0.0, 0.9)], ground, edge: 0.0 },
        Mark::Shape { corners: vec![at(0.44, 0.3), at(0.56, 0.3), at(0.53, 0.62), at(0.47, 0.62)], ground: ink, edge: 0.0 },
        Mark::Shape { corners: vec![at(0.45, 0.68), at(0.55, 0.68), at(0.55, 0.79), at(0.45, 0.79)], ground: ink, edge: 0.0 },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_says_whether_it_is_ticked() {
        let mut desk = Desk { letters: Typesetter::default(), width: mm(180.0), done: 0, say: &crate::phrases::ENGLISH };
        let (open, ticked) = (Spoken::Instead("box to tick".to_owned()), Spoken::AsText("ticked".to_owned()));
        for (ticked, words, letters) in [(false, open, 0), (true, ticked, 1)] {
            let Node::Spoken(told, marks) = desk.tick_box(0.0, 0.0, ticked) else { panic!("a box is spoken") };
            let found = marks.iter().filter(|mark| matches!(mark, Mark::Text { .. })).count();
            assert_eq!((told, found), (words, letters));
        }
        assert!(desk.letters.faults.missing.is_empty());
        assert!((BOX * 25.4 / 72.0 - 5.0).abs() < 1e-4);
    }

    #[test]
    fn a_line_is_cut_by_its_letters_and_not_by_bytes_that_were_given() {
        let mut desk = Desk { letters: Typesetter::default(), width: mm(180.0), done: 0, say: &crate::phrases::ENGLISH };
        let text = "Größe 4 × M8 × 1.25 mit 16 N·m und 6 ± 1 mm für die Überwürfe der Brücke";
        for width in 10..150 {
            let laid = desk.one_line(text, true, SMALL, mm(width as f32));
            assert_eq!(laid.lines.len(), 1, "{width}");
            assert!(
                laid.text.replace('\u{a0}', " ").strip_suffix('…').is_none_or(|start| text.starts_with(start)),
                "{width}: {}",
                laid.text
            );
        }
    }
}
