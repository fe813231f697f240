//! A step on a checklist: in full with a row for each operation, or short with what needs no value run together. Which steps apply was
//! decided before.

use std::rc::Rc;

use super::Form;
use super::checklist::Maker;
use super::desk::{BODY, Beside, Field, Picture, SMALL, Shown, Tick};
use super::paper::mm;
use super::piece::{Group, Mark, Node, Piece, Role};
use super::typeset::Laid;
use super::words::{Block, Words, blocks};
use crate::publish::page_data::{Caution, NamedValue, Operation, Step, Torque, Value};

/// Where the content of a step begins; the number stands left of it.
pub const INDENT: f32 = mm(11.0);
/// Up to so many fasteners each has a box of its own.
const MOST_BOXES: u32 = 24;

/// A value as words: the one that is worked to in bold, the other in brackets.
pub fn value_words(value: &Value) -> Words {
    let mut words = Words::strong(value.first.as_str());
    if let Some(second) = &value.second {
        words.push(&format!(" ({second})"));
    }
    words
}

/// The words of a caution.
pub fn caution_words(caution: &Caution) -> Words {
    let mut words = Words(Words::of_html(&caution.hazard_html).0.into_iter().map(|run| super::words::Run::strong(run.text)).collect());
    let rest = Words::of_html(&caution.rest_html);
    if !rest.is_empty() {
        words.push(" ");
        words.append(rest);
    }
    if let Some(when) = &caution.when {
        words.push(&format!(" ({when})"));
    }
    words
}

/// What an operation does, in words.
pub fn operation_words(operation: &Operation) -> Words {
    let mut words = Words::strong(operation.verb);
    let things = Some(operation.things.clone()).filter(|things| !things.is_empty());
    let parts: Vec<String> = things.into_iter().chain(operation.hardware.iter().cloned()).chain(operation.how.iter().cloned()).collect();
    words.push(&format!(" {}", parts.join(", ")));
    if let Some(when) = &operation.when {
        words.push(&format!(" ({when})"));
    }
    words
}

/// What has to be known beside: other values, how it is tightened, tools.
pub fn operation_details(operation: &Operation, with_value: bool) -> Words {
    let mut words = Words::default();
    let mut next = |part: Words| {
        if !words.is_empty() {
            words.push(" · ");
        }
        words.append(part);
    };
    for spec in &operation.specs {
        next(named_words(spec));
    }
    if let Some(torque) = &operation.torque {
        if with_value {
            next(value_words(&torque.value));
        }
        torque_details(torque).into_iter().for_each(|part| next(Words::plain(part)));
    }
    if !operation.tools.is_empty() {
        next(Words::plain(format!("with {}", operation.tools.join(", "))));
    }
    words
}

/// How a torque is reached: passes, order, state of the thread, wrench and what it is set to.
pub fn torque_details(torque: &Torque) -> Vec<String> {
    let passes = torque.stages.as_ref().map(|stages| format!("in passes: {stages}"));
    let parts = [&passes, &torque.pattern, &torque.condition, &torque.wrench, &torque.setting, &torque.note];
    parts.into_iter().flatten().cloned().collect()
}

fn named_words(named: &NamedValue) -> Words {
    let mut words = Words::plain(format!("{} ", named.name));
    words.append(value_words(&named.value));
    words
}

impl Maker<'_> {
    /// A step with everything that belongs to it.
    pub fn step(&mut self, step: &Step) -> Group {
        let pieces = match self.job.form {
            Form::Full => self.full(step),
            Form::Short => self.short(step),
        };
        let again = self.continued(step);
        self.desk.section(pieces, Some(again))
    }

    fn full(&mut self, step: &Step) -> Vec<Piece> {
        let mut title = Words::strong(step.title.as_str());
        if let Some(when) = &step.when {
            title.push(&format!(" ({when})"));
        }
        let right = step.minutes.clone().unwrap_or_default();
        let mut pieces = vec![self.desk.step_head(step.number, &title, &right, INDENT)];
        self.cautions(INDENT, &step.cautions, &mut pieces);
        let faces = self.faces(step);
        self.words_and_faces(INDENT, &step.html, faces, &mut pieces);
        let named = |tools: &[String]| Words::plain(format!("Tools: {}", tools.join(", ")));
        if !step.tools.is_empty() {
            pieces.extend(self.desk.paragraph(INDENT, &named(&step.tools), SMALL, mm(1.0)));
        }
        for operation in &step.operations {
            self.operation(operation, &mut pieces);
        }
        for spec in &step.specs {
            pieces.extend(self.desk.row(INDENT, Tick::Open, &named_words(spec), &Words::default(), &Beside::default()));
        }
        if let Some(wait) = &step.wait {
            let mut words = Words::strong("Wait");
            words.push(&format!(" {wait}"));
            let beside = Beside { field: Some(Field::new("until")), ..Beside::default() };
            pieces.extend(self.desk.row(INDENT, self.blank(), &words, &Words::default(), &beside));
        }
        for (at, check) in step.checks_html.iter().enumerate() {
            let mut words = Words::strong("Check ");
            words.append(Words::of_html(check));
            let tick = self.tick(&format!("{}/check/{}", step.id, at + 1));
            pieces.extend(self.desk.row(INDENT, tick, &words, &Words::default(), &Beside::default()));
        }
        self.end_of_step(step, &mut pieces);
        pieces
    }

    /// The step in as few rows as hold all of it: what has a value keeps a row of its own, what has none is run together.
    fn short(&mut self, step: &Step) -> Vec<Piece> {
        let mut head = Words::strong(format!("{} {}", step.number, step.title));
        if let Some(when) = &step.when {
            head.push(&format!(" ({when})"));
        }
        let mut pieces = Vec::new();
        for caution in &step.cautions {
            let mut words = Words::strong(format!("{}: ", caution.word));
            words.append(caution_words(caution));
            let mut made = self.desk.paragraph(mm(8.0), &words, SMALL, mm(0.6));
            made.iter_mut().for_each(|piece| piece.keep = true);
            pieces.extend(made);
        }
        let mut run = Words::default();
        let mut rows: Vec<(Words, Option<&Operation>)> = Vec::new();
        for operation in &step.operations {
            if operation.torque.is_some() {
                if !run.is_empty() {
                    rows.push((std::mem::take(&mut run), None));
                }
                rows.push((operation_words(operation), Some(operation)));
                continue;
            }
            let details = operation_details(operation, false);
            let mut words = operation_words(operation);
            if !details.is_empty() {
                words.push(", ");
                words.append(details);
            }
            join(&mut run, words);
        }
        step.specs.iter().for_each(|spec| join(&mut run, named_words(spec)));
        if let Some(wait) = &step.wait {
            let mut words = Words::strong("Wait");
            words.push(&format!(" {wait}"));
            join(&mut run, words);
        }
        for check in &step.checks_html {
            let mut words = Words::strong("Check ");
            words.append(Words::of_html(check));
            join(&mut run, words);
        }
        if !run.is_empty() {
            rows.push((run, None));
        }
        let first_has_value = rows.first().is_none_or(|(_, operation)| operation.is_some());
        let step_tick = self.step_tick(step);
        let before = self.desk.done;
        let mut rows = rows.into_iter();
        let details = if first_has_value { Words::default() } else { rows.next().map(|row| row.0).unwrap_or_default() };
        let mut made = self.desk.row(0.0, step_tick, &head, &details, &Beside::default());
        if let Some(first) = made.first_mut() {
            first.bookmark = Some((2, format!("{} {}", step.number, step.title)));
            first.keep = true;
        }
        pieces.extend(made);
        for (words, operation) in rows {
            match operation {
                Some(operation) => {
                    let beside = self.applied(operation);
                    let details = operation_details(operation, false);
                    let tick = self.tick(&operation.id);
                    pieces.extend(self.desk.row(mm(8.0), tick, &words, &details, &beside));
                }
                None => pieces.extend(self.desk.row(mm(8.0), Tick::Without, &Words::default(), &words, &Beside::default())),
            }
        }
        // Where operations are run together, a sheet that ends inside the step ends before all of it.
        self.desk.done = before + step.operations.len();
        if let Some(last) = pieces.last_mut() {
            last.done = self.desk.done;
        }
        self.end_of_step(step, &mut pieces);
        pieces
    }

    /// The head of a step that goes on over the sheet.
    fn continued(&mut self, step: &Step) -> Piece {
        let words = Words::strong(format!("{} {}, continued", step.number, step.title));
        let laid = self.desk.lay(&words, SMALL, self.desk.width);
        let height = laid.height() + mm(1.5);
        self.desk.piece(height, vec![Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(laid, 0.0, 0.0)])])])
    }

    fn end_of_step(&mut self, step: &Step, pieces: &mut Vec<Piece>) {
        for note in self.notes_of(&step.id) {
            let mut words = Words::strong("Note: ");
            words.push(&note);
            pieces.extend(self.desk.row(INDENT, Tick::Without, &words, &Words::default(), &Beside::default()));
        }
        if let Some(who) = &step.hold_point {
            let mut words = Words::strong("Stop. ");
            words.push(&format!("{who} signs before work goes on."));
            let signed = self.signed_at(&step.id);
            let fields = [Field::filled("Signature", signed.as_deref()), Field::new("Date, time")];
            if let Some(last) = pieces.last_mut() {
                last.keep = true;
            }
            let space = self.desk.piece(mm(1.2), Vec::new());
            pieces.push(Piece { keep: true, ..space });
            pieces.push(self.desk.sign(INDENT, &words, &fields));
        }
    }

    /// The cautions of a place, each kept with what comes after it.
    pub fn cautions(&mut self, indent: f32, cautions: &[Caution], pieces: &mut Vec<Piece>) {
        for caution in cautions {
            pieces.extend(self.desk.caution(indent, caution.signal, &caution.word, &caution_words(caution)));
        }
    }

    /// Running words with their pictures.
    pub fn words(&mut self, indent: f32, html: &str, pieces: &mut Vec<Piece>) {
        self.words_and_faces(indent, html, Vec::new(), pieces);
    }

    /// The same with the faces of connectors beside or after the pictures.
    fn words_and_faces(&mut self, indent: f32, html: &str, faces: Vec<Picture>, pieces: &mut Vec<Piece>) {
        let mut read = blocks(html);
        // One picture stands beside its words where they leave it room.
        let lone = read.iter().filter(|block| matches!(block, Block::Picture { .. })).count() == 1;
        let plain = read.iter().all(|block| matches!(block, Block::Picture { .. } | Block::Paragraph(_) | Block::Item { .. }));
        let at = read.iter().position(|block| matches!(block, Block::Picture { .. })).filter(|_| lone && plain && read.len() > 1);
        let picture = at.and_then(|at| match read.remove(at) {
            Block::Picture { file, words, caption, over } => self.picture(&file, words, caption, over),
            _ => None,
        });
        match picture {
            Some(picture) if faces.is_empty() => pieces.extend(self.beside(indent, &read, picture)),
            picture => {
                self.blocks(indent, read, pieces);
                let shown: Vec<Picture> = picture.into_iter().chain(faces).collect();
                pieces.extend(self.desk.pictures(indent, &shown));
            }
        }
    }

    /// Words at the left, and their picture at the right.
    fn beside(&mut self, indent: f32, read: &[Block], picture: Picture) -> Vec<Piece> {
        let gap = mm(5.0);
        let full = self.desk.width;
        let wide = mm(81.0);
        let mut words = Vec::new();
        self.desk.width = full - wide - gap;
        self.blocks(indent, read.to_vec(), &mut words);
        self.desk.width = full;
        let height: f32 = words.iter().map(|piece| piece.height).sum();
        if height > mm(110.0) {
            let mut pieces = Vec::new();
            self.blocks(indent, read.to_vec(), &mut pieces);
            pieces.extend(self.desk.pictures(indent, &[picture]));
            return pieces;
        }
        let mut nodes = Vec::new();
        let mut y = 0.0;
        for piece in words {
            nodes.extend(piece.nodes.into_iter().map(|node| node.moved((0.0, y))));
            y += piece.height;
        }
        for piece in self.desk.pictures(full - wide, &[picture]) {
            nodes.extend(piece.nodes);
            y = y.max(piece.height);
        }
        vec![self.desk.piece(y, nodes)]
    }

    fn blocks(&mut self, indent: f32, read: Vec<Block>, pieces: &mut Vec<Piece>) {
        let mut shown: Vec<Picture> = Vec::new();
        for block in read {
            if !matches!(block, Block::Picture { .. }) {
                pieces.extend(self.desk.pictures(indent, &std::mem::take(&mut shown)));
            }
            match block {
                Block::Paragraph(words) => pieces.extend(self.desk.paragraph(indent, &words, BODY, mm(1.6))),
                Block::Heading(words) => {
                    let strong = Words::strong(words.text());
                    let mut made = self.desk.paragraph(indent, &strong, BODY, mm(1.0));
                    made.iter_mut().for_each(|piece| piece.keep = true);
                    pieces.extend(made);
                }
                Block::Item { depth, label, words } => {
                    pieces.extend(self.desk.item(indent + mm(5.0) * depth as f32, &label, &words, BODY));
                }
                Block::Code(text) => pieces.extend(self.desk.paragraph(indent, &Words::plain(text), SMALL, mm(1.6))),
                Block::Picture { file, words, caption, over } => shown.extend(self.picture(&file, words, caption, over)),
                Block::Table { head, rows } => {
                    for row in super::table::plain(&mut self.desk, indent, &head, &rows) {
                        pieces.push(row);
                    }
                }
            }
        }
        pieces.extend(self.desk.pictures(indent, &shown));
    }

    /// A picture of the guide; one that cannot be had is told in words.
    fn picture(&mut self, file: &str, words: String, caption: String, over: Option<String>) -> Option<Picture> {
        let shown = self.shown(file)?;
        let over = over.and_then(|svg| self.drawing(&svg));
        Some(Picture { shown, words, caption, over, widest: mm(81.0), highest: mm(58.0) })
    }

    fn faces(&mut self, step: &Step) -> Vec<Picture> {
        let mut pictures = Vec::new();
        for face in &step.faces {
            let Some(drawing) = self.drawing(&face.svg) else { continue };
            // The size that the letters were drawn for: 96 units to the inch.
            let natural = (drawing.width * 0.75, drawing.height * 0.75);
            pictures.push(Picture {
                words: spoken(&face.svg),
                shown: Shown::Drawing(drawing),
                caption: face.name.clone(),
                over: None,
                widest: natural.0,
                highest: natural.1.min(mm(130.0)),
            });
        }
        pictures
    }

    fn operation(&mut self, operation: &Operation, pieces: &mut Vec<Piece>) {
        let tick = self.tick(&operation.id);
        let beside = if operation.torque.is_some() { self.applied(operation) } else { Beside::default() };
        self.desk.done += 1;
        let mut made = self.desk.row(INDENT, tick, &operation_words(operation), &operation_details(operation, false), &beside);
        let mut below = Vec::new();
        if let Some(svg) = &operation.loosening_svg {
            below.extend(self.order(svg, "Undo in this order", &[], 0));
        }
        if let Some(torque) = &operation.torque {
            let count = if self.job.record.is_none() { torque.count } else { 0 };
            if torque.order_svg.is_some() || count > 1 {
                below.extend(self.order(torque.order_svg.as_deref().unwrap_or_default(), "", &torque.passes, count));
            }
        }
        if !below.is_empty() {
            // The line under the row comes after what belongs to it.
            if let Some(last) = made.last_mut() {
                last.nodes.retain(|node| !matches!(node, Node::Plain(_)));
            }
            made.iter_mut().for_each(|piece| piece.keep = true);
            let last = below.len() - 1;
            below.iter_mut().take(last).for_each(|piece| piece.keep = true);
        }
        pieces.extend(made);
        pieces.extend(below);
    }

    /// The value and the field for what was applied.
    fn applied(&self, operation: &Operation) -> Beside {
        let Some(torque) = &operation.torque else { return Beside::default() };
        let value = (torque.value.first.clone(), torque.value.second.clone());
        let entry = self.applied_entry(&operation.id);
        Beside { value: Some(value), field: Some(Field::filled("applied", entry.as_deref())) }
    }

    /// An order drawn, with a box for each fastener in each pass beside it.
    fn order(&mut self, svg: &str, words: &str, passes: &[String], count: u32) -> Vec<Piece> {
        let left = INDENT + mm(8.0);
        let mut nodes = Vec::new();
        let mut height: f32 = mm(1.0);
        let mut x = left;
        if let Some(drawing) = self.drawing(svg) {
            let wide = mm(38.0);
            let scale = (wide / drawing.width.max(1.0)).min(mm(50.0) / drawing.height.max(1.0));
            let (w, h) = (drawing.width * scale, drawing.height * scale);
            let mark = Mark::Drawing { drawing: Rc::clone(&drawing), at: (x, mm(1.5)), scale };
            nodes.push(Node::Group(Role::Figure(spoken(svg), [x, mm(1.5), w, h]), vec![Node::Content(vec![mark])]));
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
        if count > 1 {
            let boxes = if count <= MOST_BOXES { count } else { 1 };
            let words = passes.iter().map(|pass| {
                let words = if pass.is_empty() { "done" } else { pass };
                if boxes == 1 { format!("{words}: all {count}") } else { words.to_owned() }
            });
            let laid: Vec<Laid> = words.map(|words| self.desk.lay(&Words::strong(words), SMALL, width)).collect();
            let column = laid.iter().map(Laid::width).fold(mm(9.0), f32::max) + mm(2.0);
            for laid in laid {
                y = self.pass(laid, column, boxes, (x, y), width, &mut nodes);
            }
        }
        height = height.max(y + mm(0.5));
        let rule = Mark::rule(INDENT, height, self.desk.width - INDENT, 0.4);
        nodes.push(Node::Plain(vec![rule]));
        vec![self.desk.piece(height, nodes)]
    }

    /// A pass: what it comes to, and its boxes in the order of tightening. Gives back where it ends.
    fn pass(&mut self, words: Laid, column: f32, boxes: u32, at: (f32, f32), width: f32, nodes: &mut Vec<Node>) -> f32 {
        let (mut x, mut y) = at;
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
            let Node::Spoken(_, box_marks) = super::piece::tick_box(left + wide, top, false) else { continue };
            marks.extend(box_marks);
            nodes.push(Node::Group(Role::Paragraph, vec![Node::Spoken(format!("{}, box to tick", number + 1), marks)]));
        }
        y + boxes.div_ceil(in_row) as f32 * mm(6.6) + mm(0.8)
    }
}

fn join(run: &mut Words, words: Words) {
    if !run.is_empty() {
        run.push(" · ");
    }
    run.append(words);
}

/// What a drawing of the program says to who does not see it: its title and description.
fn spoken(svg: &str) -> String {
    let part = |tag: &str| {
        let start = svg.find(&format!("<{tag}"))?;
        let rest = svg[start..].split_once('>')?.1;
        Some(Words::of_html(rest.split("</").next().unwrap_or_default()).text())
    };
    [part("title"), part("desc")].into_iter().flatten().collect::<Vec<_>>().join(". ")
}
