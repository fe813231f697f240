//! `told-elsewhere`: a torque or a size is untold here and told elsewhere in the same guide or in the shop file.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::keys::Block;
use crate::guide::model::{Hardware, Spec};
use crate::guide::tally;
use crate::guide::untold::Untold;
use crate::quantity::Dimension;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::Place;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToldElsewhere, Family::Document, Severity::Query, Check::Guide(check), include_str!("told_elsewhere.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for untold in subject.guide.untold.iter().filter(|untold| untold.heard.is_none()) {
        let told = match (untold.block, untold.key) {
            (Block::Operation, "torque") => of_operation(subject, untold),
            (Block::Spec, "torque") => of_spec(subject, untold),
            (Block::Hardware, "thread" | "class" | "drive" | "length") => of_hardware(subject, untold),
            _ => None,
        };
        let Some((place, words)) = told else { continue };
        let message = format!("this is untold, and {words}");
        let remedy = "if it is the one, refer to it or write it here; if it is not, say in a `note` what sets the two apart";
        findings.push(RULE.at(subject.guide.place(untold.span), message, remedy).with_related(place, "told here"));
    }
}

/// A spec with a torque for one of these fasteners.
fn torque_for(subject: &Subject<'_, '_>, id: &str, less: Option<&str>) -> Option<(Place, String)> {
    let names = subject.names;
    let is_torque = |spec: &&Spec| spec.quantity().is_some_and(|quantity| quantity.dimension == Dimension::Torque);
    let mut specs = names.both().into_iter().flat_map(|names| &names.specs.rows).filter(is_torque);
    let spec =
        specs.find(|spec| spec.of.as_ref().is_some_and(|of| of.value == id) && less != Some(spec.id.as_str()) && spec.note.is_none())?;
    let words = format!("the spec `{}` gives a torque for `{id}`", spec.id.value);
    Some((Place { file: names.file_of_spec(spec), span: spec.id.span }, words))
}

fn of_operation(subject: &Subject<'_, '_>, untold: &Untold) -> Option<(Place, String)> {
    let (_, operation) = subject.guide.operations().find(|(_, operation)| operation.span == untold.table)?;
    let hardware = tally::hardware_of(operation, subject.names);
    // A note beside the operation says what is special here.
    hardware.iter().filter(|_| operation.note.is_none()).find_map(|(_, hardware)| torque_for(subject, hardware.id.as_str(), None))
}

fn of_spec(subject: &Subject<'_, '_>, untold: &Untold) -> Option<(Place, String)> {
    let own = subject.guide.own.specs.get(untold.of.as_deref()?)?;
    let of = own.of.as_ref().filter(|_| own.note.is_none())?;
    torque_for(subject, of.as_str(), Some(own.id.as_str()))
}

/// The same hardware by its name in the shop file, with the size told.
fn of_hardware(subject: &Subject<'_, '_>, untold: &Untold) -> Option<(Place, String)> {
    let own = subject.guide.own.hardware.get(untold.of.as_deref()?)?;
    let told = |row: &Hardware| match untold.key {
        "thread" => row.thread.is_some(),
        "class" => row.class.is_some(),
        "drive" => row.drive.is_some(),
        _ => row.length.is_some(),
    };
    let same = |row: &&Hardware| row.name.value.eq_ignore_ascii_case(&own.name.value) && told(row) && own.note.is_none();
    let other = subject.shop.shared.hardware.rows.iter().find(same)?;
    let words = format!("the shop file gives the {} of its `{}`", untold.key, other.name.value);
    Some((Place { file: subject.shop.file?, span: other.id.span }, words))
}
