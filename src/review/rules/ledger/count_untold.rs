//! `count-untold`: a part or hardware of the kit goes onto the vehicle, and nothing says how many are supplied.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Text;
use crate::guide::tally;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CountUntold, Family::Ledger, Severity::Query, Check::Guide(check), include_str!("count_untold.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let mut ask = |id: &Text, name: &Text, remedy: &str| {
        let message = format!("nothing says how many of `{}` are supplied", name.value);
        findings.push(RULE.at(guide.place(id.span), message, remedy));
    };
    for part in guide.own.parts.rows.iter().filter(|part| part.supplied.is_none() && !part.uncounted) {
        ask(&part.id, &part.name, "count them on the kit list and add `supplied`; what nobody knows yet is supplied = \"untold\"");
    }
    let moved = tally::Moved::new(guide, subject.names);
    // Hardware that is on the vehicle is counted there; what is fitted beyond it is told by another rule.
    for hardware in guide.own.hardware.rows.iter().filter(|row| row.supplied.is_none() && row.on_vehicle.is_none() && !row.uncounted) {
        if moved.needed(hardware.id.as_str()) > 0 {
            let remedy = "add `supplied` where it comes with the kit, or `on_vehicle` where it is there before; \
                          what nobody knows yet is \"untold\"";
            ask(&hardware.id, &hardware.name, remedy);
        }
    }
}
