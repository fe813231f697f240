//! Turns what the ledger states into words and places: what the rules of the ledger share.

use crate::finding::Finding;
use crate::guide::ledger::{Discrepancy, Entry, What};
use crate::guide::model::Operation;
use crate::guide::variant::Choice;
use crate::review::rule::{Rule, Subject};
use crate::source::Place;

/// The discrepancies that `pick` picks, each with the place it is told at.
pub(crate) fn booked<'g, T>(
    subject: &'g Subject<'_, '_>,
    pick: impl Fn(What) -> Option<T> + 'g,
) -> impl Iterator<Item = (T, Place, &'g Discrepancy)> + 'g {
    subject.ledger.discrepancies.iter().filter_map(move |discrepancy| {
        let picked = pick(discrepancy.what)?;
        let place = match discrepancy.entry {
            Some(entry) => place(subject, entry),
            None => {
                let file = subject.names.file_of_thing(&discrepancy.thing);
                Place { file, span: subject.names.thing(&discrepancy.thing)?.id().span }
            }
        };
        Some((picked, place, discrepancy))
    })
}

/// The place of an entry.
pub(crate) fn place(subject: &Subject<'_, '_>, entry: Entry) -> Place {
    subject.guide.place(entry.span)
}

/// The operation of an entry.
pub(crate) fn operation<'g>(subject: &Subject<'g, '_>, entry: Entry) -> &'g Operation {
    &subject.guide.steps[entry.step].operations[entry.operation]
}

/// The name of a thing.
pub(crate) fn name<'g>(subject: &Subject<'g, '_>, id: &'g str) -> &'g str {
    subject.names.thing(id).map_or(id, |thing| thing.name())
}

/// The name of a thing with its sort in front: `connector Seat heater connector, grey`.
pub(crate) fn thing(subject: &Subject<'_, '_>, id: &str) -> String {
    subject.names.thing(id).map_or_else(|| id.to_owned(), |thing| format!("{} `{}`", thing.sort(), thing.name()))
}

/// The combinations at the end of a message: , on vehicles with `Heated seat`; nothing if it is so on all.
pub(crate) fn on_which(subject: &Subject<'_, '_>, discrepancy: &Discrepancy) -> String {
    on_vehicles(subject, &discrepancy.when, discrepancy.more)
}

/// Combinations at the end of a message.
pub(crate) fn on_vehicles(subject: &Subject<'_, '_>, when: &[Choice], more: bool) -> String {
    let words: Vec<String> = when.iter().map(|choice| subject.ledger.variants.words(*choice)).collect();
    let more = if more { ", and more" } else { "" };
    if words.iter().any(String::is_empty) { String::new() } else { format!(", on vehicles {}{more}", words.join(", or ")) }
}

/// `is` for one and `are` for more.
pub(crate) fn are(count: u32) -> &'static str {
    if count == 1 { "is" } else { "are" }
}

/// A finding with the other entry of the discrepancy beside it, if there is one.
pub(crate) fn finding(
    subject: &Subject<'_, '_>,
    rule: &Rule,
    place: Place,
    discrepancy: &Discrepancy,
    message: String,
    remedy: impl Into<String>,
) -> Finding {
    let finding = rule.at(place, format!("{message}{}", on_which(subject, discrepancy)), remedy);
    match discrepancy.other {
        Some(other) => {
            let verb = operation(subject, other).verb;
            finding.with_related(self::place(subject, other), format!("{} here", verb.done()))
        }
        None => finding,
    }
}
