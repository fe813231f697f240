//! `opened-twice`: something is removed, disconnected, loosened, drained, capped, covered, raised or switched that is so already.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OpenedTwice, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("opened_twice.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (verb, place, entry) in booked(subject, |what| if let What::OpenAlready(verb) = what { Some(verb) } else { None }) {
        let Some(closing) = verb.inverse() else { continue };
        let message = format!("{} is {} here and is so already", booked::thing(subject, &entry.thing), verb.done());
        let remedy = format!("add the operation `{}` in between, or take one of the two out", closing.key());
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
}
