//! Whether what a revision changed is told in its `[[change]]` entries. Words of an entry are held against words of the difference: this
//! notices an entry that speaks of something else, and cannot judge whether it tells all.

use std::collections::BTreeSet;

use super::{Difference, Kind};
use crate::document::facts::Sort;
use crate::guide::model::Change;

/// Whether one of the entries tells of a difference.
pub fn is_told(difference: &Difference, entries: &[&Change]) -> bool {
    entries
        .iter()
        .any(|entry| entry.anew || entry.about.iter().any(|id| is_about(difference, &id.value)) || speaks_of(difference, &entry.what.value))
}

/// Whether an id leads to the difference, or is made of the words of its name.
fn is_about(difference: &Difference, id: &str) -> bool {
    if difference.ids.iter().any(|known| known == id) || difference.step.as_ref().is_some_and(|step| step.id == id) {
        return true;
    }
    let name = words(&difference.what);
    let id = words(&id.replace('-', " "));
    !id.is_empty() && id.is_subset(&name)
}

fn speaks_of(difference: &Difference, entry: &str) -> bool {
    let entry_words = words(entry);
    // A number that is new, in the entry as it stands now: `lowered to 40 A`.
    let (old, new) = (numbers(difference.old.as_deref().unwrap_or_default()), numbers(difference.new.as_deref().unwrap_or_default()));
    if difference.kind == Kind::Changed && numbers(entry).iter().any(|number| new.contains(number) && !old.contains(number)) {
        return true;
    }
    let step = difference.step.as_ref().map(|step| step.name.split_once(", ").map_or(step.name.as_str(), |(_, title)| title));
    let own = match difference.kind {
        Kind::Changed => String::new(),
        Kind::Added | Kind::Removed | Kind::Moved => {
            format!("{} {}", difference.old.as_deref().unwrap_or_default(), difference.new.as_deref().unwrap_or_default())
        }
    };
    let thing = words(&format!("{} {own}", difference.what));
    let common = thing.intersection(&entry_words).count();
    let kinds = kind_words(difference.sort);
    let named_kind = kinds.iter().any(|kind| entry_words.contains(*kind));
    // A value is told by what it is of and that it is one; other things by two of their words, or by all where they have one.
    let with_step = words(&format!("{} {own} {}", difference.what, step.unwrap_or_default()));
    let in_step = with_step.intersection(&entry_words).count();
    if !kinds.is_empty() {
        let of_thing = thing.iter().filter(|word| !kinds.contains(&word.as_str()) && entry_words.contains(*word)).count();
        return named_kind && (of_thing > 0 || in_step > common.max(1));
    }
    in_step >= 2 || (in_step == 1 && with_step.len() == 1)
}

/// Words that say which sort of value is meant.
fn kind_words(sort: Sort) -> &'static [&'static str] {
    match sort {
        Sort::Torque => &["torque", "tight", "tighten", "turn", "angle", "n·m", "nm", "lb·ft"],
        Sort::Tightening => &["torque", "tighten", "pas", "passe", "wrench", "setting", "locker", "thread", "condition", "angle", "turn"],
        Sort::Wait => &["wait", "minute", "second", "hour", "time"],
        Sort::Hardware => &[
            "bolt", "nut", "screw", "stud", "clip", "washer", "hardware", "clas", "class", "thread", "drive", "length", "count", "size",
            "rivet", "fastener",
        ],
        _ => &[],
    }
}

/// The numbers in a text.
fn numbers(text: &str) -> BTreeSet<&str> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .map(|number| number.trim_matches(['.', ',']))
        .filter(|number| !number.is_empty())
        .collect()
}

/// The words that tell something, without their endings.
fn words(text: &str) -> BTreeSet<String> {
    const EMPTY: &[&str] = &[
        "the", "and", "with", "for", "from", "that", "this", "before", "after", "into", "onto", "all", "are", "not", "only", "its", "step",
        "new", "now", "what", "done", "how", "changed", "change", "added", "removed", "fit", "remove", "hand", "part", "kit", "vehicle",
        "each", "other", "where", "while", "then", "second", "first",
    ];
    let lower = text.to_lowercase();
    let all = lower
        .split(|c: char| !(c.is_alphanumeric() || c == '·'))
        .filter(|word| word.chars().count() > 2 && word.chars().any(char::is_alphabetic));
    let stem = |word: &str| {
        let cut = ["ings", "ing", "ened", "ed", "es", "s"].iter().find_map(|end| word.strip_suffix(end).filter(|rest| rest.len() > 2));
        cut.unwrap_or(word).to_owned()
    };
    all.filter(|word| !EMPTY.contains(word)).map(stem).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::Place;

    fn difference(sort: Sort, what: &str, old: &str, new: &str) -> Difference {
        let step = Some(Place { id: "base-down".to_owned(), name: "step 5, Bolt the base down".to_owned(), is_there: true });
        let told = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
        let kind = if old.is_empty() { Kind::Added } else { Kind::Changed };
        Difference { kind, sort, step, what: what.to_owned(), old: told(old), new: told(new), by: None, ids: vec!["base-bolt".to_owned()] }
    }

    #[test]
    fn an_entry_about_something_else_tells_nothing() {
        let torque = difference(Sort::Torque, "torque of 4 × Base bolt M8", "22.5 N·m", "24 N·m");
        for (entry, told) in [
            ("Torque of the base bolts", true),
            ("Base bolts are tightened to more", true),
            ("Now 24 N·m", true),
            ("Pictures of the base redone", false),
            ("Pictures redone", false),
            ("Torque of the battery terminals", false),
            ("Torque written more clearly", false),
        ] {
            assert_eq!(speaks_of(&torque, entry), told, "{entry}");
        }
        let option = difference(Sort::Option, "Solar panel", "", "Solar panel: there or not");
        assert!(speaks_of(&option, "Solar panel option added") && !speaks_of(&option, "Torque of the base bolts"));
        assert!(is_about(&torque, "base-bolt") && is_about(&torque, "base-down") && !is_about(&torque, "seat-bolt"));
    }
}
