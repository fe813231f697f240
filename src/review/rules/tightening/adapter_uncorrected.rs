//! `adapter-uncorrected`: a torque is applied through an adapter, and what the wrench is set to cannot be worked out.

use crate::finding::{Finding, Severity};
use crate::guide::{tally, tightening};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "adapter-uncorrected",
    family: Family::Tightening,
    severity: Severity::Query,
    summary: "A torque is applied through an adapter, and what the wrench is set to cannot be worked out.",
    why: "An adapter straight out adds its length to the lever: the wrench clicks and the bolt has more than it should.",
    mend: "Give the wrench its `lever` and the adapter its `offset` in the tool list, and the operation its `adapter_angle`; page and sheet then print the setting.",
    basis: "S = T · L / (L + E · cos θ), torque-tool makers' instructions",
    bad: r##"+++
title = "Fit the cover"
tools = ["long-wrench", "crowfoot"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
source = "practice"

[[tool]]
id = "crowfoot"
name = "Crowfoot 13 mm"
sizes = ["13 mm hex"]
offset = "50 mm"

[[tool]]
id = "long-wrench"
name = "Torque wrench 8 to 60 N·m"
range = "8..60 N·m"
lever = "400 mm"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt", with = ["long-wrench", "crowfoot"] }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cover"
tools = ["long-wrench", "crowfoot"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M8x1.25"
class = "8.8"
drive = "13 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "20 N·m"
source = "practice"

[[tool]]
id = "crowfoot"
name = "Crowfoot 13 mm"
sizes = ["13 mm hex"]
offset = "50 mm"

[[tool]]
id = "long-wrench"
name = "Torque wrench 8 to 60 N·m"
range = "8..60 N·m"
lever = "400 mm"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt", with = ["long-wrench", "crowfoot"], adapter_angle = "0°" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

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
                let message = format!("what the wrench is set to with `{}` cannot be worked out without {missing}", adapted.tool.name.value);
                findings.push(RULE.at(place, message, "measure, and add it; straight out is 0°, square to the wrench 90°"));
            }
        }
    }
}
