//! What really happens in a job, as it is told everywhere: pages, checklists, data for other programs and the search show sides, places,
//! waits, states, what holds, what departs and what is needed.

use std::fs;
use std::process::Command;

use serde_json::Value;

const GUIDE: &str = include_str!("../seeded/happens.md");
const SHOP: &str = include_str!("../../src/review/rules/example_shop.toml");

fn published() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), SHOP).unwrap();
    fs::write(home.path().join("guides/base.md"), GUIDE).unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(home.path()).arg("publish").output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    home
}

/// The words of a page: markup taken out, spaces made one.
fn words(html: &str) -> String {
    let mut words = String::new();
    for piece in html.split('<') {
        words.push_str(piece.split_once('>').map_or(piece, |(_, text)| text));
        words.push(' ');
    }
    words.replace('\u{a0}', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn page_and_checklist_show_all_of_it() {
    let home = published();
    let read = |file: &str| fs::read_to_string(home.path().join("site/guides/base").join(file)).unwrap();
    for file in ["index.html", "checklist.html"] {
        let told = words(&read(file));
        for expected in [
            // A caution that stands for a run of steps: where it begins, and in the steps behind.
            "Holds until step 8.",
            "still holds: The side airbag can fire while its wiring is handled.",
            // A departure, with who approved it.
            "The sheet says Tighten the base before the seat is fitted",
            "Done here The seat goes on before the base is tight",
            "Why the rails pull the base into its place",
            "Approved Shop foreman",
            "Departures from the supplier’s sheet",
            // Sides are steps of their own.
            "Fit the left lamp",
            "Fit the right lamp",
            "The right lamp lights",
            // Places, what goes onto what, waits and states.
            "onto Bumper cover",
            "left side",
            "right side",
            "then wait 20 min",
            "only while Fuse of the washer pump is inserted",
            "never while Tab of the loom holder is unlocked",
            "2 holes",
            "pilot hole first: 3 mm",
            "hand tight, then 1/4 turn",
            // What is needed.
            "Used up",
            "Sealing paste",
            "20 ml",
            "To buy",
            "Oil for hinges",
            "a helper for the seat",
            "To have ready",
        ] {
            assert!(told.contains(expected), "{file}: {expected}\n{told}");
        }
        assert_eq!(told.matches("still holds:").count(), 7, "{file}: seven steps behind the one that states it");
    }
}

#[test]
fn the_data_for_other_programs_hold_all_of_it() {
    let home = published();
    let json: Value = serde_json::from_str(&fs::read_to_string(home.path().join("site/guides/base/guide.json")).unwrap()).unwrap();
    let steps: Vec<&Value> = json["phases"].as_array().unwrap().iter().flat_map(|phase| phase["steps"].as_array().unwrap()).collect();
    let step = |id: &str| *steps.iter().find(|step| step["id"] == id).unwrap_or_else(|| panic!("no step {id}"));
    assert_eq!(step("unplug")["cautions"][1]["until"], "seat-in");
    assert_eq!(
        (&step("seat-out")["standing"][0]["from"], &step("check")["standing"]),
        (&Value::from("unplug"), &Value::from(Vec::<Value>::new()))
    );
    assert_eq!(step("seat-in")["departures"][0]["approved"], "Shop foreman");
    assert_eq!((&step("lamps-left")["side"], &step("lamps-right")["side"]), (&Value::from("left"), &Value::from("right")));
    let operation = |id: &str, verb: &str| -> Vec<Value> {
        let all = step(id)["operations"].as_array().unwrap();
        all.iter().filter(|operation| operation["verb"] == verb).cloned().collect()
    };
    assert_eq!(operation("bumper", "lubricate").iter().map(|one| one["place"].clone()).collect::<Vec<_>>(), ["left side", "right side"]);
    assert_eq!(operation("bumper", "transfer")[0]["onto"], "bumper");
    assert_eq!(operation("bumper", "seal")[0]["wait"]["first"], "20 min");
    assert_eq!(
        (&operation("drill", "drill")[0]["holes"], &operation("drill", "drill")[0]["pilot"]["value"]["first"]),
        (&Value::from(2), &Value::from("3 mm"))
    );
    assert_eq!(operation("lamps-right", "connect")[0]["on"], Value::from(vec!["lamp-right"]));
    assert_eq!((&json["consumables"][0]["amount"], &json["consumables"][1]["buy"]), (&Value::from("20 ml"), &Value::from(true)));
    assert_eq!(json["ready"], Value::from(vec!["a helper for the seat"]));
}

#[test]
fn who_needs_all_sides_comes_after_the_last_of_them() {
    let text = GUIDE.replace("## Fit the bumper {#bumper}\n\n+++\n", "## Fit the bumper {#bumper}\n\n+++\nneeds = [\"lamps\"]\n");
    let text = text.replace("needs = [\"bumper\"]\n", "");
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), SHOP).unwrap();
    fs::write(home.path().join("guides/base.md"), text).unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(home.path()).args(["review", "--as", "json"]).output().unwrap();
    let report: Value = serde_json::from_slice(&done.stdout).unwrap();
    let told = report["findings"].as_array().unwrap();
    assert!(!told.is_empty() && told.iter().all(|finding| finding["rule"] == "out-of-order"), "{told:?}");
}
