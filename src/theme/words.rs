//! The phrases of a language as templates get them: `say.KEY` is a phrase, and the filter `fill` puts into it what stands in its places,
//! `{{ say.rev | fill(revision=guide.revision) }}`. A key that is not there, and a place that gets nothing, are faults of the template.

use tera::{Kwargs, Map, State, StringInput, Tera, Value};

use crate::phrases::{self, Phrases};

/// Gives the phrases to all templates.
pub(super) fn teach(tera: &mut Tera, say: &'static Phrases) {
    // No phrase holds an angle bracket; so each is safe in text and in an attribute between double quotes.
    let phrase = |text: &str| Value::safe_string(&text.replace('&', "&amp;").replace('"', "&quot;"));
    let phrases: Map = say.all().map(|(key, text)| (key.into(), phrase(text))).collect();
    tera.global_context().insert_value("say", Value::from(phrases));
    let plural = say.plural;
    tera.register_filter("fill", move |phrase: StringInput<'_>, with: Kwargs, _: &State<'_>| -> tera::TeraResult<Value> {
        let find = |place: &str| {
            let (_, what) = with.iter().find(|(name, _)| name.as_str() == Some(place))?;
            let words = what.to_string();
            Some(if what.is_safe() { words } else { safe(&words) })
        };
        match phrases::fill(phrase.as_str(), plural, find) {
            Ok(filled) => Ok(Value::safe_string(&filled)),
            Err(place) => Err(tera::Error::message(format!("nothing is given for `{place}` in the phrase \"{}\"", phrase.as_str()))),
        }
    });
}

/// A text with its markup made harmless, as the engine does it.
fn safe(text: &str) -> String {
    let mut safe = Vec::with_capacity(text.len());
    let written = tera::escape_html(text, &mut safe);
    debug_assert!(written.is_ok(), "writing to memory does not fail");
    String::from_utf8(safe).unwrap_or_default()
}
