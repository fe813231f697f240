//! What `bayleaf start` writes: a small shop whose guide reviews clean, every line explained, and the skeleton of a guide with the parts
//! and hardware of a list. Text in, text out; what nobody said stays `untold` and is never made up.

pub mod list;

use crate::guide::facts::slug_of;
use list::{Listed, Row};

/// The shop file of a new shop.
pub const SHOP: &str = include_str!("shop.toml");
/// The name of its first guide.
pub const FIRST: &str = "first-aid-box";
/// Its first guide.
pub const GUIDE: &str = include_str!("guide.md");

/// The skeleton of a guide.
pub fn skeleton(title: &str, listed: &Listed, vehicle: Option<&str>) -> String {
    let mut text = String::from(
        "+++\n# A skeleton: each `untold` is something that nobody has said yet. `bayleaf review --as questions` lists them by who can answer.\n",
    );
    text.push_str(&format!("title = {}\n", quoted(title)));
    text.push_str("revision = \"A\"\n");
    match vehicle {
        Some(id) => text.push_str(&format!("fits = [\"{id}\"]\n")),
        None => text.push_str("# fits = [\"an-id\"]           vehicles, by their ids in the shop file\n"),
    }
    text.push_str(
        "hours = \"untold: shop\"\n\
         # document = \"G-2\"           your number for it\n\
         # system = \"Interior\"        the part of the vehicle\n\
         # tools = [\"trim-lever\"]     by their ids in the shop file\n\
         # sources = { sheet = \"Fitting sheet, issue\" }   the papers that values come from\n\
         # final_check = [\"It works\"]  what is tried when the job is done\n",
    );
    let mut ids: Vec<String> = Vec::new();
    let mut fits = Vec::new();
    for row in &listed.rows {
        let id = free_id(&row.name, &mut ids);
        text.push_str(&block(row, &id));
        fits.push(operation(row, &id));
    }
    text.push_str("+++\n\n# Strip down\n\n## Take off what is in the way\n\n+++\nminutes = \"untold: shop\"\n+++\n\nSay what is taken off, and write it in `do`.\n");
    text.push_str("\n# Fit\n\n## Fit the kit\n\n+++\nminutes = \"untold: shop\"\n");
    if !fits.is_empty() {
        text.push_str(
            "# Everything of the list goes on here: share it out over your steps, and name hardware beside what it holds.\ndo = [\n",
        );
        fits.iter().for_each(|line| text.push_str(&format!("  {line},\n")));
        text.push_str("]\n");
    }
    text.push_str("+++\n\nSay how the parts go on.\n\n# Close up\n\n## Put back what came off\n\n+++\nminutes = \"untold: shop\"\n+++\n\nSay what goes back, and write it in `do`.\n");
    text
}

/// A text between quotation marks.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars().filter(|c| !c.is_control()) {
        if matches!(c, '"' | '\\') {
            out.push('\\');
        }
        out.push(c);
    }
    out.push('"');
    out
}

/// An id that no other row has.
fn free_id(name: &str, taken: &mut Vec<String>) -> String {
    let words: Vec<&str> = name.split_whitespace().take(5).collect();
    let base = slug_of(&words.join(" "));
    let mut id = base.clone();
    let mut number = 2;
    while taken.contains(&id) {
        id = format!("{base}-{number}");
        number += 1;
    }
    taken.push(id.clone());
    id
}

fn block(row: &Row, id: &str) -> String {
    let mut text = format!("\n[[{}]]\nid = \"{id}\"\nname = {}\n", if row.kind.is_some() { "hardware" } else { "part" }, quoted(&row.name));
    let mut line = |key: &str, value: &Option<String>| {
        if let Some(value) = value {
            text.push_str(&format!("{key} = {}\n", quoted(value)));
        }
    };
    match row.kind {
        Some(kind) => {
            line("kind", &Some(kind.to_owned()).filter(|kind| kind != "bolt"));
            line("thread", &row.thread);
            line("length", &row.length);
            line("class", &row.class);
            line("note", &row.number.as_ref().map(|number| format!("number {number}")));
        }
        None => line("number", &row.number),
    }
    match row.count {
        Some(count) => text.push_str(&format!("supplied = {count}\n")),
        None => text.push_str("supplied = \"untold: supplier\"\n"),
    }
    if takes_torque(row) {
        text.push_str(&format!(
            "\n[[spec]]\nid = \"{id}\"\nfor = \"{id}\"\ntorque = \"untold: supplier\"\nsource = \"untold: supplier\"\n"
        ));
    }
    text
}

fn takes_torque(row: &Row) -> bool {
    row.kind.is_some_and(|kind| matches!(kind, "bolt" | "nut" | "screw" | "stud" | "clamp" | "fitting"))
}

fn operation(row: &Row, id: &str) -> String {
    let count = match row.count {
        Some(1) => String::new(),
        Some(count) => format!(", count = {count}"),
        None => ", count = \"untold: supplier\"".to_owned(),
    };
    let torque = if takes_torque(row) { format!(", torque = \"{id}\"") } else { String::new() };
    format!("{{ fit = \"{id}\"{count}{torque} }}")
}
