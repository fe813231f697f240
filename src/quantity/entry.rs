//! What a technician may type into a field for a torque or a measured value, and whether it is what is asked for. The grammar is closed:
//!
//! ```text
//! entry  = number, unit
//! number = [ "-" | "−" ], digits, [ "." | ",", digits ]      at most 12 digits; three behind a comma may be thousands and are refused
//! unit   = one spelling of one unit that counts in the field; capitals, dots, hyphens and spaces inside as the table has them
//! ```
//!
//! Spaces may stand at either end and between the two; nothing stands behind the unit. The page judges the same texts with the table that
//! [`table`] makes and in the words of [`WORDS`]; both are held to the vectors in `tests/vectors/`.

use super::exact::Exact;
use super::table::AMBIGUOUS;
use super::{Dimension, Unit, units};

/// What may stand between number and unit and at either end, and inside a unit where its spelling has a dot.
pub const SPACES: &[char] = &[' ', '\t', '\u{a0}', '\u{2009}', '\u{202f}'];
/// What else may stand in a unit where its spelling has a dot.
pub const JOINERS: &[char] = &['.', '-', '*', '\u{b7}', '\u{22c5}', '\u{2010}', '\u{2011}'];
/// Characters that are typed for one another: each with the one it is compared as.
pub const ALIKE: &[(char, char)] = &[
    ('²', '2'),
    ('³', '3'),
    ('₂', '2'),
    ('µ', 'μ'),
    ('\u{2126}', 'Ω'),
    ('\u{ba}', '°'),
    ('\u{2da}', '°'),
    ('\u{2019}', '\''),
    ('\u{2032}', '\''),
    ('\u{201d}', '"'),
    ('\u{2033}', '"'),
];
/// How many digits a number may have in all.
pub const DIGITS: usize = 12;
/// How far the bounds, which are rounded to six decimals, may be out.
pub const ROOM: (i128, i128) = (1, 1_000_000);

/// What is said of an entry, by what is the matter with it. `{entry}` is what was typed, `{rest}` what stands where the unit belongs,
/// `{kind}` what is asked for, `{units}` the units to choose from, `{asked}` the value asked for.
pub const WORDS: &[(&str, &str)] = &[
    ("number", "“{entry}” does not begin with a number{enter}"),
    ("digits", "“{entry}” has more digits than a reading has{enter}"),
    ("comma", "“{entry}” can be {whole} and {decimal}{enter}, with a point before its decimals"),
    ("unit", "“{entry}” has no unit{enter}"),
    ("several", "“{entry}” holds more than one number{enter}"),
    ("other", "“{entry}”: “{rest}” is no unit of {kind}{enter}"),
    ("enter", "; enter one number and its unit, {units}"),
    ("below", "{entry} is below what is asked for, {asked}, and no note says why"),
    ("above", "{entry} is above what is asked for, {asked}, and no note says why"),
    ("nothing", "the guide gives no torque that this can be checked against"),
    ("torque", "torque"),
    ("value", "this value"),
    ("units", "N·m, lb·ft or lb·in"),
];

/// What counts in one unit that the guide prints, as decimals; an end that is not there is open.
#[derive(Clone, Copy, Debug)]
pub struct Printed<'f> {
    /// The symbol of the unit.
    pub unit: &'f str,
    /// The lowest number that counts.
    pub low: Option<&'f str>,
    /// The highest.
    pub high: Option<&'f str>,
}

/// A field to be filled in: what is asked for in it.
#[derive(Clone, Debug)]
pub struct Field<'f> {
    /// What counts, in each unit that the guide prints the value in.
    pub printed: Vec<Printed<'f>>,
    /// For a torque, which may be entered in any unit of torque: what counts in N·m. None for a measured value, which is entered in one of
    /// the printed units.
    pub torque: Option<(Option<&'f str>, Option<&'f str>)>,
    /// The value asked for, in words.
    pub asked: String,
}

/// An entry that was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number.
    pub number: Exact,
    /// Its unit.
    pub unit: &'static Unit,
}

/// Whether what was entered is what was asked for; the error says what is the matter with it.
pub fn judge(entry: &str, field: &Field<'_>) -> Result<(), String> {
    let Entry { number, unit } = read_entry(entry, field)?;
    let own = field.printed.iter().find(|printed| printed.unit == unit.symbol);
    // In a unit that the guide prints, the number it prints counts; in any other, what either of them lets pass.
    let (low, high, number) = match own {
        Some(printed) => (printed.low, printed.high, Some(number)),
        None => {
            let (low, high) = field.torque.unwrap_or_default();
            (low, high, number.times(unit.factor))
        }
    };
    if field.torque.is_some() && low.is_none() && high.is_none() {
        return Err(say("nothing", &[]));
    }
    let room = Exact::ratio(ROOM.0, ROOM.1);
    let end = |end: Option<&str>| end.and_then(decimal);
    let below = end(low).and_then(|low| low.minus(room)).zip(number).is_some_and(|(low, number)| number < low);
    let above = end(high).and_then(|high| high.plus(room)).zip(number).is_some_and(|(high, number)| number > high);
    match (below, above) {
        (false, false) => Ok(()),
        (true, _) => Err(say("below", &[("entry", entry), ("asked", &field.asked)])),
        (_, true) => Err(say("above", &[("entry", entry), ("asked", &field.asked)])),
    }
}

/// Reads an entry by the grammar; the error says what is the matter with it.
pub fn read_entry(entry: &str, field: &Field<'_>) -> Result<Entry, String> {
    let torque = field.torque.is_some();
    let refuse = |what: &str, more: &[(&str, &str)]| {
        let printed: Vec<&str> = field.printed.iter().map(|printed| printed.unit).collect();
        let units = if torque { say("units", &[]) } else { printed.join(" or ") };
        let enter = say("enter", &[("units", &units)]);
        let kind = say(if torque { "torque" } else { "value" }, &[]);
        let told: Vec<(&str, &str)> =
            [("entry", entry), ("enter", &enter), ("kind", &kind)].into_iter().chain(more.iter().copied()).collect();
        Err(say(what, &told))
    };
    let text = entry.trim_matches(SPACES);
    let unsigned = text.strip_prefix(['-', '\u{2212}']).unwrap_or(text);
    let (whole, rest) = digits(unsigned);
    if whole.is_empty() {
        return refuse("number", &[]);
    }
    let (mark, decimals, rest) = match rest.chars().next().filter(|mark| matches!(mark, '.' | ',')) {
        Some(mark) => match digits(&rest[1..]) {
            ("", _) => (' ', "", rest),
            (decimals, behind) => (mark, decimals, behind),
        },
        None => (' ', "", rest),
    };
    if whole.len() + decimals.len() > DIGITS {
        return refuse("digits", &[]);
    }
    if mark == ',' && decimals.len() == 3 && whole.len() <= 3 && !whole.starts_with('0') {
        return refuse("comma", &[("whole", &format!("{whole}{decimals}")), ("decimal", &format!("{whole}.{decimals}"))]);
    }
    let rest = rest.trim_matches(SPACES);
    if rest.strip_suffix('.').unwrap_or(rest).is_empty() {
        return refuse("unit", &[]);
    }
    let Some(unit) = unit_of(rest, field) else {
        return refuse(if holds_number(rest) { "several" } else { "other" }, &[("rest", rest)]);
    };
    let sign = if unsigned.len() < text.len() { "-" } else { "" };
    match decimal(&format!("{sign}{whole}.{decimals}")) {
        Some(number) => Ok(Entry { number, unit }),
        None => refuse("digits", &[]),
    }
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.bytes().take_while(u8::is_ascii_digit).count())
}

/// Whether a number begins in a text: a digit that no letter leads to, as one does in "cm2".
fn holds_number(text: &str) -> bool {
    let mut before = ' ';
    text.chars().any(|c| {
        let begins = c.is_ascii_digit() && !(before.is_ascii_alphanumeric() || before == '^');
        before = c;
        begins
    })
}

/// A phrase with what belongs into it.
fn say(what: &str, told: &[(&str, &str)]) -> String {
    let mut text = WORDS.iter().find(|(name, _)| *name == what).map_or(String::new(), |(_, words)| (*words).to_owned());
    // What was typed comes last, so that nothing in it is taken for a place to fill.
    for (name, words) in told.iter().filter(|(name, _)| *name != "entry" && *name != "rest") {
        text = text.replace(&format!("{{{name}}}"), words);
    }
    let mut out = String::new();
    let mut rest = text.as_str();
    while let Some((before, behind)) = rest.split_once('{') {
        let (name, after) = behind.split_once('}').unwrap_or((behind, ""));
        out.push_str(before);
        out.push_str(told.iter().find(|(known, _)| *known == name).map_or("", |(_, words)| words));
        rest = after;
    }
    out + rest
}

/// A decimal as a number, with either minus sign.
fn decimal(text: &str) -> Option<Exact> {
    let (negative, text) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let number = Exact::from_decimal(format!("{whole}{part}").parse().ok()?, u32::try_from(part.len()).ok()?)?;
    Some(if negative { number.negated() } else { number })
}

/// The unit that a text names, of those that count in the field.
fn unit_of(text: &str, field: &Field<'_>) -> Option<&'static Unit> {
    let counts = |unit: &&Unit| match field.torque {
        Some(_) => unit.dimension == Dimension::Torque,
        None => field.printed.iter().any(|printed| printed.unit == unit.symbol),
    };
    units().iter().filter(counts).find(|unit| {
        let (exact, folded) = spellings(unit);
        exact.iter().any(|spelling| is_spelled(text, spelling, false)) || folded.iter().any(|spelling| is_spelled(text, spelling, true))
    })
}

/// Whether a text is a spelling: where that has a dot, up to three spaces, dots and hyphens may stand or nothing; a full stop may follow.
fn is_spelled(text: &str, spelling: &str, folded: bool) -> bool {
    let mut text = text.strip_suffix('.').unwrap_or(text).chars().peekable();
    for expected in spelling.chars() {
        if expected == '·' || expected == ' ' {
            for _ in 0..3 {
                if text.next_if(|c| SPACES.contains(c) || JOINERS.contains(c)).is_none() {
                    break;
                }
            }
            continue;
        }
        if expected.is_ascii_digit() && text.peek() == Some(&'^') {
            text.next();
        }
        let Some(found) = text.next().map(alike) else { return false };
        if found != expected && !(folded && found.to_ascii_lowercase() == expected) {
            return false;
        }
    }
    text.next().is_none()
}

fn alike(c: char) -> char {
    ALIKE.iter().find(|(typed, _)| *typed == c).map_or(c, |(_, as_what)| *as_what)
}

/// The spellings of a unit as they are compared: those in which capitals matter, and the others in small letters.
fn spellings(unit: &Unit) -> (Vec<String>, Vec<String>) {
    let plain = |text: &str| text.chars().map(alike).collect::<String>().replace('^', "");
    let small = |text: &str| plain(text).to_ascii_lowercase();
    let run_together = |text: &str| small(text).replace('·', "");
    // A spelling that is doubtful for its capitals alone is none where it can mean no other unit: "NM" in a field for a torque.
    let doubtful = AMBIGUOUS.iter().filter(|doubt| doubt.dimension == unit.dimension && doubt.readings == [unit.symbol]);
    let doubtful: Vec<String> = doubtful.flat_map(|doubt| doubt.spellings).map(|text| small(text)).collect();
    let (mut exact, mut folded): (Vec<String>, Vec<String>) = (vec![plain(unit.symbol)], Vec::new());
    for spelling in unit.spellings {
        if doubtful.contains(&run_together(spelling)) { folded.push(small(spelling)) } else { exact.push(plain(spelling)) }
    }
    folded.extend(unit.words.iter().map(|text| small(text)));
    exact.retain(|spelling| !folded.contains(&spelling.to_ascii_lowercase()));
    for list in [&mut exact, &mut folded] {
        list.sort();
        list.dedup();
    }
    (exact, folded)
}

/// A unit as the page's script knows it.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its symbol.
    pub symbol: &'static str,
    /// For a unit of torque: how many N·m one of it is, as numerator and denominator.
    pub torque: Option<(i128, i128)>,
    /// Its spellings in which capitals matter.
    pub exact: Vec<String>,
    /// Its other spellings, in small letters.
    pub folded: Vec<String>,
}

/// The table by which the page's script reads entries: every unit with its spellings.
pub fn table() -> Vec<Row> {
    let row = |unit: &'static Unit| {
        let (exact, folded) = spellings(unit);
        let torque = (unit.dimension == Dimension::Torque).then(|| (unit.factor.numerator(), unit.factor.denominator()));
        Row { symbol: unit.symbol, torque, exact, folded }
    };
    units().iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn torque() -> Field<'static> {
        Field {
            printed: vec![
                Printed { unit: "N·m", low: Some("44.5"), high: Some("45.5") },
                Printed { unit: "lb·ft", low: Some("32.5"), high: Some("33.5") },
            ],
            torque: Some((Some("44.064083"), Some("45.5"))),
            asked: "45 N·m (33 lb·ft)".to_owned(),
        }
    }

    fn reading(unit: &'static str) -> Field<'static> {
        Field { printed: vec![Printed { unit, low: Some("−5.5"), high: Some("14.6") }], torque: None, asked: "14".to_owned() }
    }

    #[test]
    fn one_number_and_one_unit_are_read_in_every_spelling() {
        for text in
            ["45 N·m", "45Nm", " 45.0 N.m. ", "45,0 n m", "45 NM", "45\u{a0}N\u{22c5}m", "33 lb·ft", "33 ft-lbs", "33 Ft Lb", "4.5 kgf·m"]
        {
            let said = judge(text, &torque());
            assert!(said.is_ok() || text.starts_with("4.5"), "{text}: {said:?}");
            assert!(read_entry(text, &torque()).is_ok(), "{text}");
        }
        assert!(judge("-5 °C", &reading("°C")).is_ok());
        assert_eq!(judge("−6 °C", &reading("°C")).unwrap_err(), "−6 °C is below what is asked for, 14, and no note says why");
        assert!(judge("14.4 volts", &reading("V")).is_ok());
    }

    #[test]
    fn anything_else_is_refused_with_its_reason() {
        let enter = "; enter one number and its unit, N·m, lb·ft or lb·in";
        for (text, why) in [
            ("tight", "“tight” does not begin with a number{}"),
            ("٤٥ N·m", "“٤٥ N·m” does not begin with a number{}"),
            ("+45 N·m", "“+45 N·m” does not begin with a number{}"),
            ("45", "“45” has no unit{}"),
            ("45 N·m + 90°", "“45 N·m + 90°” holds more than one number{}"),
            ("40-45 N·m", "“40-45 N·m” holds more than one number{}"),
            ("45 N·m ok", "“45 N·m ok”: “N·m ok” is no unit of torque{}"),
            ("45 psi", "“45 psi”: “psi” is no unit of torque{}"),
            ("45 Н·м", "“45 Н·м”: “Н·м” is no unit of torque{}"),
            ("45 MN·m", "“45 MN·m”: “MN·m” is no unit of torque{}"),
            ("45 lb", "“45 lb”: “lb” is no unit of torque{}"),
            ("1e3 N·m", "“1e3 N·m”: “e3 N·m” is no unit of torque{}"),
            ("1/2 N·m", "“1/2 N·m” holds more than one number{}"),
            ("4500000000000 N·m", "“4500000000000 N·m” has more digits than a reading has{}"),
            ("1,250 N·m", "“1,250 N·m” can be 1250 and 1.250{}, with a point before its decimals"),
            ("{rest} {enter}", "“{rest} {enter}” does not begin with a number{}"),
        ] {
            let why = match why.rsplit_once("{}") {
                Some((before, after)) => format!("{before}{enter}{after}"),
                None => why.to_owned(),
            };
            assert_eq!(judge(text, &torque()).unwrap_err(), why);
        }
        // Capitals keep a milliohm and a megohm apart.
        assert!(judge("5 MΩ", &reading("mΩ")).is_err());
    }

    #[test]
    fn no_spelling_of_a_torque_means_two_units() {
        let torques: Vec<Row> = table().into_iter().filter(|row| row.torque.is_some()).collect();
        assert_eq!(torques.len(), units().iter().filter(|unit| unit.dimension == Dimension::Torque).count());
        for row in &torques {
            for spelling in row.exact.iter().chain(&row.folded) {
                let field = Field { printed: Vec::new(), torque: Some((None, None)), asked: String::new() };
                let read = read_entry(&format!("1 {}", spelling.replace('·', " ")), &field);
                assert_eq!(read.unwrap().unit.symbol, row.symbol, "{spelling}");
            }
        }
    }
}
