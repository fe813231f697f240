//! What the program draws for a step: the faces of its connectors, the order of a tightening, and the boxes of its passes beside it.

use std::rc::Rc;

use super::checklist::Maker;
use super::desk::{Picture, SMALL, Shown, Tick};
use super::paper::mm;
use super::piece::{Mark, Node, Piece, Role};
use super::step::INDENT;
use super::typeset::Laid;
use super::words::Words;
use crate::document::words::Line;
use crate::document::{Ordered, Step};
use crate::drawing::told;

/// Up to so many fasteners each has a box of its own.
const MOST_BOXES: u32 = 24;

/// A pass of a tightening.
pub struct Pass {
    /// What it comes to.
    words: String,
    /// How many boxes it has.
    boxes: u32,
    /// Whether they are ticked.
    done: bool,
}

impl Maker<'_> {
    /// The faces of the connectors that a step works on.
    pub fn faces(&mut self, step: &Step) -> Vec<Picture> {
        let mut pictures = Vec::new();
        for connector in &step.connectors {
            let Some(drawn) = told::connector(connector, "f") else { continue };
            let Some(drawing) = self.drawing(&drawn.svg) else { continue };
            // The size that the letters were drawn for: 96 units to the inch.
            let natural = (drawing.width * 0.75, drawing.height * 0.75);
            pictures.push(Picture {
                words: drawn.words,
                shown: Shown::Drawing(drawing),
                caption: connector.name.clone(),
                over: None,
                widest: natural.0,
                highest: natural.1.min(mm(112.0)),
            });
        }
        pictures
    }

    /// The connectors that cannot be drawn, cavity by cavity.
    pub fn cavities(&mut self, step: &Step) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for connector in &step.connectors {
            let Some(why) = connector.not_drawn() else { continue };
            let mut head = Words::strong(connector.name.as_str());
            head.push(&format!(", {why}"));
            let mut made = self.desk.paragraph(INDENT, &head, SMALL, mm(0.6));
            made.iter_mut().for_each(|piece| piece.keep = true);
            pieces.extend(made);
            let last = connector.pins.len().saturating_sub(1);
            for (at, pin) in connector.pins.iter().enumerate() {
                let mut made = self.desk.item(INDENT, "•", &Words::plain(format!("{}: {}", pin.at, pin.words())), SMALL);
                made.iter_mut().for_each(|piece| piece.keep = at < last);
                pieces.extend(made);
            }
        }
        pieces
    }

    /// The passes with their boxes: one for each fastener on an empty sheet; in a record one for the pass, as the bay view has it.
    pub fn passes(&self, operation: &str, passes: &[Line], count: u32) -> Vec<Pass> {
        if self.job.record.is_some() {
            let pass = |(at, pass): (usize, &Line)| Pass {
                words: pass.text(),
                boxes: 1,
                done: self.tick(&format!("{operation}/pass/{}", at + 1)) == Tick::Done,
            };
            return passes.iter().enumerate().map(pass).collect();
        }
        if count < 2 {
            return Vec::new();
        }
        let all = if passes.is_empty() { vec![self.desk.say.done.to_owned()] } else { passes.iter().map(Line::text).collect() };
        let passes = all.into_iter().map(|words| {
            if count <= MOST_BOXES {
                Pass { words, boxes: count, done: false }
            } else {
                Pass { words: self.desk.say.pass_all(&words, count), boxes: 1, done: false }
            }
        });
        passes.collect()
    }

    /// An order drawn, with the boxes of its passes beside it.
    pub fn order(&mut self, order: Option<&Ordered>, words: &str, passes: &[Pass]) -> Vec<Piece> {
        let left = INDENT + mm(8.0);
        let mut nodes = Vec::new();
        let mut height: f32 = mm(1.0);
        let mut x = left;
        let drawn = order.map(|order| told::order(order, "o"));
        if let Some(drawn) = drawn
            && let Some(drawing) = self.drawing(&drawn.svg)
        {
            let wide = mm(32.0);
            let scale = (wide / drawing.width.max(1.0)).min(mm(44.0) / drawing.height.max(1.0));
            let (w, h) = (drawing.width * scale, drawing.height * scale);
            let mark = Mark::Drawing { drawing: Rc::clone(&drawing), at: (x, mm(1.5)), scale };
            nodes.push(Node::Group(Role::Figure(drawn.words, [x, mm(1.5), w, h]), vec![Node::Content(vec![mark])]));
            height = h + mm(2.5);
            x += wide + mm(5.0);
        }
        let width = self.desk.width - x;
        let mut y = mm(if nodes.is_empty() { 0.2 } else { 1.6 });
        if !words.is_empty() {
            let laid = self.desk.lay(&Words::strong(words), SMALL, width);
            let high = laid.height();
            nodes.push(Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(laid, x, y)])]));
            y += high;
        }
        let laid: Vec<Laid> = passes.iter().map(|pass| self.desk.lay(&Words::strong(pass.words.as_str()), SMALL, width)).collect();
        let column = laid.iter().map(Laid::width).fold(mm(9.0), f32::max) + mm(2.0);
        for (laid, pass) in laid.into_iter().zip(passes) {
            y = self.pass(laid, column, pass, (x, y), width, &mut nodes);
        }
        height = height.max(y + mm(0.5));
        let rule = Mark::rule(INDENT, height, self.desk.width - INDENT, 0.4);
        nodes.push(Node::Plain(vec![rule]));
        vec![self.desk.piece(height, nodes)]
    }

    /// A pass: what it comes to, and its boxes in the order of tightening. Gives back where it ends.
    fn pass(&mut self, words: Laid, column: f32, pass: &Pass, at: (f32, f32), width: f32, nodes: &mut Vec<Node>) -> f32 {
        let (mut x, mut y) = at;
        let boxes = pass.boxes;
        let mut width = width;
        let pitch = mm(if boxes > 9 { 11.0 } else { 9.4 });
        // The boxes stand behind the words where at least four have room there.
        let beside = words.lines.len() == 1 && width - column >= pitch * boxes.min(4) as f32;
        let high = words.height();
        nodes.push(Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(words, x, y + if beside { mm(0.5) } else { 0.0 })])]));
        if beside {
            x += column;
            width -= column;
        } else {
            y += high + mm(0.6);
        }
        let in_row = ((width / pitch).floor() as u32).max(1);
        for number in 0..boxes {
            let (row, column) = (number / in_row, number % in_row);
            let left = x + column as f32 * pitch;
            let top = y + row as f32 * mm(6.6);
            let digits = self.desk.lay(&Words::plain((number + 1).to_string()), SMALL, pitch);
            let wide = if boxes > 9 { mm(5.2) } else { mm(3.6) };
            let mut marks = Vec::new();
            if boxes > 1 {
                marks.push(Mark::text(digits.clone(), left + wide - digits.width() - mm(0.6), top + mm(0.6)));
            }
            let Node::Spoken(state, box_marks) = self.desk.tick_box(left + wide, top, pass.done) else { continue };
            marks.extend(box_marks);
            let spoken = if boxes > 1 { state.behind(&format!("{}, ", number + 1)) } else { state };
            nodes.push(Node::Group(Role::Paragraph, vec![Node::Spoken(spoken, marks)]));
        }
        y + boxes.div_ceil(in_row) as f32 * mm(6.6) + mm(0.8)
    }
}
