//! What is kept from earlier: issued revisions beside a guide, states of the version control, records in a folder, what a published
//! site holds.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::{DiskError, GuidePath, RECORD, failed, is_hidden, read, walked, write_sheet};
use crate::shop::Key;

/// The folder beside a guide that holds what was issued of it.
const ISSUED: &str = "issued";
/// The folder in it that holds the pictures.
pub const ISSUED_PICTURES: &str = "pictures";

impl GuidePath {
    /// The folder of what was issued: beside `guide.md`, or in a folder of the file's name.
    pub fn issued(&self) -> PathBuf {
        let folder = self.file.parent().unwrap_or(Path::new("."));
        match self.file.file_stem().filter(|stem| *stem != "guide" || folder.file_name().is_none()) {
            Some(stem) => folder.join(stem).join(ISSUED),
            None => folder.join(ISSUED),
        }
    }

    /// The same as shown to people.
    pub fn issued_shown(&self) -> String {
        let stem = self.shown.strip_suffix(".md").unwrap_or(&self.shown);
        format!("{}/{ISSUED}", stem.strip_suffix("/guide").unwrap_or(stem))
    }
}

/// Folders with issued revisions below the folder of guides whose guide is gone: where it would stand.
pub fn find_left_issued(folder: &Path, shown: &str, guides: &[GuidePath]) -> Result<Vec<GuidePath>, DiskError> {
    let known: Vec<PathBuf> = guides.iter().map(GuidePath::issued).collect();
    let mut left = Vec::new();
    for entry in WalkDir::new(folder).follow_links(false).sort_by_file_name().into_iter().filter_entry(|entry| !is_hidden(entry)) {
        let entry = entry.map_err(|error| walked(error, folder, "read"))?;
        let path = entry.path();
        if !entry.file_type().is_dir() || entry.file_name() != ISSUED || known.iter().any(|known| known == path) {
            continue;
        }
        let Some(home) = path.parent().filter(|home| *home != folder) else { continue };
        let Some(name) = home.file_name().and_then(|name| name.to_str()) else { continue };
        let inside = home.strip_prefix(folder).unwrap_or(home).to_string_lossy().replace('\\', "/");
        left.push(GuidePath {
            file: home.join("guide.md"),
            shown: format!("{shown}/{inside}/guide.md"),
            slug: crate::guide::facts::slug_of(name),
        });
    }
    Ok(left)
}

/// Every issued revision of a guide: its path as shown, and its content or why there is none.
pub fn read_issued(guide: &GuidePath) -> Vec<(String, Result<Vec<u8>, DiskError>)> {
    let Ok(entries) = fs::read_dir(guide.issued()) else { return Vec::new() };
    let mut paths: Vec<PathBuf> =
        entries.flatten().map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|e| e == "issue")).collect();
    paths.sort();
    // Beside the guide, which is named wherever this is told.
    let shown = |path: &Path| format!("{ISSUED}/{}", path.file_name().unwrap_or_default().to_string_lossy());
    paths.iter().map(|path| (shown(path), read(path))).collect()
}

/// What there is of issued revisions of a guide: every file by its name, with its content; nothing where nothing was issued.
pub fn issued_state(guide: &GuidePath) -> Vec<(String, Key)> {
    let folder = guide.issued();
    let mut state = Vec::new();
    for entry in WalkDir::new(&folder).min_depth(1).follow_links(false).sort_by_file_name().into_iter().flatten() {
        let name = entry.path().strip_prefix(&folder).unwrap_or(entry.path()).to_string_lossy().into_owned();
        let content = fs::read(entry.path()).map(|bytes| Key::of_bytes(&bytes)).unwrap_or_default();
        state.push((name, content));
    }
    state
}

/// Whether a picture of an issued revision is there.
pub fn has_issued_picture(guide: &GuidePath, name: &str) -> bool {
    guide.issued().join(ISSUED_PICTURES).join(name).is_file()
}

/// A picture of an issued revision.
pub fn read_issued_picture(guide: &GuidePath, name: &str) -> Result<Vec<u8>, DiskError> {
    let path = guide.issued().join(ISSUED_PICTURES).join(name);
    fs::read(&path).map_err(failed(&path, "read"))
}

/// Keeps an issued revision and its pictures. What is there already is never written over.
pub fn keep_issued(guide: &GuidePath, name: &str, text: &str, pictures: &[(String, &[u8])]) -> Result<PathBuf, DiskError> {
    let folder = guide.issued();
    let path = folder.join(name);
    if path.exists() {
        return Err(DiskError::refused(path, "write", "it is there already, and what was issued stays as it is"));
    }
    for (name, bytes) in pictures {
        let path = folder.join(ISSUED_PICTURES).join(name);
        if !path.exists() {
            write_sheet(&path, bytes)?;
        }
    }
    write_sheet(&path, text.as_bytes())?;
    Ok(path)
}

/// Every file below a folder that ends in `.json`, in the order of their paths, each as shown from the folder.
pub fn find_records(folder: &Path) -> Result<Vec<(String, PathBuf)>, DiskError> {
    fs::read_dir(folder).map_err(failed(folder, "read the folder"))?;
    let mut files = Vec::new();
    for entry in WalkDir::new(folder).follow_links(false).sort_by_file_name().into_iter().filter_entry(|entry| !is_hidden(entry)) {
        let entry = entry.map_err(|error| walked(error, folder, "read"))?;
        if entry.file_type().is_file() && entry.path().extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
            let inside = entry.path().strip_prefix(folder).unwrap_or(entry.path());
            files.push((inside.to_string_lossy().replace('\\', "/"), entry.path().to_owned()));
        }
    }
    Ok(files)
}

/// A file as it was at a state of the version control (git) that `folder` is under; the error says in a sentence why it cannot be had.
pub fn read_at_state(folder: &Path, state: &str, file: &Path) -> Result<Vec<u8>, String> {
    let git = |arguments: &[&str]| {
        let output = std::process::Command::new("git").arg("-C").arg(folder).args(arguments).output();
        output.map_err(|error| format!("the version control (git) cannot be asked: {error}"))
    };
    let shallow = git(&["rev-parse", "--is-shallow-repository"])?;
    if !shallow.status.success() {
        return Err("the folder is under no version control (git)".to_owned());
    }
    // What starts with a hyphen would be taken for an option.
    let known = !state.starts_with('-') && git(&["rev-parse", "--verify", "--quiet", &format!("{state}^{{commit}}")])?.status.success();
    if !known {
        let more = if shallow.stdout.starts_with(b"true") {
            "; this copy of its history is cut off (shallow), so older states are not here: fetch the whole history"
        } else {
            ""
        };
        return Err(format!("the version control does not know `{state}`{more}"));
    }
    let top = git(&["rev-parse", "--show-toplevel"])?;
    let top = PathBuf::from(String::from_utf8_lossy(&top.stdout).trim_end());
    let real = file.parent().and_then(|parent| parent.canonicalize().ok()).map(|parent| parent.join(file.file_name().unwrap_or_default()));
    let real = real.unwrap_or_else(|| file.to_owned());
    let inside = real
        .strip_prefix(top.canonicalize().unwrap_or(top))
        .map_err(|_| format!("{} lies outside of what is under version control", file.display()))?;
    let path = inside.to_string_lossy().replace('\\', "/");
    let shown = git(&["show", &format!("{state}:{path}")])?;
    if shown.status.success() { Ok(shown.stdout) } else { Err(format!("`{state}` has no file {path}")) }
}

/// The paths of the files that bayleaf wrote into a published site; none where there is no site.
pub fn published_paths(target: &Path) -> Result<Vec<String>, DiskError> {
    let record = target.join(RECORD);
    match fs::read_to_string(&record) {
        Ok(text) => Ok(text.lines().skip(1).filter_map(|line| line.split_once("  ")).map(|(_, path)| path.to_owned()).collect()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Vec::new()),
        Err(error) => Err(failed(&record, "read")(error)),
    }
}
