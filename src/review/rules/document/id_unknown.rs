//! `id-unknown`: something is referred to by an id that nothing has.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::IdUnknown, Family::Document, Severity::Hold, Check::WhileReading, include_str!("id_unknown.md"));
