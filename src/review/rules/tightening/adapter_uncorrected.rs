//! `adapter-uncorrected`: a torque is applied through an adapter, and what the wrench is set to cannot be worked out.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::{tally, tightening};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::AdapterUncorrected,
    Family::Tightening,
    Severity::Query,
    Check::Guide(check),
    include_str!("adapter_uncorrected.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    for (_, operation) in guide.operations() {
        let Some((stated, _)) = tally::torque_of(operation, names) else { continue };
        let Some(torque) = &stated.quantity else { continue };
        let wrench = tightening::wrench_of(guide, operation, torque, names);
        let Some(adapted) = tightening::adapter_of(operation, wrench, names) else {
            // A misspelt tool may be the adapter, and is told by itself.
            let all_known = operation.with.iter().all(|id| names.tool(&id.value).is_some());
            if let Some(angle) = operation.adapter_angle.as_ref().filter(|_| all_known) {
                let message = "the angle of an adapter is given, and no tool in `with` is one";
                let remedy = "name the adapter in `with`, and give its `offset` in the tool list; without an adapter take the angle out";
                findings.push(RULE.at(guide.place(angle.span), message, remedy));
            }
            continue;
        };
        let span = operation.with.iter().find(|id| id.value == adapted.tool.id.value).map_or(operation.span, |id| id.span);
        let place = guide.place(span);
        match adapted.adapter.map(|adapter| tightening::setting(adapter, torque)) {
            Some(Ok(_)) if adapted.adapter.is_some_and(|adapter| adapter.angle > 90.0) => {
                let message = format!("`{}` stands back along the handle, at more than 90° to the wrench", adapted.tool.name.value);
                let remedy = "check the angle: 0° is straight out; if it is so, accept this with the reason";
                findings.push(RULE.at(place, message, remedy));
            }
            Some(Ok(_)) => {}
            Some(Err(objection)) => findings.push(RULE.at(place, objection.message, objection.remedy)),
            None => {
                let lever = wrench.is_none_or(|wrench| wrench.lever.is_none());
                let missing = match (lever, operation.adapter_angle.is_none()) {
                    (true, true) => "`lever` of the wrench and `adapter_angle` of the operation",
                    (true, false) => "`lever` of the wrench",
                    _ => "`adapter_angle` of the operation",
                };
                let message =
                    format!("what the wrench is set to with `{}` cannot be worked out without {missing}", adapted.tool.name.value);
                findings.push(RULE.at(place, message, "measure, and add it; straight out is 0°, square to the wrench 90°"));
            }
        }
    }
}
