//! `option-impossible`: an option, or the condition of a step or an operation, can never hold.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Condition;
use crate::guide::variant::Choice;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OptionImpossible, Family::Document, Severity::Hold, Check::Guide(check), include_str!("option_impossible.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, ledger, .. } = *subject;
    let variants = &ledger.variants;
    if !variants.consistent {
        let place = guide.own.options.rows.first().map_or(guide.head, |option| option.id.span);
        let message = "no vehicle can have these options as they are stated: each choice breaks a `one_of` or a `not_with`";
        findings.push(RULE.at(guide.place(place), message, "take out a `not_with`, or move an option out of its group"));
        return;
    }
    for (at, option) in variants.options.iter().enumerate() {
        let bit = 1u128 << at;
        if !variants.possible(Choice::default().and(bit, true)) {
            let message = format!("no vehicle can have the option `{}`", option.name.value);
            findings.push(RULE.at(guide.place(option.id.span), message, "correct `one_of` and `not_with`, or take the option out"));
        } else if let Some(group) = option.one_of.as_ref().filter(|_| !variants.possible(Choice::default().and(bit, false))) {
            let message = format!("every vehicle has the option `{}`: nothing else can be chosen in `{}`", option.name.value, group.value);
            findings.push(RULE.at(guide.place(option.id.span), message, "name the other options of the group, or take `one_of` out"));
        }
    }
    let mut never = |condition: &Condition, outer: &Condition, what: &str| {
        let done = if matches!(what, "step" | "operation") {
            "done"
        } else if what == "caution" {
            "shown"
        } else {
            "there"
        };
        let terms = variants.terms(condition).and(variants.terms(outer));
        if let Some(first) = condition.0.first().filter(|_| !variants.can_hold(terms)) {
            let message = format!("no vehicle fits the condition of this {what}, so it is never {done}");
            let last = condition.0.last().map_or(first.option.span, |term| term.option.span);
            let span = crate::source::Span { start: first.option.span.start, end: last.end };
            findings.push(RULE.at(guide.place(span), message, "correct the condition, or the options it names"));
        }
    };
    let always = Condition::default();
    for step in &guide.steps {
        never(&step.when, &always, "step");
        for operation in step.operations.iter().filter(|_| variants.can_hold(variants.terms(&step.when))) {
            never(&operation.when, &step.when, "operation");
        }
        for caution in &step.cautions {
            never(&caution.when, &always, "caution");
        }
    }
    for item in &guide.own.items.rows {
        never(&item.when, &always, "item");
    }
    for part in &guide.own.parts.rows {
        never(&part.when, &always, "part");
    }
    for hardware in &guide.own.hardware.rows {
        never(&hardware.when, &always, "hardware");
    }
}
