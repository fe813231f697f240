//! Tightening values over all guides by thread: what is tightened where, and to what. The values by vehicle are in `values`.

use std::collections::BTreeMap;

use crate::fastener::Thread;
use crate::publish::Summary;
use crate::publish::page_data::{ThreadRow, ThreadValues, Threads};

/// The data of the page: threads by size, and under each every value that tightens it.
pub fn page<'s>(summaries: &'s [Summary]) -> Threads<'s> {
    // By diameter and pitch in thousandths of a millimetre, so that M10 stands behind M8.
    let mut threads: BTreeMap<(bool, u64, u64, String), Vec<ThreadRow<'s>>> = BTreeMap::new();
    for summary in summaries {
        for row in &summary.torques {
            for written in &row.threads {
                let Ok(read) = Thread::read(written) else { continue };
                let thousandths = |mm: f64| (mm * 1000.0).round() as u64;
                let thread = read.value;
                let key = (thread.is_inch(), thousandths(thread.nominal_mm()), thousandths(thread.pitch_mm()), thread.to_string());
                threads.entry(key).or_default().push(ThreadRow {
                    slug: &summary.line.slug,
                    guide: &summary.line.title,
                    draft: summary.line.draft,
                    row,
                });
            }
        }
    }
    let threads = threads.into_iter().map(|((_, _, _, name), rows)| ThreadValues { name, rows });
    Threads { threads: threads.collect() }
}
