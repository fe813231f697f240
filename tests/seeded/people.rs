//! Faults of cautions.

use bayleaf::guide::model::{Caution, Guide, Signal, Step};

use super::clean::{At, Broken, Clean, Edit};

/// The `[[caution]]` block of a step's own caution: from its bracket to the next bracket or the fence.
fn block(clean: &Clean, step: &Step<'_>, caution: &Caution) -> std::ops::Range<usize> {
    let end = step.block.unwrap().end as usize;
    let hazard = caution.signal.span.start.min(caution.hazard.span.start) as usize;
    let start = clean.text()[..hazard].rfind("[[caution]]").unwrap();
    let rest = &clean.text()[start + 2..end];
    let stop = rest.find("\n[[").or_else(|| rest.rfind("\n+++")).unwrap();
    start..start + 2 + stop + 1
}

/// The marks of a step's work, each with the first operation on such a thing.
fn marks<'g>(clean: &'g Clean, guide: &'g Guide<'_>, step: &'g Step<'_>) -> Vec<(&'g str, &'g bayleaf::guide::model::Text)> {
    let names = clean.names(guide);
    let mut marks: Vec<(&str, &bayleaf::guide::model::Text)> = Vec::new();
    for operation in &step.operations {
        for target in &operation.targets {
            let own = names.thing(&target.value).map_or(&[][..], |thing| thing.marks());
            let all = own.iter().map(|mark| mark.as_str()).chain(operation.verb.marks().iter().copied());
            for mark in all {
                if !marks.iter().any(|(other, _)| *other == mark) {
                    marks.push((mark, target));
                }
            }
        }
    }
    marks
}

/// What takes every caution of a step that covers one of `marks` out of it.
fn drop_covering(clean: &Clean, guide: &Guide<'_>, step: &Step<'_>, mark: &str) -> Vec<Edit> {
    let names = clean.names(guide);
    let mut edits: Vec<Edit> = Vec::new();
    for id in
        step.caution_refs.iter().map(|shown| &shown.id).filter(|id| names.caution(&id.value).is_some_and(|caution| caution.covers(mark)))
    {
        // The quotes go too, and the comma behind, if there is one.
        let start = id.span.start as usize - 1;
        let rest = &clean.text()[id.span.end as usize + 1..];
        let comma = if rest.starts_with(", ") { 2 } else { 0 };
        edits.push((start..id.span.end as usize + 1 + comma, String::new()));
    }
    for caution in step.cautions.iter().filter(|caution| caution.covers(mark)) {
        edits.push((block(clean, step, caution), String::new()));
    }
    edits
}

/// Looking and measuring may lean on an earlier caution, so a step that only looks is not tried.
fn only_looks(step: &Step<'_>) -> bool {
    use bayleaf::guide::verb::Verb;
    step.operations.iter().all(|operation| {
        matches!(operation.verb, Verb::Inspect | Verb::Measure | Verb::Test | Verb::Mark | Verb::SwitchOn | Verb::SwitchOff)
    })
}

/// Where the finding for a mark is told: at the first operation that needs hands, or the first at all.
fn told_at<'g>(clean: &'g Clean, guide: &'g Guide<'_>, step: &'g Step<'_>, mark: &str) -> Option<&'g bayleaf::guide::model::Text> {
    marks(clean, guide, step).into_iter().find(|(other, _)| *other == mark).map(|(_, target)| target)
}

pub(crate) fn cautions_dropped(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (at, step) in guide.steps.iter().enumerate().filter(|(_, step)| !only_looks(step)) {
        for (mark, _) in marks(clean, guide, step) {
            let edits = drop_covering(clean, guide, step, mark);
            let Some(target) = told_at(clean, guide, step, mark) else { continue };
            // The first operation may be one that only looks and leans on an earlier caution.
            let verb =
                step.operations.iter().find(|operation| operation.targets.iter().any(|other| other.span == target.span)).unwrap().verb;
            if edits.is_empty() || verb.effect() == bayleaf::guide::verb::Effect::Nothing || next_has_it_for_nothing(clean, guide, at, mark)
            {
                continue;
            }
            broken.push(Broken::new(edits, At::Clean(target.span.range()), &[mark, &target.value]).saying(mark));
        }
    }
    broken
}

/// Whether the next step that shows a caution for the mark has no such work: then it counts as slipped down.
fn next_has_it_for_nothing(clean: &Clean, guide: &Guide<'_>, at: usize, mark: &str) -> bool {
    let names = clean.names(guide);
    let next = guide.steps[at + 1..].iter().find(|step| {
        let by_id = step.caution_refs.iter().map(|shown| &shown.id).filter_map(|id| names.caution(&id.value));
        by_id.chain(&step.cautions).any(|caution| caution.covers(mark))
    });
    next.is_some_and(|step| !marks(clean, guide, step).iter().any(|(other, _)| *other == mark))
}

pub(crate) fn caution_slips(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (at, step) in guide.steps.iter().enumerate().filter(|(_, step)| !only_looks(step)) {
        let Some(next) = guide.steps.get(at + 1) else { continue };
        for (mark, target) in marks(clean, guide, step) {
            let verb =
                step.operations.iter().find(|operation| operation.targets.iter().any(|other| other.span == target.span)).unwrap().verb;
            let covering: Vec<&Caution> = step.cautions.iter().filter(|caution| caution.covers(mark)).collect();
            let by_id = drop_covering(clean, guide, step, mark).len() > covering.len();
            let others = marks(clean, guide, next).iter().any(|(other, _)| *other == mark);
            let ([caution], false, false, Some(fence)) = (covering.as_slice(), by_id, others, next.block) else { continue };
            if verb.effect() == bayleaf::guide::verb::Effect::Nothing || caution.covers.len() > 1 {
                continue;
            }
            let block = block(clean, step, caution);
            let to = fence.end as usize - "+++".len();
            let to = to - usize::from(!clean.text()[..fence.end as usize].ends_with("+++"));
            let moved = format!("\n{}", &clean.text()[block.clone()]);
            let edits = vec![(block, String::new()), (to..to, moved)];
            broken.push(Broken::new(edits, At::Clean(target.span.range()), &[mark, &target.value]));
        }
    }
    broken
}

/// Every caution that the guide writes itself.
fn own<'g>(guide: &'g Guide<'_>) -> impl Iterator<Item = &'g Caution> {
    guide.own.cautions.rows.iter().chain(guide.steps.iter().flat_map(|step| &step.cautions))
}

pub(crate) fn no_result(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let lines = own(guide).filter_map(|caution| Some((caution, caution.result.as_ref()?)));
    lines
        .map(|(caution, result)| {
            let line = clean.line(result.span.start as usize);
            Broken::new(vec![(line, String::new())], At::Clean(caution.hazard.span.range()), &[])
        })
        .collect()
}

pub(crate) fn no_avoid(clean: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let lines = own(guide).filter_map(|caution| Some((caution, caution.avoid.as_ref()?)));
    lines
        .map(|(caution, avoid)| {
            let line = clean.line(avoid.span.start as usize);
            Broken::new(vec![(line, String::new())], At::Clean(caution.hazard.span.range()), &[])
        })
        .collect()
}

pub(crate) fn notice_for_injury(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let hurting = own(guide).filter(|caution| caution.signal.value != Signal::Notice && caution.result.is_some());
    hurting
        .map(|caution| Broken::new(vec![(caution.signal.span.range(), "notice".to_owned())], At::Edit(0, 0.."notice".len()), &[]))
        .collect()
}

pub(crate) fn warning_for_damage(_: &Clean, guide: &Guide<'_>) -> Vec<Broken> {
    let damage = own(guide).filter(|caution| caution.signal.value == Signal::Notice && caution.result.is_some());
    damage
        .map(|caution| Broken::new(vec![(caution.signal.span.range(), "warning".to_owned())], At::Edit(0, 0.."warning".len()), &[]))
        .collect()
}
