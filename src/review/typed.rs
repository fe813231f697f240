//! Values typed into running words, with their places: what two rules look at and neither owns.

use crate::guide::model::{Shop, Text};
use crate::guide::prose::Prose;
use crate::quantity::{self, Dimension, Quantity};
use crate::source::Span;

/// A value typed into words.
pub(crate) struct Typed {
    /// Where it stands.
    pub(crate) span: Span,
    /// The characters.
    pub(crate) text: String,
    /// What it says.
    pub(crate) quantity: Quantity,
}

/// Values typed into the words of `prose`. Sizes of tools and a vehicle's voltage are names, not values to work to.
pub(crate) fn typed_values(prose: &Prose<'_>, shop: &Shop) -> Vec<Typed> {
    let options = shop.language.reading();
    let mut typed = Vec::new();
    for (text, span) in prose.runs() {
        if (span.end - span.start) as usize != text.len() {
            continue;
        }
        for found in quantity::scan(text, &options) {
            let next = text[found.range.end..].trim_start().split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
            let names_a_tool = found.quantity.dimension == Dimension::Length && TOOL_WORDS.contains(&next.to_lowercase().as_str());
            if !names_a_tool && found.quantity.dimension != Dimension::Voltage {
                typed.push(Typed { span: span.part(found.range.clone()), text: text[found.range].to_owned(), quantity: found.quantity });
            }
        }
    }
    typed
}

/// Values in the text of a key, such as a check or a caution.
pub(crate) fn typed_in(text: &Text, shop: &Shop) -> Vec<Typed> {
    let options = shop.language.reading();
    let exact = (text.span.end - text.span.start) as usize == text.value.len();
    let found = quantity::scan(&text.value, &options).into_iter();
    found
        .map(|found| {
            let span = if exact { text.span.part(found.range.clone()) } else { text.span };
            Typed { span, text: text.value[found.range].to_owned(), quantity: found.quantity }
        })
        .collect()
}

/// Words that make a length in front of them the size of a tool.
const TOOL_WORDS: &[&str] =
    &["socket", "spanner", "wrench", "hex", "drill", "bit", "key", "drive", "allen", "extension", "punch", "hole", "tap", "die"];
