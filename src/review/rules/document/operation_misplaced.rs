//! `operation-misplaced`: an operation is told where it has no row of its own.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::OperationMisplaced, Family::Document, Severity::Hold, Check::WhileReading, include_str!("operation_misplaced.md"));
