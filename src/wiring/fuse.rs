//! Blade fuses and their colours, and whether a fuse protects the wire behind it.
//! The permissible currents come from a table that the caller chooses; with none that reaches, the answer is that it is unknown.

use super::permissible::{Carries, Permissible, Row};
use super::{Fault, FaultKind, Section, plain};
use crate::quantity::{self, Dimension, Exact, Form, Options};

/// The colour of a fuse's housing. Not all of them are colours of wires.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Housing {
    /// 1 A.
    Black,
    /// 2 A.
    Grey,
    /// 3 A.
    Violet,
    /// 4 A.
    Pink,
    /// 5 A.
    Tan,
    /// 7.5 A.
    Brown,
    /// 10 A.
    Red,
    /// 15 A.
    Blue,
    /// 20 A.
    Yellow,
    /// 25 A.
    Clear,
    /// 30 A.
    Green,
}

impl Housing {
    /// The name of the colour.
    pub fn name(self) -> &'static str {
        match self {
            Self::Black => "black",
            Self::Grey => "grey",
            Self::Violet => "violet",
            Self::Pink => "pink",
            Self::Tan => "tan",
            Self::Brown => "brown",
            Self::Red => "red",
            Self::Blue => "blue",
            Self::Yellow => "yellow",
            Self::Clear => "clear",
            Self::Green => "green",
        }
    }
}

/// A blade fuse of a rating with a known colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BladeFuse {
    /// The rating, in amperes.
    pub rating: Exact,
    /// The colour of its housing.
    pub housing: Housing,
}

const fn fuse(rating: Exact, housing: Housing) -> BladeFuse {
    BladeFuse { rating, housing }
}

// ISO 8820-3 as makers' public charts give it. Ratings above 30 A are left out: their colours were not found in a source.
const BLADES: [BladeFuse; 11] = [
    fuse(Exact::whole(1), Housing::Black),
    fuse(Exact::whole(2), Housing::Grey),
    fuse(Exact::whole(3), Housing::Violet),
    fuse(Exact::whole(4), Housing::Pink),
    fuse(Exact::whole(5), Housing::Tan),
    fuse(Exact::ratio(15, 2), Housing::Brown),
    fuse(Exact::whole(10), Housing::Red),
    fuse(Exact::whole(15), Housing::Blue),
    fuse(Exact::whole(20), Housing::Yellow),
    fuse(Exact::whole(25), Housing::Clear),
    fuse(Exact::whole(30), Housing::Green),
];

/// The blade fuses with a known colour, by rating. Others are made; of those nothing is said here.
pub fn blade_fuses() -> &'static [BladeFuse] {
    &BLADES
}

/// The blade fuse of this rating, if its colour is known.
pub fn blade_fuse(rating: Exact) -> Option<BladeFuse> {
    BLADES.iter().copied().find(|fuse| fuse.rating == rating)
}

/// How a fuse is built, as far as its ratings and colours depend on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FuseType {
    /// Blade fuse: ISO 8820-3.
    Blade,
    /// Bolt-down fuse or strip: ISO 8820-5 and makers' own, from 30 A to some hundreds.
    BoltDown,
    /// Cartridge with female or male tabs: ISO 8820-4 and -9.
    Cartridge,
    /// Glass or ceramic tube.
    Tube,
    /// Circuit breaker, in a vehicle or before a mains circuit.
    Breaker,
}

impl FuseType {
    /// The type of this word in a guide.
    pub fn named(word: &str) -> Option<Self> {
        Some(match word {
            "blade" => Self::Blade,
            "bolt-down" => Self::BoltDown,
            "cartridge" => Self::Cartridge,
            "tube" => Self::Tube,
            "breaker" => Self::Breaker,
            _ => return None,
        })
    }

    /// What people call it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Blade => "blade fuse",
            Self::BoltDown => "bolt-down fuse",
            Self::Cartridge => "cartridge fuse",
            Self::Tube => "tube fuse",
            Self::Breaker => "circuit breaker",
        }
    }
}

// Ratings of ISO 8820-3 as charts of three sellers and a farm paper print them (looked up): regular and small blades from 1 A to 40 A,
// large ones from 20 A to 120 A. Half an ampere is in one seller's list of regular ones.
const SMALL: [Exact; 14] = [
    Exact::ratio(1, 2),
    Exact::whole(1),
    Exact::whole(2),
    Exact::whole(3),
    Exact::whole(4),
    Exact::whole(5),
    Exact::ratio(15, 2),
    Exact::whole(10),
    Exact::whole(15),
    Exact::whole(20),
    Exact::whole(25),
    Exact::whole(30),
    Exact::whole(35),
    Exact::whole(40),
];
const LARGE: [Exact; 6] = [Exact::whole(50), Exact::whole(60), Exact::whole(70), Exact::whole(80), Exact::whole(100), Exact::whole(120)];

/// The ratings that blade fuses are made in, in amperes, rising.
pub fn blade_ratings() -> impl DoubleEndedIterator<Item = Exact> {
    SMALL.into_iter().chain(LARGE)
}

/// The blade ratings next to one that no blade fuse has, in words: "15 A or 20 A"; none where it is one.
///
/// A fuse whose type is not stated is judged up to 40 A, where nearly all fuses of a vehicle are blades; above that, others are usual.
pub fn no_blade_rating(rating: Exact, stated: Option<FuseType>) -> Option<String> {
    let judged = match stated {
        Some(FuseType::Blade) => true,
        Some(_) => false,
        None => rating <= Exact::whole(40),
    };
    if !judged || blade_ratings().any(|known| known == rating) {
        return None;
    }
    let below = blade_ratings().rev().find(|known| *known < rating);
    let above = blade_ratings().find(|known| *known > rating);
    let names: Vec<String> = below.into_iter().chain(above).map(|near| format!("{} A", plain(near))).collect();
    Some(super::either(&names.iter().map(String::as_str).collect::<Vec<_>>()))
}

/// Reads the rating of a fuse in amperes: "15 A", "7.5 A", "500 mA".
pub fn read_rating(text: &str, options: &Options) -> Result<Exact, Fault> {
    let reading = quantity::read(text, Dimension::Current, options);
    if let Some(fault) = reading.faults.into_iter().next() {
        let kind = match fault.kind {
            quantity::FaultKind::UnitUnknown => FaultKind::Unknown,
            quantity::FaultKind::UnitAmbiguous => FaultKind::Ambiguous,
            _ => FaultKind::Unreadable,
        };
        return Err(Fault::new(kind, fault.range, fault.message, fault.remedy));
    }
    let rating = reading.quantity.as_ref().and_then(|quantity| match quantity.leading().form {
        Form::Single(number) => quantity.leading().unit.to_base(number.value),
        _ => None,
    });
    rating.filter(|rating| *rating > Exact::ZERO).ok_or_else(|| {
        let message = format!("\"{}\" is no rating of a fuse", text.trim());
        Fault::new(FaultKind::Unreadable, 0..text.len(), message, "write one current above nought, as in 15 A")
    })
}

/// Whether a fuse protects a wire.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Protection {
    /// The rating is not above what the wire may carry.
    Protects {
        /// The row that shows it: the wire's own, or the next thinner one.
        row: Row,
        /// The reason in one phrase.
        because: String,
    },
    /// The rating is above what the wire may carry, so the wire can burn before the fuse opens.
    Over {
        /// The row that shows it: the wire's own, or the next thicker one.
        row: Row,
        /// The reason in one phrase.
        because: String,
    },
    /// The table does not say.
    Unknown {
        /// What is missing, in one phrase.
        because: String,
    },
}

/// Whether a fuse of this rating protects a wire of this section by a table: its rating must not be above the permissible current.
///
/// A section that the table lacks is judged only where a thinner or thicker row settles it: a thicker wire carries no less. Otherwise
/// the answer is unknown.
pub fn protects(rating: Exact, section: &Section, table: &Permissible) -> Protection {
    held(rating, &format!("a fuse of {} A", plain(rating)), section, table)
}

/// Whether a wire may carry a current by a table, in the same words and with the same care as [`protects`].
pub fn bears(current: Exact, section: &Section, table: &Permissible) -> Protection {
    held(current, &format!("a current of {} A", plain(current)), section, table)
}

fn held(rating: Exact, fuse: &str, section: &Section, table: &Permissible) -> Protection {
    let allows = |row: &Row| format!("{} for {} in {}", amperes(row), row.section, table.source);
    let thinner_than = |row: &Row| format!("{section} is thicker than {}", row.section);
    let thicker_than = |row: &Row| format!("{section} is thinner than {}", row.section);
    match table.of(section) {
        Carries::Stated(row) if rating <= row.current => {
            Protection::Protects { row: row.clone(), because: format!("{fuse} is not above {}", allows(row)) }
        }
        Carries::Stated(row) => Protection::Over { row: row.clone(), because: format!("{fuse} is above {}", allows(row)) },
        Carries::Between { thinner: Some(row), .. } if rating <= row.current => {
            let because = format!("{fuse} is not above {}, and {}", allows(row), thinner_than(row));
            Protection::Protects { row: row.clone(), because }
        }
        Carries::Between { thicker: Some(row), .. } if rating > row.current => {
            let because = format!("{fuse} is above {}, and {}", allows(row), thicker_than(row));
            Protection::Over { row: row.clone(), because }
        }
        Carries::Between { thinner, thicker } => {
            let near = match (thinner, thicker) {
                (Some(thin), Some(thick)) => {
                    format!("; it has {} for {} and {} for {}", amperes(thin), thin.section, amperes(thick), thick.section)
                }
                (Some(row), None) => format!("; its thickest wire is {} with {}", row.section, amperes(row)),
                (None, Some(row)) => format!("; its thinnest wire is {} with {}", row.section, amperes(row)),
                (None, None) => String::new(),
            };
            Protection::Unknown { because: format!("{} has no permissible current for {section}{near}", table.source) }
        }
    }
}

fn amperes(row: &Row) -> String {
    format!("{} A", plain(row.current))
}

#[cfg(test)]
mod tests {
    use super::super::read_section;
    use super::*;

    fn section(text: &str) -> Section {
        read_section(text, &Options::default()).expect("a section")
    }

    fn shop() -> Permissible {
        let rows = [("1 mm²", 10), ("2.5 mm²", 20), ("6 mm²", 40)];
        let rows = rows.iter().map(|(text, current)| Row { section: section(text), current: Exact::whole(*current) }).collect();
        Permissible::new("the shop's table", rows).expect("a table")
    }

    #[track_caller]
    fn verdict(rating: i64, wire: &str, starts: &str) {
        let (word, because) = match protects(Exact::whole(rating), &section(wire), &shop()) {
            Protection::Protects { because, .. } => ("protects", because),
            Protection::Over { because, .. } => ("over", because),
            Protection::Unknown { because } => ("unknown", because),
        };
        assert_eq!(format!("{word}: {because}"), starts);
    }

    #[test]
    fn a_fuse_up_to_the_permissible_current_protects() {
        verdict(20, "2.5 mm²", "protects: a fuse of 20 A is not above 20 A for 2.5 mm² in the shop's table");
        verdict(25, "2.5 mm²", "over: a fuse of 25 A is above 20 A for 2.5 mm² in the shop's table");
    }

    #[test]
    fn what_the_table_lacks_is_bounded_or_unknown_and_never_guessed() {
        verdict(
            20,
            "4 mm²",
            "protects: a fuse of 20 A is not above 20 A for 2.5 mm² in the shop's table, and 4 mm² is thicker than 2.5 mm²",
        );
        verdict(50, "4 mm²", "over: a fuse of 50 A is above 40 A for 6 mm² in the shop's table, and 4 mm² is thinner than 6 mm²");
        let open = "the shop's table has no permissible current for";
        verdict(30, "4 mm²", &format!("unknown: {open} 4 mm²; it has 20 A for 2.5 mm² and 40 A for 6 mm²"));
        verdict(5, "0.5 mm²", &format!("unknown: {open} 0.5 mm²; its thinnest wire is 1 mm² with 10 A"));
        verdict(60, "10 mm²", &format!("unknown: {open} 10 mm²; its thickest wire is 6 mm² with 40 A"));
        verdict(15, "0.5 mm²", "over: a fuse of 15 A is above 10 A for 1 mm² in the shop's table, and 0.5 mm² is thinner than 1 mm²");
    }

    #[test]
    fn types_are_named_as_in_a_guide_and_as_people_call_them() {
        let named = ["blade", "bolt-down", "cartridge", "tube", "breaker"].map(|word| FuseType::named(word).map(FuseType::name));
        assert_eq!(named, ["blade fuse", "bolt-down fuse", "cartridge fuse", "tube fuse", "circuit breaker"].map(Some));
        assert_eq!(FuseType::named("fuse"), None);
    }

    #[test]
    fn what_is_wrong_with_a_rating_is_told_apart() {
        let fault = |text| read_rating(text, &Options::default()).unwrap_err().kind;
        assert_eq!(fault("15 amprs"), FaultKind::Unknown);
        assert_eq!(fault("fifteen"), FaultKind::Unreadable);
    }

    #[test]
    fn ratings_are_read_and_rise() {
        let read = |text| read_rating(text, &Options::default());
        assert_eq!(read("7.5 A").map(blade_fuse).map(|fuse| fuse.map(|fuse| fuse.housing)), Ok(Some(Housing::Brown)));
        assert_eq!(read("500 mA"), Ok(Exact::ratio(1, 2)));
        for text in ["", "15", "0 A", "15 V", "10 to 15 A", "-5 A"] {
            assert!(read(text).is_err(), "{text}");
        }
        assert!(blade_fuses().windows(2).all(|pair| pair[0].rating < pair[1].rating));
        assert_eq!(blade_fuse(Exact::whole(40)), None, "its colour is known from memory only");
    }

    #[test]
    fn a_rating_that_no_blade_fuse_has_is_answered_with_its_neighbours() {
        let told = |amperes: i128, tenths: i128, stated| no_blade_rating(Exact::ratio(amperes * 10 + tenths, 10), stated);
        assert_eq!(told(17, 0, None).as_deref(), Some("15 A or 20 A"));
        assert_eq!(told(8, 0, None).as_deref(), Some("7.5 A or 10 A"));
        assert_eq!(told(45, 0, Some(FuseType::Blade)).as_deref(), Some("40 A or 50 A"));
        assert_eq!(told(150, 0, Some(FuseType::Blade)).as_deref(), Some("120 A"));
        for (amperes, tenths, stated) in [
            (15, 0, None),
            (7, 5, None),
            (40, 0, None),
            (45, 0, None),
            (125, 0, None),
            (16, 0, Some(FuseType::Breaker)),
            (8, 0, Some(FuseType::Tube)),
            (60, 0, Some(FuseType::Blade)),
        ] {
            assert_eq!(told(amperes, tenths, stated), None, "{amperes}.{tenths}");
        }
        assert!(blade_ratings().zip(blade_ratings().skip(1)).all(|(low, high)| low < high));
        assert!(blade_fuses().iter().all(|fuse| blade_ratings().any(|rating| rating == fuse.rating)));
    }

    #[test]
    fn a_wire_bears_a_current_by_the_same_rows() {
        let because = |amperes| match bears(Exact::whole(amperes), &section("2.5 mm²"), &shop()) {
            Protection::Over { because, .. } => because,
            other => panic!("{other:?}"),
        };
        assert_eq!(because(25), "a current of 25 A is above 20 A for 2.5 mm² in the shop's table");
        assert!(matches!(bears(Exact::whole(20), &section("2.5 mm²"), &shop()), Protection::Protects { .. }));
    }
}
