//! What of the shop file a guide uses, as text: an issued revision keeps it beside the guide's own text. A block is kept where its id is
//! written in the guide or in a block that is kept; that is too much now and then, and never too little.

use std::collections::BTreeSet;

/// The keys of the shop's own that tell on a guide.
const KEYS: &[&str] = &["name", "notice", "language", "units", "deferral", "sources"];
/// The blocks that guides use by id.
const BLOCKS: &[&str] = &["vehicle", "tool", "hardware", "spec", "consumable", "caution", "item", "connector"];

/// The part of a shop file that a guide uses.
pub fn used_of_shop(shop: &str, guide: &str) -> String {
    let (head, blocks) = cut(shop);
    let mut words: BTreeSet<&str> = ids(guide).collect();
    let mut kept = vec![false; blocks.len()];
    loop {
        let before = kept.iter().filter(|kept| **kept).count();
        for (at, block) in blocks.iter().enumerate() {
            if !kept[at] && BLOCKS.contains(&block.kind) && block.id.is_some_and(|id| words.contains(id)) {
                kept[at] = true;
                words.extend(block.lines.iter().flat_map(|line| ids(line)));
            }
        }
        if kept.iter().filter(|kept| **kept).count() == before {
            break;
        }
    }
    let mut used = String::new();
    for line in head {
        used.push_str(line);
        used.push('\n');
    }
    for (block, _) in blocks.iter().zip(kept).filter(|(_, kept)| *kept) {
        used.push('\n');
        for line in &block.lines {
            used.push_str(line);
            used.push('\n');
        }
    }
    used
}

/// The words of a text that can be ids.
pub fn ids(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !(c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')).filter(|word| !word.is_empty())
}

/// The ids of what both shop files define and tell differently.
pub fn changed_of_shop(old: &str, new: &str) -> Vec<String> {
    let (old, new) = (cut(old).1, cut(new).1);
    let changed = new.iter().filter(|block| {
        let was = old.iter().find(|was| was.kind == block.kind && was.id == block.id);
        block.id.is_some() && was.is_some_and(|was| was.lines.iter().map(|line| line.trim()).ne(block.lines.iter().map(|line| line.trim())))
    });
    changed.filter_map(|block| block.id.map(str::to_owned)).collect()
}

struct Block<'t> {
    kind: &'t str,
    id: Option<&'t str>,
    lines: Vec<&'t str>,
}

/// The lines of the shop's own keys that tell on a guide, and all blocks. Remarks and empty lines are left out.
fn cut(shop: &str) -> (Vec<&str>, Vec<Block<'_>>) {
    let (mut head, mut blocks): (Vec<&str>, Vec<Block<'_>>) = (Vec::new(), Vec::new());
    let mut keeps = false;
    for line in shop.lines() {
        let start = line.trim_start();
        if start.is_empty() || start.starts_with('#') {
            continue;
        }
        let kind = start.strip_prefix("[[").and_then(|rest| rest.split_once("]]")).map(|(kind, _)| kind.trim());
        match (kind.filter(|kind| !kind.contains('.')), blocks.last_mut()) {
            (Some(kind), _) => blocks.push(Block { kind, id: None, lines: vec![line] }),
            (None, Some(block)) => {
                if block.id.is_none() {
                    block.id = start
                        .strip_prefix("id")
                        .and_then(|rest| rest.trim_start().strip_prefix('='))
                        .and_then(|rest| rest.split('"').nth(1));
                }
                block.lines.push(line);
            }
            (None, None) => {
                // A line that starts no key goes on with the value of the one before.
                if let Some((key, _)) = line.split_once('=').filter(|(key, _)| {
                    !key.starts_with(char::is_whitespace) && key.trim().bytes().all(|b| b.is_ascii_lowercase() || b == b'_')
                }) {
                    keeps = KEYS.contains(&key.trim());
                }
                if keeps {
                    head.push(line);
                }
            }
        }
    }
    (head, blocks)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_used_is_kept_with_what_it_uses_itself() {
        let shop = "# The shop.\nname = \"S\"\naddress = \"https://s.example/\"\nsources = {\n  sheet = \"Sheet\",\n}\n\n[[tool]]\nid = \"wrench\"\nname = \"W\"\n\n\
                    [[tool]]\nid = \"saw\"\nname = \"Saw\"\n\n# Items\n[[item]]\nid = \"seat\"\nname = \"Seat\"\nbehind = [\"trim\"]\n\n[[item]]\nid = \"trim\"\nname = \"Trim\"\n\n\
                    [[connector]]\nid = \"plug\"\nname = \"Plug\"\n[[connector.pin]]\nat = \"1\"\n\n[[rule]]\nname = \"seat\"\n";
        let used = used_of_shop(shop, "tools = [\"wrench\"]\ndo = [{ remove = \"seat\" }, { disconnect = \"plug\" }]");
        for there in ["name = \"S\"", "sheet =", "\"wrench\"", "\"seat\"", "id = \"trim\"", "[[connector.pin]]"] {
            assert!(used.contains(there), "{there} in {used}");
        }
        for not in ["address", "saw", "rule", "#"] {
            assert!(!used.contains(not), "{not} in {used}");
        }
    }
}
