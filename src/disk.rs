//! The only reader and writer of files. Finds the guides of a folder, reads them and their pictures, and
//! puts a built site in the place of the old one, whole or not at all. What the bytes mean is left to
//! the layers below.

mod building;
mod kept;
mod left;
mod regular;

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use sha2::{Digest, Sha256};
use walkdir::WalkDir;

use crate::shop::Signature;

pub use building::{Building, Files, Finished, Written, lies, read_cache, write_cache};
pub use kept::{
    ISSUED_PICTURES, find_left_issued, find_records, has_issued_picture, issued_state, keep_issued, published_paths, read_at_state,
    read_issued, read_issued_picture,
};
pub use regular::{LARGEST_GIVEN, LARGEST_OWN, LARGEST_TEXT, given, read};

/// The file in a published site that lists what bayleaf wrote there.
pub const RECORD: &str = ".bayleaf-site";
/// The first line of that file.
const RECORD_HEAD: &str = "bayleaf site 1: every file below was written by bayleaf, with the SHA-256 of its content";
/// The name of the shop file.
pub const SHOP_FILE: &str = "shop.toml";
/// A picture file larger than this is not read.
const LARGEST_PICTURE: u64 = 256 << 20;

/// A file could not be read or written: which, and why.
#[derive(Debug)]
pub struct DiskError {
    /// The file or folder.
    pub path: PathBuf,
    /// What was being done.
    pub what: &'static str,
    /// Why it could not be.
    pub cause: Cause,
}

/// Why a file could not be read or written.
#[derive(Debug)]
pub enum Cause {
    /// The system says so.
    System(io::Error),
    /// A folder contains itself, by a link.
    Loop,
    /// It would do harm, or is not to be.
    Refused(String),
}

impl std::fmt::Display for Cause {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Cause::System(error) => error.fmt(f),
            Cause::Loop => f.write_str("the folder contains itself"),
            Cause::Refused(why) => f.write_str(why),
        }
    }
}

impl DiskError {
    /// What is not done, though the system would do it.
    pub fn refused(path: impl Into<PathBuf>, what: &'static str, why: impl Into<String>) -> Self {
        DiskError { path: path.into(), what, cause: Cause::Refused(why.into()) }
    }
}

impl std::fmt::Display for DiskError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "cannot {} {}: {}", self.what, self.path.display(), self.cause)
    }
}

impl std::error::Error for DiskError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.cause {
            Cause::System(error) => Some(error),
            Cause::Loop | Cause::Refused(_) => None,
        }
    }
}

fn failed(path: &Path, what: &'static str) -> impl FnOnce(io::Error) -> DiskError {
    let path = path.to_owned();
    move |error| DiskError { path, what, cause: Cause::System(error) }
}

/// Where one guide stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct GuidePath {
    /// The file.
    pub file: PathBuf,
    /// The path as shown to people.
    pub shown: String,
    /// The name in addresses.
    pub slug: String,
}

/// The guides of a folder in the order of their paths: `<slug>/guide.md`, or single `<slug>.md` files.
pub fn find_guides(folder: &Path, shown: &str) -> Result<Vec<GuidePath>, DiskError> {
    // The walk alone would report an unreadable top folder as an entry; say what is meant.
    fs::read_dir(folder).map_err(failed(folder, "read the folder"))?;
    let mut guides = Vec::new();
    for entry in WalkDir::new(folder).follow_links(false).sort_by_file_name().into_iter().filter_entry(|entry| !is_hidden(entry)) {
        let entry = entry.map_err(|error| walked(error, folder, "read"))?;
        let path = entry.path();
        let Some(name) = path.file_name().and_then(|name| name.to_str()) else { continue };
        if !entry.file_type().is_file() || !name.ends_with(".md") {
            continue;
        }
        let in_folder = path.parent().filter(|parent| *parent != folder).and_then(Path::file_name).and_then(|name| name.to_str());
        let slug = match in_folder {
            Some(parent) if name == "guide.md" => parent,
            // Other Markdown beside a guide.md is the author's notes, not a guide.
            Some(_) if path.with_file_name("guide.md").is_file() => continue,
            _ => name.strip_suffix(".md").unwrap_or(name),
        };
        let inside = path.strip_prefix(folder).unwrap_or(path);
        let parts: Vec<String> = inside.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
        let slug = crate::guide::facts::slug_of(slug);
        // A name may hold what steers a terminal.
        let inside: String = parts.join("/").chars().map(|c| if c.is_control() { char::REPLACEMENT_CHARACTER } else { c }).collect();
        guides.push(GuidePath { file: path.to_owned(), shown: format!("{shown}/{inside}"), slug });
    }
    guides.sort_by(|a, b| a.shown.cmp(&b.shown));
    Ok(guides)
}

fn walked(error: walkdir::Error, folder: &Path, what: &'static str) -> DiskError {
    let path = error.path().unwrap_or(folder).to_owned();
    DiskError { path, what, cause: error.into_io_error().map_or(Cause::Loop, Cause::System) }
}

fn is_hidden(entry: &walkdir::DirEntry) -> bool {
    entry.depth() > 0 && entry.file_name().to_str().is_some_and(|name| name.starts_with('.'))
}

/// Writes a report, whole or not at all. What is not a file, such as a terminal or a pipe, is written to as it is.
pub fn write_report(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    match fs::metadata(path) {
        Ok(facts) if facts.is_dir() => Err(DiskError::refused(path, "write", "it is a folder")),
        Ok(facts) if !facts.is_file() => fs::write(path, bytes).map_err(failed(path, "write")),
        Ok(facts) => put_in_place(&path.canonicalize().map_err(failed(path, "write"))?, bytes, Some(facts.permissions())),
        Err(_) => put_in_place(path, bytes, None),
    }
}

/// Writes a sheet, whole or not at all; the folder is made if it is not there.
pub fn write_sheet(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder).map_err(failed(folder, "make the folder"))?;
    }
    write_report(path, bytes)
}

/// Writes a file that must not be there yet, whole or not at all; its folder is made if it is not there.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(DiskError::refused(path, "write", "it is there already"));
    }
    write_sheet(path, bytes)
}

/// What comes in on standard input; more than `limit` bytes are refused.
pub fn piped(limit: u64) -> Result<Vec<u8>, DiskError> {
    let mut bytes = Vec::new();
    let read = io::Read::read_to_end(&mut io::Read::take(io::stdin().lock(), limit + 1), &mut bytes);
    read.map_err(failed(Path::new("-"), "read"))?;
    if bytes.len() as u64 > limit {
        return Err(DiskError::refused("-", "read", format!("it is larger than {} MB", limit >> 20)));
    }
    Ok(bytes)
}

/// Writes new content over a file that was read as `old`, whole or not at all, with the permissions it has. A file
/// that is read-only, gone, or changed since it was read is left alone.
pub fn rewrite(path: &Path, old: &[u8], new: &[u8]) -> Result<(), DiskError> {
    let refuse = |why: &str| DiskError::refused(path, "mend", why);
    // A link stands for the file it leads to.
    let real = path.canonicalize().map_err(failed(path, "mend"))?;
    let permissions = fs::metadata(&real).map_err(failed(path, "mend"))?.permissions();
    if permissions.readonly() {
        return Err(refuse("it is read-only"));
    }
    if fs::read(&real).map_err(failed(path, "mend"))? != old {
        return Err(refuse("it was changed while it was being reviewed"));
    }
    put_in_place(&real, new, Some(permissions))
}

/// Writes a file beside its place and moves it there, so that at no moment half of it stands there.
fn put_in_place(path: &Path, bytes: &[u8], permissions: Option<fs::Permissions>) -> Result<(), DiskError> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    left::clear(folder, left::WRITING);
    let mut builder = tempfile::Builder::new();
    builder.prefix(left::WRITING);
    // Others may read a new file as far as the system's settings let them.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder).map_err(failed(path, "write"))?;
    // Held until it stands in its place, so that nobody takes it for one that was left behind.
    let _ = file.as_file().try_lock();
    io::Write::write_all(&mut file, bytes).map_err(failed(path, "write"))?;
    if let Some(permissions) = permissions {
        file.as_file().set_permissions(permissions).map_err(failed(path, "write"))?;
    }
    file.as_file().sync_all().map_err(failed(path, "write"))?;
    file.persist(path).map_err(|error| failed(path, "write")(error.error))?;
    Ok(())
}

/// Whether both paths lead to one file.
pub fn is_same_file(one: &Path, other: &Path) -> bool {
    one.canonicalize().ok().zip(other.canonicalize().ok()).is_some_and(|(one, other)| one == other)
}

/// Why a picture could not be had.
#[derive(Debug, PartialEq, Eq)]
pub enum NoPicture {
    /// There is no such file.
    Missing,
    /// The address leads out of the guide's folder.
    Outside,
    /// The file is there and cannot be read.
    Unreadable(String),
}

/// The bytes of a picture beside a guide. Only files in the guide's own folder are read, whatever links say.
pub fn read_picture(guide: &Path, address: &str) -> Result<Vec<u8>, NoPicture> {
    let (real, _) = find_picture(guide, address)?;
    fs::read(&real).map_err(|error| NoPicture::Unreadable(error.to_string()))
}

/// Where a picture beside a guide lies, and how.
pub fn find_picture(guide: &Path, address: &str) -> Result<(PathBuf, Signature), NoPicture> {
    let folder = guide.parent().unwrap_or(Path::new("."));
    let relative = Path::new(address);
    let plain = !address.contains([':', '\\', '?', '#'])
        && relative.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    if !plain || address.is_empty() {
        return Err(NoPicture::Outside);
    }
    let path = folder.join(relative);
    let real = path.canonicalize().map_err(|_| NoPicture::Missing)?;
    let home = folder.canonicalize().map_err(|error| NoPicture::Unreadable(error.to_string()))?;
    if !real.starts_with(&home) {
        return Err(NoPicture::Outside);
    }
    let facts = fs::metadata(&real).map_err(|error| NoPicture::Unreadable(error.to_string()))?;
    if !facts.is_file() || facts.len() > LARGEST_PICTURE {
        return Err(NoPicture::Unreadable(if facts.is_file() { "the file is too large".into() } else { "it is not a file".into() }));
    }
    let signature = building::signature(&facts);
    Ok((real, signature))
}

/// Reads a folder of override files for the theme: name to content. A folder that is not there has none.
pub fn read_theme(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>, DiskError> {
    let mut files = BTreeMap::new();
    if !folder.is_dir() {
        return Ok(files);
    }
    let home = folder.parent().filter(|home| !home.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let inside = folder.canonicalize().ok().zip(home.canonicalize().ok()).is_some_and(|(folder, home)| folder.starts_with(home));
    if !inside {
        return Err(DiskError::refused(
            folder,
            "read the folder",
            "it is a link that leads out of the shop, and its files would be published",
        ));
    }
    for entry in fs::read_dir(folder).map_err(failed(folder, "read the folder"))? {
        let path = entry.map_err(failed(folder, "read the folder"))?.path();
        if path.is_dir() {
            continue;
        }
        if let Some(name) = path.file_name().and_then(|name| name.to_str()) {
            files.insert(name.to_owned(), regular::within(&path, LARGEST_OWN)?);
        }
    }
    Ok(files)
}

/// The lower-case hexadecimal digits of some bytes.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The SHA-256 of some bytes in hexadecimal digits.
pub fn hash(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(folder: &Path) -> Vec<String> {
        let walk = WalkDir::new(folder).sort_by_file_name().into_iter().filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
        walk.map(|entry| entry.path().strip_prefix(folder).unwrap().to_string_lossy().into_owned()).collect()
    }

    #[cfg(unix)]
    #[test]
    fn files_behind_links_are_no_part_of_a_theme() {
        let home = tempfile::tempdir().unwrap();
        let themes = home.path().join("shop/themes");
        fs::create_dir_all(&themes).unwrap();
        fs::write(home.path().join("secret.txt"), "s").unwrap();
        fs::write(themes.join("own.css"), "a{}").unwrap();
        assert_eq!(read_theme(&themes).unwrap().len(), 1);
        std::os::unix::fs::symlink("../../secret.txt", themes.join("foo.txt")).unwrap();
        let error = read_theme(&themes).unwrap_err();
        assert!(error.to_string().contains("foo.txt") && error.to_string().contains("leads out"), "{error}");
        std::os::unix::fs::symlink("..", home.path().join("shop/elsewhere")).unwrap();
        let error = read_theme(&home.path().join("shop/elsewhere")).unwrap_err();
        assert!(error.to_string().contains("leads out of the shop"), "{error}");
    }

    #[test]
    fn a_file_is_rewritten_only_as_it_was_read() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("guide.md");
        fs::write(&path, "old").unwrap();
        let error = rewrite(&path, b"older", b"new").unwrap_err();
        assert!(error.to_string().contains("changed while"), "{error}");
        assert_eq!(fs::read(&path).unwrap(), b"old");
        rewrite(&path, b"old", b"new").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        let error = rewrite(&home.path().join("gone.md"), b"", b"new").unwrap_err();
        assert!(error.to_string().starts_with("cannot mend"), "{error}");
        assert_eq!(files(home.path()), ["guide.md"]);
    }

    #[cfg(unix)]
    #[cfg(unix)]
    #[test]
    fn a_link_to_a_file_stays_a_link() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("real.md"), "old").unwrap();
        let link = home.path().join("guide.md");
        std::os::unix::fs::symlink("real.md", &link).unwrap();
        rewrite(&link, b"old", b"new").unwrap();
        write_report(&link, b"report").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(home.path().join("real.md")).unwrap(), b"report");
        assert!(is_same_file(&link, &home.path().join("real.md")) && !is_same_file(&link, home.path()));
    }

    #[cfg(unix)]
    #[test]
    fn pictures_outside_the_folder_are_not_read() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("guide");
        fs::create_dir(&folder).unwrap();
        fs::write(home.path().join("secret.svg"), "s").unwrap();
        fs::write(folder.join("in.svg"), "ok").unwrap();
        #[cfg(unix)]
        std::os::unix::fs::symlink("../secret.svg", folder.join("link.svg")).unwrap();
        let guide = folder.join("guide.md");
        assert_eq!(read_picture(&guide, "in.svg").unwrap(), b"ok");
        for bad in ["../secret.svg", "/etc/hostname", "link.svg", "https://example.org/a.png", "data:image/png,x", ""] {
            assert_eq!(read_picture(&guide, bad), Err(NoPicture::Outside), "{bad}");
        }
        assert_eq!(read_picture(&guide, "none.svg"), Err(NoPicture::Missing));
    }
}
