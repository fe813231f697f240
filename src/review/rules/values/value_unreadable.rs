//! `value-unreadable`: a value cannot be read as a number, range, tolerance or limit with a unit.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ValueUnreadable, Family::Values, Severity::Hold, Check::WhileReading, include_str!("value_unreadable.md"));
