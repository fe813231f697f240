//! Faults of what is not told: `untold` where it cannot stand or where the thing is told elsewhere, lists of pins without layout or side,
//! kits that nobody counted, drills that are no size. Beside each rule stand near misses, which must stay silent. All of it is common
//! practice of the trade; the names of inch drills are those of ANSI/ASME B94.11M (from memory).

use bayleaf::guide::{self, picture::Pictures};
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};

const SHOP: &str = "name = \"Shop\"\n[[hardware]]\nid = \"shelf-bolt\"\nname = \"Shelf bolt\"\nthread = \"M8\"\nclass = \"8.8\"\n";

const BOLT: &str = "[[part]]\nid = \"cover\"\nname = \"Cover\"\nsupplied = 1\n[[hardware]]\nid = \"bolt\"\nname = \"Bolt\"\nthread = \"M8\"\nclass = \"8.8\"\nsupplied = 4\n[[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"20 N·m\"\nsource = \"practice sheet\"\n";
const FIT: &str = "do = [{ fit = \"cover\", hardware = \"4 x bolt\", torque = \"bolt\" }]";

/// The findings of a rule, each as the text it marks.
fn marks(rule: &str, blocks: &str, step: &str) -> Vec<String> {
    let (shop, findings) = guide::read_shop(&SourceFile::new("guides/shop.toml", SHOP), FileId(0));
    assert_eq!(findings, vec![]);
    let step = if step.is_empty() { String::new() } else { format!("+++\n{step}\n+++\n\n") };
    let text = format!("+++\ntitle = \"Fit the cover\"\n{}\n+++\n\n## Fit the cover\n\n{step}Do the work.\n", blocks.trim_end());
    let source = SourceFile::new("guides/near.md", text.clone());
    let (guide, findings) = guide::read(&source, FileId(1), "near", &shop);
    let all = review::review(&guide, &shop, &Pictures::default(), &|_| true, findings).findings;
    let of_rule = all.into_iter().filter(|finding| finding.rule.name() == rule);
    of_rule.map(|finding| text[finding.place.span.range()].to_owned()).collect()
}

#[track_caller]
fn at(rule: &str, place: &str, blocks: &str, step: &str) {
    assert_eq!(marks(rule, blocks, step), [place], "{rule} in\n{blocks}\n{step}");
}

#[track_caller]
fn silent(rule: &str, blocks: &str, step: &str) {
    assert_eq!(marks(rule, blocks, step), [] as [&str; 0], "{rule} in\n{blocks}\n{step}");
}

#[test]
fn what_nobody_knows_is_told_at_its_place() {
    let bolt = |from: &str, to: &str| BOLT.replace(from, to);
    at("fact-untold", "untold", &bolt("supplied = 4", "supplied = \"untold\""), FIT);
    at("fact-untold", "untold: vehicle", &bolt("\"20 N·m\"", "\"untold: vehicle\""), FIT);
    at("fact-untold", "untold: supplier, page 4", &bolt("\"practice sheet\"", "\"untold: supplier, page 4\""), FIT);
    at(
        "fact-untold",
        "untold x bolt: vehicle",
        BOLT,
        "do = [{ fit = \"cover\", hardware = \"untold x bolt: vehicle\", torque = \"bolt\" }]",
    );
    at("fact-untold", "untold", BOLT, "wait = \"untold\"");
    silent("key-missing", "[[spec]]\nid = \"hole\"\nname = \"Hole\"\ndrill = \"untold\"\n", "");
    // A word that begins so, a note, and a value that is there.
    silent("fact-untold", &bolt("supplied = 4", "supplied = 4\nnote = \"untold riches\""), FIT);
    silent("fact-untold", &bolt("\"practice sheet\"", "\"the untold practice of this shop\""), FIT);
    silent("fact-untold", BOLT, FIT);
    // What may not be untold is told so, and is no question.
    at("type-wrong", "untold", &bolt("name = \"Cover\"", "name = \"untold\""), FIT);
    at("type-wrong", "untold", &format!("{BOLT}[[part]]\nid = \"untold\"\nname = \"Lid\"\nsupplied = 1\n"), FIT);
    at("type-wrong", "untold: suplier", &bolt("\"20 N·m\"", "\"untold: suplier\""), FIT);
    at("type-wrong", "\"four\"", &bolt("supplied = 4", "supplied = \"four\""), FIT);
    silent("type-wrong", &bolt("\"20 N·m\"", "\"untold: supplier\""), FIT);
    silent("type-wrong", &bolt("\"20 N·m\"", "\"untold: on the sheet of the kit\""), FIT);
    silent("type-wrong", &bolt("supplied = 4", "supplied = \"4 unsure\""), FIT);
}

#[test]
fn what_is_only_heard_is_told_at_its_place() {
    let bolt = |from: &str, to: &str| BOLT.replace(from, to);
    at("fact-unsure", "20 N·m unsure", &bolt("\"20 N·m\"", "\"20 N·m unsure\""), FIT);
    at("fact-unsure", "4, unsure: vehicle", &bolt("supplied = 4", "supplied = \"4, unsure: vehicle\""), FIT);
    at("fact-unsure", "M8 unsure: supplier, by telephone", &bolt("\"M8\"", "\"M8 unsure: supplier, by telephone\""), FIT);
    silent("fact-unsure", &bolt("supplied = 4", "supplied = 4\nnote = \"ask where unsure\""), FIT);
    silent("fact-unsure", &bolt("\"practice sheet\"", "\"sheet of an unsure author\""), FIT);
    silent("fact-unsure", BOLT, FIT);
    // What is heard is read like any other value.
    at("value-unreadable", "tight", &bolt("\"20 N·m\"", "\"tight unsure\""), FIT);
    at("torque-over-proof", "200 N·m", &bolt("\"20 N·m\"", "\"200 N·m unsure\""), FIT);
}

#[test]
fn what_is_told_elsewhere_is_not_asked_for() {
    let untold = "do = [{ fit = \"cover\", hardware = \"4 x bolt\", torque = \"untold\" }]";
    at("told-elsewhere", "untold", BOLT, untold);
    at(
        "told-elsewhere",
        "untold",
        &format!("{BOLT}[[spec]]\nid = \"other\"\nfor = \"bolt\"\ntorque = \"untold\"\nsource = \"practice sheet\"\n"),
        FIT,
    );
    at(
        "told-elsewhere",
        "untold",
        &format!("{BOLT}[[hardware]]\nid = \"mine\"\nname = \"Shelf bolt\"\nthread = \"untold\"\nsupplied = 2\n"),
        FIT,
    );
    silent("told-elsewhere", BOLT, &untold.replace("torque = ", "note = \"with the washer under it\", torque = "));
    silent("told-elsewhere", &BOLT.replace("for = \"bolt\"\n", ""), untold);
    silent(
        "told-elsewhere",
        &format!("{BOLT}[[hardware]]\nid = \"mine\"\nname = \"Other bolt\"\nthread = \"untold\"\nsupplied = 2\n"),
        FIT,
    );
    silent("told-elsewhere", &BOLT.replace("\"20 N·m\"", "\"untold\""), FIT);
}

#[test]
fn a_kit_that_nobody_counted_is_told_at_its_place() {
    let bolt = |from: &str, to: &str| BOLT.replace(from, to);
    at("count-untold", "bolt", &bolt("supplied = 4\n", ""), FIT);
    at("count-untold", "cover", &bolt("supplied = 1\n", ""), FIT);
    at(
        "count-untold",
        "nut",
        &format!("{BOLT}[[hardware]]\nid = \"nut\"\nname = \"Nut\"\nkind = \"nut\"\nno_torque = \"hand tight\"\n"),
        "do = [{ fit = \"nut\" }]",
    );
    silent("count-untold", &bolt("supplied = 4", "on_vehicle = 4"), FIT);
    silent("count-untold", &bolt("supplied = 4", "supplied = \"untold\""), FIT);
    silent("count-untold", BOLT, "do = [{ fit = \"cover\", hardware = \"4 x shelf-bolt\", torque = \"bolt\" }]");
    silent("count-untold", &bolt("supplied = 4\n", ""), "do = [{ inspect = \"bolt\" }]");
    // What came off goes back on.
    let back = "do = [{ remove = \"cover\", hardware = \"4 x bolt\" }, { fit = \"cover\", hardware = \"4 x bolt\", torque = \"bolt\" }]";
    silent("count-untold", &bolt("supplied = 4\n", ""), back);
}

#[test]
fn pins_without_layout_or_side_are_told_at_their_place() {
    let plug = |more: &str| format!("[[connector]]\nid = \"plug\"\nname = \"Plug\"\n{more}pin = [{{ at = \"1\", what = \"Lamp\" }}]\n");
    at("side-untold", "plug", &plug(""), "");
    at("side-untold", "plug", &plug("seen_from = \"wire-side\"\n"), "");
    at("side-untold", "1", &plug("layout = [\"1\"]\n"), "");
    at("side-untold", "plug", &plug("layout = \"untold\"\n"), "");
    silent("side-untold", &plug("layout = [\"1\"]\nseen_from = \"mating-side\"\n"), "");
    silent("side-untold", &plug("layout = \"untold\"\nseen_from = \"untold\"\n"), "");
    silent("side-untold", &plug("layout = [\"1\"]\nseen_from = \"untold: vehicle\"\n"), "");
    silent("side-untold", "[[connector]]\nid = \"plug\"\nname = \"Plug\"\n", "");
}

#[test]
fn a_drill_that_is_no_size_is_told_at_its_place() {
    let drill = |size: &str| format!("[[spec]]\nid = \"hole\"\nname = \"Hole\"\ndrill = \"{size}\"\n");
    for size in ["a big one", "9", "9 N·m", "0 mm", "-4 mm", "#0", "#98", "AA"] {
        at("value-unreadable", size, &drill(size), "");
    }
    for size in ["9 mm", "Ø 6.5 mm", "3/8 in", "#7", "No. 30", "letter F", "Q", "6,5 mm"] {
        silent("value-unreadable", &drill(size), "");
    }
}
