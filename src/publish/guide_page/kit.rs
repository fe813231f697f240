//! What a job needs and what comes off the vehicle: tools, parts and hardware with their counts. Times, values and steps are made beside it.

use std::collections::BTreeMap;

use super::{Maker, date_words, hardware_words, text};
use crate::guide::model::{self, Condition, Hardware, Operation, Step};
use crate::guide::tally;
use crate::guide::tightening;
use crate::guide::verb::Verb;
use crate::publish::conditions;
use crate::publish::page_data as page;
use crate::source::Spanned;

/// A sort of hardware that the guide takes from the shop file.
struct Shared<'g> {
    hardware: &'g Hardware,
    /// How many come from the shelf.
    fitted: i64,
    /// How many come off the vehicle.
    off: i64,
    /// What goes on and, below nought, comes off, each with its condition as terms.
    moved: Vec<(i64, Option<String>)>,
}

impl<'g> Maker<'g, '_> {
    pub(super) fn tools(&self) -> Vec<page::Tool> {
        let used: Vec<&str> = self
            .guide
            .operations()
            .flat_map(|(_, operation)| tally::hardware_of(operation, self.names))
            .filter_map(|(_, hardware)| hardware.drive.as_ref().map(|drive| drive.as_str()))
            .collect();
        let listed = self.guide.tools.iter().filter_map(|id| self.names.tool(&id.value));
        listed
            .map(|tool| page::Tool {
                id: tool.id.value.clone(),
                name: tool.name.value.clone(),
                square: tool.square.as_ref().map(|square| square.value.text.clone()),
                number: text(&tool.number),
                is_wrench: tool.range.is_some(),
                calibrated_until: tool.calibrated_until.map(|date| date_words(date.value)),
                sizes: tool.sizes.iter().filter(|size| used.contains(&size.as_str())).map(|size| size.value.clone()).collect(),
                note: text(&tool.note),
                terms: self.needed_with(tool),
            })
            .collect()
    }

    /// The options that a tool is needed with; none where it is needed always, or nothing says what for.
    fn needed_with(&self, tool: &model::Tool) -> Option<String> {
        let is = |id: &model::Text| self.names.tool(&id.value).is_some_and(|named| std::ptr::eq(named, tool));
        let fits = |hardware: &Hardware| {
            let drive = hardware.drive.as_ref();
            drive.is_some_and(|drive| tool.sizes.iter().any(|size| size.value == drive.value))
        };
        let for_operation = |operation: &Operation| {
            let torque = tally::torque_of(operation, self.names).and_then(|(stated, _)| stated.quantity.as_ref());
            let wrench = torque.and_then(|torque| tightening::wrench_of(self.guide, operation, torque, self.names));
            operation.with.iter().any(is)
                || wrench.is_some_and(|wrench| std::ptr::eq(wrench, tool))
                || tally::hardware_of(operation, self.names).iter().any(|(_, hardware)| fits(hardware))
        };
        let of_step = |step: &Step<'_>| -> Vec<Option<String>> {
            if step.tools.iter().any(is) {
                return vec![conditions::terms(&step.when)];
            }
            let operations = step.operations.iter().filter(|operation| for_operation(operation));
            operations.map(|operation| conditions::all(&[&step.when, &operation.when])).collect()
        };
        conditions::any(self.guide.steps.iter().flat_map(of_step))
    }

    pub(super) fn parts(&self) -> Vec<page::Counted> {
        let parts = self.guide.own.parts.rows.iter();
        parts
            .map(|part| page::Counted {
                name: part.name.value.clone(),
                count: part.supplied.map_or_else(String::new, |count| count.value.to_string()),
                terms: conditions::terms(&part.when),
                amounts: None,
                number: text(&part.number),
                note: self.supply_note(&part.when, part.spare, &part.note),
            })
            .collect()
    }

    /// What stands behind a row of the kit: with which option it comes, how many are spares, and the author's note.
    fn supply_note(&self, when: &Condition, spare: Option<Spanned<u32>>, note: &Option<model::Text>) -> Option<String> {
        let spare = spare.filter(|spare| spare.value > 0).map(|spare| format!("{} to spare", spare.value));
        let words: Vec<String> = [self.when(when), spare, text(note)].into_iter().flatten().collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    pub(super) fn kit_hardware(&self) -> Vec<page::Counted> {
        let supplied = self.guide.own.hardware.rows.iter().filter_map(|hardware| {
            let count = hardware.supplied.filter(|count| count.value > 0)?;
            let note = self.supply_note(&hardware.when, hardware.spare, &hardware.note);
            Some(page::Counted { terms: conditions::terms(&hardware.when), ..counted(hardware, count.value.to_string(), note) })
        });
        let shelf = self.shared().into_values().filter(|shared| shared.fitted > 0).map(|shared| {
            let note = Some("from the shop's shelf".to_owned());
            let conditional = shared.moved.iter().any(|(_, terms)| terms.is_some());
            let amounts = shared.moved.iter().map(|(count, terms)| format!("{count}@{}", terms.as_deref().unwrap_or("").replace(' ', "+")));
            let amounts = conditional.then(|| amounts.collect::<Vec<_>>().join(" "));
            page::Counted { amounts, ..counted(shared.hardware, shared.fitted.to_string(), note) }
        });
        supplied.chain(shelf).collect()
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
                let terms = conditions::all(&[&self.guide.steps[step].when, &operation.when]);
                match operation.verb {
                    Verb::Fit | Verb::Connect => {
                        shared.fitted += count;
                        shared.moved.push((count, terms));
                    }
                    Verb::Remove | Verb::Disconnect => {
                        // What comes off after it was fitted in this job came from the shelf before.
                        shared.off += (count - shared.fitted.max(0)).max(0);
                        shared.fitted -= count;
                        shared.moved.push((-count, terms));
                    }
                    _ => {}
                }
            }
        }
        all
    }

    /// What becomes of hardware that comes off: nothing is said where it goes back on.
    fn fate(&self, hardware: &Hardware) -> Option<String> {
        let of = |operation: &model::Operation| {
            tally::hardware_of(operation, self.names).iter().any(|(_, other)| std::ptr::eq(*other, hardware))
        };
        let mut operations = self.guide.operations().map(|(_, operation)| operation).filter(|operation| of(operation));
        if self.guide.operations().any(|(_, operation)| operation.verb.does_up() && of(operation)) {
            return None;
        }
        let thrown = operations.any(|operation| operation.discard_hardware || operation.verb == Verb::Discard);
        Some(if thrown { "thrown away" } else { "does not go back on" }.to_owned())
    }

    pub(super) fn vehicle_hardware(&self) -> Vec<page::Counted> {
        let own = self.guide.own.hardware.rows.iter().filter_map(|hardware| {
            let count = hardware.on_vehicle.filter(|count| count.value > 0)?;
            let note = self
                .fate(hardware)
                .or_else(|| self.when(&hardware.when))
                .or_else(|| text(&hardware.note))
                .or_else(|| hardware.one_use.then(|| "not to be used again".to_owned()));
            Some(page::Counted { terms: self.handled_with(hardware), ..counted(hardware, count.value.to_string(), note) })
        });
        let shared = self.shared().into_values().filter(|shared| shared.off > 0);
        let shared = shared.map(|shared| page::Counted {
            terms: self.handled_with(shared.hardware),
            ..counted(shared.hardware, shared.off.to_string(), text(&shared.hardware.note))
        });
        own.chain(shared).collect()
    }

    /// The options with which some hardware is touched; none where it always is, or no operation names it.
    fn handled_with(&self, hardware: &Hardware) -> Option<String> {
        let names =
            |operation: &Operation| tally::hardware_of(operation, self.names).iter().any(|(_, named)| std::ptr::eq(*named, hardware));
        let uses = self.guide.operations().filter(|(_, operation)| names(operation));
        let uses: Vec<_> =
            uses.map(|(step, operation)| conditions::all(&[&hardware.when, &self.guide.steps[step].when, &operation.when])).collect();
        if uses.is_empty() { conditions::terms(&hardware.when) } else { conditions::any(uses) }
    }
}

fn counted(hardware: &Hardware, count: String, note: Option<String>) -> page::Counted {
    page::Counted { name: hardware_words(hardware, false), count, terms: None, amounts: None, number: None, note }
}
