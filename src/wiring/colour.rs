//! Wire colours by the letters of IEC 60757: read from letters and from English and German names, printed in one spelling.
//! How a coloured wire is drawn is left to the drawings; here stand only its display colour and its hatch.

use std::fmt;
use std::ops::Range;

use super::{Fault, FaultKind, either};
use crate::near::{did_you_mean, nearest};

/// A colour of IEC 60757, in the order of its list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Colour {
    /// BK.
    Black,
    /// BN.
    Brown,
    /// RD.
    Red,
    /// OG.
    Orange,
    /// YE.
    Yellow,
    /// GN.
    Green,
    /// BU.
    Blue,
    /// VT.
    Violet,
    /// GY.
    Grey,
    /// WH.
    White,
    /// PK.
    Pink,
    /// GD.
    Gold,
    /// TQ.
    Turquoise,
    /// SR.
    Silver,
}

/// Lines and dots that tell a colour where there is no colour. Red, blue, green, violet, black and yellow follow the hatching of
/// heraldry (from memory); the others are this program's own, since no standard hatches all colours of wires.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hatch {
    /// Filled.
    Solid,
    /// Slanting lines both ways.
    DiagonalCross,
    /// Upright lines.
    Vertical,
    /// Angles one above the other.
    Chevrons,
    /// Single dots.
    Dots,
    /// Lines that fall to the right.
    Falling,
    /// Level lines.
    Horizontal,
    /// Lines that rise to the right.
    Rising,
    /// Level and upright lines.
    Grid,
    /// Nothing.
    Plain,
    /// Upright broken lines.
    VerticalBroken,
    /// Small crosses.
    Crosses,
    /// Level broken lines.
    HorizontalBroken,
    /// Small rings.
    Rings,
}

struct Entry {
    colour: Colour,
    code: &'static str,
    name: &'static str,
    // Other names and German ones, in small letters. "ß" is read as "ss" before.
    names: &'static [&'static str],
    display: &'static str,
    hatch: Hatch,
}

// Letters: IEC 60757. Display colours: this program's own, chosen to be told apart on a screen and when printed.
const fn entry(
    colour: Colour,
    code: &'static str,
    name: &'static str,
    names: &'static [&'static str],
    display: &'static str,
    hatch: Hatch,
) -> Entry {
    Entry { colour, code, name, names, display, hatch }
}

const TABLE: [Entry; 14] = [
    entry(Colour::Black, "BK", "black", &["schwarz"], "#1a1a1a", Hatch::Solid),
    entry(Colour::Brown, "BN", "brown", &["braun"], "#8a5a2e", Hatch::DiagonalCross),
    entry(Colour::Red, "RD", "red", &["rot"], "#d8262c", Hatch::Vertical),
    entry(Colour::Orange, "OG", "orange", &[], "#f28c1e", Hatch::Chevrons),
    entry(Colour::Yellow, "YE", "yellow", &["gelb"], "#f7d417", Hatch::Dots),
    entry(Colour::Green, "GN", "green", &["grün", "gruen"], "#2c9a47", Hatch::Falling),
    entry(Colour::Blue, "BU", "blue", &["blau"], "#2f6fc9", Hatch::Horizontal),
    entry(Colour::Violet, "VT", "violet", &["purple", "violett", "lila"], "#8449a8", Hatch::Rising),
    entry(Colour::Grey, "GY", "grey", &["gray", "slate", "grau"], "#8e9396", Hatch::Grid),
    entry(Colour::White, "WH", "white", &["weiss", "weis"], "#ffffff", Hatch::Plain),
    entry(Colour::Pink, "PK", "pink", &["rosa"], "#f4a6bd", Hatch::VerticalBroken),
    entry(Colour::Gold, "GD", "gold", &["golden"], "#c29a3a", Hatch::Crosses),
    entry(Colour::Turquoise, "TQ", "turquoise", &["türkis", "tuerkis"], "#38bdb6", Hatch::HorizontalBroken),
    entry(Colour::Silver, "SR", "silver", &["silber"], "#cdd1d4", Hatch::Rings),
];

/// Letters of vehicle makers and of DIN lists, and what they stand for in one list or another. From memory, so they serve only to say
/// what may be meant; none is ever taken for an answer.
const DOUBTFUL: &[(&str, &[&str])] = &[
    ("b", &["black", "blue", "brown"]),
    ("l", &["blue", "violet (lila)"]),
    ("r", &["red", "pink (rosa)"]),
    ("g", &["green", "grey", "yellow (gelb)"]),
    ("w", &["white"]),
    ("y", &["yellow"]),
    ("o", &["orange"]),
    ("p", &["pink", "violet (purple)"]),
    ("v", &["violet"]),
    ("s", &["silver", "grey (slate)", "black (schwarz)"]),
    ("n", &["brown"]),
    ("u", &["blue"]),
    ("k", &["black", "pink"]),
    ("t", &["turquoise", "tan, which has no letters in IEC 60757"]),
    ("gr", &["green", "grey"]),
    ("br", &["brown"]),
    ("bl", &["blue", "black"]),
    ("lg", &["light green"]),
    ("sb", &["sky blue"]),
    ("pu", &["violet (purple)"]),
    ("pp", &["violet (purple)"]),
    ("vi", &["violet"]),
    ("or", &["orange"]),
    ("sw", &["black (schwarz)"]),
    ("ws", &["white (weiss)"]),
    ("rt", &["red (rot)"]),
    ("ro", &["red (rot)", "pink (rosa)"]),
    ("rs", &["pink (rosa)"]),
    ("ge", &["yellow (gelb)"]),
    ("li", &["violet (lila)"]),
    ("blk", &["black"]),
    ("brn", &["brown"]),
    ("blu", &["blue"]),
    ("grn", &["green"]),
    ("gry", &["grey"]),
    ("org", &["orange"]),
    ("pnk", &["pink"]),
    ("ppl", &["violet (purple)"]),
    ("pur", &["violet (purple)"]),
    ("vio", &["violet"]),
    ("wht", &["white"]),
    ("yel", &["yellow"]),
];

impl Colour {
    /// Every colour, in the order of IEC 60757.
    pub const ALL: [Self; 14] = {
        let mut all = [Self::Black; 14];
        let mut at = 0;
        while at < 14 {
            all[at] = TABLE[at].colour;
            at += 1;
        }
        all
    };

    // The table stands in the order of the declaration; a test holds it there.
    fn entry(self) -> &'static Entry {
        const ROWS: &[Entry; 14] = &TABLE;
        &ROWS[self as usize]
    }

    /// The letters of IEC 60757: "BK".
    pub fn code(self) -> &'static str {
        self.entry().code
    }

    /// The English name: "black".
    pub fn name(self) -> &'static str {
        self.entry().name
    }

    /// A colour for a screen, as sRGB in hexadecimal; no standard's, only one that people call by this name.
    pub fn display(self) -> &'static str {
        self.entry().display
    }

    /// The hatch that tells it without colour.
    pub fn hatch(self) -> Hatch {
        self.entry().hatch
    }

    fn of(word: &str) -> Option<Self> {
        TABLE
            .iter()
            .find(|entry| entry.code.eq_ignore_ascii_case(word) || entry.name == word || entry.names.contains(&word))
            .map(|entry| entry.colour)
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.code())
    }
}

/// The colour of one wire: one colour, or a base with a stripe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WireColour {
    base: Colour,
    stripe: Option<Colour>,
}

impl WireColour {
    /// A wire of one colour.
    pub const fn one(colour: Colour) -> Self {
        Self { base: colour, stripe: None }
    }

    /// A wire of a base colour with a stripe; with the same colour twice it is a wire of one colour.
    ///
    /// Green and yellow are one wire in either order, as IEC 60757 joins them only as GNYE.
    pub fn striped(base: Colour, stripe: Colour) -> Self {
        match (base, stripe) {
            (Colour::Yellow, Colour::Green) => Self { base: Colour::Green, stripe: Some(Colour::Yellow) },
            _ if base == stripe => Self::one(base),
            _ => Self { base, stripe: Some(stripe) },
        }
    }

    /// The colour that covers most of the wire.
    pub fn base(self) -> Colour {
        self.base
    }

    /// The colour of the stripe.
    pub fn stripe(self) -> Option<Colour> {
        self.stripe
    }

    /// Whether it is the green-and-yellow of protective conductors.
    pub fn is_green_yellow(self) -> bool {
        self == Self { base: Colour::Green, stripe: Some(Colour::Yellow) }
    }

    /// The colour in words: "blue", "blue with white stripe", "green and yellow".
    pub fn words(self) -> String {
        match self.stripe {
            None => self.base.name().to_owned(),
            Some(_) if self.is_green_yellow() => "green and yellow".to_owned(),
            Some(stripe) => format!("{} with {} stripe", self.base.name(), stripe.name()),
        }
    }
}

impl fmt::Display for WireColour {
    /// The one printed spelling: "BU", "BU/WH", "GNYE".
    ///
    /// IEC 60757 joins two colours without a mark, in the order of its list. In a vehicle BU/WH and WH/BU are two wires, so the base
    /// comes first here, and the stroke says so.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.stripe {
            None => write!(formatter, "{}", self.base),
            Some(stripe) if self.is_green_yellow() => write!(formatter, "{}{stripe}", self.base),
            Some(stripe) => write!(formatter, "{}/{stripe}", self.base),
        }
    }
}

// A longer text is a sentence in the place of a colour.
const LONGEST: usize = 80;

const REMEDY: &str = "write the letters of IEC 60757, as in BK, BU/WH or GNYE, or the name in full, as in blue with white stripe";

/// Reads the colour of one wire: "BU", "blue", "BU/WH", "BUWH", "blue/white", "blue with white stripe", "white stripe on blue", "blau-weiß".
///
/// Letters of makers' own lists, such as "B" or "LG", are refused with what they may mean, since two makers use one letter for two
/// colours.
pub fn read_colour(text: &str) -> Result<WireColour, Fault> {
    let whole = 0..text.len();
    if text.trim().is_empty() {
        return Err(Fault::new(FaultKind::Unreadable, whole, "the wire colour is empty", REMEDY));
    }
    if text.len() > LONGEST {
        let message = format!("a text of {} characters is too long for a wire colour", text.chars().count());
        return Err(Fault::new(FaultKind::Unreadable, whole, message, REMEDY));
    }
    if text.contains(['+', '&']) {
        let message = format!("\"{}\" names several wires", text.trim());
        return Err(Fault::new(FaultKind::Unreadable, whole, message, "give each wire a colour of its own"));
    }
    let mut colours: Vec<Colour> = Vec::new();
    let mut shade = None;
    let mut turned = false;
    for range in words(text) {
        let word = text[range.clone()].to_lowercase().replace('ß', "ss");
        match word.as_str() {
            "with" | "and" | "a" | "stripe" | "stripes" | "striped" | "tracer" | "wire" | "mit" | "und" | "streifen" | "weissem" | "on"
            | "auf" => {
                turned |= matches!(word.as_str(), "on" | "auf") && colours.len() == 1;
                // "mit weissem Streifen" is the one form of a name that is bent and still usual.
                if word == "weissem" {
                    colours.push(Colour::White);
                }
            }
            "light" | "dark" | "hell" | "dunkel" | "pale" | "sky" => shade = shade.or(Some(range)),
            _ => {
                let found = colours_of(&word).ok_or_else(|| unknown(text, &range, &word))?;
                if let Some(shade) = &shade {
                    return Err(shaded(text, shade.start..range.end, found[0]));
                }
                colours.extend(found);
            }
        }
    }
    match (colours.as_slice(), shade) {
        (_, Some(shade)) => Err(unknown(text, &shade, &text[shade.clone()].to_lowercase())),
        ([one], None) => Ok(WireColour::one(*one)),
        ([first, second], None) if first == second => {
            let message = format!("\"{}\" names {} twice", text.trim(), first.name());
            Err(Fault::new(FaultKind::Unreadable, whole, message, format!("write {first} for a wire of one colour")))
        }
        ([stripe, base], None) if turned => Ok(WireColour::striped(*base, *stripe)),
        ([base, stripe], None) => Ok(WireColour::striped(*base, *stripe)),
        ([], None) => Err(Fault::new(FaultKind::Unreadable, whole, format!("there is no colour in \"{}\"", text.trim()), REMEDY)),
        (more, None) => {
            let message = format!("\"{}\" names {} colours for one wire", text.trim(), more.len());
            Err(Fault::new(FaultKind::Unreadable, whole, message, "name the base colour and one stripe"))
        }
    }
}

/// The words of a text, in bytes; whatever is neither letter nor digit parts them.
fn words(text: &str) -> Vec<Range<usize>> {
    let mut words: Vec<Range<usize>> = Vec::new();
    for (at, c) in text.char_indices().filter(|(_, c)| c.is_alphanumeric()) {
        match words.last_mut() {
            Some(word) if word.end == at => word.end = at + c.len_utf8(),
            _ => words.push(at..at + c.len_utf8()),
        }
    }
    words
}

/// The one or two colours of a word: "bu", "blue", "buwh", "blauweiss".
fn colours_of(word: &str) -> Option<Vec<Colour>> {
    if let Some(one) = Colour::of(word) {
        return Some(vec![one]);
    }
    // Letters of a code and a name never make one word, so "bured" is none.
    let starts = |name: &&str| word.len() > name.len() && word.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name));
    let names = TABLE.iter().flat_map(|entry| [entry.code, entry.name].into_iter().chain(entry.names.iter().copied()));
    let pairs = names.filter(starts).filter_map(|name| {
        let (first, second) = word.split_at(name.len());
        let alike = (first.len() == 2) == (second.len() == 2);
        alike.then(|| Some((name.len(), vec![Colour::of(first)?, Colour::of(second)?])))?
    });
    pairs.min_by_key(|(at, _)| *at).map(|(_, pair)| pair)
}

/// The colour that a text is read as, for who looks at words by the thousand: nothing is told of one that is none.
pub fn colour_in(text: &str) -> Option<WireColour> {
    let known = |range: Range<usize>| {
        let word = text[range].to_lowercase().replace('ß', "ss");
        colours_of(&word).is_some()
    };
    // Where no word is a colour there is nothing to read, and finding what was meant costs the most.
    (text.len() <= LONGEST && words(text).into_iter().any(known)).then(|| read_colour(text).ok()).flatten()
}

fn unknown(text: &str, range: &Range<usize>, word: &str) -> Fault {
    let written = &text[range.clone()];
    if let Some((_, meanings)) = DOUBTFUL.iter().find(|(letters, _)| *letters == word) {
        let message = format!("\"{written}\" is no colour of IEC 60757, and makers' lists use it for {}", either(meanings));
        // The last word of "light green" is its colour, the first of "violet (lila)" too.
        let colour = |meaning: &str| {
            let plain = meaning.split([',', '(']).next()?.trim();
            Some((plain.to_owned(), Colour::of(plain.rsplit(' ').next()?)?))
        };
        let codes: Vec<String> =
            meanings.iter().filter_map(|meaning| colour(meaning)).map(|(plain, colour)| format!("{colour} for {plain}")).collect();
        let codes: Vec<&str> = codes.iter().map(String::as_str).collect();
        let remedy = if codes.is_empty() { REMEDY.to_owned() } else { format!("write {}", either(&codes)) };
        return Fault::new(FaultKind::Ambiguous, range.clone(), message, remedy);
    }
    let names = || TABLE.iter().flat_map(|entry| std::iter::once(entry.name).chain(entry.names.iter().copied()));
    // Of two letters nearly all are near to some code, so only words are compared.
    let near = if word.chars().count() > 3 { nearest(word, names()) } else { None };
    let remedy = match near {
        Some(_) => format!("write the letters of IEC 60757 or the name in full{}", did_you_mean(near)),
        None => REMEDY.to_owned(),
    };
    Fault::new(FaultKind::Unknown, range.clone(), format!("\"{written}\" is no known wire colour"), remedy)
}

fn shaded(text: &str, range: Range<usize>, colour: Colour) -> Fault {
    let message = format!("\"{}\" is a shade, and IEC 60757 has letters only for {}", &text[range.clone()], colour.name());
    let remedy = format!("write {colour}, and tell the shade in words beside it");
    Fault::new(FaultKind::Unknown, range, message, remedy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn reads(text: &str, printed: &str) {
        assert_eq!(read_colour(text).map(|colour| colour.to_string()), Ok(printed.to_owned()), "{text}");
    }

    #[test]
    fn a_stripe_is_known_and_told() {
        let read = |text: &str| read_colour(text).unwrap();
        assert_eq!((read("BU/WH").base(), read("BU/WH").stripe()), (Colour::Blue, Some(Colour::White)));
        assert_eq!((read("BU").stripe(), read("BU").words()), (None, "blue".to_owned()));
        assert_eq!(read("BU/WH").words(), "blue with white stripe");
        assert_eq!(read("GN/YE").words(), "green and yellow");
    }

    #[test]
    fn a_text_that_is_no_colour_is_refused_by_its_length_or_with_what_is_near() {
        let long = |many: usize| read_colour(&"x".repeat(many)).unwrap_err().message;
        assert!(!long(LONGEST).contains("too long"), "{}", long(LONGEST));
        assert!(long(LONGEST + 1).contains("too long") && long(LONGEST + 9).contains("too long"));
        assert!(read_colour("gree").unwrap_err().remedy.contains("did you mean"));
        assert!(!read_colour("gry").unwrap_err().remedy.contains("did you mean"), "of three letters most are near to something");
    }

    #[test]
    fn the_table_stands_in_the_order_of_the_list() {
        for colour in Colour::ALL {
            assert_eq!(colour.entry().colour, colour);
            assert!(colour.display().len() == 7 && colour.display().starts_with('#'));
        }
        let mut hatches: Vec<Hatch> = Colour::ALL.map(Colour::hatch).to_vec();
        hatches.sort_unstable();
        hatches.dedup();
        assert_eq!(hatches.len(), 14, "no two colours share a hatch");
    }

    #[test]
    fn every_spelling_is_printed_as_one() {
        for text in [
            "BU/WH",
            "buwh",
            "BU-WH",
            "blue/white",
            "Blue-White",
            "blue with white stripe",
            "blue with a white tracer",
            "white stripe on blue",
        ] {
            reads(text, "BU/WH");
        }
        for text in ["blau/weiß", "blauweiß", "blau-weiss", "blau mit weißem Streifen", "BU WH", " BU/WH "] {
            reads(text, "BU/WH");
        }
        reads("WH/BU", "WH/BU");
        reads("grey", "GY");
        reads("gray", "GY");
        reads("türkis", "TQ");
        reads("violet wire", "VT");
        for text in ["GNYE", "GN/YE", "YE/GN", "green/yellow", "green and yellow", "grüngelb", "gelb-grün"] {
            reads(text, "GNYE");
        }
    }

    #[test]
    fn what_is_printed_is_read_again_as_the_same() {
        for base in Colour::ALL {
            for stripe in Colour::ALL {
                let colour = WireColour::striped(base, stripe);
                assert_eq!(read_colour(&colour.to_string()), Ok(colour));
                assert_eq!(read_colour(&colour.words()), Ok(colour));
            }
        }
    }

    #[track_caller]
    fn fault(text: &str) -> Fault {
        read_colour(text).expect_err(text)
    }

    #[test]
    fn makers_letters_are_refused_with_what_they_may_mean() {
        for (letters, _) in DOUBTFUL {
            assert_eq!(fault(letters).kind, FaultKind::Ambiguous, "{letters} must not be letters of the standard");
        }
        let b = fault("B/W");
        assert_eq!((b.kind, b.range), (FaultKind::Ambiguous, 0..1));
        assert_eq!(b.message, "\"B\" is no colour of IEC 60757, and makers' lists use it for black, blue or brown");
        assert_eq!(b.remedy, "write BK for black, BU for blue or BN for brown");
        assert_eq!(fault("BU/Gr").range, 3..5);
        assert_eq!(fault("LG").remedy, "write GN for light green");
        assert!(fault("L").message.ends_with("blue or violet (lila)"));
    }

    #[test]
    fn what_is_no_colour_is_told_with_a_near_one() {
        assert!(fault("yelow").remedy.ends_with("did you mean `yellow`?"), "{}", fault("yelow").remedy);
        let tan = fault("RD/beige");
        assert_eq!((tan.kind, tan.range), (FaultKind::Unknown, 3..8));
        assert!(fault("light green").message.starts_with("\"light green\" is a shade"));
        assert_eq!(fault("RD/GN/BU").message, "\"RD/GN/BU\" names 3 colours for one wire");
        assert_eq!(fault("BK+BN").message, "\"BK+BN\" names several wires");
        assert_eq!(fault("RD/RD").message, "\"RD/RD\" names red twice");
        for text in ["", " / ", "stripe", "dark", "bured", "xx", "☃", "ÄÖ", &"x".repeat(500)] {
            let fault = fault(text);
            assert!(text.get(fault.range.clone()).is_some(), "{text}");
        }
    }
}
