//! Which operations on marked things no caution covers where they are done: what two rules look at and
//! neither owns; and whether a caution says who may do its work.

use crate::guide::model::{Caution, Condition, Operation, Step};
use crate::guide::standing::standing;
use crate::guide::variant::{Choice, Terms};
use crate::guide::verb::Verb;
use crate::review::rule::Subject;
use crate::source::Span;

/// An operation on a marked thing that no caution covers.
pub(crate) struct Uncovered<'g> {
    /// The operation.
    pub(crate) operation: &'g Operation,
    /// Where the thing is named.
    pub(crate) span: Span,
    /// The thing's id.
    pub(crate) thing: &'g str,
    /// The marks, all of which lack a caution.
    pub(crate) marks: Vec<&'g str>,
    /// Vehicles for which nothing covers it.
    pub(crate) choices: Vec<Choice>,
    /// A caution that covers the mark and stands in a later step where nothing is done to such things.
    pub(crate) later: Option<Span>,
}

impl Uncovered<'_> {
    /// The vehicles in a message.
    pub(crate) fn on_which(&self, subject: &Subject<'_, '_>) -> String {
        let words: Vec<String> = self.choices.iter().map(|choice| subject.ledger.variants.words(*choice)).collect();
        if words.iter().any(String::is_empty) { String::new() } else { format!(", on vehicles {}", words.join(", or ")) }
    }

    /// The marks in a message.
    pub(crate) fn marks_words(&self) -> String {
        self.marks.iter().map(|mark| format!("`{mark}`")).collect::<Vec<_>>().join(" and ")
    }
}

/// Combinations told for one operation: a reader takes in a few.
const MOST_CHOICES: usize = 3;

/// Every step's first uncovered operation for each mark.
pub(crate) fn uncovered<'g>(subject: &Subject<'g, '_>) -> Vec<Uncovered<'g>> {
    let guide = subject.guide;
    let stands = standing(guide, subject.names);
    let mut found: Vec<Uncovered<'g>> = Vec::new();
    for (at, step) in guide.steps.iter().enumerate() {
        let mut told: Vec<&str> = Vec::new();
        for (operation, thing, span, mark) in marked(subject, step) {
            if told.contains(&mark) {
                continue;
            }
            let terms = |step: &Step<'_>, caution: &Caution| {
                subject.ledger.variants.terms(&step.when).and(subject.ledger.variants.terms(&caution.when))
            };
            let mut covers: Vec<Terms> =
                shown(subject, step).filter(|caution| caution.covers(mark)).map(|caution| terms(step, caution)).collect();
            let always = Condition::default();
            covers.extend(stands.iter().filter(|one| one.caution.covers(mark) && one.holds_in(at)).map(|one| {
                let stated = subject.ledger.variants.terms(one.when.unwrap_or(&always));
                stated.and(subject.ledger.variants.terms(&one.caution.when))
            }));
            if only_looks(operation.verb) {
                // To look at a thing, it is enough to have been warned before.
                let head = guide.caution_refs.iter().filter_map(|shown| subject.names.caution(&shown.id.value));
                covers.extend(head.filter(|caution| caution.covers(mark)).map(|_| Terms::default()));
                for earlier in &guide.steps[..at] {
                    covers.extend(shown(subject, earlier).filter(|caution| caution.covers(mark)).map(|caution| terms(earlier, caution)));
                }
            }
            let done = subject.ledger.variants.terms(&step.when).and(subject.ledger.variants.terms(&operation.when));
            if !subject.ledger.variants.can_hold(done) {
                continue;
            }
            // Each choice that was told counts as covered, so that the next look finds another.
            let mut choices = Vec::new();
            while let Some(choice) = subject.ledger.variants.without_any(done, &covers).filter(|_| choices.len() < MOST_CHOICES) {
                choices.push(choice);
                covers.push(Terms { need: choice.with, bar: choice.known & !choice.with });
            }
            if let Some(&choice) = choices.first() {
                told.push(mark);
                let later = later(subject, at, mark);
                // What one thing lacks is told in one breath.
                match found.last_mut().filter(|last| last.span == span && last.choices.first() == Some(&choice) && last.later == later) {
                    Some(last) => last.marks.push(mark),
                    None => found.push(Uncovered { operation, span, thing, marks: vec![mark], choices, later }),
                }
            }
        }
    }
    found
}

/// Operations of a step with the marks that they or their things bear.
pub(crate) fn marked<'g>(subject: &Subject<'g, '_>, step: &'g Step<'_>) -> Vec<(&'g Operation, &'g str, Span, &'g str)> {
    let mut marked = Vec::new();
    for operation in &step.operations {
        for target in &operation.targets {
            let thing = subject.names.thing(subject.names.meant(&target.value));
            let marks = thing.map_or(&[][..], |thing| thing.marks()).iter().map(|mark| mark.as_str());
            // A look behind a panel is there so that the cutting is safe, and cuts nothing; a drive lifts nothing.
            let free_of = match operation.verb {
                Verb::LookBehind => "cutting",
                Verb::Start | Verb::Stop | Verb::RoadTest => "lifting",
                _ => "",
            };
            for mark in marks.filter(|mark| *mark != free_of).chain(operation.verb.marks().iter().copied()) {
                marked.push((operation, target.as_str(), target.span, mark));
            }
        }
    }
    marked
}

/// Looking, measuring and switching put nobody's hands on the thing.
pub(crate) fn only_looks(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::LookBehind
            | Verb::Inspect
            | Verb::Measure
            | Verb::RoadTest
            | Verb::Test
            | Verb::Mark
            | Verb::Programme
            | Verb::Calibrate
            | Verb::SwitchOn
            | Verb::SwitchOff
            | Verb::Start
            | Verb::Stop
    )
}

/// The cautions that a step shows.
pub(crate) fn shown<'g>(subject: &Subject<'g, '_>, step: &'g Step<'_>) -> impl Iterator<Item = &'g Caution> {
    let names = subject.names;
    step.caution_refs.iter().filter_map(move |shown| names.caution(&shown.id.value)).chain(&step.cautions)
}

/// Words that say who may do the work, or whose instructions come first.
const DEFERS: &[&str] =
    &["licen", "trained", "qualified", "certified", "authoris", "authoriz", "competent", "maker's", "manufacturer's", "maker’s"];

/// Whether a caution says who may do the work, or whose instructions come first.
pub(crate) fn defers(caution: &Caution) -> bool {
    let texts = [Some(&caution.hazard), caution.result.as_ref(), caution.avoid.as_ref()];
    texts.into_iter().flatten().any(|text| DEFERS.iter().any(|word| text.value.to_lowercase().contains(word)))
}

/// A caution for the mark in a later step that has no such work, so that it seems to have slipped down.
fn later(subject: &Subject<'_, '_>, at: usize, mark: &str) -> Option<Span> {
    let step = subject.guide.steps[at + 1..].iter().find(|step| shown(subject, step).any(|caution| caution.covers(mark)))?;
    if marked(subject, step).iter().any(|(.., other)| *other == mark) {
        return None;
    }
    let by_id = step.caution_refs.iter().find(|shown| subject.names.caution(&shown.id.value).is_some_and(|caution| caution.covers(mark)));
    let own = step.cautions.iter().find(|caution| caution.covers(mark));
    by_id.map(|shown| shown.id.span).or_else(|| own.map(|caution| caution.hazard.span))
}
