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
    let fuse = format!("a fuse of {} A", plain(rating));
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
}
