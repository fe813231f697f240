//! Splits text into the words that search goes by: letters as Unicode's compatibility decomposition (NFKD, UAX #15) leaves them, in
//! lower case and without accents, numbers whole, and what hyphens hold together once in its pieces and once as one word. The theme's
//! script splits what a reader types in the same way, with the browser's `normalize`.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// No word is kept longer than this many letters; a longer one is no word that anybody types.
pub(super) const LONGEST: usize = 40;

/// Calls `found` with each word of `text`: "SB-40, 1.25" gives `sb`, `40`, `sb40` and `1.25`.
pub fn fold(text: &str, mut found: impl FnMut(&str)) {
    let mut folder = Folder::default();
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        if c.is_ascii_alphanumeric() {
            // "M8x1.25" is a size and a pitch, as "M8 × 1.25" is.
            let between = c.eq_ignore_ascii_case(&'x') && folder.after_digit() && chars.peek().is_some_and(char::is_ascii_digit);
            if between {
                folder.close(&mut found);
            } else {
                folder.word.push(c.to_ascii_lowercase());
            }
        } else if matches!(c, '.' | ',' | '/') && folder.after_digit() && chars.peek().is_some_and(char::is_ascii_digit) {
            match c {
                '/' => folder.word.push('/'),
                // A second point makes no number: "1.2.3" is 1.2 and 3.
                _ if folder.word.contains('.') => folder.close(&mut found),
                _ => folder.word.push('.'),
            }
        } else if matches!(c, '-' | '\u{2010}' | '\u{2011}') && !folder.word.is_empty() && chars.peek().is_some_and(|c| c.is_alphanumeric())
        {
            folder.piece(&mut found);
        } else if c.is_ascii() {
            folder.close(&mut found);
        } else if c.is_alphanumeric() || is_combining_mark(c) {
            let decomposed = std::iter::once(c).nfkd();
            // "1½" is 1 and 1/2.
            if decomposed.clone().any(|part| part == FRACTION_SLASH) && folder.after_digit() {
                folder.close(&mut found);
            }
            for part in decomposed.flat_map(char::to_lowercase) {
                match part {
                    FRACTION_SLASH => folder.word.push('/'),
                    ACCENTS_FIRST..=ACCENTS_LAST => {}
                    part if part.is_alphanumeric() || is_combining_mark(part) => folder.word.push(part),
                    _ => {}
                }
            }
        } else if c != SOFT_HYPHEN {
            folder.close(&mut found);
        }
    }
    folder.close(&mut found);
}

const FRACTION_SLASH: char = '\u{2044}';
const SOFT_HYPHEN: char = '\u{ad}';
/// Accents of Latin, Greek and Cyrillic letters, which are dropped; marks of other scripts stay with their letters.
const ACCENTS_FIRST: char = '\u{300}';
const ACCENTS_LAST: char = '\u{36f}';

#[derive(Default)]
struct Folder {
    word: String,
    /// The pieces so far, run together.
    joined: String,
    /// How many there are.
    pieces: usize,
    /// Whether the pieces make no word together: "1/4-20".
    apart: bool,
}

impl Folder {
    fn after_digit(&self) -> bool {
        self.word.ends_with(|c: char| c.is_ascii_digit())
    }

    fn piece(&mut self, found: &mut impl FnMut(&str)) {
        cut(&mut self.word);
        if !self.word.is_empty() {
            found(&self.word);
            self.apart |= self.word.contains(['.', '/']);
            self.joined.push_str(&self.word);
            self.pieces += 1;
        }
        self.word.clear();
    }

    fn close(&mut self, found: &mut impl FnMut(&str)) {
        self.piece(found);
        if self.pieces > 1 && !self.apart {
            cut(&mut self.joined);
            found(&self.joined);
        }
        self.joined.clear();
        self.pieces = 0;
        self.apart = false;
    }
}

fn cut(word: &mut String) {
    if let Some((end, _)) = word.char_indices().nth(LONGEST) {
        word.truncate(end);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_lose_case_accents_and_marks() {
        let mut words = Vec::new();
        fold("M10×1.25, Öl 30 N·m (SB-40) mm² cafe\u{301}", |word| words.push(word.to_owned()));
        assert_eq!(words, ["m10", "1.25", "ol", "30", "n", "m", "sb", "40", "sb40", "mm2", "cafe"]);
    }

    #[test]
    fn numbers_stay_whole_and_hyphens_part_and_join() {
        for (text, expected) in [
            ("M8x1.25 and M8 × 1.25", "m8 1.25 and m8 1.25"),
            ("1/4-20 UNC; 3,5 kg, 1.2.3", "1/4 20 unc 3.5 kg 1.2 3"),
            ("SB-40-012", "sb 40 012 sb40012"),
            ("hold-down bar - 13-pin", "hold down holddown bar 13 pin 13pin"),
            ("and/or -5 x- Tülle", "and or 5 x tulle"),
            ("1½ in, ﬁlter Ｍ8 Ω Й", "1 1/2 in filter m8 ω и"),
        ] {
            let mut words = Vec::new();
            fold(text, |word| words.push(word.to_owned()));
            assert_eq!(words.join(" "), expected, "{text}");
        }
    }

    #[test]
    fn a_word_without_end_is_cut() {
        let mut words = Vec::new();
        fold(&"ä".repeat(10_000), |word| words.push(word.chars().count()));
        fold(&"øl-".repeat(10_000), |word| words.push(word.chars().count()));
        assert!(words.iter().all(|length| *length <= LONGEST));
    }
}
