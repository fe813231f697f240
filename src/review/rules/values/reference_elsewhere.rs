//! `reference-elsewhere`: the words refer to a value of another step, in place of the one that this step uses.

use foldhash::HashSet;

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Spec, Step, TorqueRef};
use crate::guide::prose::RefKind;
use crate::guide::words::PassageKind;
use crate::quantity::Dimension;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ReferenceElsewhere, Family::Values, Severity::Query, Check::Guide(check), include_str!("reference_elsewhere.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let of_steps: Vec<Vec<&str>> = subject.guide.steps.iter().map(used_by).collect();
    let anywhere: HashSet<&str> = of_steps.iter().flatten().copied().collect();
    for (at, used) in of_steps.iter().enumerate() {
        let told: Vec<&str> = subject
            .words()
            .step(at)
            .iter()
            .flat_map(|reading| &reading.passage.references)
            .filter(|reference| reference.kind == RefKind::Spec)
            .map(|reference| reference.id.as_str())
            .collect();
        let instructions =
            subject.words().step(at).iter().filter(|reading| matches!(reading.passage.kind, PassageKind::Paragraph | PassageKind::Item));
        for reading in instructions.filter(|reading| !reading.is_note()) {
            for reference in reading
                .passage
                .references
                .iter()
                .filter(|reference| reference.kind == RefKind::Spec && !used.contains(&reference.id.as_str()))
            {
                let Some(spec) = subject.names.spec(&reference.id) else { continue };
                // A torque that no operation of the step has is told as stray.
                let Some(dimension) = spec.quantity().map(|quantity| quantity.dimension).filter(|kind| *kind != Dimension::Torque) else {
                    continue;
                };
                // Somebody else uses it, and this step uses another of its kind that its words never name.
                let elsewhere = anywhere.contains(reference.id.as_str());
                let own = used.iter().filter(|id| !told.contains(id)).find(|id| {
                    subject.names.spec(id).and_then(|spec| spec.quantity()).is_some_and(|quantity| quantity.dimension == dimension)
                });
                let Some(own) = own.filter(|_| elsewhere) else { continue };
                let name = |spec: &Spec| spec.name.as_ref().map_or(spec.id.value.clone(), |name| name.value.clone());
                let own = subject.names.spec(own).map_or_else(|| (*own).to_owned(), name);
                let message = format!("this is `{}`, and the step uses `{own}`", name(spec));
                let place = subject.guide.place(reading.passage.place(reference.range.start, reference.range.end));
                findings.push(RULE.at(place, message, "refer to the value that the step uses, or add this one to its `specs`"));
            }
        }
    }
}

/// The values that a step's facts use.
fn used_by<'g>(step: &'g Step<'_>) -> Vec<&'g str> {
    let of_operations = step.operations.iter().flat_map(|operation| {
        let torque = match &operation.torque {
            Some(TorqueRef::Spec(id)) => Some(id.value.as_str()),
            _ => None,
        };
        operation.specs.iter().map(|id| id.value.as_str()).chain(torque).chain(operation.loosen_as.iter().map(|id| id.value.as_str()))
    });
    of_operations.chain(step.specs.iter().map(|id| id.value.as_str())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"
spec = [{ id = "dry", name = "Drying time", time = "15 min", source = "practice" }, { id = "skin", name = "Skin time", time = "40 min", source = "practice" }, { id = "gap", name = "Gap", length = "2 mm", source = "practice" }]
item = [{ id = "edge", name = "Cut edge" }]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (
                r#"do = [{ clean = "edge", specs = ["dry"] }]"#,
                r#"Let it dry for [](spec:skin).

## Second

+++
specs = ["skin"]
+++

Let it skin for [](spec:skin)."#,
                "[](spec:skin)",
            ),
            (
                r#"specs = ["dry"]"#,
                r#"Let it dry for [](spec:skin).

## Second

+++
do = [{ clean = "edge", specs = ["skin"] }]
+++

Look at it."#,
                "[](spec:skin)",
            ),
            (
                r#"specs = ["skin", "gap"]"#,
                r#"Let it skin for [](spec:dry), with [](spec:gap).

## Second

+++
specs = ["dry"]
+++

Look at it."#,
                "[](spec:dry)",
            ),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ clean = "edge", specs = ["dry"] }]"#, "Let it dry for [](spec:dry)."),
            (
                r#"do = [{ clean = "edge", specs = ["dry"] }]"#,
                r#"Let it dry for [](spec:dry), not for [](spec:skin).

## Second

+++
specs = ["skin"]
+++

Look at it."#,
            ),
            (
                r#"do = [{ clean = "edge", specs = ["gap"] }]"#,
                r#"Let it dry for [](spec:dry).

## Second

+++
specs = ["dry"]
+++

Look at it."#,
            ),
            ("", "Let it dry for [](spec:dry)."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
