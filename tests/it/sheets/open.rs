//! What is open after each operation, where options decide it.

use super::*;
use bayleaf::document::open::Books;

/// What is open after each operation.
fn told(operations: &str, with: &[&str], without: &[&str]) -> Vec<String> {
    let text = format!(
        "+++\ntitle = \"Demonstration\"\n\n[[option]]\nid = \"heated\"\nname = \"Heated seat\"\n\n[[option]]\nid = \"left\"\nname = \"Left-hand drive\"\n\n\
         [[connector]]\nid = \"plug\"\nname = \"Plug\"\n\n[[item]]\nid = \"cover\"\nname = \"Cover\"\n+++\n\n## Work\n\n+++\ndo = [\n{operations}]\n+++\n\nDo it.\n"
    );
    let page = page_of("a", &text, &demo_shop());
    let books = Books::new(&page.document, &chosen(&page, with, without));
    let count = page.phases.iter().flat_map(|phase| &phase.steps).map(|step| step.operations.len()).sum::<usize>();
    let after = |done: usize| books.open_after(done, usize::MAX).named.join("; ");
    let told: Vec<String> = (0..=count).map(after).collect();
    // Asked from the end, each answer is the same.
    let backwards: Vec<String> = (0..=count).rev().map(after).collect();
    assert!(told.iter().eq(backwards.iter().rev()));
    told
}

#[test]
fn what_is_opened_is_open_until_it_is_closed() {
    let operations = "  { disconnect = \"plug\" },\n  { remove = \"cover\" },\n  { fit = \"cover\" },\n  { connect = \"plug\" },\n";
    assert_eq!(told(operations, &[], &[]), ["", "Plug (unplugged)", "Plug (unplugged); Cover (removed)", "Plug (unplugged)", ""]);
}

#[test]
fn an_option_that_nobody_spoke_of_is_named() {
    let operations = "  { disconnect = \"plug\", when = \"heated\" },\n  { connect = \"plug\", when = \"heated\" },\n";
    assert_eq!(told(operations, &[], &[])[1], "Plug (unplugged, only with heated seat)");
    assert_eq!(told(operations, &["heated", "left"], &[])[1], "Plug (unplugged)");
    // Opened on all, closed early on some.
    let operations =
        "  { disconnect = \"plug\" },\n  { connect = \"plug\", when = [\"heated\", \"not left\"] },\n  { connect = \"plug\" },\n";
    assert_eq!(told(operations, &[], &[])[2], "Plug (unplugged, on some vehicles)");
    assert_eq!(told(operations, &[], &["left"])[2], "Plug (unplugged, only without heated seat)");
}

#[test]
fn bolts_that_are_loosened_in_two_places_are_counted_together() {
    let bolts = |verb: &str, count: u32| format!("  {{ {verb} = \"seat-bolt\", hardware = \"{count} x seat-bolt\" }},\n");
    let operations = [bolts("loosen", 4), bolts("loosen", 2), bolts("tighten", 4), bolts("tighten", 2)].concat();
    let open = |count: u32| format!("{count} × Seat rail bolt (loose)");
    assert_eq!(told(&operations, &[], &[]), ["".to_owned(), open(4), open(6), open(2), "".to_owned()]);
}
