//! `text-unreadable`: the file holds bytes that are not UTF-8 text.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TextUnreadable, Family::Document, Severity::Hold, Check::WhileReading, include_str!("text_unreadable.md"));
