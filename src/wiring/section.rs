//! Cross-sections of conductors in mm² and in AWG, and what copper of that section resists.
//! Which section a wire needs is left to the caller.

use std::fmt;

use super::{Fault, FaultKind, plain};
use crate::quantity::{self, Dimension, Exact, Form, Number, Options, Rounding};

/// The American wire gauge of a conductor. Gauges above 1/0 count down below nought: 0 is 1/0, −3 is 4/0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Gauge(i32);

impl Gauge {
    /// The gauge of this number, from −3 (4/0) to 40.
    pub fn new(number: i32) -> Option<Self> {
        (-3..=40).contains(&number).then_some(Self(number))
    }

    /// The number, 0 for 1/0 and −3 for 4/0.
    pub fn number(self) -> i32 {
        self.0
    }

    /// The diameter of a solid conductor in mm, to six decimals: 0.127 mm · 92^((36 − n)/39), as ASTM B258 defines it.
    pub fn diameter(self) -> Exact {
        rounded(0.127 * STEP.powi(36 - self.0), 6)
    }

    /// The area in mm², to seven decimals; the area of a strand-made conductor of the same gauge is about this.
    pub fn area(self) -> Exact {
        let diameter = 0.127 * STEP.powi(36 - self.0);
        rounded(std::f64::consts::FRAC_PI_4 * diameter * diameter, 7)
    }
}

// The thirty-ninth root of 92: each gauge is thicker than the next by this (ASTM B258). It has no end, so AWG is the one place here
// where numbers are not exact from the start; they are rounded far below what can be measured, and exact from there on.
const STEP: f64 = 1.122_932_196_532_281_4;

fn rounded(value: f64, decimals: u32) -> Exact {
    let scaled = value * 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    #[allow(clippy::cast_possible_truncation)]
    let digits = scaled.round() as i128;
    Exact::from_decimal(digits, decimals).unwrap_or(Exact::ZERO)
}

impl fmt::Display for Gauge {
    /// "AWG 14", "AWG 4/0".
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            number if number <= 0 => write!(formatter, "AWG {}/0", 1 - number),
            number => write!(formatter, "AWG {number}"),
        }
    }
}

/// The cross-section of a conductor, as it was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Section {
    /// In square millimetres, with the digits as written.
    Metric(Number),
    /// By gauge.
    Awg(Gauge),
}

/// The sections of ISO 6722 road-vehicle cables up to 50 mm², in mm² as fractions. The common ones were looked up; that the list has
/// no others in between is from memory, so use it to offer a section and not to refuse one.
pub const ISO_6722: [Exact; 14] = [
    Exact::ratio(22, 100),
    Exact::ratio(35, 100),
    Exact::ratio(5, 10),
    Exact::ratio(75, 100),
    Exact::whole(1),
    Exact::ratio(15, 10),
    Exact::ratio(25, 10),
    Exact::whole(4),
    Exact::whole(6),
    Exact::whole(10),
    Exact::whole(16),
    Exact::whole(25),
    Exact::whole(35),
    Exact::whole(50),
];

impl Section {
    /// A section of so many mm²; `None` where it is not above nought.
    pub fn metric(square_millimetres: Number) -> Option<Self> {
        (square_millimetres.value > Exact::ZERO).then_some(Self::Metric(square_millimetres))
    }

    /// The area in mm².
    pub fn area(&self) -> Exact {
        match self {
            Self::Metric(number) => number.value,
            Self::Awg(gauge) => gauge.area(),
        }
    }

    /// Whether it is one of [`ISO_6722`].
    pub fn is_iso_6722(&self) -> bool {
        matches!(self, Self::Metric(number) if ISO_6722.contains(&number.value))
    }

    /// What a metre of copper of this section resists at a temperature, in ohms; see [`copper_resistivity`].
    ///
    /// A real cable may resist more: strands lie in a twist, and standards for cables allow it some per cent.
    pub fn resistance(&self, celsius: Exact) -> Option<Exact> {
        copper_resistivity(celsius)?.over(self.area())
    }
}

impl fmt::Display for Section {
    /// "2.5 mm²", "AWG 14".
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Metric(number) => write!(formatter, "{} mm²", number.print('.')),
            Self::Awg(gauge) => gauge.fmt(formatter),
        }
    }
}

/// The resistivity of annealed copper in Ω·mm²/m: 1/58 at 20 °C, and 0.393 % more for each degree above (IEC 60028).
///
/// `None` below −200 °C and above 250 °C, where that line does not hold or the insulation does not.
pub fn copper_resistivity(celsius: Exact) -> Option<Exact> {
    if celsius < Exact::whole(-200) || celsius > Exact::whole(250) {
        return None;
    }
    let warmer = celsius.minus(Exact::whole(20))?.times(Exact::ratio(393, 100_000))?;
    Exact::ratio(1, 58).times(Exact::ONE.plus(warmer)?)
}

// The thickest cable of a vehicle is far below, the thinnest strand far above.
const THINNEST: Exact = Exact::ratio(1, 100);
const THICKEST: Exact = Exact::whole(1000);

/// Reads a section: "2.5 mm²", "1,5 mm2" with a decimal comma, "AWG 14", "14 AWG", "4/0 AWG", "AWG 00".
pub fn read_section(text: &str, options: &Options) -> Result<Section, Fault> {
    let trimmed = text.trim();
    let start = text.len() - text.trim_start().len();
    let range = start..start + trimmed.len();
    if trimmed.is_empty() {
        return Err(Fault::new(FaultKind::Unreadable, 0..text.len(), "the section of the wire is empty", EXAMPLES));
    }
    let lower = trimmed.to_ascii_lowercase();
    if lower.contains("awg") && lower.contains("mm") {
        let message = format!("\"{trimmed}\" gives the section twice, and no gauge is exactly a metric section");
        return Err(Fault::new(FaultKind::Unreadable, range, message, "write only the one that is printed on the wire"));
    }
    if lower.trim_start_matches(|c: char| c.is_ascii_digit() || c == ' ').starts_with(['×', 'x'])
        && lower.starts_with(|c: char| c.is_ascii_digit())
    {
        let message = format!("\"{trimmed}\" counts the wires of a cable");
        return Err(Fault::new(FaultKind::Unreadable, range, message, "write the section of one wire, as in 1.5 mm²"));
    }
    if let Some(number) = beside(&lower, "awg") {
        return gauge(number).map(Section::Awg).ok_or_else(|| {
            let message = format!("\"{trimmed}\" is no wire gauge that is known");
            Fault::new(FaultKind::Unknown, range, message, "write a gauge from AWG 40 to AWG 1, or from AWG 1/0 to AWG 4/0")
        });
    }
    for word in ["gauge", "ga.", "ga", "swg", "bwg"] {
        if beside(&lower, word).is_some_and(|number| gauge(number).is_some()) {
            let message = format!("\"{trimmed}\" does not say which wire gauge is meant");
            let remedy = "write AWG before the number if it is the American one, or give the section in mm²";
            return Err(Fault::new(FaultKind::Ambiguous, range, message, remedy));
        }
    }
    let number = lower.parse::<u32>().is_ok() || trimmed.replacen(['.', ','], "", 1).chars().all(|c| c.is_ascii_digit());
    if number {
        let message = format!("\"{trimmed}\" says neither mm² nor AWG");
        return Err(Fault::new(FaultKind::Unreadable, range, message, EXAMPLES));
    }
    let reading = quantity::read(text, Dimension::Area, options);
    if let Some(fault) = reading.faults.into_iter().next() {
        let kind = match fault.kind {
            quantity::FaultKind::UnitUnknown => FaultKind::Unknown,
            quantity::FaultKind::UnitAmbiguous => FaultKind::Ambiguous,
            _ => FaultKind::Unreadable,
        };
        // A list of units of area helps nobody who has a wire in hand.
        let remedy = if fault.remedy.contains("in²") { EXAMPLES.to_owned() } else { fault.remedy };
        return Err(Fault::new(kind, fault.range, fault.message, remedy));
    }
    let leading = reading.quantity.as_ref().map(|quantity| quantity.leading());
    let metric = leading.and_then(|statement| match &statement.form {
        Form::Single(number) => Some((*number, statement.unit)),
        _ => None,
    });
    let Some((number, unit)) = metric else {
        let message = format!("\"{trimmed}\" is no single section");
        return Err(Fault::new(FaultKind::Unreadable, range, message, EXAMPLES));
    };
    let millimetres = quantity::unit(Dimension::Area, "mm²").and_then(|to| unit.convert(number.value, to));
    let number = match millimetres {
        Some(value) if value == number.value => number,
        Some(value) => Number::shortest(value).or_else(|| Number::decimal(value.rounded(4, Rounding::Nearest)?, 4)).unwrap_or(number),
        None => number,
    };
    if number.value < THINNEST || number.value > THICKEST {
        let message = format!("no wire has a section of {} mm²", plain(number.value));
        return Err(Fault::new(FaultKind::Unreadable, range, message, EXAMPLES));
    }
    Ok(Section::Metric(number))
}

const EXAMPLES: &str = "write the section as in 2.5 mm² or AWG 14";

/// What stands before or after a word, if nothing else does.
fn beside<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let dash = |c: char| c.is_whitespace() || matches!(c, '-' | '\u{2011}');
    let rest = match text.strip_prefix(word) {
        Some(after) => after.trim_start_matches(dash),
        None => text.strip_suffix(word)?.trim_end_matches(dash),
    };
    Some(rest.trim_start_matches('#'))
}

fn gauge(text: &str) -> Option<Gauge> {
    let text = text.strip_prefix("no.").map_or(text, str::trim_start);
    if let Some(count) = text.strip_suffix("/0") {
        let count: i32 = count.parse().ok()?;
        return if (1..=4).contains(&count) { Gauge::new(1 - count) } else { None };
    }
    if !text.is_empty() && text.len() <= 4 && text.chars().all(|c| c == '0') {
        return Gauge::new(1 - i32::try_from(text.len()).ok()?);
    }
    let digits = !text.is_empty() && text.len() <= 2 && text.chars().all(|c| c.is_ascii_digit());
    digits.then(|| text.parse().ok().and_then(Gauge::new))?
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Section, Fault> {
        read_section(text, &Options::default())
    }

    #[test]
    fn gauges_keep_their_numbers_and_sections_are_above_nought() {
        for number in -3..=40 {
            assert_eq!(Gauge::new(number).map(Gauge::number), Some(number));
        }
        assert_eq!((Gauge::new(-4), Gauge::new(41)), (None, None));
        let nought = Number::decimal(0, 1).unwrap();
        assert_eq!(Section::metric(nought), None);
    }

    #[test]
    fn the_step_is_the_root_that_the_standard_names() {
        assert!((STEP.powi(39) - 92.0).abs() < 1e-10, "{}", STEP.powi(39));
        assert_eq!(Gauge::new(36).map(Gauge::diameter), Some(Exact::ratio(127, 1000)));
        assert_eq!(Gauge::new(-3).map(Gauge::diameter), Some(Exact::ratio(11684, 1000)), "0.46 in by definition");
    }

    #[test]
    fn every_spelling_of_a_section_is_printed_as_one() {
        for (text, printed) in [
            ("2.5 mm²", "2.5 mm²"),
            ("2.5mm2", "2.5 mm²"),
            ("2.50 mm²", "2.50 mm²"),
            ("0.35 sq mm", "0.35 mm²"),
            ("0.5 cm²", "50 mm²"),
            ("AWG 14", "AWG 14"),
            ("14 AWG", "AWG 14"),
            ("awg14", "AWG 14"),
            ("#10 AWG", "AWG 10"),
            ("AWG-8", "AWG 8"),
            ("4/0 AWG", "AWG 4/0"),
            ("AWG 2/0", "AWG 2/0"),
            ("00 AWG", "AWG 2/0"),
            ("AWG 0", "AWG 1/0"),
            ("AWG 0000", "AWG 4/0"),
        ] {
            let section = read(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            assert_eq!(section.to_string(), printed, "{text}");
            assert_eq!(read(printed), Ok(section), "{printed} is read again");
        }
        let comma = Options { decimal_comma: true, ..Options::default() };
        assert_eq!(read_section("1,5 mm²", &comma).map(|section| section.area()), Ok(Exact::ratio(3, 2)));
    }

    #[test]
    fn what_is_no_section_is_told() {
        for (text, kind, message) in [
            ("14 gauge", FaultKind::Ambiguous, "\"14 gauge\" does not say which wire gauge is meant"),
            ("14 ga", FaultKind::Ambiguous, "\"14 ga\" does not say which wire gauge is meant"),
            ("2.5", FaultKind::Unreadable, "\"2.5\" says neither mm² nor AWG"),
            ("14", FaultKind::Unreadable, "\"14\" says neither mm² nor AWG"),
            ("AWG 77", FaultKind::Unknown, "\"AWG 77\" is no wire gauge that is known"),
            ("5/0 AWG", FaultKind::Unknown, "\"5/0 AWG\" is no wire gauge that is known"),
            ("3 × 1.5 mm²", FaultKind::Unreadable, "\"3 × 1.5 mm²\" counts the wires of a cable"),
            (
                "2.5 mm² (AWG 14)",
                FaultKind::Unreadable,
                "\"2.5 mm² (AWG 14)\" gives the section twice, and no gauge is exactly a metric section",
            ),
            ("0 mm²", FaultKind::Unreadable, "no wire has a section of 0 mm²"),
            ("1 to 2 mm²", FaultKind::Unreadable, "\"1 to 2 mm²\" is no single section"),
        ] {
            let fault = read(text).expect_err(text);
            assert_eq!((fault.kind, fault.message.as_str()), (kind, message));
        }
        for text in ["", "  ", "2.5 mm", "AWG", "thick", "☃ mm²", "-3 AWG", "1e9 mm²"] {
            let fault = read(text).expect_err(text);
            assert!(text.get(fault.range).is_some(), "{text}");
        }
    }

    #[test]
    fn resistance_grows_with_temperature_and_ends_where_the_line_does() {
        let section = read("1 mm²").expect("a section");
        assert_eq!(section.resistance(Exact::whole(20)), Some(Exact::ratio(1, 58)));
        assert_eq!(section.resistance(Exact::whole(120)), Exact::ratio(1, 58).times(Exact::ratio(1393, 1000)));
        assert_eq!(section.resistance(Exact::whole(300)), None);
        assert!(section.is_iso_6722() && !read("3 mm²").expect("a section").is_iso_6722());
    }
}
