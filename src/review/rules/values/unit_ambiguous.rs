//! `unit-ambiguous`: a unit can be read in more than one way.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::UnitAmbiguous, Family::Values, Severity::Hold, Check::WhileReading, include_str!("unit_ambiguous.md"));
