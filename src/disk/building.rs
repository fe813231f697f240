//! A site on its way to its place: what it has in common with the site that stands there is taken over as it lies, the rest is written
//! beside it, and all of it takes the old one's place at once.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock, PoisonError};

use rayon::prelude::*;
use walkdir::WalkDir;

use super::{DiskError, RECORD, RECORD_HEAD, failed, left, walked};
use crate::shop::key::Key;
use crate::shop::memo::{Output, Signature};

/// Files of a site, each with its content's hash and how it lies on the disk.
pub type Files = HashMap<String, (Key, Signature)>;

/// How the name of a cache begins; that of the site follows.
const CACHE: &str = ".bayleaf-cache-";

/// A site while it is built: a folder beside the target, gone again unless it is finished. There is none as long as nothing differs from the
/// site that stands there.
#[derive(Debug)]
pub struct Building {
    target: PathBuf,
    /// The site that stands there.
    old: Files,
    /// The same by content, once somebody asks.
    by_content: OnceLock<HashMap<Key, String>>,
    folder: Mutex<Option<Folder>>,
    made: Mutex<Files>,
    kept: Mutex<BTreeSet<String>>,
}

#[derive(Debug)]
struct Folder {
    folder: tempfile::TempDir,
    /// Says to others that this folder is in use.
    _held: Option<File>,
}

/// A file that was written: its path in the site and the hash of its content.
pub type Written = Output;

/// What came of a finished site.
#[derive(Debug)]
pub struct Finished {
    /// How many of its files are new or have another content.
    pub changed: usize,
    /// How many files of the old one it does not have.
    pub gone: usize,
    /// Its files as they lie on the disk.
    pub files: Files,
    /// Why the old site could not be removed, if it could not: the new one stands all the same.
    pub over: Option<DiskError>,
}

fn locked<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// How a file lies on the disk; nothing where there is none.
pub fn lies(file: &Path) -> Option<Signature> {
    fs::metadata(file).ok().map(|facts| signature(&facts))
}

/// How a file lies on the disk.
pub(super) fn signature(facts: &fs::Metadata) -> Signature {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let nanoseconds = |seconds: i64, rest: i64| i128::from(seconds) * 1_000_000_000 + i128::from(rest);
        Signature {
            size: facts.len(),
            written: nanoseconds(facts.mtime(), facts.mtime_nsec()),
            changed: nanoseconds(facts.ctime(), facts.ctime_nsec()),
            number: facts.ino(),
        }
    }
    #[cfg(not(unix))]
    {
        let since = facts.modified().ok().and_then(|time| time.duration_since(std::time::UNIX_EPOCH).ok());
        let written = since.map_or(0, |since| since.as_nanos() as i128);
        Signature { size: facts.len(), written, changed: 0, number: 0 }
    }
}

/// The same without what a further name of the file changes.
fn lying(facts: &fs::Metadata) -> Signature {
    Signature { changed: 0, ..signature(facts) }
}

impl Building {
    /// Starts a site that will stand at `target`. Refuses a target that holds anything bayleaf did not write. What is `known` of its files is
    /// trusted where they lie as they did; all others are read.
    pub fn start(target: &Path, known: &Files) -> Result<Self, DiskError> {
        let target = real(target)?;
        left::mend(&target);
        let old = check_target(&target, known)?;
        Ok(Building { target, old, by_content: OnceLock::new(), folder: Mutex::default(), made: Mutex::default(), kept: Mutex::default() })
    }

    /// Writes one file; `path` is relative with `/` between its parts. One that stands in the old site with this content stays as it is.
    pub fn write(&self, path: &str, bytes: &[u8]) -> Result<Written, DiskError> {
        let key = Key::of_bytes(bytes);
        if self.has(path, &key) {
            locked(&self.kept).insert(path.to_owned());
            return Ok((path.to_owned(), key));
        }
        let full = self.folder()?.join(path);
        let write = || {
            let mut file = File::create_new(&full)?;
            io::Write::write_all(&mut file, bytes)?;
            open_to_all(&file.metadata()?, &full)?;
            file.metadata()
        };
        let facts = match write() {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let parent = full.parent().unwrap_or(&full);
                fs::create_dir_all(parent).map_err(failed(parent, "make the folder"))?;
                write()
            }
            // The same path once more: the last content counts.
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => fs::remove_file(&full).and_then(|()| write()),
            done => done,
        }
        .map_err(failed(&self.target.join(path), "write"))?;
        locked(&self.made).insert(path.to_owned(), (key, lying(&facts)));
        Ok((path.to_owned(), key))
    }

    /// Whether a file of the old site has this content.
    pub fn has(&self, path: &str, key: &Key) -> bool {
        self.old.get(path).is_some_and(|(known, _)| known == key)
    }

    /// Takes files of the old site over, all or none: whether all are there with their content.
    pub fn keep(&self, files: &[Output]) -> bool {
        let all = files.iter().all(|(path, key)| self.has(path, key));
        if all {
            locked(&self.kept).extend(files.iter().map(|(path, _)| path.clone()));
        }
        all
    }

    /// A content that some file of the old site has.
    pub fn fetch(&self, key: &Key) -> Option<Vec<u8>> {
        let by_content =
            self.by_content.get_or_init(|| self.old.iter().map(|(path, (key, _))| (*key, path.clone())).collect::<HashMap<_, _>>());
        let bytes = fs::read(self.target.join(by_content.get(key)?)).ok()?;
        (Key::of_bytes(&bytes) == *key).then_some(bytes)
    }

    /// The paths of the old site.
    pub fn old_paths(&self) -> impl Iterator<Item = &str> {
        self.old.keys().map(String::as_str)
    }

    fn folder(&self) -> Result<PathBuf, DiskError> {
        let mut folder = locked(&self.folder);
        if let Some(folder) = &*folder {
            return Ok(folder.folder.path().to_owned());
        }
        let parent = self.target.parent().unwrap_or(&self.target);
        fs::create_dir_all(parent).map_err(failed(parent, "make the folder"))?;
        let made = tempfile::Builder::new().prefix(left::BUILDING).tempdir_in(parent).map_err(failed(parent, "write in"))?;
        let path = made.path().to_owned();
        *folder = Some(Folder { _held: left::hold(&path), folder: made });
        Ok(path)
    }

    /// Puts the finished site in the place of the old one. Where nothing differs, nothing is touched.
    pub fn finish(self, mut written: Vec<Written>) -> Result<Finished, DiskError> {
        written.sort();
        written.dedup_by(|later, first| later.0 == first.0);
        let kept = std::mem::take(&mut *locked(&self.kept));
        let mut files = std::mem::take(&mut *locked(&self.made));
        // What was written over in the course of the work is no more taken over.
        let kept: Vec<String> = kept.into_iter().filter(|path| !files.contains_key(path)).collect();
        let changed = files.len();
        let gone = self.old.len() - kept.len() - files.keys().filter(|path| self.old.contains_key(*path)).count();
        if changed == 0 && gone == 0 && self.target.join(RECORD).exists() {
            return Ok(Finished { changed, gone, files: self.old, over: None });
        }
        let new = self.folder()?;
        let folders: BTreeSet<PathBuf> = kept.iter().filter_map(|path| Some(new.join(path).parent()?.to_owned())).collect();
        for folder in folders {
            fs::create_dir_all(&folder).map_err(failed(&folder, "make the folder"))?;
        }
        let taken: Result<Vec<()>, DiskError> = kept.par_iter().map(|path| self.take(path, &new)).collect();
        taken?;
        let mut record = String::with_capacity(written.len() * 110);
        record.push_str(RECORD_HEAD);
        record.push('\n');
        for (path, key) in &written {
            record.push_str(&key.hex());
            record.push_str("  ");
            record.push_str(path);
            record.push('\n');
        }
        let path = new.join(RECORD);
        fs::write(&path, record).map_err(failed(&path, "write"))?;
        open_folders(&new)?;
        // Somebody may have put a file there while the site was built.
        check_target(&self.target, &self.old)?;
        files.extend(kept.into_iter().filter_map(|path| self.old.get_key_value(&path).map(|(path, known)| (path.clone(), *known))));
        let over = self.swap(&new)?;
        Ok(Finished { changed, gone, files, over })
    }

    /// A file of the old site in the new one: the same file under a further name, or a copy of its age where that cannot be.
    fn take(&self, path: &str, new: &Path) -> Result<(), DiskError> {
        let (from, to) = (self.target.join(path), new.join(path));
        let (key, known) = &self.old[path];
        let gone =
            || DiskError::refused(&self.target, "take over files of", format!("{path} was changed in the meantime; publish once more"));
        if fs::hard_link(&from, &to).is_err() {
            let facts = fs::metadata(&from).map_err(|_| gone())?;
            fs::copy(&from, &to).map_err(failed(&to, "write"))?;
            if let (Ok(file), Ok(time)) = (File::options().write(true).open(&to), facts.modified()) {
                // What cannot be done here costs an upload, and nothing else.
                let _ = file.set_modified(time);
            }
            let bytes = fs::read(&to).map_err(failed(&to, "read"))?;
            return if Key::of_bytes(&bytes) == *key { Ok(()) } else { Err(gone()) };
        }
        // The folder may be another's by now: what was taken is what was known.
        let facts = fs::symlink_metadata(&to).map_err(failed(&to, "read"))?;
        if lying(&facts) != *known {
            return Err(gone());
        }
        open_to_all(&facts, &to).map_err(failed(&to, "open"))
    }

    fn swap(self, new: &Path) -> Result<Option<DiskError>, DiskError> {
        let Some(Folder { folder, _held }) = locked(&self.folder).take() else { return Ok(None) };
        if !self.target.exists() {
            fs::rename(new, &self.target).map_err(failed(&self.target, "put the site at"))?;
            let _ = folder.keep();
            return Ok(None);
        }
        if exchanged(new, &self.target) {
            // The old site now stands in the temporary folder and goes with it.
            clear_out(new);
            Ok(folder.close().map_err(failed(new, "remove the old site in")).err())
        } else {
            swap_in_two_moves(folder, new, &self.target)
        }
    }
}

/// For systems and file systems that cannot exchange two folders at once: the old site goes aside, the new one in. Between the
/// two moves there is no site; if the second fails, the old one comes back.
fn swap_in_two_moves(folder: tempfile::TempDir, new: &Path, target: &Path) -> Result<Option<DiskError>, DiskError> {
    let aside = left::aside(target);
    let _held = left::hold(target);
    fs::rename(target, &aside).map_err(failed(target, "move the old site from"))?;
    if let Err(error) = fs::rename(new, target) {
        let _ = fs::rename(&aside, target);
        return Err(failed(target, "put the site at")(error));
    }
    let _ = folder.keep();
    Ok(fs::remove_dir_all(&aside).map_err(failed(&aside, "remove the old site in")).err())
}

/// Removes the guides of an old site on all cores; what stays is told by whoever removes the rest.
fn clear_out(folder: &Path) {
    let guides: Vec<PathBuf> = fs::read_dir(folder.join("guides")).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    guides.par_iter().for_each(|path| drop(fs::remove_dir_all(path)));
}

/// Where a site stands: a link to one stands for the site itself.
fn real(target: &Path) -> Result<PathBuf, DiskError> {
    match target.canonicalize() {
        Ok(real) => Ok(real),
        Err(_) if fs::symlink_metadata(target).is_ok_and(|facts| facts.is_symlink()) => {
            let why = "it is a link that leads to nothing; make the folder it leads to, or remove it";
            Err(DiskError::refused(target, "publish to", why))
        }
        Err(_) => std::path::absolute(target).map_err(failed(target, "find")),
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

/// The files of a target that bayleaf wrote, with their hashes. Refuses one that is a file, or that holds files bayleaf did not write or that
/// were changed since.
fn check_target(target: &Path, known: &Files) -> Result<Files, DiskError> {
    let refuse = |why: String| DiskError::refused(target, "publish to", why);
    if !target.exists() {
        return Ok(Files::new());
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
    let mut listed: BTreeMap<&str, &str> = BTreeMap::new();
    let mut lines = record.lines();
    if lines.next() == Some(RECORD_HEAD) {
        listed.extend(lines.filter_map(|line| line.split_once("  ")).map(|(hash, path)| (path, hash)));
    }
    // Folders that files of ours stand in; an empty one is somebody's too.
    let folders: BTreeSet<&str> = listed.keys().flat_map(|path| path.match_indices('/').map(|(at, _)| &path[..at])).collect();
    let mut found: Vec<(String, Option<PathBuf>)> = Vec::new();
    for entry in WalkDir::new(target).follow_links(false).sort_by_file_name() {
        let entry = entry.map_err(|error| walked(error, target, "look through"))?;
        let relative = || entry.path().strip_prefix(target).unwrap_or(entry.path()).to_string_lossy().replace('\\', "/");
        if entry.file_type().is_dir() {
            let relative = relative();
            let full = || fs::read_dir(entry.path()).is_ok_and(|mut inside| inside.next().is_some());
            if entry.depth() > 0 && !folders.contains(relative.as_str()) && !full() {
                found.push((format!("the empty folder {relative}"), None));
            }
            continue;
        }
        found.push((relative(), entry.file_type().is_file().then(|| entry.path().to_owned())));
    }
    let looked_at = found.into_par_iter().map(|(relative, path)| {
        if relative == RECORD && !listed.is_empty() {
            return Ok(None);
        }
        let ours = path.as_ref().zip(listed.get(relative.as_str()).and_then(|hash| Key::from_hex(hash)));
        let same = ours.and_then(|(path, key)| {
            let signature = lying(&fs::symlink_metadata(path).ok()?);
            let trusted = known.get(&relative).is_some_and(|(of, as_known)| *of == key && *as_known == signature);
            let same = trusted || fs::read(path).is_ok_and(|bytes| Key::of_bytes(&bytes) == key);
            same.then_some((key, signature))
        });
        match same {
            Some(file) => Ok(Some((relative, file))),
            None => Err(relative),
        }
    });
    let mut files = Files::with_capacity(listed.len());
    let mut strange = Vec::new();
    for looked_at in looked_at.collect::<Vec<_>>() {
        match looked_at {
            Ok(file) => files.extend(file),
            Err(path) => strange.push(path),
        }
    }
    match strange.as_slice() {
        [] => Ok(files),
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
fn open_to_all(facts: &fs::Metadata, path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let mode = if facts.is_dir() { 0o755 } else { 0o644 };
    if facts.permissions().mode() & 0o777 != mode {
        fs::set_permissions(path, fs::Permissions::from_mode(mode))?;
    }
    Ok(())
}

#[cfg(not(unix))]
fn open_to_all(_facts: &fs::Metadata, _path: &Path) -> io::Result<()> {
    Ok(())
}

/// The same for all folders and for the record.
fn open_folders(folder: &Path) -> Result<(), DiskError> {
    for entry in WalkDir::new(folder).follow_links(false) {
        let entry = entry.map_err(|error| walked(error, folder, "look through"))?;
        if entry.file_type().is_dir() || entry.depth() == 1 {
            let facts = entry.metadata().map_err(|error| walked(error, folder, "look through"))?;
            open_to_all(&facts, entry.path()).map_err(failed(entry.path(), "open"))?;
        }
    }
    Ok(())
}

/// Where the cache of a site stands: beside it, so that it is not published.
fn cache_of(target: &Path) -> Option<PathBuf> {
    let target = real(target).ok()?;
    let mut name = std::ffi::OsString::from(CACHE);
    name.push(target.file_name()?);
    Some(target.with_file_name(name))
}

/// The cache of a site; none where there is none that can be read.
pub fn read_cache(target: &Path) -> Option<Vec<u8>> {
    let path = cache_of(target)?;
    if !fs::symlink_metadata(&path).ok()?.is_file() {
        return None;
    }
    fs::read(path).ok()
}

/// Writes the cache of a site, whole or not at all. `bytes` are made when the time is known that the disk has: what changed on it at that
/// time or shortly before could still change without being noticed.
pub fn write_cache(target: &Path, bytes: impl FnOnce(i128) -> Vec<u8>) -> Result<(), DiskError> {
    let Some(path) = cache_of(target) else { return Ok(()) };
    let folder = path.parent().unwrap_or(Path::new("."));
    left::clear(folder, left::WRITING);
    let mut file = tempfile::Builder::new().prefix(left::WRITING).tempfile_in(folder).map_err(failed(&path, "write"))?;
    let _ = file.as_file().try_lock();
    let now = file.as_file().metadata().map_or(0, |facts| signature(&facts).written);
    io::Write::write_all(&mut file, &bytes(now)).map_err(failed(&path, "write"))?;
    file.persist(&path).map_err(|error| failed(&path, "write")(error.error))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn publish(target: &Path, files: &[(&str, &str)]) -> Result<(), DiskError> {
        let building = Building::start(target, &Files::new())?;
        let written = files.iter().map(|(path, text)| building.write(path, text.as_bytes())).collect::<Result<Vec<_>, _>>()?;
        assert!(building.finish(written)?.over.is_none());
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
    fn what_does_not_change_keeps_its_place_on_the_disk() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a"), ("guides/b/index.html", "b")]).unwrap();
        let lies = |path: &str| lying(&fs::metadata(target.join(path)).unwrap());
        let (index, a) = (lies("index.html"), lies("guides/a/index.html"));
        let building = Building::start(&target, &Files::new()).unwrap();
        let written = vec![building.write("index.html", b"2").unwrap(), building.write("guides/a/index.html", b"a").unwrap()];
        let finished = building.finish(written).unwrap();
        assert_eq!((finished.changed, finished.gone, finished.files.len()), (1, 1, 2));
        assert_eq!(lies("guides/a/index.html"), a);
        assert_ne!(lies("index.html"), index);
        assert_eq!(finished.files["index.html"], (Key::of_bytes(b"2"), lies("index.html")));
        // Nothing changed: nothing is touched, the folder is the same one.
        let folder = lying(&fs::metadata(&target).unwrap());
        let building = Building::start(&target, &finished.files).unwrap();
        assert!(!building.keep(&[("guides/a/index.html".to_owned(), Key::of_bytes(b"b"))]));
        assert!(building.keep(&[("guides/a/index.html".to_owned(), Key::of_bytes(b"a"))]));
        let written = vec![building.write("index.html", b"2").unwrap(), ("guides/a/index.html".to_owned(), Key::of_bytes(b"a"))];
        let finished = building.finish(written).unwrap();
        assert_eq!((finished.changed, finished.gone), (0, 0));
        assert_eq!(lying(&fs::metadata(&target).unwrap()), folder);
        assert_eq!(files(home.path()), ["site/.bayleaf-site", "site/guides/a/index.html", "site/index.html"]);
    }

    #[test]
    fn a_file_that_only_looks_as_it_did_is_read_where_it_lies_otherwise() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1")]).unwrap();
        let known = Building::start(&target, &Files::new()).unwrap().old;
        fs::write(target.join("index.html"), "x").unwrap();
        let error = Building::start(&target, &known).unwrap_err();
        assert!(error.to_string().contains("index.html"), "{error}");
        // What another shop's cache says of the same path is no proof.
        let wrong = Files::from([("index.html".to_owned(), (Key::of_bytes(b"2"), known["index.html"].1))]);
        fs::write(target.join("index.html"), "1").unwrap();
        assert_eq!(Building::start(&target, &wrong).unwrap().old["index.html"].0, Key::of_bytes(b"1"));
    }

    #[test]
    fn a_site_that_another_publish_took_away_is_not_mixed_with_its_own() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("a.html", "1"), ("b.html", "1")]).unwrap();
        let slow = Building::start(&target, &Files::new()).unwrap();
        publish(&target, &[("a.html", "2"), ("b.html", "1")]).unwrap();
        let written = vec![slow.write("a.html", b"1").unwrap(), slow.write("b.html", b"3").unwrap()];
        let error = slow.finish(written).unwrap_err();
        assert!(error.to_string().contains("publish once more"), "{error}");
        assert_eq!(fs::read_to_string(target.join("a.html")).unwrap(), "2");
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1);
    }

    #[test]
    fn without_an_exchange_the_old_site_goes_aside_and_comes_back_if_need_be() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        let building = Building::start(&target, &Files::new()).unwrap();
        building.write("index.html", b"2").unwrap();
        let new = building.folder().unwrap();
        let folder = locked(&building.folder).take().unwrap().folder;
        swap_in_two_moves(folder, &new, &target).unwrap();
        assert_eq!(files(home.path()), ["site/index.html"]);
        assert_eq!(fs::read_to_string(target.join("index.html")).unwrap(), "2");

        let building = Building::start(&home.path().join("other"), &Files::new()).unwrap();
        fs::create_dir(home.path().join("other")).unwrap();
        fs::write(home.path().join("other/index.html"), "old").unwrap();
        let gone = building.folder().unwrap().join("gone");
        let folder = locked(&building.folder).take().unwrap().folder;
        swap_in_two_moves(folder, &gone, &home.path().join("other")).unwrap_err();
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
        let killed = Building::start(&target, &Files::new()).unwrap();
        killed.write("index.html", b"half").unwrap();
        let Folder { folder, _held } = locked(&killed.folder).take().unwrap();
        let folder = folder.keep();
        drop(_held);
        // One that is still at work stays.
        let working = Building::start(&home.path().join("other"), &Files::new()).unwrap();
        assert!(!folder.exists());
        working.write("index.html", b"1").unwrap();
        let at_work = working.folder().unwrap();
        publish(&target, &[("index.html", "1"), ("guides/a/index.html", "a")]).unwrap();
        assert!(at_work.exists());
        working.write("index.html", b"2").unwrap();
        drop(working);
        assert_eq!(files(home.path()), ["site/.bayleaf-site", "site/guides/a/index.html", "site/index.html"]);
        for (path, mode) in [("", 0o755), ("guides/a", 0o755), ("guides/a/index.html", 0o644), (RECORD, 0o644)] {
            assert_eq!(fs::metadata(target.join(path)).unwrap().permissions().mode() & 0o777, mode, "{path}");
        }
        std::os::unix::fs::symlink("nowhere", home.path().join("link")).unwrap();
        let error = Building::start(&home.path().join("link"), &Files::new()).unwrap_err();
        assert!(error.to_string().contains("leads to nothing"), "{error}");
    }
}
