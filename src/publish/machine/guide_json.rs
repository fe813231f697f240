//! Each guide as JSON: plain types of its own with a version, so that other programs can rely on them while pages change. The
//! handbook's chapter is made from the same declaration.

use std::collections::BTreeMap;

use crate::described::{self, objects};
use crate::guide::model::{self, Condition, Shop, Stated};
use crate::guide::names::Names;
use crate::guide::{tally, tightening};
use crate::publish::handbook::{Plain, PlainField, PlainSection};
use crate::publish::html;
use crate::publish::page_data;
use crate::publish::photo::Published;
use crate::publish::{GuideInput, Summary};
use crate::quantity::{Dimension, Exact, Form, Quantity};

/// What the field `format` of a guide says.
pub const FORMAT: &str = "bayleaf-guide";
/// What the field `format` of the list of guides says.
pub const LIST_FORMAT: &str = "bayleaf-guides";
/// The version of both; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// A guide.
    GuideFile "The guide" {
        /// Always `bayleaf-guide`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The name of the guide's folder in the site.
        slug: String,
        /// The whole address of its page, where the shop file gives the site's.
        address: Option<String>,
        /// What the guide does.
        title: String,
        /// The shop's number for it.
        document: Option<String>,
        /// The revision.
        revision: Option<String>,
        /// The day of issue, as ISO 8601.
        issued: Option<String>,
        /// Who approved it.
        approved: Option<String>,
        /// Eight characters that change with every change of the guide, the shop file or a picture.
        fingerprint: String,
        /// Whether it may be worked to. `false` marks a held guide that was published as a draft.
        released: bool,
        /// The language of all texts.
        language: String,
        /// The sentence that puts the vehicle maker's instructions and local rules first. Show it wherever a value of the guide is shown.
        deferral: String,
        /// The shop's notice for every page.
        notice: Option<String>,
        /// The part of the vehicle.
        system: String,
        /// A sentence or two.
        summary: Option<String>,
        /// The vehicles it is for.
        fits: Vec<Vehicle>,
        /// What it is not for.
        not_for: Vec<String>,
        /// Time for the whole job.
        hours: Option<Value>,
        /// Differences between vehicles that switch steps on or off.
        options: Vec<Choice>,
        /// What must be so before work starts.
        before: Vec<Line>,
        /// Cautions for the whole job.
        cautions: Vec<Caution>,
        /// Tools.
        tools: Vec<Tool>,
        /// Parts of the kit.
        parts: Vec<Supply>,
        /// Hardware of the kit.
        hardware: Vec<Supply>,
        /// Hardware on the vehicle.
        vehicle_hardware: Vec<Supply>,
        /// The steps in groups.
        phases: Vec<Phase>,
        /// Checks when the job is done.
        final_checks: Vec<Line>,
        /// What is due later.
        follow_up: Vec<Line>,
        /// Electrical circuits that the job lays.
        circuits: Vec<Circuit>,
        /// What revisions changed.
        changes: Vec<Change>,
        /// Full names of the papers that values come from.
        sources: Vec<String>,
    }

    /// A vehicle.
    Vehicle "Vehicle" {
        /// Its id in the shop file.
        id: String,
        /// Its name with the years.
        name: String,
    }

    /// An option.
    Choice "Option" {
        /// Its id, as terms write it.
        id: String,
        /// Its name.
        name: String,
    }

    /// A line to tick.
    Line "Line" {
        /// The name under which a tick for it is kept, such as `before/1`.
        id: String,
        /// The words; a value stands in both units.
        text: String,
    }

    /// A safety message.
    Caution "Caution" {
        /// `danger`, `warning`, `caution` or `notice`, as ANSI Z535.6 uses them.
        signal: &'static str,
        /// The hazard.
        hazard: String,
        /// What happens otherwise, and how to avoid it.
        avoid: String,
        /// When it holds: terms, see above; empty for always.
        when_terms: String,
    }

    /// A tool.
    Tool "Tool" {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// The shop's number for it.
        number: Option<String>,
        /// Which of its sizes the guide uses.
        sizes: Vec<String>,
    }

    /// A part or hardware with its count.
    Supply "Part or hardware" {
        /// Its name, with thread and class where it has them.
        name: String,
        /// How many, as printed; empty where the guide does not say.
        count: String,
        /// The part number.
        number: Option<String>,
        /// A few words.
        note: Option<String>,
    }

    /// A group of steps.
    Phase "Phase" {
        /// Its heading; null for steps before the first one.
        title: Option<String>,
        /// Its words.
        text: String,
        /// Its steps.
        steps: Vec<Step>,
    }

    /// A step.
    Step "Step" {
        /// Its id, which is its anchor on the page too.
        id: String,
        /// Its number, from 1, whatever options are chosen.
        number: usize,
        /// Its heading.
        title: String,
        /// Its words without markup.
        text: String,
        /// Its pictures.
        pictures: Vec<Picture>,
        /// Its cautions.
        cautions: Vec<Caution>,
        /// What is done.
        operations: Vec<Operation>,
        /// Values that no operation names.
        values: Vec<NamedValue>,
        /// Time to wait at the end.
        wait: Option<Value>,
        /// Time for it in minutes, as a decimal number.
        minutes: Option<String>,
        /// Checks at its end.
        checks: Vec<Line>,
        /// Who signs before work goes on.
        hold_point: Option<String>,
        /// Ids of steps that come first.
        needs: Vec<String>,
        /// When it is done: terms, see above; empty for always.
        when_terms: String,
    }

    /// A picture.
    Picture "Picture" {
        /// What it shows, in words.
        words: String,
        /// The file at its largest, beside this one.
        file: String,
        /// Its width in pixels.
        width: u32,
        /// Its height in pixels.
        height: u32,
        /// Places on it that the step explains, numbered from 1 in this order.
        callouts: Vec<Callout>,
    }

    /// A place on a picture.
    Callout "Callout" {
        /// From the left edge, as a share of the width.
        x: f64,
        /// From the top, as a share of the height.
        y: f64,
        /// What is there.
        words: String,
    }

    /// An operation.
    Operation "Operation" {
        /// The name under which a tick for it is kept: the step's id, a slash, and its number.
        id: String,
        /// The verb as a guide writes it, such as `remove` or `switch_off`.
        verb: &'static str,
        /// Ids of what it acts on.
        on: Vec<String>,
        /// The same in words.
        things: String,
        /// The fasteners: how many of which.
        hardware: Vec<String>,
        /// How it is done, in a few words each.
        how: Vec<String>,
        /// The torque.
        torque: Option<Torque>,
        /// The passes of undoing, in words; empty for one pass.
        undo_passes: Vec<String>,
        /// The order of undoing: numbers of the places in the order they are taken; empty where the guide gives none.
        undo_order: Vec<usize>,
        /// Other values.
        values: Vec<NamedValue>,
        /// Ids of its tools.
        tools: Vec<String>,
        /// When it is done: terms, see above; empty for always.
        when_terms: String,
    }

    /// A torque.
    Torque "Torque" {
        /// The value.
        value: Value,
        /// Where it comes from.
        source: Option<String>,
        /// How many fasteners are tightened; 0 where that is not known.
        count: u32,
        /// The passes in words; empty for one pass.
        passes: Vec<String>,
        /// The order in words.
        order: Option<String>,
        /// The state of the thread, in words.
        condition: Option<String>,
        /// The torque wrench.
        wrench: Option<String>,
        /// What the wrench is set to where an adapter lengthens it, in words.
        setting: Option<String>,
    }

    /// A value with its name.
    NamedValue "Named value" {
        /// What the value is.
        name: String,
        /// The value.
        value: Value,
        /// Where it comes from.
        source: Option<String>,
    }

    /// A value.
    Value "Value" {
        /// As printed, in the shop's first units.
        first: String,
        /// As printed in the others, where there are others.
        second: Option<String>,
        /// What it measures, such as `torque`; null for a designation, which has no number.
        dimension: Option<&'static str>,
        /// The unit of the numbers below: the SI unit of the dimension without prefix. Angles are in degrees, speeds of rotation in turns per minute.
        unit: Option<&'static str>,
        /// The lowest value that is right, exactly converted: a decimal number, or a fraction such as `5/9` where no decimal is exact. Null where there is no limit.
        low: Option<String>,
        /// The value to aim at, where the guide names one.
        nominal: Option<String>,
        /// The highest value that is right.
        high: Option<String>,
        /// The angle in degrees to turn further once a torque is reached.
        then_turn: Option<String>,
    }

    /// A circuit.
    Circuit "Circuit" {
        /// Its name.
        name: String,
        /// The conductor.
        wire: String,
        /// The largest current in service.
        current: Value,
        /// Its length, one way.
        length: Option<Value>,
        /// The fuse.
        fuse: Option<Value>,
        /// Where these values come from.
        source: Option<String>,
    }

    /// A change.
    Change "Change" {
        /// The revision that brought it.
        revision: String,
        /// Its day, as ISO 8601.
        issued: Option<String>,
        /// What changed.
        what: String,
    }

    /// The file `guides/index.json`.
    GuideList "The list of guides" {
        /// Always `bayleaf-guides`.
        format: &'static str,
        /// As in a guide.
        version: u32,
        /// The shop.
        shop: String,
        /// The language of all texts.
        language: String,
        /// The state of all guides together, as a fingerprint.
        state: String,
        /// The guides, in the order of their files.
        guides: Vec<Listed>,
    }

    /// A line of the list.
    Listed "Guide in the list" {
        /// The name of its folder beside this file; its JSON is `guide.json` in there.
        slug: String,
        /// What it does.
        title: String,
        /// The shop's number for it.
        document: Option<String>,
        /// Its revision.
        revision: Option<String>,
        /// The day of issue, as ISO 8601.
        issued: Option<String>,
        /// Its fingerprint.
        fingerprint: String,
        /// Whether it may be worked to.
        released: bool,
        /// The part of the vehicle.
        system: String,
        /// Ids of the vehicles it is for.
        fits: Vec<String>,
        /// How many steps.
        steps: usize,
    }
}

/// What one guide's JSON is made from.
pub struct From<'f, 's> {
    /// The model.
    pub guide: &'f model::Guide<'s>,
    /// The shop.
    pub shop: &'f Shop,
    /// The data of its page: what is printed is said here in the same words.
    pub page: &'f page_data::Guide,
    /// What is known of it beside.
    pub input: &'f GuideInput<'f>,
    /// Its pictures.
    pub pictures: &'f BTreeMap<String, Published>,
}

/// The file of one guide.
pub fn guide(from: &From<'_, '_>) -> Vec<u8> {
    let From { guide, shop, page, input, .. } = from;
    let line = &page.line;
    let file = GuideFile {
        format: FORMAT,
        version: VERSION,
        slug: line.slug.clone(),
        address: shop.address.as_ref().map(|address| format!("{address}guides/{}/index.html", line.slug)),
        title: line.title.clone(),
        document: line.document.clone(),
        revision: line.revision.clone(),
        issued: line.issued_iso.clone(),
        approved: page.approved.clone(),
        fingerprint: page.fingerprint.clone(),
        released: !input.draft,
        language: shop.language.clone(),
        deferral: shop.deferral.clone(),
        notice: shop.notice.clone(),
        system: line.system.clone(),
        summary: line.summary.clone(),
        fits: line.fits.iter().map(|vehicle| Vehicle { id: vehicle.id.clone(), name: vehicle.name.clone() }).collect(),
        not_for: page.not_for.clone(),
        hours: guide.hours.as_ref().map(|hours| stated(&hours.value, line.hours.clone())),
        options: guide.own.options.rows.iter().map(|row| Choice { id: row.id.value.clone(), name: row.name.value.clone() }).collect(),
        before: lines("before", &page.before_html),
        cautions: from.cautions(&guide.caution_refs, None, &page.cautions),
        tools: page.tools.iter().map(tool).collect(),
        parts: page.parts.iter().map(supply).collect(),
        hardware: page.kit_hardware.iter().map(supply).collect(),
        vehicle_hardware: page.vehicle_hardware.iter().map(supply).collect(),
        phases: page.phases.iter().map(|phase| from.phase(phase)).collect(),
        final_checks: lines("final", &page.final_checks_html),
        follow_up: lines("follow-up", &page.follow_up_html),
        circuits: guide.own.circuits.rows.iter().zip(&page.circuits).map(circuit).collect(),
        changes: guide.changes.iter().map(change).collect(),
        sources: page.sources.clone(),
    };
    written(&file)
}

/// The file `guides/index.json`.
pub fn list(summaries: &[Summary], shop: &Shop, state: String) -> Vec<u8> {
    let row = |summary: &Summary| Listed {
        slug: summary.line.slug.clone(),
        title: summary.line.title.clone(),
        document: summary.line.document.clone(),
        revision: summary.line.revision.clone(),
        issued: summary.line.issued_iso.clone(),
        fingerprint: summary.fingerprint.clone(),
        released: !summary.line.draft,
        system: summary.line.system.clone(),
        fits: summary.line.fits.iter().map(|vehicle| vehicle.id.clone()).collect(),
        steps: summary.line.steps,
    };
    let guides = summaries.iter().map(row).collect();
    written(&GuideList { format: LIST_FORMAT, version: VERSION, shop: shop.name.clone(), language: shop.language.clone(), state, guides })
}

fn written(file: &impl serde::Serialize) -> Vec<u8> {
    let mut bytes = serde_json::to_vec(file).unwrap_or_default();
    bytes.push(b'\n');
    bytes
}

/// The handbook's chapter.
pub fn chapter() -> Plain {
    let about = PlainSection {
        title: "What there is".to_owned(),
        paragraphs: [
            "Beside each guide's page stands `guide.json`, and in `guides/` a list of all, `index.json`. They are UTF-8 and are made together with the pages: the fingerprint says whether page and file are of one state.",
            "Terms say when something is done: ids of options parted by spaces, all of which must hold. `heated-seat !left-hand-drive` is done with the one option and without the other. Where several such texts are joined by `|`, any one of them is enough.",
            "A value stands twice: as it is printed, and exactly, in the SI unit of its dimension. A program that computes takes the exact one. Nothing here is a proposal: every torque is the author's, with its source, and the vehicle maker's instructions come first.",
        ]
        .map(str::to_owned)
        .to_vec(),
        ..PlainSection::default()
    };
    let objects = described::rows(&objects()).into_iter().map(|(title, rows)| PlainSection {
        title: title.to_owned(),
        fields: rows
            .into_iter()
            .map(|row| PlainField { name: row.name.to_owned(), holds: row.holds, meaning: row.meaning.to_owned() })
            .collect(),
        ..PlainSection::default()
    });
    Plain {
        file: "guide-json".to_owned(),
        title: "Guides for programs".to_owned(),
        lead: "What stands in the JSON file of each guide, for programs that read guides.".to_owned(),
        group: "Reports".to_owned(),
        sections: std::iter::once(about).chain(objects).collect(),
    }
}

impl From<'_, '_> {
    fn names(&self) -> Names<'_> {
        Names::new(self.guide, self.shop)
    }

    /// Cautions as the page orders them, with the terms of the model: by id first, then the step's own; in a step the gravest first.
    fn cautions(&self, ids: &[model::Text], step: Option<&model::Step<'_>>, shown: &[page_data::Caution]) -> Vec<Caution> {
        let names = self.names();
        let own = step.map_or(&[][..], |step| &step.cautions);
        let mut all: Vec<&model::Caution> = ids.iter().filter_map(|id| names.caution(&id.value)).chain(own).collect();
        if step.is_some() {
            all.sort_by_key(|caution| caution.signal.value);
        }
        let row = |(caution, shown): (&model::Caution, &page_data::Caution)| Caution {
            signal: shown.signal,
            hazard: plain(&shown.hazard_html),
            avoid: plain(&shown.rest_html),
            when_terms: terms(&caution.when),
        };
        all.into_iter().zip(shown).map(row).collect()
    }

    fn phase(&self, phase: &page_data::Phase) -> Phase {
        let steps = phase.steps.iter().map(|step| self.step(step)).collect();
        Phase { title: phase.title.clone(), text: plain(&phase.html), steps }
    }

    fn step(&self, shown: &page_data::Step) -> Step {
        let step = &self.guide.steps[shown.number - 1];
        let operations = step.operations.iter().zip(&shown.operations).enumerate();
        let specs = step.specs.iter().filter_map(|id| self.names().spec(&id.value));
        Step {
            id: shown.id.clone(),
            number: shown.number,
            title: shown.title.clone(),
            text: plain(&shown.html),
            pictures: step.prose.pictures.iter().filter_map(|picture| self.picture(step, picture)).collect(),
            cautions: self.cautions(&step.caution_refs, Some(step), &shown.cautions),
            operations: operations.map(|(at, (operation, row))| self.operation(&shown.id, at + 1, operation, row)).collect(),
            values: specs.zip(&shown.specs).map(|(spec, row)| named(spec, row)).collect(),
            wait: step.wait.as_ref().map(|wait| stated(&wait.value, shown.wait.clone())),
            minutes: step.minutes.and_then(|minutes| Exact::fraction(i128::from(minutes.value), 1000)).map(decimal),
            checks: lines(&format!("{}/check", shown.id), &shown.checks_html),
            hold_point: shown.hold_point.clone(),
            needs: shown.needs.iter().map(|need| need.id.clone()).collect(),
            when_terms: terms(&step.when),
        }
    }

    fn picture(&self, step: &model::Step<'_>, picture: &crate::guide::prose::Picture) -> Option<Picture> {
        let (file, width, height) = self.pictures.get(&picture.source.value)?.largest();
        let of = step.callouts.iter().filter(|callout| callout.picture.value == picture.source.value);
        let callouts = of.map(|callout| {
            let (x, y) = callout.at.value;
            Callout { x, y, words: plain(&html::line(&callout.words.value, self.shop)) }
        });
        Some(Picture { words: picture.words.clone(), file: file.to_owned(), width, height, callouts: callouts.collect() })
    }

    fn operation(&self, step: &str, number: usize, operation: &model::Operation, shown: &page_data::Operation) -> Operation {
        let specs = operation.specs.iter().filter_map(|id| self.names().spec(&id.value));
        let torque = tally::torque_of(operation, self.names()).zip(shown.torque.as_ref());
        Operation {
            id: format!("{step}/{number}"),
            verb: operation.verb.key(),
            on: operation.targets.iter().map(|id| id.value.clone()).collect(),
            things: shown.things.clone(),
            hardware: shown.hardware.clone(),
            how: shown.how.clone(),
            torque: torque.map(|((value, _), shown)| Torque {
                value: value_of(value.quantity.as_ref(), &shown.value),
                source: shown.source.clone(),
                count: shown.count,
                passes: shown.passes.iter().filter(|pass| !pass.is_empty()).cloned().collect(),
                order: shown.pattern.clone(),
                condition: shown.condition.clone(),
                wrench: shown.wrench.clone(),
                setting: shown.setting.clone(),
            }),
            undo_passes: shown.undo_passes.clone(),
            undo_order: tightening::undo_order(operation, self.names()).map(|order| order.positions().to_vec()).unwrap_or_default(),
            values: specs.zip(&shown.specs).map(|(spec, row)| named(spec, row)).collect(),
            tools: operation.with.iter().map(|id| id.value.clone()).collect(),
            when_terms: terms(&operation.when),
        }
    }
}

/// Terms as `a !b`.
fn terms(when: &Condition) -> String {
    let terms: Vec<String> = when.0.iter().map(|term| format!("{}{}", if term.absent { "!" } else { "" }, term.option.value)).collect();
    terms.join(" ")
}

fn lines(prefix: &str, html: &[String]) -> Vec<Line> {
    html.iter().enumerate().map(|(at, html)| Line { id: format!("{prefix}/{}", at + 1), text: plain(html) }).collect()
}

fn tool(tool: &page_data::Tool) -> Tool {
    Tool { id: tool.id.clone(), name: tool.name.clone(), number: tool.number.clone(), sizes: tool.sizes.clone() }
}

fn supply(row: &page_data::Counted) -> Supply {
    Supply { name: row.name.clone(), count: row.count.clone(), number: row.number.clone(), note: row.note.clone() }
}

fn circuit((circuit, shown): (&model::Circuit, &page_data::Circuit)) -> Circuit {
    let beside = |stated: &Option<crate::source::Spanned<Stated>>, shown: &Option<page_data::Value>| {
        stated.as_ref().zip(shown.as_ref()).map(|(stated, shown)| value_of(stated.value.quantity.as_ref(), shown))
    };
    Circuit {
        name: shown.name.clone(),
        wire: shown.wire.clone(),
        current: value_of(circuit.current.value.quantity.as_ref(), &shown.current),
        length: beside(&circuit.length, &shown.length),
        fuse: beside(&circuit.fuse, &shown.fuse),
        source: shown.source.clone(),
    }
}

fn change(change: &model::Change) -> Change {
    let issued = change.issued.map(|date| date.value.to_string());
    Change { revision: change.revision.value.clone(), issued, what: change.what.value.clone() }
}

fn named(spec: &model::Spec, shown: &page_data::NamedValue) -> NamedValue {
    NamedValue { name: shown.name.clone(), value: value_of(spec.quantity(), &shown.value), source: shown.source.clone() }
}

/// A value that pages print in one unit only.
fn stated(stated: &Stated, printed: Option<String>) -> Value {
    let first = printed.unwrap_or_else(|| stated.text.clone()).replace('\u{a0}', " ");
    value_of(stated.quantity.as_ref(), &page_data::Value { first, second: None, html: String::new() })
}

fn value_of(quantity: Option<&Quantity>, printed: &page_data::Value) -> Value {
    let (low, high) = quantity.map_or((None, None), Quantity::base_bounds);
    let nominal = quantity.and_then(|quantity| {
        let leading = quantity.leading();
        match &leading.form {
            Form::Single(number) | Form::Tolerance { nominal: number, .. } => leading.unit.to_base(number.value),
            _ => None,
        }
    });
    let turn = quantity.and_then(|quantity| quantity.angle.as_ref()).and_then(|angle| angle.base_bounds().0);
    Value {
        first: printed.first.clone(),
        second: printed.second.clone(),
        dimension: quantity.map(|quantity| quantity.dimension.name()),
        unit: quantity.map(|quantity| base_unit(quantity.dimension)),
        low: low.map(decimal),
        nominal: nominal.map(decimal),
        high: high.map(decimal),
        then_turn: turn.map(decimal),
    }
}

/// The base unit of a dimension, as `quantity` states it.
fn base_unit(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Torque => "N·m",
        Dimension::Angle => "°",
        Dimension::Length => "m",
        Dimension::Area => "m²",
        Dimension::Pressure => "Pa",
        Dimension::Volume => "m³",
        Dimension::Mass => "kg",
        Dimension::Force => "N",
        Dimension::Temperature | Dimension::TemperatureDifference => "K",
        Dimension::Time => "s",
        Dimension::Current => "A",
        Dimension::Voltage => "V",
        Dimension::Resistance => "Ω",
        Dimension::Power => "W",
        Dimension::RotationSpeed => "r/min",
    }
}

/// As programs read numbers: with a plain minus.
fn decimal(value: Exact) -> String {
    value.to_string().replace('\u{2212}', "-")
}

/// The words of markup that this program wrote: a value's second unit in brackets, blocks on lines of their own.
fn plain(html: &str) -> String {
    let mut text = String::with_capacity(html.len());
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        text.push_str(&rest[..at]);
        let Some(end) = rest[at..].find('>') else { break };
        let tag = &rest[at + 1..at + end];
        match tag.trim_start_matches('/').split([' ', '\n']).next().unwrap_or_default() {
            "i" if !tag.starts_with('/') => text.push('('),
            "i" => text.push(')'),
            "p" | "li" | "tr" | "div" | "h4" | "h5" | "h6" | "br" | "table" | "ul" | "ol" | "blockquote" | "pre" => text.push('\n'),
            "td" | "th" if tag.starts_with('/') => text.push(' '),
            _ => {}
        }
        rest = &rest[at + end + 1..];
    }
    text.push_str(rest);
    let lines: Vec<String> = text.lines().map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect();
    let joined = lines.join("\n");
    joined.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'").replace("&amp;", "&")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_becomes_words() {
        let html = "<p>Tighten to <span class=\"val\"><b class=\"m\">45 N·m</b> <i class=\"u\">33 lb·ft</i></span> &amp; go.</p>\n<ul>\n<li>a &lt;b&gt;</li>\n</ul>\n";
        assert_eq!(plain(html), "Tighten to 45 N·m (33 lb·ft) & go.\na <b>");
    }

    #[test]
    fn base_units_are_those_of_the_table() {
        for dimension in Dimension::ALL {
            let base = crate::quantity::units()
                .iter()
                .find(|unit| unit.dimension == dimension && unit.factor == Exact::whole(1) && unit.offset == Exact::whole(0));
            // Where the table has the base unit itself, its symbol must be the one that is written.
            if let Some(unit) = base {
                assert_eq!(unit.symbol, base_unit(dimension), "{dimension:?}");
            }
        }
    }

    #[test]
    fn the_described_fields_are_the_written_ones() {
        let objects = objects();
        for (name, _, fields) in &objects {
            assert!(!fields.is_empty(), "{name}");
            for field in fields {
                let holds = field.describe(&objects);
                assert!(field.meaning.ends_with('.') && !holds.contains(['<', '&']), "{name}.{}: {holds}", field.name);
            }
        }
    }
}
