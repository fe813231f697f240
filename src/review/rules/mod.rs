//! The rules, one in a file with what it says beside it, and their registry. A row in the list of
//! names (`finding/rule_name.rs`) registers a rule.

use super::rule::Rule;
use crate::finding::RuleName;
use crate::finding::rule_name::every_rule;

macro_rules! rules {
    ($($family:ident: { $($file:ident $rule:ident $name:literal,)* })*) => {
        $(pub(crate) mod $family { $(pub(crate) mod $file;)* })*

        /// Every rule, in the order of the handbook.
        pub static ALL: &[&Rule] = &[$($(&$family::$file::RULE,)*)*];

        /// The rule of this name.
        pub fn rule(name: RuleName) -> &'static Rule {
            match name {
                $($(RuleName::$rule => &$family::$file::RULE,)*)*
            }
        }
    };
}

every_rule!(rules);

#[cfg(test)]
mod tests;
