//! `rule-unknown`: the shop file weighs a rule that does not exist, or one that cannot be weighed.

use crate::finding::{Finding, Severity};
use crate::guide::model::Shop;
use crate::near::{did_you_mean, nearest};
use crate::review;
use crate::review::rule::{Check, Family, Rule};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule = Rule {
    name: "rule-unknown",
    family: Family::Document,
    severity: Severity::Hold,
    summary: "The shop file weighs a rule that does not exist, or one that cannot be weighed.",
    why: "The shop believes that a rule is set as it wants it, and it is not.",
    mend: "Use the name from a finding. Findings about what could not be read always hold.",
    basis: "common practice",
    bad: "",
    good: r##"+++
title = "Fit the bracket"
+++

## Fit the bracket

Do the work.
"##,
    check: Check::Shop(check),
};

fn check(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    for (at, weight) in shop.weights.iter().enumerate() {
        let name = weight.rule.as_str();
        let place = Place { file, span: weight.rule.span };
        match review::rule(name) {
            None => {
                let near = nearest(name, review::rules::ALL.iter().map(|rule| rule.name));
                let remedy = format!("use the name from a finding, or take the block out{}", did_you_mean(near));
                findings.push(RULE.at(place, format!("there is no rule `{name}`"), remedy));
            }
            Some(rule) if !rule.can_be_accepted() => {
                let message = format!("`{name}` cannot be weighed otherwise: what could not be read always holds");
                findings.push(RULE.at(place, message, "take the block out"));
            }
            Some(_) => {
                if let Some(earlier) = shop.weights[..at].iter().find(|earlier| earlier.rule.value == weight.rule.value) {
                    let finding = RULE.at(place, format!("`{name}` is weighed twice"), "take one of the two blocks out");
                    findings.push(finding.with_related(Place { file, span: earlier.rule.span }, "the first one"));
                }
            }
        }
    }
}
