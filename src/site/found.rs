//! The pages over several guides, and rows of them, as places that the search finds beside guides and steps.

use crate::fastener::Thread;
use crate::fastener::thread::Series;
use crate::phrases::Phrases;
use crate::search::{self, Entry, Packed, Page};
use crate::theme::data::{Group, Parts, ThreadValues, Tools};

/// What of these pages can be found.
pub fn places(
    threads: &[ThreadValues<'_>],
    tools: &Tools<'_>,
    parts: &[Parts<'_>],
    by_vehicle: &[Group<'_>],
    by_system: &[Group<'_>],
    handbook: bool,
    say: &Phrases,
) -> Vec<(Entry, Packed)> {
    let mut found = Vec::new();
    let mut add = |page: Page<'_>| found.push(search::page(&page));
    let list = |address, title, named| Page { address, title, sort: say.sort_list, about: "", named, words: title };
    add(list("values.html", say.values_by_vehicle_title, say.found_by_values));
    add(list("threads.html", say.values_by_thread_title, say.found_by_threads));
    add(list("tools.html", say.tools, say.found_by_tools));
    add(list("parts.html", say.parts, say.found_by_parts));
    add(list("vehicles.html", say.procedures_by_vehicle, say.found_by_vehicles));
    add(list("systems.html", say.procedures_by_system, say.found_by_systems));
    add(list("new.html", say.what_is_new, say.found_by_news));
    if handbook {
        add(list("handbook/index.html", say.handbook_for_authors, say.found_by_handbook));
    }
    for thread in threads {
        let series = Thread::read(&thread.line.name).map_or("", |read| match read.value.series() {
            Series::Coarse => say.series_coarse,
            Series::Fine => say.series_fine,
            Series::ExtraFine => say.series_extra_fine,
            Series::Other => "",
        });
        let told = [
            Some(say.count_torque_values(thread.line.rows)),
            thread.line.clearance.as_ref().map(|hole| format!("{}: {hole}", say.clearance_hole)),
            thread.line.tap_drill.as_ref().map(|drill| format!("{}: {drill}", say.tap_drill)),
        ];
        add(Page {
            address: &format!("threads/{}.html", thread.line.file),
            title: &thread.line.name,
            sort: say.sort_thread,
            about: &told.into_iter().flatten().collect::<Vec<_>>().join("; "),
            // Whoever names the pitch too means the joint, and is led to its step first.
            named: thread.line.name.split(['x', '-']).next().unwrap_or_default(),
            words: &format!("{} {} {series}", thread.line.name, say.found_by_thread),
        });
    }
    for used in &tools.tools {
        let tool = &used.tool;
        let about = [
            Some(tool.sizes.join(", ")).filter(|sizes| !sizes.is_empty()),
            tool.note.clone(),
            tool.calibrated_until.as_ref().map(|day| say.calibrated_until_day(day)),
        ];
        let title = tool.number.as_ref().map_or_else(|| tool.name.clone(), |number| format!("{}, {number}", tool.name));
        add(Page {
            address: &format!("tools.html#{}", used.row),
            title: &title,
            sort: say.sort_tool,
            about: &about.into_iter().flatten().collect::<Vec<_>>().join("; "),
            // A tool of one guide is wanted at the step that uses it; of a tool of many guides, all of them.
            named: tool.number.as_deref().filter(|_| used.guides.len() > 1).unwrap_or_default(),
            words: if tool.calibrated_until.is_some() { say.found_by_calibrated } else { say.found_by_tool },
        });
    }
    for page in parts {
        let file = page.range.as_ref().map_or_else(|| "parts.html".to_owned(), |range| format!("parts/{}.html", range.file));
        // Hardware is found by its thread and in its steps.
        for part in page.sections.iter().filter(|section| section.kind != "hardware").flat_map(|section| &section.rows) {
            let numbers = part.numbers.join(" ");
            add(Page {
                address: &format!("{file}#{}", part.id),
                title: &part.numbers.iter().chain(&part.names).copied().collect::<Vec<_>>().join(", "),
                sort: say.sort_part,
                about: &part.uses.iter().map(|used| used.line.title.as_str()).collect::<Vec<_>>().join("; "),
                named: "",
                words: &numbers,
            });
        }
    }
    for group in by_vehicle.iter().chain(by_system) {
        add(Page {
            address: &format!("{}/{}.html", group.folder, group.line.file),
            title: &group.line.name,
            sort: if group.folder == "vehicles" { say.sort_vehicle } else { say.sort_system },
            about: group.note.as_deref().unwrap_or_default(),
            named: &group.line.name,
            words: if group.folder == "vehicles" { say.found_by_vehicle } else { say.found_by_system },
        });
    }
    found
}
