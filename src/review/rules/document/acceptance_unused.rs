//! `acceptance-unused`: an acceptance matches no finding.

use crate::review::rule::{Check, Family, Rule};
use crate::finding::{Finding, Severity};
use crate::guide::model::{Acceptance, Guide};
use crate::near::{did_you_mean, nearest};
use crate::review;

pub(crate) const RULE: Rule = Rule {
    name: "acceptance-unused",
    family: Family::Document,
    severity: Severity::Query,
    summary: "An acceptance matches no finding.",
    why: "What it once excused was mended, or moved, or the rule's name is misspelt; left standing it would excuse the next fault unseen.",
    mend: "Take it out.",
    basis: "common practice",
    bad: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
accept = [{ rule = "torque-missing", reason = "none is given" }]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

+++
minutes = 5
+++

Do the work.
"##,
    check: Check::WholeShop,
};

/// The finding for an acceptance that nothing answered to.
pub(crate) fn finding(guide: &Guide<'_>, acceptance: &Acceptance) -> Finding {
    let name = acceptance.rule.value.as_str();
    let place = guide.place(acceptance.rule.span);
    match review::rule(name) {
        Some(rule) if rule.can_be_accepted() => RULE.at(place, format!("nothing here breaks `{name}`"), "take the acceptance out"),
        Some(_) => RULE.at(place, format!("findings of `{name}` cannot be accepted"), "mend what the finding names, and take the acceptance out"),
        None => {
            let near = nearest(name, review::rules::ALL.iter().map(|rule| rule.name));
            let finding = RULE.at(place, format!("there is no rule `{name}`"), format!("use the name from a finding, or take the acceptance out{}", did_you_mean(near)));
            match near {
                Some(near) => finding.with_suggestion(acceptance.rule.span, near),
                None => finding,
            }
        }
    }
}
