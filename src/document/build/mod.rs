//! From the model of a guide to its document: ids looked up, orders, passes and settings worked out, words taken apart. Counting is left
//! to `guide::tally`, what an operation opens to `guide::ledger`.

mod kit;
mod prose;
mod sentences;
mod torque;
mod untold_facts;

use std::cell::RefCell;

use foldhash::HashMap;

use super::facts::Hashes;
use super::fingerprint;
use super::how::How;
use super::open::{Account, AccountId, Move};
use super::value::{BLANK, Told, Value, Ways};
use super::when::{self, When};
use super::words::{Line, Picture, pictures};
use super::{
    Bounds, Caution, Change, Circuit, Connector, Departure, Document, Fasteners, Head, NamedValue, Onto, Operation, Phase, Standing, Step,
    StepLink, Target, ToolUse, Vehicle, vehicles,
};
use crate::guide::ledger;
use crate::guide::model::{self, Guide, Shop, Spec, Stated};
use crate::guide::names::{self, Names, Thing};
use crate::guide::picture::{PictureKind, Pictures};
use crate::guide::prose::RefKind;
use crate::guide::standing;
use crate::guide::states;
use crate::guide::tally;
use crate::guide::untold;
use crate::quantity::{self, Exact, Quantity};
use crate::source::Spanned;

/// What comes in for one guide beside its model.
pub struct Input<'i> {
    /// What is known of its pictures.
    pub pictures: &'i Pictures,
    /// The hashes of its pictures, by the address in its text.
    pub hashes: &'i Hashes,
    /// The fingerprint under which it was issued; none where it is made of what the document says.
    pub fingerprint: Option<String>,
    /// Whether it is published although it is held.
    pub draft: bool,
}

/// The document of a guide.
pub fn document(guide: &Guide<'_>, shop: &Shop, input: &Input<'_>) -> Document {
    let maker = Maker {
        guide,
        names: Names::new(guide, shop),
        shop,
        ways: Ways::of(shop),
        pictures: input.pictures,
        moves: ledger::moves(guide, shop),
        moved: tally::Moved::new(guide, Names::new(guide, shop)),
        uses: kit::Uses::new(guide, Names::new(guide, shop)),
        owed: tally::untorqued(guide, Names::new(guide, shop)).into_iter().map(|(_, operation, _)| operation).collect(),
        standing: standing::standing(guide, Names::new(guide, shop)),
        values: RefCell::default(),
    };
    let intro = maker.prose(&guide.intro, &[], &[]);
    let phases: Vec<Phase> = guide
        .phases
        .iter()
        .map(|phase| Phase {
            title: phase.title.as_ref().map(|title| title.value.clone()),
            words: maker.prose(&phase.prose, &[], &[]),
            steps: phase.steps.clone().map(|at| maker.step(at)).collect(),
        })
        .collect();
    let in_phases = phases.iter().flat_map(|phase| {
        let of_steps = phase.steps.iter().flat_map(|step| pictures(&step.words));
        pictures(&phase.words).into_iter().chain(of_steps).collect::<Vec<_>>()
    });
    let is_photo = |picture: &&Picture| picture.fact.is_some_and(|fact| fact.kind == PictureKind::Raster);
    let photo = pictures(&intro).into_iter().chain(in_phases).find(is_photo).cloned();
    let mut document = Document {
        say: shop.language.phrases(),
        head: maker.head(input.draft),
        approved: text(&guide.approved),
        fingerprint: String::new(),
        also: guide.also.iter().map(|text| text.value.clone()).collect(),
        not_for: guide.not_for.iter().map(|text| text.value.clone()).collect(),
        before: maker.lines(&guide.before),
        cautions: maker.cautions(&guide.caution_refs, &[]),
        tools: maker.tools(),
        wrenches: maker.wrenches(),
        parts: maker.parts(),
        kit_hardware: maker.kit_hardware(),
        vehicle_hardware: maker.vehicle_hardware(),
        consumables: maker.consumables(),
        ready: maker.lines(&guide.ready),
        choices: when::choices(guide),
        accounts: maker.accounts(),
        torques: maker.torque_rows(&phases),
        intro,
        phases,
        final_checks: maker.lines(&guide.final_checks),
        follow_up: maker.follow_up(),
        circuits: maker.circuits(),
        changes: guide
            .changes
            .iter()
            .map(|change| Change {
                revision: change.revision.value.clone(),
                issued: change.issued.map(|date| date.value),
                what: change.what.value.clone(),
                anew: change.anew,
            })
            .collect(),
        since: None,
        sources: maker.sources(),
        video: guide.video.as_ref().map(|video| match video.value.contains("://") {
            true => crate::document::Video::Address(video.value.clone()),
            false => crate::document::Video::File(video.value.clone()),
        }),
        questions: maker.questions(),
        photo,
    };
    document.fingerprint = input.fingerprint.clone().unwrap_or_else(|| fingerprint::of(&document, input.hashes));
    document
}

/// Why there is a blank, where the guide does not say who could fill it.
const UNTOLD: &str = "not known yet";

struct Maker<'g, 's> {
    guide: &'g Guide<'s>,
    shop: &'g Shop,
    names: Names<'g>,
    ways: Ways,
    pictures: &'g Pictures,
    moves: Vec<ledger::Move<'g>>,
    standing: Vec<standing::Standing<'g>>,
    /// Operations whose torque nobody has told.
    owed: Vec<&'g model::Operation>,
    /// What goes on and comes off.
    moved: tally::Moved<'g>,
    /// Who uses what.
    uses: kit::Uses<'g>,
    /// Values made already: a spec is told in many places, and all of them share one spelling.
    values: RefCell<HashMap<*const Quantity, Value>>,
}

impl<'g> Maker<'g, '_> {
    fn new_value(&self, told: Told) -> Value {
        Value::new(told, self.ways)
    }

    fn value(&self, stated: &Stated) -> Value {
        if stated.unsure {
            let told = stated.quantity.clone().map_or_else(|| Told::Words(stated.text.clone()), Told::Quantity);
            return Value::unsure(told, self.ways);
        }
        let Some(quantity) = &stated.quantity else { return self.new_value(Told::Words(stated.text.clone())) };
        let mut values = self.values.borrow_mut();
        values.entry(std::ptr::from_ref(quantity)).or_insert_with(|| self.new_value(Told::Quantity(quantity.clone()))).clone()
    }

    fn lines(&self, lines: &[model::Text]) -> Vec<Line> {
        lines.iter().map(|line| self.line(line)).collect()
    }

    fn head(&self, draft: bool) -> Head {
        let guide = self.guide;
        let vehicles = guide.fits.iter().filter_map(|id| self.names.vehicle(&id.value));
        Head {
            slug: guide.slug.clone(),
            title: guide.title.as_ref().map_or_else(|| guide.slug.clone(), |title| title.value.clone()),
            document: text(&guide.document),
            revision: text(&guide.revision),
            issued: guide.issued.map(|date| date.value),
            system: text(&guide.system).unwrap_or_else(|| "Other".to_owned()),
            summary: text(&guide.summary),
            fits: vehicles.map(|vehicle| Vehicle { id: vehicle.id.value.clone(), name: vehicles::name(vehicle) }).collect(),
            hours: guide
                .hours
                .as_ref()
                .map(|hours| self.value(&hours.value))
                .or_else(|| untold::at(guide, guide.head, "hours").map(|untold| self.blank(untold))),
            least: guide
                .steps
                .iter()
                .filter(|step| step.when.is_always())
                .filter_map(|step| step.minutes)
                .map(|minutes| u64::from(minutes.value))
                .sum(),
            untimed: guide.steps.iter().filter(|step| step.minutes.is_none()).count(),
            steps: guide.steps.len(),
            draft,
        }
    }

    fn caution(&self, caution: &model::Caution, until: Option<&model::Text>) -> Caution {
        let last = until.and_then(|until| names::last_step(self.guide, &until.value));
        Caution {
            signal: caution.signal.value,
            hazard: self.line(&caution.hazard),
            result: caution.result.as_ref().map(|line| self.line(line)),
            avoid: caution.avoid.as_ref().map(|line| self.line(line)),
            until: last.map(|(at, step)| StepLink { id: step.id.value.clone(), number: at + 1 }),
            when: When::of(&caution.when),
        }
    }

    /// Cautions by id and those of the place itself.
    fn cautions(&self, shown: &[model::CautionRef], own: &[model::Caution]) -> Vec<Caution> {
        let by_id = shown.iter().filter_map(|reference| {
            let caution = self.names.caution(&reference.id.value)?;
            Some(self.caution(caution, reference.until.as_ref().or(caution.until.as_ref())))
        });
        by_id.chain(own.iter().map(|caution| self.caution(caution, caution.until.as_ref()))).collect()
    }

    /// What was stated before a step and still holds in it, less what the step states itself.
    fn still(&self, at: usize) -> Vec<Standing> {
        let step = &self.guide.steps[at];
        let here = |one: &standing::Standing<'_>| {
            step.caution_refs.iter().any(|shown| one.caution.id.as_ref().is_some_and(|id| id.value == shown.id.value))
        };
        let held = self.standing.iter().filter(|one| one.holds_in(at) && !here(one));
        let mut held: Vec<Standing> = held
            .map(|one| {
                let always = model::Condition::default();
                let when = When::all(&[one.when.unwrap_or(&always), &one.caution.when]);
                let from = one.begins.map(|at| StepLink { id: self.guide.steps[at].id.value.clone(), number: at + 1 });
                Standing { caution: Caution { when, ..self.caution(one.caution, None) }, from }
            })
            .collect();
        held.sort_by_key(|one| one.caution.signal);
        held
    }

    fn step(&self, at: usize) -> Step {
        let step = &self.guide.steps[at];
        let mut cautions = self.cautions(&step.caution_refs, &step.cautions);
        cautions.sort_by_key(|caution| caution.signal);
        let needs = step.needs.iter().filter_map(|id| names::step(self.guide, &id.value));
        let operations: Vec<Operation> =
            step.operations.iter().enumerate().map(|(number, operation)| self.operation(at, number, operation)).collect();
        Step {
            number: at + 1,
            id: step.id.value.clone(),
            title: step.title.value.clone(),
            side: step.side.as_ref().map(|side| side.name.value.clone()),
            words: with_places(self.prose(&step.prose, &step.callouts, &operations), &operations),
            called: self.called(step),
            cautions,
            standing: self.still(at),
            departures: step.departures.iter().map(|departure| self.departure(departure)).collect(),
            connectors: self.connectors(step),
            operations,
            values: step.specs.iter().filter_map(|id| self.names.spec(&id.value)).map(|spec| self.named(spec, false)).collect(),
            wait: step.wait.as_ref().map(|wait| self.value(&wait.value)).or_else(|| {
                let table = step.block?;
                Some(self.blank(untold::at(self.guide, table, "wait")?))
            }),
            minutes: step.minutes.map(|minutes| minutes.value),
            moment: step.at.map(|at| at.value),
            tools: step.tools.iter().filter_map(|id| self.names.tool(&id.value)).map(|tool| tool_use(tool, false)).collect(),
            checks: self.lines(&step.checks),
            hold_point: text(&step.hold_point),
            when: When::of(&step.when),
            needs: needs.map(|(at, step)| StepLink { id: step.id.value.clone(), number: at + 1 }).collect(),
            span: step.span,
        }
    }

    fn departure(&self, departure: &model::Departure) -> Departure {
        let model::Departure { span: _, says, does, why, approved, source } = departure;
        Departure {
            says: self.line(says),
            does: self.line(does),
            why: self.line(why),
            approved: text(approved),
            source: source.as_ref().map(|source| self.names.source_words(&source.value)),
        }
    }

    /// The pictures with callouts, each once.
    fn called(&self, step: &model::Step<'_>) -> Vec<Picture> {
        let mut made: Vec<Picture> = Vec::new();
        for shown in &step.prose.pictures {
            let picture = self.picture(shown.source.as_str(), shown.words.clone(), &step.callouts);
            if picture.fact.is_some() && !picture.callouts.is_empty() && made.iter().all(|known| known.address != picture.address) {
                made.push(picture);
            }
        }
        made
    }

    /// A spec as it is shown; what is read off has its bounds.
    fn named(&self, spec: &Spec, read_off: bool) -> NamedValue {
        let of = spec.of.as_ref().and_then(|of| self.names.thing(&of.value)).map(|thing| thing.name().to_owned());
        let name = text(&spec.name).or(of).unwrap_or_else(|| spec.id.value.replace('-', " "));
        let value = match (&spec.value, &spec.designation) {
            (Some(stated), _) => self.value(&stated.value),
            (None, Some(designation)) => self.new_value(Told::Words(designation.value.clone())),
            (None, None) => match untold::of_spec(self.guide, self.shop, &spec.id.value) {
                Some(untold) => self.blank(untold),
                None => self.new_value(Told::Words("–".to_owned())),
            },
        };
        NamedValue {
            name,
            value,
            source: self.source_of(spec),
            bounds: spec.quantity().filter(|_| read_off).map(|quantity| bounds(quantity, None)),
        }
    }

    /// What is turned behind hand tight, in the place of a torque.
    fn hand_then(&self, operation: &model::Operation) -> Option<NamedValue> {
        let Some(model::TorqueRef::Spec(id)) = &operation.torque else { return None };
        let spec = self.names.spec(&id.value).filter(|spec| spec.hand_then)?;
        let named = self.named(spec, false);
        // A blank is a blank; a turn is told with what comes before it.
        let turn = spec.value.as_ref().map(|stated| self.new_value(Told::Words(format!("hand tight, then {}", stated.value.text))));
        Some(NamedValue { value: turn.unwrap_or(named.value), ..named })
    }

    fn operation(&self, step: usize, number: usize, operation: &model::Operation) -> Operation {
        let count = match operation.count {
            Some(count) => count.value,
            None => u32::from(untold::at(self.guide, operation.span, "count").is_none()),
        };
        let target = |id: &model::Text| {
            let thing = self.names.thing(&id.value);
            let (part_number, pins) = match thing {
                Some(Thing::Part(part)) => (text(&part.number), Vec::new()),
                Some(Thing::Item(item)) => (None, item.pins.iter().filter_map(|pin| text(&pin.what)).collect()),
                Some(Thing::Hardware(_)) | None => (None, Vec::new()),
            };
            Target {
                id: id.value.clone(),
                name: thing.map_or_else(|| id.value.clone(), |thing| thing.name().to_owned()),
                count,
                // `tighten = "seat-bolt", hardware = "4 x seat-bolt"` would name the bolts twice.
                told_as_hardware: operation.hardware.iter().any(|count| count.id.value == id.value),
                number: part_number,
                pins,
            }
        };
        let hardware = operation.hardware.iter().map(|count| match self.names.hardware(&count.id.value) {
            Some(hardware) => self.fasteners(hardware, count.count),
            None => Fasteners {
                count: count.count,
                id: count.id.value.clone(),
                name: count.id.value.clone(),
                thread: String::new(),
                designation: None,
                drive: None,
            },
        });
        let tools = operation.with.iter().filter_map(|id| self.names.tool(&id.value));
        Operation {
            id: format!("{}/{}", self.guide.steps[step].id.value, number + 1),
            told: operation.told,
            moves: self.moves_of(step, number),
            verb: operation.verb,
            targets: operation.targets.iter().map(target).collect(),
            hardware: hardware.collect(),
            how: self.how(operation),
            place: text(&operation.place),
            onto: operation.onto.as_ref().map(|id| Onto { id: id.value.clone(), name: self.name_of(id) }),
            holes: operation.holes.map(|holes| holes.value),
            pilot: self.pilot(operation),
            wait: self.wait(operation),
            torque: self.torque(operation),
            values: operation
                .specs
                .iter()
                .filter_map(|id| self.names.spec(&id.value))
                .map(|spec| self.named(spec, operation.verb.reads_off()))
                .chain(self.hand_then(operation))
                .collect(),
            tools: tools
                .map(|tool| tool_use(tool, tool.range.is_some() && operation.torque.is_some()))
                .chain(operation.with.iter().filter_map(|id| self.names.consumable(&id.value)).map(|used| ToolUse {
                    id: used.id.value.clone(),
                    name: used.name.value.clone(),
                    number: None,
                    of_torque: false,
                }))
                .collect(),
            undoing: self.undoing(operation),
            undo_passes: self.lines(&operation.loosen_stages),
            undo_count: tally::hardware_of(operation, self.names).iter().map(|(count, _)| count).sum(),
            when: When::of(&operation.when),
            span: operation.span,
        }
    }

    fn name_of(&self, id: &model::Text) -> String {
        self.names.thing(&id.value).map_or_else(|| id.value.clone(), |thing| thing.name().to_owned())
    }

    fn pilot(&self, operation: &model::Operation) -> Option<NamedValue> {
        operation.pilot.as_ref().and_then(|id| self.names.spec(&id.value)).map(|spec| self.named(spec, false))
    }

    fn wait(&self, operation: &model::Operation) -> Option<Value> {
        let told = operation.wait.as_ref().map(|wait| self.value(&wait.value));
        told.or_else(|| untold::at(self.guide, operation.span, "wait").map(|untold| self.blank(untold)))
    }

    /// How an operation is done, in the order in which it is told.
    fn how(&self, operation: &model::Operation) -> Vec<How> {
        let mut how: Vec<How> = Vec::new();
        how.extend(text(&operation.place).map(How::Place));
        how.extend(operation.holes.map(|holes| How::Holes(holes.value)));
        how.extend(self.pilot(operation).map(|pilot| How::Pilot(pilot.value.in_line())));
        how.extend(operation.onto.as_ref().map(|id| How::Onto(self.name_of(id))));
        for thing in operation.targets.iter().filter_map(|id| self.names.thing(&id.value)) {
            let (only, never) = thing.allowed();
            for (only, allowed) in only.iter().map(|one| (true, one)).chain(never.iter().map(|one| (false, one))) {
                let told = How::While { only, thing: self.name_of(&allowed.thing), state: states::state_words(allowed.state) };
                if allowed.verbs.contains(&operation.verb) && !how.contains(&told) {
                    how.push(told);
                }
            }
        }
        how.extend(How::of(operation));
        how.extend(self.wait(operation).map(|wait| How::Wait(super::phrase::duration(&wait))));
        how
    }

    /// Connectors that a step works on or speaks of, each once.
    fn connectors(&self, step: &model::Step<'_>) -> Vec<Connector> {
        let worked = step.operations.iter().flat_map(|operation| &operation.targets);
        let told = step.prose.references.iter().filter(|reference| reference.kind == RefKind::Connector).map(|reference| &reference.id);
        let mut seen: Vec<&str> = Vec::new();
        let mut connectors = Vec::new();
        for id in worked.chain(told).map(|id| id.as_str()) {
            if seen.contains(&id) {
                continue;
            }
            seen.push(id);
            connectors.extend(self.names.item(id).filter(|item| !item.pins.is_empty()).map(|item| self.connector(item)));
        }
        connectors
    }

    fn circuits(&self) -> Vec<Circuit> {
        let rows = self.guide.own.circuits.rows.iter();
        rows.map(|circuit| Circuit {
            name: circuit.name.value.clone(),
            wire: text(&circuit.wire).unwrap_or_else(|| BLANK.to_owned()),
            current: self
                .of_circuit(circuit, "current", circuit.current.as_ref())
                .unwrap_or_else(|| self.new_value(Told::Untold(UNTOLD.to_owned()))),
            length: self.of_circuit(circuit, "length", circuit.length.as_ref()),
            fuse: self.of_circuit(circuit, "fuse", circuit.fuse.as_ref()),
            fuse_note: circuit.fuse_note(),
            source: circuit.source.as_ref().map(|source| self.names.source_words(&source.value)),
            span: circuit.id.span,
        })
        .collect()
    }

    fn moves_of(&self, step: usize, operation: usize) -> Vec<Move> {
        let here = self.moves.iter().filter(|moved| moved.step == step && moved.operation == operation);
        here.map(|moved| Move {
            account: AccountId { way: moved.way, thing: moved.thing.to_owned() },
            opens: moved.opens,
            count: moved.count,
        })
        .collect()
    }

    /// Things that are opened. What is meant to stay so is no work left over; what is only never closed is exactly that.
    fn accounts(&self) -> Vec<Account> {
        let mut things: Vec<Account> = Vec::new();
        for (at, moved) in self.moves.iter().enumerate().filter(|(_, moved)| moved.opens) {
            let id = AccountId { way: moved.way, thing: moved.thing.to_owned() };
            let closed = self.moves[at + 1..].iter().any(|later| !later.opens && later.way == moved.way && later.thing == moved.thing);
            let Some(thing) = self.names.thing(moved.thing).filter(|_| things.iter().all(|known| known.id != id)) else {
                continue;
            };
            let stays = match thing {
                Thing::Item(item) => item.stays.is_some(),
                // What comes off and is nowhere named again goes with what it held, or into the bin.
                Thing::Hardware(_) => moved.way == crate::guide::verb::Verb::Remove,
                Thing::Part(_) => false,
            };
            let thrown = || {
                let discards = self.guide.operations().filter(|(_, operation)| operation.verb == crate::guide::verb::Verb::Discard);
                discards.flat_map(|(_, operation)| &operation.targets).any(|id| self.names.meant(&id.value) == moved.thing)
            };
            let accepted = || {
                let step = self.guide.steps[moved.step].span;
                self.guide.acceptances.iter().any(|acceptance| acceptance.rule.value == "left-open" && acceptance.scope.contains(step))
            };
            if !closed && (stays || thrown() || accepted()) {
                continue;
            }
            let connector = matches!(thing, Thing::Item(item) if item.connector);
            things.push(Account { id, name: thing.name().to_owned(), connector });
        }
        things
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
}

/// A sentence whose operation is done in several places tells the operation of each.
fn with_places(mut words: Vec<Spanned<super::words::Block>>, operations: &[Operation]) -> Vec<Spanned<super::words::Block>> {
    for block in &mut words {
        let super::words::Block::Told { label: _, operations: told, words: _ } = &mut block.value else { continue };
        let links: Vec<_> = operations.iter().filter(|operation| told.contains(&operation.id)).map(|operation| operation.span).collect();
        let all = operations.iter().filter(|operation| operation.told && links.contains(&operation.span));
        *told = all.map(|operation| operation.id.clone()).collect();
    }
    words
}

fn text(text: &Option<model::Text>) -> Option<String> {
    text.as_ref().map(|text| text.value.clone())
}

fn tool_use(tool: &model::Tool, of_torque: bool) -> ToolUse {
    ToolUse { id: tool.id.value.clone(), name: tool.name.value.clone(), number: text(&tool.number), of_torque }
}

/// What may be written down as a value: within a share of it, or half a unit of its last digit.
fn bounds(quantity: &Quantity, share: Option<Exact>) -> Bounds {
    let (low, high) = quantity::accepted(quantity, share);
    Bounds { reads: quantity::readings(quantity, share), low, high }
}

/// Words with their place, for what the program says itself.
fn said(words: impl Into<String>, span: crate::source::Span) -> Spanned<super::words::Inline> {
    Spanned::new(super::words::Inline::Text(words.into()), span)
}
