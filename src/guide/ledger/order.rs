//! Whether the steps that a step needs come before it. The order of things within reach is left to `access`.

use super::{Discrepancy, What};
use crate::guide::model::Guide;
use crate::guide::names::step;
use crate::guide::variant::{Choice, Variants};

/// Looks at every `needs`.
pub(super) fn keep(guide: &Guide<'_>, variants: &Variants<'_>, to: &mut Vec<Discrepancy>) {
    for (at, later) in guide.steps.iter().enumerate() {
        for (number, id) in later.needs.iter().enumerate() {
            let Some((needed, earlier)) = step(guide, &id.value) else { continue };
            let both = variants.terms(&later.when).and(variants.terms(&earlier.when));
            // Where no vehicle has both steps, their order does not matter.
            if needed >= at && variants.can_hold(both) {
                let choice = Choice { known: both.options(), with: both.need };
                let when = vec![choice.narrowed(|less| {
                    let mut always = true;
                    variants.split(less, both, &mut |_, holds| always &= holds);
                    always
                })];
                to.push(Discrepancy { what: What::TooEarly(number), thing: later.id.value.clone(), entry: None, other: None, when });
            }
        }
    }
}
