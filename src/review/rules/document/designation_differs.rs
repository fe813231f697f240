//! `designation-differs`: title or summary name another model than the rest of the guide.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DesignationDiffers, Family::Document, Severity::Query, Check::Guide(check), include_str!("designation_differs.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let rest: Vec<String> = {
        let own = &guide.own;
        let parts = own.parts.rows.iter().flat_map(|part| [Some(&part.name), part.number.as_ref()]).flatten();
        let items = own.items.rows.iter().map(|item| &item.name);
        let keys = parts.chain(items).flat_map(|text| designations(text.as_str())).map(str::to_owned);
        let prose = subject.words().all().flat_map(|reading| designations(&reading.passage.text)).map(str::to_owned);
        keys.chain(prose).collect()
    };
    for text in guide.title.iter().chain(&guide.summary) {
        for told in designations(text.as_str()) {
            let (letters, _) = split(told);
            // Another of the same family stands in the guide, and this one nowhere.
            let family = rest.iter().find(|other| split(other).0 == letters && other.as_str() != told);
            if let Some(other) = family.filter(|_| !rest.iter().any(|other| other == told)) {
                let message = format!("nothing else in the guide is of {told}, but of {other}");
                findings.push(RULE.at(
                    guide.place(text.span),
                    message,
                    "find out which model the guide is for, and name it alike everywhere",
                ));
            }
        }
    }
}

/// Letters, a hyphen and figures: `RC-22`, `DCX-30`.
fn designations(text: &str) -> impl Iterator<Item = &str> {
    let pieces = text.split(|c: char| !c.is_ascii_alphanumeric() && c != '-');
    pieces.filter(|piece| {
        let (letters, figures) = split(piece);
        (2..=5).contains(&letters.len())
            && letters.chars().all(|c| c.is_ascii_uppercase())
            && figures.len() >= 2
            && figures.chars().all(|c| c.is_ascii_digit())
    })
}

fn split(piece: &str) -> (&str, &str) {
    piece.split_once('-').unwrap_or((piece, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn models_are_letters_and_figures() {
        let of = |text: &str| designations(text).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(of("Roof unit RC-22, sheet DCX-30"), ["RC-22", "DCX-30"]);
        assert_eq!(of("M8 bolts, class 8.8, AWG 6, a 12 V unit, T-40, EN-5"), Vec::<String>::new());
    }

    #[test]
    fn another_model_of_the_family_is_found_and_a_lone_one_left_alone() {
        let told = |summary: &str, name: &str| {
            crate::review::trial::marked_with(
                &RULE,
                &format!("summary = \"{summary}\"\npart = [{{ id = \"unit\", name = \"{name}\" }}]"),
                "",
                "Look at it.",
            )
        };
        for (summary, name) in
            [("Fits the RC-22.", "Unit RC-32"), ("An AT-20 under the seat.", "Heater AT-40"), ("For DCX-30.", "Charger DCX-300")]
        {
            assert_eq!(told(summary, name).len(), 1, "{summary}");
        }
        for (summary, name) in
            [("Fits the RC-22.", "Unit RC-22"), ("Fits the RC-22.", "Unit AT-40"), ("Fits RC-22 and RC-32.", "Unit RC-32 beside RC-22")]
        {
            assert_eq!(told(summary, name), Vec::<String>::new(), "{summary}");
        }
    }
}
