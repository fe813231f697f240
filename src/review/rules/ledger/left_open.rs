//! `left-open`: something that is removed, disconnected, loosened, drained, capped, covered, raised or switched is still so at the end.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::LeftOpen, Family::Ledger, Severity::Hold, Check::Guide(check), include_str!("left_open.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let open = booked(subject, |what| if let What::LeftOpen(verb) = what { Some(verb) } else { None });
    for (verb, place, entry) in open {
        let Some(closing) = verb.inverse() else { continue };
        let message = format!("{} is {} here and never {} again", booked::thing(subject, &entry.thing), verb.done(), closing.done());
        let mut remedy = format!(
            "add the operation `{}` where it belongs, for the same vehicles; if it stays so, say why in its `stays`, or discard it",
            closing.key()
        );
        // These begin as the opposite of their first operation, so either end may be the one that is missing.
        if verb.first_opens() || closing.first_opens() {
            remedy = format!(
                "add `{0}` after this one, so that it ends as it began; or, if it was {1} earlier in the job and is {2} again here, add that `{0}` before this one",
                closing.key(),
                closing.done(),
                verb.done()
            );
        }
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
    for (closing, place, entry) in booked(subject, |what| if let What::NeverClosed(verb) = what { Some(verb) } else { None }) {
        let message = format!("{} is open before work starts and never {}", booked::thing(subject, &entry.thing), closing.done());
        let remedy = format!("add the operation `{}`, for the same vehicles; if it stays so, say why in its `stays`", closing.key());
        findings.push(booked::finding(subject, &RULE, place, entry, message, remedy));
    }
    let loose = booked(subject, |what| if let What::LeftLoose(count) = what { Some(count) } else { None });
    for (count, place, entry) in loose {
        let how = match entry.entry.map(|entry| booked::operation(subject, entry)) {
            Some(operation) if operation.by_hand => "started by hand",
            _ => "loosened",
        };
        let name = booked::name(subject, &entry.thing);
        let are = booked::are(count);
        let message = format!("{count} × {name} {are} {how} here and not tightened by the end");
        findings.push(booked::finding(
            subject,
            &RULE,
            place,
            entry,
            message,
            "tighten all of them, for the same vehicles, or correct the count",
        ));
    }
}
