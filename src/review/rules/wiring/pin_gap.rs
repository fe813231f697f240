//! `pin-gap`: a cavity of a connector is not told, or a wire goes to one that the housing does not have.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Item;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule::new(RuleName::PinGap, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("pin_gap.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for connector in guide.own.items.rows.iter().filter(|item| !item.pins.is_empty()) {
        let housing = housing(connector);
        for pin in &connector.pins {
            if !housing.is_empty() && !housing.contains(&pin.at.value) {
                let message = format!("`{}` has no cavity {} in its layout", connector.name.value, pin.at.value);
                findings.push(RULE.at(guide.place(pin.at.span), message, "correct the number, or the layout"));
            }
        }
        let told = |cavity: &String| connector.pins.iter().any(|pin| pin.at.value == *cavity);
        let wanted = if housing.is_empty() { counted(connector) } else { housing };
        let missing: Vec<String> = wanted.into_iter().filter(|cavity| !told(cavity)).collect();
        if !missing.is_empty() {
            let many = if missing.len() == 1 { "cavity" } else { "cavities" };
            let message = format!("nothing is said of {many} {} of `{}`", missing.join(", "), connector.name.value);
            let remedy = "add an entry for each; one that stays empty says what = \"empty\"";
            findings.push(RULE.at(guide.place(connector.id.span), message, remedy));
        }
    }
}

/// The cavities of the layout, where it is given in rows.
fn housing(connector: &Item) -> Vec<String> {
    if connector.layout.iter().any(|row| row.value == "ring") {
        return Vec::new();
    }
    connector.layout.iter().flat_map(|row| row.value.split_whitespace()).filter(|cavity| *cavity != ".").map(str::to_owned).collect()
}

/// Without a layout, the numbers from 1 to the highest.
fn counted(connector: &Item) -> Vec<String> {
    /// A number beyond this is no cavity of a vehicle's connector.
    const MOST: u32 = 200;
    let numbers: Vec<u32> = connector.pins.iter().filter_map(|pin| pin.at.value.parse().ok()).collect();
    let highest = numbers.iter().copied().max().unwrap_or(0).min(MOST);
    (1..=highest).map(|number| number.to_string()).collect()
}
