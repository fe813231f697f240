//! `range-reversed`: the lower end of a range is above its upper end.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::RangeReversed, Family::Values, Severity::Hold, Check::WhileReading, include_str!("range_reversed.md"));
