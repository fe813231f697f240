//! `bayleaf review --mend`: makes the certain repairs in the guides' files. What they are is left to the review.

use rayon::prelude::*;

use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{Keep, Workplace};
use crate::disk::{self, DiskError};
use crate::review::carry::carry;
use crate::review::mend::{self, Look};

/// Mends the guides that `wanted` names. A file that cannot be mended is told; gives back whether all could be.
pub(super) fn run(workplace: &Workplace, wanted: &[usize]) -> bool {
    let results: Vec<Result<usize, DiskError>> = wanted.par_iter().map(|&at| one(workplace, at)).collect();
    let mut whole = true;
    let mut made = 0;
    for (at, result) in wanted.iter().zip(results) {
        let path = &workplace.guides[*at].shown;
        match result {
            Ok(0) => {}
            Ok(count) => {
                made += count;
                terminal::note(&format!("mended {path}: {}", counted(count, "repair", "repairs")));
            }
            Err(error) => {
                terminal::note(&format!("bayleaf: {error}"));
                whole = false;
            }
        }
    }
    if made == 0 && whole {
        terminal::note("nothing to mend: no finding has a certain repair");
    }
    whole
}

fn one(workplace: &Workplace, at: usize) -> Result<usize, DiskError> {
    /// The bytes of a byte-order mark, which stays where it is.
    const MARK: &[u8] = b"\xef\xbb\xbf";
    let path = &workplace.guides[at].file;
    let old = disk::read(path)?;
    let (mark, rest) = if old.starts_with(MARK) { old.split_at(MARK.len()) } else { (&[][..], &old[..]) };
    // Text that is not UTF-8 cannot be written back as it was; the review tells where it is broken.
    let Ok(text) = std::str::from_utf8(rest) else { return Ok(0) };
    let look = |text: &str| {
        workplace.read(at, text.as_bytes().to_vec(), Keep::Facts, |work, outcome| Look {
            findings: outcome.findings,
            values: mend::values(work.guide),
            operations: mend::operations(work.guide),
            carried: carry(work.guide, text),
        })
    };
    let mended = mend::mend(text, Workplace::file(at), look);
    if mended.count > 0 {
        let new = [mark, mended.text.as_bytes()].concat();
        disk::rewrite(path, &old, &new)?;
    }
    Ok(mended.count)
}
