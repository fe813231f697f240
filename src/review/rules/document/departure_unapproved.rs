//! `departure-unapproved`: a step departs from the supplier's sheet, and nobody has approved that.

use crate::finding::{Finding, RuleName, Severity};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::DepartureUnapproved,
    Family::Document,
    Severity::Hold,
    Check::Guide(check),
    include_str!("departure_unapproved.md"),
);

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    for departure in guide.steps.iter().flat_map(|step| &step.departures) {
        if departure.approved.is_some() {
            continue;
        }
        let place = guide.place(departure.does.span);
        let message = "this step departs from the supplier's sheet, and nobody has approved it";
        let remedy = "have the departure approved and write the role, for instance approved = \"Shop foreman\", or work to the sheet";
        findings.push(RULE.at(place, message, remedy));
    }
}
