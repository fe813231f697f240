//! `class-unknown`: a strength class does not exist, or not for this fastener.

use crate::fastener::Standard;
use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ClassUnknown, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("class_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for hardware in &guide.own.hardware.rows {
        let Some(written) = &hardware.class else { continue };
        let doubt = match (tightening::class_of(hardware), tightening::thread_of(hardware)) {
            (Some(Err(objection)), _) => (objection.message, objection.remedy),
            (Some(Ok(class)), Some(Ok(thread))) => match (class.standard, thread.value.is_inch()) {
                (Standard::SaeJ429, false) => (
                    format!("{} is a grade of inch bolts, and {} is metric", class.name, thread.value),
                    "look at the head: metric bolts bear figures such as 8.8, inch bolts lines".to_owned(),
                ),
                (Standard::Iso898Bolt | Standard::Iso898Nut, true) => (
                    format!("{} is a class of metric fasteners, and {} is an inch thread", class.name, thread.value),
                    "look at the head: inch bolts bear lines for their grade, such as grade 5, metric bolts figures".to_owned(),
                ),
                _ => continue,
            },
            _ => continue,
        };
        findings.push(RULE.at(guide.place(written.span), format!("the class is doubtful: {}", doubt.0), doubt.1));
    }
}
