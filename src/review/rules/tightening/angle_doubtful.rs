//! `angle-doubtful`: a turn after a torque is more than a joint bears.

use crate::fastener::turn;
use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tightening::{length_of, thread_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::turned::turned;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::AngleDoubtful, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("angle_doubtful.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for turned in turned(subject) {
        let thread = thread_of(turned.hardware).and_then(Result::ok).map(|reading| reading.value);
        let objection = turn::doubt(turned.degrees, thread.as_ref(), length_of(turned.hardware));
        let (message, remedy) = match (objection, &turned.at_proof) {
            (Some(objection), _) => (objection.message, objection.remedy),
            (None, Some(sentence)) => (
                format!("a turn of {:.0}° follows a torque that already is a whole tightening: {sentence}", turned.degrees),
                "look up the torque that comes before the turn, or accept it with the reason".to_owned(),
            ),
            (None, None) => continue,
        };
        let finding = RULE.at(turned.place, format!("{}: {message}", turned.value), remedy);
        findings.push(finding.with_related(turned.defined, "the fastener"));
    }
}
