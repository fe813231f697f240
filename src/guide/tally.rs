//! Adds up a guide: hardware counts, the time of its steps, and its tightening values in order. Rules
//! and pages both read these sums, so that paper and review count the same.

use crate::guide::model::{Guide, Hardware, Operation, Shop, Spec, Stated, TorqueRef};
use crate::guide::names::Names;
use crate::guide::verb::Moves;
use crate::quantity::Dimension;
use crate::source::Place;

/// One tightening value where it is used.
#[derive(Clone, Debug)]
pub struct TorqueUse<'g> {
    /// The step, as an index.
    pub step: usize,
    /// The operation.
    pub operation: &'g Operation,
    /// What is tightened and how many.
    pub hardware: Vec<(u32, &'g Hardware)>,
    /// The value.
    pub value: &'g Stated,
    /// The spec it is written in; none for a value given in place.
    pub spec: Option<&'g Spec>,
}

impl TorqueUse<'_> {
    /// Where the value is written: in its spec, else in the operation.
    pub fn place(&self, guide: &Guide<'_>, names: Names<'_>) -> Place {
        match self.spec.and_then(|spec| Some((spec, spec.value.as_ref()?))) {
            Some((spec, value)) => Place { file: names.file_of_spec(spec), span: value.span },
            None => guide.place(self.operation.span),
        }
    }
}

/// Every tightening value of the guide in the order of its steps.
pub fn torque_uses<'g>(guide: &'g Guide<'_>, shop: &'g Shop) -> Vec<TorqueUse<'g>> {
    let names = Names::new(guide, shop);
    guide
        .operations()
        .filter_map(|(step, operation)| {
            let (value, spec) = torque_of(operation, names)?;
            Some(TorqueUse { step, operation, hardware: hardware_of(operation, names), value, spec })
        })
        .collect()
}

/// How many of a part or some hardware go onto the vehicle beyond what came off before, each move with its step and operation.
pub fn moved<'g>(guide: &'g Guide<'_>, names: Names<'g>, id: &str) -> Vec<(i64, usize, &'g Operation)> {
    let mut moved = Vec::new();
    for (step, operation) in guide.operations() {
        let named = operation.hardware.iter().filter(|counted| names.meant(&counted.id.value) == id).map(|counted| counted.count);
        let named: Vec<u32> = named.collect();
        let acted = operation.targets.iter().any(|target| names.meant(&target.value) == id);
        let count = match (named.as_slice(), acted) {
            ([], false) => continue,
            ([], true) => operation.count.map_or(1, |count| count.value),
            (counts, _) => counts.iter().sum(),
        };
        match operation.verb.moves() {
            Moves::On => moved.push((i64::from(count), step, operation)),
            Moves::Off => moved.push((-i64::from(count), step, operation)),
            Moves::Loosens | Moves::Tightens | Moves::Away | Moves::Nothing => {}
        }
    }
    moved
}

/// How many of a part or some hardware the steps need beyond what comes off.
pub fn needed(guide: &Guide<'_>, names: Names<'_>, id: &str) -> i64 {
    moved(guide, names, id).iter().map(|(count, ..)| count).sum()
}

/// The step as an index, the operation, and how much of which hardware it does up.
pub type Untorqued<'g> = (usize, &'g Operation, Vec<(u32, &'g Hardware)>);

/// Hardware that is done up and to which no torque belongs yet: in one operation each, less what is started by hand and tightened later.
pub fn untorqued<'g>(guide: &'g Guide<'_>, names: Names<'g>) -> Vec<Untorqued<'g>> {
    let asked = |operation: &Operation| crate::guide::untold::at(guide, operation.span, "torque").is_some();
    let later = |started: &Operation, hardware: &Hardware| {
        let after = guide.operations().map(|(_, operation)| operation).skip_while(|operation| !std::ptr::eq(*operation, started)).skip(1);
        after
            .filter(|operation| operation.verb.does_up() && (operation.torque.is_some() || asked(operation)))
            .any(|operation| hardware_of(operation, names).iter().any(|(_, other)| std::ptr::eq(*other, hardware)))
    };
    let does_up = |verb: crate::guide::verb::Verb| verb.does_up() || verb == crate::guide::verb::Verb::Transfer;
    let all = guide.operations().filter(|(_, operation)| does_up(operation.verb) && operation.torque.is_none());
    all.filter_map(|(step, operation)| {
        let owed = hardware_of(operation, names).into_iter().filter(|(_, hardware)| hardware.takes_torque());
        let owed: Vec<_> = owed.filter(|(_, hardware)| !(operation.by_hand && later(operation, hardware))).collect();
        (!owed.is_empty()).then_some((step, operation, owed))
    })
    .collect()
}

/// The torque of an operation and the spec it is written in.
pub fn torque_of<'g>(operation: &'g Operation, names: Names<'g>) -> Option<(&'g Stated, Option<&'g Spec>)> {
    match operation.torque.as_ref()? {
        TorqueRef::InPlace(value) => Some((&value.value, None)),
        TorqueRef::Spec(id) => {
            let spec = names.spec(&id.value)?;
            // A spec of another kind is told where the ids are looked up; it is no torque for anybody.
            let torque = !spec.hand_then && spec.quantity().is_none_or(|quantity| quantity.dimension == Dimension::Torque);
            torque.then_some(())?;
            Some((&spec.value.as_ref()?.value, Some(spec)))
        }
    }
}

/// The hardware of an operation: what it names beside its items, and items that are hardware themselves.
pub fn hardware_of<'g>(operation: &'g Operation, names: Names<'g>) -> Vec<(u32, &'g Hardware)> {
    let beside = operation.hardware.iter().filter_map(|count| Some((count.count, names.hardware(&count.id.value)?)));
    let count = operation.count.map_or(1, |count| count.value);
    let targets = operation.targets.iter().filter_map(|id| Some((count, names.hardware(&id.value)?)));
    let beside: Vec<_> = beside.collect();
    // `tighten = "seat-bolt", hardware = "4 x seat-bolt"` speaks of the same four bolts.
    let own: Vec<_> = targets.filter(|(_, target)| !beside.iter().any(|(_, named)| std::ptr::eq(*named, *target))).collect();
    beside.into_iter().chain(own).collect()
}

/// The time of all steps in thousandths of a minute; none where no step gives one.
pub fn minutes(guide: &Guide<'_>) -> Option<u64> {
    let times: Vec<u64> = guide.steps.iter().filter_map(|step| step.minutes.map(|minutes| u64::from(minutes.value))).collect();
    (!times.is_empty()).then(|| times.iter().sum())
}

/// A number of thousandths of a minute in hours and minutes: `1 h 30 min`.
pub fn minutes_words(thousandths: u64) -> String {
    let (whole, part) = (thousandths / 1000, thousandths % 1000);
    let (hours, minutes) = (whole / 60, whole % 60);
    let part = if part == 0 { String::new() } else { format!(".{part:03}").trim_end_matches('0').to_owned() };
    match (hours, minutes, part.is_empty()) {
        (0, _, _) => format!("{minutes}{part} min"),
        (_, 0, true) => format!("{hours} h"),
        _ => format!("{hours} h {minutes}{part} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_are_told_in_hours() {
        assert_eq!(minutes_words(5_000), "5 min");
        assert_eq!(minutes_words(2_500), "2.5 min");
        assert_eq!(minutes_words(60_000), "1 h");
        assert_eq!(minutes_words(90_000), "1 h 30 min");
    }
}
