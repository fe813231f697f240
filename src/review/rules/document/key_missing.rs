//! `key-missing`: a block lacks a key that it cannot do without.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::KeyMissing, Family::Document, Severity::Hold, Check::WhileReading, include_str!("key_missing.md"));
