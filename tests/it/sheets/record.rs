//! Records of work done: taken or refused, checked against the guide, and printed.

use super::*;
use bayleaf::record;
use serde_json::{Value, json};

const GUIDE: &str = "swivel-seat-base";

/// A folder with the demo guides in it, and their fingerprint as the program knows it.
struct Bay {
    home: tempfile::TempDir,
    page: Guide,
    fingerprint: String,
}

fn bay() -> Bay {
    let home = tempfile::tempdir().unwrap();
    let to = home.path().join("guides").join(GUIDE);
    fs::create_dir_all(&to).unwrap();
    fs::copy(root().join("guides/shop.toml"), home.path().join("guides/shop.toml")).unwrap();
    for entry in fs::read_dir(root().join("guides").join(GUIDE)).unwrap().flatten().filter(|entry| entry.path().is_file()) {
        fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
    }
    // The fingerprint covers the pictures, so it is asked of the program.
    bayleaf(home.path(), &["print", GUIDE, "--form", "short"]);
    let raw = Pdf::new(&fs::read(home.path().join(format!("{GUIDE}-checklist-short-a4.pdf"))).unwrap()).raw();
    let fingerprint = raw.split("Fingerprint").nth(1).unwrap().trim().lines().next().unwrap().trim().to_owned();
    Bay { home, page: demo(GUIDE), fingerprint }
}

/// A record with everything in it, as the bay view writes it.
fn complete(bay: &Bay, with: &[&str], without: &[&str]) -> Value {
    let mut document = bay.page.document.clone();
    chosen(&bay.page, with, without).apply(&mut document);
    let page = Guide::new(document);
    let mut ticks: Vec<String> = (1..=page.before_html.len()).map(|at| format!("before/{at}")).collect();
    let mut torques = Vec::new();
    let mut measured = Vec::new();
    let mut waits = Vec::new();
    let mut notes = vec![json!({ "step": "rail-bolts-out", "text": "One bolt head was damaged and the bolt replaced." })];
    for step in page.phases.iter().flat_map(|phase| &phase.steps) {
        ticks.extend(step.operations.iter().map(|operation| operation.id.clone()));
        ticks.extend((1..=step.checks_html.len()).map(|at| format!("{}/check/{at}", step.id)));
        if step.wait.is_some() {
            ticks.push(format!("{}/wait", step.id));
            waits
                .push(json!({ "step": step.id, "started": "2026-11-25 10:00", "ended": "2026-11-25 10:03", "ticked": "2026-11-25 10:04" }));
        }
        if step.hold_point.is_some() {
            ticks.push(format!("{}/hold", step.id));
            notes.push(json!({ "step": step.id, "text": "Signed at the stop: S. Invented" }));
        }
        for operation in &step.operations {
            for (at, value) in operation.specs.iter().enumerate().filter(|(_, value)| !value.reads.is_empty()) {
                let reads = &value.reads[0];
                let number = reads.low.as_ref().or(reads.high.as_ref()).unwrap();
                let entry = format!("{number} {}", reads.unit);
                measured.push(json!({ "operation": operation.id, "value": at + 1, "measured": entry, "note": "" }));
            }
        }
        for operation in &step.operations {
            ticks.extend(
                (1..=operation
                    .torque
                    .iter()
                    .flat_map(|torque| &torque.passes)
                    .chain(&operation.undo_passes)
                    .filter(|pass| !pass.is_empty())
                    .count())
                    .map(|at| format!("{}/pass/{at}", operation.id)),
            );
        }
        for operation in step.operations.iter().filter(|operation| operation.torque.is_some()) {
            let value = &operation.torque.as_ref().unwrap().value.first;
            // "5 to 7 N·m": the lower end is inside.
            let number: String = value.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            let wrench = if number.parse::<f64>().unwrap() < 10.0 { "TW-01" } else { "TW-03" };
            torques.push(json!({ "operation": operation.id, "applied": format!("{number} N·m"), "wrench": wrench, "note": "" }));
        }
    }
    ticks.extend((1..=page.final_checks_html.len()).map(|at| format!("final/{at}")));
    json!({
        "format": "bayleaf-record", "version": 1,
        "guide": { "slug": GUIDE, "title": page.line.title, "document": page.line.document, "revision": page.line.revision, "fingerprint": bay.fingerprint },
        "options": { "with": with, "without": without },
        "order": { "registration": "TH 26 ABC", "vehicle": "Marlin 2800, 2019 on", "vin": "INVENTED0000VIN01", "odometer": "12 345 km", "technician": "R. Invented", "inspector": "S. Invented",
                   "started": "2026-11-24", "finished": "2026-11-25" },
        "ticks": ticks, "torques": torques, "measured": measured, "waits": waits, "notes": notes,
        "signed": { "technician": true, "inspector": false },
    })
}

/// The record as a sealed file.
fn sealed(record: &Value) -> String {
    let body = serde_json::to_string_pretty(record).unwrap();
    let body = body.strip_suffix("\n}").unwrap();
    format!("{body},\n  \"seal\": \"{}\"\n}}\n", record::seal(body))
}

/// The last step at which somebody signs.
fn last_stop(bay: &Bay, who: &str) -> (String, usize) {
    let mut steps = bay.page.phases.iter().flat_map(|phase| &phase.steps).filter(|step| step.hold_point.as_deref() == Some(who));
    let step = steps.next_back().unwrap();
    (step.id.clone(), step.number)
}

fn print(bay: &Bay, text: &str) -> Output {
    fs::write(bay.home.path().join("record.json"), text).unwrap();
    bayleaf(bay.home.path(), &["print", "--record", "record.json", "--to", "out"])
}

fn printed(bay: &Bay) -> String {
    let file = fs::read_dir(bay.home.path().join("out")).unwrap().flatten().next().unwrap();
    assert!(file.file_name().to_string_lossy().starts_with("swivel-seat-base-record-"));
    Pdf::new(&fs::read(file.path()).unwrap()).raw()
}

#[test]
fn a_complete_record_is_printed_with_its_entries() {
    let bay = bay();
    let output = print(&bay, &sealed(&complete(&bay, &[], &["heated-seat"])));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let text = squeezed(&printed(&bay));
    // Each sheet ends with a form feed, and says who comes first.
    for sheet in printed(&bay).trim_end_matches('\u{c}').split('\u{c}') {
        assert!(squeezed(sheet).contains(&squeezed("for trained and licensed people")), "{sheet}");
    }
    for entry in [
        "As-built record",
        "TH 26 ABC",
        "INVENTED0000VIN01",
        "12 345 km",
        "R. Invented",
        "2026-11-24",
        "45 N·m, TW-03",
        "One bolt head was damaged",
        "signed by R. Invented",
        "Complete. Every box that applies is ticked and every value that is asked for is entered.",
        "For a vehicle without heated seat",
    ] {
        assert!(text.contains(&squeezed(entry)), "{entry}");
    }
    assert!(!text.contains("heater") && !text.contains("Openattheend") && !text.contains("Missingor"));
}

#[test]
fn what_is_missing_is_told_on_the_terminal_and_on_the_sheet() {
    let bay = bay();
    let mut record = complete(&bay, &["heated-seat"], &[]);
    record["ticks"].as_array_mut().unwrap().retain(|tick| tick != "final/2" && tick != "base-tight/hold" && tick != "base-tight/1/pass/2");
    let torques = record["torques"].as_array_mut().unwrap();
    torques.retain(|torque| !torque["operation"].as_str().unwrap().starts_with("plate/"));
    for torque in torques.iter_mut() {
        if torque["operation"].as_str().unwrap().starts_with("rail-bolts-tight/") {
            torque["applied"] = json!("95 N·m");
        }
    }
    record["measured"] = json!([]);
    // A stop that is ticked has a name.
    let (stop, number) = last_stop(&bay, "Inspector");
    let stopped = format!("Step {number}: Inspector has not signed at the stop");
    record["notes"]
        .as_array_mut()
        .unwrap()
        .retain(|note| note["step"] != stop.as_str() || !note["text"].as_str().unwrap().starts_with("Signed"));
    record["order"]["registration"] = json!("");
    record["signed"]["technician"] = json!(false);
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let (told, sheet) = (told(&output), squeezed(&printed(&bay)));
    for missing in [
        "Final checks: 1 box not ticked",
        "Step 11: 1 box not ticked",
        "Step 11: Inspector has not signed at the stop",
        "Step 13: no torque entered for Turning plate, 8 × ",
        "95 N·m is above what is asked for, 45 N·m (33 lb·ft), and no note says why",
        "The registration is missing",
        "The technician has not signed",
        "Step 8: Height difference between the mounting faces is not entered",
        "Step 12: Force at the release handle is not entered",
        "Step 9: Gap from the turning plate to the closed door is not entered",
        stopped.as_str(),
    ] {
        assert!(told.contains(missing), "{missing}: {told}");
        assert!(sheet.contains(&squeezed(missing)), "{missing}");
    }
    assert!(told.contains("14 things are missing or still open"), "{told}");
    // A note says why it stays, and it is printed.
    for torque in record["torques"].as_array_mut().unwrap() {
        if torque["applied"] == "95 N·m" {
            torque["note"] = json!("the maker's bulletin of May asks for it");
        }
    }
    let output = print(&bay, &sealed(&record));
    assert!(!self::told(&output).contains("95 N·m"), "{}", self::told(&output));
}

#[test]
fn what_only_looks_complete_is_told() {
    let bay = bay();
    let mut record = complete(&bay, &[], &["heated-seat"]);
    let waited = record["waits"][0]["step"].as_str().unwrap().to_owned();
    record["waits"] = json!([]);
    record["order"]["vehicle"] = json!("");
    record["order"]["inspector"] = json!("r.  INVENTED");
    record["signed"]["inspector"] = json!(true);
    record["torques"][0]["wrench"] = json!("BANANA");
    record["torques"][1]["wrench"] = json!("");
    record["torques"][2]["wrench"] = json!(" tw-06 ");
    let mut stops = 0;
    for note in record["notes"].as_array_mut().unwrap() {
        if note["text"].as_str().unwrap().starts_with("Signed") {
            note["text"] = json!("Signed at the stop: R. Invented, 2026-11-25 14:05");
            stops += 1;
        }
    }
    // The range of TW-06 is 40 to 200 N·m, its calibration ends on 2027-01-31.
    record["torques"][2]["applied"] = json!("39 N·m");
    record["order"]["finished"] = json!("2027-02-01");
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let told = told(&output);
    for missing in [
        "the wrench “BANANA” is none of the guide’s or the shop’s",
        "no wrench is entered",
        "39 N·m was applied with tw-06, whose range is 40 to 200 N·m",
        "The vehicle is missing",
        "The inspector who signed is the technician",
        "the wait was ticked and its clock did not run, and no note on the step says why",
    ] {
        assert_eq!(told.matches(missing).count(), 1, "{missing}: {told}");
    }
    assert_eq!(told.matches("the technician signed at the stop of Inspector").count(), stops, "{told}");
    record["torques"][2]["applied"] = json!("45 N·m");
    let output = print(&bay, &sealed(&record));
    assert!(self::told(&output).contains("the calibration of tw-06 ended on 2027-01-31"), "{}", self::told(&output));
    // A word of why settles each of them.
    record["notes"].as_array_mut().unwrap().push(json!({ "step": waited, "text": "timed by the watch on the wall" }));
    for torque in record["torques"].as_array_mut().unwrap() {
        torque["note"] = json!("as agreed with the foreman");
    }
    let output = print(&bay, &sealed(&record));
    for settled in ["BANANA", "tw-06", "its clock did not run"] {
        assert!(!self::told(&output).contains(settled), "{settled}: {}", self::told(&output));
    }
}

#[test]
fn what_is_open_by_the_ticks_is_told_with_the_step_that_closes_it() {
    let bay = bay();
    let mut record = complete(&bay, &["heated-seat"], &[]);
    let steps = || bay.page.phases.iter().flat_map(|phase| &phase.steps);
    let closes = |account: &'static str| {
        move |step: &&data::Step| step.operations.iter().flat_map(moved).any(|moved| !moved.opens && moved.account == account)
    };
    let thing = bay.page.accounts.iter().find(|thing| thing.connector).unwrap();
    let account: &'static str = thing.account.clone().leak();
    let step = steps().rfind(closes(account)).unwrap();
    let closing = step.operations.iter().filter(|operation| moved(operation).any(|moved| moved.account == account && !moved.opens));
    let closing: Vec<&str> = closing.map(|operation| operation.id.as_str()).collect();
    record["ticks"].as_array_mut().unwrap().retain(|tick| !closing.contains(&tick.as_str().unwrap()));
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let line = format!("Still unplugged: {}, see step {}", thing.name, step.number);
    assert!(told(&output).contains(&line), "{line}: {}", told(&output));
    assert!(squeezed(&printed(&bay)).contains(&squeezed(&line)), "{line}");
    assert_eq!(told(&output).matches("Still ").count(), 1, "{}", told(&output));
}

#[test]
fn what_was_opened_in_a_step_that_does_not_apply_stays_open() {
    let bay = bay();
    let mut record = complete(&bay, &[], &["heated-seat"]);
    let steps = || bay.page.phases.iter().flat_map(|phase| &phase.steps);
    let operations = || steps().flat_map(|step| step.operations.iter().map(move |operation| (step, operation)));
    let only_heated = |terms: &Option<String>| terms.as_deref() == Some("heated-seat");
    let plug = |operation: &data::Operation| operation.moves.split(' ').any(|moved| moved.starts_with("+disconnect"));
    let (_, operation) =
        operations().find(|(step, operation)| (only_heated(&step.terms) || only_heated(&operation.terms)) && plug(operation)).unwrap();
    let account = moved(operation).find(|moved| moved.opens).unwrap().account.to_owned();
    let thing = bay.page.accounts.iter().find(|thing| thing.account == account).unwrap();
    record["ticks"].as_array_mut().unwrap().push(json!(operation.id));
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let line = format!("Still {}: {}, in a step that does not apply any more", thing.state, thing.name);
    assert!(told(&output).contains(&line), "{line}: {}", told(&output));
    assert!(squeezed(&printed(&bay)).contains(&squeezed(&line)), "{line}");
}

#[test]
fn order_vehicle_waits_and_the_time_at_a_stop_are_printed() {
    let bay = bay();
    let mut record = complete(&bay, &[], &["heated-seat"]);
    record["order"]["order"] = json!("J-0417");
    record["order"]["vehicle"] = json!("Marlin 2800, 2019 on");
    let waited = bay.page.phases.iter().flat_map(|phase| &phase.steps).find(|step| step.wait.is_some()).unwrap();
    record["waits"] =
        json!([{ "step": waited.id, "started": "2026-11-25 10:00", "ended": "2026-11-25 10:03", "ticked": "2026-11-25 10:04" }]);
    for note in record["notes"].as_array_mut().unwrap() {
        if note["text"] == "Signed at the stop: S. Invented" {
            note["text"] = json!("Signed at the stop: S. Invented, 2026-11-26 14:05");
        }
    }
    record["torques"][0]["applied"] = json!("95 N·m");
    record["torques"][0]["note"] = json!("the bolt was replaced");
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let text = squeezed(&printed(&bay));
    for entry in [
        "Order J-0417",
        "Vehicle Marlin 2800",
        "from 2026-11-25 10:00",
        "until 2026-11-25 10:03",
        "Date, time 2026-11-26 14:05",
        "Complete, with 1 value not as asked for (step ",
    ] {
        assert!(text.contains(&squeezed(entry)), "{entry}: {text}");
    }
    record["waits"][0]["ticked"] = json!("2026-11-25 10:01");
    let output = print(&bay, &sealed(&record));
    let line = format!("Step {}: the wait was ticked before its clock ran out", waited.number);
    assert!(output.status.code() == Some(1) && told(&output).contains(&line), "{}", told(&output));
    record["waits"][0]["step"] = json!("elsewhere");
    let output = print(&bay, &sealed(&record));
    assert!(told(&output).contains("an entry for `elsewhere`"), "{}", told(&output));
}

#[test]
fn what_is_not_as_asked_for_is_marked_and_ticks_are_in_the_text() {
    let bay = bay();
    let mut record = complete(&bay, &["heated-seat"], &[]);
    let marked = "not as asked for:";
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let good = printed(&bay);
    assert!(!good.contains(marked));
    // Boxes say in the text whether they are ticked.
    let own = |tick: &str| !tick.ends_with("/hold") && !tick.contains("/pass/");
    let ticks = record["ticks"].as_array().unwrap().iter().filter(|tick| own(tick.as_str().unwrap())).count();
    let words = |text: &str| text.split_whitespace().filter(|word| *word == "ticked").count();
    let before = words(&good);
    assert!(before > ticks, "{before} words, {ticks} ticks: {good}");
    fs::remove_dir_all(bay.home.path().join("out")).unwrap();
    record["torques"][0]["applied"] = json!("95 N·m");
    record["torques"][0]["note"] = json!("the bolt was replaced");
    record["measured"][0]["measured"] = json!("900 mm");
    record["measured"][0]["note"] = json!("the trim was moved");
    let gone = record["ticks"].as_array_mut().unwrap().remove(0);
    assert_eq!(gone, "before/1");
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let off = printed(&bay);
    assert_eq!(off.matches(marked).count(), 2, "{off}");
    // The sentence of a complete record says the word once, and so does the list of what is missing.
    assert_eq!(words(&off), before - 1);
    for entry in ["not as asked for: 95 N·m", "not as asked for: 900 mm"] {
        assert!(squeezed(&off).contains(&squeezed(entry)), "{entry}: {off}");
    }
}

#[test]
fn a_name_in_letters_that_the_fonts_lack_is_printed_by_number() {
    let bay = bay();
    let mut record = complete(&bay, &[], &["heated-seat"]);
    record["order"]["technician"] = json!("李 Invented");
    let output = print(&bay, &sealed(&record));
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(told(&output).contains("'李' as [U+674E]"), "{}", told(&output));
    assert!(squeezed(&printed(&bay)).contains("[U+674E]Invented"));
}

#[test]
fn a_changed_or_foreign_record_is_refused_with_the_reason() {
    let bay = bay();
    let good = complete(&bay, &[], &[]);
    let with = |change: &dyn Fn(&mut Value)| {
        let mut record = good.clone();
        change(&mut record);
        sealed(&record)
    };
    for (text, why) in [
        (sealed(&good).replace("\"technician\": true", "\"technician\": false"), "its text is not as it was saved"),
        (with(&|record| record["guide"]["slug"] = json!("swivel-seat-bases")), "which is not here; did you mean `swivel-seat-base`"),
        (with(&|record| record["guide"]["fingerprint"] = json!("0000 0000")), "the work was done to revision E (0000 0000)"),
        (with(&|record| record["guide"]["revision"] = json!("C")), "the work was done to revision C"),
        (with(&|record| record["guide"]["document"] = json!("TH-9999")), "it is of TH-9999"),
        (with(&|record| record["options"]["with"] = json!(["sunroof"])), "no option `sunroof`"),
        (with(&|record| record["version"] = json!(2)), "version 2"),
        (with(&|record| record["ticks"] = json!("all")), "does not hold what a record"),
        (
            with(&|record| record["ticks"].as_array_mut().unwrap().push(json!("no-such-step/1"))),
            "an entry for `no-such-step/1`, which the guide does not have",
        ),
        (
            with(&|record| record["notes"].as_array_mut().unwrap().push(json!({ "step": "elsewhere", "text": "x" }))),
            "an entry for `elsewhere`",
        ),
        (
            with(&|record| {
                let first = record["torques"][0].clone();
                record["torques"].as_array_mut().unwrap().push(first);
            }),
            "two entries for `",
        ),
        ("{}".to_owned(), "no record of work done"),
        ("not json".to_owned(), "not JSON"),
    ] {
        let output = print(&bay, &text);
        assert_eq!(output.status.code(), Some(2), "{why}: {}", told(&output));
        assert!(told(&output).replace('?', "").contains(why), "{why}: {}", told(&output));
        assert!(!bay.home.path().join("out").exists(), "{why}");
    }
}

/// What an operation opens and closes, as the script of the page reads it.
struct Moved<'o> {
    account: &'o str,
    opens: bool,
}

fn moved(operation: &data::Operation) -> impl Iterator<Item = Moved<'_>> {
    let words = operation.moves.split(' ').filter(|word| !word.is_empty());
    words.map(|word| Moved { account: word[1..].split('*').next().unwrap(), opens: word.starts_with('+') })
}

#[test]
fn torques_are_judged_as_the_page_judges_them() {
    let page = demo(GUIDE);
    let torque = |value: &str| {
        let mut torques = page.document.steps().flat_map(|step| &step.operations).filter_map(|operation| operation.torque.clone());
        torques.find(|torque| squeezed(&torque.value.spelt().first) == squeezed(value)).unwrap()
    };
    // By hand from 1 lb·ft = 1.3558179483314 N·m (NIST SP 811, appendix B.8): 32.5 lb·ft = 44.064 N·m.
    let plain = torque("45\u{a0}N·m");
    for (applied, good) in [
        ("45 N·m", true),
        ("45 Nm", true),
        // Where nothing is said, 4 % either way: 43.2 to 46.8 N·m, 31.68 to 34.32 lb·ft.
        ("43.2 N·m", true),
        ("43,2 N·m", true),
        ("43.1 N·m", false),
        ("46.8 N·m", true),
        ("46.9 N·m", false),
        ("31.7 lb·ft", true),
        ("31.6 lb·ft", false),
        ("33 lb·ft", true),
        ("33 ft-lb", true),
        ("396 lb·in", true),
        ("33 lb·in", false),
        ("45", false),
        ("45 mm", false),
        ("tight", false),
        ("40 to 50 N·m", false),
        ("", false),
    ] {
        assert_eq!(record::judge(applied, &plain).is_ok(), good, "{applied}");
    }
    let range = torque("5 to 7\u{a0}N·m");
    for (applied, good) in [("5 N·m", true), ("6.2 N·m", true), ("7 N·m", true), ("7.4 N·m", false), ("4.9 N·m", false)] {
        assert_eq!(record::judge(applied, &range).is_ok(), good, "{applied}");
    }
}
