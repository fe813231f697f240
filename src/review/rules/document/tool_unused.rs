//! `tool-unused`: a listed tool is not used by any step.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::DriveText;
use crate::guide::prose::RefKind;
use crate::guide::tally;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToolUnused, Family::Document, Severity::Remark, Check::Guide(check), include_str!("tool_unused.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    let torques = guide.operations().any(|(_, operation)| tally::torque_of(operation, names).is_some());
    let mut written: Vec<&str> = guide
        .operations()
        .flat_map(|(_, operation)| tally::hardware_of(operation, names))
        .filter_map(|(_, hardware)| hardware.drive.as_ref().map(|drive| drive.as_str()))
        .collect();
    written.sort_unstable();
    written.dedup();
    let drives: Vec<DriveText> = written.into_iter().map(DriveText::new).collect();
    for id in &guide.tools {
        let Some(tool) = names.tool(&id.value) else { continue };
        let by_id = guide.steps.iter().any(|step| {
            step.tools.iter().chain(step.operations.iter().flat_map(|operation| &operation.with)).any(|used| used.value == id.value)
        });
        let in_words = guide
            .words()
            .flat_map(|prose| &prose.references)
            .any(|reference| reference.kind == RefKind::Tool && reference.id.value == id.value);
        let covers = drives.iter().any(|drive| tool.fits(drive)) || (torques && tool.range.is_some());
        if !(by_id || in_words || covers) {
            findings.push(RULE.at(
                guide.place(id.span),
                format!("no step uses `{}`", id.value),
                "take it off the list, or name it in the step that uses it",
            ));
        }
    }
}
