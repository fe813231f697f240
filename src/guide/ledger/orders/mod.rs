//! Orders of work that keep people whole: what must be dead, cold, filled, looked at or lifted before something else is done. Followed,
//! like the books, for every combination of options. It states where the order is wrong; how that is told is left to the rules, and what
//! makes a thing a danger to `hazard`.

mod body;
mod circuits;
mod running;
mod states;
mod vehicle;

use std::collections::BTreeMap;

use super::walk::{Account, Named, audit};
use super::{Discrepancy, Entry, Posting, What};
use crate::guide::hazard::{self, Run};
use crate::guide::model::{Guide, Operation, Step};
use crate::guide::names::{Names, Thing};
use crate::guide::variant::{Choice, Terms, Variants};
use crate::guide::verb::Verb;
use crate::source::Span;

/// An order of work that puts people or the vehicle in danger.
#[derive(Clone, Debug)]
pub struct Lapse {
    /// What is wrong.
    pub danger: Danger,
    /// The id of the thing that is worked on; of the step where the words tell what is done.
    pub thing: String,
    /// Where it is done.
    pub entry: Entry,
    /// What led to it, or what comes too late.
    pub other: Option<Entry>,
    /// The combinations in which it is so; one empty choice for all.
    pub when: Vec<Choice>,
    /// Whether there are more combinations than are named.
    pub more: bool,
}

/// The kinds of danger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger {
    /// Work on a restraint system while the battery is connected; the other entry connected it, if it was ever off.
    RestraintLive,
    /// Work on a battery circuit or a fuse while the battery is connected.
    BatteryLive,
    /// Work on a restraint system or a battery circuit in a guide that never cuts the battery off.
    NeverIsolated,
    /// Work on a circuit of another source, which has something to isolate it by, while that is not off.
    CircuitLive,
    /// Work on a restraint system before any wait after the battery was isolated.
    NoWait,
    /// The same, with a wait that is shorter than the guide's own value, in seconds.
    ShortWait(u32),
    /// Work on a positive pole while the negative one of the same battery is connected.
    PositiveFirst,
    /// A fuse goes in before the circuit that it protects is complete; the other entry completes it.
    FuseEarly,
    /// Drilled or cut before anybody looked behind.
    Blind,
    /// A hot circuit is opened before it has cooled.
    Hot,
    /// A circuit under pressure is opened before that is let out.
    Pressed,
    /// A line or port is connected with its cap still in.
    Capped,
    /// The engine runs before a fluid is filled in, which the other entry does.
    Dry,
    /// The engine runs, or the vehicle is driven, while something is open that the other entry closes.
    RunsOpen,
    /// The vehicle is driven before a level is checked, which the other entry does.
    LevelLate,
    /// The vehicle is driven while it stands raised.
    DrivenRaised,
    /// Work on a thing while another is not in the state that its definition asks for: the one of this index in its `only`.
    NotWhile(usize),
    /// Work on a thing while another is in a state that its definition rules out: the one of this index in its `never`.
    While(usize),
    /// Work from below on a vehicle that is not raised; the other entry lowered it, if it ever was.
    NotRaised,
}

impl Entry {
    /// Stands for the operation where a step as a whole is meant: what its words tell, and its wait.
    pub const STEP: usize = usize::MAX;
}

/// One thing that is done, in order.
struct Moment<'g> {
    entry: Entry,
    terms: Terms,
    deed: Deed<'g>,
}

/// What is done at a moment.
enum Deed<'g> {
    /// An operation on one thing.
    On { step: &'g Step<'g>, operation: &'g Operation, id: &'g str, thing: Thing<'g> },
    /// Nothing, for so many seconds.
    Wait { step: &'g Step<'g>, seconds: u32 },
    /// The words of a step make the engine run.
    Run(Run),
}

/// What all orders look at.
struct Work<'a, 'g> {
    guide: &'g Guide<'g>,
    names: Names<'g>,
    variants: &'a Variants<'g>,
    moments: Vec<Moment<'g>>,
    /// The things that operations act on, each once, in order.
    things: Vec<(&'g str, Thing<'g>)>,
    /// The verbs of the operations on each.
    verbs: BTreeMap<&'g str, Vec<Verb>>,
}

impl<'a, 'g> Work<'a, 'g> {
    fn new(guide: &'g Guide<'g>, names: Names<'g>, variants: &'a Variants<'g>, moments: Vec<Moment<'g>>) -> Self {
        let mut things = Vec::new();
        let mut verbs: BTreeMap<&'g str, Vec<Verb>> = BTreeMap::new();
        for moment in &moments {
            let Deed::On { operation, id, thing, .. } = moment.deed else { continue };
            let of = verbs.entry(id).or_default();
            if of.is_empty() {
                things.push((id, thing));
            }
            of.push(operation.verb);
        }
        Work { guide, names, variants, moments, things, verbs }
    }

    /// Whether an operation on a thing has a verb that is asked for.
    fn has(&self, id: &str, verb: impl Fn(Verb) -> bool) -> bool {
        self.verbs.get(id).is_some_and(|verbs| verbs.iter().any(|one| verb(*one)))
    }

    /// Whether a thing is there.
    fn there(&self, thing: Thing<'_>) -> Terms {
        there(self.variants, thing)
    }

    /// Lines for what a watch has to know; `does` says what a moment is to it.
    fn lines(&self, does: impl Fn(&Moment<'g>) -> Option<Does>) -> Vec<Line> {
        let one = |moment: &Moment<'g>| Some(Line { entry: moment.entry, terms: moment.terms, does: does(moment)? });
        self.moments.iter().filter_map(one).collect()
    }

    /// How the thing stands before work starts.
    fn at_start(&self, thing: Thing<'_>, does: Does) -> Line {
        Line { entry: Entry { step: 0, operation: 0, span: thing.id().span }, terms: self.there(thing), does }
    }

    /// Follows one watch and states what it found.
    fn follow(&self, id: &str, lines: Vec<Line>, turn: Turn<'_>, to: &mut Found) {
        if !lines.iter().any(|line| line.does == Does::Works) {
            return;
        }
        let watch = Watch { lines, turn };
        let (faults, complete) = audit(&watch, self.variants);
        for Named { fault: (line, danger), other, when, more } in faults {
            let entry = watch.lines[line].entry;
            let other = other.map(|other| watch.lines[other].entry);
            to.lapses.push(Lapse { danger, thing: id.to_owned(), entry, other, when, more });
        }
        if !complete {
            let entry = watch.lines.iter().find(|line| line.does == Does::Works).map(|line| line.entry);
            let entry = entry.filter(|entry| entry.operation != Entry::STEP);
            if let Some(entry) = entry {
                let when = vec![Choice::default()];
                to.untried.push(Discrepancy {
                    what: What::TooMany,
                    thing: id.to_owned(),
                    entry: Some(entry),
                    other: None,
                    when,
                    more: false,
                });
            }
        }
    }
}

/// What the watches found.
#[derive(Default)]
struct Found {
    lapses: Vec<Lapse>,
    untried: Vec<Discrepancy>,
}

fn there(variants: &Variants<'_>, thing: Thing<'_>) -> Terms {
    match thing {
        Thing::Item(item) => variants.terms(&item.when),
        Thing::Part(part) => variants.terms(&part.when),
        Thing::Hardware(hardware) => variants.terms(&hardware.when),
    }
}

/// Looks at every order. What could not be followed in every combination goes to `untried`.
pub(super) fn keep<'g>(
    guide: &'g Guide<'_>,
    names: Names<'g>,
    variants: &Variants<'g>,
    postings: &[Posting<'g>],
    untried: &mut Vec<Discrepancy>,
) -> Vec<Lapse> {
    let work = Work::new(guide, names, variants, moments(guide, names, variants, postings));
    let mut found = Found::default();
    circuits::keep(&work, &mut found);
    body::keep(&work, &mut found);
    running::keep(&work, &mut found);
    vehicle::keep(&work, &mut found);
    states::keep(&work, &mut found);
    // A thing that misses many combinations is told once; the books may have told it already.
    for one in found.untried {
        if !untried.iter().any(|known| known.what == one.what && known.thing == one.thing) {
            untried.push(one);
        }
    }
    found.lapses.sort_by(|a, b| (a.entry, a.danger, &a.thing).cmp(&(b.entry, b.danger, &b.thing)));
    found.lapses
}

fn moments<'g>(guide: &'g Guide<'_>, names: Names<'g>, variants: &Variants<'_>, postings: &[Posting<'g>]) -> Vec<Moment<'g>> {
    let mut by_step: BTreeMap<usize, Vec<&Posting<'g>>> = BTreeMap::new();
    for posting in postings {
        by_step.entry(posting.step).or_default().push(posting);
    }
    let mut moments = Vec::new();
    for (at, step) in guide.steps.iter().enumerate() {
        let here = by_step.remove(&at).unwrap_or_default();
        let mut runs = false;
        for posting in here {
            runs |= matches!(posting.operation.verb, Verb::Start | Verb::RoadTest);
            for &(id, span) in &posting.targets {
                let Some(thing) = names.thing(id) else { continue };
                let terms = posting.terms.and(there(variants, thing));
                let deed = Deed::On { step, operation: posting.operation, id, thing };
                moments.push(Moment { entry: posting.entry(span), terms, deed });
            }
            if let Some(wait) = &posting.operation.wait {
                let seconds = wait.value.quantity.as_ref().map_or(u32::MAX, seconds);
                let entry = Entry { step: at, operation: Entry::STEP, span: wait.span };
                moments.push(Moment { entry, terms: posting.terms, deed: Deed::Wait { step, seconds } });
            }
        }
        let terms = variants.terms(&step.when);
        let whole = |span: Span| Entry { step: at, operation: Entry::STEP, span };
        if let Some(run) = hazard::run_in_words(step).filter(|_| !runs) {
            moments.push(Moment { entry: whole(step.title.span), terms, deed: Deed::Run(run) });
        }
        if let Some(wait) = &step.wait {
            // What cannot be read is told elsewhere; here it counts as a wait.
            let seconds = wait.value.quantity.as_ref().map_or(u32::MAX, seconds);
            moments.push(Moment { entry: whole(wait.span), terms, deed: Deed::Wait { step, seconds } });
        }
    }
    moments
}

/// The least of a time in whole seconds.
fn seconds(quantity: &crate::quantity::Quantity) -> u32 {
    let (low, high) = quantity.base_bounds();
    low.or(high).map_or(u32::MAX, |time| u32::try_from(time.floor()).unwrap_or(0))
}

/// What a moment is to a watch. A number tells things apart.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Does {
    /// It comes off, apart or is switched off.
    Opens(u32),
    /// It goes on, together or is switched on.
    Closes(u32),
    /// Time passes.
    Waits(u32),
    /// What makes the work safe.
    Clears,
    /// The same for another reason.
    Releases,
    /// What makes the work unsafe again.
    Spoils,
    /// What needs safety.
    Works,
    /// What comes too late if there was work before.
    Follows,
    /// The same where it was left loose.
    Tightens(u32),
}

#[derive(Clone, Copy)]
struct Line {
    entry: Entry,
    terms: Terms,
    does: Does,
}

/// What is known at one moment; each watch uses of it what it needs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    /// A bit for each thing that is open.
    open: u64,
    /// Whether work is safe, for one reason and the other.
    clear: bool,
    released: bool,
    /// Seconds waited.
    waited: u32,
    /// The posting that led to this.
    by: Option<usize>,
}

/// Takes one step of a watch: what is done, the number of the line, the state, and where to put what is wrong.
type Turn<'t> = &'t dyn Fn(Does, usize, &mut State, &mut Vec<((usize, Danger), Option<usize>)>);

struct Watch<'t> {
    lines: Vec<Line>,
    turn: Turn<'t>,
}

impl Account for Watch<'_> {
    type State = State;
    type Fault = (usize, Danger);

    fn start(&self) -> State {
        State::default()
    }

    fn len(&self) -> usize {
        self.lines.len()
    }

    fn terms(&self, posting: usize) -> Terms {
        self.lines[posting].terms
    }

    fn post(&self, posting: usize, state: &mut State, found: &mut Vec<((usize, Danger), Option<usize>)>) {
        (self.turn)(self.lines[posting].does, posting, state, found);
    }

    fn close(&self, _: &State, _: &mut Vec<((usize, Danger), Option<usize>)>) {}
}

/// The bit of a thing's number; things beyond the last bit are left out of account.
fn bit(number: u32) -> u64 {
    1u64.checked_shl(number).unwrap_or(0)
}

/// Whether an operation takes a thing off, apart or out of circuit, or puts it back.
fn opens(verb: Verb) -> Option<bool> {
    match verb {
        Verb::Remove | Verb::Disconnect | Verb::SwitchOff | Verb::Pull | Verb::Discard => Some(true),
        Verb::Fit | Verb::Connect | Verb::SwitchOn | Verb::Insert => Some(false),
        _ => None,
    }
}
