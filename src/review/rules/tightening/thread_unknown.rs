//! `thread-unknown`: a thread is none that is known, or an unusual one.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ThreadUnknown, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("thread_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for hardware in &guide.own.hardware.rows {
        let (Some(written), Some(read)) = (&hardware.thread, tightening::thread_of(hardware)) else { continue };
        // Clips and ties have no thread in this sense, whatever stands there.
        if tightening::kind_of(hardware).is_none() {
            continue;
        }
        let objections = match read {
            Ok(reading) => reading.doubts,
            Err(objection) => vec![objection],
        };
        findings.extend(objections.into_iter().map(|objection| {
            RULE.at(guide.place(written.span), format!("the thread is doubtful: {}", objection.message), objection.remedy)
        }));
    }
}
