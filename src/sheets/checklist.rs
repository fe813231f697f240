//! The checklist of a guide: what a technician works down and signs. Steps are made in `step`.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::desk::{BODY, Beside, Desk, Field, LABEL, SMALL, Shown, Tick};
use super::drawing::{Drawing, Reader};
use super::paper::mm;
use super::piece::{Group, Mark, Node, Piece, Role};
use super::table::{Cell, column, table};
use super::words::{Words, value_words};
use super::{Form, Job, Kind};
use crate::document::open::Books;
use crate::document::value::Value;
use crate::document::when::When;
use crate::document::words::{Line, Picture};
use crate::document::{Caution, Circuit, Counted, Document, Tool, phrase};
use crate::guide::picture::PictureKind;
use crate::phrases::Phrases;

/// Makes the content of sheets for one job.
pub struct Maker<'j> {
    /// What is asked for.
    pub job: &'j Job<'j>,
    /// Which sheet it is.
    pub kind: Kind,
    /// The guide with what applies.
    pub guide: &'j Document,
    /// Where pieces are made.
    pub desk: Desk,
    reader: Option<Reader>,
    drawings: BTreeMap<String, Rc<Drawing>>,
    photos: BTreeMap<String, Rc<Vec<u8>>>,
    /// What could not be shown, for who asked for the sheet.
    pub notes: Vec<String>,
}

impl<'j> Maker<'j> {
    /// A maker with an empty desk.
    pub fn new(job: &'j Job<'j>, kind: Kind, guide: &'j Document, desk: Desk) -> Self {
        Maker { job, kind, guide, desk, reader: None, drawings: BTreeMap::new(), photos: BTreeMap::new(), notes: Vec::new() }
    }

    /// All groups of the checklist.
    pub fn checklist(&mut self) -> Vec<Group> {
        let guide = self.guide;
        let mut groups = vec![self.order_fields(), self.facts()];
        groups.extend(self.record_state());
        if self.job.form == Form::Short {
            let words = Words::strong(guide.say.short_form);
            groups.push(Group { space: mm(1.5), ..Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(0.5))) });
        }
        groups.extend(self.changed());
        groups.extend(self.before());
        let counted = |counts: &[Counted]| counts.iter().map(|count| (self.blank(), counted_words(count, guide))).collect::<Vec<_>>();
        let kit: Vec<(Tick, Words)> = counted(&guide.parts).into_iter().chain(counted(&guide.kit_hardware)).collect();
        let off = counted(&guide.vehicle_hardware);
        for (title, rows) in [(guide.say.kit_complete, kit), (guide.say.off_the_vehicle, off)] {
            if !rows.is_empty() {
                groups.push(self.desk.heading(title));
                let again = Some(self.desk.continued(title));
                groups.push(Group { again, ..Group::loose(self.desk.two_columns(&rows)) });
            }
        }
        groups.extend(self.needed());
        if self.job.form == Form::Full && !guide.intro.is_empty() {
            let mut pieces = Vec::new();
            self.words(0.0, &guide.intro, &mut pieces);
            groups.push(Group { space: mm(3.0), ..Group::loose(pieces) });
        }
        for phase in &guide.phases {
            let held = phase.steps.first().and_then(|step| self.held(step));
            let heading = self.desk.heading(phase.title.as_deref().unwrap_or(guide.say.steps));
            groups.push(Group { held, ..heading });
            if self.job.form == Form::Full && !phase.words.is_empty() {
                let mut pieces = Vec::new();
                self.words(0.0, &phase.words, &mut pieces);
                groups.push(Group { space: mm(1.0), ..Group::loose(pieces) });
            }
            for step in &phase.steps {
                groups.push(self.step(step));
            }
        }
        if !guide.circuits.is_empty() {
            groups.push(self.desk.heading(guide.say.circuits_laid));
            groups.push(self.circuits());
        }
        groups.extend(self.departures());
        groups.extend(self.never_closed());
        groups.extend(self.lines(guide.say.final_checks, "final", &guide.final_checks));
        groups.extend(self.lines(guide.say.follow_up, "follow-up", &guide.follow_up));
        groups.extend(self.signed_off());
        groups.extend(self.sources());
        groups
    }

    /// What is used up, what has to be bought and what else is to be ready, in lists of their own.
    pub fn needed(&mut self) -> Vec<Group> {
        let guide = self.guide;
        let used = |buy: bool| {
            let rows = guide.consumables.iter().filter(|row| row.buy == buy);
            rows.map(|row| (self.blank(), Words::plain(row.words(&guide.choices)))).collect::<Vec<_>>()
        };
        let ready = guide.ready.iter().map(|line| (self.blank(), Words::of(line))).collect();
        let mut groups = Vec::new();
        for (title, rows) in [(guide.say.used_up, used(false)), (guide.say.to_buy, used(true)), (guide.say.have_ready, ready)] {
            if !rows.is_empty() {
                groups.push(self.desk.heading(title));
                let again = Some(self.desk.continued(title));
                groups.push(Group { again, ..Group::loose(self.desk.two_columns(&rows)) });
            }
        }
        groups
    }

    /// What the bars in the margin mean, and which steps have one.
    fn changed(&mut self) -> Option<Group> {
        let (since, say) = (self.guide.since.as_ref()?, self.guide.say);
        let steps: Vec<String> = self.guide.steps().filter(|step| since.is_in(&step.id)).map(|step| step.number.to_string()).collect();
        let mut words = Words::strong(format!("{} ", say.changed_since_head(&since.revision, phrase::date(since.issued))));
        words.push(&match steps.as_slice() {
            [] => say.no_step.to_owned(),
            _ => say.steps_with_bar(steps.len(), steps.join(", ")),
        });
        Some(Group { space: mm(1.5), ..Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(0.5))) })
    }

    /// Every departure from the supplier's sheet in one list.
    fn departures(&mut self) -> Vec<Group> {
        let guide = self.guide;
        let mut pieces = Vec::new();
        for step in guide.steps() {
            for departure in &step.departures {
                self.departure(0.0, &format!("{} ", guide.say.step_with_title(step.number, &step.title)), departure, &mut pieces);
            }
        }
        if pieces.is_empty() {
            return Vec::new();
        }
        vec![self.desk.heading(guide.say.departures), Group::loose(pieces)]
    }

    /// What no step closes again, before the final checks: a sheet that ends there must not look finished.
    fn never_closed(&mut self) -> Option<Group> {
        let operations = self.guide.steps().map(|step| step.operations.len()).sum();
        let open = Books::new(self.guide, self.job.chosen).open_after(operations, usize::MAX).named;
        if open.is_empty() || self.job.record.is_some() {
            return None;
        }
        let mut words = Words::strong(format!("{} ", self.guide.say.still_open_at_end));
        words.push(&open.join("; "));
        Some(Group { space: mm(3.0), ..Group::loose(self.desk.paragraph(0.0, &words, BODY, mm(1.0))) })
    }

    /// A condition in words; none where it always holds.
    pub fn when(&self, when: &When) -> Option<String> {
        self.guide.when_words(when)
    }

    /// A box that the record knows nothing of: to be ticked on an empty sheet, and left out of a record.
    pub fn blank(&self) -> Tick {
        if self.job.record.is_some() { Tick::Without } else { Tick::Open }
    }

    /// Whether what has this id is ticked.
    pub fn tick(&self, id: &str) -> Tick {
        match self.job.record {
            Some(record) if record.ticks.iter().any(|tick| tick == id) => Tick::Done,
            _ => Tick::Open,
        }
    }

    fn entry(&self, of: impl Fn(&crate::record::RecordOrder) -> &str) -> Option<&'j str> {
        self.job.record.map(|record| of(&record.order))
    }

    /// Fields for the order and the vehicle.
    pub fn order_fields(&mut self) -> Group {
        let say = self.guide.say;
        let mut rows = vec![
            vec![
                (Field::filled(say.work_order, self.entry(|order| &order.order)), 1.0),
                (Field::filled(say.registration, self.entry(|order| &order.registration)), 1.0),
                (Field::filled(say.vin, self.entry(|order| &order.vin)), 1.7),
                (Field::filled(say.odometer, self.entry(|order| &order.odometer)), 1.0),
            ],
            vec![
                (Field::filled(say.technician, self.entry(|order| &order.technician)), 1.7),
                (Field::filled(say.started, self.entry(|order| &order.started)), 1.0),
                (Field::filled(say.finished, self.entry(|order| &order.finished)), 1.0),
            ],
        ];
        // An empty sheet lists what the guide fits; a record says which of them it was.
        if let Some(vehicle) = self.entry(|order| &order.vehicle).filter(|vehicle| !vehicle.trim().is_empty()) {
            rows[1].insert(0, (Field::filled(say.vehicle, Some(vehicle)), 1.7));
        }
        // A kit is packed by somebody else, and on another day.
        if self.kind == Kind::Packing {
            rows.pop();
        }
        let pieces = rows.iter().map(|row| self.filled_cells(row)).collect();
        Group { together: true, ..Group::loose(pieces) }
    }

    /// Cells to write in, side by side, each with its share of the width.
    fn filled_cells(&mut self, row: &[(Field, f32)]) -> Piece {
        let sum: f32 = row.iter().map(|(_, share)| share).sum();
        let mut height = mm(11.0);
        let mut nodes = Vec::new();
        let mut lines = Vec::new();
        let mut x = 0.0;
        for (field, share) in row {
            let width = share / sum * self.desk.width;
            let label = self.desk.lay(&Words::plain(field.label.as_str()), LABEL, width);
            let mut marks = vec![Node::Content(vec![Mark::text(label.clone(), x + mm(1.2), mm(0.6))])];
            if let Some(entry) = &field.entry {
                let laid = self.desk.lay(&Words::strong(entry.as_str()), BODY, width - mm(2.4));
                height = height.max(label.height() + laid.height() + mm(2.0));
                marks.push(Node::Content(vec![Mark::text(laid, x + mm(1.2), label.height() + mm(1.0))]));
            }
            nodes.push(Node::Group(Role::Paragraph, marks));
            if x > 0.0 {
                lines.push(x);
            }
            x += width;
        }
        let mut frame = vec![Mark::Rect { rect: [0.0, 0.0, self.desk.width, height], edge: 0.8, ground: None }];
        frame.extend(lines.into_iter().map(|x| Mark::Line { from: (x, 0.0), to: (x, height), width: 0.6 }));
        nodes.push(Node::Plain(frame));
        self.desk.piece(height, nodes)
    }

    /// What it fits, the time, and the options that are still open.
    fn facts(&mut self) -> Group {
        let guide = self.guide;
        let mut words = Words::default();
        let mut tell = |label: &str, text: String| {
            if !text.is_empty() {
                words.push_strong(&format!("{}{label} ", if words.is_empty() { "" } else { "   " }));
                words.push(&text);
            }
        };
        tell(guide.say.fits, guide.head.fits.iter().map(|vehicle| vehicle.name.clone()).collect::<Vec<_>>().join("; "));
        tell(guide.say.not_for, guide.not_for.join("; "));
        tell(guide.say.time, phrase::time(&guide.head).unwrap_or_default());
        let mut pieces = self.desk.paragraph(0.0, &words, SMALL, mm(1.0));
        let open = guide.choices.iter().flat_map(|choice| &choice.options).filter(|option| self.job.chosen.of(&option.id).is_none());
        let rows: Vec<(Tick, Words)> = open.map(|option| (self.blank(), Words::plain(option.name.as_str()))).collect();
        if !rows.is_empty() && self.job.record.is_none() {
            let mut made = self.desk.paragraph(0.0, &Words::strong(guide.say.this_vehicle_has), BODY, mm(0.4));
            made.iter_mut().for_each(|piece| piece.keep = true);
            pieces.extend(made);
            pieces.extend(self.desk.two_columns(&rows));
        }
        Group { space: mm(2.0), ..Group::loose(pieces) }
    }

    fn before(&mut self) -> Vec<Group> {
        let guide = self.guide;
        if guide.cautions.is_empty() && guide.before.is_empty() && guide.tools.is_empty() {
            return Vec::new();
        }
        let mut groups = vec![self.desk.heading(guide.say.before_you_start)];
        // Grouped safety messages stand before the procedure, the gravest first (ANSI Z535.6).
        let mut cautions: Vec<&Caution> = guide.cautions.iter().collect();
        cautions.sort_by_key(|caution| caution.signal);
        let mut pieces = Vec::new();
        for caution in cautions {
            self.cautions(0.0, std::slice::from_ref(caution), &mut pieces);
        }
        for (at, line) in guide.before.iter().enumerate() {
            let tick = self.tick(&format!("before/{}", at + 1));
            pieces.extend(self.desk.row(0.0, tick, &Words::of(line), &Words::default(), &Beside::default()));
        }
        if !pieces.is_empty() {
            groups.push(Group { space: mm(1.0), ..Group::loose(pieces) });
        }
        let (wrenches, others): (Vec<&Tool>, Vec<&Tool>) = guide.tools.iter().partition(|tool| tool.is_wrench);
        let mut pieces = Vec::new();
        for tool in wrenches {
            pieces.extend(self.wrench(tool));
        }
        let rows: Vec<(Tick, Words)> = others
            .into_iter()
            .map(|tool| (self.blank(), tool_words(guide.say, tool, self.job.chosen.condition(&tool.when, &self.guide.choices))))
            .collect();
        pieces.extend(self.desk.two_columns(&rows));
        let again = Some(self.desk.continued(guide.say.tools));
        groups.push(Group { space: mm(0.5), again, ..Group::loose(pieces) });
        groups
    }

    /// A torque wrench with its number and how long its calibration holds.
    fn wrench(&mut self, tool: &Tool) -> Vec<Piece> {
        let mut words = Words::plain(tool.name.as_str());
        if let Some(when) = self.job.chosen.condition(&tool.when, &self.guide.choices) {
            words.push(&format!(" ({when})"));
        }
        words.push(&format!(", {} ", self.guide.say.number_short));
        match &tool.number {
            Some(number) => words.push_strong(number),
            None => words.push("____________"),
        }
        words.push(&format!(", {} ", self.guide.say.calibrated_until));
        match &tool.calibrated_until {
            Some(day) => words.push_strong(&phrase::date(*day).replace(' ', "\u{a0}")),
            None => words.push("____________"),
        }
        self.desk.row(0.0, self.blank(), &words, &Words::default(), &Beside::default())
    }

    fn circuits(&mut self) -> Group {
        let say = self.guide.say;
        let columns = [
            column("", 0.5),
            column(say.circuit, 2.4),
            column(say.conductor, 1.6),
            column(say.one_way, 1.3),
            column(say.current, 1.0),
            column(say.fuse, 1.8),
        ];
        let blank = self.blank();
        let words = |value: Option<&Value>| value.map_or(Cell::Empty, |value| Cell::Words(value_words(value)));
        let fuse = |circuit: &Circuit| {
            let Some(value) = &circuit.fuse else { return Cell::Empty };
            let mut words = value_words(value);
            circuit.fuse_note.iter().for_each(|note| words.push(&format!(" {note}")));
            Cell::Words(words)
        };
        let rows = self.guide.circuits.iter().map(|circuit| {
            vec![
                Cell::Box(blank),
                Cell::Words(Words::strong(circuit.name.as_str())),
                Cell::Words(Words::plain(circuit.wire.as_str())),
                words(circuit.length.as_ref()),
                words(Some(&circuit.current)),
                fuse(circuit),
            ]
        });
        table(&mut self.desk, say.circuits_of_job, &columns, rows.collect())
    }

    /// Lines with boxes under a heading.
    fn lines(&mut self, title: &str, id: &str, lines: &[Line]) -> Vec<Group> {
        if lines.is_empty() {
            return Vec::new();
        }
        let mut pieces = Vec::new();
        for (at, line) in lines.iter().enumerate() {
            let tick = self.tick(&format!("{id}/{}", at + 1));
            pieces.extend(self.desk.row(0.0, tick, &Words::of(line), &Words::default(), &Beside::default()));
        }
        vec![self.desk.heading(title), Group { together: true, ..Group::loose(pieces) }]
    }

    fn signed_off(&mut self) -> Vec<Group> {
        let say = self.guide.say;
        let heading = self.desk.heading(say.signed_off);
        let signed = |there: bool, name: Option<&str>| there.then(|| say.signed_by(name.unwrap_or_default()));
        let record = self.job.record;
        let technician = record.and_then(|record| signed(record.signed.technician, Some(&record.order.technician)));
        let inspector = record.and_then(|record| signed(record.signed.inspector, Some(&record.order.inspector)));
        let people = [(say.technician, say.technician_vouches, technician), (say.inspector, say.inspector_vouches, inspector)];
        let mut pieces = Vec::new();
        for (who, what, signature) in people {
            let mut words = Words::strong(format!("{who}. "));
            words.push(what);
            let fields = [Field::filled(say.name_signature, signature.as_deref()), Field::new(say.date)];
            pieces.push(self.desk.sign(0.0, &words, &fields));
        }
        vec![heading, Group { together: true, space: mm(1.5), ..Group::loose(pieces) }]
    }

    fn sources(&mut self) -> Vec<Group> {
        if self.guide.sources.is_empty() {
            return Vec::new();
        }
        let mut words = Words::strong(format!("{} ", self.guide.say.sources));
        words.push(&self.guide.sources.join("; "));
        vec![Group { space: mm(2.0), ..Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(1.0))) }]
    }

    /// A drawing, read once.
    pub fn drawing(&mut self, svg: &str) -> Option<Rc<Drawing>> {
        if svg.is_empty() {
            return None;
        }
        if let Some(drawing) = self.drawings.get(svg) {
            return Some(Rc::clone(drawing));
        }
        match self.reader.get_or_insert_with(Reader::default).read(svg) {
            Ok(drawing) => {
                for kind in &drawing.left_out {
                    self.notes.push(format!("a drawing holds {kind}, which the sheet does not show"));
                }
                let drawing = Rc::new(drawing);
                self.drawings.insert(svg.to_owned(), Rc::clone(&drawing));
                Some(drawing)
            }
            Err(why) => {
                self.notes.push(format!("a drawing cannot be shown: {why}"));
                None
            }
        }
    }

    /// A picture of the guide by its address.
    pub fn shown(&mut self, picture: &Picture) -> Option<Shown> {
        let address = picture.address.as_str();
        let Some(bytes) = self.job.pictures.get(address) else {
            self.notes.push(format!("the picture {address} is not there"));
            return None;
        };
        if picture.fact.is_some_and(|fact| fact.kind == PictureKind::Drawing) {
            return self.drawing(&String::from_utf8_lossy(bytes)).map(Shown::Drawing);
        }
        let size = jpeg_size(bytes)?;
        let photo = self.photos.entry(address.to_owned()).or_insert_with(|| Rc::new(bytes.clone()));
        Some(Shown::Photo(Rc::clone(photo), size))
    }
}

/// Width and height of a JPEG file, from its frame header (ISO/IEC 10918-1, B.2.2).
fn jpeg_size(bytes: &[u8]) -> Option<(f32, f32)> {
    let mut at = 2;
    loop {
        let [0xff, marker, high, low] = *bytes.get(at..at + 4)? else { return None };
        if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            let size = |at: usize| Some(f32::from(u16::from_be_bytes([*bytes.get(at)?, *bytes.get(at + 1)?])));
            return Some((size(at + 7)?, size(at + 5)?));
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
    }
}

/// A part or hardware with its count.
pub fn counted_words(counted: &Counted, guide: &Document) -> Words {
    let mut words = Words::strong(counted.count_words());
    words.push(&format!(" {}", counted.name));
    let more: Vec<String> = [counted.number.clone(), counted.note(&guide.choices)].into_iter().flatten().collect();
    if !more.is_empty() {
        words.push(&format!(", {}", more.join(", ")));
    }
    words
}

fn tool_words(say: &Phrases, tool: &Tool, when: Option<String>) -> Words {
    let mut words = Words::plain(tool.name.as_str());
    let number = tool.number.as_ref().map(|number| say.numbered(number));
    let sizes = (!tool.sizes.is_empty()).then(|| tool.sizes.join(", "));
    for part in [number, sizes, tool.note.clone()].into_iter().flatten() {
        words.push(&format!(", {part}"));
    }
    if let Some(when) = when {
        words.push(&format!(" ({when})"));
    }
    words
}
