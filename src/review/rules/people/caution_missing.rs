//! `caution-missing`: work on a marked thing is shown without a caution that covers it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::names::step;
use crate::review::booked;
use crate::review::covered::{Uncovered, uncovered};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CautionMissing, Family::People, Severity::Hold, Check::Guide(check), include_str!("caution_missing.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    // What is missing for one reason is one finding: all places of the same marks are mended by one caution.
    let mut kinds: Vec<Vec<Uncovered<'_>>> = Vec::new();
    for one in uncovered(subject).into_iter().filter(|one| one.later.is_none()) {
        match kinds.iter_mut().find(|kind| kind[0].marks == one.marks) {
            Some(kind) => kind.push(one),
            None => kinds.push(vec![one]),
        }
    }
    findings.extend(kinds.iter().map(|kind| told(subject, kind)));
}

/// Every place that lacks a caution of one kind, in one finding at the first of them.
fn told(subject: &Subject<'_, '_>, kind: &[Uncovered<'_>]) -> Finding {
    let guide = subject.guide;
    let first = &kind[0];
    let known = subject
        .names
        .both()
        .into_iter()
        .flat_map(|names| &names.cautions.rows)
        .filter(|caution| first.marks.iter().all(|mark| caution.covers(mark)));
    let known: Vec<&str> = known.filter_map(|caution| caution.id.as_ref()).map(|id| id.as_str()).collect();
    let covers = first.marks.join("\", \"");
    let remedy = match (known.first(), kind.len()) {
        (Some(id), 1) => format!("add cautions = [\"{id}\"] to the step, or a [[caution]] of its own with covers = [\"{covers}\"]"),
        (None, 1) => format!("add a [[caution]] with hazard, result, avoid and covers = [\"{covers}\"] to the step"),
        (known, _) => {
            let id = known.copied().unwrap_or("ID");
            let mut steps = guide.steps.iter().filter(|step| kind.iter().any(|one| step.span.contains(one.span)));
            let last = steps.next_back().and_then(|last| step(guide, &last.id.value)).map_or("STEP", |(_, step)| step.id.as_str());
            let whose = if known.is_some() { "" } else { " with a [[caution]] of that id at the top" };
            format!(
                "state it once where the hazard begins: cautions = [\"{id} until {last}\"] in this step{whose}; or show a caution that covers \"{covers}\" in each of them"
            )
        }
    };
    let more = match kind.len() - 1 {
        0 => String::new(),
        1 => ", nor in one more place".to_owned(),
        more => format!(", nor in {more} more places"),
    };
    let message = format!(
        "{} is {} here and no caution of this step covers {}{}{more}",
        booked::thing(subject, first.thing),
        first.operation.verb.done(),
        first.marks_words(),
        first.on_which(subject)
    );
    let mut finding = RULE.at(guide.place(first.span), message, remedy);
    for one in &kind[1..] {
        let label = format!("{} is {} here{}", booked::thing(subject, one.thing), one.operation.verb.done(), one.on_which(subject));
        finding = finding.with_related(guide.place(one.span), label);
    }
    finding
}
