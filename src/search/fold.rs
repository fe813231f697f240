//! Splits text into the words that search goes by: lower case, accents dropped, numbers whole, and what hyphens
//! hold together once in its pieces and once as one word. The theme's script splits what a reader types in the same way.

/// No word is kept longer than this many bytes; a longer one is no word that anybody types.
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
            folder.join(&mut found);
        } else if c.is_ascii() {
            folder.close(&mut found);
        } else if c.is_alphanumeric() {
            for lower in c.to_lowercase() {
                match plain(lower) {
                    Some(letters) => folder.word.push_str(letters),
                    None if ('\u{300}'..='\u{36f}').contains(&lower) => {}
                    None => folder.word.push(lower),
                }
            }
        } else if !('\u{300}'..='\u{36f}').contains(&c) && c != '\u{ad}' {
            folder.close(&mut found);
        }
    }
    folder.close(&mut found);
}

#[derive(Default)]
struct Folder {
    word: String,
    /// The pieces before the last hyphen, run together.
    joined: String,
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
        }
        self.apart |= self.word.contains(['.', '/']);
    }

    fn join(&mut self, found: &mut impl FnMut(&str)) {
        self.piece(found);
        self.joined.push_str(&self.word);
        self.word.clear();
    }

    fn close(&mut self, found: &mut impl FnMut(&str)) {
        self.piece(found);
        if !self.joined.is_empty() && !self.word.is_empty() && !self.apart {
            self.joined.push_str(&self.word);
            cut(&mut self.joined);
            found(&self.joined);
        }
        self.joined.clear();
        self.word.clear();
        self.apart = false;
    }
}

fn cut(word: &mut String) {
    if word.len() > LONGEST {
        let end = (0..=LONGEST).rev().find(|&at| word.is_char_boundary(at)).unwrap_or(0);
        word.truncate(end);
    }
}

/// The letters without their accents, as Unicode's compatibility decomposition leaves them.
fn plain(c: char) -> Option<&'static str> {
    Some(match c {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' | 'ă' | 'ą' => "a",
        'ç' | 'ć' | 'č' | 'ĉ' | 'ċ' => "c",
        'ď' => "d",
        'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ę' | 'ě' | 'ė' => "e",
        'ğ' | 'ģ' => "g",
        'ì' | 'í' | 'î' | 'ï' | 'ī' | 'į' => "i",
        'ķ' => "k",
        'ľ' | 'ļ' | 'ĺ' => "l",
        'ñ' | 'ń' | 'ň' | 'ņ' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ō' | 'ő' => "o",
        'ř' | 'ŕ' => "r",
        'ś' | 'š' | 'ş' | 'ș' => "s",
        'ť' | 'ţ' | 'ț' => "t",
        'ù' | 'ú' | 'û' | 'ü' | 'ū' | 'ů' | 'ű' | 'ų' => "u",
        'ý' | 'ÿ' => "y",
        'ź' | 'ž' | 'ż' => "z",
        '²' => "2",
        '³' => "3",
        _ => return None,
    })
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
        ] {
            let mut words = Vec::new();
            fold(text, |word| words.push(word.to_owned()));
            assert_eq!(words.join(" "), expected, "{text}");
        }
    }

    #[test]
    fn a_word_without_end_is_cut() {
        let mut words = Vec::new();
        fold(&"ä".repeat(10_000), |word| words.push(word.len()));
        fold(&"øl-".repeat(10_000), |word| words.push(word.len()));
        assert!(words.iter().all(|length| *length <= LONGEST));
    }
}
