//! `pattern-missing`: four fasteners or more are tightened in passes, and nothing says in which order.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::tally;
use crate::guide::tightening::count_of;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PatternMissing, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("pattern_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    for (_, operation) in guide.operations() {
        let Some((id, spec)) = operation.loosen_as.as_ref().and_then(|id| Some((id, names.spec(&id.value)?))) else { continue };
        if spec.pattern.is_none() && spec.order.is_none() {
            let message = format!("the hardware is undone in the reverse order of `{}`, which gives no order", id.value);
            findings.push(RULE.at(guide.place(id.span), message, "add `pattern` or `order` to that spec, or take `loosen_as` out"));
        }
    }
    for spec in guide.own.specs.rows.iter().filter(|spec| !spec.stages.is_empty() && spec.pattern.is_none() && spec.order.is_none()) {
        let uses = guide.operations().map(|(_, operation)| operation);
        let mut uses = uses
            .filter(|operation| tally::torque_of(operation, names).and_then(|(_, used)| used).is_some_and(|used| std::ptr::eq(used, spec)));
        if let Some(count) = uses.find_map(|operation| Some(count_of(operation, names)).filter(|count| *count >= 4)) {
            let message = format!("{count} fasteners are tightened in passes and `{}` gives no order", spec.id.value);
            findings.push(RULE.at(
                guide.place(spec.id.span),
                message,
                "add `pattern` (circle, rectangle, crosswise, in-order), or `order` with positions",
            ));
        }
    }
}
