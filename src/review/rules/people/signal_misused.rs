//! `signal-misused`: the signal word of a caution does not fit what it says can happen.

use crate::finding::{Finding, Severity};
use crate::guide::model::{Caution, Shop, Signal};
use crate::source::{FileId, Place};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule {
    name: "signal-misused",
    family: Family::People,
    severity: Severity::Query,
    summary: "The signal word of a caution does not fit what it says can happen.",
    why: "DANGER, WARNING and CAUTION speak of injury, NOTICE of damage alone. Used otherwise, nobody looks up any more.",
    mend: "DANGER where death or serious injury will follow, WARNING where it could, CAUTION for minor or moderate injury, NOTICE for damage without injury. Of several results the worst decides.",
    basis: "ANSI Z535.6 / Z535.4, meanings of the signal words (published table); ISO 3864-2",
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
signal = "notice"
hazard = "The airbag can fire while its wiring is handled."
result = "Death or serious injury."
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

/// Words that speak of harm to people, as they begin.
const INJURY: &[&str] = &[
    "injur", "death", "dead", "die", "kill", "fatal", "burn", "cut hand", "cuts", "crush", "shock", "poison", "frostbite", "blind", "amputat",
    "suffocat", "drown", "wound", "hurt", "harm", "bruise", "lose a", "loss of sight", "loss of hearing", "electrocut", "scald", "fracture",
    "broken bone", "sting",
];
/// Words that speak of death or lasting harm.
const GRAVE: &[&str] = &[
    "death", "dead", "die", "kill", "fatal", "serious", "severe", "amputat", "electrocut", "blind", "suffocat", "drown", "loss of sight", "life",
];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let cautions = guide.own.cautions.rows.iter().chain(guide.steps.iter().flat_map(|step| &step.cautions));
    findings.extend(cautions.filter_map(|caution| misused(caution, guide.file)));
}

fn check_shop(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    findings.extend(shop.shared.cautions.rows.iter().filter_map(|caution| misused(caution, file)));
}

fn misused(caution: &Caution, file: FileId) -> Option<Finding> {
    // Without a result there is nothing to hold the word against; that it is missing is another finding.
    let result = caution.result.as_ref()?.value.to_lowercase();
    let (injury, grave) = (has(&result, INJURY) || has(&result, GRAVE), has(&result, GRAVE));
    let word = caution.signal.value.key();
    let (why, remedy) = match caution.signal.value {
        Signal::Notice if injury => ("its result is an injury", "use caution, warning or danger, by how bad it can be"),
        Signal::Danger | Signal::Warning | Signal::Caution if !injury => {
            ("its result names no injury", "say who is hurt and how, or use notice for damage alone")
        }
        Signal::Danger if !grave => ("its result is neither death nor serious injury", "use warning or caution, or say how bad it is"),
        Signal::Caution if grave => ("its result is death or serious injury", "use warning where it could happen, danger where it will"),
        _ => return None,
    };
    Some(RULE.at(Place { file, span: caution.signal.span }, format!("`{word}` does not fit: {why}"), remedy))
}

/// Whether one of the words begins somewhere in the text.
fn has(text: &str, words: &[&str]) -> bool {
    words.iter().any(|word| {
        text.match_indices(word).any(|(at, _)| text[..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric()))
    })
}
