//! `block-unreadable`: a block of facts cannot be read, or stands where it cannot be seen as one.

use crate::finding::{RuleName, Severity};
use crate::review::rule::{Check, Family, Rule};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::BlockUnreadable, Family::Document, Severity::Hold, Check::WhileReading, include_str!("block_unreadable.md"));
