//! Layer 3: the review. Runs every rule on a guide, sets accepted findings aside, and draws reports. It
//! reads the model only; it knows nothing of pages.

mod believed;
mod booked;
pub mod carry;
mod circuits;
mod covered;
mod explained;
pub mod handbook;
pub mod mend;
mod named;
mod ordered;
mod phrases;
pub mod report;
pub mod rule;
pub mod rules;
mod sentences;
mod telling;
#[cfg(test)]
mod trial;
mod turned;
mod typed;

use std::cell::OnceCell;

use crate::finding::{Finding, RuleName, Severity, sort};
use crate::guide::ledger::Ledger;
use crate::guide::model::{Guide, Shop};
use crate::guide::names::Names;
use crate::guide::picture::Pictures;
use crate::source::{Place, Span};
use rule::{Check, Subject};
pub use rules::rule;

/// What the review of one guide came to.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What stands, in the order of reports.
    pub findings: Vec<Finding>,
    /// What the author accepted, with the reason.
    pub accepted: Vec<(Finding, String)>,
    /// Where the guide gives torques, for other guides that give none.
    pub torques: Vec<TorqueFact>,
    /// Where the guide lacks torques.
    pub lacking: Vec<TorqueFact>,
}

/// A torque that a guide gives for some hardware, or lacks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TorqueFact {
    /// The hardware's name in lower case: the same words mean the same hardware across guides.
    pub hardware: String,
    /// Where it is written, or missing.
    pub place: Place,
}

impl Outcome {
    /// How many findings have this weight.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }

    /// Whether the guide must not go out.
    pub fn is_held(&self) -> bool {
        self.count(Severity::Hold) > 0
    }
}

/// Reviews one guide; `findings` are those that reading it gave.
pub fn review(
    guide: &Guide<'_>,
    shop: &Shop,
    pictures: &Pictures,
    guide_exists: &(dyn Fn(&str) -> bool + Sync),
    mut findings: Vec<Finding>,
) -> Outcome {
    let ledger = Ledger::new(guide, shop);
    let taken_apart = OnceCell::new();
    let names = Names::new(guide, shop);
    let disbelieved = OnceCell::new();
    let subject =
        Subject { guide, shop, names, ledger: &ledger, disbelieved: &disbelieved, pictures, guide_exists, taken_apart: &taken_apart };
    for rule in rules::ALL {
        if let Check::Guide(check) | Check::GuideAndShop(check, _) = rule.check {
            check(&subject, &mut findings);
        }
    }
    let mut outcome = Outcome {
        torques: rules::tightening::torque_missing::given(&subject),
        lacking: rules::tightening::torque_missing::lacking(&subject),
        ..Outcome::default()
    };
    set_accepted_aside(guide, findings, &mut outcome);
    weigh(shop, &mut outcome.findings);
    sort(&mut outcome.findings);
    outcome
}

/// Reviews the shop file; `findings` are those that reading it gave.
pub fn review_shop(shop: &Shop, mut findings: Vec<Finding>) -> Vec<Finding> {
    if let Some(file) = shop.file {
        for rule in rules::ALL {
            if let Check::Shop(check) | Check::GuideAndShop(_, check) = rule.check {
                check(shop, file, &mut findings);
            }
        }
    }
    weigh(shop, &mut findings);
    sort(&mut findings);
    findings
}

/// Gives findings the weight that the shop gives their rules; those of a rule that is off are dropped.
fn weigh(shop: &Shop, findings: &mut Vec<Finding>) {
    findings.retain_mut(|finding| {
        if !rule(finding.rule).can_be_accepted() {
            return true;
        }
        match shop
            .weights
            .iter()
            .find(|weight| RuleName::meant(&weight.rule.value) == Some(finding.rule))
            .map(|weight| weight.severity.as_str())
        {
            Some("off") => return false,
            Some("hold") => finding.severity = Severity::Hold,
            Some("query") => finding.severity = Severity::Query,
            Some("remark") => finding.severity = Severity::Remark,
            _ => {}
        }
        true
    });
}

/// After all guides were reviewed: findings about missing torques get the places where other guides give one.
pub fn look_elsewhere(outcomes: &mut [Outcome]) {
    let given: Vec<TorqueFact> = outcomes.iter().flat_map(|outcome| outcome.torques.iter().cloned()).collect();
    for outcome in outcomes {
        for finding in outcome.findings.iter_mut().filter(|finding| finding.rule == RuleName::TorqueMissing) {
            rules::tightening::torque_missing::add_places(finding, &outcome.lacking, &given);
        }
    }
}

/// A picture whose body turned out to be broken when it was unpacked: a finding at each place that shows it.
pub fn broken_picture(guide: &Guide<'_>, address: &str, why: &str) -> Vec<Finding> {
    let shown = guide.words().flat_map(|prose| &prose.pictures).filter(|picture| picture.source.value == address);
    shown.map(|picture| rules::document::photo_unreadable::finding(guide.place(picture.source.span), address, why)).collect()
}

/// Two files that would be published under one address.
pub fn same_slug(slug: &str, one: Place, other: Place) -> Finding {
    rules::document::slug_twice::finding(slug, one, other)
}

/// A guide whose text differs from what was issued under its letter.
pub fn revision_not_raised(place: Place, revision: &str, file: &str, differences: &str) -> Finding {
    rules::document::revision_not_raised::finding(place, revision, file, differences)
}

/// A guide of which no entry tells what it changed.
pub fn change_untold(place: Place, before: &str, revision: &str, differences: &str) -> Finding {
    rules::document::change_untold::finding(place, before, revision, differences)
}

/// An issued revision that cannot be read.
pub fn issued_damaged(place: Place, file: &str, why: &str) -> Finding {
    rules::document::issued_damaged::finding(place, file, why)
}

/// A name that a guide had before and that is another guide's, now or before.
pub fn old_name(name: &str, place: Place, other: OldName) -> Finding {
    rules::document::old_name_taken::finding(name, place, other)
}

/// Whose an old name is.
#[derive(Clone, Copy, Debug)]
pub enum OldName {
    /// The guide's own present one.
    Own,
    /// The present one of the guide that starts there.
    Present(Place),
    /// An old one of another guide too, which says so there.
    Claimed(Place),
}

/// Two guides that carry one document number.
pub fn same_document(number: &str, one: Place, other: Place) -> Finding {
    rules::document::document_twice::finding(number, one, other)
}

fn set_accepted_aside(guide: &Guide<'_>, findings: Vec<Finding>, outcome: &mut Outcome) {
    let mut used = vec![false; guide.acceptances.len()];
    for finding in findings {
        let acceptable = rule(finding.rule).can_be_accepted();
        let matching = guide.acceptances.iter().position(|acceptance| {
            acceptable
                && RuleName::meant(&acceptance.rule.value) == Some(finding.rule)
                && finding.place.file == guide.file
                && covers(acceptance.scope, finding.place.span)
        });
        match matching {
            Some(at) => {
                used[at] = true;
                outcome.accepted.push((finding, guide.acceptances[at].reason.value.clone()));
            }
            None => outcome.findings.push(finding),
        }
    }
    for (acceptance, used) in guide.acceptances.iter().zip(used) {
        if !used {
            outcome.findings.push(rules::document::acceptance_unused::finding(guide, acceptance));
        }
        outcome.findings.extend(rules::document::rule_unknown::old_name(&acceptance.rule, guide.file));
    }
}

fn covers(scope: Span, span: Span) -> bool {
    scope.contains(span)
}
