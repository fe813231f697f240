//! The only reader and writer of files. Finds the guides of a folder, reads them and their pictures, and
//! puts a built site in the place of the old one, whole or not at all. What the bytes mean is left to
//! the layers below.

mod kept;
mod left;
mod regular;

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io;
use std::path::{Component, Path, PathBuf};

use sha2::{Digest, Sha256};
use walkdir::WalkDir;

pub use kept::{
    ISSUED_PICTURES, find_left_issued, find_records, has_issued_picture, keep_issued, published_paths, read_at_state, read_issued,
    read_issued_picture,
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
    fs::read(&real).map_err(|error| NoPicture::Unreadable(error.to_string()))
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

/// A site while it is built: a folder beside the target, gone again unless it is finished.
#[derive(Debug)]
pub struct Building {
    folder: tempfile::TempDir,
    target: PathBuf,
    /// Says to others that this folder is in use.
    _held: Option<File>,
}

impl Building {
    /// Starts a site that will stand at `target`. Refuses a target that holds anything bayleaf did not write.
    pub fn start(target: &Path) -> Result<Self, DiskError> {
        // A link to a site stands for the site itself.
        let target = match target.canonicalize() {
            Ok(real) => real,
            Err(_) if fs::symlink_metadata(target).is_ok_and(|facts| facts.is_symlink()) => {
                return Err(DiskError::refused(
                    target,
                    "publish to",
                    "it is a link that leads to nothing; make the folder it leads to, or remove it",
                ));
            }
            Err(_) => std::path::absolute(target).map_err(failed(target, "find"))?,
        };
        let parent = target.parent().unwrap_or(&target).to_owned();
        check_target(&target)?;
        fs::create_dir_all(&parent).map_err(failed(&parent, "make the folder"))?;
        left::mend(&target);
        let folder = tempfile::Builder::new().prefix(left::BUILDING).tempdir_in(&parent).map_err(failed(&parent, "write in"))?;
        let _held = left::hold(folder.path());
        Ok(Building { folder, target, _held })
    }

    /// Writes one file; `path` is relative with `/` between its parts. Gives back its line for the record.
    pub fn write(&self, path: &str, bytes: &[u8]) -> Result<Written, DiskError> {
        let full = self.folder.path().join(path);
        match fs::write(&full, bytes) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let parent = full.parent().unwrap_or(&full);
                fs::create_dir_all(parent).map_err(failed(parent, "make the folder"))?;
                fs::write(&full, bytes)
            }
            done => done,
        }
        .map_err(failed(&self.target.join(path), "write"))?;
        Ok(Written { path: path.to_owned(), sha256: hex(&Sha256::digest(bytes)) })
    }

    /// Puts the finished site in the place of the old one. Gives back why the old one could not be removed, if it could not: the new one
    /// stands all the same.
    pub fn finish(self, mut written: Vec<Written>) -> Result<Option<DiskError>, DiskError> {
        written.sort_by(|a, b| a.path.cmp(&b.path));
        let mut record = String::from(RECORD_HEAD);
        record.push('\n');
        for file in &written {
            record.push_str(&format!("{}  {}\n", file.sha256, file.path));
        }
        let path = self.folder.path().join(RECORD);
        fs::write(&path, record).map_err(failed(&path, "write"))?;
        open_to_all(self.folder.path())?;
        // Somebody may have put a file there while the site was built.
        check_target(&self.target)?;
        let new = self.folder.path().to_owned();
        if !self.target.exists() {
            fs::rename(&new, &self.target).map_err(failed(&self.target, "put the site at"))?;
            let _ = self.folder.keep();
            return Ok(None);
        }
        if exchanged(&new, &self.target) {
            // The old site now stands in the temporary folder and goes with it.
            Ok(self.folder.close().map_err(failed(&new, "remove the old site in")).err())
        } else {
            self.swap_in_two_moves(&new)
        }
    }

    /// For systems and file systems that cannot exchange two folders at once: the old site goes aside, the new one in. Between the
    /// two moves there is no site; if the second fails, the old one comes back.
    fn swap_in_two_moves(self, new: &Path) -> Result<Option<DiskError>, DiskError> {
        let aside = left::aside(&self.target);
        let _held = left::hold(&self.target);
        fs::rename(&self.target, &aside).map_err(failed(&self.target, "move the old site from"))?;
        if let Err(error) = fs::rename(new, &self.target) {
            let _ = fs::rename(&aside, &self.target);
            return Err(failed(&self.target, "put the site at")(error));
        }
        let _ = self.folder.keep();
        Ok(fs::remove_dir_all(&aside).map_err(failed(&aside, "remove the old site in")).err())
    }
}

/// Whether two folders changed places, both at once.
#[cfg(target_os = "linux")]
fn exchanged(one: &Path, other: &Path) -> bool {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).is_ok()
}

/// Only Linux is known to do it; elsewhere a site is put in with two moves.
#[cfg(not(target_os = "linux"))]
fn exchanged(_one: &Path, _other: &Path) -> bool {
    false
}

/// A file that was written: its path in the site and the hash of its content.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The path with `/` between its parts.
    pub path: String,
    /// The SHA-256 of the content in hexadecimal.
    pub sha256: String,
}

/// The lower-case hexadecimal digits of some bytes.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The SHA-256 of some bytes in hexadecimal digits.
pub fn hash(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// Refuses a target that is a file, or that holds files bayleaf did not write or that were changed since.
fn check_target(target: &Path) -> Result<(), DiskError> {
    let refuse = |why: String| DiskError::refused(target, "publish to", why);
    if !target.exists() {
        return Ok(());
    }
    if !target.is_dir() {
        return Err(refuse("it is a file, not a folder".to_owned()));
    }
    let record = target.join(RECORD);
    let record = match fs::read_to_string(&record) {
        Ok(text) => text,
        // What is not text was not written by bayleaf, and is told as a stranger below.
        Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::InvalidData) => String::new(),
        Err(error) => return Err(failed(&record, "read")(error)),
    };
    let mut known: BTreeMap<&str, &str> = BTreeMap::new();
    let mut lines = record.lines();
    if lines.next() == Some(RECORD_HEAD) {
        known.extend(lines.filter_map(|line| line.split_once("  ")).map(|(hash, path)| (path, hash)));
    }
    // Folders that files of ours stand in; an empty one is somebody's too.
    let folders: BTreeSet<&str> = known.keys().flat_map(|path| path.match_indices('/').map(|(at, _)| &path[..at])).collect();
    let mut strange = Vec::new();
    for entry in WalkDir::new(target).follow_links(false).sort_by_file_name() {
        let entry = entry.map_err(|error| walked(error, target, "look through"))?;
        let is_folder = entry.file_type().is_dir();
        if is_folder && (entry.depth() == 0 || fs::read_dir(entry.path()).is_ok_and(|mut inside| inside.next().is_some())) {
            continue;
        }
        let relative = entry.path().strip_prefix(target).unwrap_or(entry.path()).to_string_lossy().replace('\\', "/");
        let ours = relative == RECORD && !known.is_empty()
            || is_folder && folders.contains(relative.as_str())
            || known.get(relative.as_str()).is_some_and(|hash| {
                entry.file_type().is_file() && fs::read(entry.path()).is_ok_and(|bytes| hex(&Sha256::digest(bytes)) == **hash)
            });
        if !ours {
            strange.push(if is_folder { format!("the empty folder {relative}") } else { relative });
        }
    }
    match strange.as_slice() {
        [] => Ok(()),
        [first, rest @ ..] => {
            let more = if rest.is_empty() { String::new() } else { format!(" and {} more", rest.len()) };
            let why = format!(
                "it holds {first}{more}, which bayleaf did not write or which was changed since; move it away, or publish to another folder with --to"
            );
            Err(refuse(why))
        }
    }
}

/// A web server must be able to read the site, whatever the settings are under which it was published.
#[cfg(unix)]
fn open_to_all(folder: &Path) -> Result<(), DiskError> {
    use std::os::unix::fs::PermissionsExt;
    for entry in WalkDir::new(folder).follow_links(false) {
        let entry = entry.map_err(|error| walked(error, folder, "look through"))?;
        let mode = if entry.file_type().is_dir() { 0o755 } else { 0o644 };
        let now = entry.metadata().map_err(|error| walked(error, folder, "look through"))?.permissions().mode();
        if now & 0o777 != mode {
            fs::set_permissions(entry.path(), fs::Permissions::from_mode(mode)).map_err(failed(entry.path(), "open"))?;
        }
    }
    Ok(())
}

#[cfg(not(unix))]
fn open_to_all(_folder: &Path) -> Result<(), DiskError> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn publish(target: &Path, files: &[(&str, &str)]) -> Result<(), DiskError> {
        let building = Building::start(target)?;
        let written = files.iter().map(|(path, text)| building.write(path, text.as_bytes())).collect::<Result<Vec<_>, _>>()?;
        assert!(building.finish(written)?.is_none());
        Ok(())
    }

    fn files(folder: &Path) -> Vec<String> {
        let walk = WalkDir::new(folder).sort_by_file_name().into_iter().filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
        walk.map(|entry| entry.path().strip_prefix(folder).unwrap().to_string_lossy().into_owned()).collect()
    }

    #[test]
    fn a_site_is_swapped_in_whole_and_nothing_is_left_over() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        publish(&target, &[("index.html", "2")]).unwrap();
        assert_eq!(files(home.path()), ["site/.bayleaf-site", "site/index.html"]);
        assert_eq!(fs::read_to_string(target.join("index.html")).unwrap(), "2");
    }

    #[test]
    fn without_an_exchange_the_old_site_goes_aside_and_comes_back_if_need_be() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        let building = Building::start(&target).unwrap();
        building.write("index.html", b"2").unwrap();
        let new = building.folder.path().to_owned();
        building.swap_in_two_moves(&new).unwrap();
        assert_eq!(files(home.path()), ["site/index.html"]);
        assert_eq!(fs::read_to_string(target.join("index.html")).unwrap(), "2");

        let building = Building::start(&home.path().join("other")).unwrap();
        fs::create_dir(home.path().join("other")).unwrap();
        fs::write(home.path().join("other/index.html"), "old").unwrap();
        let gone = building.folder.path().join("gone");
        building.swap_in_two_moves(&gone).unwrap_err();
        assert_eq!(files(home.path()), ["other/index.html", "site/index.html"]);
    }

    #[test]
    fn a_stranger_in_the_target_is_never_touched() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1")]).unwrap();
        for (path, text) in [("notes.txt", "mine"), ("index.html", "edited by hand")] {
            let before = fs::read(target.join("index.html")).unwrap();
            fs::write(target.join(path), text).unwrap();
            let error = publish(&target, &[("index.html", "2")]).unwrap_err();
            assert!(error.to_string().contains(path), "{error}");
            assert_eq!(fs::read_to_string(target.join(path)).unwrap(), text);
            if path == "notes.txt" {
                assert_eq!(fs::read(target.join("index.html")).unwrap(), before);
                fs::remove_file(target.join(path)).unwrap();
            }
        }
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1, "nothing half-built is left beside the target");
    }

    #[test]
    fn an_empty_folder_of_somebody_is_a_stranger_too() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        fs::create_dir(target.join("kept")).unwrap();
        let error = publish(&target, &[("index.html", "2")]).unwrap_err();
        assert!(error.to_string().contains("the empty folder kept"), "{error}");
        fs::remove_dir(target.join("kept")).unwrap();
        // An empty folder as a target is a place to publish to.
        fs::create_dir(home.path().join("new")).unwrap();
        publish(&home.path().join("new"), &[("index.html", "2")]).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn what_a_killed_publish_left_goes_and_a_link_to_nothing_is_told_at_once() {
        use std::os::unix::fs::PermissionsExt;
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        let killed = Building::start(&target).unwrap();
        killed.write("index.html", b"half").unwrap();
        let Building { folder, _held, .. } = killed;
        let folder = folder.keep();
        drop(_held);
        // One that is still at work stays.
        let working = Building::start(&home.path().join("other")).unwrap();
        assert!(!folder.exists());
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        assert!(working.folder.path().exists());
        working.write("index.html", b"2").unwrap();
        drop(working);
        assert_eq!(files(home.path()), ["site/.bayleaf-site", "site/guides/a/index.html", "site/index.html"]);
        for (path, mode) in [("", 0o755), ("guides/a", 0o755), ("guides/a/index.html", 0o644), (RECORD, 0o644)] {
            assert_eq!(fs::metadata(target.join(path)).unwrap().permissions().mode() & 0o777, mode, "{path}");
        }
        std::os::unix::fs::symlink("nowhere", home.path().join("link")).unwrap();
        let error = Building::start(&home.path().join("link")).unwrap_err();
        assert!(error.to_string().contains("leads to nothing"), "{error}");
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
