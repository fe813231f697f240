//! Why a theme cannot be used.

use std::error::Error;
use std::fmt;
use std::string::FromUtf8Error;

/// Why a theme cannot be used, or a page not be made with it.
#[derive(Debug)]
pub enum ThemeError {
    /// A file of the shop's theme is no text.
    NotText {
        /// Its name in `themes/`.
        name: String,
        /// Where it stops being UTF-8.
        cause: FromUtf8Error,
    },
    /// A template cannot be read or filled in.
    Template {
        /// The engine's words with line and excerpt, and what was probably meant.
        told: String,
        /// The engine's own error.
        cause: Box<tera::Error>,
    },
    /// A page does not say who comes first.
    NoDeferral {
        /// The template that it is made from.
        template: String,
        /// The sentence that it must say.
        sentence: String,
    },
    /// There is no theme that could be used.
    Missing,
}

impl fmt::Display for ThemeError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("the theme cannot be used: ")?;
        match self {
            ThemeError::NotText { name, cause: _ } => write!(out, "themes/{name} is not UTF-8 text"),
            ThemeError::Template { told, cause: _ } => out.write_str(told),
            ThemeError::NoDeferral { template, sentence } => write!(
                out,
                "pages made from the template `{template}` do not say who comes first: \"{sentence}\"\n  = to do: write {{{{ site.deferral }}}} where every reader sees it, as the foot of the built-in base.html and checklist-sheet.html does"
            ),
            ThemeError::Missing => out.write_str("it is not there"),
        }
    }
}

impl Error for ThemeError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            ThemeError::NotText { cause, .. } => Some(cause),
            ThemeError::Template { cause, .. } => Some(cause),
            ThemeError::NoDeferral { .. } | ThemeError::Missing => None,
        }
    }
}
