//! `two-actions`: one sentence tells two actions that are not one movement.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::words::REFERENCE;
use crate::review::phrases::{is_also_noun, is_particle, is_preposition, is_verb, number_of, opens_clause};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Command, Sentence, Sort};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::TwoActions, Family::Wording, Severity::Remark, Check::Guide(check), include_str!("two_actions.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for sentence in subject.words().all_instructions() {
        let Some(command) = sentence.command().filter(|command| !command.negated) else { continue };
        if let Some((from, verb)) = second_action(&sentence, command) {
            findings.push(RULE.at(
                subject.guide.place(sentence.place(from, verb + 1)),
                format!("one sentence tells two actions, `{}` and `{}`", sentence.word(command.verb), sentence.word(verb)),
                "give each action a sentence of its own",
            ));
        }
    }
}

/// Where the second action begins: its first joining word, and its verb.
fn second_action(sentence: &Sentence<'_>, command: Command) -> Option<(usize, usize)> {
    let mut depth = 0i32;
    // Behind `until`, `so that` and the like, `and` joins what happens there.
    let mut in_clause = false;
    for at in command.verb + 1..sentence.len() {
        match sentence.folded(at) {
            "(" | "[" => depth += 1,
            ")" | "]" => depth -= 1,
            _ => {}
        }
        if depth > 0 || sentence.link(at).is_some() {
            continue;
        }
        let word = sentence.word(at);
        let joined = word == "and" || word == "then" || sentence.is_mark(at, ";");
        // `switch it off, remove the key`: only a verb that is no noun, with its object, parts two actions at a bare comma.
        let bare = sentence.is_mark(at, ",") && !is_also_noun(sentence.word(at + 1)) && sentence.is_object(at + 2);
        if bare && is_verb(sentence.word(at + 1)) && sentence.link(at + 1).is_none() {
            return Some((at + 1, at + 1));
        }
        if joined {
            let verb = sentence.behind_lead(at + 1);
            let after_then = (at..verb).any(|between| sentence.word(between) == "then");
            let free = after_then || sentence.is_mark(at, ";") || !in_clause;
            if free && is_second(sentence, verb, after_then) && (after_then || !is_one_movement(sentence, command.verb, at, verb)) {
                return Some((at, verb));
            }
        }
        if sentence.is_mark(at, ",") || sentence.is_mark(at, ";") {
            in_clause = false;
        } else if opens_clause(word) && !matches!(word, "before" | "after") || is_purpose(sentence, at) {
            in_clause = true;
        }
    }
    None
}

/// Whether `to` tells a purpose: `to reach the bolts`, but not `to position II`.
fn is_purpose(sentence: &Sentence<'_>, at: usize) -> bool {
    let verb = sentence.word(at + 1);
    let as_verb = !is_also_noun(verb) || sentence.is_object(at + 2) || matches!(sentence.word(at + 2), "and" | "or");
    sentence.word(at) == "to" && is_verb(verb) && as_verb
}

/// Whether a command stands there. A word that may be a noun needs its object right behind it: `the clamp and drain plug` is none.
fn is_second(sentence: &Sentence<'_>, verb: usize, after_then: bool) -> bool {
    let word = sentence.word(verb);
    if !is_verb(word) || matches!(sentence.word(verb + 1), "and" | "or") {
        return false;
    }
    let next = verb + 1;
    // `pin that holds` and `pin 3` are nouns.
    let object = sentence.is_object(next) && sentence.sort(next) != Some(Sort::Number);
    if after_then {
        return true;
    }
    let behind = sentence.word(next);
    let asks = matches!(word, "check" | "test" | "look") && matches!(behind, "that" | "whether" | "if");
    let waits = word == "wait" && (number_of(sentence.folded(next)).is_some() || matches!(behind, "for" | "until"));
    if asks || waits {
        return true;
    }
    if is_also_noun(word) {
        return object && sentence.link(verb).is_none();
    }
    object
        || number_of(sentence.folded(next)).is_some()
        || sentence.folded(next).starts_with(REFERENCE)
        || is_particle(behind)
        || is_preposition(behind)
        || matches!(behind, "that" | "whether" | "if" | "sure")
        || (behind.len() > 4 && behind.ends_with("ly"))
}

/// Words for holding something while the other hand works.
const HOLDING: &[&str] = &["hold", "keep", "support", "steady"];
/// Words for moving something by hand.
const MOVES: &[&str] = &[
    "press", "push", "pull", "turn", "slide", "lift", "twist", "tilt", "squeeze", "rotate", "swing", "depress", "draw", "release", "move",
    "roll",
];

/// Whether two commands are one movement: `press the latch and pull the housing`, `lift it and hold it`.
fn is_one_movement(sentence: &Sentence<'_>, first: usize, joint: usize, second: usize) -> bool {
    let (one, other) = (sentence.word(first), sentence.word(second));
    // `push and turn the cap`, `clean, prime and paint the edge`.
    let shares_object = (first + 1..joint).all(|at| sentence.is_mark(at, ",") || is_verb(sentence.word(at)));
    let presses = matches!(one, "press" | "squeeze" | "depress" | "push") && MOVES.contains(&other);
    let goes_on = MOVES.contains(&one) && MOVES.contains(&other) && matches!(sentence.word(second + 1), "it" | "them");
    shares_object || HOLDING.contains(&one) || matches!(other, "hold" | "keep") || presses || goes_on
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::marked;

    #[test]
    fn two_actions_are_found() {
        for (prose, mark) in [
            ("Undo the four bolts and lift the seat out.", "and lift"),
            ("Unplug the connector, then remove the cover.", "then remove"),
            ("Switch the ignition off and then wait.", "and then wait"),
            ("Drain the fluid; close the tap.", "; close"),
            ("If the van has a washer, undo the hose and close its end.", "and close"),
            ("Remove the clip and cover the hole.", "and cover"),
            ("Undo [the nut](hardware:n) and discard it.", "and discard"),
            ("Loosen the clamp, and carefully remove [the hose](item:h).", "and carefully remove"),
            ("Wait until the lamp goes out, and switch the ignition off.", "and switch"),
            ("Clean the face and tighten to [](spec:s).", "and tighten"),
            ("- Set the leg in the socket and turn the lock.", "and turn"),
            ("Slide the seat back and lift the cover.", "and lift"),
            ("Switch the ignition off, remove the key, and wait 3 minutes.", "remove"),
            ("Switch the ignition off and wait 3 minutes.", "and wait"),
            ("Turn the key to position II and check that the lamp comes on.", "and check"),
        ] {
            assert_eq!(marked(&RULE, prose), [mark], "{prose}");
        }
    }

    #[test]
    fn one_action_is_left_alone() {
        for prose in [
            "Undo the clamp and drain plug.",
            "Remove the lock and pin.",
            "Remove the lock and pin with pliers.",
            "Connect pin 2 and pin 3.",
            "Take the seal and cap off the bottle.",
            "Press the latch and pull the housing.",
            "Push and turn the cap.",
            "Clean, prime and paint the edge.",
            "Hold the nut and tighten the bolt.",
            "Press the pedal and hold it.",
            "Lift the panel and slide it to the rear.",
            "Hold it until the latches click and release the lever.",
            "Turn the lever to lock and release the cover.",
            "The bolts are undone and the seat is lifted out.",
            "Do not push the panel and pull the cover.",
            "Look for lines, looms or tanks, and clips.",
            "Take the adapter and the line clamp off.",
            "Undo [the clamp and cover the van has](item:c).",
            "If the van has a washer, hose or tank, remove the cover.",
            "Fit the washer, spring and lock nut.",
            "Slide the seat fully back, then forward.",
            "Check the bolt, the washer and the seal for damage.",
            "> Undo the bolts and lift the seat out.",
        ] {
            assert_eq!(marked(&RULE, prose), Vec::<String>::new(), "{prose}");
        }
    }
}
