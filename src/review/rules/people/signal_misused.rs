//! `signal-misused`: the signal word of a caution does not fit what it says can happen.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Caution, Shop, Signal};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::SignalMisused,
    Family::People,
    Severity::Query,
    Check::GuideAndShop(check, check_shop),
    include_str!("signal_misused.md"),
);

/// Words that speak of harm to people, as they begin.
const INJURY: &[&str] = &[
    "injur",
    "burn",
    "cut hand",
    "cuts",
    "crush",
    "bruise",
    "sprain",
    "strain",
    "pinch",
    "trapped",
    "caught",
    "frostbite",
    "scald",
    "sting",
    "irritat",
    "dizz",
    "hearing",
    "wound",
    "hurt",
    "harm",
    "lose a",
    "sore",
    "fractur",
    "broken bone",
];
/// Words that speak of death or of harm that can be grave.
const GRAVE: &[&str] = &[
    "death",
    "dead",
    "die",
    "kill",
    "fatal",
    "serious",
    "severe",
    "amputat",
    "electrocut",
    "electric shock",
    "shock",
    "blind",
    "suffocat",
    "asphyxi",
    "drown",
    "loss of sight",
    "life",
    "poison",
    "fractur",
    "broken bone",
    "crush",
];
/// Words for what hurts people or breaks things, by luck: they fit any signal word but say nothing against one.
const EITHER: &[&str] =
    &["fire", "explosion", "explode", "crash", "accident", "collision", "brake", "fall", "loss of control", "leak of gas"];

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
    let (grave, either) = (has(&result, GRAVE), has(&result, EITHER));
    let injury = grave || has(&result, INJURY);
    let word = caution.signal.value.key();
    let (why, remedy) = match caution.signal.value {
        Signal::Notice if injury => ("its result is an injury", "use caution, warning or danger, by how bad it can be"),
        Signal::Danger | Signal::Warning | Signal::Caution if !injury && !either => {
            ("its result names no injury", "say who is hurt and how, or use notice for damage alone")
        }
        Signal::Danger if !grave && !either => {
            ("its result is neither death nor serious injury", "use warning or caution, or say how bad it is")
        }
        Signal::Caution if states_death(&result) => {
            ("its result is death or serious injury", "use warning where it could happen, danger where it will")
        }
        _ => return None,
    };
    Some(RULE.at(Place { file, span: caution.signal.span }, format!("`{word}` does not fit: {why}"), remedy))
}

/// Whether the result says in so many words that it is death or serious injury.
fn states_death(result: &str) -> bool {
    has(result, &["death", "dead", "die", "kill", "fatal", "serious", "severe", "electrocut", "amputat"])
}

/// Whether one of the words begins somewhere in the text.
fn has(text: &str, words: &[&str]) -> bool {
    words
        .iter()
        .any(|word| text.match_indices(word).any(|(at, _)| text[..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{read, shop};
    use crate::source::SourceFile;

    /// The meanings of the signal words are those of ANSI Z535.6 (published table): DANGER will, WARNING could cause death or serious
    /// injury, CAUTION could cause minor or moderate injury, NOTICE is not about injury; of several results the worst decides.
    #[test]
    fn the_word_is_held_against_the_result() {
        for (signal, result, fits) in [
            ("danger", "Death or serious injury.", true),
            ("danger", "Electric shock.", true),
            ("danger", "Cut hands.", false),
            ("danger", "A scratched wing.", false),
            ("warning", "Burns and eye injury.", true),
            ("warning", "Poisoning.", true),
            ("warning", "Loss of the brakes.", true),
            ("warning", "Fire.", true),
            ("warning", "A torn seal.", false),
            ("caution", "Strained back.", true),
            ("caution", "Hearing loss.", true),
            ("caution", "A trapped hand.", true),
            ("caution", "Cut hands.", true),
            ("caution", "Death or serious injury.", false),
            ("caution", "Cut hands, or serious injury to the eyes.", false),
            ("caution", "A dented panel.", false),
            ("notice", "A dented panel.", true),
            ("notice", "Damage to the seat wiring.", true),
            ("notice", "Fire in the wiring.", true),
            ("notice", "Cut hands.", false),
            ("notice", "Strained back.", false),
        ] {
            let text = format!(
                "+++\ntitle = \"T\"\n[[caution]]\nid = \"c\"\nsignal = \"{signal}\"\nhazard = \"H.\"\nresult = \"{result}\"\n+++\n"
            );
            let source = SourceFile::new("a.md", text);
            let (guide, _) = read(&source, FileId(0), "a", &shop::unnamed());
            let found = misused(&guide.own.cautions.rows[0], FileId(0));
            assert_eq!(found.is_none(), fits, "{signal}: {result}: {found:?}");
        }
    }
}
