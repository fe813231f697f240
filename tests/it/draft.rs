//! Pages, sheets and report of a draft: what is missing in it is shown as missing, and nothing is invented or left out in silence.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const DRAFT: &str = r#"+++
title = "Fit the roof lamp"
document = "TH-9"
revision = "A"
issued = 2026-09-14
final_check = ["The lamp lights"]

[[part]]
id = "lamp"
name = "Roof lamp"
supplied = 2

[[part]]
id = "gasket"
name = "Lamp gasket"

[[hardware]]
id = "lamp-screw"
name = "Lamp screw"
thread = "M6"

[[hardware]]
id = "lining-screw"
name = "Lining screw"
on_vehicle = 4
no_torque = "into plastic"

[[connector]]
id = "lamp-plug"
name = "Lamp plug"
pin = [{ at = "1", what = "Lamp", colour = "BU" }, { at = "2", what = "Earth", colour = "BN" }]

[[item]]
id = "lining"
name = "Roof lining"

[[item]]
id = "old-lamp"
name = "Old lamp"
stays = "it is not used again"

[[spec]]
id = "lamp-torque"
for = "lamp"
torque = "3 N·m"
source = "practice of this shop"

[[spec]]
id = "lamp-hole"
drill = "whatever is to hand"
+++

## Open the roof

+++
minutes = 10
do = [
  { remove = "lining", hardware = "4 x lining-screw" },
  { remove = "old-lamp" },
  { disconnect = "lamp-plug" },
  { connect = "lamp-plug" },
]
+++

Take the lining down and the old lamp out. Unplug the plug and plug it in.

## Fit the lamp

+++
do = [
  { fit = "gasket" },
  { fit = "lamp", count = 2, torque = "lamp-torque" },
  { fit = "lamp-plug", hardware = "6 x lamp-screw" },
]
+++

Fit the gasket. Fit the two lamps and the six screws.
"#;

fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(arguments).output().unwrap()
}

fn shop(guide: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join("guides/lamp")).unwrap();
    fs::write(home.path().join("guides/lamp/guide.md"), guide).unwrap();
    fs::write(home.path().join("guides/shop.toml"), "name = \"Roof Lamp Works\"\n").unwrap();
    home
}

fn report(folder: &Path) -> String {
    String::from_utf8(bayleaf(folder, &["review"]).stdout).unwrap()
}

fn published(folder: &Path, file: &str) -> String {
    let output = bayleaf(folder, &["publish", "--unreleased", "--no-sheets"]);
    assert!(folder.join("site").is_dir(), "{}", String::from_utf8_lossy(&output.stderr));
    fs::read_to_string(folder.join("site/guides/lamp").join(file)).unwrap()
}

/// The words of a sheet, as another program reads them.
fn sheet(folder: &Path, arguments: &[&str]) -> String {
    let mut all = vec!["print", "lamp", "--to", "."];
    all.extend(arguments);
    bayleaf(folder, &all);
    let file =
        fs::read_dir(folder).unwrap().flatten().map(|entry| entry.path()).find(|path| path.extension().is_some_and(|end| end == "pdf"));
    let output = Command::new("pdftotext").args(["-layout", file.unwrap().to_str().unwrap(), "-"]).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_connector_is_drawn_only_where_its_places_and_its_side_are_told() {
    let home = shop(DRAFT);
    let page = published(home.path(), "index.html");
    assert!(!page.contains("seen from the wire side"), "the side is invented");
    let table = page.split("<table class=\"cavities\">").nth(1).expect("a table of the cavities").split("</table>").next().unwrap();
    assert!(table.contains("Lamp") && table.contains("Earth") && table.contains("BN"), "{table}");
    assert!(page.contains("is not told") && published(home.path(), "checklist.html").contains("<table class=\"cavities\">"));
    assert!(report(home.path()).contains(", rule side-untold\n"), "a list of pins without layout asks for it");
    // As written cavity by cavity on paper too.
    let checklist = sheet(home.path(), &[]);
    assert!(checklist.contains("2: Earth, BN") && !checklist.contains("wire side"), "{checklist}");
    let told = DRAFT.replace("name = \"Lamp plug\"", "name = \"Lamp plug\"\nlayout = [\"1 2\"]\nseen_from = \"wire-side\"");
    let home = shop(&told);
    let page = published(home.path(), "index.html");
    assert!(!page.contains("class=\"cavities\"") && !report(home.path()).contains("side-untold"));
}

#[test]
fn what_is_never_closed_again_is_open_on_page_and_sheet() {
    let home = shop(DRAFT);
    let page = published(home.path(), "index.html");
    let accounts = page.split("id=\"accounts\"").nth(1).expect("a list of what can be open").split("</ul>").next().unwrap().to_owned();
    assert!(accounts.contains("remove/lining") && !accounts.contains("remove/old-lamp"), "{accounts}");
    let checklist = sheet(home.path(), &[]);
    assert!(checklist.contains("Roof lining (removed)"), "{checklist}");
    assert!(checklist.contains("Still open when the job is done: Roof lining (removed)"), "{checklist}");
    assert!(!checklist.contains("Old lamp (removed)"), "what is meant to stay off is no work left over");
}

#[test]
fn what_the_kit_does_not_count_is_printed_as_needed_and_asked_for() {
    let home = shop(DRAFT);
    let packing = sheet(home.path(), &["--sheet", "packing"]);
    let line =
        |name: &str| packing.lines().find(|line| line.contains(name)).unwrap_or_else(|| panic!("no {name} in\n{packing}")).to_owned();
    assert!(line("Lamp screw").contains('6') && packing.contains("needed"), "{packing}");
    assert!(line("Lamp gasket").contains('1'), "{packing}");
    let told = report(home.path());
    assert!(told.contains(", rule count-untold\n") && told.contains("Lamp screw") && told.contains("Lamp gasket"), "{told}");
    assert!(!told.contains("`Lining screw` is supplied"), "{told}");
}

#[test]
fn a_torque_sheet_keeps_what_has_no_torque_with_a_blank_and_a_mark() {
    let home = shop(DRAFT);
    let torques = sheet(home.path(), &["--sheet", "torque"]);
    assert!(torques.contains("6 × Lamp screw") && torques.contains("not told"), "{torques}");
    assert!(torques.contains("2 × Roof lamp"), "of two lamps both are told: {torques}");
    let page = published(home.path(), "torque.html");
    assert!(page.contains("6 × Lamp screw") && page.contains("not told"), "{page}");
    let data = fs::read_to_string(home.path().join("site/guides/lamp/guide.json")).unwrap();
    assert!(!data.contains("____"), "a blank is nothing that a program should read as a value");
}

#[test]
fn an_omission_is_no_decision() {
    let home = shop(DRAFT);
    let page = published(home.path(), "index.html");
    assert!(!page.contains("does not go back on") && page.contains("no step puts it back on"), "an omission reads as a decision");
}

#[test]
fn a_drill_is_a_size() {
    let home = shop(DRAFT);
    assert!(report(home.path()).contains("\"whatever is to hand\" is no size of a drill"), "{}", report(home.path()));
    for size in ["9 mm", "Ø 6.5 mm", "3/8 in", "#7", "No. 7", "letter F", "6,5 mm", "10..12 mm"] {
        let home = shop(&DRAFT.replace("whatever is to hand", size));
        let told = report(home.path());
        assert!(!told.contains("size of a drill") && !told.contains("value-unreadable"), "{size}: {told}");
    }
}

#[test]
fn every_finding_has_its_line_and_many_are_summed_up_first() {
    let steps: String = (1..=60).map(|at| format!("## Fit screw {at}\n\n+++\nneeds = [\"nowhere-{at}\"]\n+++\n\nFit it.\n\n")).collect();
    let home = shop(&format!("+++\ntitle = \"Fit\"\n+++\n\n{steps}"));
    let told = report(home.path());
    assert_eq!(told.lines().filter(|line| line.contains("  HOLD  ") && line.contains("`nowhere-")).count(), 60, "every place has its line");
    assert!((1..=60).all(|at| told.contains(&format!("`nowhere-{at}`"))), "{told}");
    let first: String = told.lines().take(12).collect::<Vec<_>>().join("\n");
    assert!(first.contains("id-unknown") && first.contains("60"), "{first}");
}

#[test]
fn hours_add_up_to_a_lower_bound_where_steps_give_no_time() {
    let home = shop(DRAFT);
    let page = published(home.path(), "index.html");
    assert!(page.contains("at least 10\u{a0}min and one step without a time"), "{page}");
    assert!(sheet(home.path(), &[]).replace('\u{a0}', " ").contains("at least 10 min"));
    // More than the guide says is too much, whatever the other steps take; less is no finding yet.
    let told = |hours: &str| report(shop(&DRAFT.replace("issued =", &format!("hours = \"{hours}\"\nissued ="))).path());
    assert!(
        told("5 min").contains(", rule hours-disagree\n") && told("5 min").contains("without the one step that gives no time"),
        "{}",
        told("5 min")
    );
    for hours in ["10 min", "1", "0.5..2"] {
        assert!(!told(hours).contains(", rule hours-disagree\n"), "{hours}");
    }
    // A step of some vehicles only is no part of what all take.
    let option = DRAFT.replace("[[part]]\nid = \"lamp\"", "[[option]]\nid = \"tow\"\nname = \"Tow pack\"\n\n[[part]]\nid = \"lamp\"");
    let home = shop(&option.replace("minutes = 10", "when = \"tow\"\nminutes = 10"));
    assert!(!published(home.path(), "index.html").contains("at least"));
}

#[test]
fn an_order_is_told_given_or_asked_for() {
    let six = DRAFT.replace(
        "id = \"lamp-torque\"",
        "id = \"screws\"\nfor = \"lamp-screw\"\ntorque = \"3 N·m\"\nsource = \"sheet of the lamp\"\n%\n[[spec]]\nid = \"lamp-torque\"",
    );
    let six = six.replace("hardware = \"6 x lamp-screw\" }", "hardware = \"6 x lamp-screw\", torque = \"screws\" }");
    let with = |order: &str| shop(&six.replace('%', order));
    assert!(report(with("").path()).contains(", rule pattern-missing\n"));
    let told = with("pattern = \"maker-sequence\"");
    assert!(!report(told.path()).contains(", rule pattern-missing\n"));
    assert!(published(told.path(), "torque.html").contains("in the maker’s sequence, see sheet of the lamp"));
    let asked = with("order = \"untold: supplier\"");
    let found = report(asked.path());
    assert!(!found.contains(", rule pattern-missing\n") && found.contains("nobody knows yet in which order"), "{found}");
    assert!(published(asked.path(), "torque.html").contains("order not known yet: ________"));
}
