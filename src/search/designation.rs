//! Threads with their pitch as one term each, in one spelling, because size and pitch as two words also find the pitch of another
//! size in the same step. The theme's script reads the designations in a query in the same way.

use super::fold::LONGEST;

/// Calls `found` with each thread in `text` that has its pitch: "M8 × 1.25 × 30" gives `m8x1.25`, "1/4-20 UNC" gives `1/4-20`.
pub(super) fn designations(text: &str, mut found: impl FnMut(&str)) {
    let mut before = ' ';
    let mut term = String::new();
    for (at, c) in text.char_indices() {
        let rest = &text[at..];
        let read = match c {
            'm' | 'M' if !before.is_alphanumeric() => metric(&rest[1..]),
            '#' if !before.is_alphanumeric() => unified(rest),
            '0'..='9' if !before.is_alphanumeric() && !".,/-".contains(before) => unified(rest),
            _ => None,
        };
        if let Some((size, pitch)) = read {
            term.clear();
            match c {
                'm' | 'M' => term.extend(["m", &size, "x", &pitch]),
                _ => term.extend([&size, "-", &pitch]),
            }
            if term.len() <= LONGEST {
                found(&term);
            }
        }
        before = c;
    }
}

/// What stands behind the M: size and pitch in millimetres.
fn metric(rest: &str) -> Option<(String, String)> {
    let rest = rest.strip_prefix(char::is_whitespace).unwrap_or(rest);
    let (size, rest) = number(rest)?;
    let rest = rest.trim_start().strip_prefix(['x', 'X', '×'])?.trim_start();
    let (pitch, rest) = number(rest)?;
    // "M8 × 30" has a length there. No pitch is above 6 mm.
    (ends(rest) && pitch <= 6.0 && is_pitch(pitch / size)).then(|| (size.to_string(), pitch.to_string()))
}

/// A fraction of an inch or a numbered size, and threads to the inch.
fn unified(rest: &str) -> Option<(String, String)> {
    let (size, inches, rest) = match rest.strip_prefix('#') {
        Some(rest) => {
            let (number, rest) = whole(rest)?;
            (format!("#{number}"), f64::from(60 + 13 * number) / 1000.0, rest)
        }
        None => {
            let (over, rest) = whole(rest)?;
            let (under, rest) = whole(rest.strip_prefix('/')?)?;
            (format!("{over}/{under}"), f64::from(over) / f64::from(under), rest)
        }
    };
    let rest = rest.strip_prefix(['"', '″']).unwrap_or(rest).strip_prefix(['-', '\u{2010}', '\u{2011}'])?;
    let (pitch, rest) = whole(rest)?;
    (ends(rest) && is_pitch(1.0 / (f64::from(pitch) * inches))).then(|| (size, pitch.to_string()))
}

/// Whether a pitch of this share of the diameter can be cut: a deeper thread leaves no core, a finer one is a slip.
fn is_pitch(share: f64) -> bool {
    (0.02..0.34).contains(&share)
}

fn number(text: &str) -> Option<(f64, &str)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut end = digits(text);
    if end > 0 && text[end..].starts_with(['.', ',']) {
        let decimals = digits(&text[end + 1..]);
        end += if decimals > 0 { decimals + 1 } else { 0 };
    }
    (1..=8).contains(&end).then(|| Some((text[..end].replace(',', ".").parse().ok()?, &text[end..])))?
}

fn whole(text: &str) -> Option<(u32, &str)> {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    (1..=2).contains(&end).then(|| Some((text[..end].parse().ok()?, &text[end..])))?
}

/// Whether the pitch is at its end and not the beginning of another number.
fn ends(rest: &str) -> bool {
    let mut chars = rest.chars();
    match chars.next() {
        Some('/') => false,
        Some('.' | ',') => !chars.next().is_some_and(|c| c.is_ascii_digit()),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> String {
        let mut all = Vec::new();
        designations(text, |term| all.push(term.to_owned()));
        all.join(" ")
    }

    #[test]
    fn a_thread_with_its_pitch_has_one_spelling() {
        for text in ["M8x1.25", "m8 X 1,25", "4 × flange bolt M8 × 1.25 × 30, 8.8", "(M8\u{a0}×\u{202f}1.250-6g)", "M 8 x 1.25 mm"] {
            assert_eq!(read(text), "m8x1.25", "{text}");
        }
        assert_eq!(read("M6x1.0 into M10×1"), "m6x1 m10x1");
        assert_eq!(read("1/4-20 UNC, 3/8\"-16; #10-32"), "1/4-20 3/8-16 #10-32");
    }

    #[test]
    fn what_is_no_thread_with_a_pitch_is_left_alone() {
        for text in [
            "M8",
            "M8 × 30",
            "M8x1/2",
            "M8 x 1.25.3",
            "beam8x1.25",
            "TM8x1.25",
            "1/4-1/2",
            "1/4-7",
            "11/4-20.5",
            "0/4-20",
            "1/0-20",
            "m",
            "#",
            "M24 x 8",
            "2-1/4-20",
        ] {
            assert_eq!(read(text), "", "{text}");
        }
    }
}
