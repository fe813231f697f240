//! `state-forbids`: a thing is worked on while another is in a state in which its own definition forbids it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Danger;
use crate::guide::states::state_words;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::{booked, ordered};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::StateForbids, Family::People, Severity::Hold, Check::Guide(check), include_str!("state_forbids.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for told in ordered::told(subject, |danger| matches!(danger, Danger::NotWhile(_) | Danger::While(_))) {
        let Some(thing) = subject.names.thing(&told.lapse.thing) else { continue };
        let (only, never) = thing.allowed();
        let (allowed, lacks) = match told.lapse.danger {
            Danger::NotWhile(number) => (&only[number], true),
            Danger::While(number) => (&never[number], false),
            _ => continue,
        };
        let other = booked::thing(subject, &allowed.thing.value);
        let state = state_words(allowed.state);
        let message = format!("{} and {other} is {}{state}", told.what_is_done(subject), if lacks { "not " } else { "" });
        let remedy = if lacks {
            format!("bring it about before, for the same vehicles: the definition says `{}`", allowed.text.value)
        } else {
            format!("end that before, for the same vehicles: the definition says never `{}`", allowed.text.value)
        };
        findings.push(told.finding(subject, &RULE, message, &remedy, "what led to it"));
    }
}
