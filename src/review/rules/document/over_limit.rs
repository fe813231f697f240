//! `over-limit`: something of a guide is larger, or nested deeper, than it can be.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OverLimit, Family::Document, Severity::Hold, Check::WhileReading, include_str!("over_limit.md"));
