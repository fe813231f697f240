//! The languages that guides are written in, and what follows from each for the reading of values. Words of a language that rules know are
//! theirs.

use crate::phrases::{ENGLISH, Phrases};
use crate::quantity::Options;

/// A language of guides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English; decimals have a point.
    #[default]
    English,
    /// German; decimals have a comma.
    German,
}

impl Language {
    /// The codes that a shop file may give, ISO 639-1.
    pub const CODES: &'static [&'static str] = &[Self::English.code(), Self::German.code()];

    /// The language of a code; none for one that guides are not written in.
    pub fn of(code: &str) -> Option<Self> {
        [Self::English, Self::German].into_iter().find(|language| language.code() == code)
    }

    /// The code by ISO 639-1, as pages and files carry it.
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    /// Whether decimals have a comma: "7,5 N·m".
    pub const fn decimal_comma(self) -> bool {
        match self {
            Self::English => false,
            Self::German => true,
        }
    }

    /// The words that pages, sheets and records say of themselves. There is one table so far: where German has none, they are English, and the
    /// handbook says so.
    pub const fn phrases(self) -> &'static Phrases {
        match self {
            Self::English | Self::German => &ENGLISH,
        }
    }

    /// Whether the review can read what is written in it: verbs, counts and words of the trade. The module that reads sentences knows English; rules
    /// that ask it say nothing of a guide in another language, and the review tells that they did not.
    pub const fn is_read(self) -> bool {
        match self {
            Self::English => true,
            Self::German => false,
        }
    }

    /// How values in texts of this language are read.
    pub fn reading(self) -> Options {
        Options { decimal_comma: self.decimal_comma(), default_unit: None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_code_names_its_language() {
        for code in Language::CODES {
            assert_eq!(Language::of(code).map(Language::code), Some(*code));
        }
        assert_eq!(Language::of("EN"), None);
    }
}
