//! Puts frame, content and what is open together into pages, and pages into a file.

use std::collections::BTreeMap;

use super::desk::Desk;
use super::flow::{Room, flow};
use super::frame::Frame;
use super::paper::mm;
use super::pdf::{self, About, Page, Part, PdfError};
use super::piece::{Group, Mark, Node, Piece, Role, Whole};
use super::words::Words;
use crate::document::open::Open;

/// The margins: left, where a sheet is punched, top, right and bottom.
const MARGINS: [f32; 4] = [mm(14.0), mm(9.0), mm(10.0), mm(8.0)];

/// The size of what is open at the end of a sheet.
const OPEN: f32 = 10.0;

/// So many things that are open have room at the end of a sheet.
pub const MOST_OPEN: usize = 60;

/// The width between the margins of a sheet.
pub fn width_of(size: (f32, f32)) -> f32 {
    size.0 - MARGINS[0] - MARGINS[2]
}

/// A sheet with its content, ready to be laid out.
pub struct Plan<'p> {
    /// What stands round the content.
    pub frame: Frame,
    /// The content.
    pub groups: Vec<Group>,
    /// What the file says of itself.
    pub about: About,
    /// The size of the paper.
    pub size: (f32, f32),
    /// What is open after so many operations; none where nothing is told of it.
    pub open: Option<&'p dyn Fn(usize) -> Open>,
}

/// Lays the plan out and writes the file.
pub fn compose(desk: &mut Desk, plan: Plan<'_>) -> Result<Vec<u8>, PdfError> {
    let Plan { frame, groups, about, size, open } = plan;
    let [left, top, _, bottom] = MARGINS;
    // A guess at the number of sheets is enough to know how high head and foot are.
    let head = frame.block(desk, 99).1;
    let strip = frame.strip(desk, 99, 99).1;
    let foot = frame.foot(desk, 99, 99).1;
    let mut tails: BTreeMap<usize, Piece> = BTreeMap::new();
    let end = size.1 - bottom - foot - mm(1.5);
    let mut tail = |done: usize| {
        let Some(open) = open else { return 0.0 };
        tails.entry(done).or_insert_with(|| open_box(desk, &open(done))).height
    };
    let sheets = flow(&groups, &mut Room { first: top + head, top: top + strip, bottom: end, tail: &mut tail });
    let of = sheets.len();
    let mut pages = Vec::with_capacity(of);
    for (number, sheet) in sheets.iter().enumerate() {
        let mut page = Page { under: frame.across(desk, size), ..Page::default() };
        let to_place = |nodes: Vec<Node>, y: f32| nodes.into_iter().map(move |node| node.moved((left, y))).collect::<Vec<_>>();
        if number == 0 {
            let (nodes, _) = frame.block(desk, of);
            page.parts.push(Part { group: 0, whole: Whole::Nothing, nodes: to_place(nodes, top), bookmark: None });
        } else {
            page.under.extend(to_place(frame.strip(desk, number + 1, of).0, top));
        }
        for placed in &sheet.placed {
            let group = &groups[placed.group];
            let piece = placed.piece.map(|piece| &group.pieces[piece]);
            let nodes = match piece {
                Some(piece) => piece.nodes.clone(),
                None => {
                    let again = match placed.head_of {
                        None if placed.held => group.held.as_ref(),
                        Some(row) => group.pieces[row].head.as_deref(),
                        None => group.again.as_ref(),
                    };
                    again.iter().flat_map(|piece| piece.nodes.clone()).flat_map(Node::silent).collect()
                }
            };
            let bookmark = piece.and_then(|piece| piece.bookmark.clone()).map(|(level, words)| (level, words, placed.y));
            page.parts.push(Part { group: placed.group + 1, whole: group.whole.clone(), nodes: to_place(nodes, placed.y), bookmark });
        }
        if let Some(tail) = tails.get(&sheet.done) {
            let last = sheet.placed.last().map(|placed| placed.group);
            let table = last.is_some_and(|group| matches!(groups[group].whole, Whole::Table(_)));
            let nodes = to_place(tail.nodes.clone(), end - tail.height);
            // A table that goes on over the sheet holds nothing but rows.
            let nodes = if table { nodes.into_iter().flat_map(Node::silent).collect() } else { nodes };
            let whole = last.map_or(Whole::Nothing, |group| groups[group].whole.clone());
            page.parts.push(Part { group: last.map_or(0, |group| group + 1), whole, nodes, bookmark: None });
        }
        let (nodes, height) = frame.foot(desk, number + 1, of);
        page.over = to_place(nodes, size.1 - bottom - height);
        pages.push(page);
    }
    pdf::write(&about, size, pages)
}

/// What is open at the end of a sheet, for who takes the work over.
fn open_box(desk: &mut Desk, open: &Open) -> Piece {
    let Open { named, more } = open;
    let mut words = Words::strong(format!("{} ", desk.say.open_at_end));
    words.push(&if named.is_empty() { desk.say.nothing.to_owned() } else { named.join(" · ") });
    if *more > 0 {
        words.push(&format!(" · {}", desk.say.and_more_open(more)));
    }
    let laid = desk.lay(&words, OPEN, desk.width - mm(5.0));
    let mut height = laid.height() + mm(3.0);
    let mut nodes = Vec::new();
    if !named.is_empty() {
        // Work that somebody else goes on with passes from hand to hand.
        let fields = [desk.say.handed_over_by, desk.say.taken_over_by, desk.say.date_time].map(|words| (words, String::new()));
        let at = (mm(2.5), mm(7.0) + height);
        nodes.extend(desk.ruled(&fields, desk.width - mm(5.0)).into_iter().map(|node| node.moved(at)));
        height += mm(6.5);
    }
    let frame = Mark::Rect { rect: [0.0, mm(2.0), desk.width, height], edge: 1.2, ground: None };
    let text = Node::Content(vec![Mark::text(laid, mm(2.5), mm(3.5))]);
    let mut all = vec![Node::Plain(vec![frame]), Node::Group(Role::Paragraph, vec![text])];
    all.extend(nodes);
    desk.piece(height + mm(2.0), all)
}
