//! `kit-overdrawn`: more is fitted than the kit holds.

use crate::finding::{Finding, Severity};
use crate::guide::ledger::What;
use crate::review::booked::{self, booked};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "kit-overdrawn",
    family: Family::Ledger,
    severity: Severity::Hold,
    summary: "More is fitted than the kit holds.",
    why: "The last place stays empty, or is filled from a drawer with whatever looks alike.",
    mend: "Correct the count in the operation, or `supplied`.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the side table"
[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "bracket-bolt"
name = "Bracket bolt"
no_torque = "demonstration"
supplied = 4
+++

## Fit the bracket

+++
do = [{ fit = "bracket", hardware = "5 x bracket-bolt" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[part]]
id = "bracket"
name = "Bracket"

[[hardware]]
id = "bracket-bolt"
name = "Bracket bolt"
no_torque = "demonstration"
supplied = 4
+++

## Fit the bracket

+++
do = [{ fit = "bracket", hardware = "4 x bracket-bolt" }]
+++

Do the work.
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let over = booked(subject, |what| if let What::NotInKit { wanted, there } = what { Some((wanted, there)) } else { None });
    for ((wanted, there), place, entry) in over {
        let name = booked::name(subject, &entry.thing);
        let (are, is) = (booked::are(wanted), booked::are(there));
        let message = format!("{wanted} × {name} {are} fitted here and {there} {is} left in the kit");
        let mut finding = booked::finding(subject, &RULE, place, entry, message, "correct the count here or before, or `supplied`");
        if let Some(thing) = subject.names.thing(&entry.thing) {
            let file = subject.names.file_of_thing(&entry.thing);
            finding = finding.with_related(crate::source::Place { file, span: thing.id().span }, "what the kit holds");
        }
        findings.push(finding);
    }
}
