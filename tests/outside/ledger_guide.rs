//! Small random guides for the check of the ledger: what is in them, how they are drawn, and their text
//! with the place of every name. What is right or wrong in them is left to `ledger_books`.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

use proptest::prelude::*;

/// Terms that must all hold: an option, and whether it must be absent.
pub(crate) type When = Vec<(usize, bool)>;

/// The eight pairs: what opens, what closes.
pub(crate) const PAIRS: [(&str, &str); 8] = [
    ("remove", "fit"),
    ("disconnect", "connect"),
    ("loosen", "tighten"),
    ("drain", "fill"),
    ("raise", "lower"),
    ("cap", "uncap"),
    ("cover", "uncover"),
    ("switch_off", "switch_on"),
];

/// The verbs that belong to no pair.
const OTHERS: [&str; 10] = ["mark", "cut", "drill", "discard", "inspect", "measure", "clean", "apply", "route", "test"];

const OPTIONS: [&str; 4] = ["alder", "birch", "cedar", "date"];
const THINGS: [&str; 4] = ["seat", "trim", "plug", "lamp"];
const PARTS: [&str; 2] = ["rail", "strip"];
const HARDWARE: [&str; 3] = ["bolt", "clip", "nut"];
const STEPS: [&str; 5] = ["one", "two", "three", "four", "five"];

/// The name of an option on the page.
pub(crate) fn option_name(at: usize) -> String {
    OPTIONS[at].to_uppercase()
}

/// A difference between vehicles.
#[derive(Clone, Debug, Default)]
pub(crate) struct Choice {
    pub(crate) group: Option<usize>,
    pub(crate) not_with: Vec<usize>,
}

/// An item or a connector.
#[derive(Clone, Debug, Default)]
pub(crate) struct Thing {
    pub(crate) connector: bool,
    pub(crate) stays: bool,
    pub(crate) open_at_start: bool,
    pub(crate) behind: Vec<Name>,
    pub(crate) when: When,
}

/// A part of the kit.
#[derive(Clone, Debug, Default)]
pub(crate) struct Part {
    pub(crate) supplied: Option<u32>,
    pub(crate) spare: u32,
    pub(crate) when: When,
}

/// A sort of hardware.
#[derive(Clone, Debug, Default)]
pub(crate) struct Hardware {
    pub(crate) of_shop: bool,
    pub(crate) on_vehicle: Option<u32>,
    pub(crate) supplied: Option<u32>,
    pub(crate) spare: u32,
    pub(crate) one_use: bool,
    pub(crate) when: When,
}

/// What an operation names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Name {
    Thing(usize),
    Part(usize),
    Hardware(usize),
}

impl Name {
    fn id(self) -> &'static str {
        match self {
            Name::Thing(at) => THINGS[at],
            Name::Part(at) => PARTS[at],
            Name::Hardware(at) => HARDWARE[at],
        }
    }
}

/// One operation.
#[derive(Clone, Debug, Default)]
pub(crate) struct Op {
    pub(crate) verb: &'static str,
    pub(crate) names: Vec<Name>,
    pub(crate) count: Option<u32>,
    pub(crate) hardware: Vec<(u32, usize)>,
    pub(crate) by_hand: bool,
    pub(crate) discard_hardware: bool,
    pub(crate) when: When,
}

/// One step.
#[derive(Clone, Debug, Default)]
pub(crate) struct Step {
    pub(crate) when: When,
    pub(crate) needs: Vec<usize>,
    pub(crate) ops: Vec<Op>,
}

/// A guide before it is text.
#[derive(Clone, Default)]
pub(crate) struct Plan {
    pub(crate) options: Vec<Choice>,
    pub(crate) things: Vec<Thing>,
    pub(crate) parts: Vec<Part>,
    pub(crate) hardware: Vec<Hardware>,
    pub(crate) steps: Vec<Step>,
}

/// Where a name stands: what is defined, or what the operation of a step says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Spot {
    Definition(Name),
    /// The name with the verb: step, operation, which of its names.
    Named(usize, usize, usize),
    /// The count of hardware: step, operation, which of its counts.
    Counted(usize, usize, usize),
    /// What a step needs: step, which of them.
    Needs(usize, usize),
}

/// The text of a guide and of its shop, and where everything stands, without quotation marks.
pub(crate) struct Written {
    pub(crate) shop: String,
    pub(crate) guide: String,
    pub(crate) spots: BTreeMap<Spot, Range<usize>>,
}

fn when_text(when: &When) -> String {
    let terms: Vec<String> =
        when.iter().map(|&(option, absent)| format!("\"{}{}\"", if absent { "not " } else { "" }, OPTIONS[option])).collect();
    match terms.len() {
        0 => String::new(),
        1 => format!("when = {}", terms[0]),
        _ => format!("when = [{}]", terms.join(", ")),
    }
}

impl fmt::Debug for Plan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.write().guide)
    }
}

impl Plan {
    /// Writes the guide as an author would.
    pub(crate) fn write(&self) -> Written {
        let mut out = Written {
            shop: "name = \"Example shop\"\n".to_owned(),
            guide: "+++\ntitle = \"Fit the example\"\n".to_owned(),
            spots: BTreeMap::new(),
        };
        self.write_options(&mut out.guide);
        for (at, thing) in self.things.iter().enumerate() {
            out.guide += if thing.connector { "\n[[connector]]\n" } else { "\n[[item]]\n" };
            out.definition(Name::Thing(at));
            if thing.stays {
                out.guide += "stays = \"not used again\"\n";
            }
            if thing.open_at_start {
                out.guide += "open_at_start = true\n";
            }
            if !thing.behind.is_empty() {
                let names: Vec<String> = thing.behind.iter().map(|name| format!("\"{}\"", name.id())).collect();
                out.guide += &format!("behind = [{}]\n", names.join(", "));
            }
            out.line(&when_text(&thing.when));
        }
        for (at, part) in self.parts.iter().enumerate() {
            out.guide += "\n[[part]]\n";
            out.definition(Name::Part(at));
            out.count("supplied", part.supplied);
            out.count("spare", (part.spare > 0).then_some(part.spare));
            out.line(&when_text(&part.when));
        }
        for (at, hardware) in self.hardware.iter().enumerate() {
            if hardware.of_shop {
                out.shop += &format!("\n[[hardware]]\nid = \"{0}\"\nname = \"{0}\"\nno_torque = \"demonstration\"\n", HARDWARE[at]);
                out.shop += if hardware.one_use { "one_use = true\n" } else { "" };
                continue;
            }
            out.guide += "\n[[hardware]]\n";
            out.definition(Name::Hardware(at));
            out.guide += "no_torque = \"demonstration\"\n";
            out.count("on_vehicle", hardware.on_vehicle);
            out.count("supplied", hardware.supplied);
            out.count("spare", (hardware.spare > 0).then_some(hardware.spare));
            out.guide += if hardware.one_use { "one_use = true\n" } else { "" };
            out.line(&when_text(&hardware.when));
        }
        out.guide += "+++\n";
        for (at, step) in self.steps.iter().enumerate() {
            out.guide += &format!("\n## Do part {0}\n\n+++\nid = \"{0}\"\n", STEPS[at]);
            out.line(&when_text(&step.when));
            if !step.needs.is_empty() {
                out.guide += "needs = [";
                for (nth, &needed) in step.needs.iter().enumerate() {
                    out.quoted(Spot::Needs(at, nth), STEPS[needed]);
                }
                out.guide += "]\n";
            }
            out.guide += "do = [\n";
            for (nth, op) in step.ops.iter().enumerate() {
                out.operation(at, nth, op);
            }
            out.guide += "]\n+++\n\nDo it.\n";
        }
        out
    }

    fn write_options(&self, guide: &mut String) {
        for (at, choice) in self.options.iter().enumerate() {
            *guide += &format!("\n[[option]]\nid = \"{}\"\nname = \"{}\"\n", OPTIONS[at], option_name(at));
            if let Some(group) = choice.group {
                *guide += &format!("one_of = \"group-{group}\"\n");
            }
            if !choice.not_with.is_empty() {
                let others: Vec<String> = choice.not_with.iter().map(|&other| format!("\"{}\"", OPTIONS[other])).collect();
                *guide += &format!("not_with = [{}]\n", others.join(", "));
            }
        }
    }
}

impl Written {
    fn line(&mut self, text: &str) {
        if !text.is_empty() {
            self.guide += text;
            self.guide.push('\n');
        }
    }

    fn count(&mut self, key: &str, count: Option<u32>) {
        self.line(&count.map(|count| format!("{key} = {count}")).unwrap_or_default());
    }

    fn definition(&mut self, name: Name) {
        self.guide += "id = ";
        self.quoted(Spot::Definition(name), name.id());
        self.guide.truncate(self.guide.len() - 2);
        self.guide += &format!("\nname = \"{}\"\n", name.id());
    }

    /// A text in quotation marks and what separates it from the next.
    fn quoted(&mut self, spot: Spot, text: &str) {
        self.guide.push('"');
        self.spots.insert(spot, self.guide.len()..self.guide.len() + text.len());
        self.guide += text;
        self.guide += "\", ";
    }

    fn operation(&mut self, step: usize, nth: usize, op: &Op) {
        self.guide += &format!("  {{ {} = [", op.verb);
        for (at, name) in op.names.iter().enumerate() {
            self.quoted(Spot::Named(step, nth, at), name.id());
        }
        self.guide += "]";
        if !op.hardware.is_empty() {
            self.guide += ", hardware = [";
            for (at, &(count, hardware)) in op.hardware.iter().enumerate() {
                self.quoted(Spot::Counted(step, nth, at), &format!("{count} x {}", HARDWARE[hardware]));
            }
            self.guide += "]";
        }
        if let Some(count) = op.count {
            self.guide += &format!(", count = {count}");
        }
        for (flag, key) in [(op.by_hand, "by_hand"), (op.discard_hardware, "discard_hardware")] {
            if flag {
                self.guide += &format!(", {key} = true");
            }
        }
        if !op.when.is_empty() {
            self.guide += &format!(", {}", when_text(&op.when));
        }
        self.guide += " },\n";
    }
}

/// What is drawn for a condition: the chance that there is one, then two terms.
type DrawnWhen = (u8, u8, u8);

/// A piece of work: one operation, or two that belong together.
#[derive(Clone, Debug)]
struct Work {
    kind: u8,
    pair: usize,
    name: usize,
    second: usize,
    hardware: usize,
    count: u32,
    at: (u8, u8),
    odd: u8,
    when: DrawnWhen,
}

fn work() -> impl Strategy<Value = Work> {
    let whens = (0u8..100, any::<u8>(), any::<u8>());
    ((0u8..100, 0usize..8, 0usize..8, 0usize..8), (0usize..6, 1u32..5), any::<(u8, u8)>(), 0u8..100, whens).prop_map(
        |((kind, pair, name, second), (hardware, count), at, odd, when)| Work { kind, pair, name, second, hardware, count, at, odd, when },
    )
}

fn condition(options: usize, (chance, one, other): DrawnWhen) -> When {
    let term = |drawn: u8| ((drawn as usize / 2) % options, drawn % 2 == 1);
    match chance {
        _ if options == 0 => Vec::new(),
        0..=64 => Vec::new(),
        65..=89 => vec![term(one)],
        _ => vec![term(one), term(other)],
    }
}

/// Puts the operations of one piece of work into the line, each with the number it is sorted by.
fn line_up(work: &Work, plan: &Plan, line: &mut Vec<(u8, Op)>) {
    let when = condition(plan.options.len(), work.when);
    let thing = Name::Thing(work.name % plan.things.len());
    let sort = (!plan.hardware.is_empty()).then(|| work.hardware % plan.hardware.len());
    let counts = |odd: bool| sort.filter(|_| odd).map(|sort| vec![(work.count, sort)]).unwrap_or_default();
    let (first, last) = (work.at.0.min(work.at.1), work.at.0.max(work.at.1));
    let (opens, closes) = PAIRS[work.pair];
    match work.kind {
        // Opened and closed again, with the same hardware; now and then the second says something else.
        0..=49 => {
            let mut names = vec![thing];
            if work.odd < 15 && work.second % plan.things.len() != work.name % plan.things.len() {
                names.push(Name::Thing(work.second % plan.things.len()));
            }
            let open = Op { verb: opens, names, hardware: counts(work.hardware < 3 && work.pair < 7), when, ..Op::default() };
            let mut close = Op { verb: closes, ..open.clone() };
            match work.odd {
                60..=64 => close.when.clear(),
                65..=69 => close.when = condition(plan.options.len(), (70, work.when.2, 0)),
                70..=74 => close.hardware.iter_mut().for_each(|count| count.0 += 1),
                75..=79 => close.hardware.clear(),
                80..=86 => {
                    close.by_hand = !["lower", "switch_on", "tighten", "uncap", "uncover"].contains(&close.verb);
                    let tight = Op { verb: "tighten", by_hand: false, ..close.clone() };
                    line.push((last.saturating_add(1), tight));
                }
                _ => {}
            }
            let swapped = work.odd >= 97 || (work.pair >= 5 && work.odd.is_multiple_of(2));
            let (one, other) = if swapped { (close, open) } else { (open, close) };
            line.push((first, Op { discard_hardware: work.odd == 50, ..one }));
            line.push((last, other));
        }
        // A part of the kit goes in, mostly all of it that is no spare.
        50..=74 if !plan.parts.is_empty() => {
            let at = work.name % plan.parts.len();
            let due = plan.parts[at].supplied.unwrap_or(1).saturating_sub(plan.parts[at].spare);
            let when = if work.odd < 80 { plan.parts[at].when.clone() } else { when };
            let verb = match work.odd {
                0..=69 => "fit",
                70..=89 => ["connect", "route", "apply", "cap", "cover", "fill"][work.pair % 6],
                _ => PAIRS[work.pair].0,
            };
            let count = if due > 1 { Some(due) } else { None };
            line.push((first, Op { verb, names: vec![Name::Part(at)], count, hardware: counts(work.second < 4), when, ..Op::default() }));
        }
        // Hardware of the kit goes on, all of it that is no spare.
        75..=82 if sort.is_some() => {
            let at = sort.unwrap_or(0);
            let due = plan.hardware[at].supplied.unwrap_or(work.count).saturating_sub(plan.hardware[at].spare).max(1);
            let when = if work.odd < 80 { plan.hardware[at].when.clone() } else { when };
            let names = if work.odd.is_multiple_of(2) { vec![Name::Hardware(at)] } else { vec![thing] };
            let beside = if work.odd.is_multiple_of(2) { Vec::new() } else { vec![(due, at)] };
            let verb = if work.odd.is_multiple_of(2) { "fit" } else { "apply" };
            line.push((
                first,
                Op { verb, names, count: Some(due).filter(|_| work.odd.is_multiple_of(2)), hardware: beside, when, ..Op::default() },
            ));
        }
        // Anything at all.
        _ => {
            let verbs: Vec<&'static str> =
                PAIRS.iter().flat_map(|&(opens, closes)| [opens, closes]).chain(OTHERS.iter().copied()).collect();
            let verb = verbs[(work.at.1 as usize + work.pair) % verbs.len()];
            let names: Vec<Name> = (0..plan.things.len())
                .map(Name::Thing)
                .chain((0..plan.parts.len()).map(Name::Part))
                .chain((0..plan.hardware.len()).map(Name::Hardware))
                .collect();
            let name = names[(work.name * 8 + work.second) % names.len()];
            // What it means to throw away some of several pieces is left to the program's own tests.
            let verb = if verb == "discard" && !matches!(name, Name::Thing(_)) { "clean" } else { verb };
            let counted = !matches!(name, Name::Thing(_)) && work.odd.is_multiple_of(3);
            let hardware = counts(work.odd % 3 == 1 && verb != "discard" && !matches!(name, Name::Hardware(_)));
            line.push((
                first,
                Op {
                    verb,
                    names: vec![name],
                    count: counted.then_some(work.count),
                    hardware,
                    by_hand: work.odd > 90 && ["fit", "connect", "fill", "cap", "cover", "apply", "route"].contains(&verb),
                    discard_hardware: (80..85).contains(&work.odd),
                    when,
                },
            ));
        }
    }
}

/// What no operation names yet is used as it should be.
fn use_the_rest(plan: &Plan, line: &mut Vec<(u8, Op)>) {
    for (at, part) in plan.parts.iter().enumerate().filter(|(_, part)| part.supplied.unwrap_or(1) > part.spare) {
        let names = vec![Name::Part(at)];
        if !line.iter().any(|(_, op)| op.names == names) {
            let count = Some(part.supplied.unwrap_or(1) - part.spare);
            line.push((200, Op { verb: "fit", names, count, when: part.when.clone(), ..Op::default() }));
        }
    }
    for (at, hardware) in plan.hardware.iter().enumerate().filter(|(_, hardware)| hardware.supplied.unwrap_or(0) > hardware.spare) {
        let due = hardware.supplied.unwrap_or(0) - hardware.spare;
        let names = vec![Name::Hardware(at)];
        if !line.iter().any(|(_, op)| op.names == names || op.hardware.iter().any(|&(_, named)| named == at)) {
            line.push((201, Op { verb: "fit", names, count: Some(due), when: hardware.when.clone(), ..Op::default() }));
        }
    }
}

/// Guides that are nearly right.
pub(crate) fn plans() -> impl Strategy<Value = Plan> {
    let whens = || (0u8..100, any::<u8>(), any::<u8>());
    let options = prop::collection::vec((0u8..8, 0u8..12), 0..5);
    let things = prop::collection::vec((0u8..8, 0u8..8, 0u8..24, (0u8..72, any::<u8>(), any::<u8>())), 1..5);
    let parts = prop::collection::vec((0u32..4, 0u32..5, whens()), 0..3);
    let hardware = prop::collection::vec((0u8..10, 0u32..6, 0u32..6, 0u32..6, 0u8..4, (0u8..80, any::<u8>(), any::<u8>())), 0..4);
    let works = prop::collection::vec(work(), 1..6);
    let cuts = prop::collection::vec((0u8..20, 0u8..30, whens()), 5);
    (options, things, parts, hardware, works, cuts).prop_map(|(options, things, parts, hardware, works, cuts)| {
        let mut plan = Plan::default();
        let total = options.len();
        for (at, &(group, other)) in options.iter().enumerate() {
            let group = (group < 4).then_some(group as usize % 2);
            let not_with = Some(other as usize).filter(|&other| other < total && other != at).into_iter().collect();
            plan.options.push(Choice { group, not_with });
        }
        for (at, &(stays, open, behind, when)) in things.iter().enumerate() {
            let mut front: Vec<Name> = Vec::new();
            let other = behind as usize;
            if other < things.len() && other != at {
                front.push(Name::Thing(other));
            } else if (4..6).contains(&other) && other - 4 < parts.len() {
                front.push(Name::Part(other - 4));
            }
            let when = condition(total, when);
            plan.things.push(Thing { connector: at == 2, stays: stays == 0, open_at_start: open == 0, behind: front, when });
        }
        for &(supplied, spare, when) in &parts {
            let supplied = (supplied > 0).then_some(supplied);
            plan.parts.push(Part { supplied, spare: if spare == 4 { 1 } else { 0 }, when: condition(total, when) });
        }
        for &(source, on, supplied, spare, one_use, when) in &hardware {
            let of_shop = source == 0;
            let some = |count: u32, states: bool| (states && !of_shop && source != 1).then_some(count);
            let when = if of_shop { Vec::new() } else { condition(total, when) };
            plan.hardware.push(Hardware {
                of_shop,
                on_vehicle: some(on, source < 7),
                supplied: some(supplied, source > 4),
                spare: if spare == 5 && source > 4 { 1 } else { 0 },
                one_use: one_use == 0,
                when,
            });
        }
        let mut line = Vec::new();
        works.iter().for_each(|work| line_up(work, &plan, &mut line));
        if cuts[1].0 < 14 {
            use_the_rest(&plan, &mut line);
        }
        line.sort_by_key(|(at, _)| *at);
        let per_step = line.len().div_ceil(5).max(1 + cuts[0].0 as usize % 4);
        let steps = line.chunks(per_step).map(|chunk| chunk.iter().map(|(_, op)| op.clone()).collect::<Vec<_>>());
        plan.steps = steps.map(|ops| Step { ops, ..Step::default() }).collect();
        let count = plan.steps.len();
        for (step, &(_, needs, when)) in plan.steps.iter_mut().zip(&cuts) {
            step.needs = Some(needs as usize).filter(|&needed| needed < count).into_iter().collect();
            if when.0 > 75 {
                step.when = condition(total, when);
            }
        }
        for (at, step) in plan.steps.iter_mut().enumerate() {
            step.needs.retain(|&needed| needed != at);
        }
        plan
    })
}
