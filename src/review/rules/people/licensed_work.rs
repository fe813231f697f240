//! `licensed-work`: work on a system that the law or the maker keeps for trained people does not say so.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::keys::LICENSED_MARKS;
use crate::review::booked;
use crate::review::covered::{defers, marked, only_looks, shown};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LicensedWork, Family::People, Severity::Query, Check::Guide(check), include_str!("licensed_work.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let head = guide.caution_refs.iter().filter_map(|shown| subject.names.caution(&shown.id.value));
    let cautions: Vec<_> = head.chain(guide.steps.iter().flat_map(|step| shown(subject, step))).collect();
    for &mark in LICENSED_MARKS {
        let mut work = guide.steps.iter().flat_map(|step| marked(subject, step));
        let Some((operation, thing, span, _)) = work.find(|(operation, .., other)| *other == mark && !only_looks(operation.verb)) else {
            continue;
        };
        let mut covering = cautions.iter().filter(|caution| caution.covers(mark)).peekable();
        // Where no caution covers the mark at all, that is another finding.
        let defers = covering.peek().is_none() || covering.any(|caution| defers(caution));
        if !defers {
            let name = booked::thing(subject, thing);
            let message = format!("{name} is {} here, and no caution for `{mark}` says who may do that work", operation.verb.done());
            let remedy =
                "say in the caution's `avoid` that the work is for trained or licensed people, to the vehicle maker's instructions";
            findings.push(RULE.at(guide.place(span), message, remedy));
        }
    }
}
