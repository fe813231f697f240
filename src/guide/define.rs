//! Reads what a guide or the shop defines by id: parts, hardware, specs, options, items, tools,
//! cautions and vehicles. Used for both files, so that a shared thing is written like an own one.

use crate::finding::{Finding, RuleName};
use crate::guide::bounds;
use crate::guide::facts::{Fields, Reader};
use crate::guide::keys::{Block, Key, Kind, keys_of};
use crate::guide::model::{
    Acceptance, Caution, Circuit, Condition, Consumable, Definitions, DriveText, Hardware, Item, Part, Pin, Signal, Spec, Stated, Table,
    Text, Tool, Vehicle, VehicleOption, WireLimit,
};
use crate::guide::states;
use crate::near::nearest;
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};

/// Everything that the fields define.
pub(crate) fn definitions(reader: &mut Reader, f: &Fields<'_>) -> Definitions {
    let mut own = Definitions::default();
    define(reader, f, &mut own);
    things_apart(reader, &own);
    own
}

/// Adds what the fields define: those of the block at the top, and those of a step that defines what it uses first.
pub(crate) fn define(reader: &mut Reader, f: &Fields<'_>, own: &mut Definitions) {
    for part in tables(reader, f, "part", Block::Part) {
        if let Some(part) = read_part(reader, &part) {
            let id = part.id.clone();
            add(reader, &mut own.parts, id, part, |part| &part.id);
        }
    }
    for hardware in tables(reader, f, "hardware", Block::Hardware) {
        if let Some(hardware) = read_hardware(reader, &hardware) {
            let id = hardware.id.clone();
            add(reader, &mut own.hardware, id, hardware, |hardware| &hardware.id);
        }
    }
    for spec in tables(reader, f, "spec", Block::Spec) {
        if let Some(spec) = read_spec(reader, &spec) {
            let id = spec.id.clone();
            add(reader, &mut own.specs, id, spec, |spec| &spec.id);
        }
    }
    for option in tables(reader, f, "option", Block::Option) {
        let (id, name) = (reader.id(&option, "id"), reader.text(&option, "name"));
        let (one_of, not_with) = (reader.text(&option, "one_of"), reader.texts(&option, "not_with"));
        if let (Some(id), Some(name)) = (id, name) {
            add(reader, &mut own.options, id.clone(), VehicleOption { id, name, one_of, not_with }, |option| &option.id);
        }
    }
    let mut items = Vec::new();
    for (key, block) in [("item", Block::Item), ("connector", Block::Connector)] {
        let read = tables(reader, f, key, block);
        items.extend(read.iter().filter_map(|item| read_item(reader, item, block)));
    }
    for f in tables(reader, f, "consumable", Block::Consumable) {
        if let Some((consumable, item)) = read_consumable(reader, &f) {
            own.consumables.insert(&consumable.id.value.clone(), consumable);
            items.push(item);
        }
    }
    // Of two that share an id, the first in the text is the one that counts.
    items.sort_by_key(|item| item.id.span);
    for item in items {
        add(reader, &mut own.items, item.id.clone(), item, |item| &item.id);
    }
    for circuit in tables(reader, f, "circuit", Block::Circuit) {
        if let Some(circuit) = read_circuit(reader, &circuit) {
            add(reader, &mut own.circuits, circuit.id.clone(), circuit, |circuit| &circuit.id);
        }
    }
    for tool in tables(reader, f, "tool", Block::Tool) {
        if let Some(tool) = read_tool(reader, &tool) {
            add(reader, &mut own.tools, tool.id.clone(), tool, |tool| &tool.id);
        }
    }
    // The cautions of a step are its own.
    let standing = if f.is_step() { Vec::new() } else { cautions(reader, f) };
    for caution in standing {
        match caution.id.clone() {
            Some(id) => add(reader, &mut own.cautions, id.clone(), caution, |caution| caution.id.as_ref().unwrap_or(&caution.hazard)),
            None => reader.findings.push(Finding::hold(
                RuleName::KeyMissing,
                reader.place(caution.hazard.span),
                "a caution outside the steps has no `id`, so that no step can show it",
                "give it an id and name the id in a step's `cautions`, or move it into the step's block",
            )),
        }
    }
    for vehicle in tables(reader, f, "vehicle", Block::Vehicle) {
        let (id, name) = (reader.id(&vehicle, "id"), reader.text(&vehicle, "name"));
        let (years, note) = (reader.text(&vehicle, "years"), reader.text(&vehicle, "note"));
        if let (Some(id), Some(name)) = (id, name) {
            add(reader, &mut own.vehicles, id.clone(), Vehicle { id, name, years, note }, |vehicle| &vehicle.id);
        }
    }
    let sources = if f.has_row("sources") { reader.named(f, "sources") } else { Vec::new() };
    for (id, name) in sources {
        add(reader, &mut own.sources, id.clone(), (id, name), |source| &source.0);
    }
}

/// Adds what the fields define and nothing defined before: a step that is written for several sides shares with the others what is the same.
pub(crate) fn define_more(reader: &mut Reader, f: &Fields<'_>, own: &mut Definitions) {
    let mut more = Definitions::default();
    let before = reader.findings.len();
    define(reader, f, &mut more);
    // What is wrong with it was told with the first side.
    reader.findings.truncate(before);
    fn new<T>(own: &mut Table<T>, more: Table<T>, id: fn(&T) -> &Text) {
        for row in more.rows {
            let id = id(&row).value.clone();
            if own.get(&id).is_none() {
                own.insert(&id, row);
            }
        }
    }
    new(&mut own.parts, more.parts, |row| &row.id);
    new(&mut own.hardware, more.hardware, |row| &row.id);
    new(&mut own.specs, more.specs, |row| &row.id);
    new(&mut own.items, more.items, |row| &row.id);
    new(&mut own.consumables, more.consumables, |row| &row.id);
    new(&mut own.circuits, more.circuits, |row| &row.id);
    new(&mut own.tools, more.tools, |row| &row.id);
}

/// The tables of a key, none where the block has no such key (the shop has no parts, a guide no vehicles).
fn tables<'t>(reader: &mut Reader, f: &Fields<'t>, name: &'static str, block: Block) -> Vec<Fields<'t>> {
    if f.has_row(name) { reader.tables(f, name, block) } else { Vec::new() }
}

fn add<T>(reader: &mut Reader, table: &mut Table<T>, id: Text, row: T, id_of: fn(&T) -> &Text) {
    let place = reader.place(id.span);
    if table.rows.len() >= bounds::MOST_ROWS {
        if !std::mem::replace(&mut reader.full, true) {
            let message = format!("there are more than {} of one kind, and they are read up to here", bounds::MOST_ROWS);
            reader.beyond(id.span.part(0..0), message, "part the guide, or move what others use too to the shop file");
        }
        return;
    }
    if let Some(earlier) = table.insert(&id.value, row) {
        let first = reader.place(id_of(earlier).span);
        reader.findings.push(
            Finding::hold(RuleName::IdTwice, place, format!("the id `{}` is given twice", id.value), "give one of the two another id")
                .with_related(first, "the first one"),
        );
    }
}

/// Parts, hardware and items answer to the same references in operations, so they must not share an id.
pub(crate) fn things_apart(reader: &mut Reader, own: &Definitions) {
    let mut clash = |id: &Text, other: Option<&Text>| {
        if let Some(other) = other {
            let (place, first) = (reader.place(id.span), reader.place(other.span));
            reader.findings.push(
                Finding::hold(
                    RuleName::IdTwice,
                    place,
                    format!("`{}` names two different things, so an operation on it is not clear", id.value),
                    "give one of the two another id",
                )
                .with_related(first, "the other one"),
            );
        }
    };
    for hardware in &own.hardware.rows {
        clash(&hardware.id, own.parts.get(&hardware.id.value).map(|part| &part.id));
    }
    for item in &own.items.rows {
        let other = own.parts.get(&item.id.value).map(|part| &part.id);
        clash(&item.id, other.or_else(|| own.hardware.get(&item.id.value).map(|hardware| &hardware.id)));
    }
}

fn read_part(reader: &mut Reader, f: &Fields<'_>) -> Option<Part> {
    let (id, name) = (reader.id(f, "id"), reader.text(f, "name"));
    let (number, supplied, spare) = (reader.text(f, "number"), reader.count(f, "supplied"), reader.count(f, "spare"));
    let when = reader.condition(f, "when");
    let (only, never) = states::read(reader, f);
    let (marks, note, hides) = (marks(reader, f), reader.text(f, "note"), reader.flag(f, "hides"));
    let uncounted = unread(f, "supplied", supplied) || unread(f, "spare", spare);
    if !unread(f, "supplied", supplied) {
        spares_within(reader, supplied.map_or(1, |count| count.value), spare);
    }
    Some(Part { id: id?, name: name?, number, supplied, spare, uncounted, when, only, never, marks, note, hides })
}

/// More spares than are supplied are a slip.
fn spares_within(reader: &mut Reader, supplied: u32, spare: Option<Spanned<u32>>) {
    if let Some(spare) = spare.filter(|spare| spare.value > supplied) {
        let message = format!("{} are to spare and only {supplied} are supplied", spare.value);
        reader.findings.push(Finding::hold(RuleName::TypeWrong, reader.place(spare.span), message, "correct `spare` or `supplied`"));
    }
}

/// Whether a key is there and its count could not be read.
fn unread(f: &Fields<'_>, name: &str, count: Option<Spanned<u32>>) -> bool {
    count.is_none() && f.key_span(name).is_some()
}

fn read_hardware(reader: &mut Reader, f: &Fields<'_>) -> Option<Hardware> {
    let (id, name) = (reader.id(f, "id"), reader.text(f, "name"));
    let kind = reader.word(f, "kind");
    let (thread, class, drive) = (reader.text(f, "thread"), reader.text(f, "class"), reader.text(f, "drive"));
    let length = reader.value(f, "length", Dimension::Length);
    let (supplied, on_vehicle) = (reader.count(f, "supplied"), reader.count(f, "on_vehicle"));
    let (spare, when) = (reader.count(f, "spare"), reader.condition(f, "when"));
    let (one_use, no_torque) = (reader.flag(f, "one_use"), reader.text(f, "no_torque"));
    let (note, hides) = (reader.text(f, "note"), reader.flag(f, "hides"));
    let uncounted = unread(f, "supplied", supplied) || unread(f, "on_vehicle", on_vehicle) || unread(f, "spare", spare);
    if !unread(f, "supplied", supplied) {
        spares_within(reader, supplied.map_or(0, |count| count.value), spare);
    }
    let (id, name) = (id?, name?);
    Some(Hardware {
        id,
        name,
        kind,
        thread,
        length,
        class,
        drive,
        supplied,
        on_vehicle,
        spare,
        uncounted,
        when,
        one_use,
        no_torque,
        note,
        hides,
    })
}

fn read_spec(reader: &mut Reader, f: &Fields<'_>) -> Option<Spec> {
    let id = reader.id(f, "id");
    let name = reader.text(f, "name");
    let of = reader.text(f, "for");
    let mut value: Option<Spanned<Stated>> = None;
    // A gauge stands for a section and has no exact area: it is carried as it is printed on the wire.
    let gauge = reader.gauge(f, "area");
    for key in keys_of(Block::Spec) {
        let Kind::Value(dimension) = key.kind else { continue };
        if key.name == "area" && gauge.is_some() {
            continue;
        }
        let Some(stated) = reader.value(f, key.name, dimension) else { continue };
        match &value {
            None => value = Some(stated),
            Some(first) => {
                let (place, earlier) = (reader.place(stated.span), reader.place(first.span));
                reader.findings.push(
                    Finding::hold(RuleName::TypeWrong, place, "this spec has two values", "write a spec of its own for each value")
                        .with_related(earlier, "the first value"),
                );
            }
        }
    }
    let designation = reader.text(f, "thread").or_else(|| reader.drill(f, "drill")).or(gauge);
    if let (Some(id), None, None) = (&id, &value, &designation) {
        let valued = |key: &&Key| matches!(key.kind, Kind::Value(_)) || matches!(key.name, "thread" | "drill");
        let any = keys_of(Block::Spec).filter(valued).any(|key| f.key_span(key.name).is_some());
        if !any {
            let place = reader.place(id.span);
            reader.findings.push(Finding::hold(
                RuleName::KeyMissing,
                place,
                format!("the spec `{}` has no value", id.value),
                "add the value with its unit under the key for what it measures, such as torque, length or pressure",
            ));
        }
    }
    let source = reader.text(f, "source");
    let pattern = reader.word(f, "pattern");
    let stages = reader.texts(f, "stages");
    let condition = reader.word(f, "condition");
    let (rows, order) = (reader.count(f, "rows"), reader.text(f, "order"));
    let (into, locker, lubricant) = (reader.word(f, "into"), reader.text(f, "locker"), reader.text(f, "lubricant"));
    let retorque = reader.text(f, "retorque");
    let tolerance = crate::guide::shop::share(reader, f, "tolerance", "a torque");
    let (note, hides) = (reader.text(f, "note"), reader.flag(f, "hides"));
    let id = id?;
    Some(Spec {
        id,
        name,
        of,
        value,
        hand_then: f.key_span("hand_then").is_some(),
        designation,
        source,
        pattern,
        rows,
        order,
        stages,
        condition,
        into,
        locker,
        lubricant,
        retorque,
        tolerance,
        note,
        hides,
    })
}

/// What is used up, and the item that operations act on.
fn read_consumable(reader: &mut Reader, f: &Fields<'_>) -> Option<(Consumable, Item)> {
    let (id, name) = (reader.id(f, "id"), reader.text(f, "name"));
    let (amount, number) = (reader.text(f, "amount"), reader.text(f, "number"));
    let (buy, marks, when) = (reader.flag(f, "buy"), marks(reader, f), reader.condition(f, "when"));
    let (note, hides) = (reader.text(f, "note"), reader.flag(f, "hides"));
    let (id, name) = (id?, name?);
    let item = Item { marks, when: when.clone(), note: note.clone(), hides, ..Item::named(id.clone(), name.clone()) };
    Some((Consumable { id, name, amount, number, buy, when, note }, item))
}

fn read_item(reader: &mut Reader, f: &Fields<'_>, block: Block) -> Option<Item> {
    let (id, name) = (reader.id(f, "id"), reader.text(f, "name"));
    let marks = marks(reader, f);
    let connector = block == Block::Connector;
    let isolates = mark_words(reader, f, "isolates");
    let from_below = reader.yes_or_no(f, "from_below");
    let (only, never) = states::read(reader, f);
    let (behind, stays) = (reader.texts(f, "behind"), reader.text(f, "stays"));
    let (open_at_start, when) = (reader.flag(f, "open_at_start"), reader.condition(f, "when"));
    let (mut pins, mut layout, mut seen_from) = (Vec::new(), Vec::new(), None);
    if connector {
        pins = reader.tables(f, "pin", Block::Pin).iter().filter_map(|pin| read_pin(reader, pin)).collect();
        (layout, seen_from) = (reader.texts(f, "layout"), reader.word(f, "seen_from"));
    }
    let (note, hides) = (reader.text(f, "note"), reader.flag(f, "hides"));
    let (id, name) = (id?, name?);
    Some(Item {
        id,
        name,
        pins,
        layout,
        seen_from,
        connector,
        marks,
        isolates,
        from_below,
        only,
        never,
        behind,
        stays,
        open_at_start,
        when,
        note,
        hides,
    })
}

fn read_pin(reader: &mut Reader, f: &Fields<'_>) -> Option<Pin> {
    let at = reader.text(f, "at");
    let (what, colour, wire) = (reader.text(f, "what"), reader.text(f, "colour"), reader.text(f, "wire"));
    Some(Pin { at: at?, what, colour, wire })
}

fn read_circuit(reader: &mut Reader, f: &Fields<'_>) -> Option<Circuit> {
    let (id, name, wire) = (reader.id(f, "id"), reader.text(f, "name"), reader.text(f, "wire"));
    let current = reader.value(f, "current", Dimension::Current);
    let (length, voltage) = (reader.value(f, "length", Dimension::Length), reader.value(f, "voltage", Dimension::Voltage));
    let fuse = reader.value(f, "fuse", Dimension::Current);
    let fuse_type = reader.word(f, "fuse_type");
    let (through, source) = (reader.texts(f, "through"), reader.text(f, "source"));
    Some(Circuit { id: id?, name: name?, wire, current, length, voltage, fuse, fuse_type, through, source })
}

/// The shop's limits for wires.
pub(crate) fn wires(reader: &mut Reader, f: &Fields<'_>) -> Vec<WireLimit> {
    let mut wires = Vec::new();
    for f in reader.tables(f, "wire", Block::Wire) {
        let (wire, current) = (reader.text(&f, "wire"), reader.value(&f, "current", Dimension::Current));
        let source = reader.text(&f, "source");
        if let (Some(wire), Some(current)) = (wire, current) {
            wires.push(WireLimit { wire, current, source });
        }
    }
    wires
}

fn read_tool(reader: &mut Reader, f: &Fields<'_>) -> Option<Tool> {
    let (id, name) = (reader.id(f, "id"), reader.text(f, "name"));
    let sizes = reader.texts(f, "sizes");
    let drives = sizes.iter().map(|size| DriveText::new(&size.value)).collect();
    let range = reader.value(f, "range", Dimension::Torque);
    let (lever, offset) = (reader.value(f, "lever", Dimension::Length), reader.value(f, "offset", Dimension::Length));
    let square = reader.value(f, "square", Dimension::Length);
    let (number, calibrated_until) = (reader.text(f, "number"), reader.date(f, "calibrated_until"));
    let (note, hides) = (reader.text(f, "note"), reader.flag(f, "hides"));
    Some(Tool { id: id?, name: name?, sizes, drives, range, lever, offset, square, number, calibrated_until, note, hides })
}

/// The cautions of a block.
pub(crate) fn cautions(reader: &mut Reader, f: &Fields<'_>) -> Vec<Caution> {
    let mut cautions = Vec::new();
    for f in tables(reader, f, "caution", Block::Caution) {
        let id = reader.id(&f, "id");
        let signal = reader.word(&f, "signal");
        let (hazard, result, avoid) = (reader.text(&f, "hazard"), reader.text(&f, "result"), reader.text(&f, "avoid"));
        let until = reader.text(&f, "until");
        let covers = mark_words(reader, &f, "covers");
        let when: Condition = reader.condition(&f, "when");
        let hides = reader.flag(&f, "hides");
        let signal = signal.and_then(|text| {
            let signal = [Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice];
            signal.into_iter().find(|signal| signal.key() == text.value).map(|signal| Spanned::new(signal, text.span))
        });
        if let (Some(signal), Some(hazard)) = (signal, hazard) {
            cautions.push(Caution { id, signal, hazard, result, avoid, until, covers, when, hides });
        }
    }
    cautions
}

/// The acceptances of a block, which speak for `scope`.
pub(crate) fn accept(reader: &mut Reader, f: &Fields<'_>, scope: Span) -> Vec<Acceptance> {
    let mut acceptances = Vec::new();
    for f in reader.tables(f, "accept", Block::Accept) {
        if let (Some(rule), Some(reason)) = (reader.text(&f, "rule"), reader.text(&f, "reason")) {
            acceptances.push(Acceptance { rule, reason, scope });
        }
    }
    acceptances
}

fn marks(reader: &mut Reader, f: &Fields<'_>) -> Vec<Text> {
    mark_words(reader, f, "marks")
}

/// A list of marks; unknown words are told, since a misspelt mark would silently ask for no caution.
fn mark_words(reader: &mut Reader, f: &Fields<'_>, name: &'static str) -> Vec<Text> {
    let known = if name == "isolates" { crate::guide::keys::ISOLATED } else { crate::guide::keys::MARKS };
    let mut words = Vec::new();
    for word in reader.texts(f, name) {
        if known.contains(&word.as_str()) {
            words.push(word);
            continue;
        }
        let near = nearest(&word.value.to_lowercase(), known.iter().copied());
        let remedy = format!("use words of this list: {}{}", known.join(", "), crate::near::did_you_mean(near));
        let mut finding = Finding::hold(RuleName::TypeWrong, reader.place(word.span), format!("`{}` is not a mark", word.value), remedy);
        if let Some(near) = near {
            finding = finding.with_suggestion(word.span, near);
        }
        reader.findings.push(finding);
        // The mark that was meant counts all the same, so that the slip is told once.
        words.extend(near.map(|near| Spanned::new(near.to_owned(), word.span)));
    }
    words
}
