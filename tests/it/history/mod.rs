//! A guide has a history: what its fingerprint is made of, what is issued, compared and kept, and what publishing never loses.

mod compare;
mod fingerprint;
mod issue;
mod publishing;
#[cfg(feature = "sheets")]
mod records;
mod rules;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

pub(crate) const SHOP: &str = include_str!("../../../src/review/rules/example_shop.toml");

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub(crate) fn bayleaf(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("-C").arg(folder).args(["--color", "never"]).args(arguments).output().unwrap()
}

pub(crate) fn told(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// Writes a file below `guides/` of a shop.
pub(crate) fn put(home: &Path, name: &str, text: &str) {
    let path = home.join("guides").join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}

/// A shop with so many guides, `one`, `two` and so on.
pub(crate) fn shop(names: &[&str]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    put(home.path(), "shop.toml", SHOP);
    for (at, name) in names.iter().enumerate() {
        put(home.path(), &format!("{name}/guide.md"), &guide(name, at + 1));
    }
    home
}

/// A short guide without a finding.
pub(crate) fn guide(name: &str, number: usize) -> String {
    format!(
        "+++\ntitle = \"Fit the bracket {name}\"\ndocument = \"TH-{number}\"\nrevision = \"A\"\nissued = 2026-01-02\nfits = [\"marlin-3500\"]\n\
         final_check = [\"The bracket does not move\"]\n+++\n\n## Fit it\n\nDo the work.\n"
    )
}

/// A fixed sequence of numbers: the same in every run.
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    pub(crate) fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }
}
