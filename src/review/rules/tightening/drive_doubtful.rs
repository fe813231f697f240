//! `drive-doubtful`: a drive cannot be read, does not belong to its thread, or its socket does not go on the wrench.

use crate::fastener::Drive;
use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Operation, Stated, Tool};
use crate::guide::names::Names;
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DriveDoubtful, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("drive_doubtful.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for hardware in &guide.own.hardware.rows {
        let Some(written) = &hardware.drive else { continue };
        let objection = match Drive::read(&written.value) {
            Err(objection) => Some(objection),
            Ok(drive) => {
                let thread = tightening::thread_of(hardware).and_then(Result::ok).map(|reading| reading.value);
                let threaded = tightening::kind_of(hardware).is_some();
                thread.filter(|_| threaded).and_then(|thread| drive.unusual_on(&thread))
            }
        };
        findings.extend(objection.map(|objection| {
            RULE.at(guide.place(written.span), format!("the drive is doubtful: {}", objection.message), objection.remedy)
        }));
    }
    for (_, operation) in guide.operations() {
        let Some((wrench, sockets)) = squares_apart(operation, subject.names) else { continue };
        let text = |tool: &Tool| tool.square.as_ref().map_or_else(String::new, |square| square.value.text.clone());
        let (first, second) = (text(wrench), text(sockets));
        let message = format!("`{}` has a square of {first}, `{}` one of {second}", wrench.name.value, sockets.name.value);
        let span = operation.with.last().map_or(operation.span, |id| id.span);
        findings.push(RULE.at(guide.place(span), message, "name the tools that go together, or the adapter between them as well"));
    }
}

/// A wrench and sockets of an operation whose squares differ. Further tools may hold the adapter between them, and nothing is said then.
fn squares_apart<'g>(operation: &Operation, names: Names<'g>) -> Option<(&'g Tool, &'g Tool)> {
    let [one, other] = &operation.with[..] else { return None };
    let (one, other) = (names.tool(&one.value)?, names.tool(&other.value)?);
    let (wrench, sockets) = if one.range.is_some() { (one, other) } else { (other, one) };
    let side = |stated: &Stated| Some(stated.quantity.as_ref()?.base_bounds().1?).map(|end| end.estimate());
    let (square, other) = (side(&wrench.square.as_ref()?.value)?, side(&sockets.square.as_ref()?.value)?);
    // Squares of 1/4, 3/8, 1/2, 3/4 and 1 in are sold as 6.3, 10, 12.5, 20 and 25 mm as well (ISO 1174-1, from memory).
    let same = (square / other - 1.0).abs() < 0.06;
    (wrench.range.is_some() && !same).then_some((wrench, sockets))
}
