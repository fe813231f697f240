//! What the facts say of a tightening beyond its value: thread and class of the hardware, the order, the passes, the wrench and what
//! it is set to. Rules and pages both read it here. The trade's knowledge itself is in `fastener`.

use crate::fastener::adapter::Adapter;
use crate::fastener::limit::{Case, Condition, Into, Window, window};
use crate::fastener::pattern::{Order, check_circle};
use crate::fastener::special::Special;
use crate::fastener::stage::{self, Stages};
use crate::fastener::{Class, Kind, Objection, Reading, Thread};
use crate::guide::model::{Guide, Hardware, Operation, Shop, Spec, Stated, Tool};
use crate::guide::names::Names;
use crate::guide::tally::{self, TorqueUse};
use crate::quantity::{Dimension, Exact, Quantity};
use crate::source::Spanned;

/// The fastening thread of some hardware as read; none if it states none, or one of a family that no strength is known of.
pub fn thread_of(hardware: &Hardware) -> Option<Result<Reading<Thread>, Objection>> {
    let written = &hardware.thread.as_ref()?.value;
    if Special::read(written).is_some() {
        return None;
    }
    Some(Thread::read(written))
}

/// The pipe, conduit, tapping-screw or trapezoidal thread of some hardware as read; none if it states none.
pub fn special_thread_of(hardware: &Hardware) -> Option<Result<Reading<Special>, Objection>> {
    Special::read(&hardware.thread.as_ref()?.value)
}

/// The length under the head in millimetres, where one is stated.
pub fn length_of(hardware: &Hardware) -> Option<f64> {
    upper(hardware.length.as_ref()).map(|metres| metres * 1000.0)
}

/// What sort of threaded fastener it is; none for clips, rivets and the like. A cable gland is a fitting by its name too.
pub fn kind_of(hardware: &Hardware) -> Option<Kind> {
    let kind = Kind::named(hardware.kind.as_ref().map(|kind| kind.as_str()))?;
    let gland = hardware.name.value.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|word| matches!(word, "gland" | "glands"));
    Some(if gland { Kind::Fitting } else { kind })
}

/// The strength class as read; none if it states none.
pub fn class_of(hardware: &Hardware) -> Option<Result<&'static Class, Objection>> {
    let thread = thread_of(hardware).and_then(Result::ok).map(|reading| reading.value);
    Some(Class::read(&hardware.class.as_ref()?.value, kind_of(hardware)?, thread.as_ref()))
}

/// The window outside which a torque on this hardware is hard to believe; none where the thread is not known.
pub fn window_of(hardware: &Hardware, spec: Option<&Spec>) -> Option<Window> {
    judged_by(hardware, spec, window).flatten()
}

/// What is made of a torque on this hardware by thread, class and state of the thread; none where the thread is not known.
pub fn judged_by<R>(hardware: &Hardware, spec: Option<&Spec>, judge: impl FnOnce(&Case<'_>) -> R) -> Option<R> {
    let thread = thread_of(hardware)?.ok()?.value;
    let word = |text: &Option<crate::guide::model::Text>| text.as_ref().map(|text| text.value.clone());
    let condition = spec.and_then(|spec| word(&spec.condition)).and_then(|word| Condition::named(&word));
    // A thread-locker or a lubricant that is put on says the state as well as the word for it.
    let put_on = spec.and_then(|spec| match (&spec.locker, &spec.lubricant) {
        (Some(_), _) => Some(Condition::ThreadLocker),
        (None, Some(_)) => Some(Condition::Oiled),
        (None, None) => None,
    });
    Some(judge(&Case {
        thread: &thread,
        class: class_of(hardware).and_then(Result::ok),
        condition: condition.or(put_on).unwrap_or_default(),
        kind: kind_of(hardware)?,
        into: spec.and_then(|spec| spec.into.as_ref()).map_or(Into::NotStated, |into| Into::named(into.as_str())),
    }))
}

/// The degrees that a torque on this hardware is followed by: in its own words, in the passes of its spec, or in a spec of its own for the same
/// hardware that the operation names beside it; none where no turn follows.
pub fn turn_of(used: &TorqueUse<'_>, hardware: &Hardware, names: Names<'_>, shop: &Shop) -> Option<f64> {
    let (torque, spec) = (used.value.quantity.as_ref()?, used.spec);
    let degrees = |angle: &crate::quantity::Statement| angle.base_bounds().1.or(angle.base_bounds().0).map(Exact::estimate);
    let stated = torque.angle.as_ref().and_then(degrees);
    let passes: f64 = spec.map_or(0.0, |spec| {
        let stages = stages_of(spec, shop).stages;
        let turns = stages.iter().filter_map(|(_, stage)| match stage {
            stage::Stage::Turn(angle) => degrees(angle),
            _ => None,
        });
        turns.sum()
    });
    let most = stated.unwrap_or(0.0).max(passes);
    let beside = || {
        used.operation.specs.iter().filter_map(|id| names.spec(&id.value)).find_map(|spec| {
            let angle = spec.quantity().filter(|value| value.dimension == Dimension::Angle)?;
            let (low, high) = angle.base_bounds();
            high.or(low).filter(|_| spec.of.as_ref().is_some_and(|of| of.value == hardware.id.value)).map(Exact::estimate)
        })
    };
    (most > 0.0).then_some(most).or_else(beside)
}

/// How many fasteners an operation tightens to its torque; 0 where nobody knows it yet.
pub fn count_of(operation: &Operation, names: Names<'_>) -> u32 {
    let counts: Vec<u32> =
        tally::hardware_of(operation, names).iter().filter(|(_, hardware)| hardware.takes_torque()).map(|(count, _)| *count).collect();
    // Of some nobody knows how many there are: the sum of the others is no count.
    if counts.contains(&0) { 0 } else { counts.iter().sum() }
}

/// The order in which `count` fasteners are tightened by a spec; none where it asks for none that could be drawn.
pub fn order_of(spec: &Spec, count: u32) -> Option<Result<Order, Vec<Objection>>> {
    let count = count as usize;
    let one = |order: Result<Order, Objection>| order.map_err(|objection| vec![objection]);
    if let Some(written) = &spec.order {
        let own = own_order(&written.value);
        return Some(own.map_err(|objection| vec![objection]).and_then(|own| own_checked(spec, own, count)));
    }
    let pattern = spec.pattern.as_ref()?;
    match pattern.as_str() {
        "circle" => Some(one(Order::circle(count))),
        "rectangle" => {
            Some(grid(spec, count).map_err(|objection| vec![objection]).and_then(|(columns, rows)| one(Order::rectangle(columns, rows))))
        }
        // Crosswise on two rows is the order of a rectangle; an odd or small number needs no drawing.
        "crosswise" if count >= 4 && count.is_multiple_of(2) => Some(one(Order::rectangle(count / 2, 2))),
        "crosswise" if count > 4 => Some(Err(vec![Objection {
            message: format!("{count} fasteners do not stand in two rows, so there is no crosswise order of them"),
            remedy: "use `circle`, or `rectangle` with `rows`, or write the supplier's `order`".to_owned(),
        }])),
        _ => None,
    }
}

/// The order in which an operation undoes its hardware, the reverse of a tightening; none where it asks for none that could be drawn.
pub fn undo_order(operation: &Operation, names: Names<'_>) -> Option<Order> {
    let spec = names.spec(&operation.loosen_as.as_ref()?.value)?;
    let count: u32 = tally::hardware_of(operation, names).iter().map(|(count, _)| count).sum();
    let order = order_of(spec, count)?.ok()?;
    order.reordered(&order.loosening())
}

fn grid(spec: &Spec, count: usize) -> Result<(usize, usize), Objection> {
    let rows = spec.rows.map_or(2, |rows| rows.value as usize);
    if rows == 0 || !count.is_multiple_of(rows.max(1)) {
        return Err(Objection {
            message: format!("{count} fasteners do not stand in {rows} rows"),
            remedy: "correct `rows`, the count of the operation, or the pattern".to_owned(),
        });
    }
    Ok((count / rows, rows))
}

/// Positions as the author lists them: `1-4-2-3`.
fn own_order(written: &str) -> Result<Vec<usize>, Objection> {
    let numbers: Option<Vec<usize>> =
        written.split([' ', '-', ',', ';']).filter(|piece| !piece.is_empty()).map(|piece| piece.parse().ok()).collect();
    numbers.filter(|numbers| !numbers.is_empty()).ok_or_else(|| Objection {
        message: format!("`{written}` is no list of positions"),
        remedy: "write the position numbers in the order of tightening, such as 1-4-2-3".to_owned(),
    })
}

fn own_checked(spec: &Spec, own: Vec<usize>, count: usize) -> Result<Order, Vec<Objection>> {
    let pattern = spec.pattern.as_ref().map_or("", |pattern| pattern.as_str());
    let (objections, places) = match pattern {
        "circle" => (check_circle(&own, count), Order::circle(count).ok()),
        "rectangle" | "crosswise" => {
            let (columns, rows) = grid(spec, count).map_err(|objection| vec![objection])?;
            (crate::fastener::pattern::check_rectangle(&own, columns, rows), Order::rectangle(columns, rows).ok())
        }
        _ => (Vec::new(), Order::in_order(count).ok()),
    };
    if !objections.is_empty() {
        return Err(objections);
    }
    let places = places.or_else(|| Order::in_order(count).ok());
    places.and_then(|places| places.reordered(&own)).ok_or_else(|| {
        vec![Objection {
            message: format!("the order names {} positions and {count} fasteners are tightened", own.len()),
            remedy: "name each position once".to_owned(),
        }]
    })
}

/// The passes of a spec, held against its torque.
pub fn stages_of(spec: &Spec, shop: &Shop) -> Stages {
    let texts: Vec<&str> = spec.stages.iter().map(|stage| stage.as_str()).collect();
    stage::read(&texts, spec.quantity(), &shop.language.reading())
}

/// The torque of a spec, as written, that ends in a turn which no pass makes; none without passes, or where a pass could not be read.
pub fn turn_left_out<'g>(spec: &'g Spec, shop: &Shop) -> Option<&'g str> {
    spec.quantity()?.angle.as_ref().filter(|_| !spec.stages.is_empty())?;
    let stages = stages_of(spec, shop);
    let turned = stages.stages.iter().any(|(_, stage)| matches!(stage, stage::Stage::Turn(_)));
    (!turned && stages.objections.is_empty()).then(|| spec.value.as_ref().map(|value| value.value.text.as_str()))?
}

/// The torque of each pass in newton-metres, as far as it can be worked out; empty without passes or without one torque.
pub fn pass_torques(spec: &Spec, shop: &Shop) -> Vec<Option<f64>> {
    let Some((low, high)) = spec.quantity().map(Quantity::base_bounds) else { return Vec::new() };
    let (Some(low), Some(high)) = (low.or(high), high.or(low)) else { return Vec::new() };
    let middle = f64::midpoint(low.estimate(), high.estimate());
    let stages = stages_of(spec, shop);
    let mut torques = vec![None; spec.stages.len()];
    for (share, (at, stage)) in stages.shares().zip(&stages.stages) {
        if matches!(stage, stage::Stage::Torque(_) | stage::Stage::Check) {
            torques[*at] = share.map(|share| share.estimate() * middle);
        }
    }
    torques
}

/// The torque wrench of an operation: the one it names, else the listed one with the narrowest range that holds what it is set to.
pub fn wrench_of<'g>(guide: &'g Guide<'_>, operation: &'g Operation, torque: &Quantity, names: Names<'g>) -> Option<&'g Tool> {
    let named = operation.with.iter().filter_map(|id| names.tool(&id.value)).find(|tool| tool.range.is_some());
    // One that holds the first pass too is the better one.
    let first = tally::torque_of(operation, names).and_then(|(_, spec)| spec).and_then(|spec| lowest_pass(spec, torque));
    let reaches = |tool: &Tool| first.is_none_or(|first| within(tool, first));
    let all: Vec<&Tool> = guide.tools.iter().filter_map(|id| names.tool(&id.value)).filter(|tool| tool.holds(torque)).collect();
    let any_reaches = all.iter().any(|tool| reaches(tool));
    let listed = all.into_iter().filter(|tool| !any_reaches || reaches(tool));
    named.or_else(|| listed.min_by_key(|tool| tool.torque_range().and_then(|(from, to)| to.minus(from))))
}

/// The torque of the lowest pass given in percent.
fn lowest_pass(spec: &Spec, torque: &Quantity) -> Option<f64> {
    let (low, high) = torque.base_bounds();
    let low = low.or(high)?;
    let percent = |text: &str| text.trim().strip_suffix('%')?.trim().parse::<f64>().ok();
    let lowest = spec.stages.iter().filter_map(|stage| percent(&stage.value)).min_by(f64::total_cmp)?;
    Some(low.estimate() * lowest / 100.0)
}

/// Whether a wrench's range holds a torque in newton-metres.
pub fn within(tool: &Tool, torque: f64) -> bool {
    tool.torque_range().is_some_and(|(from, to)| from.estimate() - 1e-9 <= torque && torque <= to.estimate() + 1e-9)
}

/// An adapter that lengthens the wrench of an operation.
#[derive(Clone, Copy, Debug)]
pub struct Adapted<'g> {
    /// The adapter.
    pub tool: &'g Tool,
    /// The wrench and the adapter together; none where a length or the angle is not given.
    pub adapter: Option<Adapter>,
}

/// The adapter of an operation, if it names one.
pub fn adapter_of<'g>(operation: &'g Operation, wrench: Option<&Tool>, names: Names<'g>) -> Option<Adapted<'g>> {
    let tool = operation.with.iter().filter_map(|id| names.tool(&id.value)).find(|tool| tool.offset.is_some())?;
    let together = || {
        Some(Adapter {
            wrench: upper(wrench?.lever.as_ref())?,
            extension: upper(tool.offset.as_ref())?,
            angle: upper(operation.adapter_angle.as_ref())?,
        })
    };
    Some(Adapted { tool, adapter: together() })
}

fn upper(value: Option<&Spanned<Stated>>) -> Option<f64> {
    let end: Exact = value?.value.quantity.as_ref()?.base_bounds().1?;
    Some(end.estimate())
}

/// A range of torque in newton-metres as the wrench is set for it.
pub fn setting(adapter: Adapter, torque: &Quantity) -> Result<(f64, f64), Objection> {
    let (low, high) = torque.base_bounds();
    let (low, high) = (low.or(high).map_or(0.0, Exact::estimate), high.or(low).map_or(0.0, Exact::estimate));
    Ok((adapter.setting(low)?, adapter.setting(high)?))
}
