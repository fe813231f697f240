//! What the program is made of besides its own code: every package comes from the one registry, under a licence that the program can be
//! handed on with, and is named in the notices that go with it. `BAYLEAF_UPDATE=1` writes the notices anew.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// Licences that allow the program to be handed on by names of SPDX. MPL-2.0 asks that its files stay available, and they are, unchanged, in
/// the registry.
const ALLOWED: [&str; 15] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "IJG",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "Unlicense",
    "Zlib",
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn metadata() -> Value {
    let output = Command::new(env!("CARGO")).args(["metadata", "--locked", "--format-version", "1"]).current_dir(root()).output();
    let output = output.unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Whether an expression of SPDX is met by the licences that are allowed: of `OR` one, of `AND` all; an old slash means `OR`.
fn is_allowed(licence: &str) -> bool {
    let plain = licence.replace(['(', ')'], " ").replace('/', " OR ");
    // No expression in use puts AND inside of OR without brackets round the ORs.
    plain.split(" AND ").all(|part| {
        part.split(" OR ").any(|one| {
            let one = one.split(" WITH ").next().unwrap_or_default().trim();
            ALLOWED.contains(&one)
        })
    })
}

/// The packages that end up in the program, with all features and on any system: those reached by plain dependencies.
fn built_in(metadata: &Value) -> Vec<&Value> {
    let nodes: BTreeMap<&str, &Value> =
        metadata["resolve"]["nodes"].as_array().unwrap().iter().map(|node| (node["id"].as_str().unwrap(), node)).collect();
    let start = metadata["resolve"]["root"].as_str().unwrap();
    let (mut seen, mut open) = (BTreeSet::from([start]), vec![start]);
    while let Some(id) = open.pop() {
        for dependency in nodes[id]["deps"].as_array().unwrap() {
            let plain = dependency["dep_kinds"].as_array().unwrap().iter().any(|kind| kind["kind"].is_null());
            let id = dependency["pkg"].as_str().unwrap();
            if plain && seen.insert(id) {
                open.push(id);
            }
        }
    }
    let packages = metadata["packages"].as_array().unwrap().iter();
    packages.filter(|package| seen.contains(package["id"].as_str().unwrap()) && !package["source"].is_null()).collect()
}

/// The licence files of a package, in the order of their names.
fn licence_files(package: &Value) -> Vec<String> {
    let folder = Path::new(package["manifest_path"].as_str().unwrap()).parent().unwrap();
    let named = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy().to_uppercase();
        ["LICENSE", "LICENCE", "COPYING", "COPYRIGHT", "NOTICE", "UNLICENSE"].iter().any(|start| name.starts_with(start)) && path.is_file()
    };
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().flatten().map(|entry| entry.path()).filter(named).collect();
    files.sort();
    files.iter().map(|path| String::from_utf8_lossy(&fs::read(path).unwrap()).replace("\r\n", "\n")).collect()
}

/// Lines that say who holds the copyright; the licence texts speak of it in sentences of their own.
fn holders(texts: &[String]) -> BTreeSet<String> {
    let says = |line: &&str| {
        let low = line.to_lowercase();
        low.starts_with("copyright")
            && line.len() < 200
            && (low.contains("(c)") || low.contains('©') || line.chars().any(|c| c.is_ascii_digit()))
            && !low.contains("[yyyy]")
            && !low.contains("{yyyy}")
            && !low.contains("copyright notice")
    };
    texts.iter().flat_map(|text| text.lines()).map(str::trim).filter(says).map(str::to_owned).collect()
}

fn notices(metadata: &Value) -> String {
    let mut text = String::from(
        "Third parties in bayleaf\n========================\n\nbayleaf is built of the packages below, with all features and on any system. Their sources are in the registry of Rust\npackages, unchanged, under the name and version given. What follows each is its licence by SPDX and who holds the copyright.\n\nEmbedded besides them: the fonts DejaVu Sans Condensed (package dejavu; licence of Bitstream Vera below), and the syntax\ndefinitions for highlighting (package syntect).\n\n",
    );
    let mut others: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in built_in(metadata) {
        let (name, version) = (package["name"].as_str().unwrap(), package["version"].as_str().unwrap());
        let licence = package["license"].as_str().unwrap_or("see its file");
        writeln!(text, "{name} {version}: {licence}").unwrap();
        let files = licence_files(package);
        for holder in holders(&files) {
            writeln!(text, "  {holder}").unwrap();
        }
        // Whoever may choose takes MIT or Apache, whose texts stand at the end; of all others the whole text is given.
        let parts: Vec<&str> = licence.split(" AND ").collect();
        let chosen = |part: &&str| part.replace(['(', ')'], " ").split([' ', '/']).any(|word| word == "MIT" || word == "Apache-2.0");
        if !parts.iter().all(chosen) {
            for file in files {
                others.entry(file.trim_end().to_owned()).or_default().insert(format!("{name} {version}"));
            }
        }
    }
    for file in ["LICENSE-MIT", "LICENSE-APACHE"] {
        let body = fs::read_to_string(root().join(file)).unwrap();
        others
            .entry(body.trim_end().to_owned())
            .or_default()
            .insert(format!("{file} of bayleaf, also the text for the packages under that licence"));
    }
    for (body, names) in others {
        writeln!(
            text,
            "\n------------------------------------------------------------------------\n{}\n\n{body}",
            names.into_iter().collect::<Vec<_>>().join(", ")
        )
        .unwrap();
    }
    text
}

#[test]
fn every_package_is_from_the_registry_and_under_a_licence_that_can_be_handed_on() {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 200, "{} packages", packages.len());
    let mut sources = BTreeSet::new();
    for package in packages.iter().filter(|package| package["name"] != "bayleaf") {
        let name = package["name"].as_str().unwrap();
        sources.insert(package["source"].as_str().unwrap_or_default());
        let licence = package["license"].as_str();
        assert!(licence.is_some_and(is_allowed), "{name}: {licence:?}");
    }
    assert!(sources.len() == 1 && sources.iter().all(|source| source.starts_with("registry+")), "{sources:?}");
    // Each is held to its content.
    let lock = fs::read_to_string(root().join("Cargo.lock")).unwrap();
    let sources = lock.lines().filter(|line| line.starts_with("source = ")).count();
    assert_eq!(sources, lock.lines().filter(|line| line.starts_with("checksum = ")).count());
    for (licence, allowed) in [
        ("MIT OR Apache-2.0", true),
        ("(MIT OR GPL-3.0) AND ISC", true),
        ("GPL-3.0-only", false),
        ("MIT AND GPL-3.0-only", false),
        ("Apache-2.0 WITH LLVM-exception", true),
        ("MIT/GPL-2.0", true),
        ("AGPL-3.0 OR SSPL-1.0", false),
    ] {
        assert_eq!(is_allowed(licence), allowed, "{licence}");
    }
}

#[test]
fn the_notices_name_what_is_built_in() {
    let text = notices(&metadata());
    let path = root().join("src/notices.txt");
    if std::env::var_os("BAYLEAF_UPDATE").is_some() {
        fs::write(&path, &text).unwrap();
    }
    assert!(fs::read_to_string(&path).unwrap_or_default() == text, "src/notices.txt; BAYLEAF_UPDATE=1 writes it anew");
    let output = Command::new(env!("CARGO_BIN_EXE_bayleaf")).arg("notices").output().unwrap();
    assert!(
        output.status.success() && String::from_utf8_lossy(&output.stdout) == text,
        "`bayleaf notices` shows another text: build it anew"
    );
}

/// Our own code has no `unsafe`, which the compiler forbids and no attribute lets in.
#[test]
fn unsafe_is_forbidden() {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    assert!(manifest.contains("unsafe_code = \"forbid\""));
}
