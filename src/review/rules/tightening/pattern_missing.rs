//! `pattern-missing`: four fasteners or more of one joint are tightened, or undone in passes, and nothing says in which order.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::keys::Block;
use crate::guide::model::{Hardware, Operation, Spec};
use crate::guide::tally;
use crate::guide::tightening::count_of;
use crate::guide::untold;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PatternMissing, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("pattern_missing.md"));

/// So many bolts of one joint ask for an order, in one pass or in several: the ring or the cover is drawn down on one side else. Three have
/// no order but round or back.
const MANY: u32 = 4;

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let (guide, names) = (subject.guide, subject.names);
    let mut told: Vec<&str> = Vec::new();
    for (_, operation) in guide.operations() {
        let undone: u32 = tally::hardware_of(operation, names).iter().map(|(count, _)| count).sum();
        if let (Some(first), None, 4..) = (operation.loosen_stages.first(), &operation.loosen_as, undone) {
            let message = format!("{undone} fasteners are undone in passes and nothing says in which order");
            findings.push(RULE.at(
                guide.place(first.span),
                message,
                "add `loosen_as` with the id of a spec whose order is taken in reverse",
            ));
        }
        let Some((id, spec)) = operation.loosen_as.as_ref().and_then(|id| Some((id, names.spec(&id.value)?))) else { continue };
        if spec.pattern.is_none() && spec.order.is_none() {
            let message = format!("the hardware is undone in the reverse order of `{}`, which gives no order", id.value);
            findings.push(RULE.at(guide.place(id.span), message, "add `pattern` or `order` to that spec, or take `loosen_as` out"));
            told.push(&spec.id.value);
        }
    }
    // An order that nobody knows yet is asked for elsewhere.
    let asked =
        |spec: &&Spec| ["pattern", "order"].iter().any(|key| untold::of(guide, subject.shop, Block::Spec, &spec.id.value, key).is_some());
    let unordered = guide.own.specs.rows.iter().filter(|spec| spec.pattern.is_none() && spec.order.is_none());
    // One order that is missing is told once.
    for spec in unordered.filter(|spec| !asked(spec) && !told.contains(&spec.id.as_str())) {
        let uses = guide.operations().map(|(_, operation)| operation);
        let mut uses = uses
            .filter(|operation| tally::torque_of(operation, names).and_then(|(_, used)| used).is_some_and(|used| std::ptr::eq(used, spec)));
        let in_passes = !spec.stages.is_empty();
        let enough = |operation: &&Operation| {
            let count = if in_passes { count_of(operation, names) } else { of_one_joint(subject, operation) };
            count >= MANY
        };
        if let Some(operation) = uses.find(enough) {
            let passes = if in_passes { " in passes" } else { "" };
            let message = format!("{} fasteners are tightened{passes} and `{}` gives no order", count_of(operation, names), spec.id.value);
            findings.push(RULE.at(
                guide.place(spec.id.span),
                message,
                "add `pattern` (circle, rectangle, crosswise, in-order, or maker-sequence where the source shows it), `order` with positions, or \"untold\"",
            ));
        }
    }
}

/// How many fasteners of one joint an operation does up, as far as the facts tell: those that were started by hand at one thing belong
/// together, and clamps hold a hose each.
fn of_one_joint(subject: &Subject<'_, '_>, operation: &Operation) -> u32 {
    let names = subject.names;
    let one = |(count, hardware): (u32, &Hardware)| {
        if !hardware.takes_torque() || hardware.kind.as_ref().is_some_and(|kind| kind.value == "clamp") {
            return 0;
        }
        let started = subject.guide.operations().map(|(_, operation)| operation).filter(|operation| operation.by_hand);
        let started = started.flat_map(|operation| {
            let things = things_of(operation);
            tally::hardware_of(operation, names)
                .into_iter()
                .filter(|(_, other)| std::ptr::eq(*other, hardware))
                .map(move |(count, _)| count / things)
        });
        started.max().unwrap_or(count / things_of(operation)).min(count)
    };
    tally::hardware_of(operation, names).into_iter().map(one).max().unwrap_or(0)
}

/// Over how many things an operation's hardware is spread.
fn things_of(operation: &Operation) -> u32 {
    let things = operation.targets.len() as u32;
    // What the verb acts on may be the hardware itself, whose count is no count of things.
    let count = if operation.hardware.is_empty() { 1 } else { operation.count.map_or(1, |count| count.value) };
    (things * count).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked_with;

    const FACTS: &str = r#"
item = [{ id = "cover", name = "Cover" }, { id = "other", name = "Other cover" }]
part = [{ id = "plate", name = "Plate" }, { id = "leg", name = "Leg", supplied = 3 }]
hardware = [{ id = "bolt", name = "Bolt" }, { id = "band", name = "Band", kind = "clamp" }, { id = "clip", name = "Clip", kind = "clip" }]
spec = [
  { id = "bare", torque = "20 N·m" },
  { id = "ring", torque = "20 N·m", pattern = "circle" },
  { id = "maker", torque = "20 N·m", pattern = "maker-sequence", source = "the sheet" },
  { id = "asked", torque = "20 N·m", order = "untold: supplier" },
  { id = "passes", torque = "20 N·m", stages = ["50 %", "100 %"] },
]
"#;

    fn told(operations: &str) -> Vec<String> {
        marked_with(&RULE, FACTS, &format!("do = [{operations}]"), "Do it.")
    }

    #[test]
    fn an_order_is_asked_for() {
        for (operations, marked) in [
            (r#"{ fit = "plate", hardware = "6 x bolt", torque = "bare" }"#, "bare"),
            (r#"{ fit = "plate", hardware = "4 x bolt", torque = "bare" }"#, "bare"),
            (r#"{ tighten = "bolt", count = 8, torque = "bare" }"#, "bare"),
            (
                r#"{ fit = "plate", hardware = "6 x bolt", by_hand = true }, { tighten = "bolt", hardware = "6 x bolt", torque = "bare" }"#,
                "bare",
            ),
            (r#"{ fit = "plate", hardware = "4 x bolt", torque = "passes" }"#, "passes"),
            (r#"{ remove = "cover", hardware = "4 x bolt", loosen_stages = ["1/4 turn", "out"] }"#, "1/4 turn"),
            (r#"{ loosen = "bolt", hardware = "10 x bolt", loosen_stages = ["90°", "90°"] }"#, "90°"),
            (r#"{ loosen = "bolt", hardware = "8 x bolt", loosen_as = "bare", loosen_stages = ["90°", "90°"] }"#, "bare"),
        ] {
            assert_eq!(told(operations), [marked], "{operations}");
        }
    }

    #[test]
    fn where_none_is_needed_none_is_asked_for() {
        for operations in [
            r#"{ fit = "plate", hardware = "3 x bolt", torque = "bare" }"#,
            r#"{ fit = "plate", hardware = "6 x bolt", torque = "ring" }"#,
            r#"{ fit = "plate", hardware = "6 x bolt", torque = "maker" }"#,
            r#"{ fit = "plate", hardware = "6 x bolt", torque = "asked" }"#,
            r#"{ fit = "plate", hardware = "6 x band", torque = "bare" }"#,
            r#"{ fit = ["plate", "leg"], hardware = "6 x bolt", torque = "bare" }"#,
            r#"{ fit = "leg", count = 3, hardware = "9 x bolt", torque = "bare" }"#,
            r#"{ fit = "plate", hardware = "3 x bolt", by_hand = true }, { fit = "leg", hardware = "3 x bolt", by_hand = true }, { tighten = "bolt", hardware = "6 x bolt", torque = "bare" }"#,
            r#"{ remove = "cover", hardware = "3 x bolt", loosen_stages = ["1/4 turn", "out"] }"#,
            r#"{ remove = "cover", hardware = "6 x bolt", loosen_as = "ring", loosen_stages = ["1/4 turn", "out"] }"#,
            r#"{ remove = "cover", hardware = "6 x bolt" }"#,
        ] {
            assert_eq!(told(operations), Vec::<String>::new(), "{operations}");
        }
    }
}
