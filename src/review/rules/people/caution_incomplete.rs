//! `caution-incomplete`: a caution does not say what happens, or how to avoid it.

use crate::finding::{Finding, Severity};
use crate::guide::model::{Caution, Shop};
use crate::source::{FileId, Place};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "caution-incomplete",
    family: Family::People,
    severity: Severity::Query,
    summary: "A caution does not say what happens, or how to avoid it.",
    why: "A hazard alone does not tell anybody what to do.",
    mend: "Add `result` and `avoid`.",
    basis: "ANSI Z535.6: kind of hazard, consequence, how to avoid it (read in secondary sources)",
    bad: r##"+++
title = "Fit the side table"
[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]
+++

## Look at the seat

+++
minutes = 5

[[caution]]
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
avoid = "Wait 3 minutes after the battery is disconnected, and work to the vehicle maker's instructions."
covers = ["restraint"]
+++

Do the work.
"##,
    good: r##"+++
title = "Fit the side table"
[[connector]]
id = "airbag"
name = "Seat airbag connector"
marks = ["restraint"]
+++

## Look at the seat

+++
minutes = 5

[[caution]]
signal = "warning"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
avoid = "Wait 3 minutes after the battery is disconnected, and work to the vehicle maker's instructions."
covers = ["restraint"]
+++

Do the work.
"##,
    check: Check::GuideAndShop(check, check_shop),
};

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let cautions = guide.own.cautions.rows.iter().chain(guide.steps.iter().flat_map(|step| &step.cautions));
    findings.extend(cautions.filter_map(|caution| incomplete(caution, guide.file)));
}

fn check_shop(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    findings.extend(shop.shared.cautions.rows.iter().filter_map(|caution| incomplete(caution, file)));
}

fn incomplete(caution: &Caution, file: FileId) -> Option<Finding> {
    let missing = match (&caution.result, &caution.avoid) {
        (Some(_), Some(_)) => return None,
        (None, Some(_)) => "what happens otherwise (`result`)",
        (Some(_), None) => "how to avoid it (`avoid`)",
        (None, None) => "what happens otherwise and how to avoid it (`result`, `avoid`)",
    };
    let place = Place { file, span: caution.hazard.span };
    Some(RULE.at(place, format!("this caution does not say {missing}"), "add it, in one short sentence each"))
}
