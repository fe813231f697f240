//! `key-unknown`: a block has a key that the format does not know.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::KeyUnknown, Family::Document, Severity::Hold, Check::WhileReading, include_str!("key_unknown.md"));
