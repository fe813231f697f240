//! `type-wrong`: a key has a value of the wrong sort, or one that cannot be.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TypeWrong, Family::Document, Severity::Hold, Check::WhileReading, include_str!("type_wrong.md"));
