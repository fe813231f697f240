//! `id-twice`: two things have the same id.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::IdTwice, Family::Document, Severity::Hold, Check::WhileReading, include_str!("id_twice.md"));
