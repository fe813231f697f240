//! `unit-unknown`: a unit is not one that this value can have.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::UnitUnknown, Family::Values, Severity::Hold, Check::WhileReading, include_str!("unit_unknown.md"));
