//! What differs between two states of a guide, by facts and not by lines: values with how much, operations, hardware, cautions, order,
//! words. Steps are matched although they were moved or renamed. Reads the facts of two documents; where the documents come from is left
//! to the commands.

pub mod handbook;
pub mod json;
mod matching;
pub mod text;
mod told;

pub use told::is_told;

use std::collections::BTreeSet;

use crate::document::facts::{Fact, Sort};
use crate::document::value::Value;
use crate::document::{Differing, Since};
use crate::guide::model::Date;
use crate::quantity::{Form, Quantity, decimal};

/// In which way something differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// It says something else.
    Changed,
    /// It is there now.
    Added,
    /// It is gone.
    Removed,
    /// It stands in another place.
    Moved,
}

impl Kind {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Changed => "changed",
            Kind::Added => "added",
            Kind::Removed => "removed",
            Kind::Moved => "moved",
        }
    }
}

/// A step in which something differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its anchor: the new one, or the old one where it is gone.
    pub id: String,
    /// What it is called: `step 5, Take the seat out`.
    pub name: String,
    /// Whether it is there in the new state.
    pub is_there: bool,
}

/// One difference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// In which way.
    pub kind: Kind,
    /// What sort of thing.
    pub sort: Sort,
    /// The step; none where it is the guide's own.
    pub step: Option<Place>,
    /// What differs, in words.
    pub what: String,
    /// How it was told.
    pub old: Option<String>,
    /// How it is told now.
    pub new: Option<String>,
    /// How much a value differs by: `+1.5 N·m`.
    pub by: Option<String>,
    /// Ids that lead to it, from the outside in.
    pub ids: Vec<String>,
}

impl Difference {
    /// Whether work that was done to the old text should be looked at again.
    pub fn calls_for_a_look(&self) -> bool {
        match self.sort {
            Sort::Torque
            | Sort::Tightening
            | Sort::Hardware
            | Sort::Part
            | Sort::Caution
            | Sort::Before
            | Sort::Order
            | Sort::Operation
            | Sort::Step
            | Sort::Value
            | Sort::Wait
            | Sort::Check
            | Sort::Stop
            | Sort::Departure
            | Sort::Condition
            | Sort::Option
            | Sort::Vehicle
            | Sort::Circuit
            | Sort::Connector => true,
            Sort::Head | Sort::Tool | Sort::ToolState | Sort::Words | Sort::Picture | Sort::Source | Sort::Change => false,
        }
    }

    /// Whether it is a matter of the guide: a tool that was calibrated again makes no other revision.
    pub fn is_of_the_guide(&self) -> bool {
        self.sort != Sort::ToolState
    }
}

/// What differs from a revision that was issued before, as the document tells it.
pub fn since(revision: &str, issued: Date, differences: &[Difference]) -> Since {
    // The letter and the day stand in the title block, and the list of changes beside it.
    let news = |difference: &&Difference| {
        let of_the_head = difference.step.is_none() && difference.sort == Sort::Head;
        let head = of_the_head && matches!(difference.what.as_str(), "revision" | "day of issue" | "approved by");
        difference.is_of_the_guide() && !head && difference.sort != Sort::Change
    };
    Since {
        revision: revision.to_owned(),
        issued,
        anew: false,
        differences: differences.iter().filter(news).map(Difference::told).collect(),
    }
}

impl Difference {
    /// The difference as a document tells it.
    pub fn told(&self) -> Differing {
        let difference = self;
        Differing {
            step: difference.step.as_ref().map(|step| (Some(step.id.clone()).filter(|_| step.is_there), step.name.clone())),
            kind: difference.kind.word(),
            sort: difference.sort.word(),
            what: difference.what.clone(),
            old: difference.old.clone(),
            new: difference.new.clone(),
            by: difference.by.clone(),
            look: difference.calls_for_a_look(),
        }
    }
}

/// What differs from `old` to `new`, in the order of the guide.
pub fn compare(old: &Fact, new: &Fact) -> Vec<Difference> {
    let mut out = Vec::new();
    inside(old, new, &At::default(), &mut out);
    across_steps(&mut out);
    // What is the guide's own comes first, then the steps.
    out.sort_by_key(|difference| difference.step.is_some());
    if out.is_empty() && text_of(old, true) != text_of(new, true) {
        // Something that readers see changed, and no fact of its own: what follows from facts is laid out otherwise.
        out.push(Difference {
            kind: Kind::Changed,
            sort: Sort::Words,
            step: None,
            what: "layout: lists, headings, numbers and links between steps".to_owned(),
            old: None,
            new: None,
            by: None,
            ids: Vec::new(),
        });
    }
    out
}

/// Where the comparison is: the step, and the ids that lead there.
#[derive(Clone, Default)]
struct At {
    step: Option<Place>,
    names: Vec<String>,
    ids: Vec<String>,
}

impl At {
    fn difference(&self, kind: Kind, sort: Sort, what: impl Into<String>) -> Difference {
        let what = self.names.iter().cloned().chain([what.into()]).collect::<Vec<_>>().join(": ");
        Difference { kind, sort, step: self.step.clone(), what, old: None, new: None, by: None, ids: self.ids.clone() }
    }
}

fn text_of(fact: &Fact, hashed: bool) -> String {
    let mut text = String::new();
    fact.write(hashed, &mut text);
    text
}

/// What differs between a fact and its match: what it says itself, and what is below it.
fn inside(old: &Fact, new: &Fact, at: &At, out: &mut Vec<Difference>) {
    if old.says() != new.says() {
        let words_only = old.open.is_some() && old.open == new.open;
        let sort = if new.sort == Sort::Words && words_only { Sort::Value } else { new.sort };
        out.push(Difference {
            old: Some(old.told.clone()),
            new: Some(new.told.clone()),
            by: old.value.as_ref().zip(new.value.as_ref()).and_then(|(old, new)| by(old, new)),
            ..at.difference(Kind::Changed, sort, &new.name)
        });
    }
    // Every sort is compared by itself, in the order in which the new state has them.
    let mut seen = BTreeSet::new();
    for sort in new.below.iter().chain(&old.below).map(|fact| fact.sort) {
        if seen.insert(sort) {
            let of = |fact: &'_ Fact| fact.sort == sort;
            let (was, is): (Vec<&Fact>, Vec<&Fact>) =
                (old.below.iter().filter(|f| of(f)).collect(), new.below.iter().filter(|f| of(f)).collect());
            lists(sort, &was, &is, at, out);
        }
    }
}

fn lists(sort: Sort, old: &[&Fact], new: &[&Fact], at: &At, out: &mut Vec<Difference>) {
    let pairs = matching::pairs(old, new);
    let moved = matching::moved(&pairs);
    for (at_new, fact) in new.iter().enumerate() {
        let place = below(at, fact, true);
        match pairs[at_new] {
            None => out.push(Difference { new: Some(brief(fact)), ..at.whole(Kind::Added, fact, true) }),
            Some(at_old) => {
                let was = old[at_old];
                if moved.contains(&at_new) && matching::has_order(sort) {
                    let sort = if matches!(sort, Sort::Step | Sort::Operation) { Sort::Order } else { sort };
                    out.push(Difference {
                        old: Some(stands(old, at_old)),
                        new: Some(stands(new, at_new)),
                        ..Difference { sort, ..at.whole(Kind::Moved, fact, true) }
                    });
                }
                if sort == Sort::Step && was.key != fact.key {
                    out.push(Difference {
                        old: Some(was.key.clone()),
                        new: Some(fact.key.clone()),
                        ..place.difference(Kind::Changed, Sort::Head, "name in addresses and records")
                    });
                }
                inside(was, fact, &place, out);
            }
        }
    }
    let paired: BTreeSet<usize> = pairs.iter().copied().flatten().collect();
    for (_, fact) in old.iter().enumerate().filter(|(at, _)| !paired.contains(at)) {
        out.push(Difference { old: Some(brief(fact)), ..at.whole(Kind::Removed, fact, false) });
    }
}

impl At {
    /// A difference of a fact as a whole.
    fn whole(&self, kind: Kind, fact: &Fact, is_there: bool) -> Difference {
        let mut difference = if fact.sort == Sort::Step {
            let place = Place { id: fact.key.clone(), name: fact.name.clone(), is_there };
            Difference { step: Some(place), ..self.difference(kind, fact.sort, "the step") }
        } else {
            self.difference(kind, fact.sort, &fact.name)
        };
        difference.ids.extend(fact.key.split(' ').filter(|key| !key.is_empty()).map(str::to_owned));
        difference
    }
}

/// Where the facts below a fact are.
fn below(at: &At, fact: &Fact, is_there: bool) -> At {
    let mut below = at.clone();
    below.ids.extend(fact.key.split(' ').filter(|key| !key.is_empty()).map(str::to_owned));
    match fact.sort {
        Sort::Step => below.step = Some(Place { id: fact.key.clone(), name: fact.name.clone(), is_there }),
        // A torque and a value bear their names themselves; words stand in their step.
        Sort::Torque | Sort::Value | Sort::Head | Sort::Words => {}
        _ if !fact.below.is_empty() => below.names.push(fact.name.clone()),
        _ => {}
    }
    below
}

/// What stands before a fact: its place in words.
fn stands(facts: &[&Fact], at: usize) -> String {
    match at.checked_sub(1).map(|before| facts[before]) {
        Some(before) if before.told.is_empty() => format!("after {}", before.name),
        Some(before) => format!("after “{}”", before.told),
        None => "first".to_owned(),
    }
}

/// A fact with what belongs to it, in a few words.
fn brief(fact: &Fact) -> String {
    fn gather(fact: &Fact, all: &mut Vec<String>) {
        if !fact.told.is_empty() {
            all.push(fact.told.clone());
        }
        fact.below.iter().for_each(|below| gather(below, all));
    }
    let mut all = Vec::new();
    gather(fact, &mut all);
    let text = all.join("; ");
    match text.char_indices().nth(240) {
        Some((end, _)) => format!("{} …", text[..end].trim_end()),
        None => text,
    }
}

/// An operation that was taken from one step and put into another was moved.
fn across_steps(out: &mut Vec<Difference>) {
    let mut at = 0;
    while at < out.len() {
        let gone = &out[at];
        let twin = (gone.kind == Kind::Removed && gone.sort == Sort::Operation).then(|| {
            out.iter().position(|new| {
                new.kind == Kind::Added
                    && new.sort == Sort::Operation
                    && new.new == gone.old
                    && new.what == gone.what
                    && new.step != gone.step
            })
        });
        if let Some(Some(twin)) = twin {
            let name = |step: &Option<Place>| step.as_ref().map(|step| step.name.clone());
            let (from, to) = (name(&out[at].step), name(&out[twin].step));
            let moved = Difference { kind: Kind::Moved, sort: Sort::Order, old: from, new: to, ..out[twin].clone() };
            out[twin] = moved;
            out.remove(at);
        } else {
            at += 1;
        }
    }
}

/// How much a value differs by, in the unit of the new one; none where that is no single number.
fn by(old: &Value, new: &Value) -> Option<String> {
    let (old, new): (&Quantity, &Quantity) = old.quantity().zip(new.quantity())?;
    if old.angle != new.angle || old.dimension != new.dimension {
        return None;
    }
    let (Form::Single(was) | Form::Max(was) | Form::Min(was), Form::Single(is) | Form::Max(is) | Form::Min(is)) =
        (&old.leading().form, &new.leading().form)
    else {
        return None;
    };
    let unit = new.leading().unit;
    let was = old.leading().unit.convert(was.value, unit)?;
    let difference = is.value.minus(was)?;
    let sign = if difference.is_negative() { '−' } else { '+' };
    let number = decimal(difference.magnitude())?;
    // Six digits behind the point are no news where both sides have two.
    let number = match number.split_once('.') {
        Some((whole, part)) if part.len() > 3 => format!("{whole}.{}", &part[..3]),
        _ => number,
    };
    Some(format!("{sign}{number}{}{}", if unit.spaced() { " " } else { "" }, unit.symbol))
}
