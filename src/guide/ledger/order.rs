//! Whether the steps that a step needs come before it. The order of things within reach is left to `access`.

use super::{Discrepancy, What};
use crate::guide::model::Guide;
use crate::guide::names::step;
use crate::guide::variant::{Choice, Terms, Variants};

/// Looks at every `needs`.
pub(super) fn keep(guide: &Guide<'_>, variants: &Variants<'_>, to: &mut Vec<Discrepancy>) {
    for (at, later) in guide.steps.iter().enumerate() {
        for (number, id) in later.needs.iter().enumerate() {
            let Some((needed, earlier)) = step(guide, &id.value) else { continue };
            let both = variants.terms(&later.when).and(variants.terms(&earlier.when));
            let together = variants.can_hold(both);
            if !together && variants.can_hold(variants.terms(&later.when)) && variants.can_hold(variants.terms(&earlier.when)) {
                let when = vec![narrowed(variants, variants.terms(&later.when))];
                to.push(Discrepancy {
                    what: What::Apart(number),
                    thing: later.id.value.clone(),
                    entry: None,
                    other: None,
                    when,
                    more: false,
                });
            }
            // Where no vehicle has both steps, their order does not matter.
            if needed >= at && together {
                let when = vec![narrowed(variants, both)];
                to.push(Discrepancy {
                    what: What::TooEarly(number),
                    thing: later.id.value.clone(),
                    entry: None,
                    other: None,
                    when,
                    more: false,
                });
            }
        }
    }
}

/// The choice in which a condition holds, with no more options than matter.
fn narrowed(variants: &Variants<'_>, terms: Terms) -> Choice {
    Choice { known: terms.options(), with: terms.need }.narrowed(|less| {
        let mut always = true;
        variants.split(less, terms, &mut |_, holds| always &= holds);
        always
    })
}
