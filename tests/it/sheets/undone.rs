//! Undoing in passes and in order: said once in the facts, drawn and printed on the page, the sheet and in the data.

use super::*;

const SHOP: &str = include_str!("../../../src/review/rules/example_shop.toml");

/// Six on a circle: each is followed by the one opposite when they are tightened, 1-4-2-5-3-6 (common practice); undone in reverse.
const UNDONE: [u64; 6] = [6, 3, 5, 2, 4, 1];

fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), SHOP).unwrap();
    let head = "tools = [\"torque-wrench-60\", \"sockets-small\"]\n\n[[item]]\nid = \"cover\"\nname = \"Hub cover\"\n\n[[hardware]]\nid = \"bolt\"\nname = \"Cover bolt\"\nthread = \"M8x1.25\"\nclass = \"8.8\"\ndrive = \"13 mm hex\"\non_vehicle = 6\n\n[[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"20 N·m\"\npattern = \"circle\"\nsource = \"practice\"";
    let off = "## Take the cover off\n\n+++\nid = \"off\"\ndo = [{ remove = \"cover\", hardware = \"6 x bolt\", loosen_as = \"bolt\", loosen_stages = [\"1/4 turn\", \"90°\", \"out\"] }]\n+++\n\nUndo the bolts.\n".to_owned();
    let on = "## Put the cover back\n\n+++\nid = \"on\"\ndo = [{ fit = \"cover\", hardware = \"6 x bolt\", torque = \"bolt\" }]\n+++\n\nTighten the bolts.\n".to_owned();
    fs::write(home.path().join("guides/lamp.md"), guide_with(head, [off, on])).unwrap();
    home
}

#[test]
fn the_passes_of_undoing_stand_on_the_page_the_sheet_and_in_the_data() {
    let home = home();
    let output = bayleaf(home.path(), &["publish"]);
    assert_eq!(output.status.code(), Some(0), "{}{}", String::from_utf8_lossy(&output.stdout), told(&output));
    let of = |file: &str| fs::read_to_string(home.path().join("site/guides/lamp").join(file)).unwrap();
    let page = of("index.html");
    assert!(page.contains("Undo in passes") && page.contains("1/4 turn</b></span></span>, then <span>"), "{page}");
    assert!(page.contains("The numbers are the order of undoing, the reverse of tightening."), "{page}");
    let data: serde_json::Value = serde_json::from_str(&of("guide.json")).unwrap();
    let operation = &data["phases"][0]["steps"][0]["operations"][0];
    assert_eq!(operation["undo_passes"], serde_json::json!(["1/4 turn", "90°", "out"]), "{operation}");
    assert_eq!(operation["undo_order"], serde_json::json!(UNDONE));
    let fitted = &data["phases"][0]["steps"][1]["operations"][0];
    assert_eq!((&fitted["undo_passes"], &fitted["undo_order"]), (&serde_json::json!([]), &serde_json::json!([])));
    // A box for each bolt in each pass, and six for the tightening.
    let sheet = home.path().join("site/guides/lamp/checklist-a4.pdf");
    let text = Pdf::new(&fs::read(&sheet).unwrap()).raw();
    assert!(text.contains("Undo in this order"), "{text}");
    for words in ["1/4 turn", "90°", "out"] {
        let line = text.lines().position(|line| line.trim().starts_with(words)).unwrap_or_else(|| panic!("{words}: {text}"));
        let numbers: String = text.lines().skip(line).take(7).collect::<Vec<_>>().join(" ").replacen(words, "", 1);
        let told: Vec<&str> = numbers.split_whitespace().take(6).collect();
        assert_eq!(told, ["1", "2", "3", "4", "5", "6"], "{text}");
    }
}

#[test]
fn the_record_has_a_box_for_each_pass_of_undoing() {
    let home = home();
    let text = fs::read_to_string(home.path().join("guides/lamp.md")).unwrap();
    let shop = guide::read_shop(&SourceFile::new("shop.toml", SHOP), FileId(0)).0;
    let page = page_of("lamp", &text, &shop);
    let operations: Vec<_> = page.document.steps().flat_map(|step| &step.operations).collect();
    assert_eq!(operations[0].passes().map(|pass| pass.text()).collect::<Vec<_>>(), ["1/4 turn", "90°", "out"]);
    assert_eq!((operations[0].undo_count, operations[1].passes().count()), (6, 0));
}
