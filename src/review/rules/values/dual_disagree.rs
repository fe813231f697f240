//! `dual-disagree`: two units given for one value differ by more than rounding allows.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::DualDisagree, Family::Values, Severity::Hold, Check::WhileReading, include_str!("dual_disagree.md"));
