//! `tool-unused`: a listed tool is not used by any step.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::model::DriveText;
use crate::guide::prose::RefKind;
use crate::guide::tally;

pub(crate) const RULE: Rule = Rule {
    name: "tool-unused",
    family: Family::Document,
    severity: Severity::Remark,
    summary: "A listed tool is not used by any step.",
    why: "A list that is longer than the job is not read, and then the tool that matters is missed.",
    mend: "Take it off the list, or name it in the step that uses it.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
tools = ["trim-lever"]
+++

## Fit the bracket

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
tools = ["trim-lever"]
+++

## Fit the bracket

+++
tools = ["trim-lever"]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

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
