//! What is remembered from one making of the site to the next: for each guide from what it was made, and what came of it by hash. It goes to
//! bytes and back; where they lie is left to the edge. The contents themselves lie in the site.

use std::collections::{BTreeMap, HashMap};

use serde::{Deserialize, Serialize};

use super::key::Key;
use crate::guide::claims::Claims;
use crate::guide::picture::PictureFact;

/// A file of the site: its path, and the hash of its content.
pub type Output = (String, Key);

/// How a file lies on the disk: by it a file is known to be the same without being read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
pub struct Signature {
    /// Its size in bytes.
    pub size: u64,
    /// When it was last written, in nanoseconds.
    pub written: i128,
    /// When anything of it last changed, its owner or its name too; 0 where the system does not say.
    pub changed: i128,
    /// Its number on the disk; 0 where the system has none.
    pub number: u64,
}

/// What is remembered of a shop.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize)]
pub struct Memo {
    /// Guides by their path as shown.
    pub guides: BTreeMap<String, Guide>,
    /// The lists that are made from all guides.
    pub lists: Option<Part>,
    /// The handbook.
    pub handbook: Option<Part>,
    /// The search index.
    pub index: Option<Part>,
    /// Published pictures by what they are made from: the name of each file beside the guide, and its content.
    pub pictures: BTreeMap<Key, Vec<Output>>,
    /// What is known of picture files by their path.
    pub seen: BTreeMap<String, Seen>,
    /// Files of the site as they lay on the disk when it was finished.
    pub files: HashMap<String, (Key, Signature)>,
}

/// What is known of a picture file that was read.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Seen {
    /// How it lay on the disk.
    pub signature: Signature,
    /// Its content.
    pub content: Key,
    /// What it is; none where it cannot be used.
    pub fact: Option<PictureFact>,
}

/// Something that was made, and from what.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Part {
    /// From what it was made.
    pub made_from: Key,
    /// Its files.
    pub files: Vec<Output>,
}

/// Sheets of a guide.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Sheets {
    /// From what they were made, and the files.
    pub part: Part,
    /// The links to them, in the form of their writer.
    pub links: Vec<u8>,
    /// What they do not show, or why one is not there.
    pub problems: Vec<String>,
}

/// What is remembered of a guide.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Guide {
    /// Its text.
    pub text: Key,
    /// What it claims over all guides.
    pub claims: Claims,
    /// Everything that its making read, beside the pictures and the other guides that it asked for.
    pub made_from: Key,
    /// The addresses of its pictures, and the state that each was in.
    pub pictures: Vec<(String, Key)>,
    /// The file beside it that it plays, and how that lies on the disk; nothing where there is none.
    pub video: Option<(String, Option<Signature>)>,
    /// Names of other guides that it asked for, and whether there was one.
    pub asked: Vec<(String, bool)>,
    /// Whether it is held, so that its findings are wanted again.
    pub held: bool,
    /// How many queries it has.
    pub queries: usize,
    /// All its files.
    pub files: Vec<Output>,
    /// Its pages and the files for other programs, where they follow from its document alone.
    pub pages: Option<Part>,
    /// Its sheets.
    pub sheets: Option<Sheets>,
    /// What lists show of it, in the form of their writer; none where it is not published.
    pub listed: Option<Vec<u8>>,
    /// What the search index knows of it.
    pub indexed: Vec<u8>,
    /// How many steps it has.
    pub steps: usize,
    /// What could not be shown.
    pub problems: Vec<String>,
    /// The issued revision that stands for a text that may not go out.
    pub kept_at: Option<String>,
    /// Whether it was withdrawn.
    pub withdrawn: bool,
}

/// What the bytes of a memo begin with.
const HEAD: &[u8] = b"bayleaf cache 1\n";

impl Memo {
    /// The memo as bytes that say which build of the program made them, with their hash at the end.
    pub fn to_bytes(&self, build: &str) -> Vec<u8> {
        let mut bytes = HEAD.to_vec();
        bytes.extend(Key::of_bytes(build.as_bytes()).hex().into_bytes());
        // Nothing in it can fail to be written: it holds no maps with keys that are no text, and no references.
        let mut bytes = postcard::to_extend(self, bytes).unwrap_or_default();
        bytes.extend(Key::of_bytes(&bytes).hex().into_bytes());
        bytes
    }

    /// The memo that these bytes hold; none where they are of another build of the program, cut off or damaged.
    pub fn from_bytes(bytes: &[u8], build: &str) -> Option<Memo> {
        let (body, sum) = bytes.split_at_checked(bytes.len().checked_sub(64)?)?;
        let rest = body.strip_prefix(HEAD)?.strip_prefix(Key::of_bytes(build.as_bytes()).hex().as_bytes())?;
        if Key::of_bytes(body).hex().as_bytes() != sum {
            return None;
        }
        postcard::from_bytes(rest).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some() -> Memo {
        let mut memo = Memo::default();
        let signature = Signature { size: 3, written: -5, changed: 1 << 90, number: 7 };
        memo.files.insert("index.html".to_owned(), (Key::of_bytes(b"a"), signature));
        memo.lists = Some(Part { made_from: Key::of(&1), files: vec![("tools.html".to_owned(), Key::of(&2))] });
        memo
    }

    #[test]
    fn what_was_remembered_comes_back() {
        assert_eq!(Memo::from_bytes(&some().to_bytes("one"), "one"), Some(some()));
    }

    #[test]
    fn nothing_that_is_damaged_cut_off_or_of_another_build_is_taken() {
        let bytes = some().to_bytes("one");
        assert!(Memo::from_bytes(&bytes, "two").is_none());
        for end in 0..bytes.len() {
            assert!(Memo::from_bytes(&bytes[..end], "one").is_none(), "cut off at {end}");
        }
        for at in 0..bytes.len() {
            let mut damaged = bytes.clone();
            damaged[at] ^= 1;
            assert!(Memo::from_bytes(&damaged, "one").is_none(), "damaged at {at}");
        }
        assert!(Memo::from_bytes(&[bytes.as_slice(), b"x"].concat(), "one").is_none());
    }
}
