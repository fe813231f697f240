//! Orders of work that put people in danger, put into one clean guide by moving, leaving out or changing its steps, each with the rule
//! that must find it, at the thing in the step. Beside each rule stand near misses: orders that look like the fault, are none, and must
//! stay silent.
//!
//! What is right here is common practice of the trade: the battery off and a wait before work on restraint systems, unplugging and
//! plugging in alike; negative pole off first and on last; the fuse last; a look behind before drilling; circuits opened cold and
//! without pressure; fluids in before the engine runs; levels before the road test.

mod near;

use bayleaf::guide;
use bayleaf::guide::picture::Pictures;
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};

const SHOP: &str = include_str!("../../src/review/rules/example_shop.toml");

const HEAD: &str = r#"+++
title = "Fit the auxiliary heater"
document = "TH-1"
revision = "A"
issued = 2026-09-14
fits = ["marlin-3500"]
final_check = ["The heater runs"]

[[item]]
id = "battery-negative"
name = "Battery negative lead"
marks = ["battery"]

[[item]]
id = "battery-positive"
name = "Battery positive lead"
marks = ["battery"]

[[item]]
id = "vehicle"
name = "Vehicle on the lift"
marks = ["lifting"]

[[item]]
id = "undertray"
name = "Undertray"

[[item]]
id = "floor"
name = "Floor panel"
marks = ["cutting"]
stays = "the hole carries the exhaust of the heater"

[[item]]
id = "mat"
name = "Rubber mat"

[[item]]
id = "hose"
name = "Coolant hose at the bulkhead"
marks = ["hot", "pressure"]

[[item]]
id = "oil"
name = "Engine oil"
marks = ["hot"]

[[item]]
id = "dipstick"
name = "Dipstick of the engine"

[[item]]
id = "rail"
name = "Fuel rail"
marks = ["fuel", "pressure"]

[[item]]
id = "fuel-line"
name = "Fuel line at the rail"
marks = ["fuel", "pressure"]

[[connector]]
id = "airbag"
name = "Seat airbag connector, yellow"
marks = ["restraint"]

[[connector]]
id = "lamp"
name = "Lamp connector"

[[item]]
id = "engine"
name = "Engine"

[[part]]
id = "cable"
name = "Main cable"
supplied = 1
marks = ["battery"]

[[part]]
id = "fuse"
name = "Main fuse"
supplied = 1
marks = ["battery"]

[[option]]
id = "seat-airbag"
name = "Airbag in the seat"

[[spec]]
id = "restraint-wait"
name = "Time from disconnection to work on the restraint system"
time = "3 min"
source = "practice"

[[spec]]
id = "safe"
name = "Temperature at which a hose may be opened"
temperature = "max 50 °C"
source = "practice"

[[spec]]
id = "rest-pressure"
name = "Pressure in the rail at rest"
pressure = "max 0.2 bar"
source = "practice"

[[caution]]
id = "care"
signal = "warning"
hazard = "Airbags fire, hot and pressed fluids spray, batteries make arcs, drills go through, and vehicles fall."
result = "Death or serious injury."
avoid = "Leave this work to people trained for it, to the vehicle maker's instructions."
covers = ["restraint", "battery", "lifting", "cutting", "hot", "pressure", "fuel"]
+++

"#;

/// The steps of the clean guide: id, and what stands in its block.
const STEPS: &[(&str, &str)] = &[
    ("cool", "wait = \"30 min\""),
    ("isolate", "do = [{ disconnect = \"battery-negative\" }]\nwait = \"3 min\"\nspecs = [\"restraint-wait\"]"),
    ("plus-off", "do = [{ disconnect = \"battery-positive\" }]"),
    ("airbag-off", "do = [{ disconnect = \"airbag\" }]"),
    ("hose-off", "do = [{ disconnect = \"hose\" }]"),
    ("release", "do = [{ release = \"rail\" }]"),
    ("fuel-off", "do = [{ disconnect = \"fuel-line\" }]"),
    ("raise", "do = [{ raise = \"vehicle\" }]"),
    ("tray-off", "do = [{ remove = \"undertray\" }]"),
    ("oil-out", "do = [{ drain = \"oil\" }]"),
    ("look", "do = [{ look_behind = \"floor\" }]"),
    ("drill", "do = [{ drill = \"floor\" }]"),
    ("tray-on", "do = [{ fit = \"undertray\" }]"),
    ("lower", "do = [{ lower = \"vehicle\" }]"),
    ("cable-in", "do = [{ fit = \"cable\" }]"),
    ("fuse-in", "do = [{ fit = \"fuse\" }]"),
    ("fuel-on", "do = [{ connect = \"fuel-line\" }]"),
    ("hose-on", "do = [{ connect = \"hose\" }]"),
    ("airbag-on", "do = [{ connect = \"airbag\" }]"),
    ("plus-on", "do = [{ connect = \"battery-positive\" }]"),
    ("battery-on", "do = [{ connect = \"battery-negative\" }]"),
    ("oil-in", "do = [{ fill = \"oil\" }]"),
    ("run", "do = [{ start = \"engine\" }, { stop = \"engine\" }]"),
    ("lamp-off", "do = [{ disconnect = \"lamp\" }, { connect = \"lamp\" }]\nwhen = \"seat-airbag\""),
    ("level", "do = [{ inspect = \"dipstick\" }]"),
    ("road", "do = [{ road_test = \"vehicle\" }]"),
];

/// One change of the clean guide.
#[derive(Clone, Copy)]
enum Edit {
    /// The step goes behind the other.
    After(&'static str, &'static str),
    /// The step is left out.
    Without(&'static str),
    /// The step's block says this.
    Says(&'static str, &'static str),
    /// A step of this block goes behind the other.
    New(&'static str, &'static str, &'static str),
    /// In the guide block this stands for that.
    Head(&'static str, &'static str),
    /// The step's words say this.
    Words(&'static str, &'static str),
}
use Edit::{After, Head, New, Says, Without, Words};
use near::NEAR;

struct Step {
    id: String,
    facts: String,
    words: String,
}

fn guide_of(edits: &[Edit]) -> String {
    let mut head = HEAD.to_owned();
    let step = |id: &str, facts: &str| Step { id: id.to_owned(), facts: facts.to_owned(), words: "Do the work.".to_owned() };
    let mut steps: Vec<Step> = STEPS.iter().map(|(id, facts)| step(id, facts)).collect();
    let find = |steps: &[Step], id: &str| steps.iter().position(|step| step.id == id).unwrap_or_else(|| panic!("no step {id}"));
    for edit in edits {
        match *edit {
            After(id, other) => {
                let moved = steps.remove(find(&steps, id));
                steps.insert(find(&steps, other) + 1, moved);
            }
            Without(id) => drop(steps.remove(find(&steps, id))),
            Says(id, facts) => {
                let at = find(&steps, id);
                steps[at].facts = facts.to_owned();
            }
            New(id, facts, other) => steps.insert(find(&steps, other) + 1, step(id, facts)),
            Head(from, to) => {
                assert!(head.contains(from), "{from}");
                head = head.replacen(from, to, 1);
            }
            Words(id, words) => {
                let at = find(&steps, id);
                steps[at].words = words.to_owned();
            }
        }
    }
    for Step { id, facts, words } in steps {
        head += &format!("## Step {id}\n\n+++\nid = \"{id}\"\n{facts}\ncautions = [\"care\"]\n+++\n\n{words}\n\n");
    }
    head
}

/// What the review finds: the rule, the step, and the text that is marked.
fn found(edits: &[Edit]) -> Vec<(&'static str, String, String)> {
    let shop = SourceFile::new("guides/shop.toml", SHOP);
    let (shop, _) = guide::read_shop(&shop, FileId(0));
    let source = SourceFile::new("guides/a.md", guide_of(edits));
    let (read, findings) = guide::read(&source, FileId(1), "a", &shop);
    let outcome = review::review(&read, &shop, &Pictures::new(), &|_| false, findings);
    let told = outcome.findings.into_iter().map(|finding| {
        let span = finding.place.span;
        let step = read.steps.iter().find(|step| step.span.contains(span)).map_or("", |step| step.id.as_str());
        (finding.rule.name(), step.to_owned(), source.text[span.range()].trim_matches('"').to_owned())
    });
    told.collect()
}

/// Name, changes, rule, step and what is marked in it.
type Fault = (&'static str, &'static [Edit], &'static str, &'static str, &'static str);

const FAULTS: &[Fault] = &[
    // drilled-blind
    (
        "the roof drilled after a look under the floor",
        &[
            Head(
                "[[option]]",
                "[[item]]\nid = \"roof\"\nname = \"Roof skin\"\nmarks = [\"cutting\"]\nstays = \"the hole carries the aerial\"\n\n[[item]]\nid = \"under\"\nname = \"Underside of the floor\"\n\n[[option]]",
            ),
            New("seen", "do = [{ inspect = \"under\" }]", "look"),
            New("roof-drill", "do = [{ drill = \"roof\" }]", "seen"),
        ],
        "drilled-blind",
        "roof-drill",
        "roof",
    ),
    // not-isolated
    ("airbag plugged in after the battery", &[After("airbag-on", "battery-on")], "not-isolated", "airbag-on", "airbag"),
    ("airbag unplugged before the battery", &[After("airbag-off", "cool")], "not-isolated", "airbag-off", "airbag"),
    ("no wait", &[Says("isolate", "do = [{ disconnect = \"battery-negative\" }]")], "not-isolated", "airbag-off", "airbag"),
    (
        "the wait after the airbag",
        &[
            Says("isolate", "do = [{ disconnect = \"battery-negative\" }]"),
            Says("airbag-off", "do = [{ disconnect = \"airbag\" }]\nwait = \"3 min\""),
        ],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "the wait before the battery",
        &[Says("isolate", "do = [{ disconnect = \"battery-negative\" }]"), Says("cool", "wait = \"30 min\"")],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "a wait that is too short",
        &[Says("isolate", "do = [{ disconnect = \"battery-negative\" }]\nwait = \"1 min\"\nspecs = [\"restraint-wait\"]")],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "the battery connected before the cable",
        &[After("cable-in", "battery-on"), After("fuse-in", "cable-in")],
        "not-isolated",
        "cable-in",
        "cable",
    ),
    ("the fuse after the battery", &[After("fuse-in", "battery-on")], "not-isolated", "fuse-in", "fuse"),
    ("plus off before minus", &[After("plus-off", "cool")], "not-isolated", "plus-off", "battery-positive"),
    ("minus on before plus", &[After("plus-on", "battery-on")], "not-isolated", "plus-on", "battery-positive"),
    (
        "the battery on in between, without a second wait",
        &[
            New("on-again", "do = [{ connect = \"battery-negative\" }]", "drill"),
            New("off-again", "do = [{ disconnect = \"battery-negative\" }]", "on-again"),
        ],
        "not-isolated",
        "airbag-on",
        "airbag",
    ),
    (
        "isolated only with an option",
        &[
            Says(
                "isolate",
                "do = [{ disconnect = \"battery-negative\" }]\nwait = \"3 min\"\nspecs = [\"restraint-wait\"]\nwhen = \"seat-airbag\"",
            ),
            Says("battery-on", "do = [{ connect = \"battery-negative\" }]\nwhen = \"seat-airbag\""),
            Without("plus-off"),
            Without("plus-on"),
            Without("cable-in"),
            Without("fuse-in"),
            Head("[[part]]\nid = \"cable\"\nname = \"Main cable\"\nsupplied = 1\nmarks = [\"battery\"]\n", ""),
            Head("[[part]]\nid = \"fuse\"\nname = \"Main fuse\"\nsupplied = 1\nmarks = [\"battery\"]\n", ""),
            Says("airbag-on", "do = [{ connect = \"airbag\" }]\nwhen = \"seat-airbag\""),
            New("airbag-on-without", "do = [{ connect = \"airbag\" }]\nwhen = \"not seat-airbag\"", "airbag-on"),
            Says("airbag-off", "do = [{ disconnect = \"airbag\" }]\nwhen = \"seat-airbag\""),
            New("airbag-off-without", "do = [{ disconnect = \"airbag\" }]\nwhen = \"not seat-airbag\"", "airbag-off"),
        ],
        "not-isolated",
        "airbag-off-without",
        "airbag",
    ),
    (
        "a mains socket worked on with the shore plug in",
        &[
            Head(
                "[[option]]",
                "[[item]]\nid = \"shore\"\nname = \"Shore plug\"\nisolates = [\"mains\"]\n\n[[item]]\nid = \"socket\"\nname = \"Mains socket\"\nmarks = [\"mains\"]\n\n[[option]]",
            ),
            Head("\"fuel\"]\n+++", "\"fuel\", \"mains\"]\n+++"),
            New("shore-out", "do = [{ disconnect = \"shore\" }]", "cool"),
            New("socket-off", "do = [{ remove = \"socket\" }]", "shore-out"),
            New("shore-in", "do = [{ connect = \"shore\" }]", "socket-off"),
            New("socket-on", "do = [{ fit = \"socket\" }]", "shore-in"),
        ],
        "not-isolated",
        "socket-on",
        "socket",
    ),
    (
        "the second of two batteries still on",
        &[
            Head("name = \"Battery negative lead\"", "name = \"Negative lead of the left battery\""),
            Head(
                "[[item]]\nid = \"vehicle\"",
                "[[item]]\nid = \"right\"\nname = \"Negative lead of the right battery\"\nmarks = [\"battery\"]\n\n[[item]]\nid = \"vehicle\"",
            ),
            Without("plus-off"),
            Without("plus-on"),
            New("right-on", "do = [{ connect = \"right\" }]", "airbag-on"),
            New("right-off", "do = [{ disconnect = \"right\" }]", "airbag-off"),
        ],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "the airbag unplugged behind a pulled fuse",
        &[
            Head(
                "[[option]]",
                "[[circuit]]\nid = \"seat\"\nname = \"Seat\"\nwire = \"1.5 mm²\"\ncurrent = \"8 A\"\nlength = \"1 m\"\nfuse = \"10 A\"\nsource = \"practice\"\nthrough = [\"seat-fuse\", \"airbag\"]\n\n[[item]]\nid = \"seat-fuse\"\nname = \"Fuse of the seat\"\n\n[[option]]",
            ),
            Says("isolate", "do = [{ remove = \"seat-fuse\" }]\nwait = \"3 min\"\nspecs = [\"restraint-wait\"]"),
            New("battery-off", "do = [{ disconnect = \"battery-negative\" }]\nwait = \"3 min\"", "airbag-off"),
            New("seat-fuse-in", "do = [{ fit = \"seat-fuse\" }]", "airbag-on"),
            Without("plus-off"),
            Without("plus-on"),
        ],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "the kit's own negative lead is no reason to unplug an airbag",
        &[
            Without("isolate"),
            Without("plus-off"),
            Without("plus-on"),
            Without("battery-on"),
            Head("name = \"Main cable\"", "name = \"Negative lead of the battery in the kit\""),
        ],
        "not-isolated",
        "airbag-off",
        "airbag",
    ),
    (
        "the bonnet raised in place of the vehicle",
        &[
            Head("name = \"Vehicle on the lift\"\nmarks = [\"lifting\"]", "name = \"Bonnet of the van\""),
            Head("name = \"Undertray\"", "name = \"Undertray\"\nfrom_below = true"),
            Without("road"),
        ],
        "not-raised",
        "tray-off",
        "undertray",
    ),
    // fuse-early
    (
        "the cable left loose and tightened behind the fuse",
        &[Says("cable-in", "do = [{ fit = \"cable\", by_hand = true }]"), New("cable-tight", "do = [{ tighten = \"cable\" }]", "fuse-in")],
        "fuse-early",
        "fuse-in",
        "fuse",
    ),
    ("the fuse before the cable", &[After("cable-in", "fuse-in")], "fuse-early", "fuse-in", "fuse"),
    (
        "the fuse before the cable is bolted",
        &[Says("cable-in", "do = [{ fit = \"cable\", by_hand = true }]"), New("bolt", "do = [{ tighten = \"cable\" }]", "fuse-in")],
        "fuse-early",
        "fuse-in",
        "fuse",
    ),
    (
        "the fuse before the rest of its own circuit",
        &[
            Head(
                "[[option]]",
                "[[circuit]]\nid = \"main\"\nname = \"Main\"\nwire = \"1.5 mm²\"\ncurrent = \"8 A\"\nlength = \"1 m\"\nfuse = \"10 A\"\nsource = \"practice\"\nthrough = [\"fuse\", \"cable\", \"lamp\"]\n\n[[option]]",
            ),
            Head("name = \"Lamp connector\"", "name = \"Lamp connector\"\nopen_at_start = true"),
            New("lamp-in", "do = [{ connect = \"lamp\" }]", "fuse-in"),
        ],
        "fuse-early",
        "fuse-in",
        "fuse",
    ),
    // drilled-blind
    ("drilled before the look", &[After("look", "drill")], "drilled-blind", "drill", "floor"),
    ("drilled without a look", &[Without("look")], "drilled-blind", "drill", "floor"),
    (
        "the look only with an option",
        &[Says("look", "do = [{ look_behind = \"floor\" }]\nwhen = \"seat-airbag\"")],
        "drilled-blind",
        "drill",
        "floor",
    ),
    ("another thing inspected", &[Says("look", "do = [{ inspect = \"mat\" }]")], "drilled-blind", "drill", "floor"),
    ("cut without a look", &[Without("look"), Says("drill", "do = [{ cut = \"floor\" }]")], "drilled-blind", "drill", "floor"),
    // not-released
    ("the hose opened hot", &[After("hose-off", "isolate"), After("cool", "hose-off")], "not-released", "hose-off", "hose"),
    ("nothing cools", &[Without("cool")], "not-released", "hose-off", "hose"),
    ("fuel under pressure", &[After("release", "fuel-off")], "not-released", "fuel-off", "fuel-line"),
    (
        "hot again after a run",
        &[New("warm", "do = [{ start = \"engine\" }, { stop = \"engine\" }]", "cool")],
        "not-released",
        "hose-off",
        "hose",
    ),
    ("the heater's words run the engine", &[Words("plus-off", "Start the engine.")], "not-released", "hose-off", "hose"),
    ("a wait too short to cool", &[Says("cool", "wait = \"3 min\"")], "not-released", "hose-off", "hose"),
    // run-too-early
    ("run before the oil", &[After("oil-in", "run")], "run-too-early", "run", "engine"),
    (
        "the words run it before the oil",
        &[Says("run", "minutes = 1"), Words("run", "Start the engine."), After("oil-in", "run")],
        "run-too-early",
        "run",
        "## Step run",
    ),
    ("run with the fuel line open", &[After("fuel-on", "run")], "run-too-early", "run", "engine"),
    ("driven before the level", &[After("level", "road")], "run-too-early", "road", "vehicle"),
    (
        "the words drive it before the level",
        &[Says("road", "minutes = 1"), Words("road", "Drive the van until the engine is warm."), After("level", "road")],
        "run-too-early",
        "road",
        "## Step road",
    ),
    ("driven on the lift", &[After("lower", "road"), After("tray-on", "road")], "run-too-early", "road", "vehicle"),
    // not-raised
    ("the tray back after lowering", &[After("tray-on", "lower")], "not-raised", "tray-on", "undertray"),
    ("the tray off before raising", &[After("tray-off", "hose-off")], "not-raised", "tray-off", "undertray"),
    (
        "a thing reached from below by its key",
        &[
            Head("name = \"Rubber mat\"", "name = \"Rubber mat\"\nfrom_below = true"),
            New("mat-off", "do = [{ remove = \"mat\" }]", "raise"),
            New("mat-on", "do = [{ fit = \"mat\" }]", "lower"),
        ],
        "not-raised",
        "mat-on",
        "mat",
    ),
    (
        "raised only with an option",
        &[
            Says("raise", "do = [{ raise = \"vehicle\" }]\nwhen = \"seat-airbag\""),
            Says("lower", "do = [{ lower = \"vehicle\" }]\nwhen = \"seat-airbag\""),
        ],
        "not-raised",
        "tray-off",
        "undertray",
    ),
    (
        "a thing that only the undertray hides, on a lowered vehicle",
        &[
            Head("name = \"Rubber mat\"", "name = \"Rubber mat\"\nbehind = [\"undertray\"]"),
            New("down", "do = [{ lower = \"vehicle\" }]", "tray-off"),
            New("mat-off", "do = [{ remove = \"mat\" }]", "down"),
            New("up", "do = [{ raise = \"vehicle\" }]", "mat-off"),
            New("mat-on", "do = [{ fit = \"mat\" }]", "up"),
        ],
        "not-raised",
        "mat-off",
        "mat",
    ),
    // still-capped
    (
        "joined with the plug in",
        &[
            Says("hose-on", "do = [{ connect = \"hose\" }, { uncap = \"hose\" }]"),
            Says("hose-off", "do = [{ disconnect = \"hose\" }, { cap = \"hose\" }]"),
        ],
        "still-capped",
        "hose-on",
        "hose",
    ),
    (
        "the plug out in a later step",
        &[
            Says("hose-off", "do = [{ disconnect = \"hose\" }, { cap = \"hose\" }]"),
            New("plug-out", "do = [{ uncap = \"hose\" }]", "hose-on"),
        ],
        "still-capped",
        "hose-on",
        "hose",
    ),
    (
        "the plug out only with an option",
        &[
            Says("hose-off", "do = [{ disconnect = \"hose\" }, { cap = \"hose\" }]"),
            New("plug-out", "do = [{ uncap = \"hose\" }]\nwhen = \"seat-airbag\"", "fuel-on"),
            New("plug-out-late", "do = [{ uncap = \"hose\" }]\nwhen = \"not seat-airbag\"", "hose-on"),
        ],
        "still-capped",
        "hose-on",
        "hose",
    ),
    // what was there before these rules, in the same orders
    ("lowered and never raised", &[Without("raise"), Without("tray-off"), Without("tray-on")], "closed-not-open", "lower", "vehicle"),
    ("raised and never lowered", &[Without("lower"), Without("road")], "left-open", "raise", "vehicle"),
];

/// Rules that may speak beside the expected one, by the name of the fault: the same slip seen from another side.
const BESIDE: &[(&str, &str)] = &[
    ("the second of two batteries still on", "not-isolated"),
    ("the airbag unplugged behind a pulled fuse", "not-isolated"),
    ("the battery connected before the cable", "not-isolated"),
    ("no wait", "not-isolated"),
    ("the kit's own negative lead is no reason to unplug an airbag", "not-isolated"),
    ("the wait before the battery", "not-isolated"),
    ("a wait that is too short", "not-isolated"),
    ("a wait that is too short", "value-stray"),
    ("isolated only with an option", "not-isolated"),
    ("raised only with an option", "not-raised"),
    ("the bonnet raised in place of the vehicle", "not-raised"),
];

#[test]
fn the_order_of_the_clean_guide_is_right() {
    assert_eq!(found(&[]), []);
}

#[test]
fn every_dangerous_order_is_found_at_its_place_and_nothing_else() {
    let mut wrong = Vec::new();
    for (name, edits, rule, step, marked) in FAULTS {
        let found = found(edits);
        let hit = found.iter().position(|one| *one == (*rule, (*step).to_owned(), (*marked).to_owned()));
        let others = found.iter().enumerate().filter(|(at, (other, ..))| Some(*at) != hit && !BESIDE.contains(&(*name, *other)));
        if hit.is_none() || others.count() > 0 {
            wrong.push(format!("{name}: {found:?}"));
        }
    }
    println!("{} dangerous orders, {} near misses", FAULTS.len(), NEAR.len());
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), FAULTS.len(), wrong.join("\n"));
}

#[test]
fn near_misses_stay_silent() {
    let mut wrong = Vec::new();
    for (name, _, edits) in NEAR {
        let found = found(edits);
        if !found.is_empty() {
            wrong.push(format!("{name}: {found:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), NEAR.len(), wrong.join("\n"));
}

/// Each rule on orders has three faults and three near misses at least.
#[test]
fn every_rule_on_orders_is_tried() {
    for rule in ["not-isolated", "fuse-early", "drilled-blind", "not-released", "run-too-early", "not-raised", "still-capped"] {
        assert!(FAULTS.iter().filter(|fault| fault.2 == rule).count() >= 3, "{rule}");
        assert!(NEAR.iter().filter(|near| near.1 == rule).count() >= 3, "{rule}");
    }
}
