//! `thread-unknown`: a thread is none that is known, or an unusual one.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ThreadUnknown, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("thread_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for hardware in &guide.own.hardware.rows {
        let Some(written) = &hardware.thread else { continue };
        // Clips and ties have no thread in this sense, whatever stands there.
        if tightening::kind_of(hardware).is_none() {
            continue;
        }
        let fastening = tightening::thread_of(hardware).map(|read| read.map(|reading| reading.doubts));
        let special = tightening::special_thread_of(hardware).map(|read| read.map(|reading| reading.doubts));
        let Some(read) = special.or(fastening) else { continue };
        let objections = read.unwrap_or_else(|objection| vec![objection]);
        findings.extend(objections.into_iter().map(|objection| {
            RULE.at(guide.place(written.span), format!("the thread is doubtful: {}", objection.message), objection.remedy)
        }));
    }
}
