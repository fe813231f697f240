//! Tightening values over all guides by thread: what is tightened where, and to what, on a page for each thread, and the list of these
//! pages. The values by vehicle are in `values`.

use std::collections::{BTreeMap, BTreeSet};

use crate::fastener::{Thread, hole};
use crate::guide::facts::slug_of;
use crate::site::Listed;
use crate::theme::data::{GuideLine, ThreadLine, ThreadRow, ThreadValues, Threads, TorqueRow};

/// The data of each thread's page, by size, with every value that tightens it.
pub fn pages<'s>(summaries: &'s [Listed]) -> Vec<ThreadValues<'s>> {
    // By diameter and pitch in thousandths of a millimetre, so that M10 stands behind M8.
    type Key = (bool, u64, u64, String);
    let mut threads: BTreeMap<Key, (Thread, Vec<ThreadRow<'s>>)> = BTreeMap::new();
    for summary in summaries {
        for row in &summary.torques {
            for written in &row.threads {
                let Ok(read) = Thread::read(written) else { continue };
                let thousandths = |mm: f64| (mm * 1000.0).round() as u64;
                let thread = read.value;
                let key = (thread.is_inch(), thousandths(thread.nominal_mm()), thousandths(thread.pitch_mm()), thread.to_string());
                threads.entry(key).or_insert_with(|| (thread, Vec::new())).1.push(row_of(&summary.line, row));
            }
        }
    }
    let page = |((_, _, _, name), (thread, rows)): (Key, (Thread, Vec<ThreadRow<'s>>))| {
        let guides: BTreeSet<&str> = rows.iter().map(|row| row.slug).collect();
        let line = ThreadLine {
            file: slug_of(&name),
            name,
            clearance: clearance_words(&thread),
            tap_drill: hole::tap_drill(&thread).map(|drill| drill_words(&drill)),
            guides: guides.len(),
            rows: rows.len(),
        };
        ThreadValues { line, rows }
    };
    threads.into_iter().map(page).collect()
}

fn row_of<'s>(line: &'s GuideLine, row: &'s TorqueRow) -> ThreadRow<'s> {
    ThreadRow {
        slug: &line.slug,
        title: &line.title,
        draft: line.draft,
        step: &row.step,
        number: row.number,
        fastener: &row.fastener,
        place: row.place.as_deref(),
        thread: &row.thread,
        value: &row.torque.value,
        condition: row.torque.condition.as_deref(),
        source: row.torque.source.as_deref(),
        when: row.when.as_deref(),
    }
}

/// The list of the pages.
pub fn list(pages: &[ThreadValues<'_>]) -> Threads {
    Threads { threads: pages.iter().map(|page| page.line.clone()).collect() }
}

fn clearance_words(thread: &Thread) -> Option<String> {
    let hole = hole::clearance(thread)?;
    Some(format!("fine {} mm, medium {} mm, coarse {} mm", hole.fine, hole.medium, hole.coarse))
}

fn drill_words(drill: &hole::Drill) -> String {
    match drill.name {
        Some(name) => format!("{name} ({:.2} mm)", drill.mm),
        None => format!("{} mm", drill.mm),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_are_told_as_a_drill_is_asked_for() {
        let thread = |text| Thread::read(text).unwrap().value;
        // ISO 273 and ISO 2306 rows, and a row of shop charts for unified threads (common practice).
        assert_eq!(clearance_words(&thread("M8")).as_deref(), Some("fine 8.4 mm, medium 9 mm, coarse 10 mm"));
        assert_eq!(hole::tap_drill(&thread("M8x1.25")).map(|drill| drill_words(&drill)).as_deref(), Some("6.8 mm"));
        assert_eq!(hole::tap_drill(&thread("5/16-18 UNC")).map(|drill| drill_words(&drill)).as_deref(), Some("F (6.53 mm)"));
        assert_eq!(clearance_words(&thread("5/16-18 UNC")), None);
    }
}
