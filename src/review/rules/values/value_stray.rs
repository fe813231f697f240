//! `value-stray`: a value in the words, a check or a caution contradicts the spec of the same step.

use crate::review::rule::{Check, Family, Rule, Subject};
use crate::finding::{Finding, Severity};
use crate::guide::model::{Shop, Step};
use crate::guide::tally;
use crate::quantity::{self, Dimension, Quantity};
use crate::review::typed::{Typed, typed_values};

pub(crate) const RULE: Rule = Rule {
    name: "value-stray",
    family: Family::Values,
    severity: Severity::Hold,
    summary: "A value in the words, a check or a caution contradicts the spec of the same step.",
    why: "Paper and screen show two values for one bolt, and one of them is wrong.",
    mend: "Refer to the spec, so that there is one value only.",
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

Tighten to 54 N·m.
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
    let Subject { guide, names, shop, .. } = *subject;
    for step in &guide.steps {
        let torques: Vec<&Quantity> = step
            .operations
            .iter()
            .filter_map(|operation| tally::torque_of(operation, names)?.0.quantity.as_ref())
            .collect();
        let others = step.specs.iter().chain(step.operations.iter().flat_map(|operation| &operation.specs));
        let specs: Vec<&Quantity> = others.filter_map(|id| names.spec(&id.value)?.quantity()).chain(torques).collect();
        if specs.is_empty() {
            continue;
        }
        let stated = typed_values(&step.prose, shop).into_iter().chain(in_texts(step, shop));
        for typed in stated {
            let like: Vec<&&Quantity> = specs.iter().filter(|spec| spec.dimension == typed.quantity.dimension).collect();
            // A pass of a tightening order, or a limit inside a range, is no contradiction.
            if like.is_empty() || like.iter().any(|spec| quantity::same(spec, &typed.quantity)) {
                continue;
            }
            // Lengths and times of many kinds meet in one step; only where one value is meant can another contradict it.
            if typed.quantity.dimension != Dimension::Torque && like.len() != 1 {
                continue;
            }
            // The value of another spec is typed where it should be referred to: that is another finding.
            let known = names.both().into_iter().flat_map(|names| &names.specs.rows).filter_map(|spec| spec.quantity());
            if typed.quantity.dimension != Dimension::Torque && known.into_iter().any(|other| quantity::same(other, &typed.quantity)) {
                continue;
            }
            findings.push(RULE.at(
                guide.place(typed.span),
                format!("{} contradicts the value of this step, {}", typed.text, quantity::spell(like[0])),
                "find out which is right, and refer to the spec instead of typing the value",
            ));
        }
    }
}

/// Torques in the step's checks and cautions, which are plain text. Other dimensions there are rarely those of the step's specs.
fn in_texts(step: &Step<'_>, shop: &Shop) -> Vec<Typed> {
    let options = quantity::Options { decimal_comma: shop.language == "de", default_unit: None };
    let cautions = step.cautions.iter().flat_map(|caution| [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()]).flatten();
    step.checks
        .iter()
        .chain(cautions)
        .flat_map(|text| {
            quantity::scan(&text.value, &options).into_iter().filter(|found| found.quantity.dimension == Dimension::Torque).map(|found| {
                let exact = (text.span.end - text.span.start) as usize == text.value.len();
                let span = if exact { text.span.part(found.range.clone()) } else { text.span };
                Typed { span, text: text.value[found.range].to_owned(), quantity: found.quantity }
            })
        })
        .collect()
}
