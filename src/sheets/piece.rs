//! Pieces of a sheet: what is drawn, where, and what it is to somebody who hears it read. A piece is never broken; how pieces fill
//! sheets is left to the flow, how they become a file to `pdf`. Lengths are points, from the upper left corner of the piece.

use std::rc::Rc;

use super::drawing::Drawing;
use super::paper::mm;
use super::typeset::Laid;

/// Something to draw.
#[derive(Clone, Debug)]
pub enum Mark {
    /// Text.
    Text {
        /// The lines.
        laid: Laid,
        /// Left edge and upper edge.
        at: (f32, f32),
        /// White on a dark ground instead of black.
        white: bool,
    },
    /// A line.
    Line {
        /// Where it starts.
        from: (f32, f32),
        /// Where it ends.
        to: (f32, f32),
        /// How thick it is.
        width: f32,
    },
    /// A rectangle.
    Rect {
        /// Left, top, width, height.
        rect: [f32; 4],
        /// How thick its edge is; 0 for none.
        edge: f32,
        /// How light its ground is, from 0 for black to 255; none for no ground.
        ground: Option<u8>,
    },
    /// A filled shape with straight edges.
    Shape {
        /// Its corners.
        corners: Vec<(f32, f32)>,
        /// How light it is.
        ground: u8,
        /// How thick its black edge is; 0 for none.
        edge: f32,
    },
    /// A circle.
    Circle {
        /// Its middle.
        at: (f32, f32),
        /// Its radius.
        radius: f32,
        /// How thick its edge is.
        edge: f32,
    },
    /// Large pale letters, turned round their middle.
    Stamp {
        /// The letters.
        laid: Laid,
        /// Their middle.
        middle: (f32, f32),
        /// By how many degrees they are turned, clockwise.
        turn: f32,
    },
    /// Dark squares of a QR code.
    Squares {
        /// Left and top.
        at: (f32, f32),
        /// The side of a square.
        side: f32,
        /// The rows, from the top; true is dark.
        rows: Rc<Vec<Vec<bool>>>,
    },
    /// A photo, as a JPEG file.
    Photo {
        /// The file.
        jpeg: Rc<Vec<u8>>,
        /// Left, top, width, height.
        rect: [f32; 4],
    },
    /// A drawing.
    Drawing {
        /// What is drawn.
        drawing: Rc<Drawing>,
        /// Left and top.
        at: (f32, f32),
        /// How much larger than its own size.
        scale: f32,
    },
}

/// What a part of a piece is.
#[derive(Clone, Debug, PartialEq)]
pub enum Role {
    /// A heading of a level.
    Heading(u16),
    /// A paragraph.
    Paragraph,
    /// A row of a list; rows that follow each other are one list.
    Item,
    /// The mark before a row of a list.
    Label,
    /// The words of a row of a list.
    Body,
    /// A row of a table.
    Row,
    /// A cell that heads its column.
    Head,
    /// A cell.
    Cell,
    /// A picture with what it shows, and left, top, width, height.
    Figure(String, [f32; 4]),
    /// A link to an address, with left, top, width, height of where it is followed from.
    Link(String, [f32; 4]),
    /// Parts that belong together.
    Division,
}

/// A part of a piece.
#[derive(Clone, Debug)]
pub enum Node {
    /// Parts with a role.
    Group(Role, Vec<Node>),
    /// What is read.
    Content(Vec<Mark>),
    /// What is drawn and read as these words.
    Spoken(Spoken, Vec<Mark>),
    /// What is drawn and not read.
    Plain(Vec<Mark>),
}

/// What marks without letters say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spoken {
    /// Words for who hears the sheet.
    Instead(String),
    /// Words that are also taken for text, so that a copy of the text still proves them: that a box is ticked, that an entry is not as asked for.
    AsText(String),
}

impl Spoken {
    /// The same with something said before it.
    pub fn behind(self, before: &str) -> Self {
        match self {
            Spoken::Instead(words) => Spoken::Instead(format!("{before}{words}")),
            Spoken::AsText(words) => Spoken::AsText(format!("{before}{words}")),
        }
    }
}

impl Node {
    /// Moves the part down and to the right.
    pub fn moved(mut self, by: (f32, f32)) -> Self {
        match &mut self {
            Node::Group(role, nodes) => {
                if let Role::Figure(_, rect) | Role::Link(_, rect) = role {
                    rect[0] += by.0;
                    rect[1] += by.1;
                }
                *nodes = std::mem::take(nodes).into_iter().map(|node| node.moved(by)).collect();
            }
            Node::Content(marks) | Node::Spoken(_, marks) | Node::Plain(marks) => marks.iter_mut().for_each(|mark| mark.shift(by)),
        }
        self
    }

    /// The part as decoration: drawn and not read.
    pub fn silent(self) -> Vec<Node> {
        match self {
            Node::Group(_, nodes) => nodes.into_iter().flat_map(Node::silent).collect(),
            Node::Content(marks) | Node::Spoken(_, marks) | Node::Plain(marks) => vec![Node::Plain(marks)],
        }
    }
}

impl Mark {
    /// Moves the mark down and to the right.
    pub fn shift(&mut self, by: (f32, f32)) {
        let shift = |at: &mut (f32, f32)| *at = (at.0 + by.0, at.1 + by.1);
        match self {
            Mark::Text { at, .. } | Mark::Circle { at, .. } | Mark::Squares { at, .. } | Mark::Drawing { at, .. } => shift(at),
            Mark::Line { from, to, .. } => {
                shift(from);
                shift(to);
            }
            Mark::Rect { rect, .. } | Mark::Photo { rect, .. } => {
                rect[0] += by.0;
                rect[1] += by.1;
            }
            Mark::Stamp { middle, .. } => shift(middle),
            Mark::Shape { corners, .. } => corners.iter_mut().for_each(shift),
        }
    }

    /// Black text.
    pub fn text(laid: Laid, x: f32, y: f32) -> Mark {
        Mark::Text { laid, at: (x, y), white: false }
    }

    /// A level line.
    pub fn rule(x: f32, y: f32, length: f32, width: f32) -> Mark {
        Mark::Line { from: (x, y), to: (x + length, y), width }
    }
}

/// A piece.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    /// How high it is.
    pub height: f32,
    /// Its parts in the order of reading.
    pub nodes: Vec<Node>,
    /// Whether it stays with the next one.
    pub keep: bool,
    /// How many operations are done when work has come to its end.
    pub done: usize,
    /// Its bookmark: a level from 1 and the words.
    pub bookmark: Option<(usize, String)>,
    /// The head of the table whose row it is, which stands again over the first row of each further sheet.
    pub head: Option<Rc<Piece>>,
}

/// What pieces of a group are together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whole {
    /// Nothing more than the pieces.
    Nothing,
    /// A section with a title.
    Section,
    /// A table with what it is about.
    Table(String),
}

/// Pieces that belong together.
#[derive(Clone, Debug)]
pub struct Group {
    /// What they are together.
    pub whole: Whole,
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// Whether they stay on one sheet where one sheet holds them.
    pub together: bool,
    /// Whether they stay with the first piece of the next group.
    pub leads: bool,
    /// What stands again at the top of each further sheet.
    pub again: Option<Piece>,
    /// What stands at the top of a sheet that begins with any of its pieces.
    pub held: Option<Piece>,
    /// The space above, left out at the top of a sheet.
    pub space: f32,
}

impl Group {
    /// Pieces that may be parted.
    pub fn loose(pieces: Vec<Piece>) -> Self {
        Group { whole: Whole::Nothing, pieces, together: false, leads: false, again: None, held: None, space: 0.0 }
    }
}

/// The side of a box to tick: 5 mm.
pub const BOX: f32 = mm(5.0);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moved_part_takes_its_figure_along() {
        let figure =
            Node::Group(Role::Figure("order".to_owned(), [1.0, 2.0, 3.0, 4.0]), vec![Node::Content(vec![Mark::rule(1.0, 2.0, 3.0, 0.4)])]);
        let Node::Group(Role::Figure(_, rect), nodes) = figure.moved((10.0, 20.0)) else { panic!("still a figure") };
        assert_eq!(rect, [11.0, 22.0, 3.0, 4.0]);
        let [Node::Content(marks)] = nodes.as_slice() else { panic!("{nodes:?}") };
        assert!(matches!(marks[0], Mark::Line { from: (11.0, 22.0), to: (14.0, 22.0), .. }));
    }
}
