//! Bad input: a clear message, the right exit status, and nothing half-made left behind.

use super::*;

const SHOP: &str = include_str!("../../../src/review/rules/example_shop.toml");

fn home_with(guide: &str, shop: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("guides")).unwrap();
    fs::write(home.path().join("guides/shop.toml"), shop).unwrap();
    fs::write(home.path().join("guides/lamp.md"), guide).unwrap();
    home
}

fn lamp(words: &str) -> String {
    guide_with(
        "[[option]]\nid = \"roof-lamp\"\nname = \"Roof lamp\"",
        [format!("## Try the lamp\n\n+++\nwhen = \"roof-lamp\"\n+++\n\n{words}\n")],
    )
}

/// Files in a folder, less the guides.
fn left_behind(home: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(home).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.retain(|name| name != "guides");
    names
}

#[test]
fn an_unknown_guide_or_option_is_told_with_the_near_one() {
    let home = home_with(&lamp("Turn the switch."), SHOP);
    for (arguments, words) in [
        (vec!["print", "lmap"], "there is no guide `lmap`; did you mean `lamp`"),
        (vec!["print", "lamp", "--option", "roof-lmap"], "no option `roof-lmap`; did you mean `roof-lamp`"),
        (vec!["print", "lamp", "--without", "sunroof"], "its options are: roof-lamp"),
        (vec!["print", "lamp", "--option", "roof-lamp", "--without", "roof-lamp"], "say it once"),
        (vec!["print"], "GUIDE"),
        (vec!["print", "lamp", "--sheet", "checklist", "--sheet", "torque", "--to", "-"], "2 sheets cannot go to standard output"),
        (vec!["print", "--record", "none.json"], "none.json"),
    ] {
        let output = bayleaf(home.path(), &arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", told(&output));
        let told = told(&output).replace('?', "");
        assert!(told.contains(words), "{arguments:?}: {told}");
        assert!(left_behind(home.path()).is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_character_that_the_fonts_lack_is_named_and_no_file_is_left() {
    let home = home_with(&lamp("Press 作 on the panel, then 業."), SHOP);
    let output = bayleaf(home.path(), &["print", "lamp"]);
    assert_eq!(output.status.code(), Some(2));
    let told = told(&output);
    assert!(told.contains("'作' (U+4F5C) in \"Press 作 on the panel") && told.contains("'業' (U+696D)"), "{told}");
    assert!(told.contains("'作' first in ") && told.contains("guides/lamp.md:18"), "{told}");
    assert!(left_behind(home.path()).is_empty());
    // The short form has no running words, so it can be printed.
    assert_eq!(bayleaf(home.path(), &["print", "lamp", "--form", "short"]).status.code(), Some(0));
    // Publishing goes on without the sheets, and says so.
    let output = bayleaf(home.path(), &["publish"]);
    assert_eq!(output.status.code(), Some(1), "{}", self::told(&output));
    assert!(self::told(&output).contains("no checklist-a4.pdf"));
    let page = fs::read_to_string(home.path().join("site/guides/lamp/index.html")).unwrap();
    assert!(!page.contains("checklist-a4.pdf") && page.contains("checklist-short-a4.pdf"));
}

#[test]
fn writing_from_right_to_left_is_refused() {
    for words in ["Press מתג now.", "Press \u{202e}now."] {
        let home = home_with(&lamp(words), SHOP);
        let output = bayleaf(home.path(), &["print", "lamp"]);
        assert_eq!(output.status.code(), Some(2));
        assert!(told(&output).contains("right to left"), "{}", told(&output));
        assert!(left_behind(home.path()).is_empty());
    }
}

#[test]
fn a_target_that_cannot_be_written_leaves_everything_as_it_was() {
    let home = home_with(&lamp("Turn the switch."), SHOP);
    fs::write(home.path().join("taken"), "mine").unwrap();
    let output = bayleaf(home.path(), &["print", "lamp", "--to", "taken"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("taken"), "{}", told(&output));
    assert_eq!(fs::read_to_string(home.path().join("taken")).unwrap(), "mine");
    fs::create_dir_all(home.path().join("out/lamp-checklist-a4.pdf")).unwrap();
    let output = bayleaf(home.path(), &["print", "lamp", "--to", "out"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("it is a folder"), "{}", told(&output));
    assert_eq!(fs::read_dir(home.path().join("out")).unwrap().count(), 1);
}

#[test]
fn a_held_guide_is_printed_as_not_released() {
    let home = home_with(&lamp("Turn the switch.").replace("revision", "revison"), SHOP);
    let output = bayleaf(home.path(), &["print", "lamp"]);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert!(told(&output).contains("1 hold, so its sheets say NOT RELEASED"), "{}", told(&output));
    let text = squeezed(&Pdf::new(&fs::read(home.path().join("lamp-checklist-a4.pdf")).unwrap()).raw());
    assert!(text.contains("NOTRELEASED–held.Donotworktothissheet."));
}

#[test]
fn a_shop_without_address_has_no_code_and_is_told() {
    let without: String = SHOP.lines().filter(|line| !line.starts_with("address")).map(|line| format!("{line}\n")).collect();
    let home = home_with(&lamp("Turn the switch."), &without);
    let output = bayleaf(home.path(), &["print", "lamp"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(told(&output).contains("no `address`, so the sheets have no QR code"), "{}", told(&output));
    let pages = Pdf::new(&fs::read(home.path().join("lamp-checklist-a4.pdf")).unwrap()).rasterised(150);
    for (width, height, pixels) in &pages {
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(*width, *height, |x, y| pixels[y * width + x]);
        assert!(image.detect_grids().is_empty());
    }
}

#[test]
fn one_sheet_goes_to_standard_output_whole() {
    let home = home_with(&lamp("Turn the switch."), SHOP);
    let output = bayleaf(home.path(), &["print", "lamp", "--to", "-"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stdout.starts_with(b"%PDF-1.7"));
    bayleaf(home.path(), &["print", "lamp"]);
    assert!(output.stdout == fs::read(home.path().join("lamp-checklist-a4.pdf")).unwrap());
}

#[test]
fn sheets_of_the_shop_file_that_cannot_be_made_are_findings() {
    let shop =
        format!("{SHOP}\n[[sheet]]\nguide = \"lmap\"\nwith = [\"roof-lamp\"]\n\n[[sheet]]\nguide = \"lamp\"\nwith = [\"roof-lmap\"]\n");
    let home = home_with(&lamp("Turn the switch."), &shop);
    let output = bayleaf(home.path(), &["review"]);
    let report = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(report.contains("there is no guide `lmap`") && report.contains("write `lamp`"), "{report}");
    assert!(report.contains("no option has the id `roof-lmap`") && report.contains("write `roof-lamp`"), "{report}");
}
