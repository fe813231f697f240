//! Bounds of a guide's words, put on the parser's events before anything is made of them: how deep they stand in one another, how wide
//! and long a table is. What lies beyond is told and not read.

use std::ops::Range;

use pulldown_cmark::{Event, Tag};

use crate::finding::{Finding, RuleName};
use crate::source::{FileId, Place, Span};

/// Lists, quotes and marks stand in one another so deep.
pub const DEEPEST: usize = 24;
/// A table has so many columns.
pub const MOST_COLUMNS: usize = 40;
/// And so many cells. A short line of a wide table has all of them too, so a small file can have a table without end.
pub const MOST_CELLS: usize = 4_000;

/// A guide has so many steps, and so many phases.
pub const MOST_STEPS: usize = 1_000;
/// A step has so many operations.
pub const MOST_IN_STEP: usize = 200;
/// A guide has so many operations in all.
pub const MOST_OPERATIONS: usize = 4_000;
/// A file defines so many of one kind, and a list at the top has so many entries.
pub const MOST_ROWS: usize = 1_000;
/// The cautions that all steps show come to so many bytes, those counted again that are shown again.
pub const MOST_CAUTIONS: usize = 2_000_000;
/// A list of a step or an operation has so many entries, and a torque so many passes.
pub const MOST_BESIDE: usize = 24;

/// What has been seen of a text.
#[derive(Default)]
pub(super) struct Bounds {
    depth: usize,
    /// How many elements are open of one that is left out.
    left_out: usize,
    cells: usize,
    told_deep: bool,
    told_table: bool,
}

impl Bounds {
    /// Whether an event is to be read; what is not is told once in each place.
    pub(super) fn takes(&mut self, event: &Event<'_>, range: &Range<usize>, file: FileId, findings: &mut Vec<Finding>) -> bool {
        let opens = matches!(event, Event::Start(_));
        let closes = matches!(event, Event::End(_));
        if self.left_out > 0 {
            self.left_out += usize::from(opens);
            self.left_out -= usize::from(closes);
            return false;
        }
        let mut beyond = |message: String, remedy: &str| {
            // The start is enough: what is too long is not marked at its whole length.
            let place = Place { file, span: Span::new(range.start..range.start) };
            findings.push(Finding::hold(RuleName::OverLimit, place, message, remedy));
        };
        match event {
            Event::Start(_) if self.depth == DEEPEST => {
                if !std::mem::replace(&mut self.told_deep, true) {
                    beyond(
                        format!(
                            "lists, quotes or marks stand in one another more than {DEEPEST} deep here, and what lies deeper is not read"
                        ),
                        "take them apart",
                    );
                }
                self.left_out = 1;
                return false;
            }
            Event::Start(Tag::Table(columns)) => {
                self.cells = 0;
                self.told_table = false;
                if columns.len() > MOST_COLUMNS {
                    beyond(
                        format!("this table has {} columns, and is not read: it may have {MOST_COLUMNS}", columns.len()),
                        "part it, or turn its rows into columns",
                    );
                    self.left_out = 1;
                    return false;
                }
            }
            Event::Start(Tag::TableRow) if self.cells >= MOST_CELLS => {
                if !std::mem::replace(&mut self.told_table, true) {
                    beyond(format!("this table has more than {MOST_CELLS} cells, and is read up to here"), "part it");
                }
                self.left_out = 1;
                return false;
            }
            Event::Start(Tag::TableCell) => self.cells += 1,
            _ => {}
        }
        self.depth += usize::from(opens);
        self.depth -= usize::from(closes && self.depth > 0);
        true
    }
}
