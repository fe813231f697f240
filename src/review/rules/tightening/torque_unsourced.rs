//! `torque-unsourced`: a torque does not say where it comes from.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::keys::Block;
use crate::guide::model::{Shop, Spec, TorqueRef};
use crate::guide::untold;
use crate::quantity::Dimension;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::TorqueUnsourced,
    Family::Tightening,
    Severity::Query,
    Check::GuideAndShop(check, check_shop),
    include_str!("torque_unsourced.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    // A source that nobody knows yet is asked for elsewhere.
    let asked = |spec: &&Spec| untold::of(guide, subject.shop, Block::Spec, &spec.id.value, "source").is_some();
    findings.extend(guide.own.specs.rows.iter().filter(|spec| !asked(spec)).filter_map(|spec| unsourced(spec, guide.file)));
    for (_, operation) in guide.operations() {
        if let (Some(TorqueRef::InPlace(value)), None) = (&operation.torque, &operation.source)
            && untold::at(guide, operation.span, "source").is_none()
        {
            findings.push(RULE.at(
                guide.place(value.span),
                format!("the torque {} has no source", value.value.text),
                "add `source` to the operation, or write the torque in a spec with its source",
            ));
        }
    }
}

fn check_shop(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    let asked = |spec: &&Spec| {
        let mut untold = shop.untold.iter().filter(|untold| untold.block == Block::Spec && untold.key == "source");
        untold.any(|untold| untold.of.as_deref() == Some(spec.id.as_str()))
    };
    findings.extend(shop.shared.specs.rows.iter().filter(|spec| !asked(spec)).filter_map(|spec| unsourced(spec, file)));
}

fn unsourced(spec: &Spec, file: FileId) -> Option<Finding> {
    let value = spec.value.as_ref().filter(|_| spec.source.is_none())?;
    // The key, not the text, says that it is a torque: a torque that cannot be read has a finding of its own.
    spec.quantity().filter(|quantity| quantity.dimension == Dimension::Torque)?;
    let message = format!("the torque {} has no source", value.value.text);
    Some(RULE.at(Place { file, span: value.span }, message, "add `source` with the id of the paper it comes from"))
}
