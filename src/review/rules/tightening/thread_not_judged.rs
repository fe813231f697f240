//! `thread-not-judged`: a torque asks more of a weaker thread than is known of it.

use crate::fastener::engagement;
use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tally;
use crate::guide::tightening::{judged_by, length_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ThreadNotJudged, Family::Tightening, Severity::Remark, Check::Guide(check), include_str!("thread_not_judged.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let mut told: Vec<(Place, *const str)> = Vec::new();
    for used in tally::torque_uses(guide, subject.shop) {
        let (Some(torque), Some(spec)) = (&used.value.quantity, used.spec) else { continue };
        let Some(into) = &spec.into else { continue };
        let place = used.place(guide, subject.names);
        for (_, hardware) in used.hardware.iter().filter(|(_, hardware)| hardware.takes_torque()) {
            let key = (place, std::ptr::from_ref(hardware.id.as_str()));
            if told.contains(&key) {
                continue;
            }
            told.push(key);
            let Some(doubt) = judged_by(hardware, Some(spec), |case| engagement::doubt(case, length_of(hardware), torque)).flatten() else {
                continue;
            };
            let message = format!("{} goes into {}: {doubt}", used.value.text, into.value.replace('-', " "));
            let remedy = "take the value from the maker of the part, the insert or the nut, and accept this with that reason";
            let finding = RULE.at(place, message, remedy);
            findings.push(finding.with_related(Place { file: place.file, span: into.span }, "what the thread is in"));
        }
    }
}
