//! A step on a checklist: in full with a row for each operation, or short with what needs no value run together. Which steps apply was
//! decided before.

use super::Form;
use super::checklist::Maker;
use super::desk::{Beside, Field, SMALL, Tick};
use super::paper::mm;
use super::piece::{BOX, Group, Mark, Node, Piece, Role};
use super::words::{Words, value_words};
use crate::document::words::{self, Block, Line};
use crate::document::{Caution, Departure, NamedValue, Operation, Standing, Step, Torque, phrase};
use crate::guide::moment::clock;
use crate::guide::tally;
use crate::phrases::Phrases;
use crate::source::Spanned;

/// More letters than these behind a sentence are words of their own.
const MOST_BEHIND: usize = 60;
/// So many letters stand in one line of a row.
const IN_ONE_LINE: usize = 88;
/// Where the content of a step begins; the number stands left of it.
pub const INDENT: f32 = mm(11.0);

/// What still holds takes no more of a sheet than this.
const MOST_HELD: f32 = mm(50.0);

/// Where the bar beside a changed step stands: in the margin.
const BAR: f32 = -mm(2.5);

/// What an operation does, in words, less its condition.
fn operation_words(say: &Phrases, operation: &Operation) -> Words {
    let mut words = Words::strong(operation.verb.word());
    let things = Some(operation.things()).filter(|things| !things.is_empty());
    let hardware = operation.hardware.iter().map(crate::document::Fasteners::words);
    let parts: Vec<String> = things.into_iter().chain(hardware).chain(operation.how_words(say)).collect();
    words.push(&format!(" {}", parts.join(", ")));
    words
}

/// What has to be known beside: other values, how it is tightened, tools. The passes are left out where they stand beside their boxes.
fn operation_details(say: &Phrases, operation: &Operation, with_passes: bool) -> Words {
    let mut words = Words::default();
    let mut next = |part: Words| {
        if !words.is_empty() {
            words.push(" · ");
        }
        words.append(part);
    };
    // What is measured has a row of its own, with a field.
    operation.values.iter().filter(|value| value.bounds.is_none()).for_each(|value| next(named_words(value)));
    if let Some(torque) = &operation.torque {
        torque_details(say, torque, with_passes).into_iter().for_each(&mut next);
    }
    let tools: Vec<&str> = operation.tools.iter().filter(|tool| !tool.of_torque).map(|tool| tool.name.as_str()).collect();
    if !tools.is_empty() {
        next(Words::plain(say.with_option(tools.join(", "))));
    }
    words
}

/// How a torque is reached: passes, order, state of the thread, wrench, and in bold what it is set to where that is another number.
pub fn torque_details(say: &Phrases, torque: &Torque, with_passes: bool) -> Vec<Words> {
    let passes = torque.passes_words().filter(|_| with_passes).map(|passes| say.in_passes(passes));
    let before = [passes, torque.pattern_words(), torque.condition.clone(), torque.wrench.clone()].into_iter().flatten().map(Words::plain);
    let setting = torque.setting.iter().map(|setting| Words::strong(setting.text()));
    before.chain(setting).chain(torque.note.iter().map(|text| Words::plain(text.as_str()))).collect()
}

/// Whether values are read off and written down.
fn measures(operation: &Operation) -> bool {
    operation.values.iter().any(|value| value.bounds.is_some())
}

fn named_words(named: &NamedValue) -> Words {
    let mut words = Words::plain(format!("{} ", named.name));
    words.append(value_words(&named.value));
    words
}

impl Maker<'_> {
    /// The words of a caution.
    fn caution_words(&self, caution: &Caution) -> Words {
        let Caution { signal: _, hazard, result, avoid, until, when } = caution;
        let mut words = Words(Words::of(hazard).0.into_iter().map(|run| super::words::Run::strong(run.text)).collect());
        for more in [result, avoid].into_iter().flatten() {
            words.push(" ");
            words.append(Words::of(more));
        }
        if let Some(last) = until {
            words.push(&format!(" {}", self.guide.say.holds_until(last.number)));
        }
        if let Some(when) = self.when(when) {
            words.push(&format!(" ({when})"));
        }
        words
    }

    /// What an operation does, in words.
    fn operation_words(&self, operation: &Operation) -> Words {
        let mut words = operation_words(self.guide.say, operation);
        if let Some(when) = self.when(&operation.when) {
            words.push(&format!(" ({when})"));
        }
        words
    }

    /// A step with everything that belongs to it.
    pub fn step(&mut self, step: &Step) -> Group {
        let mut pieces = match self.job.form {
            Form::Full => self.full(step),
            Form::Short => self.short(step),
        };
        if self.guide.since.as_ref().is_some_and(|since| since.is_in(&step.id)) {
            for piece in &mut pieces {
                let bar = Mark::Line { from: (BAR, 0.0), to: (BAR, piece.height), width: 2.0 };
                piece.nodes.push(Node::Plain(vec![bar]));
            }
        }
        let again = self.desk.continued(&format!("{} {}", step.number, step.title));
        let held = self.held(step);
        Group { held, ..self.desk.section(pieces, Some(again)) }
    }

    /// What still holds, for the top of a sheet that begins with the step.
    pub fn held(&mut self, step: &Step) -> Option<Piece> {
        if step.standing.is_empty() {
            return None;
        }
        let say = self.guide.say;
        let from =
            |standing: &Standing| standing.from.as_ref().map_or(say.before_the_first_step.to_owned(), |from| say.step_at(from.number));
        let mut words = Words::strong(format!("{} ", say.still_holds_here));
        for (at, standing) in step.standing.iter().enumerate() {
            let caution = Caution { until: None, ..standing.caution.clone() };
            words.push_strong(&format!("{}{} ", if at > 0 { "   " } else { "" }, caution.word()));
            words.push(&format!("({}) ", from(standing)));
            words.append(self.caution_words(&caution));
        }
        let width = self.desk.width - mm(5.0);
        let mut laid = self.desk.lay(&words, SMALL, width);
        if laid.height() > MOST_HELD {
            // What would take half the sheet is named, and read where it is stated.
            let named = step.standing.iter().map(|standing| say.caution_of(standing.caution.word(), from(standing)));
            let mut words = Words::strong(format!("{} ", say.still_holds_here));
            words.push(&named.collect::<Vec<_>>().join(", "));
            laid = self.desk.lay(&words, SMALL, width);
        }
        let height = laid.height() + mm(2.4);
        let frame = Mark::Rect { rect: [0.0, 0.0, self.desk.width, height], edge: 1.2, ground: None };
        let text = Node::Content(vec![Mark::text(laid, mm(2.5), mm(1.2))]);
        Some(self.desk.piece(height + mm(2.0), vec![Node::Plain(vec![frame]), Node::Group(Role::Paragraph, vec![text])]))
    }

    /// A departure from the supplier's sheet, without a box: it is nothing that is done.
    pub fn departure(&mut self, indent: f32, head: &str, departure: &Departure, pieces: &mut Vec<Piece>) {
        let Departure { says, does, why, approved, source } = departure;
        let mut words = Words::strong(head);
        let source = source.as_ref().map(|source| format!(" ({source})")).unwrap_or_default();
        let say = self.guide.say;
        let labels = [format!("{}{source}: ", say.sheet_says), format!(" · {}: ", say.done_here), format!(" · {}: ", say.why)];
        for (label, line) in labels.iter().zip([says, does, why]) {
            words.push_strong(label);
            words.append(Words::of(line));
        }
        words.push_strong(&format!(" · {}: ", say.departure_approved));
        words.push(approved.as_deref().unwrap_or("____________"));
        pieces.extend(self.desk.row(indent, Tick::Without, &Words::default(), &words, &Beside::default()));
    }

    fn full(&mut self, step: &Step) -> Vec<Piece> {
        let mut title = Words::strong(step.title.as_str());
        if let Some(when) = self.when(&step.when) {
            title.push(&format!(" ({when})"));
        }
        // Paper says when the step is told in the video; the code of the sheet leads to the page, and that to the moment.
        let moment = step.moment.filter(|_| self.guide.video.is_some()).map(|at| self.guide.say.video_at(clock(at)));
        let minutes = step.minutes.map(|minutes| tally::minutes_words(u64::from(minutes)));
        let right = moment.into_iter().chain(minutes).collect::<Vec<_>>().join(" · ");
        let mut pieces = vec![self.desk.step_head(step.number, &title, &right, INDENT)];
        self.cautions(INDENT, &step.cautions, &mut pieces);
        let faces = self.faces(step);
        let told = step.operations.iter().any(|operation| operation.told);
        if !told {
            self.words_and_faces(INDENT, &step.words, faces, &mut pieces);
        } else if !faces.is_empty() {
            pieces.extend(self.desk.pictures(INDENT, &faces));
        }
        let cavities = self.cavities(step);
        pieces.extend(cavities);
        if !step.tools.is_empty() {
            let tools: Vec<&str> = step.tools.iter().map(|tool| tool.name.as_str()).collect();
            pieces.extend(self.desk.paragraph(
                INDENT,
                &Words::plain(self.guide.say.at_place(self.guide.say.tools, tools.join(", "))),
                SMALL,
                mm(1.0),
            ));
        }
        for operation in step.operations.iter().filter(|operation| !operation.told) {
            self.operation(operation, None, &mut pieces);
        }
        if told {
            self.told_rows(step, &mut pieces);
        }
        // A value that is told is nothing that is done.
        for spec in &step.values {
            pieces.extend(self.desk.row(INDENT, Tick::Without, &named_words(spec), &Words::default(), &Beside::default()));
        }
        if let Some(wait) = &step.wait {
            let mut words = Words::strong(self.guide.say.wait);
            words.push(&format!(" {}", phrase::duration(wait)));
            let beside = Beside { field: Some(Field::filled(self.guide.say.until, self.waited_until(&step.id))), ..Beside::default() };
            let tick = self.tick(&format!("{}/wait", step.id));
            let from = self.waited_from(&step.id);
            pieces.extend(self.desk.row(INDENT, tick, &words, &from, &beside));
        }
        for (at, check) in step.checks.iter().enumerate() {
            let mut words = Words::strong(format!("{} ", self.guide.say.check));
            words.append(Words::of(check));
            let tick = self.tick(&format!("{}/check/{}", step.id, at + 1));
            pieces.extend(self.desk.row(INDENT, tick, &words, &Words::default(), &Beside::default()));
        }
        self.end_of_step(step, &mut pieces);
        pieces
    }

    /// The words of a step in their order: a sentence that tells an operation is its row, what stands between is read.
    fn told_rows(&mut self, step: &Step, pieces: &mut Vec<Piece>) {
        let tells = |block: &Spanned<Block>| matches!(block.value, Block::Told { .. });
        let before = pieces.len();
        let blocks = with_picture_beside(&step.words);
        let mut chunks = blocks.chunk_by(|one, next| !tells(one) && !tells(next)).peekable();
        while let Some(some) = chunks.next() {
            let [Spanned { value: Block::Told { label, operations, words: told }, span: _ }] = some else {
                // The line under a row is not the words' own.
                if pieces.len() > before {
                    let space = self.desk.piece(mm(0.6), Vec::new());
                    pieces.push(Piece { keep: true, ..space });
                }
                self.words(INDENT, some, pieces);
                // A row brings its own space.
                if let Some(last) = pieces.last_mut().filter(|last| chunks.peek().is_some() && last.height > mm(4.0)) {
                    last.height -= mm(1.0);
                }
                continue;
            };
            let mut pictures = Vec::new();
            let mut sentence = Words::told(label.as_deref(), told, &mut pictures);
            // A few words up to the next row belong to this one, as they do on the page.
            let narrow = operations.iter().filter_map(|id| step.operation(id)).any(|operation| operation.torque.is_some());
            if let Some([Spanned { value: Block::Paragraph(after), span: _ }]) = chunks.peek()
                && !narrow
                && words::text(after).chars().count() <= MOST_BEHIND
            {
                sentence.push(" ");
                sentence.append(Words::told(None, after, &mut pictures));
                chunks.next();
            }
            let mut sentence = Some(sentence);
            for operation in operations.iter().filter_map(|id| step.operation(id)) {
                self.operation(operation, sentence.take(), pieces);
            }
            self.shown_in_line(INDENT, &pictures, pieces);
        }
    }

    /// The step in as few rows as hold all of it: what has a value keeps a row of its own, what has none is run together.
    fn short(&mut self, step: &Step) -> Vec<Piece> {
        let mut head = Words::strong(format!("{} {}", step.number, step.title));
        if let Some(when) = self.when(&step.when) {
            head.push(&format!(" ({when})"));
        }
        let mut pieces = Vec::new();
        for caution in &step.cautions {
            let mut words = Words::strong(format!("{}: ", caution.word()));
            words.append(self.caution_words(caution));
            let mut made = self.desk.paragraph(mm(8.0), &words, SMALL, mm(0.6));
            made.iter_mut().for_each(|piece| piece.keep = true);
            pieces.extend(made);
        }
        let mut run = Words::default();
        let mut rows: Vec<(Words, Option<&Operation>)> = Vec::new();
        for operation in &step.operations {
            if operation.torque.is_some() || measures(operation) {
                if !run.is_empty() {
                    rows.push((std::mem::take(&mut run), None));
                }
                rows.push((self.operation_words(operation), Some(operation)));
                continue;
            }
            let details = operation_details(self.guide.say, operation, true);
            let mut words = self.operation_words(operation);
            if !details.is_empty() {
                words.push(", ");
                words.append(details);
            }
            join(&mut run, words);
        }
        step.values.iter().for_each(|spec| join(&mut run, named_words(spec)));
        if let Some(wait) = &step.wait {
            let mut words = Words::strong(self.guide.say.wait);
            words.push(&format!(" {}", phrase::duration(wait)));
            if let Some(until) = self.waited_until(&step.id) {
                words.push(", ");
                words.append(self.waited_from(&step.id));
                words.push(&format!(" {} {until}", self.guide.say.until));
            }
            join(&mut run, words);
        }
        for check in &step.checks {
            let mut words = Words::strong(format!("{} ", self.guide.say.check));
            words.append(Words::of(check));
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
                    let mut details = operation_details(self.guide.say, operation, true);
                    join(&mut details, self.applied_note(&operation.id));
                    let tick = self.tick(&operation.id);
                    pieces.extend(self.desk.row(mm(8.0), tick, &words, &details, &beside));
                    self.measured(operation, mm(8.0) + BOX + mm(3.0), &mut pieces);
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

    fn end_of_step(&mut self, step: &Step, pieces: &mut Vec<Piece>) {
        for departure in &step.departures {
            self.departure(INDENT, &format!("{} ", self.guide.say.departs_from_sheet), departure, pieces);
        }
        for note in self.notes_of(&step.id) {
            let mut words = Words::strong(format!("{}: ", self.guide.say.note));
            words.push(&note);
            pieces.extend(self.desk.row(INDENT, Tick::Without, &words, &Words::default(), &Beside::default()));
        }
        if let Some(who) = &step.hold_point {
            let mut words = Words::strong(format!("{} ", self.guide.say.stop_sentence));
            words.push(&self.guide.say.signs_before_on(who));
            let signed = self.signed_at(&step.id);
            let (name, time) = (signed.map(|(name, _)| name), signed.and_then(|(_, time)| time));
            let fields = [Field::filled(self.guide.say.name_signature, name), Field::filled(self.guide.say.date_time, time)];
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
            let words = self.caution_words(caution);
            pieces.extend(self.desk.caution(indent, caution.signal.key(), &caution.word(), &words));
        }
    }

    /// A row for an operation, in the words of the sentence that tells it where there is one: its facts then stand below.
    fn operation(&mut self, operation: &Operation, sentence: Option<Words>, pieces: &mut Vec<Piece>) {
        let tick = self.tick(&operation.id);
        let beside = if operation.torque.is_some() { self.applied(operation) } else { Beside::default() };
        self.desk.done += 1;
        let passes = operation.torque.as_ref().map(|torque| self.passes(&operation.id, &torque.passes, torque.count)).unwrap_or_default();
        // Where nothing is undone in passes, there is no box for them.
        let undone = if operation.undo_passes.is_empty() {
            Vec::new()
        } else {
            self.passes(&operation.id, &operation.undo_passes, operation.undo_count)
        };
        let mut details = operation_details(self.guide.say, operation, passes.is_empty());
        let told = sentence.is_some();
        let words = match sentence {
            Some(sentence) => {
                let mut facts = Words::plain(operation_words(self.guide.say, operation).text());
                join(&mut facts, details);
                details = facts;
                let mut words = sentence;
                if let Some(when) = self.when(&operation.when) {
                    words.push(&format!(" ({when})"));
                }
                words
            }
            None => self.operation_words(operation),
        };
        if undone.is_empty() && !operation.undo_passes.is_empty() {
            let passes: Vec<String> = operation.undo_passes.iter().map(Line::text).collect();
            join(&mut details, Words::plain(self.guide.say.undone_in_passes(passes.join(self.guide.say.then))));
        }
        join(&mut details, self.applied_note(&operation.id));
        // What a sentence leaves room for stands in its line.
        let mut words = words;
        if told && operation.torque.is_none() && words.text().chars().count() + details.text().chars().count() < IN_ONE_LINE {
            words.push("  ·  ");
            words.append(std::mem::take(&mut details));
        }
        let mut made = self.desk.row(INDENT, tick, &words, &details, &beside);
        let mut below = Vec::new();
        if operation.undoing.is_some() || !undone.is_empty() {
            let words = if operation.undoing.is_some() { self.guide.say.undo_in_order_head } else { self.guide.say.undo_in_passes };
            below.extend(self.order(operation.undoing.as_ref(), words, &undone));
        }
        if let Some(torque) = &operation.torque
            && (torque.order.is_some() || !passes.is_empty())
        {
            below.extend(self.order(torque.order.as_ref(), "", &passes));
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
        self.measured(operation, INDENT + BOX + mm(3.0), pieces);
    }

    /// A row for each value that is measured: what it has to be, and a field for what it is.
    fn measured(&mut self, operation: &Operation, indent: f32, pieces: &mut Vec<Piece>) {
        for (at, spec) in operation.values.iter().enumerate().filter(|(_, value)| value.bounds.is_some()) {
            if let Some(last) = pieces.last_mut() {
                last.keep = true;
            }
            let entry = self.measured_entry(&operation.id, at + 1);
            let value = spec.value.pair();
            let off = self.measured_off(&operation.id, at + 1, spec);
            let beside = Beside { value: Some(value), field: Some(Field { off, ..Field::filled("measured", entry.as_deref()) }) };
            let why = self.measured_note(&operation.id, at + 1);
            pieces.extend(self.desk.row(indent, Tick::Without, &Words::plain(spec.name.as_str()), &why, &beside));
        }
    }

    /// The value and the field for what was applied.
    fn applied(&self, operation: &Operation) -> Beside {
        let Some(torque) = &operation.torque else { return Beside::default() };
        let value = torque.value.pair();
        let entry = self.applied_entry(&operation.id);
        let off = self.applied_off(&operation.id, torque);
        Beside { value: Some(value), field: Some(Field { off, ..Field::filled("applied", entry.as_deref()) }) }
    }
}

/// The words of a step with its only picture before the longest piece of words between two rows, where it can stand beside them: by itself it
/// would take as much of the sheet again.
fn with_picture_beside(words: &[Spanned<Block>]) -> Vec<Spanned<Block>> {
    /// Fewer letters than this are lower than a picture.
    const ENOUGH: usize = 160;
    let mut words = words.to_vec();
    let is_figure = |block: &Spanned<Block>| matches!(block.value, Block::Figure { .. });
    let Some(at) = words.iter().position(is_figure).filter(|_| words.iter().filter(|block| is_figure(block)).count() == 1) else {
        return words;
    };
    let figure = words.remove(at);
    let longest = words
        .iter()
        .enumerate()
        .map(|(at, block)| (at, if let Block::Paragraph(words) = &block.value { words::text(words).len() } else { 0 }))
        .max_by_key(|(_, length)| *length)
        .filter(|(_, length)| *length >= ENOUGH);
    words.insert(longest.map_or(at, |(at, _)| at), figure);
    words
}

fn join(run: &mut Words, words: Words) {
    if words.is_empty() {
        return;
    }
    if !run.is_empty() {
        run.push(" · ");
    }
    run.append(words);
}
