//! Numbers as they are spoken and written: `twenty-five`, `a hundred and ten`, `two and a half`, `five sixteenths`, `one point five`.

/// A number.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// As figures: `25`, `2.5`, `5/16`, `1 3/8`.
    pub text: String,
    /// Its value, for comparing.
    pub value: f64,
    /// Whether it is two numbers said behind each other, as in `one twenty`: a hundred and twenty, or one of twenty.
    pub joined: bool,
}

const UNITS: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
/// The word of a small number; none from twenty on.
pub fn word(number: u32) -> Option<&'static str> {
    UNITS.get(number as usize).copied()
}

const TENS: [&str; 8] = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
const DENOMINATORS: &[(&str, &str, u32)] = &[
    ("half", "halves", 2),
    ("third", "thirds", 3),
    ("quarter", "quarters", 4),
    ("eighth", "eighths", 8),
    ("tenth", "tenths", 10),
    ("sixteenth", "sixteenths", 16),
    ("thirtysecond", "thirtyseconds", 32),
    ("sixtyfourth", "sixtyfourths", 64),
];

fn unit(word: &str) -> Option<u32> {
    match word {
        "nought" | "naught" | "oh" | "nil" => Some(0),
        _ => UNITS.iter().position(|known| *known == word).and_then(|at| u32::try_from(at).ok()),
    }
}

fn tens(word: &str) -> Option<u32> {
    let word = if word == "fourty" { "forty" } else { word };
    TENS.iter().position(|known| *known == word).and_then(|at| u32::try_from(at * 10 + 20).ok())
}

fn denominator(word: &str) -> Option<u32> {
    DENOMINATORS.iter().find(|(one, many, _)| word == *one || word == *many).map(|(_, _, of)| *of)
}

/// Whether a word can be part of a spoken number.
pub fn is_number_word(word: &str) -> bool {
    (unit(word).is_some() && word != "oh") || tens(word).is_some() || denominator(word).is_some() || matches!(word, "hundred" | "thousand")
}

/// The whole number that a word or a hyphenated word says, up to ninety-nine.
pub fn whole(word: &str) -> Option<u32> {
    if word == "oh" {
        return None;
    }
    unit(word).or_else(|| tens(word)).or_else(|| {
        let (ten, one) = word.split_once('-')?;
        let (ten, one) = (tens(ten)?, unit(one)?);
        (1..10).contains(&one).then_some(ten + one)
    })
}

fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn of(text: String, value: f64) -> Number {
    Number { text, value, joined: false }
}

/// Digits as written: `25`, `1.5`, `1,500`, `5/16`, `½`.
pub fn digits(word: &str) -> Option<Number> {
    const SIGNS: &[(char, &str, f64)] = &[
        ('½', "1/2", 0.5),
        ('¼', "1/4", 0.25),
        ('¾', "3/4", 0.75),
        ('⅛', "1/8", 0.125),
        ('⅜', "3/8", 0.375),
        ('⅝', "5/8", 0.625),
        ('⅞', "7/8", 0.875),
    ];
    if let Some((sign, text, value)) = word.chars().next_back().and_then(|last| SIGNS.iter().find(|(sign, ..)| *sign == last)) {
        let before = &word[..word.len() - sign.len_utf8()];
        if before.is_empty() {
            return Some(of((*text).to_owned(), *value));
        }
        let whole: u32 = before.parse().ok()?;
        return Some(of(format!("{whole} {text}"), f64::from(whole) + value));
    }
    if let Some((above, below)) = word.split_once('/') {
        let (above, below): (u32, u32) = (above.parse().ok()?, below.parse().ok()?);
        return (below > 0 && above > 0 && above < 200).then(|| of(format!("{above}/{below}"), f64::from(above) / f64::from(below)));
    }
    if !word.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit()) || word.len() > 12 {
        return None;
    }
    let text = match word.split_once(',') {
        Some((before, after)) if after.len() == 3 && !after.contains('.') && before.len() <= 3 => format!("{before}{after}"),
        Some((before, after)) => format!("{before}.{after}"),
        None => word.to_owned(),
    };
    let value: f64 = text.parse().ok()?;
    Some(of(text, value))
}

/// A number at the start of the words, and how many of them it takes.
pub fn read(words: &[&str]) -> Option<(Number, usize)> {
    let at = |nth: usize| words.get(nth).copied().unwrap_or_default();
    if at(0) == "minus" {
        let (number, taken) = read(&words[1..])?;
        return Some((of(format!("-{}", number.text), -number.value), taken + 1));
    }
    // `a half`, `half an`, `three quarters of an`
    if let Some((above, taken)) = fraction(words) {
        let (value, text) = (f64::from(above.0) / f64::from(above.1), format!("{}/{}", above.0, above.1));
        return Some((of(text, value), taken));
    }
    if at(0) == "point" {
        let (decimals, taken) = decimals(&words[1..])?;
        let text = format!("0.{decimals}");
        let value = text.parse().ok()?;
        return Some((of(text, value), taken + 1));
    }
    let (mut number, mut taken) = match digits(at(0)) {
        Some(number) => {
            // `1 1/2`
            match digits(at(1)).filter(|next| next.text.contains('/') && !number.text.contains(['/', '.'])) {
                Some(next) if next.value < 1.0 => (of(format!("{} {}", number.text, next.text), number.value + next.value), 2),
                _ => (number, 1),
            }
        }
        None => cardinal(words)?,
    };
    if at(taken) == "point"
        && !number.text.contains(['.', '/'])
        && let Some((decimals, more)) = decimals(&words[taken + 1..])
    {
        number.text = format!("{}.{decimals}", number.text);
        number.value = number.text.parse().ok()?;
        taken += 1 + more;
    } else if at(taken) == "and"
        && !number.text.contains(['.', '/'])
        && let Some(((above, below), more)) = fraction(&words[taken + 1..])
        && above < below
    {
        let part = f64::from(above) / f64::from(below);
        number.value += part;
        number.text = if matches!(below, 2 | 4) { plain(number.value) } else { format!("{} {above}/{below}", number.text) };
        taken += 1 + more;
    }
    Some((number, taken))
}

/// A fraction in words: above and below, and how many words it takes with the `of an` behind it.
fn fraction(words: &[&str]) -> Option<((u32, u32), usize)> {
    let at = |nth: usize| words.get(nth).copied().unwrap_or_default();
    let (above, mut taken) = match at(0) {
        "a" | "an" => (1, 1),
        word if denominator(word).is_some() && !word.ends_with('s') => (1, 0),
        word => (unit(word).filter(|above| *above > 0)?, 1),
    };
    let below = match (at(taken), at(taken + 1)) {
        ("thirty", "second" | "seconds") => {
            taken += 1;
            32
        }
        ("sixty", "fourth" | "fourths") => {
            taken += 1;
            64
        }
        (word, _) => denominator(word)?,
    };
    taken += 1;
    if matches!(at(taken), "of") && matches!(at(taken + 1), "a" | "an") {
        taken += 2;
    } else if matches!(at(taken), "a" | "an") {
        taken += 1;
    }
    Some(((above, below), taken))
}

/// The digits said behind `point`.
fn decimals(words: &[&str]) -> Option<(String, usize)> {
    let (mut text, mut taken) = (String::new(), 0);
    for word in words {
        if let Some(one) = unit(word).filter(|one| *one < 10) {
            text.push_str(&one.to_string());
        } else if word.bytes().all(|b| b.is_ascii_digit()) && !word.is_empty() && text.is_empty() {
            text.push_str(word);
            taken += 1;
            break;
        } else if let Some(more) = tens(word).filter(|_| text.is_empty()) {
            text.push_str(&more.to_string());
            taken += 1;
            if let Some(one) = words.get(taken).and_then(|word| unit(word)).filter(|one| (1..10).contains(one)) {
                text.replace_range(text.len() - 1.., &one.to_string());
                taken += 1;
            }
            break;
        } else {
            break;
        }
        taken += 1;
    }
    (!text.is_empty()).then_some((text, taken))
}

/// A whole number in words.
fn cardinal(words: &[&str]) -> Option<(Number, usize)> {
    let at = |nth: usize| words.get(nth).copied().unwrap_or_default();
    let below_hundred = |from: usize| -> Option<(u32, usize)> {
        if let Some(ten) = tens(at(from)) {
            return Some(match unit(at(from + 1)).filter(|one| (1..10).contains(one) && at(from + 1) != "oh") {
                Some(one) => (ten + one, 2),
                None => (ten, 1),
            });
        }
        if at(from) == "oh" {
            return None;
        }
        unit(at(from)).map(|one| (one, 1)).or_else(|| whole(at(from)).map(|both| (both, 1)))
    };
    let below_thousand = |from: usize| -> Option<(u32, usize, bool)> {
        let (first, mut taken) = match at(from) {
            "a" if at(from + 1) == "hundred" => (1, 1),
            "hundred" => (1, 0),
            _ => below_hundred(from)?,
        };
        if at(from + taken) == "hundred" {
            taken += 1;
            let mut number = first * 100;
            let and = usize::from(at(from + taken) == "and");
            if let Some((more, words)) = below_hundred(from + taken + and).filter(|(more, _)| *more > 0) {
                number += more;
                taken += and + words;
            }
            return Some((number, taken, false));
        }
        // `one twenty`, `two forty`
        if (1..10).contains(&first)
            && taken == 1
            && let Some((more, words)) = below_hundred(from + 1).filter(|(more, _)| *more >= 10)
        {
            return Some((first * 100 + more, 1 + words, true));
        }
        Some((first, taken, false))
    };
    let (mut number, mut taken, joined) = match at(0) {
        "a" if at(1) == "thousand" => (1, 1, false),
        _ => below_thousand(0)?,
    };
    if at(taken) == "thousand" {
        taken += 1;
        number *= 1000;
        let and = usize::from(at(taken) == "and");
        if let Some((more, words, _)) = below_thousand(taken + and) {
            number += more;
            taken += and + words;
        }
    }
    Some((Number { text: number.to_string(), value: f64::from(number), joined }, taken))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spoken_numbers_become_figures() {
        for (text, expected, taken) in [
            ("twenty five newton metres", "25", 2),
            ("a hundred and ten", "110", 4),
            ("one hundred and five of", "105", 4),
            ("two and a half mil", "2.5", 4),
            ("half an inch", "1/2", 2),
            ("three quarters of an inch", "3/4", 4),
            ("five sixteenths", "5/16", 2),
            ("one and three eighths", "1 3/8", 4),
            ("one point five", "1.5", 3),
            ("point oh five", "0.05", 3),
            ("twelve point six volts", "12.6", 3),
            ("zero point five", "0.5", 3),
            ("12 point 6", "12.6", 3),
            ("one twenty", "120", 2),
            ("two thousand eight hundred", "2800", 4),
            ("fifteen hundred", "1500", 2),
            ("minus five", "-5", 2),
            ("seven thirty seconds", "7/32", 3),
            ("1 1/2 inch", "1 1/2", 2),
            ("1,500", "1500", 1),
            ("1,5", "1.5", 1),
            ("a quarter inch", "1/4", 2),
            ("twenty-five", "25", 1),
        ] {
            let words: Vec<&str> = text.split(' ').collect();
            let (number, used) = read(&words).unwrap_or_else(|| panic!("{text}"));
            assert_eq!((number.text.as_str(), used), (expected, taken), "{text}");
        }
        for text in ["a bolt", "oh well", "point at it", "and a half"] {
            assert!(read(&text.split(' ').collect::<Vec<_>>()).is_none(), "{text}");
        }
    }
}
