//! From the model of a guide to the data of its page, its checklists and its torque sheet: names looked
//! up, values printed, words turned into HTML. Counting is left to `guide::tally`, layout to the theme.

mod kit;

use std::cell::Cell;
use std::collections::BTreeMap;

use crate::guide::ledger::{self, Move};
use crate::guide::model::{self, Condition, Date, Guide, Hardware, Shop, Spec, Stated};
use crate::guide::names::{self, Names, Thing};
use crate::guide::prose::RefKind;
use crate::guide::tally::{self, TorqueUse};
use crate::guide::tightening;
use crate::guide::verb::Verb;
use crate::publish::conditions;
use crate::publish::drawn;
use crate::publish::html::{self, Context, Printed};
use crate::publish::page_data as page;
use crate::publish::photo::Published;
use crate::quantity;

/// What is known of a guide beside its model.
pub struct Facts<'p> {
    /// Its pictures as published.
    pub pictures: &'p BTreeMap<String, Published>,
    /// Its fingerprint.
    pub fingerprint: String,
    /// Whether it is published although it is held.
    pub draft: bool,
}

/// The data of a guide's pages.
pub fn page(guide: &Guide<'_>, shop: &Shop, facts: &Facts<'_>) -> page::Guide {
    let names = Names::new(guide, shop);
    let (printed, shown) = (Printed::default(), Cell::new(false));
    let context = Context { guide, shop, names, pictures: facts.pictures, callouts: &[], shown: &shown, printed: &printed };
    let maker = Maker { guide, shop, names, context, moves: ledger::moves(guide, shop) };
    // In the order of the page, so that its first picture is known.
    let intro_html = html::prose(&guide.intro, context);
    let mut phases = Vec::with_capacity(guide.phases.len());
    for phase in &guide.phases {
        phases.push(page::Phase {
            title: phase.title.as_ref().map(|title| title.value.clone()),
            html: html::prose(&phase.prose, maker.context),
            steps: phase.steps.clone().map(|at| maker.step(at)).collect(),
        });
    }
    // The table repeats what the operations say, in the same order; its drawings need ids of their own.
    let told = phases.iter().flat_map(|phase: &page::Phase| &phase.steps).flat_map(|step| &step.operations);
    let told = told.filter_map(|operation| operation.torque.as_ref());
    let row = |(at, (used, torque)): (usize, (&TorqueUse<'_>, &page::Torque))| {
        let mut row = maker.torque_row(used, page::Torque { order_svg: None, ..torque.clone() });
        maker.draw_order(used.operation, &mut row.torque, &format!("t{}", at + 1));
        row
    };
    let torques = tally::torque_uses(guide, shop).iter().zip(told).enumerate().map(row).collect();
    page::Guide {
        line: line(guide, shop, facts.draft),
        approved: text(&guide.approved),
        fingerprint: facts.fingerprint.clone(),
        hours_iso: guide.hours.as_ref().and_then(|hours| hours.value.quantity.as_ref()).map(quantity::duration_iso),
        not_for: guide.not_for.iter().map(|text| text.value.clone()).collect(),
        before_html: maker.lines(&guide.before),
        cautions: guide.caution_refs.iter().filter_map(|id| names.caution(&id.value)).map(|caution| maker.caution(caution)).collect(),
        tools: maker.tools(),
        parts: maker.parts(),
        kit_hardware: maker.kit_hardware(),
        vehicle_hardware: maker.vehicle_hardware(),
        choices: conditions::choices(guide),
        accounts: maker.accounts(),
        intro_html,
        phases,
        torques,
        final_checks_html: maker.lines(&guide.final_checks),
        follow_up_html: maker.follow_up(),
        circuits: maker.circuits(),
        changes: guide
            .changes
            .iter()
            .map(|change| page::Change {
                revision: change.revision.value.clone(),
                issued: change.issued.map(|date| date_words(date.value)),
                what: change.what.value.clone(),
            })
            .collect(),
        sources: maker.sources(),
        sheets: Vec::new(),
        photo: photo(guide, facts.pictures),
    }
}

/// The first photo of the guide.
fn photo(guide: &Guide<'_>, pictures: &BTreeMap<String, Published>) -> Option<page::Photo> {
    let shown = guide.words().flat_map(|prose| &prose.pictures);
    let mut photos = shown.filter_map(|shown| Some((shown, pictures.get(&shown.source.value)?)));
    let (shown, picture) = photos.find(|(_, picture)| !picture.is_drawing())?;
    let (file, width, height) = picture.largest();
    Some(page::Photo { file: file.to_owned(), width, height, words: shown.words.clone() })
}

/// The line that lists show.
fn line(guide: &Guide<'_>, shop: &Shop, draft: bool) -> page::GuideLine {
    page::GuideLine {
        slug: guide.slug.clone(),
        title: guide.title.as_ref().map_or_else(|| guide.slug.clone(), |title| title.value.clone()),
        document: text(&guide.document),
        revision: text(&guide.revision),
        issued: guide.issued.map(|date| date_words(date.value)),
        issued_iso: guide.issued.map(|date| date.value.to_string()),
        system: text(&guide.system).unwrap_or_else(|| "Other".to_owned()),
        summary: text(&guide.summary),
        fits: guide
            .fits
            .iter()
            .filter_map(|id| shop.shared.vehicles.get(&id.value))
            .map(|vehicle| page::Vehicle { id: vehicle.id.value.clone(), name: vehicle_name(vehicle) })
            .collect(),
        hours: guide.hours.as_ref().map(|hours| duration(&hours.value)),
        steps: guide.steps.len(),
        draft,
    }
}

/// A vehicle's name with its years.
pub fn vehicle_name(vehicle: &model::Vehicle) -> String {
    match &vehicle.years {
        Some(years) => format!("{}, {}", vehicle.name.value, years.value),
        None => vehicle.name.value.clone(),
    }
}

fn text(text: &Option<model::Text>) -> Option<String> {
    text.as_ref().map(|text| text.value.clone())
}

/// A date in words: `14 Sep 2026`.
pub fn date_words(date: Date) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    format!("{} {} {}", date.day, MONTHS.get(usize::from(date.month).wrapping_sub(1)).unwrap_or(&"?"), date.year)
}

/// A duration in words that break between its ends only: `2 h 30 min to 3 h`.
fn duration(stated: &Stated) -> String {
    let words = stated.quantity.as_ref().map_or_else(|| stated.text.clone(), quantity::duration_words);
    let ends: Vec<String> = words.split(" to ").map(|end| end.replace(' ', "\u{a0}")).collect();
    ends.join(" to ")
}

/// A time in seconds.
fn seconds(stated: &Stated) -> Option<String> {
    let (low, high) = stated.quantity.as_ref()?.base_bounds();
    decimal(high.or(low)?)
}

struct Maker<'g, 's> {
    guide: &'g Guide<'s>,
    shop: &'g Shop,
    names: Names<'g>,
    context: Context<'g, 's>,
    moves: Vec<Move<'g>>,
}

impl<'g> Maker<'g, '_> {
    fn lines(&self, lines: &[model::Text]) -> Vec<String> {
        lines.iter().map(|line| html::line(&line.value, self.shop)).collect()
    }

    fn when(&self, condition: &Condition) -> Option<String> {
        let terms: Vec<String> = condition
            .0
            .iter()
            .map(|term| {
                let name = self.guide.own.options.get(&term.option.value).map_or(term.option.as_str(), |option| option.name.as_str());
                format!("{} {}", if term.absent { "without" } else { "with" }, lower_first(name))
            })
            .collect();
        (!terms.is_empty()).then(|| format!("only {}", terms.join(", ")))
    }

    fn value(&self, stated: &Stated) -> page::Value {
        match &stated.quantity {
            Some(quantity) => self.context.printed.value(quantity, self.shop),
            None => plain_value(&stated.text),
        }
    }

    fn caution(&self, caution: &model::Caution) -> page::Caution {
        let rest: Vec<String> =
            [&caution.result, &caution.avoid].into_iter().flatten().map(|part| html::line(&part.value, self.shop)).collect();
        page::Caution {
            signal: caution.signal.value.key(),
            word: caution.signal.value.key().to_uppercase(),
            hazard_html: html::line(&caution.hazard.value, self.shop),
            rest_html: rest.join(" "),
            when: self.when(&caution.when),
            terms: conditions::terms(&caution.when),
        }
    }

    fn step(&self, at: usize) -> page::Step {
        let step = &self.guide.steps[at];
        let by_id = step.caution_refs.iter().filter_map(|id| self.names.caution(&id.value));
        let mut cautions: Vec<&model::Caution> = by_id.chain(&step.cautions).collect();
        cautions.sort_by_key(|caution| caution.signal.value);
        let operations: Vec<page::Operation> = step
            .operations
            .iter()
            .enumerate()
            .map(|(number, operation)| {
                let mut made = self.operation(operation);
                made.id = format!("{}/{}", step.id.value, number + 1);
                made.moves = self.moves_of(at, number);
                let prefix = format!("o{}-{}", at + 1, number + 1);
                if let Some(torque) = &mut made.torque {
                    self.draw_order(operation, torque, &prefix);
                }
                made.loosening_svg = self.loosening(operation, &prefix);
                made
            })
            .collect();
        page::Step {
            number: at + 1,
            id: step.id.value.clone(),
            title: step.title.value.clone(),
            html: html::prose(&step.prose, Context { callouts: &step.callouts, ..self.context }),
            called: self.called(step),
            cautions: cautions.into_iter().map(|caution| self.caution(caution)).collect(),
            faces: self.faces(step, at),
            operations,
            specs: step.specs.iter().filter_map(|id| self.names.spec(&id.value)).map(|spec| self.named(spec)).collect(),
            wait: step.wait.as_ref().map(|wait| duration(&wait.value)),
            wait_seconds: step.wait.as_ref().and_then(|wait| seconds(&wait.value)),
            minutes: step.minutes.map(|minutes| tally::minutes_words(u64::from(minutes.value))),
            minutes_number: step
                .minutes
                .and_then(|minutes| quantity::Exact::fraction(i128::from(minutes.value), 1000))
                .map(|minutes| minutes.to_string()),
            minutes_iso: step
                .minutes
                .and_then(|minutes| quantity::Exact::fraction(i128::from(minutes.value), 1000))
                .map(quantity::duration_iso_minutes),
            tools: step.tools.iter().filter_map(|id| self.names.tool(&id.value)).map(|tool| tool.name.value.clone()).collect(),
            checks_html: self.lines(&step.checks),
            hold_point: text(&step.hold_point),
            when: self.when(&step.when),
            terms: conditions::terms(&step.when),
            needs: step
                .needs
                .iter()
                .filter_map(|id| names::step(self.guide, &id.value))
                .map(|(at, step)| page::StepLink { id: step.id.value.clone(), number: at + 1 })
                .collect(),
        }
    }

    /// The pictures with callouts, as the checklist prints them.
    fn called(&self, step: &model::Step<'_>) -> Vec<page::Called> {
        let context = Context { callouts: &step.callouts, ..self.context };
        let mut made: Vec<(&str, page::Called)> = Vec::new();
        for shown in &step.prose.pictures {
            let address = shown.source.as_str();
            let list_html = html::callout_list(address, context);
            if let Some(picture) = self.context.pictures.get(address)
                && !list_html.is_empty()
                && made.iter().all(|(known, _)| *known != address)
            {
                let image = picture.for_paper(&html::escape(&shown.words));
                made.push((
                    address,
                    page::Called { picture_html: html::with_balloons(image, address, picture, &step.callouts), list_html },
                ));
            }
        }
        made.into_iter().map(|(_, called)| called).collect()
    }

    fn named(&self, spec: &Spec) -> page::NamedValue {
        let of = spec.of.as_ref().and_then(|of| self.names.thing(&of.value)).map(|thing| thing.name().to_owned());
        let name = text(&spec.name).or(of).unwrap_or_else(|| words_of(&spec.id.value));
        let value = match (&spec.value, &spec.designation) {
            (Some(stated), _) => self.value(&stated.value),
            (None, Some(designation)) => plain_value(&designation.value),
            (None, None) => plain_value("–"),
        };
        page::NamedValue {
            name,
            value,
            source: spec.source.as_ref().map(|source| self.names.source_words(&source.value)),
            reads: Vec::new(),
        }
    }

    /// A value that is measured, with what may be read off for it.
    fn measured(&self, spec: &Spec) -> page::NamedValue {
        let quantity = spec.value.as_ref().and_then(|stated| stated.value.quantity.as_ref());
        let reads = quantity.map(quantity::readings).unwrap_or_default();
        page::NamedValue { reads: reads.into_iter().map(reads_of).collect(), ..self.named(spec) }
    }

    fn operation(&self, operation: &model::Operation) -> page::Operation {
        // `tighten = "seat-bolt", hardware = "4 x seat-bolt"` would name the bolts twice.
        let count = operation.count.map_or(1, |count| count.value);
        let things: Vec<String> = operation
            .targets
            .iter()
            .filter(|id| !operation.hardware.iter().any(|count| count.id.value == id.value))
            .map(|id| self.names.thing(&id.value).map_or(id.as_str(), |thing| thing.name()))
            .map(|name| if count > 1 { format!("{count} × {name}") } else { name.to_owned() })
            .collect();
        let hardware = operation.hardware.iter().map(|count| match self.names.hardware(&count.id.value) {
            Some(hardware) => format!("{} × {}", count.count, hardware_words(hardware, true)),
            None => format!("{} × {}", count.count, count.id.value),
        });
        let mut how = Vec::new();
        for (holds, words) in [
            (operation.by_hand, "by hand, tightened later"),
            (operation.keep, "keep the part"),
            (operation.discard_hardware, "throw the fasteners away"),
        ] {
            if holds {
                how.push(words.to_owned());
            }
        }
        how.extend(text(&operation.note));
        page::Operation {
            id: String::new(),
            moves: String::new(),
            verb: operation.verb.word(),
            things: things.join(", "),
            hardware: hardware.collect(),
            how,
            torque: self.torque(operation),
            specs: operation
                .specs
                .iter()
                .filter_map(|id| self.names.spec(&id.value))
                .map(|spec| if operation.verb.reads_off() { self.measured(spec) } else { self.named(spec) })
                .collect(),
            tools: operation
                .with
                .iter()
                .filter_map(|id| self.names.tool(&id.value))
                .filter(|tool| tool.range.is_none() || operation.torque.is_none())
                .map(|tool| tool.name.value.clone())
                .collect(),
            loosening_svg: None,
            undo_passes: operation.loosen_stages.iter().map(|pass| pass.value.clone()).collect(),
            undo_passes_html: operation.loosen_stages.iter().map(|pass| html::line(&pass.value, self.shop)).collect(),
            undo_count: tally::hardware_of(operation, self.names).iter().map(|(count, _)| count).sum(),
            when: self.when(&operation.when),
            terms: conditions::terms(&operation.when),
        }
    }

    fn torque(&self, operation: &model::Operation) -> Option<page::Torque> {
        let (stated, spec) = tally::torque_of(operation, self.names)?;
        let (low, high) = stated.quantity.as_ref().map_or((None, None), quantity::accepted);
        let source = match spec {
            Some(spec) => spec.source.as_ref(),
            None => operation.source.as_ref(),
        };
        let stages: Vec<String> = spec.map(|spec| self.passes(operation, stated, spec)).unwrap_or_default();
        let stages = if stages.is_empty() {
            stated.quantity.as_ref().and_then(|quantity| self.torque_and_turn(quantity)).unwrap_or_default()
        } else {
            stages
        };
        let reads = stated.quantity.as_ref().map(quantity::readings).unwrap_or_default();
        let setting = self.setting(operation, stated);
        Some(page::Torque {
            value: self.value(stated),
            reads: reads.into_iter().map(reads_of).collect(),
            low: low.and_then(decimal),
            high: high.and_then(decimal),
            source: source.map(|source| self.names.source_words(&source.value)),
            pattern: spec.and_then(|spec| text(&spec.pattern)).map(|pattern| pattern_words(&pattern)),
            stages: (!stages.is_empty()).then(|| stages.join(", then ")),
            passes_html: stages.iter().map(|pass| html::line(pass, self.shop)).collect(),
            passes: if stages.is_empty() { vec![String::new()] } else { stages },
            condition: spec.and_then(condition_words),
            wrench: self.wrench(operation, stated).map(|tool| tool.name.value.clone()),
            setting_html: setting.as_ref().map(|setting| html::line(setting, self.shop)),
            setting,
            order_svg: None,
            count: tightening::count_of(operation, self.names),
            note: spec.and_then(|spec| text(&spec.note)),
        })
    }

    fn wrench(&self, operation: &'g model::Operation, stated: &Stated) -> Option<&'g model::Tool> {
        tightening::wrench_of(self.guide, operation, stated.quantity.as_ref()?, self.names)
    }

    /// What the wrench is set to where an adapter lengthens it. Rounded to whole digits of the wrench's scale.
    fn setting(&self, operation: &'g model::Operation, stated: &Stated) -> Option<String> {
        let torque = stated.quantity.as_ref()?;
        let adapted = tightening::adapter_of(operation, self.wrench(operation, stated), self.names)?;
        let (low, high) = tightening::setting(adapted.adapter?, torque).ok()?;
        let value = self.worked_out(torque, (low, high));
        let angle = match adapted.adapter?.angle {
            0.0 => "straight out".to_owned(),
            90.0 => "square to the wrench".to_owned(),
            angle => format!("at {angle}° to the wrench"),
        };
        Some(format!("set to {value} with {}, {angle}", lower_first(&adapted.tool.name.value)))
    }

    /// The two passes of a torque that ends in a turn: whoever takes over must see which bolts were turned already.
    fn torque_and_turn(&self, quantity: &quantity::Quantity) -> Option<Vec<String>> {
        let angle = quantity.angle.clone()?;
        let torque = self.without_turn(quantity);
        let turn = quantity::Quantity { dimension: quantity::Dimension::Angle, statements: vec![angle], angle: None };
        Some(vec![torque, format!("turn by {}", html::value(&turn, self.shop).first)])
    }

    /// A torque as it is printed, without the turn that ends it.
    fn without_turn(&self, torque: &quantity::Quantity) -> String {
        let printed = html::value(&quantity::Quantity { angle: None, ..torque.clone() }, self.shop);
        match printed.second {
            Some(second) => format!("{} ({second})", printed.first),
            None => printed.first,
        }
    }

    /// A torque that was worked out for another one, from one end to the other in newton-metres, in the units that the other is printed
    /// in: a wrench has one scale for all passes.
    fn worked_out(&self, of: &quantity::Quantity, (low, high): (f64, f64)) -> String {
        let mut units: Vec<&quantity::Unit> = quantity::readings(of).into_iter().map(|(unit, ..)| unit).collect();
        units.sort_by_key(|unit| (unit.system == quantity::System::Imperial) != self.shop.imperial_first);
        let written = units.into_iter().map(|unit| {
            let factor = unit.factor.numerator() as f64 / unit.factor.denominator() as f64;
            let shown = |value: f64| if self.shop.language == "de" { digits(value).replace('.', ",") } else { digits(value) };
            let (low, high) = (shown(low / factor), shown(high / factor));
            if low == high { format!("{low} {}", unit.symbol) } else { format!("{low} to {high} {}", unit.symbol) }
        });
        let written: Vec<String> = written.collect();
        match written.as_slice() {
            [first, second] => format!("{first} ({second})"),
            other => other.concat(),
        }
    }

    /// The passes, each with the torque it comes to, or with what the wrench is set to for it.
    fn passes(&self, operation: &'g model::Operation, stated: &Stated, spec: &Spec) -> Vec<String> {
        let adapter = tightening::adapter_of(operation, self.wrench(operation, stated), self.names).and_then(|adapted| adapted.adapter);
        let torques = tightening::pass_torques(spec, self.shop);
        // The whole torque is told as it stands in the source, and not as one of its units was reckoned from the other.
        let whole = |stage: &str| adapter.is_none() && stage.trim().strip_suffix('%').is_some_and(|share| share.trim() == "100");
        let words = |(at, stage): (usize, &model::Text)| {
            let torque = torques.get(at).copied().flatten().filter(|_| stage.value.contains('%'));
            let set = torque.and_then(|torque| adapter.map_or(Some(torque), |adapter| adapter.setting(torque).ok()));
            match (set, &stated.quantity) {
                (Some(_), Some(torque)) if whole(&stage.value) => format!("{}, {}", stage.value, self.without_turn(torque)),
                (Some(set), Some(torque)) => {
                    let how = if adapter.is_some() { "set to " } else { "" };
                    format!("{}, {how}{}", stage.value, self.worked_out(torque, (set, set)))
                }
                _ => stage.value.clone(),
            }
        };
        spec.stages.iter().enumerate().map(words).collect()
    }

    /// Draws the order of a tightening. The numbers drawn are the order, as are those of the boxes on the checklist.
    fn draw_order(&self, operation: &model::Operation, torque: &mut page::Torque, prefix: &str) {
        let Some((_, Some(spec))) = tally::torque_of(operation, self.names) else { return };
        let count = tightening::count_of(operation, self.names);
        if let Some(Ok(order)) = tightening::order_of(spec, count) {
            let title = format!("Order of tightening, {count} fasteners");
            torque.order_svg = Some(drawn::tightening(spec, &order, &title, prefix));
        }
    }

    /// The order of undoing, where the operation asks for it.
    fn loosening(&self, operation: &model::Operation, prefix: &str) -> Option<String> {
        let spec = self.names.spec(&operation.loosen_as.as_ref()?.value)?;
        let order = tightening::undo_order(operation, self.names)?;
        let title = format!("Order of undoing, {} fasteners", order.positions().len());
        Some(drawn::loosening(spec, &order, &title, prefix))
    }

    /// Faces of the connectors that a step works on or speaks of.
    fn faces(&self, step: &model::Step<'_>, at: usize) -> Vec<page::Face> {
        let worked = step.operations.iter().flat_map(|operation| &operation.targets);
        let told = step.prose.references.iter().filter(|reference| reference.kind == RefKind::Connector).map(|reference| &reference.id);
        let mut ids: Vec<&str> = worked.chain(told).map(|id| id.as_str()).collect();
        let mut seen = Vec::new();
        ids.retain(|id| {
            let new = !seen.contains(id);
            seen.push(*id);
            new
        });
        let items = ids.into_iter().filter_map(|id| self.names.item(id));
        items
            .enumerate()
            .filter_map(|(number, item)| {
                let svg = drawn::connector(item, &format!("f{}-{}", at + 1, number + 1))?;
                Some(page::Face { name: item.name.value.clone(), svg })
            })
            .collect()
    }

    fn circuits(&self) -> Vec<page::Circuit> {
        let rows = self.guide.own.circuits.rows.iter();
        rows.map(|circuit| page::Circuit {
            name: circuit.name.value.clone(),
            wire: circuit.wire.value.clone(),
            current: self.value(&circuit.current.value),
            length: circuit.length.as_ref().map(|length| self.value(&length.value)),
            fuse: circuit.fuse.as_ref().map(|fuse| self.value(&fuse.value)),
            source: circuit.source.as_ref().map(|source| self.names.source_words(&source.value)),
        })
        .collect()
    }

    /// What an operation opens and closes, as the script of the page reads it.
    fn moves_of(&self, step: usize, operation: usize) -> String {
        let here = self.moves.iter().filter(|moved| moved.step == step && moved.operation == operation);
        let words: Vec<String> = here
            .map(|moved| {
                let count = if moved.count > 1 { format!("*{}", moved.count) } else { String::new() };
                format!("{}{}/{}{count}", if moved.opens { '+' } else { '-' }, moved.way.key(), moved.thing)
            })
            .collect();
        words.join(" ")
    }

    /// Things that are opened and closed again: what is opened for good is no work left over.
    fn accounts(&self) -> Vec<page::OpenThing> {
        let mut things: Vec<page::OpenThing> = Vec::new();
        for (at, moved) in self.moves.iter().enumerate().filter(|(_, moved)| moved.opens) {
            let account = format!("{}/{}", moved.way.key(), moved.thing);
            let closed = self.moves[at + 1..].iter().any(|later| !later.opens && later.way == moved.way && later.thing == moved.thing);
            let Some(thing) = self.names.thing(moved.thing).filter(|_| closed && things.iter().all(|known| known.account != account))
            else {
                continue;
            };
            let connector = matches!(thing, Thing::Item(item) if item.connector);
            let state = if connector && moved.way == Verb::Disconnect { "unplugged" } else { moved.way.done() };
            // Bolts that were started by hand were never loosened.
            let state = if moved.way == Verb::Loosen { "loose" } else { state };
            things.push(page::OpenThing { account, name: thing.name().to_owned(), state, connector });
        }
        things
    }

    /// The fasteners that are tightened, and how many.
    fn tightened(used: &TorqueUse<'g>) -> Vec<(u32, &'g Hardware)> {
        used.hardware.iter().copied().filter(|(_, hardware)| hardware.takes_torque()).collect()
    }

    /// What is tightened, in words: `4 × Flange bolt`.
    fn fastener(&self, used: &TorqueUse<'g>) -> String {
        let tightened = Self::tightened(used);
        let names: Vec<String> = if tightened.is_empty() {
            let things = used.operation.targets.iter();
            things.map(|id| self.names.thing(&id.value).map_or(id.value.clone(), |thing| thing.name().to_owned())).collect()
        } else {
            tightened.iter().map(|(count, hardware)| format!("{count} × {}", hardware.name.value)).collect()
        };
        names.join("; ")
    }

    fn torque_row(&self, used: &TorqueUse<'g>, torque: page::Torque) -> page::TorqueRow {
        let step = &self.guide.steps[used.step];
        let tightened = Self::tightened(used);
        let join = |words: Vec<String>| words.join("; ");
        let fasteners: Vec<&str> = tightened.iter().map(|(_, hardware)| hardware.id.as_str()).collect();
        let held = used.operation.targets.iter().map(|id| self.names.meant(&id.value)).filter(|id| !fasteners.contains(id));
        let held = held.filter(|_| !tightened.is_empty()).filter_map(|id| self.names.thing(id)).map(|thing| thing.name().to_owned());
        let place: Vec<String> = held.chain(text(&used.operation.note)).collect();
        page::TorqueRow {
            place: (!place.is_empty()).then(|| place.join(", ")),
            number: used.step + 1,
            step: step.id.value.clone(),
            title: step.title.value.clone(),
            fastener: self.fastener(used),
            threads: tightened.iter().filter_map(|(_, hardware)| text(&hardware.thread)).collect(),
            thread: join(tightened.iter().map(|(_, hardware)| thread_words(hardware)).filter(|words| !words.is_empty()).collect()),
            drive: join(tightened.iter().filter_map(|(_, hardware)| text(&hardware.drive)).collect()),
            torque,
            when: self.when(&both(&step.when, &used.operation.when)),
            terms: conditions::all(&[&step.when, &used.operation.when]),
        }
    }

    /// The guide's own papers, and those of the shop that a value of the guide comes from.
    fn sources(&self) -> Vec<String> {
        let mut sources: Vec<String> = self.guide.own.sources.rows.iter().map(|(_, name)| name.value.clone()).collect();
        let shown = self.guide.operations().flat_map(|(_, operation)| {
            let torque = tally::torque_of(operation, self.names).and_then(|(_, spec)| spec);
            operation.specs.iter().filter_map(|id| self.names.spec(&id.value)).chain(torque)
        });
        let in_words = self.guide.words().flat_map(|prose| &prose.references).filter_map(|reference| self.names.spec(&reference.id.value));
        let in_steps = self.guide.steps.iter().flat_map(|step| &step.specs).filter_map(|id| self.names.spec(&id.value));
        for spec in shown.chain(in_steps).chain(in_words) {
            let name = spec.source.as_ref().and_then(|source| self.names.source(names::split_source(&source.value).0));
            if let Some(name) = name.filter(|name| !sources.iter().any(|known| known == name)) {
                sources.push(name.to_owned());
            }
        }
        sources
    }

    /// What is due later: the author's words, then the torques that are checked again.
    fn follow_up(&self) -> Vec<String> {
        let mut lines = self.lines(&self.guide.follow_up);
        let mut told: Vec<*const Spec> = Vec::new();
        for used in tally::torque_uses(self.guide, self.shop) {
            let Some((spec, retorque)) = used.spec.and_then(|spec| Some((spec, spec.retorque.as_ref()?))) else { continue };
            if told.contains(&std::ptr::from_ref(spec)) {
                continue;
            }
            told.push(spec);
            let value = self.value(used.value).html;
            let words =
                format!("Check the torque again {}: {}", html::line(&retorque.value, self.shop), html::escape(&self.fastener(&used)));
            lines.push(match self.when(&both(&self.guide.steps[used.step].when, &used.operation.when)) {
                Some(when) => format!("{words}, {value}, {}", html::escape(&when)),
                None => format!("{words}, {value}"),
            });
        }
        lines
    }
}

/// A torque or setting in newton-metres with as many digits as a scale shows.
fn digits(value: f64) -> String {
    if value < 20.0 { format!("{value:.1}") } else { format!("{value:.0}") }
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

/// The fastener in words: name, thread, class, and the drive where asked for.
pub(super) fn hardware_words(hardware: &Hardware, with_drive: bool) -> String {
    let thread = thread_words(hardware);
    let mut words = if thread.is_empty() { hardware.name.value.clone() } else { format!("{} {thread}", hardware.name.value) };
    if let (Some(drive), true) = (&hardware.drive, with_drive) {
        words.push_str(&format!(" ({})", drive.value));
    }
    words
}

/// Thread, length and class in the usual order: `M8 × 1.25 × 25, 10.9`.
fn thread_words(hardware: &Hardware) -> String {
    let mut words = hardware.thread.as_ref().map_or_else(String::new, |thread| thread.value.replace('x', "\u{a0}×\u{a0}"));
    if let Some(length) = &hardware.length {
        let millimetres = length.value.text.strip_suffix("mm").map(str::trim);
        match (millimetres, words.is_empty()) {
            (Some(number), false) => words.push_str(&format!("\u{a0}×\u{a0}{number}")),
            (_, true) => words.push_str(&length.value.text),
            (None, false) => words.push_str(&format!(", {}", length.value.text)),
        }
    }
    if let Some(class) = &hardware.class {
        // A nut's class is a bare number, which nobody would take for one.
        let class = if class.value.bytes().all(|b| b.is_ascii_digit()) { format!("class {}", class.value) } else { class.value.clone() };
        words.push_str(&format!("{}{}", if words.is_empty() { "" } else { ", " }, class));
    }
    words
}

/// Both conditions.
fn both(first: &Condition, second: &Condition) -> Condition {
    Condition(first.0.iter().chain(&second.0).cloned().collect())
}

/// A value in its base unit as a decimal of up to six places.
fn reads_of((unit, low, high): quantity::ReadOff) -> page::Reads {
    page::Reads { unit: unit.symbol, low: low.and_then(decimal), high: high.and_then(decimal) }
}

fn decimal(value: quantity::Exact) -> Option<String> {
    let millionths = value.rounded(6, quantity::Rounding::Nearest)?;
    quantity::Exact::from_decimal(millionths, 6).map(|value| value.to_string())
}

fn plain_value(text: &str) -> page::Value {
    page::Value {
        first: text.to_owned(),
        second: None,
        html: format!("<span class=\"val\"><b class=\"m\">{}</b></span>", html::escape(text)),
    }
}

fn pattern_words(pattern: &str) -> String {
    match pattern {
        "circle" => "round the circle, crosswise".to_owned(),
        "rectangle" => "from the middle outwards".to_owned(),
        "in-order" => "in the order of the step".to_owned(),
        other => other.to_owned(),
    }
}

fn words_of(id: &str) -> String {
    id.replace('-', " ")
}

/// A name in the middle of a sentence; abbreviations keep their capitals.
fn lower_first(name: &str) -> String {
    let mut chars = name.chars();
    match (chars.next(), chars.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().collect::<String>() + &name[first.len_utf8()..],
        _ => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_and_names_are_written_as_people_do() {
        let date = Date { year: 2026, month: 9, day: 14 };
        assert_eq!((date_words(date).as_str(), date.to_string().as_str()), ("14 Sep 2026", "2026-09-14"));
        assert_eq!(lower_first("Heated seat"), "heated seat");
        assert_eq!(lower_first("LED lamp"), "LED lamp");
    }
}
