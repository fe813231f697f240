//! Numbers as characters that stand in a script as they are: most take one, and what is alike stays alike, so that the
//! server's compression works on them. The theme's script reads them in the same way.

/// Characters that stand for themselves in a quoted text of a script, less the space that parts what is coded.
const SYMBOLS: &[u8; 92] = b"!#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~";
/// Numbers below this take one character; the characters from here on say that more follows.
const LAST: u32 = 64;
const MORE: u32 = SYMBOLS.len() as u32 - LAST;
/// Weights of a posting.
const WEIGHTS: u32 = super::terms::Weight::COUNT as u32;

/// Writes a number.
pub(super) fn push_symbol(text: &mut String, mut number: u32) {
    while number >= LAST {
        number -= LAST;
        text.push(char::from(SYMBOLS[(LAST + number % MORE) as usize]));
        number /= MORE;
    }
    text.push(char::from(SYMBOLS[number as usize]));
}

/// Reads a number; `None` at the end or where it is none.
fn take_symbol(text: &mut std::str::Bytes<'_>) -> Option<u32> {
    let (mut number, mut times) = (0u32, 1u32);
    loop {
        let byte = text.next()?;
        let symbol = SYMBOLS.iter().position(|known| *known == byte)? as u32;
        if symbol < LAST {
            return number.checked_add(times.checked_mul(symbol)?);
        }
        number = number.checked_add(times.checked_mul(symbol)?)?;
        times = times.checked_mul(MORE)?;
    }
}

/// The places of a term: in order, each as its distance from the one before and its weight.
#[derive(Debug, Default)]
pub(super) struct Docs {
    text: String,
    next: u32,
}

impl Docs {
    /// Adds a place beyond all before it.
    pub(super) fn push(&mut self, doc: u32, weight: u8) {
        push_symbol(&mut self.text, (doc - self.next) * WEIGHTS + u32::from(weight) - 1);
        self.next = doc + 1;
    }

    /// The code.
    pub(super) fn text(self) -> String {
        self.text
    }

    /// Calls `found` with each place of a code and its weight.
    pub(super) fn each(code: &str, mut found: impl FnMut(u32, u8)) {
        let mut bytes = code.bytes();
        let mut next = 0;
        while let Some(number) = take_symbol(&mut bytes) {
            next += number / WEIGHTS;
            found(next, (number % WEIGHTS) as u8 + 1);
            next += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_comes_back() {
        for number in (0..5_000).chain([65_535 * 3, 3_000_000, 100_000_000]) {
            let mut text = String::new();
            push_symbol(&mut text, number);
            assert_eq!(take_symbol(&mut text.bytes()), Some(number), "{text}");
            assert!(number >= LAST || text.len() == 1);
        }
    }

    #[test]
    fn a_code_needs_no_quoting_and_holds_no_space() {
        let mut sorted = SYMBOLS.to_vec();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), SYMBOLS.len());
        assert!(!SYMBOLS.iter().any(|byte| matches!(byte, b' ' | b'"' | b'\\')));
    }
}
