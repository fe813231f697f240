//! Adds up a guide: hardware counts, the time of its steps, and its tightening values in order. Rules
//! and pages both read these sums, so that paper and review count the same.

use std::collections::HashMap;

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

/// What goes onto the vehicle and comes off it, by the ids of parts and hardware, looked up once.
pub struct Moved<'g>(HashMap<&'g str, Vec<(i64, usize, &'g Operation)>>);

impl<'g> Moved<'g> {
    /// All of it.
    pub fn new(guide: &'g Guide<'_>, names: Names<'g>) -> Self {
        let mut all: HashMap<&'g str, Vec<(i64, usize, &'g Operation)>> = HashMap::new();
        for (step, operation) in guide.operations() {
            let sign = match operation.verb.moves() {
                Moves::On => 1,
                Moves::Off => -1,
                Moves::Loosens | Moves::Tightens | Moves::Away | Moves::Nothing => continue,
            };
            // What is counted beside the verb counts before what the operation as a whole counts.
            let mut own: Vec<(&str, i64)> = Vec::new();
            for counted in &operation.hardware {
                let id = names.meant(&counted.id.value);
                match own.iter_mut().find(|(known, _)| *known == id) {
                    Some((_, count)) => *count += i64::from(counted.count),
                    None => own.push((id, i64::from(counted.count))),
                }
            }
            for target in &operation.targets {
                let id = names.meant(&target.value);
                if !own.iter().any(|(known, _)| *known == id) {
                    own.push((id, operation.count.map_or(1, |count| i64::from(count.value))));
                }
            }
            for (id, count) in own {
                all.entry(id).or_default().push((sign * count, step, operation));
            }
        }
        Moved(all)
    }

    /// How many of a part or some hardware go onto the vehicle beyond what came off before, each move with its step and operation.
    pub fn of(&self, id: &str) -> &[(i64, usize, &'g Operation)] {
        self.0.get(id).map_or(&[], Vec::as_slice)
    }

    /// How many of it the steps need beyond what comes off.
    pub fn needed(&self, id: &str) -> i64 {
        self.of(id).iter().map(|(count, ..)| count).sum()
    }
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
