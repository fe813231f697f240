//! `calibration-ended`: the calibration of a listed tool ended before the guide was issued.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CalibrationEnded, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("calibration_ended.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    let Some(issued) = guide.issued else { return };
    for id in &guide.tools {
        let Some(tool) = names.tool(&id.value) else { continue };
        if let Some(ended) = tool.calibrated_until.filter(|ended| ended.value < issued.value) {
            let message =
                format!("the calibration of `{}` ended on {}, and the guide was issued on {}", tool.name.value, ended.value, issued.value);
            findings.push(RULE.at(guide.place(id.span), message, "write the new day into the tool list, or list another tool"));
        }
    }
}
