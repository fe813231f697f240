//! Cautions that stand for a run of steps: stated once, where the hazard begins, up to the step that their `until` names. One
//! place for who asks whether a step is covered and for who prints what still holds.

use crate::finding::{Finding, RuleName};
use crate::guide::bounds::MOST_CAUTIONS;
use crate::guide::model::{Caution, CautionRef, Condition, Guide, Shop};
use crate::guide::names::{Names, last_step};
use crate::source::Place;

/// A caution that stands for a run of steps.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'g> {
    /// The caution.
    pub caution: &'g Caution,
    /// The step that states it; none where it is stated before the first step.
    pub begins: Option<usize>,
    /// The last step for which it holds.
    pub last: usize,
    /// With which options the step that states it is done.
    pub when: Option<&'g Condition>,
}

impl Standing<'_> {
    /// Whether it holds in a step behind the one that states it.
    pub fn holds_in(&self, at: usize) -> bool {
        self.begins.is_none_or(|begins| begins < at) && at <= self.last
    }
}

/// Every standing caution, in the order in which the guide states them; those whose end is unknown, or comes before their beginning, stand
/// for no step.
pub fn standing<'g>(guide: &'g Guide<'_>, names: Names<'g>) -> Vec<Standing<'g>> {
    let ends = |reference: &'g CautionRef| {
        let caution = names.caution(&reference.id.value)?;
        Some((caution, reference.until.as_ref().or(caution.until.as_ref())?))
    };
    let head = guide.caution_refs.iter().filter_map(ends).map(|stated| (None, None, stated));
    let steps = guide.steps.iter().enumerate().flat_map(|(at, step)| {
        let own = step.cautions.iter().filter_map(|caution| Some((caution, caution.until.as_ref()?)));
        step.caution_refs.iter().filter_map(ends).chain(own).map(move |stated| (Some(at), Some(&step.when), stated))
    });
    let all = head.chain(steps).filter_map(|(begins, when, (caution, until))| {
        let (last, _) = last_step(guide, &until.value)?;
        Some(Standing { caution, begins, last: last.min(guide.cautioned.checked_sub(1)?), when })
    });
    all.collect()
}

/// Drops the cautions of the first step that shows more than there can be in all, and of those behind it: a few long ones that every step
/// shows would be more to lay out than all else.
pub(super) fn bounded(guide: &mut Guide<'_>, shop: &Shop) -> Option<Finding> {
    let end = {
        let guide = &*guide;
        let names = Names::new(guide, shop);
        let text = |caution: &Caution| {
            [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()]
                .into_iter()
                .flatten()
                .map(|text| text.value.len())
                .sum::<usize>()
        };
        // What comes to hold in a step, and what no longer does, in bytes.
        let mut changes = vec![(0, 0); guide.steps.len() + 1];
        for one in standing(guide, names) {
            let from = one.begins.map_or(0, |begins| begins + 1);
            if from <= one.last {
                changes[from].0 += one.caution.hazard.value.len();
                changes[one.last + 1].1 += one.caution.hazard.value.len();
            }
        }
        let (mut holds, mut all) = (0, 0);
        guide.steps.iter().zip(changes).position(|(step, (begins, ends))| {
            holds = holds + begins - ends;
            let named = step.caution_refs.iter().filter_map(|reference| names.caution(&reference.id.value));
            all += holds + named.chain(&step.cautions).map(text).sum::<usize>();
            all > MOST_CAUTIONS
        })?
    };
    guide.cautioned = end;
    for step in &mut guide.steps[end..] {
        step.caution_refs.clear();
        step.cautions.clear();
    }
    let place = Place { file: guide.file, span: guide.steps[end].title.span };
    let message =
        format!("the cautions of the steps come to more than {MOST_CAUTIONS} letters here, and those from this step on are not read");
    Some(Finding::hold(RuleName::OverLimit, place, message, "say in fewer words what each of them has to say, or part the guide"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide;
    use crate::source::{FileId, SourceFile};

    #[test]
    fn a_caution_stands_from_the_step_after_its_own_up_to_the_last() {
        let text = "+++\ntitle = \"T\"\ncautions = [\"all\"]\n[[caution]]\nid = \"all\"\nsignal = \"notice\"\nhazard = \"H.\"\nuntil = \"a\"\n+++\n\n## A\n\nWords.\n\n## B\n\n+++\n[[caution]]\nsignal = \"danger\"\nhazard = \"G.\"\nuntil = \"d\"\n+++\n\n## C\n\n## D\n\n## E\n";
        let source = SourceFile::new("guides/t.md", text);
        let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
        let (guide, _) = guide::read(&source, FileId(1), "t", &shop);
        let all = standing(&guide, Names::new(&guide, &shop));
        let held = |at: usize| all.iter().filter(|one| one.holds_in(at)).map(|one| one.caution.hazard.value.as_str()).collect::<String>();
        assert_eq!([0, 1, 2, 3, 4].map(held), ["H.", "", "G.", "G.", ""]);
    }

    #[test]
    fn cautions_that_come_to_more_than_there_can_be_are_told_and_not_read() {
        let long = "Keep away. ".repeat(180);
        let guide = |until: &str| {
            let cautions: String =
                (0..24).map(|at| format!("[[caution]]\nid = \"c{at}\"\nsignal = \"notice\"\nhazard = \"{long}\"\n{until}")).collect();
            let refs = (0..24).map(|at| format!("\"c{at}\"")).collect::<Vec<_>>().join(", ");
            let steps: String = (0..99)
                .map(|at| match until.is_empty() || at == 0 {
                    true => format!("## Step {at}\n\n+++\ncautions = [{refs}]\n+++\n\nDo it.\n\n"),
                    false => format!("## Step {at}\n\nDo it.\n\n"),
                })
                .collect();
            format!("+++\ntitle = \"T\"\n{cautions}+++\n\n{steps}")
        };
        let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
        for until in ["", "until = \"step-98\"\n"] {
            let source = SourceFile::new("guides/t.md", guide(until));
            let (guide, findings) = guide::read(&source, FileId(1), "t", &shop);
            let told = findings.iter().filter(|finding| finding.rule == RuleName::OverLimit).count();
            // 24 of 1,980 letters each: the forty-third step has too many.
            assert_eq!((told, guide.cautioned), (1, 42), "{until}");
            assert!(standing(&guide, Names::new(&guide, &shop)).iter().all(|one| one.last < 42));
            assert!(guide.steps[42..].iter().all(|step| step.caution_refs.is_empty()));
        }
    }
}
