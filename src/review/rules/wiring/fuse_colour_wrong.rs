//! `fuse-colour-wrong`: the words give a blade fuse another colour than its rating has.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Spec, Text};
use crate::guide::prose::RefKind;
use crate::quantity::{Dimension, Form, scan};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::Reading;
use crate::source::Place;
use crate::wiring::{BladeFuse, blade_fuse};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::FuseColourWrong, Family::Wiring, Severity::Query, Check::Guide(check), include_str!("fuse_colour_wrong.md"));

/// Colours of housings as they are called, each with the name that the standard's chart has.
const COLOURS: &[(&str, &str)] = &[
    ("black", "black"),
    ("grey", "grey"),
    ("gray", "grey"),
    ("violet", "violet"),
    ("purple", "violet"),
    ("pink", "pink"),
    ("tan", "tan"),
    ("beige", "tan"),
    ("brown", "brown"),
    ("red", "red"),
    ("blue", "blue"),
    ("yellow", "yellow"),
    ("clear", "clear"),
    ("white", "clear"),
    ("transparent", "clear"),
    ("natural", "clear"),
    ("colourless", "clear"),
    ("colorless", "clear"),
    ("green", "green"),
    ("orange", "orange"),
];

/// Words that may stand between a fuse, its rating and its colour.
const BETWEEN: &[&str] = &["fuse", "fuses", "blade", "mini", "micro", "standard", "regular", "low", "profile", "automotive", "rated", "of"];

/// Fuses whose colours follow other charts.
const OTHERS: &[&str] = &["maxi", "glass", "ceramic", "torpedo", "tube", "cartridge", "bolt", "strip", "mega", "midi", "link"];

/// What a colour in front of a fuse's rating may belong to instead.
const HOLDERS: &[&str] =
    &["holder", "holders", "box", "carrier", "tap", "cover", "wire", "wires", "cable", "cables", "lead", "leads", "circuit", "lamp"];

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let own = &guide.own;
    let names = own.parts.rows.iter().map(|part| &part.name).chain(own.items.rows.iter().map(|item| &item.name));
    let names = names.chain(own.circuits.rows.iter().map(|circuit| &circuit.name)).chain(own.hardware.rows.iter().map(|row| &row.name));
    let notes =
        own.parts.rows.iter().filter_map(|part| part.note.as_ref()).chain(own.items.rows.iter().filter_map(|item| item.note.as_ref()));
    let in_steps = guide.steps.iter().flat_map(|step| {
        let notes = step.operations.iter().filter_map(|operation| operation.note.as_ref());
        std::iter::once(&step.title).chain(&step.checks).chain(notes)
    });
    let keys: Vec<&Text> =
        guide.before.iter().chain(&guide.final_checks).chain(&guide.follow_up).chain(in_steps).chain(names).chain(notes).collect();
    let keys: Vec<Reading> = keys.into_iter().map(Reading::of_key).collect();
    let options = subject.shop.language.reading();
    for reading in subject.words().all().chain(&keys) {
        if !reading.folded.contains("fuse") {
            continue;
        }
        for found in scan(&reading.passage.text, &options) {
            let leading = found.quantity.leading();
            let Form::Single(number) = &leading.form else { continue };
            let rating = leading.unit.to_base(number.value).filter(|_| found.quantity.dimension == Dimension::Current);
            let Some(fuse) = rating.and_then(blade_fuse) else { continue };
            let Some((word, colour)) = colour_of(&reading.folded, found.range.start, found.range.end) else { continue };
            if colour != fuse.housing.name() {
                let place = reading.passage.place(found.range.start.min(word.0), found.range.end.max(word.1));
                let stated = &reading.passage.text[found.range.clone()];
                findings.push(wrong(guide.place(place), stated, &fuse, colour));
            }
        }
        for reference in &reading.passage.references {
            let (start, end) = (reference.range.start, reference.range.end);
            let found = match reference.kind {
                RefKind::Spec => subject.names.spec(&reference.id).zip(colour_of(&reading.folded, start, end)),
                RefKind::Part | RefKind::Item => spec_for(subject, &reference.id)
                    .zip(colour_in(&reading.folded[start..end]).map(|((from, to), colour)| ((start + from, start + to), colour))),
                _ => None,
            };
            let Some((spec, (word, colour))) = found else { continue };
            let Some((stated, fuse)) = rating_of(spec) else { continue };
            if colour != fuse.housing.name() {
                findings.push(wrong(guide.place(reading.passage.place(word.0, word.1)), stated, &fuse, colour));
            }
        }
    }
    let named = own.parts.rows.iter().map(|part| (&part.id, &part.name)).chain(own.items.rows.iter().map(|item| (&item.id, &item.name)));
    for (id, name) in named {
        let Some(((from, to), colour)) = colour_in(&name.value.to_ascii_lowercase()) else { continue };
        let Some((stated, fuse)) = spec_for(subject, id.as_str()).and_then(rating_of) else { continue };
        if colour != fuse.housing.name() {
            let place = Reading::of_key(name).passage.place(from, to);
            findings.push(wrong(guide.place(place), stated, &fuse, colour));
        }
    }
}

fn wrong(place: Place, stated: &str, fuse: &BladeFuse, colour: &str) -> Finding {
    let message = format!("a blade fuse of {stated} is {}, not {colour}", fuse.housing.name());
    RULE.at(place, message, "correct the colour or the rating, or say which fuse it is if it has no blades")
}

/// The rating that a spec gives, as written, where blade fuses have it.
fn rating_of(spec: &Spec) -> Option<(&str, BladeFuse)> {
    let value = spec.value.as_ref()?;
    let leading = value.value.quantity.as_ref()?;
    let Form::Single(number) = &leading.leading().form else { return None };
    let rating = leading.leading().unit.to_base(number.value).filter(|_| leading.dimension == Dimension::Current)?;
    Some((value.value.text.as_str(), blade_fuse(rating)?))
}

/// The spec of the rating of a fuse.
fn spec_for<'g>(subject: &Subject<'g, '_>, id: &str) -> Option<&'g Spec> {
    let of = |spec: &&Spec| spec.of.as_ref().is_some_and(|of| of.value == id) && rating_of(spec).is_some();
    subject.guide.own.specs.rows.iter().find(of)
}

/// The colour that the name of a fuse gives it: `the yellow fuse`, `fuse of the pump, yellow`.
fn colour_in(folded: &str) -> Option<((usize, usize), &'static str)> {
    let words = words(folded, 0, folded.len());
    let fuse = words.iter().position(|(_, word)| matches!(*word, "fuse" | "fuses"))?;
    if words.iter().any(|(_, word)| OTHERS.contains(word) || matches!(*word, "holder" | "box" | "tap" | "cover" | "carrier")) {
        return None;
    }
    let before = words[..fuse].iter().rev().find(|(_, word)| !BETWEEN.contains(word));
    let last = words.last().filter(|(at, _)| folded[..*at].trim_end().ends_with([',', '(']));
    [before, last].into_iter().flatten().find_map(|(at, word)| {
        let name = COLOURS.iter().find(|(spelling, _)| spelling == word)?.1;
        let light = name == "brown" && folded[..*at].trim_end().ends_with("light");
        Some(((*at, *at + word.len()), if light { "tan" } else { name }))
    })
}

/// The colour that a text gives the fuse whose rating stands from `start` to `end`, and where the colour stands.
fn colour_of(folded: &str, start: usize, end: usize) -> Option<((usize, usize), &'static str)> {
    let sentence = folded[..start].rfind(['.', ';', ':']).filter(|at| folded[at + 1..].starts_with(' ')).map_or(0, |at| at + 1);
    let stop = folded[end..].find(['.', ';', ':']).map_or(folded.len(), |at| end + at);
    let before: Vec<(usize, &str)> = words(folded, sentence, start);
    let after: Vec<(usize, &str)> = words(folded, end, stop);
    let is_fuse = |word: &str| matches!(word, "fuse" | "fuses");
    let colour = |(at, word): &(usize, &str)| {
        let name = COLOURS.iter().find(|(spelling, _)| spelling == word)?.1;
        // Light brown is what some call tan.
        let light = name == "brown" && folded[..*at].trim_end().ends_with("light");
        Some(((*at, *at + word.len()), if light { "tan" } else { name }))
    };
    if before.iter().rev().take(3).chain(after.iter().take(4)).any(|(_, word)| OTHERS.contains(word)) {
        return None;
    }
    // "red 15 A fuse", "red blade fuse (15 A)".
    let run = before.iter().rev().take_while(|(_, word)| BETWEEN.contains(word)).count();
    if let Some(found) = before.iter().rev().nth(run).and_then(colour) {
        let named = before.iter().rev().take(run).any(|(_, word)| is_fuse(word));
        let next = after.iter().take_while(|(_, word)| BETWEEN.contains(word)).count();
        let follows = after.iter().take(next).any(|(_, word)| is_fuse(word));
        let holder = after.get(next).is_some_and(|(at, word)| HOLDERS.contains(word) && folded[end..*at].find([',', '(', ')']).is_none());
        if (named || follows) && !holder {
            return Some(found);
        }
    }
    // "15 A red fuse".
    if let [first, second, ..] = &after[..]
        && let Some(found) = colour(first)
        && BETWEEN.contains(&second.1)
        && !after.get(2).is_some_and(|(_, word)| HOLDERS.contains(word))
    {
        return Some(found);
    }
    // "15 A fuse (red)", "15 A blade fuse, red".
    let run = after.iter().take_while(|(_, word)| BETWEEN.contains(word)).count();
    let named = after.iter().take(run).any(|(_, word)| is_fuse(word))
        || before.iter().rev().find(|(_, word)| !matches!(*word, "of" | "rated" | "with" | "for")).is_some_and(|(_, word)| is_fuse(word));
    let found = after.get(run).filter(|_| named).and_then(colour)?;
    let gap = &folded[after.get(run.wrapping_sub(1)).map_or(end, |(at, word)| at + word.len())..found.0.0];
    let ends = folded[found.0.1..].trim_start_matches(' ');
    let apart = gap.contains(['(', ',']) && (ends.is_empty() || ends.starts_with([')', ',', '.', ';']));
    apart.then_some(found)
}

/// The words of a part of a text, with where they start.
fn words(folded: &str, from: usize, to: usize) -> Vec<(usize, &str)> {
    let text = folded.get(from..to).unwrap_or_default();
    let mut words = Vec::new();
    let mut at = 0;
    for piece in text.split(|c: char| !c.is_alphabetic()) {
        if !piece.is_empty() {
            words.push((from + at, piece));
        }
        at += piece.len() + text[at + piece.len()..].chars().next().map_or(0, char::len_utf8);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{marked, tried};

    #[test]
    fn a_wrong_colour_is_found_where_it_stands() {
        for (prose, mark) in [
            ("Push the red 15 A fuse in.", "red 15 A"),
            ("Push the 15 A red fuse in.", "15 A red"),
            ("Push the 15 A fuse (red) in.", "15 A fuse (red"),
            ("Take the blade fuse of 10 A, blue.", "10 A, blue"),
            ("Fit the yellow blade fuse (30 A).", "yellow blade fuse (30 A"),
            ("Fit the green mini fuse, 20 A.", "green mini fuse, 20 A"),
            ("Use the brown 5 A fuse.", "brown 5 A"),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
        let told = tried(&RULE, "final_check = [\"The orange 20 A fuse is in\"]", "", "Look.");
        assert_eq!(told, [("orange 20 A".to_owned(), "a blade fuse of 20 A is yellow, not orange".to_owned())]);
    }

    #[test]
    fn a_colour_beside_the_spec_or_in_the_name_is_held_against_the_rating() {
        let guide = |name: &str| {
            format!(
                "[[part]]\nid = \"f\"\nname = \"{name}\"\n\n[[spec]]\nid = \"r\"\nname = \"Rating\"\nfor = \"f\"\ncurrent = \"15 A\"\nsource = \"practice\""
            )
        };
        let marked = |name: &str, prose: &str| crate::review::trial::marked_with(&RULE, &guide(name), "", prose);
        for (prose, mark) in [
            ("Push the yellow fuse, rated [](spec:r), in.", "yellow"),
            ("Push the clear fuse of [](spec:r) in.", "clear"),
            ("Push the [](spec:r) fuse (red) in.", "red"),
            ("Push [the brown fuse](part:f) in.", "brown"),
        ] {
            assert_eq!(marked("Fuse of the pump", prose), [mark], "{prose}");
        }
        assert_eq!(marked("Fuse of the pump, yellow", "Push it in."), ["yellow"]);
        for (name, prose) in [
            ("Fuse of the pump", "Push the blue fuse, rated [](spec:r), in."),
            ("Fuse of the pump", "Push the light blue fuse, rated [](spec:r), in."),
            ("Fuse of the pump", "Put the yellow strip fuse, rated [](spec:r), in."),
            ("Fuse of the pump", "Push [the blue fuse](part:f) into the red holder."),
            ("Blue fuse of the yellow pump", "Push [the fuse of the red wire](part:f) in."),
        ] {
            assert_eq!(marked(name, prose), Vec::<String>::new(), "{prose}");
        }
    }

    #[test]
    fn right_colours_and_colours_of_other_things_are_left_alone() {
        for prose in [
            "Push the blue 15 A fuse in.",
            "Push the 20 A yellow fuse in.",
            "Take the 7.5 A fuse (brown).",
            "Take the light brown 5 A fuse.",
            "Take the white 25 A fuse.",
            "Put the 15 A fuse into the red wire.",
            "Join the red wire with the 15 A fuse.",
            "Open the red 15 A fuse holder.",
            "Use the red 50 A maxi fuse.",
            "Use the red 15 A torpedo fuse.",
            "The fuse of the red lamp has 15 A.",
            "The red cable carries 15 A. The fuse is in the box.",
            "Lay the red 15 A cable to the fuse.",
            "Fit the 40 A fuse (green).",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
