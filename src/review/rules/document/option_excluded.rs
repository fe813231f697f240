//! `option-excluded`: the guide is not for vehicles that it has an option for.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Condition, Guide};
use crate::review::named::{is_content, singular, words};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OptionExcluded, Family::Document, Severity::Query, Check::Guide(check), include_str!("option_excluded.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for option in &guide.own.options.rows {
        let name: Vec<String> =
            words(option.name.as_str()).into_iter().filter(|word| is_content(word)).map(|word| singular(&word).to_owned()).collect();
        if name.is_empty() {
            continue;
        }
        for text in guide.not_for.iter().filter(|_| used(guide, option.id.as_str())) {
            let said: Vec<String> = words(text.as_str())
                .into_iter()
                .filter(|word| is_content(word) && !matches!(word.as_str(), "van" | "vans" | "vehicle" | "vehicles"))
                .map(|word| singular(&word).to_owned())
                .collect();
            let negated = words(text.as_str()).iter().any(|word| matches!(word.as_str(), "no" | "not" | "without" | "other" | "whose"));
            // All that is ruled out is the option; what is said of it more narrowly is something else.
            if !negated && name.iter().all(|word| said.contains(word)) && said.len() <= name.len() + 1 {
                let message = format!("the guide is not for \"{}\", and has the option `{}`", text.value, option.name.value);
                findings.push(RULE.at(guide.place(text.span), message, "take the option out with its steps, or the exclusion"));
            }
        }
    }
}

/// Whether anything is done with the option there.
fn used(guide: &Guide<'_>, id: &str) -> bool {
    let needs = |when: &Condition| when.0.iter().any(|term| term.option.value == id && !term.absent);
    guide.steps.iter().any(|step| needs(&step.when) || step.operations.iter().any(|operation| needs(&operation.when)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(not_for: &str, when: &str) -> usize {
        let guide = format!("not_for = [\"{not_for}\"]\noption = [{{ id = \"airbag\", name = \"Side airbag\" }}]");
        crate::review::trial::marked_with(&RULE, &guide, &format!("when = \"{when}\""), "Look at it.").len()
    }

    #[test]
    fn what_is_ruled_out_and_worked_on_is_found() {
        for not_for in ["Vans with a side airbag", "Side airbags", "Vehicles with side airbags"] {
            assert_eq!(told(not_for, "airbag"), 1, "{not_for}");
        }
    }

    #[test]
    fn what_is_ruled_out_of_others_is_left_alone() {
        for (not_for, when) in [
            ("Vans without a side airbag", "airbag"),
            ("Vans with a side airbag", "not airbag"),
            ("Vans with a roof airbag", "airbag"),
            ("Vans whose side airbag hangs on a bracket of the seat", "airbag"),
        ] {
            assert_eq!(told(not_for, when), 0, "{not_for}");
        }
    }
}
