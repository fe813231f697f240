//! `unit-mixed`: like values lead with different systems of units, some against the shop's order.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Stated, TorqueRef};
use crate::quantity::{Dimension, System};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Spanned;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::UnitMixed, Family::Values, Severity::Remark, Check::Guide(check), include_str!("unit_mixed.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let wanted = if subject.shop.imperial_first { System::Imperial } else { System::Metric };
    let specs = guide.own.specs.rows.iter().filter_map(|spec| spec.value.as_ref());
    let in_place = guide.operations().filter_map(|(_, operation)| match &operation.torque {
        Some(TorqueRef::InPlace(value)) => Some(value.as_ref()),
        _ => None,
    });
    let values: Vec<(&Spanned<Stated>, Dimension, System)> = specs
        .chain(in_place)
        .filter_map(|value| {
            let quantity = value.value.quantity.as_ref()?;
            Some((value, quantity.dimension, quantity.leading().unit.system))
        })
        .filter(|(_, _, system)| *system != System::Both)
        .collect();
    for (value, dimension, system) in &values {
        if *system != wanted && values.iter().any(|(_, other, system)| other == dimension && *system == wanted) {
            let order = if subject.shop.imperial_first { "imperial" } else { "metric" };
            findings.push(RULE.at(
                guide.place(value.span),
                format!("this {} leads with the other system than the rest of the guide: {}", dimension.name(), value.value.text),
                format!("put the {order} value first, as the shop does"),
            ));
        }
    }
}
