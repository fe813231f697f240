//! Cautions that stand for a run of steps: stated once, where the hazard begins, up to the step that their `until` names. One
//! place for who asks whether a step is covered and for who prints what still holds.

use crate::guide::model::{Caution, CautionRef, Condition, Guide};
use crate::guide::names::{Names, last_step};

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
        Some(Standing { caution, begins, last, when })
    });
    all.collect()
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
}
