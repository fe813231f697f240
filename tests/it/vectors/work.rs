//! Work on a vehicle and its record: small guides with every kind of entry, records of work that was done more or less, and what is missing
//! in them, in either order of units. The record's file itself goes both ways as well.

use bayleaf::document::Document;
use bayleaf::document::build::{self, Input};
use bayleaf::document::chosen::Chosen;
use bayleaf::guide;
use bayleaf::guide::model::Shop;
use bayleaf::guide::picture::Pictures;
use bayleaf::quantity;
use bayleaf::site::guide_page;
use bayleaf::source::{FileId, SourceFile};
use bayleaf::theme::data::{Guide, NamedValue, Operation, Reads, Step, Value as Stated};

use super::*;

/// How many guides there are.
const GUIDES: usize = 16;

fn shop(units: &str) -> Shop {
    let text = format!(
        "name = \"Tern Hollow Van Works\"\nlanguage = \"en\"\nunits = \"{units}\"\n\n[[vehicle]]\nid = \"marlin\"\nname = \"Marlin\"\n\n[[vehicle]]\nid = \"whimbrel\"\nname = \"Whimbrel\"\n\n[[tool]]\nid = \"tw-5\"\nname = \"Torque wrench, large\"\nrange = \"4..80 N·m\"\nnumber = \"TW-05\"\ncalibrated_until = 2026-11-26\n"
    );
    guide::read_shop(&SourceFile::new("shop.toml", text), FileId(0)).0
}

/// A guide as the program knows it, and as its page tells it to the scripts.
pub(super) struct Both {
    pub(super) document: Document,
    pub(super) page: Guide,
}

impl std::ops::Deref for Both {
    type Target = Guide;

    fn deref(&self) -> &Guide {
        &self.page
    }
}

/// A guide in either order of units.
pub(super) struct Pages {
    pub(super) metric: Both,
    pub(super) imperial: Both,
}

/// The text of a small guide in which anything may depend on an option.
fn text(dice: &mut Dice) -> String {
    let mut text = String::from("+++\ntitle = \"Demonstration\"\ndocument = \"TH-1\"\nrevision = \"A\"\ntools = [\"tw-4\"]\n");
    text.push_str(dice.of(&["", "fits = [\"marlin\"]\n", "fits = [\"marlin\", \"whimbrel\"]\n"]));
    for (key, list) in [("before", ["Level ground", "Second person"]), ("final_check", ["Lamp out", "No tool left"])] {
        let many = dice.below(3);
        text.push_str(&format!("{key} = {:?}\n", &list[..many]));
    }
    for (id, more) in [
        ("tow-pack", ""),
        ("manual", "one_of = \"gearbox\"\n"),
        ("automatic", "one_of = \"gearbox\"\n"),
        ("heated", "not_with = [\"manual\"]\n"),
    ] {
        text.push_str(&format!("\n[[option]]\nid = \"{id}\"\nname = \"Option {id}\"\n{more}"));
    }
    text.push_str(
        "\n[[tool]]\nid = \"tw-4\"\nname = \"Torque wrench\"\nrange = \"20..60 N·m\"\nnumber = \"TW-04\"\ncalibrated_until = 2026-11-25\n",
    );
    text.push_str("\n[[connector]]\nid = \"plug\"\nname = \"Plug, grey\"\n\n[[item]]\nid = \"cover\"\nname = \"Cover\"\n\n[[item]]\nid = \"seat\"\nname = \"Seat\"\n");
    text.push_str("\n[[hardware]]\nid = \"bolt\"\nname = \"Rail bolt\"\nthread = \"M10x1.5\"\nclass = \"10.9\"\non_vehicle = 4\n");
    text.push_str("\n[[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"45 N·m (33 lb·ft)\"\nstages = [\"50 %\", \"100 %\"]\n");
    text.push_str("\n[[spec]]\nid = \"stretch\"\ntorque = \"30 N·m + 90°\"\n\n[[spec]]\nid = \"light\"\ntorque = \"max 44 lb·in\"\n");
    text.push_str("\n[[spec]]\nid = \"voltage\"\nname = \"Voltage at the post\"\nvoltage = \"14.4 ± 0.2 V\"\n");
    text.push_str("\n[[spec]]\nid = \"gap\"\nname = \"Gap of the door\"\nlength = \"max 200 mm\"\n");
    text.push_str("\n[[spec]]\nid = \"cold\"\nname = \"Cold\"\ntemperature = \"-20 °C\"\n+++\n");
    let when = |dice: &mut Dice| match dice.below(6) {
        0 => ", when = \"tow-pack\"".to_owned(),
        1 => ", when = [\"heated\", \"not tow-pack\"]".to_owned(),
        2 => ", when = \"manual\"".to_owned(),
        _ => String::new(),
    };
    for step in 1..=2 + dice.below(2) {
        let mut operations = Vec::new();
        for _ in 0..1 + dice.below(4) {
            let when = when(dice);
            let count = 1 + dice.below(4);
            operations.push(match dice.below(10) {
                0 => format!("{{ disconnect = \"plug\"{when} }}"),
                1 => format!("{{ connect = \"plug\"{when} }}"),
                2 => format!("{{ remove = \"{}\"{when} }}", dice.of(&["cover", "seat"])),
                3 => format!("{{ fit = \"{}\"{when} }}", dice.of(&["cover", "seat"])),
                4 => format!("{{ loosen = \"bolt\", hardware = \"{count} x bolt\"{when} }}"),
                5 | 6 => format!(
                    "{{ tighten = \"bolt\", hardware = \"{count} x bolt\", torque = \"{}\"{when} }}",
                    dice.of(&["bolt", "stretch", "light"])
                ),
                7 => format!("{{ measure = \"seat\", specs = [\"voltage\", \"gap\"]{when} }}"),
                8 => format!("{{ inspect = \"cover\", specs = [\"cold\"], note = \"by hand\"{when} }}"),
                _ => format!("{{ clean = \"seat\"{when} }}"),
            });
        }
        text.push_str(&format!("\n## Step {step}\n\n+++\nid = \"s{step}\"\ndo = [\n  {},\n]\n", operations.join(",\n  ")));
        if dice.often(30) {
            text.push_str("check = [\"It turns freely\"]\n");
        }
        if dice.often(30) {
            text.push_str("wait = \"3 min\"\n");
        }
        if dice.often(30) {
            text.push_str("hold_point = \"Inspector\"\n");
        }
        if dice.often(25) {
            text.push_str(&format!("when = \"{}\"\n", dice.of(&["automatic", "not heated"])));
        }
        text.push_str("+++\n\nDo it.\n");
    }
    text
}

fn guides() -> Vec<Pages> {
    let mut dice = Dice(14);
    (0..GUIDES)
        .map(|_| {
            let source = SourceFile::new("guide.md", text(&mut dice));
            let of = |units: &str| {
                let shop = shop(units);
                let (guide, _) = guide::read(&source, FileId(1), "demonstration", &shop);
                let input = Input {
                    pictures: &Pictures::new(),
                    hashes: &Default::default(),
                    fingerprint: Some("ab12 cd34".to_owned()),
                    draft: false,
                };
                let document = build::document(&guide, &shop, &input);
                Both { page: guide_page::page(&document), document }
            };
            Pages { metric: of("metric"), imperial: of("imperial") }
        })
        .collect()
}

fn steps(guide: &Guide) -> impl Iterator<Item = &Step> {
    guide.phases.iter().flat_map(|phase| &phase.steps)
}

fn boxes(id: &str, count: usize) -> Vec<String> {
    (1..=count).map(|at| format!("{id}/{at}")).collect()
}

fn boxes_of(step: &Step) -> Vec<String> {
    let mut all = Vec::new();
    for operation in &step.operations {
        all.push(operation.id.clone());
        let passes = operation.torque.iter().flat_map(|torque| &torque.passes).filter(|pass| !pass.is_empty()).count();
        all.extend(boxes(&format!("{}/pass", operation.id), passes));
    }
    all.extend(boxes(&format!("{}/check", step.id), step.checks_html.len()));
    all.extend(step.wait.iter().map(|_| format!("{}/wait", step.id)));
    all
}

// The page as the scripts read it -----------------------------------------------------------------

fn field(reads: &[Reads], torque: Option<Value>, metric: &Stated, imperial: &Stated) -> Value {
    let asked = |value: &Stated| {
        value.second.as_ref().map_or(value.first.clone(), |second| format!("{} ({})", value.first, quantity::beside(&value.first, second)))
    };
    let printed: Vec<Value> = reads.iter().map(|reads| json!({ "unit": reads.unit, "low": reads.low, "high": reads.high })).collect();
    json!({ "printed": printed, "torque": torque, "asked": [asked(metric), asked(imperial)] })
}

fn operation_json(metric: &Operation, imperial: &Operation) -> Value {
    let torque =
        metric.torque.as_ref().zip(imperial.torque.as_ref()).map(|(torque, other)| {
            field(&torque.reads, Some(json!({ "low": torque.low, "high": torque.high })), &torque.value, &other.value)
        });
    let measured = |(at, (value, other)): (usize, (&NamedValue, &NamedValue))| {
        let key = format!("{}#{}", metric.id, at + 1);
        (!value.reads.is_empty())
            .then(|| json!({ "key": key, "name": value.name, "field": field(&value.reads, None, &value.value, &other.value) }))
    };
    let measured: Vec<Value> = metric.specs.iter().zip(&imperial.specs).enumerate().filter_map(measured).collect();
    // As the page has it: what is tightened, then its hardware and how, with commas between.
    let words = std::iter::once(&metric.things).chain(&metric.hardware).chain(&metric.how);
    let words: Vec<String> =
        words.map(|part| part.split_whitespace().collect::<Vec<_>>().join(" ")).filter(|part| !part.is_empty()).collect();
    let passes = metric.torque.iter().flat_map(|torque| &torque.passes).filter(|pass| !pass.is_empty()).count();
    json!({ "id": metric.id, "terms": metric.terms, "moves": metric.moves, "torque": torque, "measured": measured, "tightened": words.join(", "), "passes": passes })
}

pub(super) fn sheet_json(pages: &Pages) -> Value {
    let guide = &pages.metric;
    let accounts = guide
        .accounts
        .iter()
        .map(|thing| json!({ "account": thing.account, "name": thing.name, "state": thing.state, "connector": thing.connector }));
    let step = |(metric, imperial): (&Step, &Step)| {
        let operations: Vec<Value> =
            metric.operations.iter().zip(&imperial.operations).map(|(metric, imperial)| operation_json(metric, imperial)).collect();
        let rest = boxes(&format!("{}/check", metric.id), metric.checks_html.len());
        json!({ "id": metric.id, "number": metric.number.to_string(), "terms": metric.terms, "stop": metric.hold_point, "checks": rest, "wait": metric.wait.is_some(), "operations": operations })
    };
    json!({
        "accounts": accounts.collect::<Vec<_>>(),
        "before": boxes("before", guide.before_html.len()),
        "final": boxes("final", guide.final_checks_html.len()),
        "followUp": boxes("follow-up", guide.follow_up_html.len()),
        "wrenches": guide.wrenches.iter().map(|wrench| json!({ "id": wrench.id, "name": wrench.name, "number": wrench.number, "range": wrench.range, "low": wrench.low, "high": wrench.high, "until": wrench.calibrated_until })).collect::<Vec<_>>(),
        "vehicles": guide.document.head.fits.iter().map(|vehicle| vehicle.name.clone()).collect::<Vec<_>>(),
        "choices": guide.document.choices.iter().map(choice_json).collect::<Vec<_>>(),
        "steps": steps(guide).zip(steps(&pages.imperial)).map(step).collect::<Vec<_>>(),
    })
}

// Records -----------------------------------------------------------------------------------------

/// The ids of all boxes in the order of their letters, as a record lists them.
fn ids(guide: &Guide) -> Vec<String> {
    let mut ids: Vec<String> = boxes("before", guide.before_html.len());
    ids.extend(boxes("final", guide.final_checks_html.len()));
    ids.extend(steps(guide).flat_map(boxes_of));
    ids.extend(steps(guide).filter(|step| step.hold_point.is_some()).map(|step| format!("{}/hold", step.id)));
    ids.sort();
    ids
}

/// A record in as few characters as it needs: what the file of the bay view is made from.
fn work(dice: &mut Dice, guide: &Guide) -> Value {
    let care = 55 + dice.below(45);
    // A sign for each box, since their ids are long.
    let ticks: String = ids(guide).iter().map(|_| if dice.often(care) { '1' } else { '0' }).collect();
    let note = |dice: &mut Dice| dice.of(&["", "", "", " ", "bolt replaced", "\u{feff}", "\u{2003}"]);
    let mut torques = Vec::new();
    let mut measured = Vec::new();
    let mut notes = Vec::new();
    let mut waits = Vec::new();
    for step in steps(guide) {
        for operation in &step.operations {
            if operation.torque.is_some() && dice.often(care) {
                let applied = dice.of(&[
                    "45 N·m",
                    "33 ft-lbs",
                    "30 N·m",
                    "44 lb·in",
                    "5 Nm",
                    "45",
                    "45 N·m + 90°",
                    "45,0 nm",
                    "1,250 N·m",
                    "60 lb·ft",
                ]);
                torques.push(json!([operation.id, applied, dice.of(&["", "TW-04", "tw-05 ", "tw-05", "BANANA"]), note(dice)]));
            }
            for (at, _) in operation.specs.iter().enumerate().filter(|(_, value)| !value.reads.is_empty()) {
                if dice.often(care) {
                    let read = dice.of(&[
                        "14.4 V",
                        "12 V",
                        "14,4 volts",
                        "180 mm",
                        "201 mm",
                        "7.8 in",
                        "-20 °C",
                        "−4 °F",
                        "−30 °C",
                        "20",
                        "14.4 A",
                    ]);
                    measured.push(json!([operation.id, at + 1, read, note(dice)]));
                }
            }
        }
        if step.hold_point.is_some() && dice.often(care) {
            let name = dice.of(&["S. Invented", "S. Invented, 2026-11-26 14:05", " ", "Invented, S."]);
            notes.push(json!([step.id, format!("Signed at the stop: {name}")]));
        } else if dice.often(15) {
            notes.push(json!([step.id, "thread “cleaned”"]));
        }
        if step.wait.is_some() && dice.often(care) {
            let ticked = dice.of(&["", "2026-11-26 14:07", "2026-11-26 14:08", "2026-11-26 14:09"]);
            waits.push(json!([step.id, "2026-11-26 14:05", "2026-11-26 14:08", ticked]));
        }
    }
    torques.sort_by_key(|torque| torque[0].as_str().unwrap().to_owned());
    let key = |entry: &Value| format!("{}#{}", entry[0].as_str().unwrap(), entry[1]);
    measured.sort_by_key(key);
    // The file has notes before what was signed at stops.
    notes.sort_by_key(|note: &Value| note[1].as_str().unwrap().starts_with("Signed at the stop"));
    let order = [
        dice.of(&["TH 0001", "TH 0001", " ", ""]),
        dice.of(&["S. Invented", "S. Invented", "\u{feff}", ""]),
        dice.of(&["", "Marlin"]),
        dice.of(&["", "s.  invented", "R. Invented"]),
    ];
    let mut all = serde_json::Map::new();
    for (name, list) in [("t", json!(ticks)), ("q", json!(torques)), ("m", json!(measured)), ("w", json!(waits)), ("n", json!(notes))] {
        if list.as_array().is_none_or(|list| !list.is_empty()) {
            all.insert(name.to_owned(), list);
        }
    }
    all.insert("o".to_owned(), json!(order));
    all.insert("s".to_owned(), json!([dice.often(70), dice.often(20)]));
    Value::Object(all)
}

/// The file that the bay view saves, less its seal.
fn body(guide: &Guide, work: &Value, with: &[String], without: &[String]) -> String {
    let rows = |name: &str, keys: &[&str]| -> String {
        let row = |row: &Value| {
            let fields: Vec<String> = keys.iter().enumerate().map(|(at, key)| format!("      \"{key}\": {}", row[at])).collect();
            format!("    {{\n{}\n    }}", fields.join(",\n"))
        };
        let rows: Vec<String> = work[name].as_array().into_iter().flatten().map(row).collect();
        if rows.is_empty() { "[]".to_owned() } else { format!("[\n{}\n  ]", rows.join(",\n")) }
    };
    let list = |list: &[Value], indent: &str| {
        let list: Vec<String> = list.iter().map(|one| format!("{indent}  {one}")).collect();
        if list.is_empty() { "[]".to_owned() } else { format!("[\n{}\n{indent}]", list.join(",\n")) }
    };
    let texts = |texts: &[String]| texts.iter().map(|text| Value::from(text.as_str())).collect::<Vec<_>>();
    let ticks = ids(guide).into_iter().zip(work["t"].as_str().unwrap().chars());
    let ticked = texts(&ticks.filter(|(_, sign)| *sign == '1').map(|(id, _)| id).collect::<Vec<_>>());
    let signed = work["s"][0].as_bool().unwrap();
    format!(
        "{{\n  \"format\": \"bayleaf-record\",\n  \"version\": 1,\n  \"guide\": {{\n    \"slug\": \"demonstration\",\n    \"title\": \"Demonstration\",\n    \"document\": \"TH-1\",\n    \"revision\": \"A\",\n    \"fingerprint\": \"ab12 cd34\"\n  }},\n  \
         \"options\": {{\n    \"with\": {},\n    \"without\": {}\n  }},\n  \
         \"order\": {{\n    \"order\": \"\",\n    \"registration\": {},\n    \"vehicle\": {},\n    \"vin\": \"\",\n    \"odometer\": \"\",\n    \"technician\": {},\n    \"inspector\": {},\n    \"started\": \"2026-11-26\",\n    \"finished\": \"{}\"\n  }},\n  \
         \"ticks\": {},\n  \"torques\": {},\n  \"measured\": {},\n  \"waits\": {},\n  \"notes\": {},\n  \"signed\": {{\n    \"technician\": {signed},\n    \"inspector\": {}\n  }}",
        list(&texts(with), "    "),
        list(&texts(without), "    "),
        work["o"][0],
        work["o"][2],
        work["o"][1],
        work["o"][3],
        if signed { "2026-11-26" } else { "" },
        list(&ticked, "  "),
        rows("q", &["operation", "applied", "wrench", "note"]),
        rows("m", &["operation", "value", "measured", "note"]),
        rows("w", &["step", "started", "ended", "ticked"]),
        rows("n", &["step", "text"]),
        work["s"][1],
    )
}

/// The record of some work, read back from its file, and the beginning of its seal.
fn record_of(guide: &Guide, work: &Value, with: &[String], without: &[String]) -> (Record, String) {
    let body = body(guide, work, with, without);
    let seal = seal(&body);
    let record = record::read(format!("{body},\n  \"seal\": \"{seal}\"\n}}\n").as_bytes()).unwrap();
    (record, seal[..16].to_owned())
}

/// What is missing, and what is said where nothing is.
fn told(pages: &Pages, imperial: bool, record: &Record) -> Vec<String> {
    let whole = if imperial { &pages.imperial.document } else { &pages.metric.document };
    let mut applies = whole.clone();
    Chosen::new(&whole.choices, &record.options.with, &record.options.without).unwrap().apply(&mut applies);
    let mut lines = record::check(record, whole, &applies);
    lines.push(record::complete(record, &applies));
    lines
}

/// Choices that a page can have.
const CHOSEN: [(&[&str], &[&str]); 8] = [
    (&[], &[]),
    (&["tow-pack"], &[]),
    (&["manual"], &["tow-pack"]),
    (&["automatic", "heated"], &["tow-pack"]),
    (&["automatic"], &["heated"]),
    (&["tow-pack", "heated"], &[]),
    (&["manual", "tow-pack"], &[]),
    (&["automatic"], &["tow-pack", "heated"]),
];

fn owned(ids: &[&str]) -> Vec<String> {
    ids.iter().map(|id| (*id).to_owned()).collect()
}

#[test]
fn what_is_open_or_missing_in_a_record() {
    let guides = guides();
    let mut dice = Dice(11);
    // Every sentence stands once in the head of the file, and is named by its number.
    let mut sentences: Vec<String> = Vec::new();
    let mut vectors = Vec::new();
    for _ in 0..MANY {
        let (at, choice, imperial) = (dice.below(GUIDES), dice.below(CHOSEN.len()), dice.often(50));
        let (with, without) = (owned(CHOSEN[choice].0), owned(CHOSEN[choice].1));
        let work = work(&mut dice, &guides[at].metric);
        let (record, seal) = record_of(&guides[at].metric, &work, &with, &without);
        let mut numbers = Vec::new();
        for line in told(&guides[at], imperial, &record) {
            numbers.push(sentences.iter().position(|known| *known == line).unwrap_or_else(|| {
                sentences.push(line);
                sentences.len() - 1
            }));
        }
        vectors.push(json!([at, choice, imperial, work, seal, numbers]));
    }
    for kind in [
        "Still unplugged",
        "Still removed",
        "Still loose",
        "of a step",
        "not ticked",
        "clock ran out",
        "signed at the stop",
        "is not entered",
        "no torque",
        "above",
        "has no unit",
        "is missing",
        "with 2 values not",
        "does not apply",
        "no wrench is entered",
        "none of the guide",
        "whose range is",
        "calibration of",
        "clock did not run",
        "signed at the stop of",
        "is not chosen",
        "The vehicle is missing",
        "who signed is the technician",
    ] {
        assert!(kind == "of a step" || sentences.iter().any(|line| line.contains(kind)), "no sentence says {kind}");
    }
    let head = json!({ "guides": guides.iter().map(sheet_json).collect::<Vec<_>>(), "chosen": CHOSEN, "sentences": sentences });
    hold("gaps", &head, &vectors);

    let made = of_scripts("gaps");
    assert!(made.len() >= MANY);
    for vector in made {
        let number = |at: usize| vector[at].as_u64().unwrap() as usize;
        let (with, without) = CHOSEN[number(1)];
        let (record, seal) = record_of(&guides[number(0)].metric, &vector[3], &owned(with), &owned(without));
        assert_eq!(vector[4], seal, "the file of {vector}");
        let lines = told(&guides[number(0)], vector[2].as_bool().unwrap(), &record);
        assert_eq!(vector[5].as_str().unwrap(), brief(&lines.join("\n")), "{vector}: {lines:#?}");
    }
}
