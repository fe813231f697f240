//! What the facts say of danger: what cuts a battery off, what is a fuse, what is under pressure, when an engine runs. A key or a mark
//! says it first; where guides say it only by a name or a sentence, the trade's words are read. What follows from it is left to
//! `ledger::orders`.

use crate::guide::model::{Guide, Item, Operation, Spec, Step, Text};
use crate::guide::names::{Names, Thing};
use crate::guide::verb::Verb;
use crate::quantity::Dimension;

/// The words of a text in lower case, without marks.
pub(super) fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// The words of a thing's name and id.
fn words_of(thing: Thing<'_>) -> Vec<String> {
    let mut all = words(thing.name());
    all.extend(words(thing.id().as_str()));
    all
}

/// Whether one of the words is one of these; one that starts with `*` may stand anywhere in a word, as German compounds ask for.
fn any(words: &[String], of: &[&str]) -> bool {
    words.iter().any(|word| of.iter().any(|one| one.strip_prefix('*').map_or(word == one, |part| word.contains(part))))
}

const BATTERY: &[&str] = &["battery", "batteries", "*batterie"];
const NEGATIVE: &[&str] = &["negative", "neg", "minus", "*minuskabel", "*minuspol", "*minusklemme"];
const POSITIVE: &[&str] = &["positive", "pos", "plus", "*pluskabel", "*pluspol", "*plusklemme"];
const SWITCHES: &[&str] = &["isolator", "disconnector", "*trennschalter", "*hauptschalter"];
/// What belongs to a battery or a fuse and carries no current.
const FITTINGS: &[&str] = &[
    "cover",
    "cap",
    "caps",
    "boot",
    "box",
    "label",
    "bracket",
    "tray",
    "holder",
    "holders",
    "carrier",
    "panel",
    "clamp",
    "strap",
    "sleeve",
    "puller",
    "mat",
    "hold",
    "down",
    "insulation",
    "cradle",
    "case",
    "*halter",
    "*kasten",
    "*abdeckung",
    "*kappe",
];
/// What stands beside the word battery where the whole battery is meant.
const PLAIN: &[&str] = &[
    "the",
    "of",
    "starter",
    "vehicle",
    "van",
    "main",
    "lead",
    "leads",
    "cable",
    "cables",
    "connector",
    "plug",
    "terminal",
    "terminals",
    "post",
    "posts",
];
/// Batteries other than the one that starts the engine.
const SECOND: &[&str] = &["second", "auxiliary", "aux", "leisure", "service", "house", "habitation", "additional", "extra", "*zweit"];

/// Whether nothing of these marks is live while the item is off, apart or switched off.
pub(super) fn isolates(item: &Item, mark: &str) -> bool {
    if !item.isolates.is_empty() {
        return item.isolates.iter().any(|isolated| isolated.value == mark);
    }
    mark == "battery" && named_isolator(item)
}

fn named_isolator(item: &Item) -> bool {
    let (name, all) = (words(item.name.as_str()), words_of(Thing::Item(item)));
    let of_battery = item.marks.iter().any(|mark| mark.value == "battery") || any(&all, BATTERY);
    // A clamp is the lead's end here.
    let fitting = any(&name, FITTINGS) && !any(&name, &["clamp", "strap"]);
    let whole = any(&name, BATTERY) && name.iter().all(|word| any(std::slice::from_ref(word), BATTERY) || PLAIN.contains(&word.as_str()));
    let switch = any(&all, SWITCHES) || any(&all, &["switch"]) && any(&all, &["battery", "master", "main", "kill"]);
    of_battery && !fitting && !any(&all, POSITIVE) && (any(&all, NEGATIVE) || switch || whole)
}

/// Whether the name says that it belongs to a battery other than the starter's.
pub(super) fn is_second(item: &Item) -> bool {
    any(&words_of(Thing::Item(item)), SECOND)
}

/// The negative leads of batteries that feed one vehicle side by side, as their names tell: each leaves it live while another is on.
pub(super) fn side_by_side<'g>(isolators: impl Iterator<Item = Thing<'g>>) -> Vec<&'g str> {
    const APART: &[&str] =
        &["left", "right", "first", "other", "front", "rear", "upper", "lower", "a", "b", "one", "two", "1", "2", "*linke", "*rechte"];
    let negative = |thing: Thing<'g>| {
        let (name, minus) = pole(thing)?;
        let (apart, rest): (Vec<String>, Vec<String>) = words(&name).into_iter().partition(|word| any(std::slice::from_ref(word), APART));
        (minus && !apart.is_empty()).then(|| (thing.id().as_str(), rest, apart))
    };
    let named: Vec<_> = isolators.filter_map(negative).collect();
    let has_peer = |one: &(&str, Vec<String>, Vec<String>)| named.iter().any(|other| other.1 == one.1 && other.2 != one.2);
    named.iter().filter(|one| has_peer(one)).map(|one| one.0).collect()
}

/// Whether it is a battery itself, which carries a charge wherever it stands.
pub(super) fn is_battery(thing: Thing<'_>) -> bool {
    let name = thing.name().split(',').next().unwrap_or_default();
    let name = words(name);
    any(&name, BATTERY)
        && !any(&name, FITTINGS)
        && !any(
            &name,
            &["lead", "leads", "cable", "cables", "connector", "plug", "terminal", "monitor", "shunt", "switch", "fuse", "charger", "post"],
        )
        && !any(&name, NEGATIVE)
        && !any(&name, POSITIVE)
}

/// Whether it is a fuse, and not what holds it.
pub(super) fn is_fuse(thing: Thing<'_>) -> bool {
    let name = words(thing.name());
    any(&name, &["fuse", "fuses", "*sicherung"])
        && !any(&name, FITTINGS)
        && !any(&name, &["tap", "nut", "bolt", "screw", "lead", "cable", "sicherungsautomat"])
}

/// The name of a pole without the word for it, and whether it is the negative one; none for things that have no pole.
pub(super) fn pole(thing: Thing<'_>) -> Option<(String, bool)> {
    let name = words(thing.name());
    let (minus, plus) = (any(&name, NEGATIVE), any(&name, POSITIVE));
    if minus == plus
        || !(any(&name, BATTERY) || thing.marks().iter().any(|mark| mark.value == "battery"))
        || any(&name, &["cover", "cap", "boot", "label"])
    {
        return None;
    }
    let rest: Vec<&str> = name
        .iter()
        .filter(|word| !any(std::slice::from_ref(word), NEGATIVE) && !any(std::slice::from_ref(word), POSITIVE))
        .map(String::as_str)
        .collect();
    Some((rest.join(" "), minus))
}

/// Whether a mark is on a thing.
pub(super) fn has_mark(thing: Thing<'_>, mark: &str) -> bool {
    thing.marks().iter().any(|one| one.value == mark)
}

/// The marks of a thing that say that something presses in it.
pub(super) fn pressed(thing: Thing<'_>) -> Vec<&str> {
    let mut marks: Vec<&str> =
        thing.marks().iter().map(Text::as_str).filter(|mark| matches!(*mark, "pressure" | "gas" | "refrigerant")).collect();
    if has_mark(thing, "fuel") && (!marks.is_empty() || any(&words_of(thing), &["pressure", "rail", "injection", "*hochdruck"])) {
        marks.push("fuel");
    }
    marks
}

/// Whether work on it is a look behind the panel: it lies behind one by its name, or it is what a drill must not meet.
pub(super) fn lies_behind(thing: Thing<'_>) -> bool {
    const BEHIND: &[&str] = &[
        "underside",
        "behind",
        "inside",
        "inner",
        "back",
        "beneath",
        "below",
        "under",
        "underneath",
        "cavity",
        "*unterseite",
        "*rückseite",
    ];
    const MET: &[&str] = &["fuel", "brakes", "battery", "high-voltage", "mains", "gas", "refrigerant", "pressure"];
    any(&words_of(thing), BEHIND) || thing.marks().iter().any(|mark| MET.contains(&mark.as_str()))
}

/// Whether a look behind one thing tells what lies behind this panel, where others are cut too: it may name this one, or none of them.
pub(super) fn behind_this(seen: Thing<'_>, panel: Thing<'_>, others: &[Thing<'_>]) -> bool {
    let seen = words(seen.name());
    let names = |panel: Thing<'_>| words(panel.name()).iter().any(|word| PANELS.contains(&word.as_str()) && seen.contains(word));
    names(panel) || !others.iter().any(|other| names(*other))
}

/// Whether it lines a panel, so that the panel's back is seen once it is off.
pub(super) fn is_lining(thing: Thing<'_>) -> bool {
    any(&words_of(thing), &["trim", "trims", "liner", "lining", "headliner", "headlining", "cladding", "*verkleidung", "*himmel"])
}

/// Parts of a body, by the word that a name has for them.
const PANELS: &[&str] = &[
    "panel",
    "skin",
    "floor",
    "roof",
    "wall",
    "door",
    "sheet",
    "bulkhead",
    "firewall",
    "dashboard",
    "partition",
    "sill",
    "*blech",
    "*boden",
    "*dach",
    "*wand",
];

/// Whether cutting it may go through into something: a part of the body, not a hose or a carpet.
pub(super) fn is_panel(thing: Thing<'_>) -> bool {
    has_mark(thing, "cutting") || any(&words_of(thing), PANELS)
}

/// Whether drilling it only drills out a fastener.
pub(super) fn is_fastener(thing: Thing<'_>) -> bool {
    matches!(thing, Thing::Hardware(_))
        || any(&words_of(thing), &["rivet", "rivets", "bolt", "bolts", "screw", "screws", "stud", "studs", "weld", "welds"])
}

/// Whether a fluid of the engine, the drive or the brakes is meant, which must be in before the engine runs.
pub(super) fn is_working_fluid(thing: Thing<'_>) -> bool {
    const FLUIDS: &[&str] =
        &["*oil", "*coolant", "*fluid", "*antifreeze", "*lubricant", "*fuel", "*diesel", "öl", "*motoröl", "*getriebeöl", "*kühlmittel"];
    // The engine runs without washer fluid and without water in the tank.
    let words = words_of(thing);
    !any(&words, &["washer", "screenwash", "water", "waste", "*wischwasser"]) && any(&words, FLUIDS)
        || thing.marks().iter().any(|mark| matches!(mark.as_str(), "hot" | "pressure" | "fuel" | "brakes" | "steering" | "refrigerant"))
}

/// Whether it is a level or what shows one.
pub(super) fn is_level(thing: Thing<'_>) -> bool {
    any(&words_of(thing), &["level", "levels", "dipstick", "*füllstand", "*ölstand"])
}

/// Whether an operation reads a level, and not only the temperature of a fluid.
pub(super) fn reads_level(step: &Step<'_>, operation: &Operation, thing: Thing<'_>, names: Names<'_>) -> bool {
    match operation.verb {
        Verb::Inspect => is_level(thing),
        Verb::Measure => {
            let specs: Vec<&Spec> = operation.specs.iter().filter_map(|id| names.spec(&id.value)).collect();
            let only_warmth = !specs.is_empty() && specs.iter().all(|spec| measures(spec, Dimension::Temperature));
            is_level(thing) || !only_warmth || any(&words(step.title.as_str()), &["level", "levels"])
        }
        _ => false,
    }
}

/// Whether a spec's value is of this kind.
pub(super) fn measures(spec: &Spec, dimension: Dimension) -> bool {
    spec.quantity().is_some_and(|quantity| quantity.dimension == dimension)
}

/// Whether its name says that it is only reached from below, so that the vehicle stands raised for work on it.
pub(super) fn below_by_name(item: &Item) -> bool {
    const BELOW: &[&str] = &["undertray", "underside", "underbody", "underguard", "sump", "*unterboden", "*ölwanne"];
    // The underside of a seat is seen with the seat turned over.
    const ABOVE: &[&str] = &["seat", "bonnet", "hood", "lid", "table", "bed", "bunk", "shelf", "drawer", "dashboard", "cushion", "cabinet"];
    let words = words_of(Thing::Item(item));
    // The underside of the floor is the vehicle's, whatever stands on the floor.
    let underside = any(&words, &["underside"]) && any(&words, &["floor", "vehicle", "van"]);
    underside || any(&words, BELOW) && !any(&words, ABOVE)
}

/// Whether raising it raises the vehicle.
pub(super) fn is_vehicle(thing: Thing<'_>) -> bool {
    const VEHICLES: &[&str] = &["vehicle", "van", "car", "truck", "bus", "trailer", "chassis", "axle", "*fahrzeug"];
    // What moves on a vehicle that stays where it is, or is lifted out of it.
    const PARTS: &[&str] = &[
        "bonnet",
        "hood",
        "seat",
        "seats",
        "door",
        "doors",
        "tailgate",
        "boot",
        "lid",
        "flap",
        "hatch",
        "roof",
        "bed",
        "bench",
        "window",
        "windows",
        "mirror",
        "aerial",
        "antenna",
        "engine",
        "motor",
        "gearbox",
        "transmission",
        "battery",
        "tank",
        "awning",
        "step",
        "*haube",
        "*sitz",
        "*dach",
        "*klappe",
    ];
    // "Van, with the bonnet open" is the van.
    let name = words(thing.name().split(',').next().unwrap_or_default());
    let end = name.iter().all(|word| matches!(word.as_str(), "the" | "front" | "rear" | "end"));
    !any(&name, PARTS) && (has_mark(thing, "lifting") || any(&words_of(thing), VEHICLES) || end && !name.is_empty())
}

/// Whether starting it starts the engine.
pub(super) fn is_engine(thing: Thing<'_>) -> bool {
    any(&words_of(thing), &["engine", "motor", "vehicle", "van"])
}

/// Whether what must be so before work starts says that the vehicle is cold.
pub(super) fn cold_at_start(guide: &Guide<'_>) -> bool {
    const WARM: &[&str] = &[
        "engine",
        "vehicle",
        "van",
        "car",
        "truck",
        "bus",
        "coolant",
        "exhaust",
        "fluid",
        "oil",
        "transmission",
        "gearbox",
        "radiator",
        "system",
        "circuit",
        "*motor",
        "*fahrzeug",
        "*getriebe",
        "*kühl",
        "*abgas",
    ];
    guide.before.iter().any(|text| {
        let words = words(text.as_str());
        any(&words, &["cold", "cooled", "cool", "kalt", "abgekühlt"]) && any(&words, WARM) && !any(&words, NOT)
    })
}

/// Whether what must be so before work starts says that the battery is off.
pub(super) fn isolated_before(guide: &Guide<'_>) -> bool {
    // What is plugged into a battery may be off while the battery itself is on.
    const OTHERS: &[&str] = &["charger", "ladegerät", "monitor", "tester"];
    guide.before.iter().any(|text| isolated_in(text.as_str(), OTHERS))
}

fn isolated_in(text: &str, others: &[&str]) -> bool {
    let mut subject: Vec<String> = Vec::new();
    for part in text.to_lowercase().replace(" and ", ",").replace(" und ", ",").split([',', ';', '.']) {
        let said = words(part);
        let states = any(&said, &["is", "are", "been", "was", "were", "ist", "sind", "wurde", "wurden"]);
        // Of "battery and solar panel are off" the verb comes with the second.
        subject.extend(said);
        if !states {
            continue;
        }
        let whole = std::mem::take(&mut subject);
        let off = any(&whole, &["disconnected", "isolated", "off", "dead", "abgeklemmt", "getrennt"]);
        if off && any(&whole, BATTERY) && !any(&whole, others) && !any(&whole, NOT) {
            return true;
        }
    }
    false
}

/// What turns a sentence into its opposite.
const NOT: &[&str] = &["not", "no", "never", "until", "nicht", "kein", "keine", "nie", "bis"];

/// What a step makes the engine do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Run {
    /// It runs.
    Engine,
    /// The vehicle is driven.
    Drive,
}

/// What the heading and the words of a step say of the engine, where no operation says it.
pub(super) fn run_in_words(step: &Step<'_>) -> Option<Run> {
    let mut sentences = vec![step.title.value.to_lowercase()];
    sentences.extend(step.prose.commands().to_lowercase().split(['.', ';', '!']).map(str::to_owned));
    sentences.iter().filter_map(|sentence| run_in(sentence)).max()
}

fn run_in(sentence: &str) -> Option<Run> {
    let words: Vec<&str> = sentence.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let starts = |with: &[&[&str]]| {
        let mut words = words.iter();
        with.iter().all(|alternatives| words.next().is_some_and(|word| alternatives.contains(word)))
    };
    let vehicle: &[&str] = &["van", "vehicle", "car", "truck", "bus", "motorhome", "camper"];
    // Moving the vehicle in the yard is no test of it.
    let moved = words
        .iter()
        .any(|word| matches!(*word, "onto" | "into" | "in" | "out" | "off" | "over" | "back" | "forward" | "backward" | "lift" | "ramp"));
    let drives = starts(&[&["drive"], &["the", "your"], vehicle]) && !moved
        || starts(&[&["take"], &["the"], vehicle, &["for", "on"]])
        || starts(&[&["road"], &["test"]])
        || starts(&[&["test"], &["drive"]])
        || starts(&[&["make", "do", "carry", "go"], &["a", "the", "out", "for", "on"], &["road", "test", "a"], &["test", "drive", "road"]])
        || words.first().is_some_and(|word| word.starts_with("probefahrt"))
        || starts(&[&["eine"], &["probefahrt"]]);
    if drives {
        return Some(Run::Drive);
    }
    let runs = starts(&[&["start", "run", "crank"], &["the"], &["engine", "motor"]])
        || starts(&[&["let"], &["the"], &["engine", "motor"], &["run", "idle", "warm", "turn"]])
        || (starts(&[&["den"], &["motor"]]) || starts(&[&["motor"]]))
            && words.iter().any(|word| matches!(*word, "starten" | "anlassen" | "laufen"))
            && !words.contains(&"nicht");
    runs.then_some(Run::Engine)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::read;
    use crate::guide::shop::unnamed;
    use crate::source::{FileId, SourceFile};

    fn with_item<T>(facts: &str, look: impl Fn(&Item) -> T) -> T {
        let source = SourceFile::new("a.md", format!("+++\ntitle = \"T\"\n\n[[item]]\nid = \"x\"\n{facts}\n+++\n"));
        let shop = unnamed();
        let (guide, _) = read(&source, FileId(0), "a", &shop);
        look(&guide.own.items.rows[0])
    }

    /// Names as shops give them, from memory; common practice: the negative lead or the isolator cuts the battery off.
    #[test]
    fn what_cuts_the_battery_off_is_known_by_its_name() {
        for (name, cuts) in [
            ("Battery negative lead", true),
            ("Negative clamp of the battery", true),
            ("Battery isolator", true),
            ("Battery master switch", true),
            ("Minuskabel der Batterie", true),
            ("Starter battery", true),
            ("Battery", true),
            ("Battery leads", true),
            ("Battery positive lead", false),
            ("Battery cover", false),
            ("Cap of the negative battery post", false),
            ("Battery charger", false),
            ("Solar cable plug pair", false),
            ("Ignition", false),
            ("Battery tray", false),
        ] {
            assert_eq!(with_item(&format!("name = \"{name}\""), |item| isolates(item, "battery")), cuts, "{name}");
        }
        assert!(with_item("name = \"Service plug\"\nisolates = [\"high-voltage\"]", |item| isolates(item, "high-voltage")));
        assert!(!with_item("name = \"Battery negative lead\"\nisolates = [\"mains\"]", |item| isolates(item, "battery")));
    }

    #[test]
    fn a_fuse_is_not_its_holder() {
        for (name, is) in [
            ("Front fuse, 60 A", true),
            ("Module fuse", true),
            ("Front fuse holder", false),
            ("Fuse box cover", false),
            ("Nut of the fuse", false),
            ("Sicherung 30 A", true),
            ("Sicherungshalter", false),
        ] {
            assert_eq!(with_item(&format!("name = \"{name}\""), |item| is_fuse(Thing::Item(item))), is, "{name}");
        }
    }

    #[test]
    fn the_engine_runs_where_a_sentence_says_so() {
        for (sentence, run) in [
            ("start the engine with the exhaust hose in place", Some(Run::Engine)),
            ("run the engine", Some(Run::Engine)),
            ("drive the van until the engine is warm", Some(Run::Drive)),
            ("drive the van onto the lift", None),
            ("drive the van out of the bay", None),
            ("road-test the van", Some(Run::Drive)),
            ("carry out a road test", Some(Run::Drive)),
            ("before you start the engine, put the exhaust hose on", None),
            ("do not start the engine", None),
            ("den motor starten", Some(Run::Engine)),
            ("den motor zwei minuten laufen lassen", Some(Run::Engine)),
            ("den motor abstellen", None),
            ("den motor abkühlen lassen", None),
            ("den motor nicht starten", None),
            ("let the engine idle for two minutes", Some(Run::Engine)),
            ("let the engine cool", None),
            ("stop the engine", None),
        ] {
            assert_eq!(run_in(sentence), run, "{sentence}");
        }
    }

    /// Sentences as shops write them, from memory.
    #[test]
    fn the_battery_is_off_before_only_where_the_battery_is_meant() {
        for (text, off) in [
            ("The battery is disconnected", true),
            ("Both batteries are isolated, and their leads are taped", true),
            ("Battery and solar panel are disconnected", true),
            ("The ignition is off and the battery is isolated", true),
            ("Die Batterie ist abgeklemmt", true),
            ("The battery is charged and the ignition is off", false),
            ("The battery charger is disconnected", false),
            ("No battery is disconnected yet", false),
            ("The battery is not disconnected", false),
            ("The battery is full", false),
        ] {
            assert_eq!(isolated_in(text, &["charger"]), off, "{text}");
        }
    }

    #[test]
    fn raising_a_part_of_the_vehicle_does_not_raise_the_vehicle() {
        for (name, is) in [
            ("Van", true),
            ("Vehicle on the lift", true),
            ("Van, with the bonnet open", true),
            ("Rear axle", true),
            ("Front", true),
            ("Fahrzeug", true),
            ("Bonnet of the van", false),
            ("Rear seat", false),
            ("Front bonnet", false),
            ("Tailgate of the van", false),
            ("Rear bumper", false),
        ] {
            assert_eq!(with_item(&format!("name = \"{name}\""), |item| is_vehicle(Thing::Item(item))), is, "{name}");
        }
        assert!(!with_item("name = \"Engine\"\nmarks = [\"lifting\"]", |item| is_vehicle(Thing::Item(item))));
        assert!(with_item("name = \"Two-post lift\"\nmarks = [\"lifting\"]", |item| is_vehicle(Thing::Item(item))));
    }
}
