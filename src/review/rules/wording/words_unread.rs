//! `words-unread`: the guides are written in a language whose sentences the review does not read.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::Shop;
use crate::review::rule::{Check, Family, Rule};
use crate::source::{FileId, Place};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::WordsUnread, Family::Wording, Severity::Remark, Check::Shop(check), include_str!("words_unread.md"));

fn check(shop: &Shop, file: FileId, findings: &mut Vec<Finding>) {
    let Some(span) = shop.language_at.filter(|_| !shop.language.is_read()) else { return };
    findings.push(RULE.at(
        Place { file, span },
        "sentences are read in English only: rules about wording, and what other rules find in sentences, do not apply to these guides",
        "have the words read by somebody else; values, facts, orders of work and counts are reviewed in every language",
    ));
}
