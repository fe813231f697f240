//! `wrench-out-of-range`: the torque wrench of an operation does not reach its torque.

use crate::finding::{Finding, Severity};
use crate::guide::{tally, tightening};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "wrench-out-of-range",
    family: Family::Tightening,
    severity: Severity::Hold,
    summary: "The torque wrench of an operation does not reach its torque.",
    why: "Below its range a wrench clicks when it likes, above it bends.",
    mend: "Name a wrench whose range holds the whole of the value, or what it is set to with an adapter.",
    basis: "ISO 6789-1: a setting tool is used within its marked range",
    bad: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
[[part]]
id = "cover"
name = "Cover"

[[hardware]]
id = "bolt"
name = "Cover bolt"
thread = "M6"
class = "8.8"
drive = "10 mm hex"
supplied = 4

[[spec]]
id = "bolt"
for = "bolt"
torque = "7 N·m"
source = "practice"
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt", with = ["torque-wrench-60"] }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the cover"
tools = ["torque-wrench-60", "sockets-small"]
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
+++

## Fit the cover

+++
do = [{ fit = "cover", hardware = "4 x bolt", torque = "bolt", with = ["torque-wrench-60"] }]
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
        let named = operation.with.iter().find_map(|id| Some((id, names.tool(&id.value).filter(|tool| tool.range.is_some())?)));
        let Some((id, wrench)) = named else { continue };
        let adapter = tightening::adapter_of(operation, Some(wrench), names).and_then(|adapted| adapted.adapter);
        let range = wrench.range.as_ref().map_or("", |range| range.value.text.as_str());
        match adapter.map(|adapter| tightening::setting(adapter, torque)) {
            Some(Ok((low, high))) => {
                let float = |end: crate::quantity::Exact| end.numerator() as f64 / end.denominator() as f64;
                let within = wrench.torque_range().is_some_and(|(from, to)| float(from) <= low && high <= float(to));
                if !within {
                    let message = format!("`{}`, {range}, does not reach the setting for {} with this adapter", wrench.name.value, stated.text);
                    findings.push(RULE.at(guide.place(id.span), message, "name a wrench whose range holds the setting"));
                }
            }
            // An adapter that cannot be reckoned with is another finding.
            Some(Err(_)) => {}
            None if !wrench.holds(torque) => {
                let message = format!("`{}`, {range}, does not reach {}", wrench.name.value, stated.text);
                findings.push(RULE.at(guide.place(id.span), message, "name a wrench whose range holds the whole of the value"));
            }
            None => {}
        }
    }
}
