//! Checks that every id that a guide refers to exists, and that none hides another by accident. The
//! look-up itself is in `names`; that the thing referred to makes sense is left to the rules.

use foldhash::{HashMap, HashMapExt};

use crate::finding::{Finding, RuleName};
use crate::guide::facts::is_id;
use crate::guide::keys::Block;
use crate::guide::model::{Condition, Definitions, Guide, Operation, Shop, Spec, Text, TorqueRef, VehicleOption};
use crate::guide::names::{Names, Thing, last_step, split_source, step};
use crate::guide::prose::{Prose, RefKind};
use crate::near::nearest;
use crate::quantity::{self, Dimension};
use crate::source::{FileId, Place, Spanned};

/// Reports unknown ids and ids that stand in each other's way.
pub fn resolve(guide: &Guide<'_>, shop: &Shop) -> Vec<Finding> {
    let names = Names::new(guide, shop);
    let mut check = Check { names, shop, guide: Some(guide), file: guide.file, findings: Vec::new() };
    for id in &guide.fits {
        check.known(id, "vehicle", shop.shared.vehicles.get(&id.value).is_some(), || ids(&shop.shared.vehicles.rows, |row| &row.id));
    }
    guide.tools.iter().for_each(|id| check.tool(id));
    guide.caution_refs.iter().for_each(|reference| check.caution(&reference.id));
    check.standing(guide);
    check.definitions(&guide.own);
    check.hiding(guide, shop);
    check.prose(&guide.intro);
    for phase in &guide.phases {
        check.prose(&phase.prose);
    }
    for step in &guide.steps {
        check.condition(&step.when);
        step.tools.iter().for_each(|id| check.tool(id));
        step.caution_refs.iter().for_each(|reference| check.caution(&reference.id));
        step.specs.iter().for_each(|id| check.spec(id));
        step.needs.iter().for_each(|id| check.step(id));
        step.wait_spec.iter().for_each(|id| check.spec(id));
        for caution in &step.cautions {
            check.condition(&caution.when);
        }
        step.departures.iter().filter_map(|departure| departure.source.as_ref()).for_each(|source| check.source(source));
        for operation in &step.operations {
            operation.targets.iter().for_each(|id| check.thing(id));
            check.countable(operation);
            operation.hardware.iter().for_each(|count| check.hardware(&count.id));
            operation.specs.iter().for_each(|id| check.spec(id));
            operation.with.iter().for_each(|id| check.with(id));
            operation.wait_spec.iter().for_each(|id| check.spec(id));
            check.onto(operation);
            check.pilot(operation);
            check.condition(&operation.when);
            if let Some(TorqueRef::Spec(id)) = &operation.torque {
                check.torque(id);
            }
            if let Some(spec) = &operation.loosen_as {
                check.spec(spec);
            }
            if let Some(source) = &operation.source {
                check.source(source);
            }
        }
        check.prose(&step.prose);
    }
    // The shop file names options of guides: which of them there are is known only here.
    if let Some(file) = shop.file {
        check.file = file;
        for sheet in shop.sheets.iter().filter(|sheet| sheet.guide.value == guide.slug) {
            for id in sheet.with.iter().chain(&sheet.without) {
                let options = &guide.own.options;
                check.known(id, "option", options.get(&id.value).is_some(), || ids(&options.rows, |option| &option.id));
            }
        }
    }
    check.findings
}

/// The same for what the shop file defines.
pub fn resolve_shop(shop: &Shop) -> Vec<Finding> {
    let Some(file) = shop.file else { return Vec::new() };
    let mut check = Check { names: Names::of_shop(shop), shop, guide: None, file, findings: Vec::new() };
    check.definitions(&shop.shared);
    check.findings
}

fn with_article(word: &str) -> String {
    let article = if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {word}")
}

struct Check<'g, 's> {
    names: Names<'g>,
    shop: &'g Shop,
    guide: Option<&'g Guide<'s>>,
    file: FileId,
    findings: Vec<Finding>,
}

fn ids<'g, T>(rows: &'g [T], id: fn(&'g T) -> &'g Text) -> Vec<&'g str> {
    rows.iter().map(|row| id(row).as_str()).collect()
}

impl<'g> Check<'g, '_> {
    fn known(&mut self, id: &Text, what: &str, found: bool, candidates: impl FnOnce() -> Vec<&'g str>) {
        if found {
            return;
        }
        let near = nearest(&id.value, candidates());
        let other = self.other_kind(&id.value);
        if let Some(kind) = other.filter(|kind| !what.contains(kind)) {
            let message = format!("no {what} has the id `{}`: that is {}", id.value, with_article(kind));
            let remedy = format!("name {} here, or define one", with_article(what));
            self.findings.push(Finding::hold(RuleName::IdUnknown, Place { file: self.file, span: id.span }, message, remedy));
            return;
        }
        let remedy = match near {
            None if what == "vehicle" => "define it in a [[vehicle]] block of the shop file, or use an id that exists".to_owned(),
            None if what == "source" => {
                format!("add it to `sources`, such as {{ {} = \"...\" }}, or write the source in several words", id.value)
            }
            Some(near) => format!("write `{near}`, or define `{}`", id.value),
            None => format!("define it in a block with id = \"{}\", or use an id that exists", id.value),
        };
        let place = Place { file: self.file, span: id.span };
        let mut finding = Finding::hold(RuleName::IdUnknown, place, format!("no {what} has the id `{}`", id.value), remedy);
        let written_plainly = (id.span.end - id.span.start) as usize == id.value.len();
        if let (Some(near), true) = (near, written_plainly) {
            finding = finding.with_suggestion(id.span, near);
        }
        self.findings.push(finding);
    }

    /// What a known id stands for, in the word of its link scheme.
    fn other_kind(&self, id: &str) -> Option<&'static str> {
        let names = self.names;
        let thing = names.thing(id).map(|thing| thing.sort());
        thing
            .or_else(|| names.spec(id).map(|_| "spec"))
            .or_else(|| names.tool(id).map(|_| "tool"))
            .or_else(|| names.caution(id).map(|_| "caution"))
    }

    fn both<T>(&self, rows: fn(&'g crate::guide::model::Definitions) -> Vec<&'g T>, id: fn(&'g T) -> &'g Text) -> Vec<&'g str> {
        self.names.both().into_iter().flat_map(rows).map(|row| id(row).as_str()).collect()
    }

    /// With a tool, or with what is used up.
    fn with(&mut self, id: &Text) {
        if self.names.consumable(&id.value).is_none() {
            self.tool(id);
        }
    }

    fn tool(&mut self, id: &Text) {
        let candidates = self.both(|names| names.tools.rows.iter().collect(), |tool| &tool.id);
        self.known(id, "tool", self.names.tool(&id.value).is_some(), || candidates);
    }

    fn caution(&mut self, id: &Text) {
        let candidates = self.both(|names| names.cautions.rows.iter().collect(), |caution| caution.id.as_ref().unwrap_or(&caution.hazard));
        self.known(id, "caution", self.names.caution(&id.value).is_some(), || candidates);
    }

    /// A pilot hole is smaller than the one that is drilled after it.
    fn pilot(&mut self, operation: &Operation) {
        let Some(pilot) = &operation.pilot else { return };
        self.spec(pilot);
        let size = |spec: &Spec| {
            let read = |text: &Text| quantity::read(&text.value, Dimension::Length, &quantity::Options::default()).quantity;
            let size = spec.quantity().cloned().or_else(|| read(spec.designation.as_ref()?))?;
            size.base_bounds().1.filter(|_| size.dimension == Dimension::Length)
        };
        let Some(first) = self.names.spec(&pilot.value).and_then(size) else { return };
        let last = operation.specs.iter().filter_map(|id| self.names.spec(&id.value)).filter_map(size).min();
        if last.is_some_and(|last| first >= last) {
            let message = "the pilot hole is no smaller than the hole that is drilled after it";
            let remedy = "correct the size of one of the two drills";
            self.findings.push(Finding::hold(RuleName::TypeWrong, Place { file: self.file, span: pilot.span }, message, remedy));
        }
    }

    /// What goes onto itself goes nowhere.
    fn onto(&mut self, operation: &Operation) {
        let Some(onto) = &operation.onto else { return };
        self.thing(onto);
        if operation.targets.iter().any(|target| target.value == onto.value) {
            let message = format!("`{}` goes onto itself here", onto.value);
            let remedy = "name what it goes onto, or leave `onto` out";
            self.findings.push(Finding::hold(RuleName::TypeWrong, Place { file: self.file, span: onto.span }, message, remedy));
        }
    }

    /// A caution that stands for a run of steps ends in a step that is there, behind the one that states it.
    fn standing(&mut self, guide: &'g Guide<'_>) {
        let mut ends: Vec<(Option<usize>, &'g Text)> = Vec::new();
        ends.extend(guide.caution_refs.iter().filter_map(|reference| Some((None, reference.until.as_ref()?))));
        for (at, step) in guide.steps.iter().enumerate() {
            for reference in &step.caution_refs {
                let own = || guide.own.cautions.get(&reference.id.value)?.until.as_ref();
                ends.extend(reference.until.as_ref().or_else(own).map(|until| (Some(at), until)));
            }
            ends.extend(step.cautions.iter().filter_map(|caution| Some((Some(at), caution.until.as_ref()?))));
        }
        for (begins, until) in ends {
            let Some((last, _)) = last_step(guide, &until.value) else {
                // What a caution with an id says itself was looked at with it.
                if guide.own.cautions.rows.iter().all(|caution| caution.until.as_ref().is_none_or(|own| own.span != until.span)) {
                    self.step(until);
                }
                continue;
            };
            if let Some(begins) = begins.filter(|begins| last <= *begins) {
                let message = format!("this caution stands until step {}, and it is stated in step {}", last + 1, begins + 1);
                let remedy = "name a later step, or leave `until` out where it speaks for its own step alone";
                let place = Place { file: self.file, span: until.span };
                self.findings.push(Finding::hold(RuleName::TypeWrong, place, message, remedy));
            }
        }
    }

    fn spec(&mut self, id: &Text) {
        if self.names.spec(&id.value).is_none() {
            let candidates = self.both(|names| names.specs.rows.iter().collect(), |spec| &spec.id);
            self.known(id, "spec", false, || candidates);
        }
    }

    /// A torque is a torque: the volume of a fluid is not one.
    fn torque(&mut self, id: &Text) {
        self.spec(id);
        let Some(spec) = self.names.spec(&id.value) else { return };
        let other = match spec.quantity() {
            Some(quantity) if quantity.dimension == Dimension::Torque => return,
            _ if spec.hand_then => return,
            Some(quantity) => quantity.dimension.name(),
            None if spec.value.is_some() || self.torque_asked(spec) => return,
            None => "value without a unit",
        };
        let place = Place { file: self.file, span: id.span };
        let message = format!("the spec `{}` is no torque: it is {}", id.value, with_article(other));
        self.findings.push(Finding::hold(RuleName::TypeWrong, place, message, "name a spec with a `torque`; other values go into `specs`"));
    }

    /// Whether nobody knows the torque of a spec yet.
    fn torque_asked(&self, spec: &Spec) -> bool {
        let own = self.guide.is_some_and(|guide| guide.own.specs.get(&spec.id.value).is_some());
        let untold = self.guide.filter(|_| own).map_or(&self.shop.untold, |guide| &guide.untold);
        untold.iter().any(|untold| untold.block == Block::Spec && untold.key == "torque" && untold.of.as_deref() == Some(spec.id.as_str()))
    }

    fn hardware(&mut self, id: &Text) {
        if self.names.hardware(&id.value).is_none() {
            let candidates = self.both(|names| names.hardware.rows.iter().collect(), |hardware| &hardware.id);
            self.known(id, "hardware", false, || candidates);
        }
    }

    fn thing(&mut self, id: &Text) {
        if self.names.thing(&id.value).is_none() {
            let mut candidates = self.both(|names| names.items.rows.iter().collect(), |item| &item.id);
            candidates.extend(self.both(|names| names.parts.rows.iter().collect(), |part| &part.id));
            candidates.extend(self.both(|names| names.hardware.rows.iter().collect(), |hardware| &hardware.id));
            self.known(id, "item, connector, part or hardware", false, || candidates);
        }
    }

    /// A count belongs to parts and hardware: a thing on the vehicle is there once.
    fn countable(&mut self, operation: &Operation) {
        let Some(count) = operation.count else { return };
        let item = operation.targets.iter().find(|id| matches!(self.names.thing(&id.value), Some(Thing::Item(_))));
        let (message, remedy) = match (item, count.value) {
            (Some(item), _) => (format!("`{}` is one thing on the vehicle, so it has no count", item.value), "take `count` out"),
            (None, 0) => ("a count of 0 does nothing".to_owned(), "write how many there are, or take the operation out"),
            _ => return,
        };
        self.findings.push(Finding::hold(RuleName::TypeWrong, Place { file: self.file, span: count.span }, message, remedy));
    }

    fn step(&mut self, id: &Text) {
        let Some(guide) = self.guide else { return };
        if step(guide, &id.value).is_none() {
            self.known(id, "step", false, || ids(&guide.steps, |step| &step.id));
        }
    }

    fn condition(&mut self, condition: &Condition) {
        for term in &condition.0 {
            // The shop file has no options: what it shares is there for every vehicle.
            let options: &[VehicleOption] = self.guide.map_or(&[], |guide| &guide.own.options.rows);
            let found = options.iter().any(|option| option.id.value == term.option.value);
            self.known(&term.option, "option", found, || options.iter().map(|option| option.id.as_str()).collect());
        }
    }

    /// A source may be free words; a lone id-like word, or one near a known id, is taken for an id.
    fn source(&mut self, source: &Text) {
        let (id, rest) = split_source(&source.value);
        if !is_id(id) || self.names.source(id).is_some() {
            return;
        }
        let known: Vec<&str> = self.both(|names| names.sources.rows.iter().collect(), |(id, _)| id);
        // `manual (p. 3)` is an id with a page; `sheet from the supplier` is words.
        if rest.is_empty() || rest.starts_with(" (") || nearest(id, known.iter().copied()).is_some_and(|near| near.len() > 3) {
            let exact = (source.span.end - source.span.start) as usize == source.value.len();
            let span = if exact { source.span.part(0..id.len()) } else { source.span };
            self.known(&Spanned::new(id.to_owned(), span), "source", false, || known);
        }
    }

    fn prose(&mut self, prose: &Prose<'_>) {
        for reference in &prose.references {
            let id = &reference.id;
            match reference.kind {
                RefKind::Spec => self.spec(id),
                RefKind::Hardware => self.hardware(id),
                RefKind::Part => {
                    let candidates = self.both(|names| names.parts.rows.iter().collect(), |part| &part.id);
                    self.known(id, "part", self.names.part(&id.value).is_some(), || candidates);
                }
                RefKind::Item | RefKind::Connector => {
                    let candidates = self.both(|names| names.items.rows.iter().collect(), |item| &item.id);
                    self.known(id, reference.kind.word(), self.names.item(&id.value).is_some(), || candidates);
                }
                RefKind::Tool => self.tool(id),
                RefKind::Step => self.step(id),
                RefKind::Caution => self.caution(id),
            }
        }
    }

    fn definitions(&mut self, own: &'g crate::guide::model::Definitions) {
        for spec in &own.specs.rows {
            if let Some(of) = &spec.of {
                self.thing(of);
            }
            if let Some(source) = &spec.source {
                self.source(source);
            }
        }
        for part in &own.parts.rows {
            self.condition(&part.when);
        }
        for hardware in &own.hardware.rows {
            self.condition(&hardware.when);
        }
        for circuit in &own.circuits.rows {
            circuit.through.iter().for_each(|id| self.thing(id));
            if let Some(source) = &circuit.source {
                self.source(source);
            }
        }
        for part in &own.parts.rows {
            part.only.iter().chain(&part.never).for_each(|allowed| self.thing(&allowed.thing));
        }
        for item in &own.items.rows {
            item.only.iter().chain(&item.never).for_each(|allowed| self.thing(&allowed.thing));
            item.behind.iter().for_each(|id| self.thing(id));
            self.condition(&item.when);
        }
        self.circles(own);
        for option in &own.options.rows {
            for other in &option.not_with {
                self.known(other, "option", own.options.get(&other.value).is_some(), || ids(&own.options.rows, |option| &option.id));
            }
        }
        for caution in &own.cautions.rows {
            self.condition(&caution.when);
            if let (Some(_), Some(until)) = (self.guide, &caution.until) {
                self.step(until);
            }
            if let (None, Some(until)) = (self.guide, &caution.until) {
                let message = "a caution of the shop file does not know the steps of a guide";
                let remedy = "say it in the guide: `cautions = [\"ID until STEP\"]`";
                self.findings.push(Finding::hold(RuleName::TypeWrong, Place { file: self.file, span: until.span }, message, remedy));
            }
        }
    }

    /// What lies behind itself can never be reached: each circle is told once, where it closes.
    fn circles(&mut self, own: &'g Definitions) {
        // Whether a thing is on the way that is followed, or was followed to its end.
        let mut seen: HashMap<&str, bool> = HashMap::new();
        for item in own.items.rows.iter().filter(|item| !item.behind.is_empty()) {
            if seen.contains_key(item.id.as_str()) {
                continue;
            }
            seen.insert(&item.id.value, true);
            let mut way = vec![(item, 0)];
            while let Some((item, next)) = way.last_mut() {
                let Some(front) = item.behind.get(*next) else {
                    seen.insert(&item.id.value, false);
                    way.pop();
                    continue;
                };
                *next += 1;
                match seen.get(front.as_str()) {
                    Some(true) => {
                        let message = format!("`{}` lies behind `{}` here, and that lies behind it", item.id.value, front.value);
                        let message = if item.id.value == front.value { format!("`{}` lies behind itself", front.value) } else { message };
                        let remedy = "take out the one that is wrong: what is in front comes off first";
                        self.findings.push(Finding::hold(
                            RuleName::TypeWrong,
                            Place { file: self.file, span: front.span },
                            message,
                            remedy,
                        ));
                    }
                    Some(false) => {}
                    None => {
                        seen.insert(&front.value, true);
                        match own.items.get(&front.value) {
                            Some(other) => way.push((other, 0)),
                            None => drop(seen.insert(&front.value, false)),
                        }
                    }
                }
            }
        }
    }

    fn hiding(&mut self, guide: &Guide<'_>, shop: &Shop) {
        let (own, shared) = (&guide.own, &shop.shared);
        let mut clash = |id: &Text, hides: bool, other: Option<&Text>| {
            if let (Some(other), false, Some(file)) = (other, hides, shop.file) {
                self.findings.push(
                    Finding::hold(
                        RuleName::IdTwice,
                        guide.place(id.span),
                        format!("the shop file has `{}` already", id.value),
                        "use the shop's by its id, choose another id, or add `hides = true` if this one is meant to stand in its place",
                    )
                    .with_related(Place { file, span: other.span }, "the shop's"),
                );
            }
        };
        for row in &own.hardware.rows {
            clash(&row.id, row.hides, shared.hardware.get(&row.id.value).map(|row| &row.id));
        }
        for row in &own.specs.rows {
            clash(&row.id, row.hides, shared.specs.get(&row.id.value).map(|row| &row.id));
        }
        for row in &own.items.rows {
            clash(&row.id, row.hides, shared.items.get(&row.id.value).map(|row| &row.id));
        }
        for row in &own.tools.rows {
            clash(&row.id, row.hides, shared.tools.get(&row.id.value).map(|row| &row.id));
        }
        for row in own.cautions.rows.iter() {
            let Some(id) = &row.id else { continue };
            clash(id, row.hides, shared.cautions.get(&id.value).and_then(|row| row.id.as_ref()));
        }
    }
}
