//! What stands for a content or for everything that something was made from: its SHA-256. Two that are alike are taken for the same.

use std::hash::{Hash, Hasher};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// The SHA-256 of some content, or of the parts that something is made from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize, Serialize)]
pub struct Key([u8; 32]);

impl Key {
    /// The key of a content: its SHA-256, as it stands in the record of a site.
    pub fn of_bytes(bytes: &[u8]) -> Self {
        Key(Sha256::digest(bytes).into())
    }

    /// The key of what something is made from. It holds for one build of the program on one sort of machine.
    pub fn of(value: &impl Hash) -> Self {
        let mut state = State(Sha256::new());
        value.hash(&mut state);
        Key(state.0.finalize().into())
    }

    /// In hexadecimal digits.
    pub fn hex(&self) -> String {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let mut hex = String::with_capacity(64);
        for byte in self.0 {
            hex.push(char::from(DIGITS[usize::from(byte >> 4)]));
            hex.push(char::from(DIGITS[usize::from(byte & 15)]));
        }
        hex
    }

    /// Read from hexadecimal digits.
    pub fn from_hex(hex: &str) -> Option<Self> {
        let digits = hex.as_bytes();
        if digits.len() != 64 {
            return None;
        }
        let digit = |c: u8| char::from(c).to_digit(16).map(|digit| digit as u8);
        let mut key = [0; 32];
        for (byte, pair) in key.iter_mut().zip(digits.chunks(2)) {
            *byte = digit(pair[0])? << 4 | digit(pair[1])?;
        }
        Some(Key(key))
    }
}

/// Takes the parts one after the other.
struct State(Sha256);

impl Hasher for State {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    fn finish(&self) -> u64 {
        // Nobody asks a key for less than all of it.
        0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_the_hash_of_the_content_and_comes_back_from_its_digits() {
        // FIPS 180-2, B.1: the message "abc".
        let key = Key::of_bytes(b"abc");
        assert_eq!(key.hex(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(Key::from_hex(&key.hex()), Some(key));
        for wrong in ["", "ba", &"g".repeat(64), &"ä".repeat(32)] {
            assert_eq!(Key::from_hex(wrong), None);
        }
    }

    #[test]
    fn parts_do_not_run_together() {
        assert_ne!(Key::of(&("ab", "c")), Key::of(&("a", "bc")));
        assert_ne!(Key::of(&vec!["a"]), Key::of(&vec!["a", ""]));
        assert_eq!(Key::of(&("a", Some(1))), Key::of(&("a", Some(1))));
    }
}
