//! `value-in-prose`: a value with a unit is typed into the words instead of being referred to.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::quantity::{self, Dimension};
use crate::review::typed::typed_values;

pub(crate) const RULE: Rule = Rule {
    name: "value-in-prose",
    family: Family::Values,
    severity: Severity::Query,
    summary: "A value with a unit is typed into the words instead of being referred to.",
    why: "When the value changes, the words keep the old one.",
    mend: "Write the value in a spec and refer to it: [](spec:seat-bolt).",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual" }

[[hardware]]
id = "seat-bolt"
name = "Seat rail bolt"

[[spec]]
id = "seat-bolt"
for = "seat-bolt"
torque = "45 N·m"
source = "manual"
+++

## Fit the bracket

+++
do = [{ tighten = "seat-bolt", torque = "seat-bolt" }]
+++

Tighten to 45 N·m.
"##,
    good: r##"+++
title = "Fit the bracket"
sources = { manual = "Marlin body manual" }

[[hardware]]
id = "seat-bolt"
name = "Seat rail bolt"

[[spec]]
id = "seat-bolt"
for = "seat-bolt"
torque = "45 N·m"
source = "manual"
+++

## Fit the bracket

+++
do = [{ tighten = "seat-bolt", torque = "seat-bolt" }]
+++

Tighten to [](spec:seat-bolt).
"##,
    check: Check::Guide(check),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let Subject { guide, names, .. } = *subject;
    for prose in guide.words() {
        for found in typed_values(prose, subject.shop) {
            let quantity = &found.quantity;
            let twin = names.both().into_iter().flat_map(|names| &names.specs.rows).find(|spec| {
                spec.quantity().is_some_and(|other| other.dimension == quantity.dimension && quantity::same(other, quantity))
            });
            let (remedy, edit) = match twin {
                Some(spec) => {
                    let link = format!("[](spec:{})", spec.id.value);
                    (format!("refer to the spec that has it: {link}"), Some(link))
                }
                None => ("write it in a [[spec]] with its source, and refer to it as [](spec:its-id)".to_owned(), None),
            };
            let mut finding = RULE.at(guide.place(found.span), format!("the value {} is typed into the words", found.text), remedy);
            // Torques and the like decide whether the work holds; a length or a voltage in passing is worth a look only.
            let grave = matches!(
                quantity.dimension,
                Dimension::Torque | Dimension::Pressure | Dimension::Volume | Dimension::Mass | Dimension::Force | Dimension::Temperature
            );
            finding.severity = if grave { Severity::Query } else { Severity::Remark };
            if let Some(link) = edit {
                finding = finding.with_edit(found.span, link);
            }
            findings.push(finding);
        }
    }
}
