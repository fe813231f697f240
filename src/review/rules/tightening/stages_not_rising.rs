//! `stages-not-rising`: the passes of a tightening do not rise to the whole torque.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tightening;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::StagesNotRising, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("stages_not_rising.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for spec in guide.own.specs.rows.iter().filter(|spec| !spec.stages.is_empty()) {
        for (at, objection) in tightening::stages_of(spec, subject.shop).objections {
            let span = spec.stages.get(at).map_or(spec.id.span, |stage| stage.span);
            findings.push(RULE.at(guide.place(span), objection.message, objection.remedy));
        }
        if let Some(torque) = tightening::turn_left_out(spec, subject.shop) {
            let last = spec.stages.last().map_or(spec.id.span, |stage| stage.span);
            let message = format!("{torque} ends in a turn, and no pass makes it");
            findings.push(RULE.at(guide.place(last), message, "add the turn as the last pass, as the source has it"));
        }
    }
}
