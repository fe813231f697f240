//! `fact-untold`: a fact is `untold`, so nobody knows it yet. The front end reports it, since it cannot be accepted away.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FactUntold, Family::Document, Severity::Hold, Check::WhileReading, include_str!("fact_untold.md"));
