//! Tables: rows that are never broken, and a head that stands again on every sheet.

use std::rc::Rc;

use super::desk::{BODY, Desk, LABEL, SMALL, Tick};
use super::paper::mm;
use super::piece::{BOX, Group, Mark, Node, Piece, Role, Whole};
use super::typeset::Laid;
use super::words::Words;

/// What stands in a cell.
#[derive(Clone, Debug)]
pub enum Cell {
    /// Words.
    Words(Words),
    /// A value in two units, one over the other.
    Value(String, Option<String>),
    /// A box.
    Box(Tick),
    /// Room to write.
    Empty,
}

/// A column: its head, and its share of the width.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its head.
    pub head: &'static str,
    /// Its share.
    pub share: f32,
}

/// A column of a share of the width.
pub fn column(head: &'static str, share: f32) -> Column {
    Column { head, share }
}

const PAD: f32 = mm(1.2);
/// No cell is higher than this in one row.
const TALLEST: f32 = mm(150.0);

/// A table over the whole width.
pub fn table(desk: &mut Desk, about: &str, columns: &[Column], rows: Vec<Vec<Cell>>) -> Group {
    let sum: f32 = columns.iter().map(|column| column.share).sum();
    let widths: Vec<f32> = columns.iter().map(|column| column.share / sum * desk.width).collect();
    let heads: Vec<Words> = columns.iter().map(|column| Words::strong(column.head)).collect();
    let mut head = row(desk, 0.0, &widths, heads.iter().map(|words| vec![(words.clone(), SMALL)]).collect(), &[], true).remove(0);
    head.keep = true;
    let again = head.clone();
    let mut pieces = vec![head];
    for cells in rows {
        let mut boxes = vec![None; cells.len()];
        let texts: Vec<Vec<(Words, f32)>> = cells
            .into_iter()
            .enumerate()
            .map(|(at, cell)| match cell {
                Cell::Words(words) => vec![(words, SMALL)],
                Cell::Value(first, None) => vec![(Words::strong(first), BODY)],
                Cell::Value(first, Some(second)) => vec![(Words::strong(first), BODY), (Words::plain(second), SMALL)],
                Cell::Box(tick) => {
                    boxes[at] = Some(tick);
                    Vec::new()
                }
                Cell::Empty => Vec::new(),
            })
            .collect();
        pieces.extend(row(desk, 0.0, &widths, texts, &boxes, false));
    }
    Group { whole: Whole::Table(about.to_owned()), again: Some(again), space: mm(1.5), ..Group::loose(pieces) }
}

/// A table inside running words: its rows one after the other, without tags of a table, since it stands in a section.
pub fn plain(desk: &mut Desk, indent: f32, head: &[Words], rows: &[Vec<Words>]) -> Vec<Piece> {
    let count = rows.iter().map(Vec::len).chain([head.len()]).max().unwrap_or(1).max(1);
    let widths = vec![(desk.width - indent) / count as f32; count];
    let cells = |row: &[Words]| -> Vec<Vec<(Words, f32)>> {
        (0..count).map(|at| row.get(at).map(|words| vec![(words.clone(), SMALL)]).unwrap_or_default()).collect()
    };
    let bold: Vec<Words> = head.iter().map(|words| Words::strong(words.text())).collect();
    let mut pieces = row(desk, indent, &widths, cells(&bold), &[], true);
    pieces.iter_mut().for_each(|piece| piece.keep = true);
    // A head of several pieces is a text and no head.
    let again = if let [head] = pieces.as_slice() { Some(Rc::new(head.clone())) } else { None };
    for cells_of in rows {
        let mut made = row(desk, indent, &widths, cells(cells_of), &[], false);
        made.iter_mut().for_each(|piece| piece.head.clone_from(&again));
        pieces.extend(made);
    }
    for piece in &mut pieces {
        let nodes = std::mem::take(&mut piece.nodes);
        piece.nodes = nodes.into_iter().map(untabled).collect();
    }
    pieces.push(desk.piece(mm(1.6), Vec::new()));
    pieces
}

/// A row of a table as plain paragraphs.
fn untabled(node: Node) -> Node {
    match node {
        Node::Group(Role::Row, cells) => Node::Group(Role::Division, cells.into_iter().map(untabled).collect()),
        Node::Group(Role::Cell | Role::Head, nodes) => Node::Group(Role::Paragraph, nodes),
        other => other,
    }
}

/// A row; one whose cells are very high comes in several.
fn row(desk: &mut Desk, indent: f32, widths: &[f32], cells: Vec<Vec<(Words, f32)>>, boxes: &[Option<Tick>], head: bool) -> Vec<Piece> {
    let mut columns: Vec<Vec<Vec<Laid>>> = Vec::new();
    for (texts, width) in cells.into_iter().zip(widths) {
        // The parts of a cell: texts one under the other, cut where they would be too high.
        let mut parts: Vec<Vec<Laid>> = vec![Vec::new()];
        for (words, size) in texts {
            for part in desk.lay(&words, size, width - 2.0 * PAD).parts(TALLEST) {
                let height: f32 = parts.last().map_or(0.0, |laid| laid.iter().map(Laid::height).sum());
                if height + part.height() > TALLEST {
                    parts.push(Vec::new());
                }
                if let Some(last) = parts.last_mut() {
                    last.push(part);
                }
            }
        }
        columns.push(parts);
    }
    let count = columns.iter().map(Vec::len).max().unwrap_or(1);
    let mut pieces = Vec::new();
    for at in 0..count {
        let mut nodes = Vec::new();
        let mut height: f32 = if at == 0 && boxes.iter().any(Option::is_some) { BOX } else { LABEL };
        let mut x = indent;
        for (number, (parts, width)) in columns.iter_mut().zip(widths).enumerate() {
            let mut content = Vec::new();
            let mut y = PAD;
            for laid in parts.get_mut(at).map(std::mem::take).unwrap_or_default() {
                let high = laid.height();
                content.push(Node::Content(vec![Mark::text(laid, x + PAD, y)]));
                y += high;
            }
            if let Some(tick) = boxes.get(number).copied().flatten().filter(|tick| at == 0 && *tick != Tick::Without) {
                content.push(desk.tick_box(x + PAD, PAD, tick == Tick::Done));
            }
            height = height.max(y - PAD);
            let role = if head && !content.is_empty() { Role::Head } else { Role::Cell };
            nodes.push(Node::Group(role, content));
            x += width;
        }
        height += 2.0 * PAD;
        let width: f32 = widths.iter().sum();
        let rule = Mark::rule(indent, height, width, if head { 1.2 } else { 0.4 });
        pieces.push(desk.piece(height, vec![Node::Group(Role::Row, nodes), Node::Plain(vec![rule])]));
    }
    pieces
}
