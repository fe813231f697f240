//! `fuse-unknown`: nothing says whether a circuit's fuse protects its wire.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::circuits;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::wiring::Protection;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseUnknown, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("fuse_unknown.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for circuit in &guide.own.circuits.rows {
        let name = circuit.name.value.as_str();
        match (&circuit.fuse, circuits::protection(circuit, subject.shop)) {
            (None, _) => {
                findings.push(RULE.at(
                    guide.place(circuit.id.span),
                    format!("`{name}` names no fuse"),
                    "give the rating of the fuse that protects its wire in `fuse`",
                ));
            }
            (Some(fuse), Some(Protection::Unknown { because })) => {
                let remedy = "add a [[wire]] block for this conductor to the shop file, with the current that the shop allows in it";
                findings.push(RULE.at(
                    guide.place(fuse.span),
                    format!("whether the fuse of `{name}` protects its wire is not known: {because}"),
                    remedy,
                ));
            }
            _ => {}
        }
    }
}
