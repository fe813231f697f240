//! `wrench-out-of-range`: the torque wrench of an operation does not reach its torque.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::{tally, tightening};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WrenchOutOfRange, Family::Tightening, Severity::Hold, Check::Guide(check), include_str!("wrench_out_of_range.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    for (_, operation) in guide.operations() {
        let Some((stated, spec)) = tally::torque_of(operation, names) else { continue };
        let Some(torque) = &stated.quantity else { continue };
        let named: Vec<_> =
            operation.with.iter().filter_map(|id| Some((id.span, names.tool(&id.value).filter(|tool| tool.range.is_some())?))).collect();
        // Without a named one, pages print the narrowest that reaches the torque: that one has to reach the passes as well.
        let chosen = tightening::wrench_of(guide, operation, torque, names).filter(|_| named.is_empty());
        let span = operation.hardware.first().map_or(operation.span, |count| count.span);
        let wrenches: Vec<_> = named.iter().copied().chain(chosen.map(|tool| (span, tool))).collect();
        let Some(&(span, wrench)) = wrenches.first() else { continue };
        let place = guide.place(span);
        let range = wrench.range.as_ref().map_or("", |range| range.value.text.as_str());
        let adapter = tightening::adapter_of(operation, Some(wrench), names).and_then(|adapted| adapted.adapter);
        let within = |torque: f64| wrenches.iter().any(|(_, tool)| tightening::within(tool, torque));
        match adapter.map(|adapter| tightening::setting(adapter, torque)) {
            Some(Ok((low, high))) if !(within(low) && within(high)) => {
                let message = format!("`{}`, {range}, does not reach the setting for {} with this adapter", wrench.name.value, stated.text);
                findings.push(RULE.at(place, message, "name a wrench whose range holds the setting"));
                continue;
            }
            // An adapter that cannot be reckoned with is another finding.
            Some(Err(_)) => continue,
            None if !wrenches.iter().any(|(_, tool)| tool.holds(torque)) => {
                let message = format!("`{}`, {range}, does not reach {}", wrench.name.value, stated.text);
                findings.push(RULE.at(place, message, "name a wrench whose range holds the whole of the value"));
                continue;
            }
            _ => {}
        }
        let passes = spec.map(|spec| tightening::pass_torques(spec, subject.shop)).unwrap_or_default();
        for (at, pass) in passes.into_iter().enumerate() {
            let Some(set) = pass.and_then(|pass| adapter.map_or(Some(pass), |adapter| adapter.setting(pass).ok())) else { continue };
            // A share of a torque is a rounded figure: within a hundredth of the end of the range counts as reached.
            if !within(set) && !within(set * 1.01) && !within(set * 0.99) {
                let stage = spec.and_then(|spec| spec.stages.get(at)).map_or("", |stage| stage.as_str());
                let message = format!("`{}`, {range}, does not reach the pass of {stage}, about {set:.1} N·m", wrench.name.value);
                let remedy = "name a second wrench for that pass, or ask the supplier for passes that one wrench reaches";
                findings.push(RULE.at(place, message, remedy));
                break;
            }
        }
    }
}
