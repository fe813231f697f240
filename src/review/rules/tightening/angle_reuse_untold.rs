//! `angle-reuse-untold`: a bolt is tightened by an angle, and nothing says whether it may be used again.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Text;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::turned::turned;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::AngleReuseUntold, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("angle_reuse_untold.md"));

/// Words that speak of using a fastener again.
const WORDS: &[&str] = &[
    "again",
    "reuse",
    "re-use",
    "reusable",
    "one use",
    "one-use",
    "single use",
    "single-use",
    "only once",
    "new bolt",
    "new screw",
    "new nut",
    "new one",
    "new stud",
    "new each",
    "times",
    "renew",
    "replace",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let mut told: Vec<*const str> = Vec::new();
    for turned in turned(subject) {
        let notes = [turned.hardware.note.as_ref(), turned.spec.and_then(|spec| spec.note.as_ref())];
        let id = std::ptr::from_ref(turned.hardware.id.as_str());
        if turned.hardware.one_use || notes.into_iter().flatten().any(says_of_reuse) || told.contains(&id) {
            continue;
        }
        told.push(id);
        let message = format!(
            "nothing says whether `{}` may be used again, and {} tightens it by an angle",
            turned.hardware.name.value, turned.value
        );
        let remedy = "add one_use = true, or say in a note that it may be used again, as the source has it";
        findings.push(RULE.at(turned.defined, message, remedy).with_related(turned.place, "the torque with its angle"));
    }
}

/// Whether a note speaks of using a fastener again, either way.
fn says_of_reuse(note: &Text) -> bool {
    let folded = note.value.to_lowercase();
    WORDS.iter().any(|word| folded.contains(word))
}
