//! `heading-twice`: two steps of one guide have the same heading.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Step;
use crate::review::named::words;
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::HeadingTwice, Family::Document, Severity::Query, Check::Guide(check), include_str!("heading_twice.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let mut first: HashMap<Vec<String>, &Step<'_>> = HashMap::new();
    for step in &subject.guide.steps {
        let title = words(step.title.as_str());
        let empty = title.is_empty();
        let earlier = match first.entry(title) {
            Entry::Vacant(free) => {
                free.insert(step);
                continue;
            }
            Entry::Occupied(taken) => *taken.get(),
        };
        // For one vehicle there is only one of them.
        let apart = step
            .when
            .0
            .iter()
            .any(|term| earlier.when.0.iter().any(|other| other.option.value == term.option.value && other.absent != term.absent));
        if empty || apart || !step.when.0.is_empty() && !earlier.when.0.is_empty() {
            continue;
        }
        let finding = RULE.at(
            subject.guide.place(step.title.span),
            format!("two steps are called \"{}\"", step.title.value),
            "say in the heading what is different the second time, for instance \"again\" or the side",
        );
        findings.push(finding.with_related(subject.guide.place(earlier.title.span), "the other one"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked_with;

    /// What is marked in a guide of a step called "Step" and this one behind it.
    fn told(first: &str, title: &str, second: &str) -> Vec<String> {
        let options = "option = [{ id = \"heated\", name = \"Heated seat\" }, { id = \"fan\", name = \"Fan\" }]";
        marked_with(&RULE, options, first, &format!("Look at it.\n\n## {title}\n\n+++\nid = \"second\"\n{second}\n+++\n\nLook at it."))
    }

    #[test]
    fn the_same_heading_is_found() {
        for (first, title, second) in [("", "Step", ""), ("", "step", ""), ("when = \"heated\"", "Step", "")] {
            assert_eq!(told(first, title, second), [format!("## {title}")], "{first} {title} {second}");
        }
    }

    #[test]
    fn other_headings_and_other_vehicles_are_left_alone() {
        for (first, title, second) in [
            ("", "Step again", ""),
            ("when = \"heated\"", "Step", "when = \"not heated\""),
            ("when = \"heated\"", "Step", "when = \"fan\""),
        ] {
            assert_eq!(told(first, title, second), Vec::<String>::new(), "{first} {title} {second}");
        }
    }
}
