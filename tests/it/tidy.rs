//! The shape of the tree: imports point one way, every file says what it is for, none is too long, and
//! nothing of one machine or one workplace is in it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if path.is_dir() {
            if name != "target" && name != "node_modules" && name != ".git" {
                files(&path, ending, found);
            }
        } else if name.ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
}

pub(crate) fn rust_files() -> Vec<PathBuf> {
    let mut found = Vec::new();
    files(&root().join("src"), ".rs", &mut found);
    files(&root().join("tests"), ".rs", &mut found);
    assert!(found.len() > 60);
    found
}

/// Which modules a module may use. The table stands in DEVELOPERS.md too.
fn allowed() -> BTreeMap<&'static str, Vec<&'static str>> {
    let base = vec!["source", "finding", "near"];
    let told = ["quantity", "fastener", "wiring", "guide", "described"];
    let writer = ["phrases", "quantity", "guide", "described", "chapter", "markup", "document"];
    let with = |more: &[&'static str]| base.iter().copied().chain(more.iter().copied()).collect::<Vec<_>>();
    BTreeMap::from([
        ("source", vec![]),
        ("finding", vec!["source"]),
        ("near", vec![]),
        ("phrases", vec![]),
        ("quantity", base.clone()),
        ("fastener", with(&["quantity"])),
        ("wiring", with(&["quantity"])),
        ("guide", with(&["quantity", "fastener", "wiring", "phrases"])),
        ("described", vec![]),
        ("chapter", vec!["described"]),
        ("markup", vec![]),
        ("drawing", with(&["wiring", "markup", "document"])),
        ("pictures", with(&["guide"])),
        ("machine", with(&writer).into_iter().chain(["pictures"]).collect()),
        ("search", with(&["phrases", "quantity", "document", "pictures"])),
        ("document", with(&["phrases", "quantity", "fastener", "wiring", "guide"])),
        ("issued", with(&["guide", "document"])),
        ("compare", with(&["quantity", "guide", "document", "described", "chapter"])),
        ("wording", vec!["guide"]),
        ("narration", vec!["guide", "wording"]),
        ("draft", vec!["guide", "narration", "wording"]),
        ("review", with(&told).into_iter().chain(["wording"]).collect()),
        ("theme", vec!["near", "chapter", "phrases", "quantity", "guide", "record"]),
        ("highlight", vec!["markup"]),
        ("handbook", vec!["chapter", "markup", "highlight", "theme"]),
        ("reviewer", vec!["source", "finding", "markup", "highlight", "guide", "theme"]),
        (
            "site",
            with(&writer)
                .into_iter()
                .chain(["phrases", "fastener", "compare", "drawing", "pictures", "machine", "search", "theme"])
                .collect(),
        ),
        ("start", vec!["guide", "fastener"]),
        ("shop", vec!["guide"]),
        ("build", vec![]),
        ("disk", with(&["guide", "shop"])),
        ("preview", vec![]),
        ("record", with(&["phrases", "quantity", "document", "described", "chapter"])),
        ("sheets", with(&["phrases", "quantity", "guide", "chapter", "document", "drawing", "pictures", "record"])),
        (
            "cli",
            with(&[
                "quantity",
                "guide",
                "chapter",
                "document",
                "issued",
                "compare",
                "review",
                "pictures",
                "machine",
                "theme",
                "handbook",
                "reviewer",
                "shop",
                "site",
                "sheets",
                "record",
                "disk",
                "preview",
                "start",
                "wording",
                "narration",
                "draft",
            ]),
        ),
        ("main", vec!["cli"]),
    ])
}

#[test]
fn imports_point_one_way() {
    let src = root().join("src");
    let allowed = allowed();
    let mut checked = 0;
    for path in rust_files().into_iter().filter(|path| path.starts_with(&src)) {
        let inside = path.strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
        let module = inside.split(['/', '.']).next().unwrap();
        if module == "lib" {
            continue;
        }
        let may = allowed.get(module).unwrap_or_else(|| panic!("{module} is not in the table of imports"));
        let text = fs::read_to_string(&path).unwrap();
        for (at, _) in text.match_indices("crate::").chain(text.match_indices("bayleaf::").filter(|_| module == "main")) {
            let rest = &text[at..].split_once("::").unwrap().1;
            let used: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            assert!(used == module || may.contains(&used.as_str()), "{inside} uses {used}");
            checked += 1;
        }
    }
    assert!(checked > 150, "only {checked} imports were seen");
}

/// Third-party types stay in the files named here, so that another package can take their place.
#[test]
fn packages_stay_where_they_belong() {
    let only: &[(&str, &[&str])] = &[
        ("pulldown_cmark", &["guide/block.rs", "guide/bounds.rs", "guide/prose.rs", "document/build/prose.rs", "guide/words.rs"]),
        ("toml::", &["guide/facts.rs", "guide/stated.rs", "guide/short.rs"]),
        ("tera::", &["theme/mod.rs", "theme/error.rs", "theme/words.rs", "site/mod.rs"]),
        ("syntect", &["highlight.rs"]),
        ("image::", &["sheets/pdf.rs", "guide/picture.rs", "pictures/mod.rs", "pictures/error.rs", "machine/icon.rs"]),
        ("walkdir", &["disk.rs", "disk/building.rs", "disk/kept.rs"]),
        (
            "roxmltree",
            &["drawing/callouts.rs", "drawing/face.rs", "drawing/order.rs", "guide/drawing.rs", "machine/mod.rs", "pictures/scrub.rs"],
        ),
        ("cssparser", &["guide/style.rs"]),
        (
            "std::fs",
            &["build.rs", "disk.rs", "disk/building.rs", "disk/kept.rs", "disk/left.rs", "disk/regular.rs", "review/rules/tests.rs"],
        ),
        ("unicode_width", &["review/report/text.rs"]),
        (
            "clap",
            &[
                "cli/mod.rs",
                "cli/compare.rs",
                "cli/draft.rs",
                "cli/issue.rs",
                "cli/records.rs",
                "cli/review.rs",
                "cli/report.rs",
                "cli/publish.rs",
                "cli/preview.rs",
                "cli/print.rs",
                "cli/handbook.rs",
                "cli/start.rs",
            ],
        ),
        ("postcard", &["shop/memo.rs", "cli/pass.rs", "cli/make.rs", "cli/failure.rs"]),
        ("indicatif", &["cli/terminal.rs"]),
        ("memchr", &["review/phrases.rs", "theme/deferral.rs"]),
        ("krilla", &["sheets/pdf.rs"]),
        ("parley", &["sheets/typeset.rs"]),
        ("dejavu::", &["sheets/typeset.rs"]),
        ("usvg", &["sheets/drawing.rs"]),
        ("fast_qr", &["sheets/qr.rs"]),
        ("unicode_normalization", &["search/fold.rs", "sheets/typeset.rs"]),
        ("html5gum", &["theme/deferral.rs"]),
        ("axum", &["preview/server.rs"]),
        ("tokio", &["preview/server.rs", "preview/mod.rs"]),
        ("notify_debouncer_full", &["preview/watch.rs"]),
        ("SystemTime", &[]),
        ("env::var", &["build.rs"]),
    ];
    let src = root().join("src");
    for path in rust_files().into_iter().filter(|path| path.starts_with(&src)) {
        let inside = path.strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
        let text = fs::read_to_string(&path).unwrap();
        for (package, homes) in only {
            let uses = text.lines().any(|line| {
                let code = line.split("//").next().unwrap_or_default();
                let at = code.find(package);
                at.is_some_and(|at| !code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_'))
            });
            assert!(!uses || homes.contains(&inside.as_str()), "{inside} uses {package}");
        }
    }
}

#[test]
fn every_file_says_what_it_is_for_and_none_is_too_long() {
    for path in rust_files() {
        let text = fs::read_to_string(&path).unwrap();
        let first = text.lines().next().unwrap_or_default();
        assert!(first.starts_with("//! ") && first.len() > 20, "{} starts with: {first}", path.display());
        assert!(text.lines().count() <= 800, "{} has {} lines", path.display(), text.lines().count());
    }
}

#[test]
fn the_theme_folder_and_the_table_of_built_in_files_are_one() {
    let mut on_disk: Vec<String> =
        fs::read_dir(root().join("themes")).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    on_disk.sort();
    let mut built_in: Vec<String> = bayleaf::theme::BUILT_IN.iter().map(|(name, _)| (*name).to_owned()).collect();
    built_in.sort();
    assert_eq!(on_disk, built_in);
}

#[test]
fn nothing_of_one_machine_is_in_the_tree() {
    let mut found = Vec::new();
    for ending in [".rs", ".md", ".toml", ".html", ".css", ".js", ".mjs", ".json", ".py", ".svg"] {
        files(&root(), ending, &mut found);
    }
    // Put together here, so that this file does not hold what it looks for.
    let bad = [
        ["/ro", "ot/"].concat(),
        ["/wo", "rk/"].concat(),
        ["registry.npm", "js"].concat(),
        ["static.cra", "tes.io"].concat(),
        ["pythonho", "sted"].concat(),
    ];
    for path in found {
        let text = fs::read_to_string(&path).unwrap_or_default();
        for bad in &bad {
            assert!(!text.contains(bad.as_str()), "{} holds {bad}", path.display());
        }
    }
}

#[test]
fn developers_md_lists_every_module_and_import() {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    for entry in fs::read_dir(root().join("src")).unwrap().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(text.contains(&format!("src/{name}")), "DEVELOPERS.md does not speak of src/{name}");
    }
    for (module, may) in allowed() {
        let row = text
            .lines()
            .find(|line| line.starts_with(&format!("| `{module}` |")))
            .unwrap_or_else(|| panic!("no row of imports for {module}"));
        for used in may {
            assert!(row.contains(&format!("`{used}`")), "{module} may use {used}, and DEVELOPERS.md does not say so");
        }
    }
}

/// What two rules share stands beside the rules, in the model or in the sums of `tally`.
#[test]
fn no_rule_uses_another_rule() {
    let rules = root().join("src/review/rules");
    for path in rust_files().into_iter().filter(|path| path.starts_with(&rules) && path.parent() != Some(&rules)) {
        let text = fs::read_to_string(&path).unwrap();
        let others = text.lines().filter(|line| line.trim_start().starts_with("use ") && line.contains("rules::")).count();
        assert_eq!(others, 0, "{}", path.display());
    }
}

#[test]
fn the_readme_is_in_step_with_the_program() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let ci = fs::read_to_string(root().join(".ci/run")).unwrap();
    assert!(readme.contains("\nbash tests/run ") && ci.ends_with("\nbash tests/run\n"), "CI runs the README's test command");
    let rules = bayleaf::review::rules::ALL.len();
    let counted = format!("The review has {rules} rules");
    if std::env::var_os("BAYLEAF_UPDATE").is_some() && !readme.contains(&counted) {
        let (before, after) = readme.split_once("The review has ").unwrap();
        let after = after.trim_start_matches(|c: char| c.is_ascii_digit());
        fs::write(root().join("README.md"), format!("{before}The review has {rules}{after}")).unwrap();
    } else {
        assert!(readme.contains(&counted), "the README counts the rules: {rules}");
    }
    assert!(root().join(".readme/guide.png").is_file(), "the README's picture is there");
}
