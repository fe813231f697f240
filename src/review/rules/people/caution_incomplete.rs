//! `caution-incomplete`: a caution does not say what happens, or how to avoid it.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Caution, Shop};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule = Rule::new(
    RuleName::CautionIncomplete,
    Family::People,
    Severity::Query,
    Check::GuideAndShop(check, check_shop),
    include_str!("caution_incomplete.md"),
);

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
