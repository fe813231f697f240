//! Near misses: guides that are close to a fault of turns, threads, wires or fuses and have none, so that the rule must stay silent. Beside
//! them stands, for each rule, one guide that has the fault, in the same words, so that silence means something.

use bayleaf::guide::{self, picture::Pictures};
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};

const SHOP: &str = r#"
name = "Shop"
drop = "3 %"
[[wire]]
wire = "1.5 mm²"
current = "15 A"
[[wire]]
wire = "6 AWG"
current = "60 A"
"#;

/// The names of the rules that speak of a guide with these blocks and words.
fn rules(blocks: &str, step: &str, words: &str) -> Vec<&'static str> {
    let (shop, findings) = guide::read_shop(&SourceFile::new("guides/shop.toml", SHOP), FileId(0));
    assert_eq!(findings, vec![]);
    let step = if step.is_empty() { String::new() } else { format!("+++\n{step}\n+++\n\n") };
    let text = format!("+++\ntitle = \"Fit the cover\"\n{}\n+++\n\n## Fit the cover\n\n{step}{words}\n", blocks.trim_end());
    let source = SourceFile::new("guides/near.md", text.clone());
    let (guide, findings) = guide::read(&source, FileId(1), "near", &shop);
    for finding in &findings {
        assert!(
            !matches!(finding.rule.name(), "block-unreadable" | "key-unknown" | "type-wrong" | "value-unreadable" | "unit-unknown"),
            "{finding:?} in\n{text}"
        );
    }
    review::review(&guide, &shop, &Pictures::default(), &|_| true, findings)
        .findings
        .into_iter()
        .map(|finding| finding.rule.name())
        .collect()
}

/// A bolt with further facts, tightened to a torque with further facts of its spec.
fn bolt(hardware: &str, torque: &str, spec: &str) -> Vec<&'static str> {
    let hardware = if hardware.contains("thread") { hardware.to_owned() } else { format!("thread = \"M8\"\nclass = \"8.8\"\n{hardware}") };
    let named = if hardware.contains("name =") { "" } else { "name = \"Bolt\"\n" };
    let blocks = format!(
        "[[part]]\nid = \"cover\"\nname = \"Cover\"\n[[hardware]]\nid = \"bolt\"\n{named}{hardware}\nsupplied = 4\n\
         [[spec]]\nid = \"bolt\"\nfor = \"bolt\"\ntorque = \"{torque}\"\nsource = \"practice sheet\"\n{spec}"
    );
    rules(&blocks, "do = [{ fit = \"cover\", hardware = \"4 x bolt\", torque = \"bolt\" }]", "Do the work.")
}

fn circuit(facts: &str, more: &str, step: &str, words: &str) -> Vec<&'static str> {
    let wire = if facts.contains("wire =") { "" } else { "wire = \"1.5 mm²\"\n" };
    rules(&format!("[[circuit]]\nid = \"lamps\"\nname = \"Lamp circuit\"\n{wire}length = \"0.5 m\"\n{facts}\n{more}"), step, words)
}

#[track_caller]
fn fires(rule: &str, found: &[&str]) {
    assert!(found.contains(&rule), "{rule} is silent: {found:?}");
}

#[track_caller]
fn silent(rule: &str, what: &str, found: &[&str]) {
    assert!(!found.contains(&rule), "{rule} speaks of {what}");
}

#[test]
fn turns_that_are_usual_stay_silent() {
    fires("angle-doubtful", &bolt("one_use = true", "12 N·m + 720°", ""));
    fires("angle-doubtful", &bolt("one_use = true", "33 N·m + 90°", ""));
    fires("angle-doubtful", &bolt("one_use = true", "12 N·m", "stages = [\"100 %\", \"360°\", \"90°\"]"));
    fires("angle-doubtful", &bolt("one_use = true\nlength = \"16 mm\"", "12 N·m + 270°", ""));
    for (hardware, torque, spec) in [
        ("", "12 N·m + 90°", ""),
        ("", "12 N·m + 180°", ""),
        ("", "20 N·m + 90°", ""),
        ("", "12 N·m + 1/2 turn", ""),
        ("", "12 N·m", "stages = [\"50 %\", \"100 %\", \"90°\", \"90°\"]"),
        ("length = \"16 mm\"", "12 N·m + 90°", ""),
        ("length = \"60 mm\"", "12 N·m + 360°", ""),
        // Without a turn the same torque is an ordinary one.
        ("", "33 N·m", ""),
        ("thread = \"G 1/4\"", "12 N·m + 90°", ""),
    ] {
        silent("angle-doubtful", &format!("{hardware} {torque} {spec}"), &bolt(hardware, torque, spec));
    }
}

#[test]
fn bolts_whose_reuse_is_told_stay_silent() {
    fires("angle-reuse-untold", &bolt("", "12 N·m + 90°", ""));
    fires("angle-reuse-untold", &bolt("note = \"left-hand thread\"", "12 N·m + 90°", ""));
    fires("angle-reuse-untold", &bolt("", "12 N·m", "stages = [\"100 %\", \"90°\"]"));
    for (hardware, torque, spec) in [
        ("one_use = true", "12 N·m + 90°", ""),
        ("note = \"may be used again twice, mark each time\"", "12 N·m + 90°", ""),
        ("", "12 N·m + 90°", "note = \"new bolts each time\""),
        ("", "20 N·m", ""),
        ("", "12 N·m", "stages = [\"50 %\", \"100 %\"]"),
    ] {
        silent("angle-reuse-untold", &format!("{hardware} {torque} {spec}"), &bolt(hardware, torque, spec));
    }
}

#[test]
fn torques_that_weaker_threads_are_given_stay_silent() {
    fires("thread-not-judged", &bolt("", "25 N·m", "into = \"plastic\""));
    fires("thread-not-judged", &bolt("", "30 N·m", "into = \"insert\""));
    fires("thread-not-judged", &bolt("length = \"12 mm\"", "25 N·m", "into = \"aluminium\""));
    for (hardware, torque, spec) in [
        ("", "6 N·m", "into = \"plastic\""),
        ("", "20 N·m", "into = \"rivet-nut\""),
        ("", "28 N·m", "into = \"captive-nut\""),
        ("", "30 N·m", "into = \"steel\""),
        ("", "30 N·m", ""),
        ("length = \"25 mm\"", "25 N·m", "into = \"aluminium\""),
        ("length = \"12 mm\"", "8 N·m", "into = \"aluminium\""),
    ] {
        silent("thread-not-judged", &format!("{hardware} {torque} {spec}"), &bolt(hardware, torque, spec));
    }
}

#[test]
fn threads_classes_and_drives_of_the_trade_stay_silent() {
    fires("thread-unknown", &bolt("thread = \"G 5/16\"", "20 N·m", ""));
    fires("class-unknown", &bolt("kind = \"nut\"\nthread = \"M8\"\nclass = \"7\"", "10 N·m", ""));
    fires("drive-doubtful", &bolt("thread = \"M10\"\ndrive = \"11 mm hex\"", "20 N·m", ""));
    fires("torque-doubtful", &bolt("thread = \"M20x1.5\"", "5 N·m", ""));
    let rules = ["thread-unknown", "class-unknown", "drive-doubtful", "torque-doubtful", "torque-over-proof"];
    for (hardware, torque) in [
        ("thread = \"1/8 NPT\"\ndrive = \"14 mm hex\"", "15 N·m"),
        ("thread = \"G 1/4\"\ndrive = \"19 mm hex\"", "30 N·m"),
        ("thread = \"Rc 1/4\"", "25 N·m"),
        ("thread = \"PG11\"", "4 N·m"),
        ("thread = \"M20x1.5 gland\"", "5 N·m"),
        ("kind = \"fitting\"\nthread = \"M20x1.5\"", "5 N·m"),
        ("name = \"Cable gland, rear\"\nthread = \"M20x1.5\"", "5 N·m"),
        ("kind = \"screw\"\nthread = \"ST4.2\"\ndrive = \"PZ2\"", "1.5 N·m"),
        ("thread = \"Tr8x1.5\"", "8 N·m"),
        ("thread = \"M14x1.5\"\nclass = \"10.9\"\ndrive = \"17 mm hex\"", "120 N·m"),
        ("thread = \"M10x1\"\nkind = \"nut\"\ndrive = \"11 mm hex\"", "16 N·m"),
        ("thread = \"M12x1\"\nkind = \"fitting\"\ndrive = \"13 mm hex\"", "17 N·m"),
        ("thread = \"3/8-24 UNF\"\nkind = \"nut\"\ndrive = \"11 mm hex\"", "15 N·m"),
        ("thread = \"7/16-24\"\nkind = \"nut\"\ndrive = \"1/2 in hex\"", "17 N·m"),
        ("thread = \"M10\"\nclass = \"10.9\"\ndrive = \"M10 triple-square\"", "45 N·m"),
        ("thread = \"M8\"\nclass = \"8.8\"\ndrive = \"M8 spline\"", "20 N·m"),
        ("kind = \"nut\"\nthread = \"M8\"\nclass = \"04\"", "9 N·m"),
        ("kind = \"nut\"\nthread = \"M8\"\nclass = \"05\"", "12 N·m"),
        ("kind = \"nut\"\nthread = \"M8\"\nclass = \"5\"", "12 N·m"),
        ("kind = \"nut\"\nthread = \"M8\"\nclass = \"6\"", "14 N·m"),
        ("kind = \"nut\"\nthread = \"M8\"\nclass = \"9\"", "25 N·m"),
        ("kind = \"screw\"\nthread = \"1/4-20\"\nclass = \"18-8\"", "68 lb·in"),
        ("thread = \"M6\"\nclass = \"8.8\"", "900 cN·m"),
        ("thread = \"M8\"\nclass = \"8.8\"", "2 daN·m"),
    ] {
        let found = bolt(hardware, torque, "");
        for rule in rules {
            silent(rule, &format!("{hardware} {torque}"), &found);
        }
    }
}

#[test]
fn a_wire_within_its_limit_stays_silent() {
    fires("wire-overloaded", &circuit("current = \"16 A\"", "", "", "Do the work."));
    fires("wire-overloaded", &circuit("wire = \"AWG 6\"\ncurrent = \"61 A\"\nfuse = \"80 A\"", "", "", "Do the work."));
    fires("wire-overloaded", &circuit("wire = \"1 mm²\"\ncurrent = \"16 A\"\nfuse = \"20 A\"", "", "", "Do the work."));
    for facts in [
        "current = \"15 A\"",
        "current = \"14 A\"\nfuse = \"15 A\"",
        "wire = \"6 AWG\"\ncurrent = \"60 A\"",
        // No row reaches it: nothing is known, and that is told by another rule.
        "wire = \"4 mm²\"\ncurrent = \"30 A\"\nfuse = \"40 A\"",
    ] {
        silent("wire-overloaded", facts, &circuit(facts, "", "", "Do the work."));
    }
}

#[test]
fn fuses_above_their_load_and_in_made_ratings_stay_silent() {
    fires("fuse-too-small", &circuit("current = \"10 A\"\nfuse = \"10 A\"", "", "", "Do the work."));
    fires("fuse-too-small", &circuit("current = \"12 A\"\nfuse = \"10 A\"", "", "", "Do the work."));
    fires("fuse-too-small", &circuit("current = \"8..15 A\"\nfuse = \"15 A\"", "", "", "Do the work."));
    fires("fuse-rating-unknown", &circuit("current = \"5 A\"\nfuse = \"8 A\"", "", "", "Do the work."));
    fires("fuse-rating-unknown", &circuit("current = \"5 A\"\nfuse = \"12 A\"\nfuse_type = \"blade\"", "", "", "Do the work."));
    fires("fuse-rating-unknown", &circuit("current = \"5 A\"\nvoltage = \"24 V\"\nfuse = \"16 A\"", "", "", "Do the work."));
    for facts in [
        "current = \"7 A\"\nfuse = \"10 A\"",
        "current = \"7 A\"\nfuse = \"7.5 A\"",
        "current = \"5 A\"\nfuse = \"8 A\"\nfuse_type = \"tube\"",
        "current = \"14 A\"\nfuse = \"16 A\"\nfuse_type = \"breaker\"",
        "wire = \"6 AWG\"\ncurrent = \"30 A\"\nfuse = \"45 A\"",
        "wire = \"6 AWG\"\ncurrent = \"30 A\"\nfuse = \"60 A\"\nfuse_type = \"blade\"",
        "wire = \"6 AWG\"\ncurrent = \"30 A\"\nfuse = \"35 A\"",
        "current = \"5 A\"",
    ] {
        let found = circuit(facts, "", "", "Do the work.");
        silent("fuse-too-small", facts, &found);
        silent("fuse-rating-unknown", facts, &found);
    }
}

#[test]
fn low_voltage_and_covered_mains_stay_silent() {
    let caution = |covers: &str, avoid: &str| {
        format!(
            "[[caution]]\nid = \"kills\"\nsignal = \"danger\"\nhazard = \"The output kills.\"\nresult = \"Death.\"\navoid = \"{avoid}\"\ncovers = [\"{covers}\"]"
        )
    };
    let licensed = "Leave the circuit to a licensed electrician.";
    let shown = "cautions = [\"kills\"]";
    let facts = |voltage: &str| format!("current = \"2 A\"\nfuse = \"10 A\"\nfuse_type = \"breaker\"\nvoltage = \"{voltage}\"");
    fires("mains-uncovered", &circuit(&facts("230 V AC"), "", "", "Do the work."));
    fires("mains-uncovered", &circuit(&facts("110 V"), &caution("battery", licensed), shown, "Do the work."));
    fires("mains-uncovered", &circuit(&facts("60 V AC"), &caution("mains", "Take care."), shown, "Do the work."));
    // Defined and never shown, a caution warns nobody.
    fires("mains-uncovered", &circuit(&facts("230 V"), &caution("mains", licensed), "", "Do the work."));
    for voltage in ["12 V", "24 V", "48 V DC", "58 V", "50 V AC", "120 V DC"] {
        silent("mains-uncovered", voltage, &circuit(&facts(voltage), "", "", "Do the work."));
    }
    for covers in ["mains", "high-voltage"] {
        silent("mains-uncovered", covers, &circuit(&facts("230 V AC"), &caution(covers, licensed), shown, "Do the work."));
    }
}

#[test]
fn a_gauge_is_taken_wherever_a_section_is() {
    let connector = "[[connector]]\nid = \"plug\"\nname = \"Plug\"\npin = [{ at = \"1\", what = \"Feed\", wire = \"AWG 14\" }]";
    let spec = "[[spec]]\nid = \"wire\"\nname = \"Wire of the feed\"\narea = \"6 AWG\"\nsource = \"practice sheet\"";
    let found = circuit(
        "wire = \"AWG 6\"\ncurrent = \"30 A\"\nfuse = \"40 A\"",
        &format!("{connector}\n{spec}"),
        "specs = [\"wire\"]",
        "Do the work.",
    );
    for rule in ["wire-unknown", "unit-unknown", "value-unreadable", "key-missing", "fuse-unknown"] {
        silent(rule, "a gauge", &found);
    }
    let found = circuit("wire = \"6\"\ncurrent = \"30 A\"\nfuse = \"40 A\"", "", "", "Do the work.");
    fires("wire-unknown", &found);
}
