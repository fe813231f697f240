//! What a run that was killed left behind: folders in which a site was being built, the old site that stood aside, files that were being
//! written. A run holds a lock on what it works in for as long as it lives, so what nobody holds is nobody's.

use std::ffi::OsString;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

/// How the names of folders begin in which a site is built.
pub(super) const BUILDING: &str = ".bayleaf-building-";
/// How the names of files begin that are being written.
pub(super) const WRITING: &str = ".bayleaf-writing-";
/// How the name of an old site begins while it stands aside; the name of the site follows.
const ASIDE: &str = ".bayleaf-old-";

/// Holds a folder or a file as long as it lives, also beyond a change of its name; none if somebody else does, or if the system has no
/// locks on folders.
pub(super) fn hold(path: &Path) -> Option<File> {
    File::open(path).ok().filter(|file| file.try_lock().is_ok())
}

/// Where the old site of a target stands aside.
pub(super) fn aside(target: &Path) -> PathBuf {
    let mut name = OsString::from(ASIDE);
    name.push(target.file_name().unwrap_or_default());
    target.with_file_name(name)
}

/// Brings an old site back whose publish was killed before the new one stood in its place, and removes what nobody holds. What cannot be
/// removed stays, and is no reason not to publish.
pub(super) fn mend(target: &Path) {
    let aside = aside(target);
    if let Some(held) = hold(&aside) {
        if target.exists() {
            let _ = fs::remove_dir_all(&aside);
        } else {
            let _ = fs::rename(&aside, target);
        }
        drop(held);
    }
    if let Some(parent) = target.parent() {
        clear(parent, BUILDING);
    }
}

/// Removes from a folder what has a name of ours and nobody holds.
pub(super) fn clear(folder: &Path, start: &str) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        // A link of that name is none of ours: its place in the folder is looked at, and not where it leads.
        let Ok(kind) = entry.file_type() else { continue };
        if !entry.file_name().to_string_lossy().starts_with(start) || kind.is_symlink() {
            continue;
        }
        let Some(_held) = hold(&path) else { continue };
        let _ = if kind.is_dir() { fs::remove_dir_all(&path) } else { fs::remove_file(&path) };
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn what_nobody_holds_goes_and_what_somebody_holds_or_owns_stays() {
        let home = tempfile::tempdir().unwrap();
        let names = [".bayleaf-building-a", ".bayleaf-building-b", "other", ".bayleaf-builder"];
        for name in names {
            fs::create_dir(home.path().join(name)).unwrap();
            fs::write(home.path().join(name).join("x"), "x").unwrap();
        }
        std::os::unix::fs::symlink("other", home.path().join(".bayleaf-building-link")).unwrap();
        let held = hold(&home.path().join(names[1])).unwrap();
        clear(home.path(), BUILDING);
        let there = |name: &str| home.path().join(name).join("x").exists();
        assert_eq!(names.map(there), [false, true, true, true]);
        assert!(fs::symlink_metadata(home.path().join(".bayleaf-building-link")).is_ok());
        drop(held);
        // A process that another test starts at this moment shares the lock until it runs its own program.
        for _ in 0..200 {
            clear(home.path(), BUILDING);
            if !there(names[1]) {
                return;
            }
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        panic!("what nobody holds any more stays");
    }

    #[cfg(unix)]
    #[test]
    fn an_old_site_comes_back_when_nothing_took_its_place() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("site");
        fs::create_dir(aside(&target)).unwrap();
        fs::write(aside(&target).join("index.html"), "old").unwrap();
        mend(&target);
        assert_eq!(fs::read_to_string(target.join("index.html")).unwrap(), "old");
        fs::create_dir(aside(&target)).unwrap();
        mend(&target);
        assert!(!aside(&target).exists() && target.exists());
    }
}
