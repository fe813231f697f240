//! `tool-missing`: a drive or a torque is used that no listed tool covers, or a step uses a tool that the guide does not list.

use crate::review::rule::{Check, Family, Rule, Subject};
use foldhash::{HashMap, HashMapExt};

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{DriveText, Tool};
use crate::guide::tally;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToolMissing, Family::Document, Severity::Query, Check::Guide(check), include_str!("tool_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    let tools: Vec<&Tool> = guide.tools.iter().filter_map(|id| names.tool(&id.value)).collect();
    let mut told: Vec<&str> = Vec::new();
    // Each spelling of a drive is looked at once: a guide names the same few again and again.
    let mut fitting: HashMap<&str, bool> = HashMap::new();
    for (_, operation) in guide.operations().filter(|(_, operation)| operation.verb.does_up() || operation.verb.undoes()) {
        for (_, hardware) in tally::hardware_of(operation, names) {
            let Some(drive) = &hardware.drive else { continue };
            let fits = *fitting.entry(drive.as_str()).or_insert_with(|| {
                let wanted = DriveText::new(&drive.value);
                tools.iter().any(|tool| tool.fits(&wanted))
            });
            if fits || told.contains(&drive.as_str()) {
                continue;
            }
            told.push(drive.as_str());
            let span = operation.hardware.first().map_or(operation.span, |count| count.span);
            findings.push(RULE.at(
                guide.place(span),
                format!("no tool in the guide's list fits a drive of {}", drive.value),
                "add a tool to `tools` whose `sizes` have this drive, written the same way",
            ));
        }
        if let Some((stated, _)) = tally::torque_of(operation, names)
            && tools.iter().any(|tool| tool.range.is_some())
            && let Some(torque) = &stated.quantity
            && !told.contains(&stated.text.as_str())
            && !tools.iter().any(|tool| tool.holds(torque))
        {
            told.push(stated.text.as_str());
            findings.push(RULE.at(
                guide.place(operation.span),
                format!("no torque wrench in the guide's list reaches {}", stated.text),
                "add a wrench whose range holds this torque to `tools`",
            ));
        }
        if tally::torque_of(operation, names).is_some() && tools.iter().all(|tool| tool.range.is_none()) && !told.contains(&"torque") {
            told.push("torque");
            findings.push(RULE.at(
                guide.place(operation.span),
                "a torque is asked for and the guide lists no torque wrench",
                "add a torque wrench to `tools`; the shop file gives its `range`",
            ));
        }
    }
    let used = guide.steps.iter().flat_map(|step| step.tools.iter().chain(step.operations.iter().flat_map(|operation| &operation.with)));
    for id in used {
        if names.tool(&id.value).is_some() && !guide.tools.iter().any(|listed| listed.value == id.value) {
            findings.push(RULE.at(
                guide.place(id.span),
                format!("`{}` is used here and is not in the guide's list of tools", id.value),
                format!("add \"{}\" to `tools` in the guide block", id.value),
            ));
        }
    }
}
