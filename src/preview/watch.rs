//! Watches folders and says which files changed, once they have come to rest.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

use notify_debouncer_full::notify::{EventKind, RecursiveMode};
use notify_debouncer_full::{DebounceEventResult, new_debouncer};

/// An editor writes a file in several goes; this long nothing more may come.
const REST: Duration = Duration::from_millis(50);

/// A watch; it ends when this goes.
pub struct Watch(mpsc::Sender<Told>);

impl Drop for Watch {
    fn drop(&mut self) {
        // The thread may be gone already.
        let _ = self.0.send(Told::End);
    }
}

/// What the watching thread is told.
enum Told {
    Changed(BTreeSet<PathBuf>),
    End,
}

/// Folders cannot be watched: which, and why.
#[derive(Debug)]
pub struct WatchError {
    folder: Option<PathBuf>,
    cause: notify_debouncer_full::notify::Error,
}

impl std::fmt::Display for WatchError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.folder {
            Some(folder) => write!(f, "cannot watch {}: {}", folder.display(), self.cause),
            None => write!(f, "cannot watch the guides: {}", self.cause),
        }
    }
}

impl std::error::Error for WatchError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.cause)
    }
}

/// Watches `deep` folders with all below them and `flat` ones by themselves, and calls `changed` with the paths. Folders are watched,
/// not files, because editors put a new file in the place of the old one. A `deep` folder that stands in a `flat` one may come later, or
/// be moved away and back: a watch is on the folder that stood there, so it is set anew.
pub fn watch(deep: &[PathBuf], flat: &[PathBuf], mut changed: impl FnMut(BTreeSet<PathBuf>) + Send + 'static) -> Result<Watch, WatchError> {
    let (sender, receiver) = mpsc::channel();
    let news = sender.clone();
    let told = move |result: DebounceEventResult| {
        let Ok(events) = result else { return };
        // Reading is no change; the server's own reads would set it off for ever.
        let events = events.into_iter().filter(|event| !matches!(event.kind, EventKind::Access(_)));
        let paths: BTreeSet<PathBuf> = events.flat_map(|event| event.event.paths).collect();
        if !paths.is_empty() {
            let _ = news.send(Told::Changed(paths));
        }
    };
    let mut debouncer = new_debouncer(REST, None, told).map_err(|cause| WatchError { folder: None, cause })?;
    let mut add =
        |folder: &Path, mode| debouncer.watch(folder, mode).map_err(|cause| WatchError { folder: Some(folder.to_owned()), cause });
    for folder in deep.iter().filter(|folder| folder.is_dir()) {
        add(folder, RecursiveMode::Recursive)?;
    }
    for folder in flat {
        add(folder, RecursiveMode::NonRecursive)?;
    }
    let deep = deep.to_vec();
    std::thread::spawn(move || {
        while let Ok(Told::Changed(paths)) = receiver.recv() {
            for folder in deep.iter().filter(|folder| paths.contains(*folder)) {
                let _ = debouncer.unwatch(folder);
                if folder.is_dir() {
                    let _ = debouncer.watch(folder, RecursiveMode::Recursive);
                }
            }
            changed(paths);
        }
    });
    Ok(Watch(sender))
}
