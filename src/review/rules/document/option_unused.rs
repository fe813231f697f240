//! `option-unused`: an option is defined and nothing depends on it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Condition;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OptionUnused, Family::Document, Severity::Remark, Check::Guide(check), include_str!("option_unused.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let own = &guide.own;
    let steps = guide.steps.iter().flat_map(|step| {
        let operations = step.operations.iter().map(|operation| &operation.when);
        std::iter::once(&step.when).chain(operations).chain(step.cautions.iter().map(|caution| &caution.when))
    });
    let things = own.items.rows.iter().map(|item| &item.when).chain(own.parts.rows.iter().map(|part| &part.when));
    let others = own.hardware.rows.iter().map(|hardware| &hardware.when).chain(own.cautions.rows.iter().map(|caution| &caution.when));
    let conditions: Vec<&Condition> = steps.chain(things).chain(others).collect();
    for option in &own.options.rows {
        // In a group it may stand for the plain case, which needs no step of its own.
        let used = conditions.iter().any(|condition| condition.0.iter().any(|term| term.option.value == option.id.value));
        if !used && option.one_of.is_none() {
            let message = format!("nothing depends on the option `{}`", option.name.value);
            findings.push(RULE.at(guide.place(option.id.span), message, "name it in a `when`, or take it out"));
        }
    }
}
