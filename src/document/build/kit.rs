//! What a job needs and what comes off the vehicle: tools, parts and hardware with their counts and the steps that work on them.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::{Maker, text};
use crate::document::value::BLANK;
use crate::document::when::When;
use crate::document::{Consumable, Counted, Remark, StepLink, Tool, Wrench};
use crate::guide::keys::Block;
use crate::guide::model::{self, Condition, Guide, Hardware, Operation};
use crate::guide::names::Names;
use crate::guide::tally;
use crate::guide::tightening;
use crate::guide::untold;
use crate::guide::verb::Verb;
use crate::quantity;
use crate::source::Spanned;

/// A sort of hardware that the guide takes from the shop file.
struct Shared<'g> {
    hardware: &'g Hardware,
    /// How many come from the shelf.
    fitted: i64,
    /// How many come off the vehicle.
    off: i64,
    /// What goes on and, below nought, comes off, each with its condition.
    moved: Vec<(i64, When)>,
}

/// What goes on and, below nought, comes off.
#[derive(Default)]
struct Flow {
    on: i64,
    moved: Vec<(i64, When)>,
}

impl Flow {
    /// What the count is the sum of where that depends on options.
    fn amounts(self) -> Vec<(i64, When)> {
        if self.moved.iter().any(|(_, when)| !when.is_always()) { self.moved } else { Vec::new() }
    }
}

/// Who uses what, gone through once: hardware and tools by their place in memory, since two may share an id.
#[derive(Default)]
pub(super) struct Uses<'g> {
    hardware: HashMap<usize, Vec<(usize, &'g Operation)>>,
    targets: HashMap<&'g str, Vec<(usize, &'g Operation)>>,
    /// By the ids that an operation acts on or works with.
    named: HashMap<&'g str, Vec<(usize, &'g Operation)>>,
    /// When a tool is needed, step by step.
    tools: HashMap<usize, Vec<When>>,
}

fn address<T>(of: &T) -> usize {
    std::ptr::from_ref(of).addr()
}

impl<'g> Uses<'g> {
    pub(super) fn new(guide: &'g Guide<'_>, names: Names<'g>) -> Self {
        let mut uses = Uses::default();
        let mut by_size: HashMap<&str, Vec<usize>> = HashMap::new();
        for tool in guide.tools.iter().filter_map(|id| names.tool(&id.value)) {
            for size in &tool.sizes {
                by_size.entry(size.as_str()).or_default().push(address(tool));
            }
        }
        for (at, step) in guide.steps.iter().enumerate() {
            // Who needs a tool for the step as a whole needs it for its operations too.
            let whole: BTreeSet<usize> = step.tools.iter().filter_map(|id| names.tool(&id.value)).map(address).collect();
            for tool in &whole {
                uses.tools.entry(*tool).or_default().push(When::of(&step.when));
            }
            for operation in &step.operations {
                let hardware = tally::hardware_of(operation, names);
                let torque = tally::torque_of(operation, names).and_then(|(stated, _)| stated.quantity.as_ref());
                let wrench = torque.and_then(|torque| tightening::wrench_of(guide, operation, torque, names));
                let with = operation.with.iter().filter_map(|id| names.tool(&id.value));
                let drives = hardware.iter().filter_map(|(_, hardware)| by_size.get(hardware.drive.as_ref()?.as_str())).flatten().copied();
                let tools: BTreeSet<usize> = with.chain(wrench).map(address).chain(drives).collect();
                for tool in tools.difference(&whole) {
                    uses.tools.entry(*tool).or_default().push(When::all(&[&step.when, &operation.when]));
                }
                let once = |list: &mut Vec<(usize, &'g Operation)>| {
                    if list.last().is_none_or(|(_, last)| !std::ptr::eq(*last, operation)) {
                        list.push((at, operation));
                    }
                };
                for (_, hardware) in hardware {
                    once(uses.hardware.entry(address(hardware)).or_default());
                }
                for id in &operation.with {
                    once(uses.named.entry(id.as_str()).or_default());
                }
                for target in &operation.targets {
                    once(uses.targets.entry(target.as_str()).or_default());
                    once(uses.named.entry(target.as_str()).or_default());
                }
            }
        }
        uses
    }
}

impl<'g> Maker<'g, '_> {
    pub(super) fn tools(&self) -> Vec<Tool> {
        let used: Vec<&str> = self
            .guide
            .operations()
            .flat_map(|(_, operation)| tally::hardware_of(operation, self.names))
            .filter_map(|(_, hardware)| hardware.drive.as_ref().map(|drive| drive.as_str()))
            .collect();
        let listed = self.guide.tools.iter().filter_map(|id| self.names.tool(&id.value));
        listed
            .map(|tool| Tool {
                id: tool.id.value.clone(),
                name: tool.name.value.clone(),
                square: tool.square.as_ref().map(|square| square.value.text.clone()),
                number: text(&tool.number),
                is_wrench: tool.range.is_some(),
                calibrated_until: tool.calibrated_until.map(|date| date.value),
                sizes: tool.sizes.iter().filter(|size| used.contains(&size.as_str())).map(|size| size.value.clone()).collect(),
                note: text(&tool.note),
                when: self.needed_with(tool),
                span: tool.id.span,
            })
            .collect()
    }

    /// The torque wrenches of the guide, then those of the shop.
    pub(super) fn wrenches(&self) -> Vec<Wrench> {
        let listed = self.guide.tools.iter().filter_map(|id| self.names.tool(&id.value));
        let mut wrenches: Vec<Wrench> = Vec::new();
        for tool in listed.chain(&self.shop.shared.tools.rows) {
            let Some(range) = tool.range.as_ref().filter(|_| wrenches.iter().all(|known| known.id != tool.id.value)) else { continue };
            let ends = range.value.quantity.as_ref().map_or((None, None), |range| quantity::accepted(range, None));
            wrenches.push(Wrench {
                id: tool.id.value.clone(),
                name: tool.name.value.clone(),
                number: text(&tool.number),
                range: range.value.text.replace("..", " to "),
                low: ends.0,
                high: ends.1,
                calibrated_until: tool.calibrated_until.map(|date| date.value),
            });
        }
        wrenches
    }

    /// The options that a tool is needed with; it always is where nothing says what for.
    fn needed_with(&self, tool: &model::Tool) -> When {
        When::any(self.uses.tools.get(&address(tool)).into_iter().flatten().cloned())
    }

    pub(super) fn parts(&self) -> Vec<Counted> {
        let parts = self.guide.own.parts.rows.iter();
        parts
            .map(|part| {
                let told = part.supplied.map(|count| i64::from(count.value));
                let needed = if told.is_none() { self.flow(&part.id.value) } else { Flow::default() };
                let count = told.or(Some(needed.on).filter(|count| *count > 0));
                let untold = told.is_none().then(|| if count.is_some() { Remark::Needed } else { Remark::Uncounted });
                let remarks = untold.into_iter().chain(supply_remarks(&part.when, part.spare, &part.note)).collect();
                Counted {
                    id: part.id.value.clone(),
                    name: part.name.value.clone(),
                    count,
                    when: When::of(&part.when),
                    amounts: needed.amounts(),
                    number: self.told(&part.number, Block::Part, &part.id.value, "number"),
                    remarks,
                    steps: self.steps_with(self.uses.targets.get(part.id.as_str())),
                    span: part.id.span,
                }
            })
            .collect()
    }

    /// What is used up: all that the guide defines, and of the shop's what its operations name.
    pub(super) fn consumables(&self) -> Vec<Consumable> {
        let used = |id: &str| self.uses.named.contains_key(id);
        let own = &self.guide.own.consumables;
        let shared = self.shop.shared.consumables.rows.iter().filter(|row| own.get(&row.id.value).is_none() && used(&row.id.value));
        own.rows
            .iter()
            .chain(shared)
            .map(|row| Consumable {
                id: row.id.value.clone(),
                name: row.name.value.clone(),
                amount: text(&row.amount)
                    .or_else(|| untold::of(self.guide, self.shop, Block::Consumable, &row.id.value, "amount").map(|_| BLANK.to_owned())),
                number: text(&row.number),
                buy: row.buy,
                when: When::of(&row.when),
                note: text(&row.note),
                steps: self.steps_with(self.uses.named.get(row.id.as_str())),
                span: row.id.span,
            })
            .collect()
    }

    /// The steps of the operations that use something.
    fn steps_with(&self, uses: Option<&Vec<(usize, &Operation)>>) -> Vec<StepLink> {
        let mut steps: Vec<StepLink> = Vec::new();
        for &(at, _) in uses.into_iter().flatten() {
            if steps.last().is_none_or(|last| last.number != at + 1) {
                steps.push(StepLink { id: self.guide.steps[at].id.value.clone(), number: at + 1 });
            }
        }
        steps
    }

    /// The operations that name this very hardware, each with its step.
    fn naming(&self, hardware: &Hardware) -> Option<&Vec<(usize, &'g Operation)>> {
        self.uses.hardware.get(&address(hardware))
    }

    fn counted(&self, hardware: &Hardware, count: i64, remarks: Vec<Remark>) -> Counted {
        Counted {
            id: hardware.id.value.clone(),
            name: self.fasteners(hardware, 0).name_words(false),
            count: Some(count),
            amounts: Vec::new(),
            when: When::always(),
            number: None,
            remarks,
            steps: self.steps_with(self.naming(hardware)),
            span: hardware.id.span,
        }
    }

    pub(super) fn kit_hardware(&self) -> Vec<Counted> {
        let supplied = self.guide.own.hardware.rows.iter().filter_map(|hardware| {
            let remarks = supply_remarks(&hardware.when, hardware.spare, &hardware.note);
            let Some(count) = hardware.supplied else { return self.needed(hardware, remarks) };
            let count = Some(count.value).filter(|count| *count > 0)?;
            Some(Counted { when: When::of(&hardware.when), ..self.counted(hardware, i64::from(count), remarks) })
        });
        let shelf = self.shared().into_values().filter(|shared| shared.fitted > 0).map(|shared| {
            let conditional = shared.moved.iter().any(|(_, when)| !when.is_always());
            let amounts = if conditional { shared.moved } else { Vec::new() };
            Counted { amounts, ..self.counted(shared.hardware, shared.fitted, vec![Remark::Shelf]) }
        });
        supplied.chain(shelf).collect()
    }

    /// Hardware of which nobody has told how many are supplied: what is needed beyond what came off.
    fn needed(&self, hardware: &'g Hardware, remarks: Vec<Remark>) -> Option<Counted> {
        let flow = self.flow(&hardware.id.value);
        let told = self.told(&None, Block::Hardware, &hardware.id.value, "supplied").is_some();
        let remark = if flow.on > 0 { Remark::Needed } else { told.then_some(Remark::Uncounted)? };
        let remarks = std::iter::once(remark).chain(remarks).collect();
        let row = self.counted(hardware, flow.on, remarks);
        Some(Counted { count: row.count.filter(|count| *count > 0), amounts: flow.amounts(), when: When::of(&hardware.when), ..row })
    }

    /// How many of a part or some hardware go on beyond what comes off before.
    fn flow(&self, id: &str) -> Flow {
        let mut flow = Flow::default();
        for &(count, step, operation) in self.moved.of(id) {
            flow.on += count;
            flow.moved.push((count, When::all(&[&self.guide.steps[step].when, &operation.when])));
        }
        flow
    }

    /// Shared hardware has no counts of its own: what is fitted beyond what came off is from the shelf, what comes off is on the vehicle.
    fn shared(&self) -> BTreeMap<&'g str, Shared<'g>> {
        let mut all: BTreeMap<&'g str, Shared<'g>> = BTreeMap::new();
        for (step, operation) in self.guide.operations() {
            for (count, hardware) in tally::hardware_of(operation, self.names) {
                let id = hardware.id.as_str();
                if self.guide.own.hardware.get(id).is_some() {
                    continue;
                }
                let shared = all.entry(id).or_insert_with(|| Shared { hardware, fitted: 0, off: 0, moved: Vec::new() });
                let count = i64::from(count);
                let when = When::all(&[&self.guide.steps[step].when, &operation.when]);
                match operation.verb {
                    Verb::Fit | Verb::Connect => {
                        shared.fitted += count;
                        shared.moved.push((count, when));
                    }
                    Verb::Remove | Verb::Disconnect => {
                        // What comes off after it was fitted in this job came from the shelf before.
                        shared.off += (count - shared.fitted.max(0)).max(0);
                        shared.fitted -= count;
                        shared.moved.push((-count, when));
                    }
                    _ => {}
                }
            }
        }
        all
    }

    /// What becomes of hardware that comes off: nothing is said where it goes back on.
    fn fate(&self, hardware: &Hardware) -> Option<Remark> {
        let operations = || self.naming(hardware).into_iter().flatten().map(|(_, operation)| *operation);
        if operations().any(|operation| operation.verb.does_up()) {
            return None;
        }
        let thrown = operations().any(|operation| operation.discard_hardware || operation.verb == Verb::Discard);
        Some(if thrown { Remark::ThrownAway } else { Remark::NotBack })
    }

    pub(super) fn vehicle_hardware(&self) -> Vec<Counted> {
        let own = self.guide.own.hardware.rows.iter().filter_map(|hardware| {
            let asked = self.told(&None, Block::Hardware, &hardware.id.value, "on_vehicle").is_some();
            let count = hardware.on_vehicle.map(|count| i64::from(count.value)).filter(|count| *count > 0);
            if count.is_none() && !asked {
                return None;
            }
            let remark = self
                .fate(hardware)
                .or_else(|| (!hardware.when.is_always()).then(|| Remark::Only(When::of(&hardware.when))))
                .or_else(|| text(&hardware.note).map(Remark::Note))
                .or_else(|| hardware.one_use.then_some(Remark::OneUse));
            let remarks = asked.then_some(Remark::UncountedOn).into_iter().chain(remark).collect();
            Some(Counted { count, when: self.handled_with(hardware), ..self.counted(hardware, 0, remarks) })
        });
        let shared = self.shared().into_values().filter(|shared| shared.off > 0);
        let shared = shared.map(|shared| {
            let remarks = text(&shared.hardware.note).map(Remark::Note).into_iter().collect();
            Counted { when: self.handled_with(shared.hardware), ..self.counted(shared.hardware, shared.off, remarks) }
        });
        own.chain(shared).collect()
    }

    /// The options with which some hardware is touched; it always is where it stands so, or where no operation names it.
    fn handled_with(&self, hardware: &Hardware) -> When {
        let uses = self.naming(hardware).into_iter().flatten();
        let uses: Vec<When> =
            uses.map(|(step, operation)| When::all(&[&hardware.when, &self.guide.steps[*step].when, &operation.when])).collect();
        if uses.is_empty() { When::of(&hardware.when) } else { When::any(uses) }
    }
}

/// What stands behind a row of the kit: with which option it comes, how many are spares, and the author's note.
fn supply_remarks(when: &Condition, spare: Option<Spanned<u32>>, note: &Option<model::Text>) -> Vec<Remark> {
    let only = (!when.is_always()).then(|| Remark::Only(When::of(when)));
    let spare = spare.filter(|spare| spare.value > 0).map(|spare| Remark::Spare(spare.value));
    [only, spare, text(note).map(Remark::Note)].into_iter().flatten().collect()
}
