//! Tables of the current that a wire may carry: a shop's own, or the one published table whose source is known.
//! Nothing is interpolated: a section between two rows has a lower and an upper bound, and no value. Which table applies is the caller's to say.

use super::{Gauge, Section};
use crate::quantity::Exact;

/// One row of a table: what a wire of this section may carry without end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The section.
    pub section: Section,
    /// The current, in amperes.
    pub current: Exact,
}

/// Permissible currents of wires under one set of conditions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Permissible {
    /// Where the table comes from and for which conditions it holds, as told to people.
    pub source: String,
    rows: Vec<Row>,
}

/// What a table says of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carries<'t> {
    /// The table has a row for it.
    Stated(&'t Row),
    /// The table has none, but a thinner wire, a thicker one or both.
    Between {
        /// The next thinner row; the wire may carry at least this.
        thinner: Option<&'t Row>,
        /// The next thicker row; the wire may carry at most this.
        thicker: Option<&'t Row>,
    },
}

impl Permissible {
    /// A table from rows in any order. `None` without rows, with a current not above nought, with two rows of one section, or where
    /// a thicker wire would carry less than a thinner one: such a table has a slip in it, and nothing can be concluded from it.
    pub fn new(source: impl Into<String>, mut rows: Vec<Row>) -> Option<Self> {
        rows.sort_by_key(|row| row.section.area());
        let sound = rows.windows(2).all(|pair| pair[0].section.area() < pair[1].section.area() && pair[0].current <= pair[1].current);
        let positive = rows.iter().all(|row| row.current > Exact::ZERO);
        (sound && positive && !rows.is_empty()).then(|| Self { source: source.into(), rows })
    }

    /// The rows, thinnest first.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// What the table says of a section.
    pub fn of(&self, section: &Section) -> Carries<'_> {
        let area = section.area();
        let at = self.rows.partition_point(|row| row.section.area() < area);
        match self.rows.get(at) {
            Some(row) if row.section.area() == area => Carries::Stated(row),
            thicker => Carries::Between { thinner: at.checked_sub(1).and_then(|before| self.rows.get(before)), thicker },
        }
    }
}

/// The temperature that the insulation of a wire is rated for; the columns of the table of 33 CFR 183.425.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Insulation {
    /// 60 °C.
    Celsius60,
    /// 75 °C.
    Celsius75,
    /// 80 °C.
    Celsius80,
    /// 90 °C.
    Celsius90,
    /// 105 °C.
    Celsius105,
    /// 125 °C.
    Celsius125,
    /// 200 °C.
    Celsius200,
}

impl Insulation {
    /// The rated temperature in °C.
    pub fn celsius(self) -> u32 {
        match self {
            Self::Celsius60 => 60,
            Self::Celsius75 => 75,
            Self::Celsius80 => 80,
            Self::Celsius90 => 90,
            Self::Celsius105 => 105,
            Self::Celsius125 => 125,
            Self::Celsius200 => 200,
        }
    }
}

/// Where a wire lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Surroundings {
    /// Outside engine spaces, at 30 °C around it.
    Open,
    /// In an engine space, at 50 °C around it.
    EngineSpace,
}

/// 33 CFR 183.425, Table 5, "Allowable Amperage of Conductors": gauge, then amperes by the seven ratings of [`Insulation`].
///
/// A regulation of the United States for boats, for single stranded copper conductors under 50 volts. It is no rule for road vehicles;
/// it is here as the one whole table whose text was looked up.
pub const CFR_183_425: [(i32, [i64; 7]); 15] = [
    (18, [10, 10, 15, 20, 20, 25, 25]),
    (16, [15, 15, 20, 25, 25, 30, 35]),
    (14, [20, 20, 25, 30, 35, 40, 45]),
    (12, [25, 25, 35, 40, 45, 50, 55]),
    (10, [40, 40, 50, 55, 60, 70, 70]),
    (8, [55, 65, 70, 70, 80, 90, 100]),
    (6, [80, 95, 100, 100, 120, 125, 135]),
    (4, [105, 125, 130, 135, 160, 170, 180]),
    (3, [120, 145, 150, 155, 180, 195, 210]),
    (2, [140, 170, 175, 180, 210, 225, 240]),
    (1, [165, 195, 210, 210, 245, 265, 280]),
    (0, [195, 230, 245, 245, 285, 305, 325]),
    (-1, [225, 265, 285, 285, 330, 355, 370]),
    (-2, [260, 310, 330, 330, 385, 410, 430]),
    (-3, [300, 360, 385, 385, 445, 475, 510]),
];

/// The table of 33 CFR 183.425 for one insulation and place; the 60 °C column is the lowest, for wire of which nothing is known.
///
/// `None` for engine spaces but at 105 °C: only that factor, 0.85, was looked up. What bundles of wires take off is not in it.
pub fn cfr_183_425(insulation: Insulation, surroundings: Surroundings) -> Option<Permissible> {
    let (factor, place) = match (surroundings, insulation) {
        (Surroundings::Open, _) => (Exact::ONE, "outside engine spaces"),
        (Surroundings::EngineSpace, Insulation::Celsius105) => (Exact::ratio(85, 100), "in engine spaces"),
        (Surroundings::EngineSpace, _) => return None,
    };
    let rows: Option<Vec<Row>> = CFR_183_425
        .iter()
        .map(|(gauge, amperes)| {
            let current = Exact::whole(amperes[insulation as usize]).times(factor)?;
            Some(Row { section: Section::Awg(Gauge::new(*gauge)?), current })
        })
        .collect();
    let source = format!("33 CFR 183.425, Table 5 (boats, single conductors, insulation for {} °C, {place})", insulation.celsius());
    Permissible::new(source, rows?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Number;

    fn row(hundredths: i128, current: i64) -> Row {
        let number = Number::decimal(hundredths, 2).expect("it fits");
        Row { section: Section::metric(number).expect("a section"), current: Exact::whole(current) }
    }

    #[test]
    fn insulations_are_named_by_their_temperature() {
        use Insulation::*;
        let all = [Celsius60, Celsius75, Celsius80, Celsius90, Celsius105, Celsius125, Celsius200];
        assert_eq!(all.map(Insulation::celsius), [60, 75, 80, 90, 105, 125, 200]);
    }

    #[test]
    fn a_section_between_two_rows_has_bounds_and_no_value() {
        let table = Permissible::new("the shop", vec![row(250, 25), row(100, 10)]).expect("a table");
        assert_eq!(table.of(&row(100, 1).section), Carries::Stated(&table.rows()[0]));
        let between = Carries::Between { thinner: Some(&table.rows()[0]), thicker: Some(&table.rows()[1]) };
        assert_eq!(table.of(&row(150, 1).section), between);
        assert_eq!(table.of(&row(50, 1).section), Carries::Between { thinner: None, thicker: Some(&table.rows()[0]) });
        assert_eq!(table.of(&row(400, 1).section), Carries::Between { thinner: Some(&table.rows()[1]), thicker: None });
    }

    #[test]
    fn a_table_with_a_slip_in_it_is_none() {
        assert_eq!(Permissible::new("x", vec![]), None);
        assert_eq!(Permissible::new("x", vec![row(100, 10), row(250, 8)]), None);
        assert_eq!(Permissible::new("x", vec![row(100, 10), row(100, 12)]), None);
        assert_eq!(Permissible::new("x", vec![row(100, 0)]), None);
    }

    #[test]
    fn every_column_of_the_published_table_rises() {
        use Insulation::*;
        for insulation in [Celsius60, Celsius75, Celsius80, Celsius90, Celsius105, Celsius125, Celsius200] {
            assert_eq!(cfr_183_425(insulation, Surroundings::Open).map(|table| table.rows().len()), Some(15));
            assert_eq!(cfr_183_425(insulation, Surroundings::EngineSpace).is_some(), insulation == Celsius105);
        }
    }
}
