//! `mains-uncovered`: a circuit carries a voltage that kills, and no caution of the guide speaks for it.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::covered::{defers, shown};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::wiring::{Supply, is_mains};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::MainsUncovered, Family::People, Severity::Hold, Check::Guide(check), include_str!("mains_uncovered.md"));

/// Marks that speak for such a voltage.
const MARKS: [&str; 2] = ["mains", "high-voltage"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let head = guide.caution_refs.iter().filter_map(|shown| subject.names.caution(&shown.id.value));
    let cautions: Vec<_> = head.chain(guide.steps.iter().flat_map(|step| shown(subject, step))).collect();
    let covering: Vec<_> = cautions.into_iter().filter(|caution| MARKS.iter().any(|mark| caution.covers(mark))).collect();
    for circuit in &guide.own.circuits.rows {
        let (Some(voltage), Some(volts)) = (&circuit.voltage, circuit.volts()) else { continue };
        if !is_mains(volts, Supply::of(&voltage.value.text)) || covering.iter().any(|caution| defers(caution)) {
            continue;
        }
        let what = if covering.is_empty() { "covers `mains` or `high-voltage`" } else { "for it says who may do the work" };
        let message = format!("`{}` carries {}, and no caution of the guide {what}", circuit.name.value, voltage.value.text);
        let remedy = "show a caution that covers `mains`, and say in its `avoid` that the work is for licensed people, by local rules";
        findings.push(RULE.at(guide.place(voltage.span), message, remedy));
    }
}
