//! Reads the usual spellings of a drive. What a drive is and which thread it belongs to is left to `drive`.

use super::drive::{Across, Drive};
use super::{Cursor, Objection, one_of, plain, shortened};

/// The sizes of internal six-lobe drives that exist (ISO 10664).
const T_SIZES: &[u32] = &[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20, 25, 27, 30, 35, 40, 45, 47, 50, 55, 60, 70, 80, 90, 100];
/// The sizes of external six-lobe drives that exist (makers' lists).
const E_SIZES: &[u32] = &[4, 5, 6, 7, 8, 10, 11, 12, 14, 16, 18, 20, 22, 24, 28, 32];

/// The door of [`Drive::read`].
pub(super) fn read(text: &str) -> Result<Drive, Objection> {
    let plain = plain(text);
    if plain.is_empty() || plain.len() > 60 {
        return Err(unreadable(&plain));
    }
    lettered(&plain).unwrap_or_else(|| flats(&plain))
}

fn unreadable(text: &str) -> Objection {
    Objection::new(
        format!("\"{}\" is no drive that can be read", shortened(text)),
        "write it for instance as \"13 mm hex\", \"1/2 in hex\", \"5 mm internal hex\", \"T30\", \"M10 triple-square\" or \"PH2\"",
    )
}

/// Makes a drive of its size.
type Make = fn(u32) -> Drive;

/// A drive that is named by letters: six-lobe, cross recess, slot. None where the text names none of them.
fn lettered(text: &str) -> Option<Result<Drive, Objection>> {
    let mut cursor = Cursor::new(text);
    if cursor.take_any(&["slotted", "slot", "flat blade", "flat-blade", "flat head screwdriver"]) {
        cursor.take_any(&["head", "screwdriver"]);
        return Some(if cursor.rest.is_empty() { Ok(Drive::Slot) } else { Err(unreadable(text)) });
    }
    if let Some(read) = splined(text) {
        return Some(read);
    }
    let words: &[(&[&str], Make)] = &[
        (&["external six-lobe", "external six lobe", "external torx", "e-torx", "etorx"], Drive::ExternalSixLobe),
        (&["internal six-lobe", "six-lobe", "six lobe", "hexalobular", "torx", "tx", "star"], Drive::SixLobe),
        (&["pozidriv", "pozidrive", "cross z", "cross recess z"], Drive::CrossZ),
        (&["phillips", "cross h", "cross recess h"], Drive::CrossH),
        (&["pz"], Drive::CrossZ),
        (&["ph"], Drive::CrossH),
        (&["t"], Drive::SixLobe),
        (&["e"], Drive::ExternalSixLobe),
    ];
    let after = |word: &str| {
        let rest = text.get(..word.len()).filter(|front| front.eq_ignore_ascii_case(word)).map(|_| &text[word.len()..])?;
        (!rest.starts_with(|c: char| c.is_alphabetic())).then(|| rest.trim_start_matches([' ', '-', '#']))
    };
    let (rest, make) = words.iter().find_map(|(spellings, make)| Some((spellings.iter().find_map(|word| after(word))?, make)))?;
    let mut cursor = Cursor::new(rest);
    // "torx T30" and "six-lobe E12" name the size with its letter again.
    let letter = ["t", "e", "ph", "pz"].iter().find(|letter| {
        rest.len() > letter.len()
            && rest.get(..letter.len()).is_some_and(|front| front.eq_ignore_ascii_case(letter))
            && rest.as_bytes()[letter.len()].is_ascii_digit()
    });
    if let Some(letter) = letter {
        cursor.skip(letter.len());
    }
    let make = if letter == Some(&"e") { Drive::ExternalSixLobe } else { *make };
    let size = cursor.whole();
    cursor.take_any(&["external six-lobe", "internal six-lobe", "six-lobe", "torx"]);
    cursor.take_any(&["screwdriver", "socket", "bit", "screw", "head"]);
    let Some(drive) = size.map(make).filter(|_| cursor.rest.is_empty()) else { return Some(Err(unreadable(text))) };
    let exists = match drive {
        Drive::SixLobe(size) => T_SIZES.contains(&size),
        Drive::ExternalSixLobe(size) => E_SIZES.contains(&size),
        Drive::CrossH(size) | Drive::CrossZ(size) => size <= 4,
        _ => true,
    };
    if exists {
        return Some(Ok(drive));
    }
    let sizes: &[u32] = match drive {
        Drive::SixLobe(_) => T_SIZES,
        Drive::ExternalSixLobe(_) => E_SIZES,
        _ => &[0, 1, 2, 3, 4],
    };
    let given = size.unwrap_or_default();
    let below = sizes.iter().rev().find(|size| **size < given);
    let above = sizes.iter().find(|size| **size > given);
    let names: Vec<String> = below.into_iter().chain(above).map(|size| make(*size).to_string()).collect();
    Some(Err(Objection::new(format!("{drive} is no size: {}", one_of(&names)), "look at the bit that fits")))
}

/// The sizes of internal triple-square and spline drives that exist (makers' lists, from memory).
const SPLINED: &[u32] = &[4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18];

/// A triple-square or spline drive, its size before or after the word: "M10 XZN", "XZN 10", "triple square M10", "10 mm spline".
fn splined(text: &str) -> Option<Result<Drive, Objection>> {
    const WORDS: &[(&[&str], Make)] = &[
        (&["triple-square", "triple square", "tri-square", "xzn", "internal 12-point", "internal twelve-point"], Drive::TripleSquare),
        (&["spline drive", "splined", "spline", "polydrive"], Drive::Spline),
    ];
    let lower = text.to_lowercase();
    let (word, make) = WORDS.iter().find_map(|(words, make)| Some((words.iter().find(|word| lower.contains(**word))?, make)))?;
    let mut rest = lower.replacen(word, " ", 1);
    for other in ["(xzn)", "drive", "bit", "socket", "size", "head", "screw"] {
        rest = rest.replacen(other, " ", 1);
    }
    let rest = rest.trim().trim_start_matches(['(', '-', ' ']).trim_end_matches([')', '-', ' ']);
    let figure = rest.strip_prefix('m').unwrap_or(rest).trim();
    let figure = figure.strip_suffix("mm").unwrap_or(figure).trim();
    Some(match figure.parse::<u32>() {
        Ok(size) if SPLINED.contains(&size) => Ok(make(size)),
        Ok(size) => {
            let below = SPLINED.iter().rev().find(|known| **known < size);
            let above = SPLINED.iter().find(|known| **known > size);
            let names: Vec<String> = below.into_iter().chain(above).map(|known| make(*known).to_string()).collect();
            Err(Objection::new(format!("{} is no size: {}", make(size), one_of(&names)), "look at the bit that fits"))
        }
        Err(_) => Err(unreadable(text)),
    })
}

/// The shape that a drive by its flats has, as far as words have named it.
#[derive(Clone, Copy, PartialEq)]
enum Shape {
    Hex,
    Internal,
    TwelvePoint,
    Square,
}

/// A drive that is named by its width across flats and its shape, in either order.
fn flats(text: &str) -> Result<Drive, Objection> {
    let mut cursor = Cursor::new(text);
    let (mut shape, mut across) = (None, None);
    while !cursor.rest.is_empty() {
        if let Some(named) = shape_word(&mut cursor) {
            // "hex key": the second word says which hexagon.
            match (shape, named) {
                (None | Some(Shape::Hex), _) => shape = Some(named),
                (Some(_), Shape::Hex) => {}
                (Some(before), named) if before == named => {}
                _ => return Err(unreadable(text)),
            }
        } else if cursor.take_any(&[
            "across flats",
            "across-flats",
            "a/f",
            "af",
            "sw",
            "size",
            "head",
            "nut",
            "bolt",
            "socket",
            "spanner",
            "wrench",
            "drive",
            "point",
            "-",
            "(",
            ")",
        ]) {
        } else if across.is_none() {
            across = Some(width(&mut cursor).ok_or_else(|| unreadable(text))?);
        } else {
            return Err(unreadable(text));
        }
    }
    // Nothing smaller or larger is turned by hand.
    let across = across.filter(|across| (0.5..=110.0).contains(&across.mm())).ok_or_else(|| unreadable(text))?;
    Ok(match shape.unwrap_or(Shape::Hex) {
        Shape::Hex => Drive::Hex(across),
        Shape::Internal => Drive::InternalHex(across),
        Shape::TwelvePoint => Drive::TwelvePoint(across),
        Shape::Square => Drive::Square(across),
    })
}

fn shape_word(cursor: &mut Cursor<'_>) -> Option<Shape> {
    const WORDS: &[(&[&str], Shape)] = &[
        (
            &[
                "internal hexagon",
                "internal hex",
                "hex socket head",
                "hexagon socket head",
                "socket head",
                "hex key",
                "hex bit",
                "allen key",
                "allen",
                "inhex",
                "key",
            ],
            Shape::Internal,
        ),
        (&["12-point", "12 point", "12pt", "12-pt", "twelve-point", "twelve point", "bi-hex", "bihex", "double hex"], Shape::TwelvePoint),
        (&["hexagon", "hexagonal", "hex", "6-point", "6 point", "six-point"], Shape::Hex),
        (&["square"], Shape::Square),
    ];
    WORDS.iter().find(|(words, _)| cursor.take_any(words)).map(|(_, shape)| *shape)
}

fn width(cursor: &mut Cursor<'_>) -> Option<Across> {
    let inch = |cursor: &mut Cursor<'_>| cursor.take_any(&["\"", "inches", "inch", "in.", "in"]);
    if let Some(size) = cursor.sixty_fourths() {
        inch(cursor);
        return Some(Across::Inch(size));
    }
    let size = cursor.thousandths()?;
    if inch(cursor) {
        let parts = size.checked_mul(64)?;
        // 0.5 in is 1/2 in; 0.4375 in has more digits than are read here and is written 7/16.
        return parts.is_multiple_of(1000).then_some(Across::Inch(parts / 1000));
    }
    cursor.take_any(&["millimetres", "millimeters", "mm"]);
    Some(Across::Mm(size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_one_drive_are_one() {
        for (texts, printed) in [
            (
                &[
                    "13 mm hex",
                    "13mm hex",
                    "hex 13",
                    "13 mm",
                    "13",
                    "hex 13 mm",
                    "13 mm hexagon head",
                    "SW 13",
                    "13 mm AF",
                    "13 mm socket",
                    "13 mm hex nut",
                ][..],
                "13 mm hex",
            ),
            (&["1/2 in hex", "1/2\" hex", "½ in hex", "hex 1/2", "1/2 inch hex", "0.5 in hex", "1/2"], "1/2 in hex"),
            (&["1 1/8 in hex", "1-1/8\" hex"], "1 1/8 in hex"),
            (
                &["5 mm internal hex", "5 mm key", "5 mm hex key", "hex key 5", "5 mm allen", "allen 5", "5 mm hex socket head"],
                "5 mm internal hex",
            ),
            (&["3/16 in key", "3/16\" hex key"], "3/16 in internal hex"),
            (&["T30", "t30", "T 30", "torx 30", "torx T30", "six-lobe T30", "TX30", "T-30", "T30 bit"], "T30"),
            (&["E12", "e12", "E-torx 12", "external six-lobe E12", "torx E12"], "E12"),
            (&["PH2", "ph 2", "Phillips 2", "phillips #2", "cross H 2"], "PH2"),
            (&["PZ2", "pozidriv 2", "PZ 2"], "PZ2"),
            (
                &[
                    "M10 triple-square",
                    "XZN 10",
                    "XZN M10",
                    "M10 XZN",
                    "XZN10",
                    "triple square M10",
                    "10 mm triple-square",
                    "Triple-square (XZN) M10",
                ],
                "M10 triple-square",
            ),
            (&["M8 spline", "spline M8", "spline drive M8", "M8 splined"], "M8 spline"),
            (&["slotted", "slot", "flat blade"], "slotted"),
            (&["12 mm 12-point", "12-point 12 mm", "12 mm bi-hex"], "12 mm 12-point"),
            (&["1/2 in square", "1/2\" square drive"], "1/2 in square"),
        ] {
            for text in texts {
                assert_eq!(Drive::read(text).map(|drive| drive.to_string()), Ok(printed.to_owned()), "{text}");
            }
            assert_eq!(Drive::read(printed).map(|drive| drive.to_string()), Ok(printed.to_owned()));
        }
    }

    #[test]
    fn what_is_no_drive_is_refused() {
        for (text, message) in [
            ("T31", "T31 is no size: T30 or T35"),
            ("E13", "E13 is no size: E12 or E14"),
            ("PH7", "PH7 is no size: PH4"),
            ("XZN 15", "M15 triple-square is no size: M14 triple-square or M16 triple-square"),
            ("spline", "\"spline\" is no drive that can be read"),
            ("by hand", "\"by hand\" is no drive that can be read"),
            ("", "\"\" is no drive that can be read"),
            ("13 mm 14 mm", "\"13 mm 14 mm\" is no drive that can be read"),
            ("hex", "\"hex\" is no drive that can be read"),
        ] {
            assert_eq!(Drive::read(text).map_err(|objection| objection.message), Err(message.to_owned()), "{text}");
        }
    }
}
