//! What stands on the sheets, read back from the files.

use super::*;
use bayleaf::quantity;
use bayleaf::theme::data::{Operation, Value};

/// The text of finished markup, made here a second time and simply: tags out, the five references resolved.
fn words_of(html: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(c),
            _ => {}
        }
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'").replace("&amp;", "&")
}

/// What must be read of an operation, in order. The sheet may set a value beside the words, so it is a list of its own.
fn of_operation(operation: &Operation) -> Vec<String> {
    let things = if operation.things.is_empty() { None } else { Some(operation.things.clone()) };
    let words: Vec<String> = things.into_iter().chain(operation.hardware.iter().cloned()).chain(operation.how.iter().cloned()).collect();
    vec![format!("{} {}", operation.verb, words.join(", "))]
}

fn of_value(value: &Value) -> Vec<String> {
    // A limit is said once for both units.
    let second = value.second.as_ref().map(|second| quantity::beside(&value.first, second).to_owned());
    std::iter::once(value.first.clone()).chain(second).collect()
}

/// Takes what is needed out of a text in order; panics where it is not there.
#[track_caller]
fn in_order(text: &str, needed: &[String], of: &str) {
    let text = squeezed(text);
    let mut at = 0;
    for needle in needed {
        let needle = squeezed(needle);
        match text[at..].find(&needle) {
            Some(found) => at += found + needle.len(),
            None => {
                let known = text.contains(&needle);
                panic!(
                    "{of}: `{needle}` {} after: …{}",
                    if known { "stands elsewhere, not" } else { "is not there," },
                    &text[..at].chars().rev().take(80).collect::<Vec<_>>().iter().rev().collect::<String>()
                );
            }
        }
    }
}

#[test]
fn every_operation_value_and_caution_of_the_demo_guides_is_there_in_order() {
    for slug in GUIDES {
        let page = demo(slug);
        for paper in Paper::ALL {
            for form in [Form::Short, Form::Full] {
                let pdf = Pdf::new(&sheet(&page, Kind::Checklist, paper, form));
                let of = format!("{slug} {paper:?} {form:?}");
                let mut needed = vec![page.line.title.clone()];
                // Grouped messages come with the gravest first (ANSI Z535.6).
                let mut grouped: Vec<_> = page.cautions.iter().collect();
                grouped
                    .sort_by_key(|caution| ["danger", "warning", "caution", "notice"].iter().position(|signal| *signal == caution.signal));
                needed.extend(
                    grouped
                        .iter()
                        .flat_map(|caution| [caution.word.clone(), words_of(&caution.hazard_html)])
                        .filter(|text| !text.contains('(')),
                );
                needed.extend(page.tools.iter().filter(|tool| tool.is_wrench).map(|tool| tool.name.clone()));
                needed.extend(page.parts.iter().map(|part| part.name.clone()));
                let mut values = 0;
                for step in page.phases.iter().flat_map(|phase| &phase.steps) {
                    // The short form puts cautions before the title of the step, the full form under it.
                    let title = format!("{}{}", step.number, step.title);
                    let cautions: Vec<String> = step.cautions.iter().map(|caution| caution.word.clone()).collect();
                    if form == Form::Full {
                        needed.push(title);
                        needed.extend(cautions);
                    } else {
                        needed.extend(cautions);
                        needed.push(title);
                    }
                    for operation in &step.operations {
                        needed.extend(of_operation(operation));
                        if let Some(torque) = &operation.torque {
                            needed.extend(of_value(&torque.value));
                            needed.push("applied".to_owned());
                            values += 1;
                        }
                        needed.extend(operation.specs.iter().filter(|_| operation.torque.is_none()).flat_map(|spec| of_value(&spec.value)));
                    }
                    needed.extend(step.hold_point.iter().map(|who| format!("Stop. {who} signs")));
                }
                needed.push("Signed off".to_owned());
                in_order(&pdf.raw(), &needed, &of);
                assert!(values > 3, "{of}");

                // The text as laid out has the columns of a line side by side, so words that go on below are apart there.
                let laid_out = pdf.laid_out();
                let starts: Vec<String> = page
                    .phases
                    .iter()
                    .flat_map(|phase| &phase.steps)
                    .flat_map(|step| {
                        let first = step.operations.iter().filter(|operation| operation.torque.is_some() || form == Form::Full);
                        first.map(|operation| {
                            let words = of_operation(operation).remove(0);
                            words.split(' ').take(2).collect::<Vec<_>>().join(" ")
                        })
                    })
                    .collect();
                in_order(&laid_out, &starts, &format!("{of}, laid out"));
                for torque in page
                    .phases
                    .iter()
                    .flat_map(|phase| &phase.steps)
                    .flat_map(|step| &step.operations)
                    .filter_map(|operation| operation.torque.as_ref())
                {
                    let first = torque.value.first.split(' ').take(2).collect::<Vec<_>>().join(" ");
                    assert!(squeezed(&laid_out).contains(&squeezed(&first)), "{of}: {first}");
                }
            }
        }
    }
}

#[test]
fn every_hazard_and_every_pass_is_told_in_full() {
    for slug in GUIDES {
        let page = demo(slug);
        let text = squeezed(&Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full)).raw());
        for step in page.phases.iter().flat_map(|phase| &phase.steps) {
            for caution in step.cautions.iter().chain(&page.cautions).filter(|caution| !caution.hazard_html.contains("class=\"val\"")) {
                assert!(text.contains(&squeezed(&words_of(&caution.hazard_html))), "{slug}: {}", caution.hazard_html);
            }
            for torque in step.operations.iter().filter_map(|operation| operation.torque.as_ref()) {
                // A single fastener has no boxes, and its passes stand in its words.
                for pass in torque.passes.iter().filter(|pass| !pass.is_empty()) {
                    assert!(text.contains(&squeezed(pass)), "{slug}, step {}: {pass}", step.number);
                }
                for part in [&torque.setting, &torque.wrench, &torque.condition].into_iter().flatten() {
                    assert!(text.contains(&squeezed(part)), "{slug}, step {}: {part}", step.number);
                }
            }
            for check in step.checks_html.iter().filter(|check| !check.contains("class=\"val\"")) {
                assert!(text.contains(&squeezed(&format!("Check {}", words_of(check)))), "{slug}: {check}");
            }
        }
    }
}

#[test]
fn only_what_applies_stands_on_the_sheet_of_a_vehicle() {
    let page = demo("swivel-seat-base");
    let text = |with: &[&str], without: &[&str]| {
        let made = try_sheet(&page, Kind::Checklist, Paper::A4, Form::Full, &chosen(&page, with, without)).unwrap();
        squeezed(&Pdf::new(&made.bytes).raw())
    };
    let label = squeezed("only with heated seat");
    let heater = squeezed("Disconnect Seat heater connector");
    let (open, with, without) = (text(&[], &[]), text(&["heated-seat"], &[]), text(&[], &["heated-seat"]));
    assert!(open.contains(&label) && open.contains(&heater) && open.contains("Thisvehiclehas"));
    assert!(!with.contains(&label) && with.contains(&heater) && with.contains(&squeezed("For a vehicle with heated seat")));
    assert!(!without.contains(&label) && !without.contains("heater") && without.contains(&squeezed("For a vehicle without heated seat")));
    // What is open at the end of a sheet follows the choice: the plug is told with its option, without it, or not at all.
    assert!(open.contains(&squeezed("Seat heater connector, grey (unplugged, only with heated seat)")));
    assert!(with.contains(&squeezed("Seat heater connector, grey (unplugged)")));
}

#[test]
fn what_is_open_at_the_end_of_each_sheet_is_told() {
    let page = demo("swivel-seat-base");
    let raw = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full)).raw();
    let sheets: Vec<String> = raw.split('\u{c}').filter(|sheet| !sheet.trim().is_empty()).map(squeezed).collect();
    assert!(sheets.len() > 5);
    let mut disconnected = false;
    for sheet in &sheets {
        let (done, rest) = sheet.split_once("Openattheendofthissheet:").expect("every sheet tells what is open");
        // The lead is taken off in one step and put back in another: between the two every sheet says so.
        disconnected = (disconnected || done.contains(&squeezed("Disconnect Battery negative lead")))
            && !done.contains(&squeezed("Connect Battery negative lead, 1"));
        assert_eq!(rest.contains(&squeezed("Battery negative lead (disconnected)")), disconnected, "{rest}");
    }
    assert!(!disconnected);
    let last = sheets.last().unwrap();
    assert!(last.contains("Openattheendofthissheet:nothing"), "{last}");
}

#[test]
fn units_stand_in_the_order_that_was_asked_for() {
    let to = tempfile::tempdir().unwrap();
    let text = |units: &str| {
        let folder = to.path().join(units);
        let output =
            bayleaf(&root(), &["print", "swivel-seat-base", "--form", "short", "--units", units, "--to", folder.to_str().unwrap()]);
        assert!(output.status.success(), "{}", told(&output));
        // The file says which units lead where they are not those of the shop.
        let word = if units == "imperial" { "-imperial" } else { "" };
        squeezed(&Pdf::new(&fs::read(folder.join(format!("swivel-seat-base-checklist-short{word}-a4.pdf"))).unwrap()).raw())
    };
    let (metric, imperial) = (text("metric"), text("imperial"));
    assert!(metric.contains("45N·m33lb·ft") && !metric.contains("33lb·ft45N·m"));
    assert!(imperial.contains("33lb·ft45N·m"));
}

#[test]
fn torque_sheet_packing_list_and_wall_sheet_hold_their_rows() {
    for slug in GUIDES {
        let page = demo(slug);
        let torque = squeezed(&Pdf::new(&sheet(&page, Kind::Torque, Paper::A4, Form::Full)).raw());
        for row in &page.torques {
            for text in [&row.fastener, &row.thread, &row.torque.value.first] {
                assert!(torque.contains(&squeezed(text)), "{slug}: {text}");
            }
        }
        let packing = squeezed(&Pdf::new(&sheet(&page, Kind::Packing, Paper::Letter, Form::Full)).raw());
        for part in page.parts.iter().chain(&page.kit_hardware) {
            assert!(packing.contains(&squeezed(&part.name)), "{slug}: {}", part.name);
        }
    }
    let pages: Vec<Guide> = GUIDES.iter().map(|slug| demo(slug)).collect();
    let shop = demo_shop();
    let rows: Vec<_> = pages.iter().map(|page| (page.document.head.fits.as_slice(), &page.document)).collect();
    let vehicles = vehicles::by_vehicle(&rows, &shop);
    assert!(vehicles.len() >= 3);
    for vehicle in &vehicles {
        let made = sheets::wall_sheet(&paper_shop(&shop), vehicle, "ab12 cd34", Paper::A4).unwrap();
        let text = squeezed(&Pdf::new(&made.bytes).raw());
        for guide in &vehicle.guides {
            assert!(text.contains(&squeezed(&guide.head.title)));
            assert!(
                guide.torques.iter().all(|row| text.contains(&squeezed(&row.torque.value.spelt().first))),
                "{}: {}",
                vehicle.name,
                guide.head.title
            );
        }
    }
}

/// The colours are those of ISO 8820-3 as sellers' charts print them: 7.5 A brown, 15 A blue. A fuse of another sort has none, nor has one
/// before a mains circuit.
#[test]
fn the_colour_of_a_blade_fuse_stands_beside_it_on_page_and_sheet() {
    let circuit = |id: &str, facts: &str| {
        format!("[[circuit]]\nid = \"{id}\"\nname = \"Circuit {id}\"\nwire = \"1.5 mm²\"\ncurrent = \"5 A\"\n{facts}\n\n")
    };
    let rows = [
        ("one", "fuse = \"7.5 A\"", Some("blade fuse: brown")),
        ("two", "fuse = \"15 A\"\nfuse_type = \"blade\"", Some("blade fuse, blue")),
        ("three", "fuse = \"15 A\"\nfuse_type = \"tube\"", Some("tube fuse")),
        ("four", "fuse = \"15 A\"\nvoltage = \"230 V AC\"", None),
        ("five", "fuse = \"60 A\"", None),
        ("six", "", None),
    ];
    let circuits: String = rows.iter().map(|(id, facts, _)| circuit(id, facts)).collect();
    let guide = page_of("fuses", &format!("+++\ntitle = \"Fuses\"\n\n{circuits}+++\n\n## Look\n\nLook.\n"), &demo_shop());
    let notes: Vec<Option<&str>> = guide.circuits.iter().map(|circuit| circuit.fuse_note.as_deref()).collect();
    assert_eq!(notes, rows.map(|(_, _, note)| note));
    for paper in [Paper::A4, Paper::Letter] {
        let text = Pdf::new(&sheet(&guide, Kind::Checklist, paper, Form::Full)).raw();
        let needed: Vec<String> = rows.iter().filter_map(|(_, _, note)| note.map(str::to_owned)).collect();
        in_order(&text, &needed, "the circuits");
        assert_eq!(squeezed(&text).matches(&squeezed("blade fuse")).count(), 2, "{text}");
    }
}
