//! Splits text into the words that search goes by: lower case, accents dropped, letters and digits only.
//! The theme's script splits what a reader types in the same way.

/// Calls `found` with each word of `text`.
pub fn fold(text: &str, mut found: impl FnMut(&str)) {
    let mut word = String::new();
    for c in text.chars() {
        if c.is_ascii() {
            // Nearly all text is ASCII, and the table below is not needed for it.
            if c.is_ascii_alphanumeric() {
                word.push(c.to_ascii_lowercase());
                continue;
            }
        } else if c.is_alphanumeric() {
            for lower in c.to_lowercase() {
                match plain(lower) {
                    Some(letters) => word.push_str(letters),
                    None => word.push(lower),
                }
            }
            continue;
        } else if ('\u{300}'..='\u{36f}').contains(&c) {
            continue;
        }
        if !word.is_empty() {
            found(&word);
            word.clear();
        }
    }
    if !word.is_empty() {
        found(&word);
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
        assert_eq!(words, ["m10", "1", "25", "ol", "30", "n", "m", "sb", "40", "mm2", "cafe"]);
    }
}
