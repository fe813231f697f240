//! Tightening values where they are used: passes, order, wrench and what it is set to, the rows of the torque sheet, and the torques that
//! are checked again later.

use super::{Maker, bounds, said, text};
use crate::document::phrase::{self, lower_first};
use crate::document::value::{BLANK, Told, Value, Worked};
use crate::document::when::When;
use crate::document::words::{Inline, Line, Words};
use crate::document::{Bounds, Fasteners, Ordered, Phase, StepLink, Torque, TorqueRow};
use crate::fastener::pattern::Order;
use crate::guide::keys::Block;
use crate::guide::model::{self, Spec, Stated};
use crate::guide::tally;
use crate::guide::tightening;
use crate::guide::untold;
use crate::quantity::{self, Dimension, Exact, Quantity, Unit};
use crate::source::{Span, Spanned};

impl<'g> Maker<'g, '_> {
    pub(super) fn torque(&self, operation: &'g model::Operation) -> Option<Torque> {
        let Some((stated, spec)) = tally::torque_of(operation, self.names) else { return self.untold_torque(operation) };
        let source = match spec {
            Some(spec) => self.source_of(spec),
            None => {
                let told = operation.source.as_ref().map(|source| self.names.source_words(&source.value));
                told.or_else(|| untold::at(self.guide, operation.span, "source").map(|_| BLANK.to_owned()))
            }
        };
        let mut passes: Vec<Line> = spec.map(|spec| self.passes(operation, stated, spec)).unwrap_or_default();
        if passes.is_empty() {
            passes = stated.quantity.as_ref().map(|quantity| self.torque_and_turn(quantity, operation.span)).unwrap_or_default();
        }
        Some(Torque {
            name: spec.and_then(|spec| text(&spec.name)),
            value: self.value(stated),
            bounds: stated.quantity.as_ref().map_or_else(Bounds::default, |quantity| bounds(quantity, Some(self.tolerance(spec)))),
            source,
            pattern: spec.and_then(|spec| self.pattern_of(spec)),
            passes,
            condition: spec.and_then(condition_words),
            wrench: self.wrench(operation, stated).map(|tool| tool.name.value.clone()),
            setting: self.setting(operation, stated),
            order: self.order(operation),
            count: tightening::count_of(operation, self.names),
            note: spec.and_then(|spec| text(&spec.note)),
        })
    }

    /// The blank of a torque that is owed and that nobody has told.
    fn untold_torque(&self, operation: &'g model::Operation) -> Option<Torque> {
        let spec = match &operation.torque {
            Some(model::TorqueRef::Spec(id)) => self.names.spec(&id.value),
            Some(model::TorqueRef::InPlace(_)) | None => None,
        };
        let asked = match spec {
            Some(spec) => Some(untold::of_spec(self.guide, self.shop, &spec.id.value)?),
            None => untold::at(self.guide, operation.span, "torque"),
        };
        let owed = self.owed.iter().any(|owed| std::ptr::eq(*owed, operation));
        let value = match asked {
            Some(asked) => self.blank(asked),
            None if owed => self.new_value(Told::Untold("not told".to_owned())),
            None => return None,
        };
        Some(Torque {
            name: spec.and_then(|spec| text(&spec.name)),
            value,
            bounds: Bounds::default(),
            source: spec.and_then(|spec| self.source_of(spec)),
            pattern: spec.and_then(|spec| self.pattern_of(spec)),
            passes: Vec::new(),
            condition: spec.and_then(condition_words),
            wrench: None,
            setting: None,
            order: None,
            count: tightening::count_of(operation, self.names),
            note: spec.and_then(|spec| text(&spec.note)),
        })
    }

    /// The order of a spec in words, with a blank where nobody knows it yet.
    fn pattern_of(&self, spec: &Spec) -> Option<String> {
        let asked = ["pattern", "order"].iter().any(|key| untold::of(self.guide, self.shop, Block::Spec, &spec.id.value, key).is_some());
        text(&spec.pattern).or_else(|| asked.then(|| format!("order not known yet: {BLANK}")))
    }

    /// How far from a torque the one applied may be: what its spec says, or the shop, or 4 %, which is what a torque wrench for more than
    /// 10 N·m may be out (ISO 6789-1, from memory).
    fn tolerance(&self, spec: Option<&Spec>) -> Exact {
        let usual = || Exact::fraction(4, 100).unwrap_or_else(|| Exact::whole(0));
        spec.and_then(|spec| spec.tolerance).or(self.shop.tolerance).unwrap_or_else(usual)
    }

    fn wrench(&self, operation: &'g model::Operation, stated: &Stated) -> Option<&'g model::Tool> {
        tightening::wrench_of(self.guide, operation, stated.quantity.as_ref()?, self.names)
    }

    /// What the wrench is set to where an adapter lengthens it.
    fn setting(&self, operation: &'g model::Operation, stated: &Stated) -> Option<Line> {
        let torque = stated.quantity.as_ref()?;
        let adapted = tightening::adapter_of(operation, self.wrench(operation, stated), self.names)?;
        let ends = tightening::setting(adapted.adapter?, torque).ok()?;
        let angle = match adapted.adapter?.angle {
            0.0 => "straight out".to_owned(),
            90.0 => "square to the wrench".to_owned(),
            angle => format!("at {angle}° to the wrench"),
        };
        let span = operation.span;
        let value = Spanned::new(Inline::Value(self.worked_out(torque, ends)), span);
        let words = vec![said("set to ", span), value, said(format!(" with {}, {angle}", lower_first(&adapted.tool.name.value)), span)];
        Some(Line { words, span })
    }

    /// The two passes of a torque that ends in a turn: whoever takes over must see which bolts were turned already.
    fn torque_and_turn(&self, quantity: &Quantity, span: Span) -> Vec<Line> {
        let Some(angle) = quantity.angle.clone() else { return Vec::new() };
        let turn = Quantity { dimension: Dimension::Angle, statements: vec![angle], angle: None };
        let value = |value: Value| Spanned::new(Inline::Value(value), span);
        let turn = value(self.new_value(Told::Quantity(turn)));
        vec![Line { words: vec![value(self.without_turn(quantity))], span }, Line { words: vec![said("turn by ", span), turn], span }]
    }

    /// A torque without the turn that ends it.
    fn without_turn(&self, torque: &Quantity) -> Value {
        self.new_value(Told::Quantity(Quantity { angle: None, ..torque.clone() }))
    }

    /// A torque in newton-metres, from one end to the other, that was worked out for another one.
    fn worked_out(&self, of: &Quantity, (low, high): (f64, f64)) -> Value {
        let units: Vec<&'static Unit> = quantity::readings(of, None).into_iter().map(|(unit, ..)| unit).collect();
        self.new_value(Told::Worked(Worked { low, high, units }))
    }

    /// The passes, each with the torque it comes to, or with what the wrench is set to for it.
    fn passes(&self, operation: &'g model::Operation, stated: &Stated, spec: &Spec) -> Vec<Line> {
        let adapter = tightening::adapter_of(operation, self.wrench(operation, stated), self.names).and_then(|adapted| adapted.adapter);
        let torques = tightening::pass_torques(spec, self.shop);
        // The whole torque is told as it stands in the source, and not as one of its units was reckoned from the other.
        let whole = |stage: &str| adapter.is_none() && stage.trim().strip_suffix('%').is_some_and(|share| share.trim() == "100");
        let pass = |(at, stage): (usize, &model::Text)| {
            let torque = torques.get(at).copied().flatten().filter(|_| stage.value.contains('%'));
            let set = torque.and_then(|torque| adapter.map_or(Some(torque), |adapter| adapter.setting(torque).ok()));
            let mut words: Words = self.words_of(&stage.value, stage.span);
            let comes_to = match (set, &stated.quantity) {
                (Some(_), Some(torque)) if whole(&stage.value) => Some((", ", self.without_turn(torque))),
                (Some(set), Some(torque)) => {
                    Some((if adapter.is_some() { ", set to " } else { ", " }, self.worked_out(torque, (set, set))))
                }
                _ => None,
            };
            if let Some((between, value)) = comes_to {
                words.push(said(between, stage.span));
                words.push(Spanned::new(Inline::Value(value), stage.span));
            }
            Line { words, span: stage.span }
        };
        spec.stages.iter().enumerate().map(pass).collect()
    }

    /// The order of a tightening. Its numbers are the order, as are those of the boxes on the checklist.
    fn order(&self, operation: &model::Operation) -> Option<Ordered> {
        let spec = tally::torque_of(operation, self.names)?.1?;
        let count = tightening::count_of(operation, self.names);
        Some(ordered(spec, tightening::order_of(spec, count)?.ok()?, count, false))
    }

    /// The order of undoing, where the operation asks for it: the reverse of tightening.
    pub(super) fn undoing(&self, operation: &model::Operation) -> Option<Ordered> {
        let spec = self.names.spec(&operation.loosen_as.as_ref()?.value)?;
        let order = tightening::undo_order(operation, self.names)?;
        let count = order.positions().len() as u32;
        Some(ordered(spec, order, count, true))
    }

    /// The rows of the torque sheet: they repeat what the operations of the steps say, in the same order.
    pub(super) fn torque_rows(&self, phases: &[Phase]) -> Vec<TorqueRow> {
        let told = phases.iter().flat_map(|phase| &phase.steps).flat_map(|step| &step.operations);
        let rows = self.guide.operations().zip(told);
        rows.filter_map(|((step, operation), told)| Some(self.torque_row(step, operation, told.torque.clone()?))).collect()
    }

    fn torque_row(&self, at: usize, operation: &'g model::Operation, torque: Torque) -> TorqueRow {
        let step = &self.guide.steps[at];
        let fasteners = self.tightened(&tally::hardware_of(operation, self.names));
        let ids: Vec<&str> = fasteners.iter().map(|fasteners| fasteners.id.as_str()).collect();
        let held = operation.targets.iter().map(|id| self.names.meant(&id.value)).filter(|id| !ids.contains(id));
        let held = held.filter(|_| !fasteners.is_empty()).filter_map(|id| self.names.thing(id)).map(|thing| thing.name().to_owned());
        let place = held.chain(text(&operation.place)).chain(text(&operation.note)).collect();
        TorqueRow {
            step: StepLink { id: step.id.value.clone(), number: at + 1 },
            title: step.title.value.clone(),
            things: self.names_of(operation),
            fasteners,
            place,
            torque,
            when: When::all(&[&step.when, &operation.when]),
        }
    }

    /// The names of what an operation acts on.
    fn names_of(&self, operation: &model::Operation) -> Vec<String> {
        let count = match operation.count {
            Some(count) => count.value,
            None => u32::from(untold::at(self.guide, operation.span, "count").is_none()),
        };
        let name = |id: &model::Text| self.names.thing(&id.value).map_or(id.value.clone(), |thing| thing.name().to_owned());
        let counted = |name: String| if count == 1 { name } else { format!("{} × {name}", phrase::count_words(count)) };
        operation.targets.iter().map(name).map(counted).collect()
    }

    /// The fasteners that are tightened, and how many.
    fn tightened(&self, hardware: &[(u32, &model::Hardware)]) -> Vec<Fasteners> {
        let hardware = hardware.iter().filter(|(_, hardware)| hardware.takes_torque());
        hardware.map(|(count, hardware)| self.fasteners(hardware, *count)).collect()
    }

    /// What is due later: the author's words, then the torques that are checked again.
    pub(super) fn follow_up(&self) -> Vec<Line> {
        let mut lines = self.lines(&self.guide.follow_up);
        let mut told: Vec<*const Spec> = Vec::new();
        let choices = crate::document::when::choices(self.guide);
        for used in tally::torque_uses(self.guide, self.shop) {
            let Some((spec, retorque)) = used.spec.and_then(|spec| Some((spec, spec.retorque.as_ref()?))) else { continue };
            if told.contains(&std::ptr::from_ref(spec)) {
                continue;
            }
            told.push(spec);
            let span = retorque.span;
            let mut words = vec![said("Check the torque again ", span)];
            words.extend(self.words_of(&retorque.value, span));
            let what = phrase::fastened(&self.tightened(&used.hardware), &self.names_of(used.operation));
            words.push(said(format!(": {what}, "), span));
            words.push(Spanned::new(Inline::Value(self.value(used.value)), span));
            let when = When::all(&[&self.guide.steps[used.step].when, &used.operation.when]);
            if let Some(when) = phrase::when(&when, &choices) {
                words.push(said(format!(", {when}"), span));
            }
            lines.push(Line { words, span });
        }
        lines
    }
}

fn ordered(spec: &Spec, order: Order, count: u32, undoing: bool) -> Ordered {
    let circle = spec.pattern.as_ref().is_some_and(|pattern| pattern.value == "circle");
    let rows = if circle { 1 } else { spec.rows.map_or(2, |rows| rows.value.max(1)) };
    Ordered { order, circle, rows, count, undoing }
}

/// What the thread is like when it is tightened, and what is put on it.
fn condition_words(spec: &Spec) -> Option<String> {
    let words: Vec<String> = [
        spec.condition.as_ref().map(|condition| match condition.as_str() {
            "thread-locker" => "thread with thread-locker".to_owned(),
            "anti-seize" => "thread with anti-seize paste".to_owned(),
            other => format!("thread {}", other.replace('-', " ")),
        }),
        spec.into.as_ref().map(|into| format!("into {}", into.value.replace('-', " "))),
        spec.locker.as_ref().map(|locker| format!("with {}", locker.value)),
        spec.lubricant.as_ref().map(|lubricant| format!("with {}", lubricant.value)),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!words.is_empty()).then(|| words.join(", "))
}
