//! What the tests of the vectors share: numbers that are random and the same on every machine, and files that a test holds against what it
//! makes. `BAYLEAF_UPDATE=1` writes them anew.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;

/// Numbers that look random and come out the same each time: SplitMix64 (Steele, Lea and Flood, 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `end`.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (self.roll() % end as u64) as usize
    }

    /// One of a list.
    pub(crate) fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }

    /// Yes, in so many of a hundred times.
    pub(crate) fn often(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/vectors").join(name)
}

/// Holds a file of vectors against what the program says now, or writes it.
pub(crate) fn hold(name: &str, head: &Value, vectors: &[Value]) {
    let text: String = std::iter::once(head).chain(vectors).map(|line| format!("{line}\n")).collect();
    hold_text(&format!("{name}.jsonl"), &text);
}

/// The same of any text.
pub(crate) fn hold_text(name: &str, text: &str) {
    let name = format!("program/{name}");
    if std::env::var_os("BAYLEAF_UPDATE").is_some() {
        fs::write(path(&name), text).unwrap();
    }
    let committed = fs::read_to_string(path(&name)).unwrap_or_default();
    for (at, (old, new)) in committed.lines().zip(text.lines()).enumerate() {
        assert_eq!(old, new, "tests/vectors/{name}, line {}; BAYLEAF_UPDATE=1 writes it anew", at + 1);
    }
    assert_eq!(committed.len(), text.len(), "tests/vectors/{name} has other vectors; BAYLEAF_UPDATE=1 writes it anew");
}

/// The vectors that the scripts made.
pub(crate) fn of_scripts(name: &str) -> Vec<Value> {
    let text = fs::read_to_string(path(&format!("scripts/{name}.jsonl"))).unwrap_or_default();
    text.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}
