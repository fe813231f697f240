//! The mark by which two states of a guide are told apart, the same on page, sheet, file and record.

use sha2::{Digest, Sha256};

use super::Document;
use super::facts::{self, Hashes};

/// The fingerprint of a document: it changes with what a reader sees of the guide, its pictures among it, and with nothing else. The
/// state of the shop's tools, their numbers and calibrations, is printed with the guide and is none of it.
pub fn of(document: &Document, hashes: &Hashes) -> String {
    let mut text = String::with_capacity(64 << 10);
    facts::of(document, hashes).write(true, &mut text);
    fingerprint([text.as_bytes()])
}

/// Eight hexadecimal characters that change with any of the parts.
pub fn fingerprint<'b>(parts: impl IntoIterator<Item = &'b [u8]>) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        // The length goes in as well, so that two parts cannot be cut apart differently with the same result.
        hash.update((part.len() as u64).to_le_bytes());
        hash.update(part);
    }
    let digits: String = hash.finalize().iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("{} {}", &digits[..4], &digits[4..])
}
