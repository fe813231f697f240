//! Makes the model of a guide from its cut text: facts by the table of keys, words as they are.
//! Whether ids exist is left to `resolve`, whether the guide is any good to the review.

use std::collections::HashMap;

use crate::finding::{Finding, RuleName};
use crate::guide::block::{self, BlockText, Outline, Section};
use crate::guide::bounds;
use crate::guide::define::{accept, cautions, define, define_more, things_apart};
use crate::guide::facts::{Fields, Reader, is_id, slug_of};
use crate::guide::keys::Block;
use crate::guide::model::{
    Callout, CautionRef, Change, Condition, Definitions, Departure, Guide, Operation, Phase, Shop, Side, Stated, Step, Text,
};
use crate::guide::moment;
use crate::guide::prose::Prose;
use crate::guide::sides;
use crate::guide::told;
use crate::guide::verb::Verb;
use crate::quantity::Dimension;
use crate::source::{FileId, SourceFile, Span, Spanned};

/// Reads one guide. Whatever is wrong with it becomes findings; a guide always comes back.
pub(super) fn lower<'s>(source: &'s SourceFile, file: FileId, slug: &str, shop: &Shop) -> (Guide<'s>, Vec<Finding>) {
    let mut reader = Reader {
        file,
        findings: Vec::new(),
        decimal_comma: shop.language.decimal_comma(),
        uncounted: Vec::new(),
        named: Vec::new(),
        untold: Vec::new(),
        full: false,
    };
    let Outline { head, intro, sections } = block::outline(&source.text, file, &mut reader.findings);
    let mut guide = empty(file, slug, intro);
    match head {
        Some(block) => {
            guide.head = Span { start: block.fence.start, end: block.fence.start + 3 };
            guide.head_read = true;
            read_head(&mut reader, &source.text, block, &mut guide);
        }
        None => {
            let end = source.text.find('\n').unwrap_or(source.text.len());
            guide.head = Span::new(0..source.text.floor_char_boundary(end.min(80)));
            let dashes = source.text.trim_start().starts_with("---");
            reader.findings.push(Finding::hold(
                RuleName::KeyMissing,
                guide.place(guide.head),
                if dashes {
                    "the block at the top is fenced by ---, so it is not read"
                } else if source.text.trim().is_empty() {
                    "the file is empty"
                } else {
                    "the guide has no block of facts at its top"
                },
                if dashes {
                    "fence every block by lines of +++ instead"
                } else {
                    "start the file with +++, a line title = \"...\" and a closing +++"
                },
            ));
        }
    }
    let mut operations = 0;
    for (mut section, side) in sides::expand(&mut reader, sections) {
        let steps = guide.steps.len().max(guide.phases.len());
        if steps == bounds::MOST_STEPS || operations >= bounds::MOST_OPERATIONS {
            let (many, what) = if steps == bounds::MOST_STEPS { (steps, "steps") } else { (operations, "operations") };
            reader.beyond(section.span.part(0..0), format!("the guide has {many} {what} up to here, and is read no further"), "part it");
            break;
        }
        section.title.value = reader.bounded("the heading", &section.title.value, section.title.span);
        match section.level {
            1 => guide.phases.push(Phase { title: Some(section.title), prose: section.prose, steps: guide.steps.len()..guide.steps.len() }),
            _ => {
                if guide.phases.is_empty() {
                    guide.phases.push(Phase { title: None, prose: Prose::default(), steps: 0..0 });
                }
                let step = read_step(&mut reader, &source.text, section, side, &mut guide);
                operations += step.operations.len();
                guide.steps.push(step);
                if let Some(phase) = guide.phases.last_mut() {
                    phase.steps.end = guide.steps.len();
                }
            }
        }
    }
    name_steps(&mut reader, &mut guide);
    need_sides(&mut guide);
    told::settle(&mut reader, &mut guide, shop);
    told::waits(&mut reader, &mut guide, shop);
    things_apart(&mut reader, &guide.own);
    guide.uncounted = std::mem::take(&mut reader.uncounted);
    guide.untold = std::mem::take(&mut reader.untold);
    (guide, reader.findings)
}

fn empty<'s>(file: FileId, slug: &str, intro: Prose<'s>) -> Guide<'s> {
    Guide {
        file,
        slug: slug.to_owned(),
        head: Span::default(),
        head_read: false,
        stated: Vec::new(),
        title: None,
        document: None,
        revision: None,
        issued: None,
        approved: None,
        was: Vec::new(),
        withdrawn: None,
        system: None,
        summary: None,
        fits: Vec::new(),
        fits_nothing: false,
        not_for: Vec::new(),
        cautioned: usize::MAX,
        also: Vec::new(),
        video: None,
        unsure: Vec::new(),
        hours: None,
        tools: Vec::new(),
        ready: Vec::new(),
        before: Vec::new(),
        caution_refs: Vec::new(),
        final_checks: Vec::new(),
        follow_up: Vec::new(),
        changes: Vec::new(),
        acceptances: Vec::new(),
        uncounted: Vec::new(),
        untold: Vec::new(),
        own: Definitions::default(),
        intro,
        phases: Vec::new(),
        steps: Vec::new(),
    }
}

fn read_head(reader: &mut Reader, text: &str, block: BlockText, guide: &mut Guide<'_>) {
    let parsed = reader.parse(&text[block.body.range()], block.body.start as usize, guide.head, Block::Guide);
    let fields = parsed.fields(Block::Guide);
    let f = &fields;
    reader.check_keys(f);
    told::in_keys(reader, text, block.body);
    // A key whose value cannot be read is there all the same: nothing is said to be missing then.
    let lines = text[block.body.range()].lines().take_while(|line| !line.trim_start().starts_with("[["));
    guide.stated = lines.filter_map(|line| line.split_once('=')).map(|(key, _)| key.trim().to_owned()).collect();
    guide.title = reader.text(f, "title");
    guide.document = reader.text(f, "document");
    guide.revision = reader.text(f, "revision");
    guide.issued = reader.date(f, "issued");
    guide.approved = reader.text(f, "approved");
    guide.was = reader.texts(f, "was");
    guide.withdrawn = reader.text(f, "withdrawn");
    guide.system = reader.text(f, "system");
    guide.summary = reader.text(f, "summary");
    let before = reader.findings.len();
    guide.fits = reader.texts(f, "fits");
    guide.fits_nothing = guide.fits.is_empty() && f.key_span("fits").is_some() && reader.findings.len() == before;
    guide.not_for = reader.texts(f, "not_for");
    guide.also = reader.texts(f, "also");
    guide.video = reader.text(f, "video").filter(|text| {
        let told = video_fault(&text.value);
        if let Some(message) = told {
            let remedy = "write an address that begins with https://, or the name of a file beside the guide: mp4, m4v or webm";
            reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(text.span), message, remedy));
        }
        told.is_none()
    });
    guide.unsure = reader.texts(f, "unsure");
    guide.hours = reader.value(f, "hours", Dimension::Time);
    guide.tools = reader.texts(f, "tools");
    guide.ready = reader.texts(f, "ready");
    guide.before = reader.texts(f, "before");
    guide.caution_refs = caution_refs(reader, f);
    guide.final_checks = reader.texts(f, "final_check");
    guide.follow_up = reader.texts(f, "follow_up");
    for change in reader.tables(f, "change", Block::Change) {
        let (revision, issued, what) = (reader.text(&change, "revision"), reader.date(&change, "issued"), reader.text(&change, "what"));
        if let (Some(revision), Some(what)) = (revision, what) {
            let (about, anew) = (reader.texts(&change, "about"), reader.flag(&change, "anew"));
            guide.changes.push(Change { revision, issued, what, about, anew });
        }
    }
    let whole = Span::new(0..text.len());
    guide.acceptances = accept(reader, f, whole);
    define(reader, f, &mut guide.own);
}

fn read_step<'s>(reader: &mut Reader, text: &str, section: Section<'s>, side: Option<Side>, guide: &mut Guide<'_>) -> Step<'s> {
    let title = section.title;
    let id = section.id.unwrap_or_else(|| Spanned::new(slug_of(&title.value), title.span));
    if title.value.is_empty() {
        reader.findings.push(Finding::hold(
            RuleName::KeyMissing,
            reader.place(section.span.part(0..2)),
            "this step has no heading",
            "write what the step does behind the ##",
        ));
    }
    let mut step = Step {
        id,
        title,
        side,
        span: section.span,
        block: section.block.map(|block| block.fence),
        minutes: None,
        at: None,
        operations: Vec::new(),
        wait: None,
        wait_spec: None,
        when: Condition::default(),
        tools: Vec::new(),
        caution_refs: Vec::new(),
        cautions: Vec::new(),
        specs: Vec::new(),
        checks: Vec::new(),
        hold_point: None,
        needs: Vec::new(),
        callouts: Vec::new(),
        departures: Vec::new(),
        prose: section.prose,
    };
    let heading = reader.heading(&section.facts, text, step.title.span);
    let a = heading.fields(Block::Step);
    reader.check_keys(&a);
    let (start, body) = section.block.map_or((0, ""), |block| (block.body.start as usize, &text[block.body.range()]));
    let fence = section.block.map_or(step.title.span, |block| block.fence);
    // The block of a step for a side is read with the side in it, at the places of the text as it is written.
    let put = step.side.as_ref().filter(|_| sides::asks(body)).map(|side| sides::put(body, &side.name.value));
    let written = put.as_ref().map_or((body, sides::Swaps::NONE), |(body, swaps)| (body.as_str(), swaps));
    let parsed = reader.parse_swapped(written, start, fence, Block::Step);
    let f = &parsed.fields(Block::Step);
    if let Some(key) = f.key_span("sides") {
        let message = "the sides of a step stand in its heading";
        let remedy = "write them there, as in `## Fit the {side} lamp {#lamp sides=left,right}`";
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(key), message, remedy));
    }
    if step.side.is_none() && (sides::asks(body) || sides::asks(&step.title.value)) {
        let at = if sides::asks(body) { section.block.map_or(step.title.span, |block| block.body) } else { step.title.span };
        let found = text[at.range()].to_lowercase().find("{side}").unwrap_or_default();
        let message = "this step names a side, and has none";
        let remedy = "name the sides in its heading, as in `sides=left,right`, or write the side itself";
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(at.part(found..found + "{side}".len())), message, remedy));
    }
    reader.check_keys(f);
    if let Some(block) = section.block {
        told::in_keys(reader, text, block.body);
    }
    // A fact may stand in the heading or in the block.
    let mut of = |name: &'static str| match (a.key_span(name), f.key_span(name)) {
        (Some(here), Some(there)) => {
            let (place, first) = (reader.place(there), reader.place(here));
            let message = format!("`{name}` stands in the heading already");
            reader
                .findings
                .push(Finding::hold(RuleName::TypeWrong, place, message, "keep one of the two").with_related(first, "in the heading"));
            a
        }
        (Some(_), None) => a,
        (None, _) => *f,
    };
    let [minutes, at, wait, when, tools, cautions_of, specs, hold_point, needs] =
        ["minutes", "at", "wait", "when", "tools", "cautions", "specs", "hold_point", "needs"].map(&mut of);
    if let Some(id) = reader.id(f, "id") {
        step.id = id;
        if let Some(side) = &mut step.side {
            side.of = step.id.value.clone();
            step.id.value = format!("{}-{}", side.of, slug_of(&side.name.value));
        }
    }
    step.minutes = reader.minutes(&minutes, "minutes");
    step.at = reader.text(&at, "at").and_then(|text| {
        let seconds = moment::read(&text.value);
        if seconds.is_none() {
            let message = format!("`{}` is no moment", text.value);
            let remedy = "write minutes and seconds, as in 12:40, or hours, minutes and seconds, as in 1:02:40";
            reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(text.span), message, remedy));
        }
        Some(Spanned::new(seconds?, text.span))
    });
    guide.unsure.extend(reader.texts(f, "unsure"));
    step.operations = reader.tables(f, "do", Block::Operation).iter().flat_map(|entry| operation(reader, entry)).collect();
    told::read(reader, &mut step);
    // What all sides share is defined once.
    if step.side.as_ref().is_none_or(|side| side.first) {
        define(reader, f, &mut guide.own);
    } else {
        define_more(reader, f, &mut guide.own);
    }
    (step.wait, step.wait_spec) = wait_of(reader, &wait);
    step.when = reader.condition(&when, "when");
    step.tools = reader.texts(&tools, "tools");
    step.caution_refs = caution_refs(reader, &cautions_of);
    step.cautions = cautions(reader, f);
    step.specs = reader.texts(&specs, "specs");
    step.checks = reader.texts(f, "check");
    step.hold_point = reader.text(&hold_point, "hold_point");
    step.needs = reader.texts(&needs, "needs");
    for entry in reader.tables(f, "callout", Block::Callout) {
        let (picture, at, words) = (reader.text(&entry, "picture"), reader.point(&entry, "at"), reader.text(&entry, "words"));
        if let (Some(picture), Some(at), Some(words)) = (picture, at, words) {
            step.callouts.push(Callout { span: entry.span, picture, at, words });
        }
    }
    for entry in reader.tables(f, "departure", Block::Departure) {
        let (says, does, why) = (reader.text(&entry, "says"), reader.text(&entry, "does"), reader.text(&entry, "why"));
        let (approved, source) = (reader.text(&entry, "approved"), reader.text(&entry, "source"));
        if let (Some(says), Some(does), Some(why)) = (says, does, why) {
            step.departures.push(Departure { span: entry.span, says, does, why, approved, source });
        }
    }
    if step.side.as_ref().is_none_or(|side| side.first) {
        guide.acceptances.extend(accept(reader, f, step.span));
    }
    step
}

/// Cautions by their ids, each with the step up to which it stands where it is written as `airbag until reconnect`.
fn caution_refs(reader: &mut Reader, f: &Fields<'_>) -> Vec<CautionRef> {
    let read = |text: Text| {
        let exact = (text.span.end - text.span.start) as usize == text.value.len();
        let part = |range: std::ops::Range<usize>| {
            let span = if exact { text.span.part(range.clone()) } else { text.span };
            Spanned::new(text.value[range].to_owned(), span)
        };
        match text.value.find(" until ") {
            Some(at) => CautionRef { id: part(0..at), until: Some(part(at + " until ".len()..text.value.len())) },
            None => CautionRef { id: text, until: None },
        }
    };
    reader.texts(f, "cautions").into_iter().map(read).collect()
}

/// One entry of `do`. An entry with several verbs is a fault, and each verb still counts as an operation.
pub(super) fn operation(reader: &mut Reader, f: &Fields<'_>) -> Vec<Operation> {
    // Of a short form that could not be read nothing is left.
    if f.is_empty() {
        return Vec::new();
    }
    let mut verbs: Vec<(Verb, Span)> = Verb::ALL.iter().filter_map(|&verb| f.key_span(verb.key()).map(|span| (verb, span))).collect();
    verbs.sort_by_key(|(_, span)| *span);
    // A misspelt verb is told as an unknown key; what was meant counts all the same, so that the slip is told once.
    let mut misspelt = None;
    if verbs.is_empty() {
        let near = f.names().filter(|name| crate::guide::keys::find(Block::Operation, name).is_none()).find_map(|name| {
            let verb = crate::near::nearest(name, Verb::ALL.iter().map(|verb| verb.key())).and_then(Verb::from_key)?;
            Some((name.to_owned(), verb))
        });
        if let Some((name, verb)) = near {
            verbs.extend(f.key_span(&name).map(|span| (verb, span)));
            misspelt = Some(name);
        }
    }
    match verbs.as_slice() {
        [] => {
            let near = f.names().find_map(|name| crate::near::nearest(name, Verb::ALL.iter().map(|verb| verb.key())));
            reader.findings.push(Finding::hold(
                RuleName::KeyMissing,
                reader.place(f.span),
                "this operation does not say what is done",
                format!(
                    "start it with one of {}{}",
                    Verb::ALL.iter().map(|verb| verb.key()).collect::<Vec<_>>().join(", "),
                    crate::near::did_you_mean(near)
                ),
            ));
        }
        [_] => {}
        [(first, _), (second, span), ..] => reader.findings.push(Finding::hold(
            RuleName::TypeWrong,
            reader.place(*span),
            format!("this operation says both `{}` and `{}`", first.key(), second.key()),
            "write one small table for each thing that is done",
        )),
    }
    let one = verbs.len() == 1;
    let places = places(reader, f);
    let operations: Vec<Operation> = verbs
        .into_iter()
        .enumerate()
        .map(|(at, (verb, verb_span))| {
            // What stands beside several verbs is read once only, with the first.
            let beside = one || at == 0;
            let targets = targets(reader, f, misspelt.as_deref().unwrap_or(verb.key()), verb_span);
            let count = if beside { reader.count(f, "count") } else { None };
            if count.is_none() && f.key_span("count").is_some() {
                reader.uncounted.extend(targets.iter().map(|target| target.value.clone()));
            }
            let (wait, wait_spec) = if beside { wait_of(reader, f) } else { (None, None) };
            Operation {
                verb,
                span: f.span,
                told: false,
                short: f.is_short(),
                verb_span,
                targets,
                count,
                hardware: if beside { reader.hardware(f, "hardware") } else { Vec::new() },
                torque: if beside { reader.torque(f, "torque") } else { None },
                adapter_angle: if beside { reader.value(f, "adapter_angle", Dimension::Angle) } else { None },
                loosen_as: if beside { reader.text(f, "loosen_as") } else { None },
                loosen_stages: if beside { reader.texts(f, "loosen_stages") } else { Vec::new() },
                source: if beside { reader.text(f, "source") } else { None },
                specs: if beside { reader.texts(f, "specs") } else { Vec::new() },
                by_hand: beside && reader.flag(f, "by_hand"),
                keep: beside && reader.flag(f, "keep"),
                discard_hardware: beside && reader.flag(f, "discard_hardware"),
                when: if beside { reader.condition(f, "when") } else { Condition::default() },
                onto: if beside { reader.text(f, "onto") } else { None },
                holes: if beside { reader.count(f, "holes") } else { None },
                pilot: if beside { reader.text(f, "pilot") } else { None },
                place: None,
                wait,
                wait_spec,
                with: if beside { reader.texts(f, "with") } else { Vec::new() },
                note: if beside { reader.text(f, "note") } else { None },
            }
        })
        .collect();
    if places.is_empty() {
        return operations;
    }
    let at =
        |place: &Text| operations.iter().map(|operation| Operation { place: Some(place.clone()), ..operation.clone() }).collect::<Vec<_>>();
    places.iter().flat_map(at).collect()
}

/// The places of an operation that is done in several, each once.
fn places(reader: &mut Reader, f: &Fields<'_>) -> Vec<Text> {
    let mut places: Vec<Text> = Vec::new();
    for place in reader.texts(f, "places") {
        match places.iter().find(|known| known.value.to_lowercase() == place.value.to_lowercase()) {
            Some(known) => {
                let (at, first) = (reader.place(place.span), reader.place(known.span));
                let message = format!("the place `{}` is named twice", place.value);
                reader
                    .findings
                    .push(Finding::hold(RuleName::TypeWrong, at, message, "name each place once").with_related(first, "the first time"));
            }
            None => places.push(place),
        }
    }
    places
}

/// A time to wait: a time, or the id of a spec, which is looked up when all ids are known.
fn wait_of(reader: &mut Reader, f: &Fields<'_>) -> (Option<Spanned<Stated>>, Option<Text>) {
    let id = f.plain("wait").is_some_and(|text| is_id(&text) && !text.starts_with(|c: char| c.is_ascii_digit()) && text != "untold");
    if id { (None, reader.text(f, "wait")) } else { (reader.value(f, "wait", Dimension::Time), None) }
}

/// What an operation acts on; acting on nothing is told.
fn targets(reader: &mut Reader, f: &Fields<'_>, verb: &str, verb_span: Span) -> Vec<Text> {
    let before = reader.findings.len();
    let mut targets = reader.texts_as_written(f, verb);
    targets.retain(|target| !target.value.trim().is_empty());
    if targets.is_empty() && reader.findings.len() == before {
        reader.findings.push(Finding::hold(
            RuleName::KeyMissing,
            reader.place(verb_span),
            format!("`{verb}` does not say what"),
            "name the item, connector, part or hardware by its id, or take the operation out",
        ));
    }
    targets
}

/// Gives every step an id of its own. Headings may repeat; ids written by hand may not.
/// Ids that the pages of a guide, their scripts and the records of work done use themselves. A step of such an id would share its anchor
/// or its boxes with something else.
pub const PAGE_IDS: &[&str] = &[
    "accounts",
    "answers",
    "bay",
    "bay-open",
    "bay-wrenches",
    "before",
    "changes",
    "chosen",
    "circuits",
    "departures",
    "final",
    "final-checks",
    "follow-up",
    "hits",
    "of-paper",
    "older",
    "options",
    "paper-a4",
    "paper-letter",
    "q",
    "questions",
    "record-file",
    "said",
    "sheet",
    "since",
    "sources",
    "torques",
    "wrenches",
];

/// Who needs a step that is written for several sides needs all of them.
fn need_sides(guide: &mut Guide<'_>) {
    let sided: Vec<(String, Text)> =
        guide.steps.iter().filter_map(|step| Some((step.side.as_ref()?.of.clone(), step.id.clone()))).collect();
    if sided.is_empty() {
        return;
    }
    for step in &mut guide.steps {
        let needs = std::mem::take(&mut step.needs);
        step.needs = needs
            .into_iter()
            .flat_map(|need| {
                let all: Vec<Text> =
                    sided.iter().filter(|(of, _)| *of == need.value).map(|(_, id)| Spanned::new(id.value.clone(), need.span)).collect();
                if all.is_empty() { vec![need] } else { all }
            })
            .collect();
    }
}

fn name_steps(reader: &mut Reader, guide: &mut Guide<'_>) {
    let mut seen: HashMap<String, Text> = HashMap::new();
    let mut numbers: HashMap<String, usize> = HashMap::new();
    for step in &mut guide.steps {
        let written = step.id.span != step.title.span;
        if let Some(earlier) = seen.get(&step.id.value) {
            if written {
                let place = reader.place(step.id.span);
                let first = reader.place(earlier.span);
                reader.findings.push(
                    Finding::hold(
                        RuleName::IdTwice,
                        place,
                        format!("another step has the id `{}` already", step.id.value),
                        "give one of the two steps another id",
                    )
                    .with_related(first, "the first one"),
                );
            }
        } else if written && PAGE_IDS.contains(&step.id.value.as_str()) {
            reader.findings.push(Finding::hold(
                RuleName::IdTwice,
                reader.place(step.id.span),
                format!("`{}` is an id that the page and its records use themselves", step.id.value),
                "give the step another id",
            ));
        }
        let base = step.id.value.clone();
        // Steps of one name go on where the last of them stopped.
        let mut number = numbers.get(&base).copied().unwrap_or(2);
        while seen.contains_key(&step.id.value) || PAGE_IDS.contains(&step.id.value.as_str()) {
            step.id.value = format!("{base}-{number}");
            number += 1;
        }
        numbers.insert(base, number);
        seen.insert(step.id.value.clone(), step.id.clone());
    }
}

/// What is wrong with the place of a video.
fn video_fault(text: &str) -> Option<&'static str> {
    let plain = !text.contains(|c: char| c.is_whitespace() || c.is_control() || matches!(c, '"' | '<' | '>' | '\\'));
    if ["https://", "http://"].iter().any(|start| text.strip_prefix(start).is_some_and(|rest| rest.len() > 3)) {
        return (!plain).then_some("the address of the video has signs that no address has");
    }
    let name = !text.contains(['/', ':', '#', '?']) && !text.starts_with('.');
    let known = [".mp4", ".m4v", ".webm"].iter().any(|end| text.to_lowercase().ends_with(end));
    (!(plain && name && known)).then_some("this is neither the address of a video nor a video file beside the guide")
}
