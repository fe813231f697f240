//! The session over a shop: what was made from what, so that only what changed is made anew. It knows no files: whoever reads and writes them
//! gives contents by their hash, and takes what comes of them.

pub mod key;
pub mod memo;

pub use key::Key;
pub use memo::{Guide, Memo, Output, Part, Seen, Sheets, Signature};

/// What this program was built from: what an older or another one remembered is not taken over.
pub const BUILD: &str = concat!(env!("CARGO_PKG_VERSION"), " ", env!("BAYLEAF_BUILD"));

/// Where the finished files of a site go, and where those of its last state are.
pub trait Store: Sync {
    /// Why a file could not be put.
    type Error;

    /// Puts a file; gives back its hash.
    fn put(&self, path: &str, bytes: &[u8]) -> Result<Key, Self::Error>;

    /// Whether the last state has a file with this content.
    fn has(&self, path: &str, content: &Key) -> bool;

    /// Takes files of the last state over, all of them or none: whether they are there.
    fn keep(&self, files: &[Output]) -> bool;

    /// A content of the last state, wherever it stands there.
    fn fetch(&self, content: &Key) -> Option<Vec<u8>>;
}

/// Files on their way to the store, each noted down.
pub struct Out<'o, E> {
    store: &'o dyn Store<Error = E>,
    /// What was put or taken over so far.
    pub files: Vec<Output>,
}

impl<'o, E> Out<'o, E> {
    /// A way to a store.
    pub fn new(store: &'o dyn Store<Error = E>) -> Self {
        Out { store, files: Vec::new() }
    }

    /// Puts a file.
    pub fn put(&mut self, path: &str, bytes: &[u8]) -> Result<(), E> {
        let key = self.store.put(path, bytes)?;
        self.files.push((path.to_owned(), key));
        Ok(())
    }

    /// Takes files of the last state over, all of them or none: whether they are there.
    pub fn keep(&mut self, files: &[Output]) -> bool {
        let kept = self.store.keep(files);
        if kept {
            self.files.extend_from_slice(files);
        }
        kept
    }

    /// Where it leads.
    pub fn store(&self) -> &'o dyn Store<Error = E> {
        self.store
    }
}
