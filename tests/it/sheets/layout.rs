//! How the sheets are laid out: sizes, bytes, codes, and that nothing is broken or runs off the paper.

use super::*;

#[test]
fn the_same_input_gives_the_same_bytes_and_publishing_gives_them_too() {
    let home = tempfile::tempdir().unwrap();
    let folders = ["one", "two"].map(|name| home.path().join(name));
    for to in &folders {
        let output =
            bayleaf(&root(), &["print", "swivel-seat-base", "transmission-cooler", "--paper", "letter", "--to", to.to_str().unwrap()]);
        assert!(output.status.success(), "{}", told(&output));
    }
    let site = home.path().join("site");
    assert!(bayleaf(&root(), &["publish", "--to", site.to_str().unwrap()]).status.success());
    for slug in ["swivel-seat-base", "transmission-cooler"] {
        let [one, two] = [0, 1].map(|at| fs::read(folders[at].join(format!("{slug}-checklist-letter.pdf"))).unwrap());
        assert!(one == two, "{slug} differs between two runs");
        assert!(
            one == fs::read(site.join(format!("guides/{slug}/checklist-letter.pdf"))).unwrap(),
            "{slug} differs from the published one"
        );
        assert!(!one.windows(4).any(|bytes| bytes == b"/roo") && !String::from_utf8_lossy(&one).contains("/tmp"), "{slug} names a folder");
    }
    let page = fs::read_to_string(site.join("guides/swivel-seat-base/index.html")).unwrap();
    for file in ["checklist-a4.pdf", "checklist-letter.pdf", "checklist-heated-seat-a4.pdf", "checklist-no-heated-seat-letter.pdf"] {
        assert!(page.contains(&format!("href=\"{file}\"")) && site.join("guides/swivel-seat-base").join(file).is_file(), "{file}");
    }
}

#[test]
fn pages_have_the_sizes_of_the_standards() {
    let page = demo("swivel-seat-base");
    // ISO 216:2007, table 1: A4 is 210 mm by 297 mm. ANSI/ASME Y14.1-2020, size A: 8.5 in by 11 in. A point is 1/72 in, an inch 25.4 mm.
    for (paper, width, height) in [(Paper::A4, 210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0), (Paper::Letter, 8.5 * 72.0, 11.0 * 72.0)] {
        for (kind, wanted) in [(Kind::Checklist, (width, height)), (Kind::Packing, (width, height)), (Kind::Torque, (height, width))] {
            let document = lopdf::Document::load_mem(&sheet(&page, kind, paper, Form::Short)).unwrap();
            for id in document.get_pages().values() {
                let found = document.get_dictionary(*id).unwrap().get(b"MediaBox").unwrap().as_array().unwrap();
                let found: Vec<f32> = found.iter().map(|side| side.as_float().unwrap()).collect();
                assert!(found[0] == 0.0 && found[1] == 0.0, "{found:?}");
                // Both standards allow more than a millimetre; a hundredth of a point is far within.
                assert!(
                    (f64::from(found[2]) - wanted.0).abs() < 0.01 && (f64::from(found[3]) - wanted.1).abs() < 0.01,
                    "{paper:?} {kind:?}: {found:?}"
                );
            }
        }
    }
}

/// No word stands outside the margins, and none runs into the foot.
#[track_caller]
fn inside(pdf: &Pdf) -> usize {
    let pages = pdf.words();
    for (number, ((width, height), words)) in pages.iter().enumerate() {
        for (word, [left, top, right, bottom]) in words {
            assert!(*left >= 25.0 && *right <= width - 20.0, "sheet {}: `{word}` runs over the side: {left} to {right}", number + 1);
            assert!(*top >= 15.0 && *bottom <= height - 10.0, "sheet {}: `{word}` runs over the end: {top} to {bottom}", number + 1);
        }
        let open = words.windows(2).find(|pair| pair[0].0 == "Open" && pair[1].0 == "at").map(|pair| pair[0].1[1]);
        if let Some(open) = open {
            let last = words.iter().filter(|(_, [_, top, ..])| *top < open).map(|(_, [.., bottom])| *bottom).fold(0.0, f64::max);
            assert!(last <= open + 1.0, "sheet {}: words at {last} run into what is open at {open}", number + 1);
        }
    }
    pages.len()
}

#[test]
fn nothing_of_the_demo_guides_runs_over() {
    for slug in GUIDES {
        let page = demo(slug);
        for paper in Paper::ALL {
            for form in [Form::Short, Form::Full] {
                inside(&Pdf::new(&sheet(&page, Kind::Checklist, paper, form)));
            }
            for kind in [Kind::Torque, Kind::Packing] {
                inside(&Pdf::new(&sheet(&page, kind, paper, Form::Full)));
            }
        }
    }
}

/// Steps that fit a sheet are not broken, so their cautions, operations and stops are on the sheet of their title.
#[test]
fn a_step_of_the_demo_guides_is_on_one_sheet_with_its_cautions() {
    for slug in GUIDES {
        let page = demo(slug);
        for paper in Paper::ALL {
            let raw = Pdf::new(&sheet(&page, Kind::Checklist, paper, Form::Full)).raw();
            let sheets: Vec<String> = raw.split('\u{c}').map(squeezed).collect();
            let (mut whole, mut broken) = (Vec::new(), Vec::new());
            for step in page.phases.iter().flat_map(|phase| &phase.steps) {
                let title = squeezed(&format!("{}{}", step.number, step.title));
                let Some(sheet) = sheets.iter().find(|sheet| sheet.contains(&title)) else { panic!("{slug}: {title}") };
                // What a step says and shows, in letters; the face of a connector with its legend is as high as so many.
                let told = step.operations.iter().map(|operation| operation.things.len() + 60).sum::<usize>()
                    + step.html.len()
                    + step.faces.len() * 1200
                    + step.cautions.iter().map(|caution| caution.hazard_html.len() + caution.rest_html.len()).sum::<usize>()
                    + step.checks_html.iter().map(String::len).sum::<usize>();
                if sheets.iter().any(|sheet| sheet.contains(&format!("{title},continued"))) {
                    broken.push((told, title));
                    continue;
                }
                whole.push(told);
                let rest = &sheet[sheet.find(&title).unwrap()..];
                for operation in &step.operations {
                    let start = squeezed(&format!("{} {}", operation.verb, operation.things));
                    assert!(rest.contains(&start), "{slug} {paper:?}: `{start}` is not on the sheet of {title}");
                }
                assert!(step.cautions.iter().all(|caution| rest.contains(&caution.word)), "{slug}: {title}");
            }
            // Only what is among the longest may be broken: a step that fits one sheet is whole.
            whole.sort_unstable();
            let long = whole[whole.len() * 8 / 10];
            assert!(broken.len() * 6 <= whole.len(), "{slug} {paper:?}: {broken:?} are broken");
            assert!(
                broken.iter().all(|(told, _)| *told > long),
                "{slug} {paper:?}: {broken:?} are broken, and whole ones have {long} letters"
            );
        }
    }
}

/// A heading over steps stands on the sheet of the first of them.
#[test]
fn no_heading_is_alone() {
    for slug in GUIDES {
        let page = demo(slug);
        for paper in Paper::ALL {
            for form in [Form::Short, Form::Full] {
                let raw = Pdf::new(&sheet(&page, Kind::Checklist, paper, form)).raw();
                let sheets: Vec<String> = raw.split('\u{c}').map(squeezed).collect();
                for phase in page.phases.iter().filter(|phase| phase.html.is_empty()) {
                    let (Some(title), Some(step)) = (&phase.title, phase.steps.first()) else { continue };
                    let (title, step) = (squeezed(title), squeezed(&format!("{}{}", step.number, step.title)));
                    let together = sheets
                        .iter()
                        .any(|sheet| sheet.match_indices(&title).any(|(at, _)| sheet[at..].find(&step).is_some_and(|found| found < 1500)));
                    assert!(together, "{slug} {paper:?} {form:?}: {title}");
                }
                for heading in ["Finalchecks", "Duelater", "Signedoff"] {
                    assert!(sheets.iter().all(|sheet| !sheet.trim_end().ends_with(heading)), "{slug}: {heading}");
                }
            }
        }
    }
}

#[test]
fn the_head_of_a_table_in_a_step_stands_on_each_of_its_sheets() {
    let rows: String = (1..=90).map(|row| format!("| pin {row} | signal {row} |\n")).collect();
    let text = format!("+++\ntitle = \"Demonstration\"\n+++\n\n## Work\n\nCompare.\n\n| Cavity | Carries |\n|---|---|\n{rows}\nGo on.\n");
    let page = page_of("a", &text, &demo_shop());
    let raw = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full)).raw();
    let sheets: Vec<String> = raw.split('\u{c}').map(squeezed).filter(|sheet| sheet.contains("pin")).collect();
    assert!(sheets.len() > 1);
    for sheet in &sheets {
        assert_eq!(sheet.matches("CavityCarries").count(), 1, "{sheet}");
    }
    for row in 1..=90 {
        assert!(sheets.iter().any(|sheet| sheet.contains(&format!("pin{row}signal{row}"))), "{row}");
    }
}

#[test]
fn the_head_of_a_table_stands_on_each_of_its_sheets() {
    let mut document = demo("second-battery-charger").document;
    document.torques = document.torques.iter().cycle().take(90).cloned().collect();
    let page = Guide::new(document);
    let pdf = Pdf::new(&sheet(&page, Kind::Torque, Paper::Letter, Form::Full));
    assert!(inside(&pdf) > 5);
    let raw = pdf.raw();
    let sheets: Vec<&str> = raw.split('\u{c}').filter(|sheet| !sheet.trim().is_empty()).collect();
    let with_rows = sheets.iter().filter(|sheet| squeezed(sheet).contains("N·m"));
    for sheet in with_rows {
        assert!(squeezed(sheet).contains("FastenerThreadDriveTorqueApplied"), "{sheet}");
    }
}

#[test]
fn every_sheet_says_what_it_is_and_which() {
    let page = demo("tow-bar-wiring");
    let raw = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Short)).raw();
    let sheets: Vec<&str> = raw.split('\u{c}').filter(|sheet| !sheet.trim().is_empty()).collect();
    for (number, sheet) in sheets.iter().enumerate() {
        let sheet = squeezed(sheet);
        for text in [
            "TH-0171",
            "revision C",
            "ab12 cd34",
            &format!("Sheet {} of {}", number + 1, sheets.len()),
            "Follow the vehicle maker's current instructions",
        ] {
            assert!(sheet.contains(&squeezed(text)), "sheet {}: {text}", number + 1);
        }
        assert!(!sheet.contains("NOTRELEASED"));
    }
    let mut draft = page.clone();
    draft.document.head.draft = true;
    let raw = Pdf::new(&sheet_of_draft(&draft)).raw();
    for sheet in raw.split('\u{c}').filter(|sheet| !sheet.trim().is_empty()) {
        assert!(squeezed(sheet).matches("NOTRELEASED").count() >= 2, "across the sheet and over it: {sheet}");
    }
}

fn sheet_of_draft(draft: &Guide) -> Vec<u8> {
    sheet(draft, Kind::Checklist, Paper::A4, Form::Short)
}

#[test]
fn the_code_on_every_sheet_leads_to_the_page() {
    let page = demo("swivel-seat-base");
    for (with, address) in [(vec![], "?rev=E"), (vec!["heated-seat"], "?with=heated-seat&rev=E")] {
        let made = try_sheet(&page, Kind::Checklist, Paper::Letter, Form::Short, &chosen(&page, &with, &[])).unwrap();
        // As a phone sees it from a hand's width away.
        let pages = Pdf::new(&made.bytes).rasterised(200);
        assert!(pages.len() > 3);
        for (number, (width, height, pixels)) in pages.iter().enumerate() {
            let mut image = rqrr::PreparedImage::prepare_from_greyscale(*width, *height, |x, y| pixels[y * width + x]);
            let codes: Vec<String> = image.detect_grids().iter().filter_map(|grid| grid.decode().ok()).map(|(_, text)| text).collect();
            assert_eq!(codes, [format!("https://guides.tern-hollow.example/guides/swivel-seat-base/{address}")], "sheet {}", number + 1);
        }
    }
}

#[test]
fn a_first_sheet_is_light() {
    // The bound is the project's own.
    let made = sheet(&demo("swivel-seat-base"), Kind::Checklist, Paper::A4, Form::Short);
    assert!(made.len() < 400_000, "{}", made.len());
}

#[test]
fn three_hundred_steps_fill_their_sheets() {
    let step = |at: usize| format!("## Turn switch {at}\n\n+++\ndo = [{{ switch_on = \"ignition\" }}]\n+++\n\nTurn it.\n");
    let text = guide_with("", (1..=300).map(step));
    let page = page_of("many", &text, &demo_shop());
    let pdf = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full));
    assert!(inside(&pdf) > 20);
    let raw = squeezed(&pdf.raw());
    assert!((1..=300).all(|at| raw.contains(&format!("{at}Turnswitch{at}"))));
}

#[test]
fn what_is_longer_than_a_sheet_goes_on_over_it() {
    let word = "Hold the lamp level and turn it until it stops. ";
    let operations = (1..=90).map(|at| format!("  {{ inspect = \"lamp\", note = \"look {at}\" }},")).collect::<Vec<_>>().join("\n");
    let head = "[[item]]\nid = \"lamp\"\nname = \"Lamp\"";
    let long = format!("## Look everywhere\n\n+++\ndo = [\n{operations}\n]\n+++\n\n{}\n\n{}\n", word.repeat(200), "W".repeat(6000));
    let page = page_of("long", &guide_with(head, [long]), &demo_shop());
    for form in [Form::Full, Form::Short] {
        let pdf = Pdf::new(&sheet(&page, Kind::Checklist, Paper::Letter, form));
        let sheets = inside(&pdf);
        assert!(sheets > if form == Form::Full { 5 } else { 0 }, "{sheets} sheets in {form:?}");
        let raw = squeezed(&pdf.raw());
        assert!((1..=90).all(|at| raw.contains(&format!("look{at}"))), "{form:?}");
        if form == Form::Full {
            assert_eq!(raw.matches(&squeezed(word)).count() + usize::from(raw.matches(&squeezed(word)).count() < 200), 200);
            assert!(raw.contains("continued") && raw.matches('W').count() >= 6000);
        }
    }
}

#[test]
fn a_caution_and_a_title_as_long_as_they_may_be_stay_on_the_paper() {
    let caution = format!(
        "[[caution]]\nsignal = \"danger\"\nhazard = \"{}\"\nresult = \"Burns.\"\navoid = \"{}\"",
        "Hot. ".repeat(390),
        "x".repeat(1900)
    );
    let step = format!("## {}\n\n+++\n{caution}\n+++\n\nTurn it.\n", "Turn the very long lamp holder ".repeat(40));
    let page = page_of("wide", &guide_with("", [step]), &demo_shop());
    for form in [Form::Full, Form::Short] {
        let pdf = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, form));
        inside(&pdf);
        assert_eq!(squeezed(&pdf.raw()).matches("Hot.").count(), 390, "{form:?}");
    }
}

#[test]
fn two_hundred_tools_are_all_listed() {
    let tools = (1..=200).map(|at| format!("[[tool]]\nid = \"tool-{at}\"\nname = \"Special tool {at}.\"")).collect::<Vec<_>>().join("\n");
    let ids = (1..=200).map(|at| format!("\"tool-{at}\"")).collect::<Vec<_>>().join(", ");
    let text = guide_with(&format!("tools = [{ids}]\n{tools}"), ["## Turn\n\nTurn it.\n".to_owned()]);
    let page = page_of("tools", &text, &demo_shop());
    assert_eq!(page.tools.len(), 200);
    let pdf = Pdf::new(&sheet(&page, Kind::Checklist, Paper::A4, Form::Full));
    inside(&pdf);
    let raw = squeezed(&pdf.raw());
    assert!((1..=200).all(|at| raw.contains(&format!("Specialtool{at}."))));
}
