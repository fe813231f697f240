//! `pin-contradicts`: the words give a cavity another wire than the connector, or name a cavity that it does not have.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Item, Pin, Step, Text};
use crate::review::named::{colour, words};
use crate::review::phrases::is_preposition;
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Sentence, Sort};
use crate::wiring::{Colour, read_colour};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::PinContradicts, Family::Wiring, Severity::Hold, Check::Guide(check), include_str!("pin_contradicts.md"));

/// More words than these between a cavity and a colour tell of different things.
const MOST_WORDS: usize = 7;

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for (at, step) in subject.guide.steps.iter().enumerate() {
        for sentence in subject.words().instructions(at) {
            let Some(connector) = connector(subject, step, &sentence) else { continue };
            for (token, number) in cavities(&sentence) {
                let Some(pin) = connector.pins.iter().find(|pin| pin.at.value.eq_ignore_ascii_case(number)) else {
                    // A plug may have more cavities than the job uses; a layout shows all.
                    let all = connector.layout.iter().any(|row| row.value.split_whitespace().any(|cavity| cavity == number));
                    if !all && number.parse::<u32>().is_ok() {
                        let known: Vec<&str> = connector.pins.iter().map(|pin| pin.at.as_str()).collect();
                        let message = format!("`{}` has no cavity {number}: {}", connector.name.value, known.join(", "));
                        findings.push(RULE.at(
                            subject.guide.place(sentence.place(token, token + 1)),
                            message,
                            "look at the housing, and mend whichever of the two is wrong",
                        ));
                    }
                    continue;
                };
                if let Some((from, told)) = function_beside(&sentence, token, pin, connector) {
                    let what = pin.what.as_ref().map_or("", Text::as_str);
                    let message =
                        format!("the words have the {told} in cavity {number} of `{}`, which carries {what}", connector.name.value);
                    let finding = RULE.at(
                        subject.guide.place(sentence.place(from, from + 1)),
                        message,
                        "look at the housing, and mend whichever of the two is wrong",
                    );
                    findings.push(finding.with_related(subject.guide.place(pin.at.span), "the cavity"));
                    continue;
                }
                let Some(wire) = pin.colour.as_ref().and_then(|written| read_colour(written.as_str()).ok()) else { continue };
                let Some((from, told)) = colour_beside(&sentence, token) else { continue };
                let fits = told == wire.base() || wire.stripe() == Some(told);
                if !fits {
                    let message = format!(
                        "the words say {} of cavity {number} of `{}`, the connector says {}",
                        told.name(),
                        connector.name.value,
                        wire.words()
                    );
                    let finding = RULE.at(
                        subject.guide.place(sentence.place(from, from + 1)),
                        message,
                        "look at the wire, and mend whichever of the two is wrong",
                    );
                    findings.push(finding.with_related(subject.guide.place(pin.at.span), "the cavity"));
                }
            }
        }
    }
}

/// What a wire is for, in the words of the trade; words of one row mean one thing.
const FUNCTIONS: &[&[&str]] = &[
    &["earth", "ground", "gnd", "minus", "negative"],
    &["feed", "supply", "plus", "positive", "live"],
    &["signal", "sense"],
    &["data", "bus"],
    &["trigger", "switched", "control"],
    &["pump", "pulse"],
    &["lamp", "light"],
    &["motor"],
];

/// Whether a colour or a function in front of this word is that of a wire: `the black terminal` is something else.
fn is_wire(next: &str) -> bool {
    matches!(
        next,
        "" | "wire"
            | "lead"
            | "cable"
            | "core"
            | "conductor"
            | "strand"
            | "one"
            | "is"
            | "goes"
            | "comes"
            | "stands"
            | "feed"
            | "earth"
            | "ground"
            | "supply"
            | "signal"
    ) || is_preposition(next)
}

fn function(word: &str) -> Option<usize> {
    FUNCTIONS.iter().position(|words| words.contains(&word))
}

/// What the words say a cavity is for, where another cavity carries that and this one does not.
fn function_beside(sentence: &Sentence<'_>, at: usize, pin: &Pin, connector: &Item) -> Option<(usize, String)> {
    let of = |pin: &Pin| {
        pin.what.as_ref().map(|what| words(what.as_str()).iter().filter_map(|word| function(word)).collect::<Vec<_>>()).unwrap_or_default()
    };
    let (from, to) = part(sentence, at);
    let mut told =
        (from..to).filter_map(|token| Some((token, function(sentence.word(token)).filter(|_| is_wire(sentence.word(token + 1)))?)));
    let (token, meant) = told.next()?;
    let only = told.all(|(_, other)| other == meant);
    let own = of(pin);
    let elsewhere = connector.pins.iter().any(|other| !std::ptr::eq(other, pin) && of(other).contains(&meant));
    (only && !own.is_empty() && !own.contains(&meant) && elsewhere).then(|| (token, sentence.word(token).to_owned()))
}

/// The part of the sentence that a cavity stands in: up to the next mark or `and`.
fn part(sentence: &Sentence<'_>, at: usize) -> (usize, usize) {
    let is_end = |token: &usize| sentence.sort(*token) == Some(Sort::Mark) || matches!(sentence.word(*token), "and" | "or");
    let from = (0..at).rev().find(is_end).map_or(0, |end| end + 1).max(at.saturating_sub(MOST_WORDS));
    let to = (at + 1..sentence.len()).find(is_end).unwrap_or(sentence.len()).min(at + MOST_WORDS);
    (from, to)
}

/// The one connector with cavities that a sentence speaks of: by a reference, else the only one of the step's operations.
fn connector<'g>(subject: &Subject<'g, '_>, step: &Step<'_>, sentence: &Sentence<'_>) -> Option<&'g Item> {
    let with_pins = |id: &str| subject.names.item(id).filter(|item| !item.pins.is_empty());
    let mut named: Vec<&Item> = (0..sentence.len()).filter_map(|at| with_pins(&sentence.reference(at)?.id)).collect();
    if named.is_empty() {
        named = step.operations.iter().flat_map(|operation| &operation.targets).filter_map(|id| with_pins(&id.value)).collect();
    }
    let first = *named.first()?;
    named.iter().all(|other| std::ptr::eq(*other, first)).then_some(first)
}

/// The numbers behind `pin`, `cavity` and the like, each with its token.
fn cavities<'s>(sentence: &Sentence<'s>) -> Vec<(usize, &'s str)> {
    let mut found = Vec::new();
    for at in 0..sentence.len() {
        if !matches!(sentence.word(at), "pin" | "pins" | "cavity" | "cavities" | "terminal" | "contact") {
            continue;
        }
        let mut next = at + 1;
        while sentence.sort(next) == Some(Sort::Number) {
            found.push((next, sentence.folded(next)));
            // `pins 3 and 13`, `pins 1, 2 and 4`.
            next += if matches!(sentence.folded(next + 1), "," | "and") { 2 } else { 1 };
        }
    }
    found
}

/// The one colour in the same part of the sentence.
fn colour_beside(sentence: &Sentence<'_>, at: usize) -> Option<(usize, Colour)> {
    let (from, to) = part(sentence, at);
    let mut colours = (from..to).filter_map(|token| {
        let named = colour(sentence.word(token))?;
        is_wire(sentence.word(token + 1)).then_some((token, named))
    });
    let one = colours.next()?;
    colours.next().is_none().then_some(one)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"
connector = [
  { id = "plug", name = "Lamp connector", pin = [{ at = "1", what = "lamp", colour = "RD" }, { at = "2", what = "earth", colour = "BN" }, { at = "3", what = "data", colour = "GN-YE" }] },
]
"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ inspect = "plug" }]"#, "Push the brown wire into pin 1.", "brown"),
            ("", "Push the red wire into cavity 2 of [the plug](connector:plug).", "red"),
            (r#"do = [{ inspect = "plug" }]"#, "Pin 3 has the blue wire.", "blue"),
            (r#"do = [{ inspect = "plug" }]"#, "Push the red wire into pin 7.", "7"),
            (r#"do = [{ inspect = "plug" }]"#, "The earth stands in cavity 1.", "earth"),
            (r#"do = [{ inspect = "plug" }]"#, "Cavity 1 holds the lamp, cavity 2 the data wire.", "data"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ inspect = "plug" }]"#, "Push the red wire into pin 1."),
            (r#"do = [{ inspect = "plug" }]"#, "Push the green wire into pin 3."),
            (r#"do = [{ inspect = "plug" }]"#, "Push the red wire into pin 1, and the brown wire into pin 2."),
            (r#"do = [{ inspect = "plug" }]"#, "Measure from pin 1 to the black terminal."),
            ("", "Push the brown wire into pin 1."),
            (r#"do = [{ inspect = "plug" }]"#, "The earth stands in cavity 2, the lamp in cavity 1."),
            (r#"do = [{ inspect = "plug" }]"#, "Measure from pin 1 to the negative post."),
            (r#"do = [{ inspect = "plug" }]"#, "Look for corrosion on pins 1 and 2."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
