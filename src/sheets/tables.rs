//! Sheets that are tables: the torque sheet of a guide, the packing list of its kit, the values of a vehicle for the wall.

use super::checklist::Maker;
use super::desk::{BODY, Desk, Field, SMALL, Tick};
use super::paper::mm;
use super::piece::Group;
use super::step::torque_details;
use super::table::{Cell, Column, column, table};
use super::words::Words;
use crate::document::vehicles::OfVehicle;
use crate::document::when::Choice;
use crate::document::{Counted, Document, NamedValue, Question, Torque, TorqueRow, phrase};
use crate::phrases::Phrases;
use crate::record::signed_at_stop;

/// The columns of tightening values.
fn values(say: &Phrases) -> Vec<Column> {
    vec![
        column(say.step, 2.3),
        column(say.fastener, 2.8),
        column(say.thread, 2.3),
        column(say.drive, 1.3),
        column(say.torque, 2.1),
        column(say.how, 3.1),
        column(say.source, 2.4),
    ]
}

fn plain(text: impl Into<String>) -> Cell {
    Cell::Words(Words::plain(text))
}

/// Parts with commas between them.
fn joined(parts: Vec<Words>) -> Words {
    let mut words = Words::default();
    for part in parts {
        if !words.is_empty() {
            words.push(", ");
        }
        words.append(part);
    }
    words
}

fn value_row(say: &Phrases, row: &TorqueRow, choices: &[Choice]) -> Vec<Cell> {
    let mut step = Words::strong(row.step.number.to_string());
    step.push(&format!(" {}", row.title));
    if let Some(when) = phrase::when(&row.when, choices) {
        step.push(&format!(" ({when})"));
    }
    let mut fastener = Words::strong(row.fastener());
    if let Some(place) = row.place_words() {
        fastener.push(&format!(", {place}"));
    }
    let (first, second) = row.torque.value.pair();
    vec![
        Cell::Words(step),
        Cell::Words(fastener),
        plain(row.thread()),
        plain(row.drive()),
        Cell::Value(first, second),
        Cell::Words(joined(torque_details(say, &row.torque, true))),
        plain(row.torque.source.clone().unwrap_or_default()),
    ]
}

impl Maker<'_> {
    /// The torque sheet: every tightening value with a place for the one applied.
    pub fn torque_sheet(&mut self) -> Vec<Group> {
        if self.guide.torques.is_empty() {
            let words = Words::plain(self.guide.say.tightens_nothing);
            return vec![Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(1.0)))];
        }
        let (guide, say) = (self.guide, self.guide.say);
        let mut columns = values(say);
        columns.insert(5, column(say.applied_head, 1.6));
        let rows = guide.torques.iter().map(|row| {
            let mut cells = value_row(say, row, &guide.choices);
            cells.insert(5, Cell::Empty);
            cells
        });
        let order = self.order_fields();
        let values = table(&mut self.desk, say.tightening_in_order, &columns, rows.collect());
        let words = Words::plain(say.every_value_applied);
        let sign = self.desk.sign(0.0, &words, &[Field::new(say.technician), Field::new(say.date)]);
        vec![order, values, Group { together: true, space: mm(4.0), ..Group::loose(vec![sign]) }]
    }

    /// The packing list: parts and hardware of the kit, with a box each.
    pub fn packing_list(&mut self) -> Vec<Group> {
        let say = self.guide.say;
        let columns = [column("", 0.5), column(say.count, 0.7), column(say.part, 4.0), column(say.number, 1.8), column(say.remark, 2.6)];
        let row = |counted: &Counted| {
            vec![
                Cell::Box(Tick::Open),
                Cell::Value(counted.count_words(), None),
                Cell::Words(Words::strong(counted.name.as_str())),
                plain(counted.number.clone().unwrap_or_default()),
                plain(counted.note(&self.guide.choices).unwrap_or_default()),
            ]
        };
        let rows: Vec<Vec<Cell>> = self.guide.parts.iter().chain(&self.guide.kit_hardware).map(row).collect();
        let mut groups = vec![self.order_fields()];
        groups.extend(if rows.is_empty() {
            vec![Group::loose(self.desk.paragraph(0.0, &Words::plain(say.no_kit), SMALL, mm(1.0)))]
        } else {
            vec![table(&mut self.desk, say.parts_of_kit, &columns, rows)]
        });
        groups.extend(self.needed());
        let words = Words::plain(say.kit_is_complete);
        let sign = self.desk.sign(0.0, &words, &[Field::new(say.packed_by), Field::new(say.date)]);
        groups.push(Group { together: true, space: mm(4.0), ..Group::loose(vec![sign]) });
        groups
    }

    /// What nobody knows yet, by who can answer, with room for the answers.
    pub fn question_list(&mut self) -> Vec<Group> {
        let guide = self.guide;
        if guide.questions.is_empty() {
            let words = Words::plain(guide.say.asks_nothing);
            return vec![Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(1.0)))];
        }
        let say = guide.say;
        let columns = [
            column(say.step, 0.8),
            column(say.not_known_yet, 3.4),
            column(say.where_found, 2.2),
            column(say.answer, 2.4),
            column(say.who_date, 1.8),
        ];
        let mut groups = Vec::new();
        let mut rest = guide.questions.as_slice();
        while let Some(first) = rest.first() {
            let same = rest.iter().take_while(|question| question.who == first.who).count();
            let row = |question: &Question| {
                let Question { text: _, who: _, place, heard: _, step, span: _ } = question;
                vec![
                    plain(step.as_ref().map_or_else(String::new, |step| step.number.to_string())),
                    Cell::Words(Words::strong(question.words())),
                    plain(place.clone().unwrap_or_default()),
                    Cell::Empty,
                    Cell::Empty,
                ]
            };
            let who = phrase::asked(first.who);
            groups.push(self.desk.heading(who));
            groups.push(table(&mut self.desk, who, &columns, rest[..same].iter().map(row).collect()));
            rest = &rest[same..];
        }
        groups
    }

    /// What a record lacks or leaves open, at the head of its sheet.
    pub fn record_state(&mut self) -> Vec<Group> {
        let Some(record) = self.job.record else { return Vec::new() };
        if self.job.missing.is_empty() {
            let mut words = Words::strong(crate::record::complete(record, self.guide));
            words.push(&format!(". {}", self.guide.say.record_whole));
            return vec![Group { space: mm(2.0), ..Group::loose(self.desk.paragraph(0.0, &words, SMALL, mm(1.0))) }];
        }
        let mut groups = vec![self.desk.heading(self.guide.say.missing_in_record)];
        let mut pieces = Vec::new();
        for missing in self.job.missing {
            pieces.extend(self.desk.item(0.0, "•", &Words::plain(missing.as_str()), BODY));
        }
        groups.push(Group::loose(pieces));
        groups
    }

    /// What was applied and with which wrench, as the record has it.
    pub fn applied_entry(&self, operation: &str) -> Option<String> {
        let torque = crate::record::torque(self.job.record?, operation)?;
        let wrench = Some(&torque.wrench).filter(|wrench| !wrench.trim().is_empty());
        Some(std::iter::once(&torque.applied).chain(wrench).cloned().collect::<Vec<_>>().join(", "))
    }

    /// Why a torque stays that is not the one asked for; no words where nothing is noted.
    pub fn applied_note(&self, operation: &str) -> Words {
        let entry = self.job.record.and_then(|record| crate::record::torque(record, operation));
        entry.map_or_else(Words::default, |entry| why_it_stays(self.guide.say, &entry.note))
    }

    /// The same of a measured value.
    pub fn measured_note(&self, operation: &str, value: usize) -> Words {
        let entry = self.job.record.and_then(|record| crate::record::measured(record, operation, value));
        entry.map_or_else(Words::default, |entry| why_it_stays(self.guide.say, &entry.note))
    }

    /// Whether what was applied is not what is asked for.
    pub fn applied_off(&self, operation: &str, asked: &Torque) -> bool {
        let entry = self.job.record.and_then(|record| crate::record::torque(record, operation));
        entry.is_some_and(|entry| crate::record::judge(&entry.applied, asked).is_err())
    }

    /// Whether what was measured is not what is asked for.
    pub fn measured_off(&self, operation: &str, value: usize, asked: &NamedValue) -> bool {
        let entry = self.job.record.and_then(|record| crate::record::measured(record, operation, value));
        entry.is_some_and(|entry| crate::record::judge_measured(&entry.measured, asked).is_err())
    }

    /// What was measured, as the record has it.
    pub fn measured_entry(&self, operation: &str, value: usize) -> Option<String> {
        Some(crate::record::measured(self.job.record?, operation, value)?.measured.clone())
    }

    /// What the record notes of a step, less the signature at its stop.
    pub fn notes_of(&self, step: &str) -> Vec<String> {
        let notes = self.job.record.iter().flat_map(|record| &record.notes).filter(|note| note.step == step);
        notes.filter(|note| signed_at_stop(&note.text).is_none()).map(|note| note.text.clone()).collect()
    }

    /// Who signed at the stop of a step, and when.
    pub fn signed_at(&self, step: &str) -> Option<(&str, Option<&str>)> {
        let mut notes = self.job.record?.notes.iter().filter(|note| note.step == step);
        notes.find_map(|note| signed_at_stop(&note.text))
    }

    /// When a wait of a step was over by its clock.
    pub fn waited_until(&self, step: &str) -> Option<&str> {
        Some(crate::record::wait(self.job.record?, step)?.ended.as_str())
    }

    /// When its clock was started, in words; none where it was not clocked.
    pub fn waited_from(&self, step: &str) -> Words {
        let wait = self.job.record.and_then(|record| crate::record::wait(record, step));
        wait.map_or_else(Words::default, |wait| Words::plain(self.guide.say.from_up(&wait.started)))
    }

    /// The box of a step in the short form: ticked where all of it is.
    pub fn step_tick(&self, step: &crate::document::Step) -> Tick {
        let run = step.operations.iter().filter(|operation| operation.torque.is_none());
        let done = run.map(|operation| self.tick(&operation.id));
        let checks = (1..=step.checks.len()).map(|at| self.tick(&format!("{}/check/{at}", step.id)));
        let waited = step.wait.iter().map(|_| self.tick(&format!("{}/wait", step.id)));
        if self.job.record.is_some() && done.chain(checks).chain(waited).all(|tick| tick == Tick::Done) { Tick::Done } else { Tick::Open }
    }
}

/// The values of a vehicle over all guides.
pub fn wall(desk: &mut Desk, vehicle: &OfVehicle<&Document>) -> Vec<Group> {
    let mut groups = Vec::new();
    for guide in &vehicle.guides {
        let (line, say) = (&guide.head, guide.say);
        let revision = line.revision.as_ref().map(|revision| say.revision_small(revision));
        let papers = [line.document.clone(), revision, line.issued.map(phrase::date)].into_iter().flatten().collect::<Vec<_>>().join(", ");
        let title = if papers.is_empty() { line.title.clone() } else { format!("{} ({papers})", line.title) };
        let title = if line.draft { format!("{title} {}", say.not_released) } else { title };
        groups.push(desk.heading(&title));
        let rows = guide.torques.iter().map(|row| value_row(say, row, &guide.choices)).collect();
        let mut values = table(desk, &say.tightening_of(&line.title), &values(say), rows);
        // A value without its guide is worth nothing.
        if let Some(head) = values.again.take() {
            let mut again = desk.continued(&title);
            let at = again.height;
            again.nodes.extend(head.nodes.into_iter().map(|node| node.moved((0.0, at))));
            again.height += head.height;
            values.again = Some(again);
        }
        groups.push(values);
    }
    groups
}

fn why_it_stays(say: &Phrases, note: &str) -> Words {
    if note.trim().is_empty() { Words::default() } else { Words::strong(say.at_place(say.why_it_stays, note.trim())) }
}
