//! What nobody knows yet: kept, printed as a blank, asked in one list, and never a guess.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const GUIDE: &str = r#"+++
title = "Fit the ladder"
document = "TH-8"
revision = "A"
issued = 2026-09-14
hours = "untold: shop"
final_check = ["The ladder bears a person"]
sources = { sheet = "Fitting sheet L-2, issue 1" }

[[part]]
id = "ladder"
name = "Ladder"
number = "untold: supplier, delivery note"
supplied = 1

[[hardware]]
id = "ladder-bolt"
name = "Ladder bolt"
thread = "M8"
class = "8.8"
length = "untold: supplier"
supplied = "untold: supplier, fitting sheet page 4"

[[hardware]]
id = "rail-nut"
name = "Rail nut"
kind = "nut"
thread = "M6"
on_vehicle = "untold: vehicle, count them on the rail"

[[connector]]
id = "lamp-plug"
name = "Lamp plug"
layout = "untold: vehicle"
seen_from = "untold: vehicle"
pin = [{ at = "1", what = "Lamp", colour = "untold" }]

[[circuit]]
id = "lamp"
name = "Lamp circuit"
wire = "1.5 mm²"
current = "untold: supplier"

[[spec]]
id = "ladder-bolt"
for = "ladder-bolt"
torque = "untold: supplier, fitting sheet page 5"
source = "untold"
order = "untold: supplier"

[[spec]]
id = "gap"
name = "Gap at the door"
length = "4 mm, unsure: shop, heard by telephone"
source = "sheet"
+++

## Bolt the ladder on

+++
specs = ["gap"]
do = [
  { disconnect = "lamp-plug" },
  { connect = "lamp-plug" },
  { loosen = "rail-nut", hardware = "untold x rail-nut: vehicle, count them" },
  { fit = "ladder", hardware = "6 x ladder-bolt", torque = "ladder-bolt" },
  { tighten = "rail-nut", count = "untold", torque = "untold: vehicle, workshop manual" },
]
+++

Unplug the plug and plug it in. Loosen the nuts. Fit the ladder with its six bolts. Tighten the nuts. Leave [](spec:gap).
"#;

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn shop(guide: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join("guides/ladder")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), "name = \"Demonstration shop\"\n").unwrap();
    fs::write(home.path().join("guides/ladder/guide.md"), guide).unwrap();
    home
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

#[test]
fn the_guide_is_held_and_the_hold_cannot_be_accepted_away() {
    let home = shop(GUIDE);
    let output = bayleaf(home.path(), &["review"]);
    let told = out(&output);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert_eq!(crate::remarks(&told, "HOLD", "fact-untold"), 15, "{told}");
    for silent in [
        "torque-missing",
        "torque-unsourced",
        "count-untold",
        "side-untold",
        "pattern-missing",
        "key-missing",
        "type-wrong",
        "hardware-short",
        "value-unreadable",
    ] {
        assert!(!told.contains(&format!(", rule {silent}\n")), "{silent} asks again: {told}");
    }
    assert!(crate::remarks(&told, "QUERY", "fact-unsure") > 0, "{told}");
    let accepted = GUIDE.replace("\n[[part]]", "\n[[accept]]\nrule = \"fact-untold\"\nreason = \"never mind\"\n\n[[part]]");
    assert_eq!(crate::remarks(&out(&bayleaf(shop(&accepted).path(), &["review"])), "HOLD", "fact-untold"), 15);
}

#[test]
fn all_questions_stand_in_one_list_by_who_can_answer() {
    let home = shop(GUIDE);
    let list = out(&bayleaf(home.path(), &["review", "--as", "questions"]));
    let at = |words: &str| list.find(words).unwrap_or_else(|| panic!("{words} is not in\n{list}"));
    assert!(at("Ask the supplier") < at("Look at the vehicle") && at("Look at the vehicle") < at("Decide in the shop"), "{list}");
    assert!(at("How many of “Ladder bolt” are supplied") < at("Look at the vehicle"), "{list}");
    at("fitting sheet page 4");
    at("(heard: 4 mm)");
    at("guides/ladder/guide.md:21:");
    let json: serde_json::Value = serde_json::from_str(&out(&bayleaf(home.path(), &["review", "--as", "questions-json"]))).unwrap();
    let rows = json["questions"].as_array().unwrap();
    assert_eq!(rows.len(), 16, "fifteen that are untold, one that is unsure: {json:#}");
    assert!(rows.iter().any(|row| row["who"] == "vehicle" && row["place"] == "workshop manual" && row["step"] == 1), "{json:#}");
    assert!(rows.iter().any(|row| row["heard"] == "4 mm" && row["who"] == "shop"), "{json:#}");
}

#[test]
fn pages_sheets_and_files_show_a_blank_and_never_a_guess() {
    let home = shop(GUIDE);
    bayleaf(home.path(), &["publish", "--unreleased"]);
    let folder = home.path().join("site/guides/ladder");
    let page = fs::read_to_string(folder.join("index.html")).unwrap();
    assert!(page.contains("id=\"questions\"") && page.contains("Ask the supplier") && page.contains("not known yet"), "{page}");
    assert!(page.contains("____ × Rail nut"), "a count that nobody knows is a blank");
    // In the kit stands what is supplied, on the vehicle what is there; each is asked for in its own words.
    assert_eq!(page.matches("how many are on the vehicle is not told").count(), 1, "{page}");
    assert!(page.contains("<table class=\"cavities\">"), "{page}");
    let data: serde_json::Value = serde_json::from_str(&fs::read_to_string(folder.join("guide.json")).unwrap()).unwrap();
    assert_eq!(data["questions"].as_array().unwrap().len(), 16);
    assert!(data["hardware"].as_array().unwrap().iter().all(|row| row["name"] != "Rail nut M6"), "{data:#}");
    let words = |file: &str| out(&Command::new("pdftotext").args(["-layout", folder.join(file).to_str().unwrap(), "-"]).output().unwrap());
    let torques = words("torque-a4.pdf");
    assert!(torques.contains("6 × Ladder bolt") && torques.contains("________") && torques.contains("not known yet"), "{torques}");
    let packing = words("packing-a4.pdf");
    assert!(packing.contains("Ladder bolt") && packing.contains("needed") && !packing.contains("Rail nut"), "{packing}");
    let checklist = fs::read_to_string(folder.join("checklist.html")).unwrap();
    assert!(checklist.contains("needed; how many are supplied is not told"), "{checklist}");
    let questions = words("questions-a4.pdf");
    for part in ["Questions", "Ask the supplier", "Not known yet", "Answer", "Who, date", "How many of “Ladder bolt” are", "NOT RELEASED"]
    {
        assert!(questions.contains(part), "{part} is not in\n{questions}");
    }
}

#[test]
fn a_clean_guide_asks_nothing() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    assert!(out(&bayleaf(root, &["review", "--as", "questions"])).starts_with("no questions"), "the demo guides are whole");
}

#[test]
fn what_the_shop_does_not_know_holds_the_guides_that_use_it() {
    let home = shop(&GUIDE.replace("specs = [\"gap\"]", "specs = [\"gap\", \"stud\"]"));
    let spec = "name = \"Shop\"\n\n[[spec]]\nid = \"stud\"\nname = \"Height of the stud\"\nlength = \"untold: shop\"\n\n[[spec]]\nid = \"unused\"\nlength = \"untold\"\n";
    fs::write(home.path().join("guides/shop.toml"), spec).unwrap();
    let told = out(&bayleaf(home.path(), &["review"]));
    assert_eq!(crate::remarks(&told, "HOLD", "fact-untold"), 16, "{told}");
    assert!(told.contains("Height of the stud") && !told.contains("unused"), "{told}");
}
