//! `count-disagrees`: the words name another number of some hardware than the step's facts.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{Hardware, HardwareCount, Step};
use crate::guide::names::Names;
use crate::guide::prose::RefKind;
use crate::review::phrases::{is_determiner, is_preposition, is_verb, number_of};
use crate::review::rule::{Check, Family, Rule, Subject};
use crate::review::sentences::{Reading, Sentence, Sort};
use crate::source::Span;

pub(crate) const RULE: Rule =
    Rule::new(RuleName::CountDisagrees, Family::Wording, Severity::Query, Check::Guide(check), include_str!("count_disagrees.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    in_keys(subject, findings);
    for (at, step) in subject.guide.steps.iter().enumerate() {
        let facts = facts(step, subject.names);
        if facts.is_empty() {
            continue;
        }
        for sentence in subject.words().instructions(at) {
            for told in told(&sentence, &facts) {
                let Fact { hardware, named, allowed, .. } = told.fact;
                let numbers: Vec<String> = allowed.iter().map(u32::to_string).collect();
                let message = format!(
                    "the words say {} \u{d7} {}; the facts of the step say {}",
                    told.number,
                    hardware.name.value,
                    numbers.join(" or ")
                );
                let finding = RULE.at(subject.guide.place(told.span), message, "count at the vehicle, and correct the words or the facts");
                findings.push(finding.with_related(subject.guide.place(named.span), "the number in the facts"));
            }
        }
    }
}

/// Counts in summary, conditions and checks, held against all that the guide does with its hardware.
fn in_keys(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    let guide = subject.guide;
    let named = || {
        guide
            .steps
            .iter()
            .flat_map(|step| &step.operations)
            .flat_map(|operation| operation.hardware.iter().map(move |named| (operation, named)))
    };
    let facts: Vec<Fact<'_>> = guide
        .own
        .hardware
        .rows
        .iter()
        .filter_map(|hardware| {
            let (_, first) = named().find(|(_, named)| named.id.value == hardware.id.value)?;
            let of = || named().filter(|(_, named)| named.id.value == hardware.id.value);
            let mut allowed: Vec<u32> = of().map(|(_, named)| named.count).collect();
            allowed.extend(
                of().map(|(operation, _)| {
                    of().filter(|(other, _)| other.verb == operation.verb).map(|(_, named)| named.count).sum::<u32>()
                }),
            );
            // Bare, it is worked on without a number, and nothing can be held against the words.
            let bare = guide.operations().any(|(_, operation)| operation.targets.iter().any(|target| target.value == hardware.id.value));
            let (supplied, spare) =
                (hardware.supplied.as_ref().map(|count| count.value), hardware.spare.as_ref().map_or(0, |count| count.value));
            allowed.extend(
                supplied
                    .into_iter()
                    .flat_map(|supplied| [supplied, supplied.saturating_sub(spare)])
                    .chain(hardware.on_vehicle.as_ref().map(|count| count.value)),
            );
            (!bare && !hardware.uncounted).then(|| Fact {
                hardware,
                named: first,
                allowed,
                owners: vec![hardware.name.value.to_lowercase()],
            })
        })
        .collect();
    let checks = guide.steps.iter().flat_map(|step| &step.checks);
    for text in guide.summary.iter().chain(&guide.before).chain(&guide.final_checks).chain(&guide.follow_up).chain(checks) {
        let reading = Reading::of_key(text);
        for sentence in reading.sentences() {
            let told = (0..sentence.len()).filter_map(|at| Some((at, in_plain_words(&sentence, at, &facts)?)));
            for (at, Told { number, span, fact }) in told {
                // Other things have such a name too: two transport plugs are no plugs of the tube.
                let name = fact.hardware.name.value.to_lowercase();
                let noun = head(&fact.hardware.name.value).to_lowercase();
                let other = subject.names.both().iter().any(|all| {
                    all.items
                        .rows
                        .iter()
                        .map(|row| &row.name)
                        .chain(all.parts.rows.iter().map(|row| &row.name))
                        .any(|other| in_name(&other.value.to_lowercase(), &noun))
                });
                let whole = (at + 1..at + 4)
                    .map(|at| sentence.word(at))
                    .take_while(|word| !is_plural(word, &noun))
                    .all(|word| in_name(&name, word) || is_size(word));
                if other || !whole {
                    continue;
                }
                let message = format!("the words say {number} \u{d7} {}; the facts of the guide do not", fact.hardware.name.value);
                let finding = RULE.at(guide.place(span), message, "count at the vehicle, and correct the words or the facts");
                findings.push(finding.with_related(guide.place(fact.named.span), "a number in the facts"));
            }
        }
    }
}

/// How many of some hardware a step speaks of.
struct Fact<'g> {
    hardware: &'g Hardware,
    /// Where the facts name it first.
    named: &'g HardwareCount,
    /// The count of each operation, and their sum for each verb.
    allowed: Vec<u32>,
    /// Its own name and those of what its operations act on, in lower case.
    owners: Vec<String>,
}

fn facts<'g>(step: &'g Step<'_>, names: Names<'g>) -> Vec<Fact<'g>> {
    let mut facts: Vec<Fact<'g>> = Vec::new();
    for named in step.operations.iter().flat_map(|operation| &operation.hardware) {
        // What is a target too is named without a number there, so that nothing can be held against the words.
        let bare = step
            .operations
            .iter()
            .any(|operation| operation.hardware.is_empty() && operation.targets.iter().any(|target| target.value == named.id.value));
        let known = facts.iter().any(|fact| fact.named.id.value == named.id.value);
        let Some(hardware) = names.hardware(&named.id.value).filter(|_| !bare && !known) else { continue };
        let mut allowed: Vec<u32> = Vec::new();
        for operation in &step.operations {
            let same_verb = step.operations.iter().filter(|other| other.verb == operation.verb);
            let counts = |hardware: &[HardwareCount]| {
                hardware.iter().filter(|count| count.id.value == named.id.value).map(|count| count.count).sum::<u32>()
            };
            allowed.push(counts(&operation.hardware));
            allowed.push(same_verb.map(|other| counts(&other.hardware)).sum());
        }
        allowed.retain(|&count| count > 0);
        allowed.sort_unstable();
        allowed.dedup();
        let with_it = step.operations.iter().filter(|operation| operation.hardware.iter().any(|count| count.id.value == named.id.value));
        let targets = with_it.flat_map(|operation| &operation.targets);
        let names_of = targets.filter_map(|target| Some(names.thing(&target.value)?.name()));
        let owners = names_of.chain([hardware.name.as_str()]).map(str::to_lowercase).collect();
        facts.push(Fact { hardware, named, allowed, owners });
    }
    facts
}

/// A number in the words that is not among those of the facts.
struct Told<'f, 'g> {
    number: u32,
    span: Span,
    fact: &'f Fact<'g>,
}

fn told<'f, 'g>(sentence: &Sentence<'_>, facts: &'f [Fact<'g>]) -> Vec<Told<'f, 'g>> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < sentence.len() {
        if sentence.link(at).is_some() {
            let end = sentence.link_end(at);
            all.extend(in_link(sentence, at, end, facts));
            at = end;
        } else {
            all.extend(in_plain_words(sentence, at, facts));
            at += 1;
        }
    }
    all
}

/// Words that pick some out of all.
fn picks(word: &str) -> bool {
    matches!(word, "last" | "first" | "other" | "remaining" | "next" | "second" | "third" | "of" | "still" | "more" | "further")
}

/// Whether what is told counts at each of several places: `two bolts on each side`.
fn is_per_place(sentence: &Sentence<'_>, number: u32, fact: &Fact<'_>) -> bool {
    let each = (0..sentence.len()).any(|at| matches!(sentence.word(at), "each" | "per" | "every" | "either" | "both"));
    // A van has two sides.
    let of_sides =
        (1..sentence.len()).any(|at| sentence.word(at) == "side" && matches!(sentence.word(at - 1), "each" | "either" | "every"));
    let places = |allowed: u32| if of_sides { number * 2 == allowed } else { allowed.is_multiple_of(number) };
    each && fact.allowed.iter().any(|allowed| number > 0 && *allowed > number && places(*allowed))
}

/// `[the six screws](hardware:x)`.
fn in_link<'f, 'g>(sentence: &Sentence<'_>, from: usize, to: usize, facts: &'f [Fact<'g>]) -> Option<Told<'f, 'g>> {
    let reference = sentence.reference(from).filter(|reference| reference.kind == RefKind::Hardware)?;
    let fact = facts.iter().find(|fact| fact.hardware.id.value == reference.id)?;
    // A single one is picked out of all, or stands for each of them.
    // Behind the noun a number names one of them: `screw 3`.
    let noun = head(&fact.hardware.name.value).to_lowercase();
    let to_noun = (from..to).find(|&at| sentence.word(at) == noun || is_plural(sentence.word(at), &noun)).unwrap_or(to);
    let numbers: Vec<(usize, u32)> =
        (from..to_noun).filter_map(|at| Some((at, count_at(sentence, at)?))).filter(|(_, number)| *number > 1).collect();
    let (at, number) = *numbers.first()?;
    let right = numbers.iter().any(|(_, number)| fact.allowed.contains(number));
    let fewer = fact.allowed.iter().any(|allowed| *allowed > number);
    let part = fewer && ((from..to).any(|at| picks(sentence.word(at)) && at < numbers[0].0) || is_per_place(sentence, number, fact));
    (!right && !part).then(|| Told { number, span: sentence.place(at, to), fact })
}

/// `the four tray bolts`: a number, a few words, and the head of the name of exactly one hardware of the step.
fn in_plain_words<'f, 'g>(sentence: &Sentence<'_>, at: usize, facts: &'f [Fact<'g>]) -> Option<Told<'f, 'g>> {
    /// More words than these between a number and its noun are no name.
    const MOST_WORDS: usize = 4;
    let number = count_at(sentence, at).filter(|number| *number > 1)?;
    let mut words: Vec<&str> = Vec::new();
    for next in at + 1..=at + MOST_WORDS {
        let word = sentence.word(next);
        if word.is_empty() || sentence.link(next).is_some() || is_determiner(word) || is_preposition(word) || matches!(word, "and" | "or") {
            return None;
        }
        let mut alike = facts.iter().filter(|fact| is_plural(word, head(&fact.hardware.name.value)));
        let Some(fact) = alike.next() else {
            words.push(word);
            continue;
        };
        if alike.next().is_some() || fact.allowed.contains(&number) || !ends_name(sentence, next + 1) {
            return None;
        }
        if is_of_another(sentence, next + 1, fact) {
            return None;
        }
        // `the two lower screws`, `the last two screws`: some of them, if the name does not say so.
        let before = sentence.word(at.wrapping_sub(1));
        let before_number =
            (!is_determiner(before) && !is_preposition(before) && !is_verb(before)).then_some(before).filter(|word| !word.is_empty());
        let name = fact.hardware.name.value.to_lowercase();
        let adjective = words.iter().copied().chain(before_number).any(|word| !in_name(&name, word) && !is_size(word));
        let fewer = fact.allowed.iter().any(|allowed| *allowed > number);
        let part = fewer && (adjective || is_per_place(sentence, number, fact));
        return (!part).then(|| Told { number, span: sentence.place(at, next + 1), fact });
    }
    None
}

/// The count that a token says: digits or a number word.
fn count_at(sentence: &Sentence<'_>, at: usize) -> Option<u32> {
    match sentence.sort(at)? {
        Sort::Word | Sort::Number => match sentence.folded(at) {
            "both" => Some(2),
            folded => number_of(folded),
        },
        Sort::Reference | Sort::Mark => None,
    }
}

/// The noun that a name is about: the last word before a comma or a word such as `with`.
fn head(name: &str) -> &str {
    let name = name.split(',').next().unwrap_or_default();
    let words: Vec<&str> = name.split_whitespace().collect();
    let end = words.iter().position(|word| is_preposition(word)).filter(|end| *end > 0).unwrap_or(words.len());
    words[..end].last().copied().unwrap_or_default()
}

/// Whether a word in lower case is the plural of a noun.
fn is_plural(word: &str, noun: &str) -> bool {
    let noun = noun.to_lowercase();
    let Some(stem) = word.strip_suffix('s').filter(|_| !noun.is_empty()) else { return false };
    stem == noun
        || stem.strip_suffix('e') == Some(&noun) && noun.ends_with(['s', 'x', 'h', 'z'])
        || stem.strip_suffix("ie").is_some_and(|stem| noun.strip_suffix('y') == Some(stem))
}

/// Whether the hardware belongs to something that the facts do not name with it: `the four screws of the door card`.
fn is_of_another(sentence: &Sentence<'_>, at: usize, fact: &Fact<'_>) -> bool {
    if sentence.word(at) != "of" || sentence.link(at + 1).is_some() {
        return false;
    }
    let words = (at + 1..sentence.len()).map(|next| sentence.word(next)).take_while(|word| !word.is_empty() && !is_preposition(word));
    let mut nouns = words.filter(|word| !is_determiner(word)).peekable();
    nouns.peek().is_some()
        && !nouns.any(|word| fact.owners.iter().any(|owner| in_name(owner, word) || in_name(owner, word.trim_end_matches('s'))))
}

/// Whether the name ends there: no other noun follows.
fn ends_name(sentence: &Sentence<'_>, at: usize) -> bool {
    sentence.link(at).is_none() && sentence.sort(at) != Some(Sort::Number)
}

fn in_name(name: &str, word: &str) -> bool {
    name.split(|c: char| !c.is_alphanumeric() && c != '-').any(|part| part == word)
}

/// Whether a word is a size, `m8`, which every bolt has.
fn is_size(word: &str) -> bool {
    word.chars().any(|c| c.is_ascii_digit()) || matches!(word, "new" | "old" | "loose" | "small" | "large")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{marked_with, tried};

    const GUIDE: &str = r#"
hardware = [
  { id = "screw", name = "Screw, lower panel" },
  { id = "clip", name = "Push clip, lower panel" },
  { id = "tie", name = "Cable tie with edge clip" },
  { id = "rail-bolt", name = "Rail bolt" },
  { id = "base-bolt", name = "Base bolt" },
]
item = [{ id = "panel", name = "Panel" }, { id = "loom", name = "Loom" }]
"#;
    const STEP: &str = r#"do = [
  { remove = "panel", hardware = ["6 x screw", "2 x clip"], keep = true },
  { remove = "loom", hardware = ["3 x tie", "2 x clip"] },
  { loosen = "loom", hardware = ["4 x rail-bolt", "2 x base-bolt"] },
]"#;

    #[test]
    fn other_numbers_are_found() {
        for (prose, mark) in [
            ("Undo [the four screws](hardware:screw).", "four screws"),
            ("Undo [the 8 screws](hardware:screw) of the panel.", "8 screws"),
            ("Undo the four screws.", "four screws"),
            ("Undo the 5 screws.", "5 screws"),
            ("Undo the eight lower screws.", "eight lower screws"),
            ("Undo the four M6 screws.", "four M6 screws"),
            ("Undo the four screws of the panel.", "four screws"),
            ("Lever the six push clips out.", "six push clips"),
            ("Cut the four cable ties.", "four cable ties"),
            ("Cut [both ties](hardware:tie).", "both ties"),
            ("- Lever [three clips](hardware:clip) out.", "three clips"),
        ] {
            assert_eq!(marked_with(&RULE, GUIDE, STEP, prose), [mark], "{prose}");
        }
        let said = &tried(&RULE, GUIDE, STEP, "Lever [three clips](hardware:clip) out.")[0].1;
        assert_eq!(said, "the words say 3 \u{d7} Push clip, lower panel; the facts of the step say 2 or 4");
    }

    #[test]
    fn right_numbers_and_parts_of_them_are_left_alone() {
        for prose in [
            "Undo [the six screws](hardware:screw).",
            "Undo the 6 screws.",
            "Lever [the four clips](hardware:clip) out.",
            "Lever the two clips out.",
            "Undo the two upper screws.",
            "Undo the upper two screws.",
            "Undo [the last two screws](hardware:screw).",
            "Undo [two of the six screws](hardware:screw).",
            "Undo [three screws](hardware:screw) on each side.",
            "Undo three screws on each side.",
            "Undo [one screw](hardware:screw).",
            "Undo [screw 3](hardware:screw).",
            "Undo [screws 1 to 6](hardware:screw).",
            "Undo the four screws of the door card.",
            "Loosen the three bolts.",
            "Measure six screw holes.",
            "Turn the lever by four stops.",
            "Clean all of the screws in two passes.",
            "Undo [the two nuts](hardware:nut).",
        ] {
            assert_eq!(marked_with(&RULE, GUIDE, STEP, prose), Vec::<String>::new(), "{prose}");
        }
        assert_eq!(marked_with(&RULE, GUIDE, "do = [{ tighten = \"screw\" }]", "Tighten the four screws."), Vec::<String>::new());
    }

    #[test]
    fn the_head_of_a_name_is_its_noun() {
        for (name, noun) in
            [("Flange bolt, tray to floor", "bolt"), ("Cable tie with edge clip", "tie"), ("Undertray", "Undertray"), ("", "")]
        {
            assert_eq!(head(name), noun);
        }
        assert!(is_plural("bushes", "Bush") && is_plural("assemblies", "assembly") && is_plural("bolts", "Bolt"));
        assert!(!is_plural("bolt", "bolt") && !is_plural("s", "") && !is_plural("bolted", "bolt"));
    }
}
