//! Run before the program is compiled: gives it a name made from all it is built of, by which it knows what another build remembered.

use std::fs;
use std::path::{Path, PathBuf};

fn main() {
    let root = PathBuf::from(std::env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut files = Vec::new();
    for part in ["src", "themes", "Cargo.toml", "Cargo.lock"] {
        println!("cargo::rerun-if-changed={part}");
        gather(&root.join(part), &mut files);
    }
    files.sort();
    // FNV-1a with 128 bits: nobody tries to make two builds alike.
    let mut state: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    let mut add = |bytes: &[u8]| {
        for byte in bytes {
            state = (state ^ u128::from(*byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b);
        }
    };
    for path in files {
        let Ok(content) = fs::read(&path) else { continue };
        add(path.strip_prefix(&root).unwrap_or(&path).to_string_lossy().as_bytes());
        add(&(content.len() as u64).to_le_bytes());
        add(&content);
    }
    for name in ["TARGET", "CARGO_FEATURE_SHEETS", "CARGO_FEATURE_PREVIEW"] {
        add(std::env::var(name).unwrap_or_default().as_bytes());
        add(b"\n");
    }
    println!("cargo::rustc-env=BAYLEAF_BUILD={state:032x}");
}

fn gather(path: &Path, files: &mut Vec<PathBuf>) {
    if path.is_file() {
        files.push(path.to_owned());
    }
    for entry in fs::read_dir(path).into_iter().flatten().flatten() {
        gather(&entry.path(), files);
    }
}
